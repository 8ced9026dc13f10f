"""The subject flights: after the flight."""

from calc.subject import told_in_a_sentence
from calc.subjects.flights import answer, data, words

SUBJECT = told_in_a_sentence(
    name="flights",
    title="Flights",
    kind=answer.FlightsBlock,
    answer=answer.answer,
    data=data.data,
    sentence=words.sentence,
    brief=words.brief,
)
