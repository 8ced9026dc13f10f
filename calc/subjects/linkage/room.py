"""The subject linkage: what leads from the actuator to the surface."""

from calc.subject import told_in_a_sentence
from calc.subjects.linkage import answer, data, words

SUBJECT = told_in_a_sentence(
    name="linkage",
    title="Linkage",
    kind=answer.LinkageBlock,
    answer=answer.answer,
    data=data.data,
    sentence=words.linkage_sentence,
    brief=words.brief,
)
