"""The subject growth: what parts came out at beside the plan."""

from calc.subject import told_in_a_sentence
from calc.subjects.growth import answer, data, words

SUBJECT = told_in_a_sentence(
    name="growth",
    title="Planned and on the scale",
    kind=answer.Growth,
    answer=answer.answer,
    data=data.data,
    sentence=words.growth_sentence,
    brief=words.brief,
)
