"""What the JSON tells of the airframe."""

from typing import Any

from calc.plain import known, rounded
from calc.subjects.airframe.answer import AirframeBlock, PartMass


def data(block: AirframeBlock) -> dict[str, Any]:
    """Return the JSON of the airframe."""
    return {
        "planned_g": rounded(block.planned_kg, 1e3),
        "plan_g": rounded(block.plan.expected_kg, 1e3),
        "plan_spread_g": rounded(block.plan.spread_kg, 1e3),
        "expected_g": rounded(block.expected.expected_kg, 1e3),
        "forecast_g": rounded(block.forecast.expected_kg, 1e3),
        "spread_g": rounded(block.forecast.spread_kg, 1e3),
        "at_least": bool(block.uncounted),
        "from": block.source,
        "learned": rounded(block.learned),
        "damp_g": rounded(block.damp_kg, 1e3),
        "wing_area_dm2": rounded(block.area_m2, 1e2),
        "mean_chord_mm": rounded(block.chord_m, 1e3),
        "cg_mm": rounded(block.cg_m, 1e3),
        "groups": {f"{group}_g": rounded(kg, 1e3) for group, kg in block.groups.items()},
        "parts": [known(_part(part)) for part in block.parts],
        "days": [
            {
                "day": day.day.isoformat(),
                "forecast_g": rounded(day.forecast_kg, 1e3),
                "spread_g": rounded(day.spread_kg, 1e3),
            }
            for day in block.days
        ],
    }


def _part(part: PartMass) -> dict[str, Any]:
    return {
        "part": part.path,
        "name": part.name,
        "group": part.group,
        "sheet": part.sheet or None,
        "planned_g": rounded(part.plan.planned_kg, 1e3),
        "glue_g": rounded(part.glue_kg, 1e3) if part.glue_kg else None,
        "weighed_g": rounded(part.plan.weighed_kg, 1e3),
        "expected_g": rounded(part.counts.expected_kg, 1e3),
        "spread_g": rounded(part.counts.spread_kg, 1e3),
        "station_mm": rounded(part.station_m, 1e3),
    }
