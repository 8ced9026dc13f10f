"""The gear of a budget as CSV, and parts in CSV into the gear of a budget.

The columns are those of the box (`calc.document.box`), with count and station. A row that is switched off is left out;
a weighed mass goes out in the place of the planned one.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calc.document.box import from_csv, put_back, take, to_csv
from calc.document.budget import MOST_ROWS, block_with_units, system_of
from calc.document.parts import GearPart, GearRow
from calc.errors import BudgetError, Problem

MOST_IN_FILE = 4 * MOST_ROWS  # rows that are read before anything is made of them; those of cells among them
PLACE = ("count", "station")
WEIGHT = ("name", "mass", "weighed")  # a row that has none of these is still waiting for its part


@dataclass(frozen=True, kw_only=True)
class Added:
    """A budget with the parts of a file; headings that name no column are `ignored`."""

    document: dict[str, Any]
    parts: int
    cell: bool  # whether a cell of the file became the budget's
    cells_left: int  # left aside, since a budget has one cell
    ignored: tuple[str, ...]


def gear_to_csv(document: Mapping[str, Any]) -> str:
    """Return the gear and the cell of a budget as CSV.

    Examples
    --------
    >>> text = gear_to_csv({"gear": [{"kind": "servo", "name": "=1", "mass": "1.7 g", "count": 2, "station": "9 in"}]})
    >>> text.splitlines()[1]
    "servo,'=1,1.7,,,,,,,,,,,,,,,,2,228.6"
    """
    parts = [_part(document, path) for path in _paths(document)]
    return to_csv({"units": document.get("units"), "parts": parts}, GearPart)


def _paths(document: Mapping[str, Any]) -> Iterator[str]:
    for index, row in enumerate(_rows(document)):
        if isinstance(row, Mapping) and row.get("off") is not True:
            yield f"gear.{index}"
    if _block(document, "cell"):
        yield "cell"


def _part(document: Mapping[str, Any], path: str) -> dict[str, Any]:
    block = _block(document, "cell") if path == "cell" else _rows(document)[int(path.removeprefix("gear."))]
    return {**put_back(document, path), **{key: block[key] for key in PLACE if key in block}}


def _rows(document: Mapping[str, Any]) -> list[Any]:
    rows = document.get("gear")
    return rows if isinstance(rows, list) else []


def _block(document: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    found = document.get(key)
    return found if isinstance(found, Mapping) else {}


def gear_from_csv(text: str, document: Mapping[str, Any]) -> Added:
    """Return a budget with the parts of a CSV added to its gear.

    A part takes the first row of its kind that is still empty, else a new one. A cell becomes the budget's where it has
    none. Surface and converter keep the figures that they have; the budget that was given stays as it was.

    Raises
    ------
    BudgetError
        code `no_room`: more parts than rows are left; else as `calc.document.box.from_csv`.
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
    parts = [part for part in listed if part.get("kind") != "cell"]
    changed = dict(document)
    for part in parts:
        changed = _with(changed, part, _place(changed, part))
    if parts and len(_rows(changed)) > MOST_ROWS:
        facts = {"count": len(parts), "most": MOST_ROWS, "rows": len(_rows(document))}
        raise BudgetError((Problem(field="gear", code="no_room", facts=facts),))
    wanted = bool(cells) and not any(_block(document, "cell").get(key) for key in (*WEIGHT, "capacity"))
    if wanted:
        changed = _with(changed, cells[0], "cell")
    return Added(
        document=changed,
        parts=len(parts),
        cell=wanted,
        cells_left=len(cells) - wanted,
        ignored=ignored,
    )


def _place(document: Mapping[str, Any], part: Mapping[str, Any]) -> str:
    rows = _rows(document)
    for index, row in enumerate(rows):
        empty = isinstance(row, Mapping) and not any(row.get(key) for key in WEIGHT)
        if empty and row.get("kind", "other") == part.get("kind", "other"):
            return f"gear.{index}"
    return f"gear.{len(rows)}"


def _with(document: Mapping[str, Any], part: Mapping[str, Any], path: str) -> dict[str, Any]:
    """Return a budget with a part in a place; what its surface and converter say already stays."""
    system = system_of(document)
    changed = take(document, {key: item for key, item in part.items() if key not in PLACE}, path, system)
    surface = _block(document, "surface")
    if any(surface.get(key) for key in ("torque", "thrust")):
        changed["surface"] = surface
    if _block(document, "supply"):
        changed["supply"] = document["supply"]
    placed = {key: part[key] for key in PLACE if key in part and not (path == "cell" and key == "count")}
    if "weighed" in part:
        placed.update(block_with_units(GearRow, {"weighed": part["weighed"]}, system))
    if path == "cell":
        changed["cell"] = {**changed["cell"], **placed}
    else:
        index = int(path.removeprefix("gear."))
        changed["gear"][index] = {**changed["gear"][index], **placed}
    return changed
