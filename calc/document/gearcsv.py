"""The gear of a budget as CSV, and parts in CSV into the gear of a budget.

The columns are those of the box (`calc.document.box`), with count and station. A row that is switched off is left out;
a weighed mass goes out in the place of the planned one.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calc.document.blocks import GearPart
from calc.document.box import SHEET, STRENGTH, put_back, take
from calc.document.boxfile import from_csv, to_csv
from calc.document.budget import MOST_ROWS
from calc.document.entries import Cell, GearRow
from calc.document.fields import keys_of
from calc.document.paths import block, place, rows
from calc.document.systems import block_with_units, system_of
from calc.errors import BudgetError, Problem

MOST_IN_FILE = 4 * MOST_ROWS  # rows that are read before anything is made of them; those of cells among them
WEIGHT = ("name", "mass", "weighed")  # a row that has none of these is still waiting for its part


@dataclass(frozen=True, kw_only=True)
class Added:
    """A budget with the parts of a file; headings that name no column are `ignored`."""

    document: dict[str, Any]
    parts: int
    cell: bool  # whether a cell of the file became the budget's
    cells_left: int  # left aside, since a budget has one cell
    sheets_left: int  # of balsa, which are no gear
    ignored: tuple[str, ...]


def gear_to_csv(document: Mapping[str, Any]) -> str:
    """Return the gear and the cell of a budget as CSV.

    Examples
    --------
    >>> text = gear_to_csv({"gear": [{"kind": "servo", "name": "=1", "mass": "1.7 g", "count": 2, "station": "9 in"}]})
    >>> row = text.splitlines()[1].split(",")
    >>> row[:3], row[-2:]
    (['servo', "'=1", '1.7'], ['2', '228.6'])
    """
    parts = [_part(document, path) for path in _paths(document)]
    return to_csv({"units": document.get("units"), "parts": parts}, GearPart)


def _paths(document: Mapping[str, Any]) -> Iterator[str]:
    for index, row in enumerate(rows(document)):
        if isinstance(row, Mapping) and row.get("off") is not True:
            yield f"gear.{index}"
    if block(document, "cell"):
        yield "cell"


def _part(document: Mapping[str, Any], path: str) -> dict[str, Any]:
    return {**put_back(document, path), **_placed(GearPart, block(document, path))}


def _placed(kind: type, part: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a part says of its place in the model."""
    return {key: part[key] for key in keys_of(kind, "place") if key in part}


def gear_from_csv(text: str, document: Mapping[str, Any]) -> Added:
    """Return a budget with the parts of a CSV added to its gear.

    A part takes the first row of its kind that is still empty, else a new one. A cell becomes the budget's where it has
    none. Surface and converter keep the figures that they have; the budget that was given stays as it was.

    Raises
    ------
    BudgetError
        code `no_room`: more parts than rows are left; else as `calc.document.boxfile.from_csv`.
    """
    found = from_csv(text, GearPart, MOST_IN_FILE)
    return add_parts(document, found["parts"], tuple(found.get("ignored", ())))


def add_parts(
    document: Mapping[str, Any], found: Iterable[Mapping[str, Any]], ignored: tuple[str, ...] = ()
) -> Added:  # fmt: skip
    """Return a budget with parts added to its gear, as `gear_from_csv` does it.

    Raises
    ------
    BudgetError
        code `no_room`: more parts than rows are left.
    """
    listed = list(found)
    cells = [part for part in listed if part.get("kind") == "cell"]
    sheets = sum(part.get("kind") == SHEET for part in listed)
    parts = [part for part in listed if part.get("kind") not in ("cell", SHEET)]
    changed = dict(document)
    for part in parts:
        changed = _with(changed, part, _place(changed, part))
    if parts and len(rows(changed)) > MOST_ROWS:
        facts = {"count": len(parts), "most": MOST_ROWS, "rows": len(rows(document))}
        raise BudgetError((Problem(field="gear", code="no_room", facts=facts),))
    wanted = bool(cells) and not any(block(document, "cell").get(key) for key in (*WEIGHT, "capacity"))
    if wanted:
        changed = _with(changed, cells[0], "cell")
    return Added(
        document=changed,
        parts=len(parts),
        cell=wanted,
        cells_left=len(cells) - wanted,
        sheets_left=sheets,
        ignored=ignored,
    )


def _place(document: Mapping[str, Any], part: Mapping[str, Any]) -> str:
    listed = rows(document)
    for index, row in enumerate(listed):
        empty = isinstance(row, Mapping) and not any(row.get(key) for key in WEIGHT)
        if empty and row.get("kind", "other") == part.get("kind", "other"):
            return f"gear.{index}"
    return f"gear.{len(listed)}"


def _with(document: Mapping[str, Any], part: Mapping[str, Any], path: str) -> dict[str, Any]:
    """Return a budget with a part in a place; what its surface and converter say already stays."""
    system = system_of(document)
    own = {key: item for key, item in part.items() if key not in keys_of(GearPart, "place")}
    changed = take(document, own, path, system)
    surface = block(document, "surface")
    if any(surface.get(key) for key in STRENGTH):
        changed["surface"] = surface
    if block(document, "supply"):
        changed["supply"] = document["supply"]
    index = place(path).row
    if index is None:
        changed["cell"] = {**changed["cell"], **_placed(Cell, part), **_weighed(Cell, part, system)}
    else:
        changed["gear"][index] = {**changed["gear"][index], **_placed(GearRow, part), **_weighed(GearRow, part, system)}
    return changed


def _weighed(kind: type, part: Mapping[str, Any], system: str) -> dict[str, Any]:
    """Return what the scale says of a part, with its unit: no entry of the box, but a table of gear may have it."""
    return dict(block_with_units(kind, {"weighed": part["weighed"]}, system)) if "weighed" in part else {}
