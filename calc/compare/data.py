"""A comparison as plain data, with the unit in each name."""

from math import pi
from typing import Any

from calc.compare.changes import Swap
from calc.compare.sides import Comparison, Row
from calc.plain import rounded

UNITS = {  # how a figure's keys end, and its unit over SI's; a ratio, a count and a plain number need none
    "mass": ("_g", 1e3), "run": ("_min", 1 / 60), "time": ("_s", 1.0), "current": ("_mA", 1e3), "voltage": ("_V", 1.0),
    "length": ("_mm", 1e3), "angle": ("_deg", 180.0 / pi), "loading": ("_g_dm2", 10.0), "speed": ("_m_s", 1.0),
}  # fmt: skip


def compared_json(found: Comparison) -> dict[str, Any]:
    """Return a comparison as plain data; what is not known of both budgets is not in it."""
    return {
        "before": {"name": found.names[0], "verdict": found.before.verdict},
        "after": {"name": found.names[1], "verdict": found.after.verdict},
        "rows": [_row_json(row) for row in found.rows],
        "swaps": [_swap_json(swap) for swap in found.swaps],
        "differences": [{"field": each.path, "before": each.before, "after": each.after} for each in found.differences],
    }


def _row_json(row: Row) -> dict[str, Any]:
    unit, scale = UNITS.get(row.dimension, ("", 1.0))
    answer: dict[str, Any] = {"id": row.id, "label": row.label}
    for key in ("before", "after", "change"):
        number = getattr(row, key)
        answer[f"{key}{unit}"] = number if isinstance(number, str) else rounded(number, scale)
    answer["judged"] = row.judged
    for key, bound in zip(("before_is", "after_is"), row.bounds, strict=True):
        answer[key] = bound or None
    return {key: item for key, item in answer.items() if item is not None}


def _swap_json(swap: Swap) -> dict[str, Any]:
    answer = {
        "row": swap.path,
        "act": swap.act,
        "before": swap.before,
        "after": swap.after,
        "fields": list(swap.fields),
        "mass_g": rounded(swap.mass_kg, 1e3),
        "run_min": rounded(swap.run_s, 1 / 60),
        "still_air_s": rounded(swap.still_air_s),
    }
    return {key: item for key, item in answer.items() if item is not None}
