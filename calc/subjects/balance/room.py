"""The subject balance: where it balances, and what puts it right."""

from calc.subject import told_in_a_sentence
from calc.subjects.balance import answer, data, words

SUBJECT = told_in_a_sentence(
    name="balance",
    title="Balance",
    kind=answer.BalanceBlock,
    answer=answer.answer,
    data=data.data,
    sentence=words.balance_sentence,
    brief=words.brief,
)
