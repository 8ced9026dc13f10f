"""The long search for room as plain data, with the unit in each name."""

from typing import Any

from calc.changes.edits import as_data
from calc.fitting.find import RoomFound
from calc.plain import known, rounded
from calc.subjects.room.answer import size_mm
from calc.subjects.room.data import data
from calc.subjects.room.spaces import Space


def as_json(found: RoomFound | None) -> dict[str, Any]:
    """Return what was found; nothing where nothing is asked yet."""
    if found is None:
        return {}
    leads = found.lead_kg or (None, None)
    told: dict[str, Any] = {
        **data(found.block),
        "least": [
            {
                "bay": each.bay,
                "edge": each.edge,
                "by_mm": rounded(each.by / 1e6),
                "proved": each.proved,
                **_size(each.space),
            }
            for each in found.least
        ]
        or None,
        "in_the_way": [each.path for each in found.in_the_way] or None,
        "instead": [{"row": each.item.path, "part": each.name} for each in found.instead] or None,
        "smallest": [{"bay": bay, **_size(space)} for bay, space in found.smallest] or None,
        "lead_g": rounded(leads[0], 1e3),
        "lead_placed_g": rounded(leads[1], 1e3),
        "edits": as_data(found.edits) or None,
    }
    return {"room": known(told)}


def _size(space: Space) -> dict[str, Any]:
    back = {"back_mm": [rounded(each / 1e6) for each in space.back]} if space.kind == "tapered" else {}
    return {"size_mm": [rounded(each) for each in size_mm(space.size)], **back}
