"""The subject airframe: what it weighs before it is built, part by part."""

from dataclasses import replace

from calc.subject import told_in_a_sentence
from calc.subjects.airframe import answer, data, words

SUBJECT = replace(
    told_in_a_sentence(
        name="airframe",
        title="Airframe, part by part",
        kind=answer.AirframeBlock,
        answer=answer.answer,
        data=data.data,
        sentence=words.airframe_sentence,
        brief=words.brief,
    ),
    text=words.text,
)
