"""The assessment as plain data, with the unit in each name: what `python -m calc FILE --json` prints.

Other programs rely on these keys. Figures are rounded to a millionth of their unit, so that every Python prints the
same text.
"""

from typing import Any

from calc.allowance import Limit
from calc.assess import Assessment
from calc.blocks.power import Power
from calc.masses import Total


def _rounded(value: float | None, scale: float = 1.0, places: int = 6) -> float | None:
    return None if value is None else round(value * scale, places)


def as_json(assessment: Assessment) -> dict[str, Any]:
    """Return the assessment as plain data; the unit is in each name, since SI would not be readable here."""
    answer: dict[str, Any] = {
        "verdict": assessment.verdict,
        "governs": None if assessment.governs is None else assessment.governs.id,
        "gear": _gear_json(assessment.gear),
        "model": {
            "flying_g": _rounded(assessment.model.flying_kg, 1e3),
            "with_rubber_g": _rounded(assessment.model.with_rubber_kg, 1e3),
            "share": _rounded(assessment.model.share),
        },
        "limits": [_limit_json(limit) for limit in assessment.limits],
        "class": {
            "id": assessment.class_.id,
            "minimum_g": _rounded(assessment.class_.minimum_kg, 1e3),
            "maximum_g": _rounded(assessment.class_.maximum_kg, 1e3),
            "short_g": _rounded(assessment.class_.short_kg, 1e3),
            "free_g": _rounded(assessment.class_.free_kg, 1e3),
        },
        "uncounted": list(assessment.uncounted),
        "missing": {block: list(paths) for block, paths in assessment.missing.items()},
        "notices": [notice.code for notice in assessment.notices],
    }
    if assessment.power is not None:
        answer["power"] = _power_json(assessment.power)
    for block in ("model", "class"):
        answer[block] = {key: value for key, value in answer[block].items() if value is not None}
    return {key: value for key, value in answer.items() if value is not None}


def _gear_json(total: Total) -> dict[str, Any]:
    return {
        "nominal_g": _rounded(total.nominal_kg, 1e3),
        "expected_g": _rounded(total.expected_kg, 1e3),
        "spread_g": _rounded(total.spread_kg, 1e3),
    }


def _limit_json(limit: Limit) -> dict[str, Any]:
    return {
        "id": limit.id,
        "allows_g": _rounded(limit.allows_kg, 1e3),
        "in_hand_g": _rounded(limit.in_hand_kg, 1e3),
        "spread_g": _rounded(limit.spread_kg, 1e3),
        "verdict": limit.verdict,
    }


def _power_json(power: Power) -> dict[str, Any]:
    answer: dict[str, Any] = {
        "mean_mA": _rounded(power.mean_a, 1e3),
        "peak_mA": _rounded(power.peak_a, 1e3),
        "run_min": _rounded(power.run.time_s, 1 / 60),
        "ends_by": power.run.ends_by,
        "lowest_V": _rounded(power.run.lowest_v),
    }
    if power.flights is not None:
        answer["flights"] = power.flights
        if power.session_flights is not None:
            answer["cells_needed"] = power.cells_needed  # null: one cell does not give one flight
    return answer
