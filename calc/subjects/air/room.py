"""The subject air: what the grams cost in the air."""

from calc.subject import told_in_a_sentence
from calc.subjects.air import answer, data, words

SUBJECT = told_in_a_sentence(
    name="air",
    title="In the air",
    kind=answer.AirBlock,
    answer=answer.answer,
    data=data.data,
    sentence=words.air_sentence,
    brief=words.brief,
)
