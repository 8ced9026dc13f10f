"""The subject reach: the radio's reach."""

from calc.subject import told_in_a_sentence
from calc.subjects.reach import answer, data, words

SUBJECT = told_in_a_sentence(
    name="reach",
    title="Reach of the radio",
    kind=answer.ReachBlock,
    answer=answer.answer,
    data=data.data,
    sentence=words.sentence,
    brief=words.brief,
)
