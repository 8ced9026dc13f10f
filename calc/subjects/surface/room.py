"""The subject surface: the control surface and its actuator."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from calc.english import wrapped
from calc.subject import Subject
from calc.subjects.surface import answer, data, words
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment


def _data(found: "Assessment") -> Mapping[str, Any]:
    block = found.of(answer.SurfaceBlock)
    return {"surface": None if block is None else data.data(block)}


def _text(found: "Assessment", system: UnitSystem) -> Iterable[Iterable[str]]:
    block = found.of(answer.SurfaceBlock)
    if block is not None:
        yield wrapped(f"{words.surface_sentence(block, system)} {words.throw_sentence(block, system)}".strip())


SUBJECT = Subject(
    name="surface", title="Control surface and actuator", kind=answer.SurfaceBlock, answer=answer.answer,
    brief=words.brief, data=_data, text=_text,
)  # fmt: skip
