"""The subject growth: what parts came out at beside the plan."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from calc.english import wrapped
from calc.subject import Subject
from calc.subjects.growth import answer, data, words

if TYPE_CHECKING:
    from calc.assess import Assessment


def _data(found: "Assessment") -> Mapping[str, Any]:
    block = found.of(answer.Growth)
    return {"growth": None if block is None else data.data(block)}


def _text(found: "Assessment", system: str) -> Iterable[Iterable[str]]:
    block = found.of(answer.Growth)
    if block is not None:
        yield wrapped(words.growth_sentence(block, system))


SUBJECT = Subject(name="growth", kind=answer.Growth, answer=answer.answer, data=_data, text=_text)
