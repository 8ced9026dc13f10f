"""The subject weights: what gear, airframe and model weigh."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from calc.subject import Subject
from calc.subjects.weights import answer, data, words
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment


def _data(found: "Assessment") -> Mapping[str, Any]:
    return {"gear": data.total_data(found.gear), "uncounted": list(found.uncounted)}


def _text(found: "Assessment", system: UnitSystem) -> Iterable[Iterable[str]]:
    yield words.gear_lines(found, system)


SUBJECT = Subject(
    name="weights", title="Gear", kind=answer.Weights, answer=answer.answer, brief=words.brief, data=_data, text=_text
)
