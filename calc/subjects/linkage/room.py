"""The subject linkage: what leads from the actuator to the surface."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from calc.english import wrapped
from calc.subject import Subject
from calc.subjects.linkage import answer, data, words

if TYPE_CHECKING:
    from calc.assess import Assessment


def _data(found: "Assessment") -> Mapping[str, Any]:
    block = found.of(answer.LinkageBlock)
    return {"linkage": None if block is None else data.data(block)}


def _text(found: "Assessment", system: str) -> Iterable[Iterable[str]]:
    block = found.of(answer.LinkageBlock)
    if block is not None:
        yield wrapped(words.linkage_sentence(block, system))


SUBJECT = Subject(name="linkage", kind=answer.LinkageBlock, answer=answer.answer, data=_data, text=_text)
