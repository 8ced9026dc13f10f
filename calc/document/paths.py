"""The path of an entry, as in `gear.1.mass`, taken apart in one place."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Place:
    """Where a path leads: a block, the row in it where the block is a list, and the key of an entry; "" for none."""

    block: str
    row: int | None = None
    key: str = ""

    @property
    def part(self) -> str:
        """The path of the row or of the block."""
        return self.block if self.row is None else f"{self.block}.{self.row}"

    @property
    def kind(self) -> str:
        """The path without the number of the row."""
        return f"{self.block}.{self.key}" if self.key else self.block


def place(path: str) -> Place:
    """Return where a path leads.

    Examples
    --------
    >>> place("gear.1.mass"), place("cell")
    (Place(block='gear', row=1, key='mass'), Place(block='cell', row=None, key=''))
    >>> place("gear.draw")
    Place(block='gear', row=None, key='draw')
    >>> place("gear.1.mass").part, place("gear.1.mass").kind, place("model.class").part
    ('gear.1', 'gear.mass', 'model')
    """
    block, _, rest = path.partition(".")
    number, _, key = rest.partition(".")
    if number.isascii() and number.isdigit():
        return Place(block=block, row=int(number), key=key)
    return Place(block=block, key=rest)


def rows(document: Mapping[str, Any], key: str = "gear") -> list[Any]:
    """Return the rows of a list in a document of any shape."""
    found = document.get(key)
    return list(found) if isinstance(found, list | tuple) else []


def block(document: Mapping[str, Any], path: str) -> Mapping[str, Any]:
    """Return a block of a document of any shape, or a row of a list in it; empty where there is none.

    Examples
    --------
    >>> document = {"gear": [{"kind": "servo"}], "cell": "none"}
    >>> block(document, "gear.0"), block(document, "gear.1"), block(document, "cell")
    ({'kind': 'servo'}, {}, {})
    """
    at = place(path)
    if at.row is None:
        found = document.get(at.block)
    else:
        listed = rows(document, at.block)
        found = listed[at.row] if at.row < len(listed) else None
    return found if isinstance(found, Mapping) else {}
