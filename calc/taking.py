"""A part of the box taken into a budget that has a cell log: that was written with the part that was there before."""

from collections.abc import Mapping
from typing import Any

from calc.document.box import take
from calc.document.budget import read
from calc.document.paths import block
from calc.subjects.power.answer import Power, power

WITH_OTHER_GEAR = "with other gear"
DRAWS = ("draw", "busy_draw")


def taken(document: Mapping[str, Any], part: Mapping[str, Any], path: str, system: str) -> dict[str, Any]:
    """Return a budget with a part of the box in a place, as `calc.document.box.take` does.

    Where the part changes what is drawn, or is the cell, the sessions of the cell log are struck out and say why,
    unless the run is shorter with them.

    Examples
    --------
    >>> log = [{"put_back": "9 mAh", "flights": 8, "on_time": "6 min"}]
    >>> row, cell = {"kind": "receiver", "draw": "20 mA"}, {"capacity": "30 mAh"}
    >>> changed = taken({"gear": [row], "cell": cell, "charges": log}, {**row, "draw": "60 mA"}, "gear.0", "metric")
    >>> changed["charges"][0]["out"], changed["charges"][0]["remarks"]
    (True, 'with other gear')
    """
    changed = take(document, part, path, system)
    if not document.get("charges") or not _other_draw(block(document, path), part, path):
        return changed
    struck = without_log(changed)
    return struck if _run_s(struck) <= _run_s(changed) else changed


def _other_draw(old: Mapping[str, Any], part: Mapping[str, Any], path: str) -> bool:
    return path == "cell" or part.get("kind") == "supply" or any(key in each for key in DRAWS for each in (old, part))


def without_log(document: Mapping[str, Any]) -> dict[str, Any]:
    """Return a budget in which every session of the cell log is struck out.

    Examples
    --------
    >>> without_log({"charges": [{"put_back": "9 mAh", "remarks": "calm"}]})
    {'charges': [{'put_back': '9 mAh', 'remarks': 'calm', 'out': True}]}
    """
    return {**document, **({"charges": _struck_out(document["charges"])} if document.get("charges") else {})}


def log_left_aside(now: Power | None) -> tuple[str, ...]:
    """Return that a cell log does not count where the gear is another, as a code; none where it tells nothing."""
    if now is None or now.learned is None or now.before is None:
        return ()
    return ("cell_log_worse",) if now.worst.time_s < now.before.worst.time_s else ("cell_log",)


def _struck_out(log: object) -> object:
    """Return a cell log with every session struck out; what is no session stays as it is."""
    if not isinstance(log, list):
        return log
    return [
        {**row, "remarks": row.get("remarks") or WITH_OTHER_GEAR, "out": True}
        if isinstance(row, Mapping) and row and not row.get("out")
        else row
        for row in log
    ]


def _run_s(document: Mapping[str, Any]) -> float:
    """Return the run at worst [s]; 0 where there is none."""
    found, _ = power(read(document).budget)
    return 0.0 if found is None else found.worst.time_s
