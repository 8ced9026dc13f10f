"""A table of parts into the box: the same reading as for the gear, with what a box has no place for taken out and told.

A part of the box has no count and no place in a model; its mass is the weighed one where the table has it, as it is
when a row of gear goes back into the box.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from calc.document.blocks import BoxPart, GearPart
from calc.document.box import MOST_PARTS
from calc.document.columns import Column
from calc.document.fields import described, keys_of
from calc.document.gearfields import label_of
from calc.document.gearrows import Told, rows
from calc.document.intake import Preview
from calc.document.systems import block_with_units, system_of
from calc.errors import BudgetError, Problem

OF_MODEL = "of_model"  # why a column is left aside: a key of `calc.document.tablewords.WHY`
IN_BOX = {"bare": "bare_in_box", "no_mass": "no_mass_in_box"}  # sentences that a box needs otherwise


@dataclass(frozen=True, kw_only=True)
class ForBox:
    """What a table would come to in the box: its parts, without those that are there already.

    `found` is the preview as it is to be shown for a box.
    """

    found: Preview
    parts: tuple[dict[str, Any], ...]


def for_box(box: Mapping[str, Any], found: Preview) -> ForBox:
    """Return the parts of a table as parts of a box, with units written; the box that was given stays as it was.

    Raises
    ------
    BudgetError
        code `no_room_in_box`: more parts than a box holds.
    """
    system = system_of(box)
    found = _without_stations(found, system)
    made = [dict(block_with_units(BoxPart, _part(each), system)) for each in found.taken.parts]
    there = _parts_of(box)
    fresh = [part for part in made if part not in there]
    if len(there) + len(fresh) > MOST_PARTS:
        facts = {"count": len(fresh), "most": MOST_PARTS, "there": len(there)}
        raise BudgetError((Problem(field="", code="no_room_in_box", facts=facts),))
    return ForBox(found=_shown(found, len(made) - len(fresh)), parts=tuple(fresh))


def _without_stations(found: Preview, system: str) -> Preview:
    """Return a preview in which a place in a model is not read, so that nothing is said of it; counts tell a sum."""
    columns = (replace(each, field="") if each.field == "station" else each for each in found.layout.columns)
    taken = rows(replace(found.layout, columns=tuple(columns)), system or "metric", found.known)
    return replace(found, taken=taken)


def with_parts(box: Mapping[str, Any], parts: tuple[dict[str, Any], ...]) -> dict[str, Any]:
    """Return a box with more parts behind its own."""
    return {**box, "parts": [*_parts_of(box), *parts]}


def _parts_of(box: Mapping[str, Any]) -> list[Any]:
    parts = box.get("parts")
    return list(parts) if isinstance(parts, list) else []


def _part(part: Mapping[str, Any]) -> dict[str, Any]:
    """Return a row of gear as a part of the box, with its weighed mass if it has one."""
    weighed = {"mass": part["weighed"], "known_by": "weighed"} if "weighed" in part else {}
    whole = {**part, **weighed}
    return {name: whole[name] for name in described(BoxPart) if name in whole}


def _shown(found: Preview, there: int) -> Preview:
    """Return a preview that says what a box leaves aside."""
    place = keys_of(GearPart, "place")
    columns = tuple(_of_box(column, place) for column in found.layout.columns)
    planned = sum("weighed" in part and "mass" in part for part in found.taken.parts)
    aside = [
        *([Told(code="there_already", facts={"count": there})] if there else []),
        *([Told(code="planned_aside", facts={"count": planned})] if planned else []),
        *found.taken.aside,
    ]
    lost = (column for column in found.layout.columns if column.field in place)
    aside += [Told(code=OF_MODEL, facts={"label": label_of(column.field)}) for column in lost if _filled(found, column)]
    doubts = tuple(replace(told, code=IN_BOX.get(told.code, told.code)) for told in found.taken.doubts)
    return replace(
        found, layout=replace(found.layout, columns=columns),
        taken=replace(found.taken, aside=tuple(aside), doubts=doubts),
    )  # fmt: skip


def _of_box(column: Column, place: tuple[str, ...]) -> Column:
    return replace(column, field="", unit="", why=OF_MODEL) if column.field in place else column


def _filled(found: Preview, column: Column) -> bool:
    """Return whether a column says something that is lost; a count of one is nothing."""
    cells = {row.cell(column.at).strip() for row in found.layout.rows}
    return bool(cells - ({"", "1"} if column.field == "count" else {""}))
