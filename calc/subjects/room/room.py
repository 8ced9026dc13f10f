"""The subject room: whether the gear goes into the nose, the pylon or the tube."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from calc.english import wrapped
from calc.subject import Subject
from calc.subjects.room import answer, data, words
from calc.subjects.room.answer import RoomBlock
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment


def _data(found: "Assessment") -> Mapping[str, Any]:
    """Return the JSON; a budget without bays has none of it."""
    block = found.of(RoomBlock)
    return {} if block is None else {"room": data.data(block)}


def _sentence(found: "Assessment", system: UnitSystem) -> str:
    block = found.of(RoomBlock)
    return "" if block is None else words.sentence(block, system)


def _text(found: "Assessment", system: UnitSystem) -> Iterable[Iterable[str]]:
    said = _sentence(found, system)
    if said:
        yield wrapped(said)


SUBJECT = Subject(
    name="room",
    title="Room",
    kind=RoomBlock,
    answer=answer.answer,
    brief=words.told,
    data=_data,
    text=_text,
    sentence=_sentence,
)
