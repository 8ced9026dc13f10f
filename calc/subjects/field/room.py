"""The subject field: wind and field."""

from calc.subject import told_in_a_sentence
from calc.subjects.field import answer, data, words

SUBJECT = told_in_a_sentence(
    name="field",
    title="Wind and field",
    kind=answer.FieldBlock,
    answer=answer.answer,
    data=data.data,
    sentence=words.sentence,
    brief=words.brief,
)
