"""The subject air: what the grams cost in the air."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from calc.english import wrapped
from calc.subject import Subject
from calc.subjects.air import answer, data, words

if TYPE_CHECKING:
    from calc.assess import Assessment


def _data(found: "Assessment") -> Mapping[str, Any]:
    block = found.of(answer.AirBlock)
    return {"air": None if block is None else data.data(block)}


def _text(found: "Assessment", system: str) -> Iterable[Iterable[str]]:
    block = found.of(answer.AirBlock)
    if block is not None:
        yield wrapped(words.air_sentence(block, system))


SUBJECT = Subject(name="air", kind=answer.AirBlock, answer=answer.answer, data=_data, text=_text)
