"""What the JSON tells of the field."""

from math import degrees
from typing import Any

from calc.plain import rounded
from calc.subjects.field.answer import Carried, Circle, FieldBlock


def data(block: FieldBlock) -> dict[str, Any]:
    """Return the JSON of the field."""
    return {**(_carried(block.carried) if block.carried else {}), **(_circle(block.circle) if block.circle else {})}


def _carried(found: Carried) -> dict[str, Any]:
    return {
        "wind_mean_m_s": rounded(found.mean_m_s),
        "wind_top_m_s": rounded(found.aloft_m_s),
        "drift_m": rounded(found.drift_m),
        "drift_high_m": rounded(found.longest_m),
        "length_m": rounded(found.length_m),
        "stays_s": rounded(found.stays_s),
        "back": found.back,
        "turn_back_height_m": rounded(found.turn_back_m),
        "turn_back_from_m": rounded(found.away_m),
        "upwind_m": rounded(found.upwind_m),
        "across_m": rounded(found.across_m),
        "downwind_m": rounded(found.downwind_m),
    }


def _circle(found: Circle) -> dict[str, Any]:
    return {
        "circle_radius_m": rounded(found.radius_m),
        "circle_bank_deg": rounded(degrees(found.bank_rad)),
        "circle_sink_m_s": rounded(found.sink_m_s),
    }
