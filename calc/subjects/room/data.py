"""What the JSON tells of the room for the gear."""

from typing import Any

from calc.plain import rounded
from calc.subjects.room.answer import Placed, RoomBlock, size_mm


def data(block: RoomBlock) -> dict[str, Any]:
    """Return the JSON of a short look or of a search."""
    return {
        "answer": block.answer,
        "complete": block.complete,
        "parts": [part_data(each) for each in block.parts] or None,
        "order": [[part.item.path for part in order] if order is not None else [] for order in block.order] or None,
        "alone_too_large": [each.path for each in block.homeless] or None,
        "no_way_through_hatch": [each.path for each in block.barred] or None,
    }


def part_data(part: Placed) -> dict[str, Any]:
    """Return where a part lies."""
    return {
        "row": part.item.path,
        "bay": part.bay,
        "at_mm": [rounded(each) for each in size_mm(part.spot.at)],
        "size_mm": [rounded(each) for each in size_mm(part.spot.size)],
        "station_mm": rounded(part.station_m, 1e3),
    }
