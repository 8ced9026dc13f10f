"""The subject power: the cells in the session."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from calc.subject import Subject
from calc.subjects.power import answer, data, words
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment


def _data(found: "Assessment") -> Mapping[str, Any]:
    block = found.of(answer.Power)
    return {"power": None if block is None else data.data(block)}


def _text(found: "Assessment", system: UnitSystem) -> Iterable[Iterable[str]]:
    yield words.lines(found, system)


SUBJECT = Subject(
    name="power", title="Run time", kind=answer.Power, answer=answer.answer, brief=words.brief, data=_data, text=_text
)
