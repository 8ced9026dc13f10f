"""What each key of the JSON means, as `keys` prints it; each room tells of its own in a `keys.txt` beside its code.

A line is a key, two blanks or more, and what it means. `[]` stands for each item of a list, capitals for what varies.
"""

from collections.abc import Iterator
from pathlib import Path

from calc.english import WIDTH, wrapped
from calc.subjects.listed import SUBJECTS

HERE = Path(__file__).resolve().parent
PLACES = {  # what the keys are of, and where they are told
    "FILE --json": (".", *(f"subjects/{each.name}" for each in SUBJECTS)),
    "changes BUDGET --json": ("changes",),
    "compare BEFORE AFTER --json": ("compare",),
    "savings BUDGET --json": ("savings",),
    "finder BOX BUDGET --json": ("search",),
    "room BUDGET --json": ("fitting",),
    "flight LOG --json": ("flightlog",),
    "any of them, where something is wrong": ("document",),
}
BEGINS = 36  # the column in which a meaning begins


def of(title: str) -> dict[str, str]:
    """Return the keys of one of `PLACES` with what they mean."""
    return dict(pair for place in PLACES[title] for pair in _told(HERE / place / "keys.txt"))


def _told(file: Path) -> Iterator[tuple[str, str]]:
    for line in file.read_text(encoding="utf-8").splitlines():
        key, _, meaning = line.partition("  ")
        yield key, meaning.strip()


def sheet() -> str:
    """Return all keys as plain text."""
    parts = [
        wrapped("A key that cannot be worked out is not there. SEVERAL FILES --json: a list of one object a file.")
    ]
    parts += [[f"{title}:", *(line for pair in of(title).items() for line in _lines(*pair))] for title in PLACES]
    return "\n\n".join("\n".join(lines) for lines in parts)


def _lines(key: str, meaning: str) -> list[str]:
    rows = wrapped(meaning, " " * BEGINS)
    assert len(key) + 3 < BEGINS < WIDTH
    return [f"  {key:{BEGINS - 2}}{rows[0].strip()}", *rows[1:]]
