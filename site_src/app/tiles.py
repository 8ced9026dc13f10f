"""The tiles beside the verdict: run time, balance and strength, each as it was asked and as far as it is known."""

from collections.abc import Iterator
from dataclasses import dataclass

from calc.assess import Assessment
from calc.subjects.listed import SUBJECTS
from calc.unit_system import UnitSystem

TILES = {
    "run": "power",
    "balance": "balance",
    "strength": "surface",
    "room": "room",
}  # part of the whole -> the subject that tells it
MARKS = {"good": "fits", "close": "close", "bad": "fails"}
WORDS = {"good": "good", "close": "just", "bad": "fails", "open": "open", "not asked": ""}


@dataclass(frozen=True, kw_only=True)
class Tile:
    """One tile: the subject it leads to, its name, its mark ("" for none), a word for it, its answer in one line."""

    subject: str
    name: str
    mark: str
    word: str
    line: str


def tiles(found: Assessment, system: UnitSystem) -> Iterator[Tile]:
    """Yield the tiles of an answer."""
    briefs = {each.name: each.brief for each in SUBJECTS}
    for part, state in found.whole.parts.items():
        subject = TILES[part]
        yield Tile(
            subject=subject,
            name=NAMES[part],
            mark=MARKS.get(state, ""),
            word=WORDS[state],
            line="not asked yet" if state == "not asked" else briefs[subject](found, system),
        )


NAMES = {"run": "Run time", "balance": "Balance", "strength": "Strength", "room": "Room"}
