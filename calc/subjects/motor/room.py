"""The subject motor: the rubber motor."""

from calc.subject import told_in_a_sentence
from calc.subjects.motor import answer, data, words

SUBJECT = told_in_a_sentence(
    name="motor",
    title="Rubber motor",
    kind=answer.MotorBlock,
    answer=answer.answer,
    data=data.data,
    sentence=words.motor_sentence,
    brief=words.brief,
)
