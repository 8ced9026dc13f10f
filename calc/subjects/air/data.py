"""What the JSON tells of the air."""

from typing import Any

from calc.plain import rounded
from calc.subjects.air.answer import AirBlock


def data(block: AirBlock) -> dict[str, Any]:
    """Return the JSON of the air."""
    before = block.before
    return {
        "density_kg_m3": rounded(block.conditions.density_kg_m3),
        "loading_g_dm2": rounded(block.loading_kg_m2, 10.0),
        "speed_m_s": rounded(block.speed_m_s),
        "sink_m_s": rounded(block.sink_m_s),
        "glide_factor": rounded(block.conditions.glide_factor),
        "efficiency": rounded(block.efficiency),
        "overdrawn": rounded(block.overdrawn),
        "height_m": rounded(None if block.height_m is None else block.height_m.middle),
        "height_low_m": rounded(None if block.height_m is None else block.height_m.low),
        "height_high_m": rounded(None if block.height_m is None else block.height_m.high),
        "time_s": rounded(block.time_s),
        "time_low_s": rounded(None if block.times is None else block.times.low),
        "time_high_s": rounded(None if block.times is None else block.times.high),
        "time_without_gear_s": rounded(block.time_without_gear_s),
        "time_kept": rounded(block.time_kept),
        "per_gram_s": rounded(block.per_gram_s),
        "sink_m_s_before": rounded(None if before is None else before.sink_m_s),
        "time_s_before": rounded(None if before is None else before.time_s),
        "time_low_s_before": rounded(None if before is None or before.times is None else before.times.low),
        "time_high_s_before": rounded(None if before is None or before.times is None else before.times.high),
    }
