"""What the JSON tells of the flights; a spread is that of about 95 of 100 cases."""

from typing import Any

from calc.plain import rounded
from calc.subjects.flights.answer import FlightsBlock


def data(block: FlightsBlock) -> dict[str, Any]:
    """Return the JSON of the flights."""
    factor, sink, per_turn = block.factor, block.sink_m_s, block.per_turn
    return {
        "count": len(block.counted),
        "struck_out": block.struck,
        "outliers": [f"flights.{row}" for row in block.outliers] or None,
        "beyond": [f"flights.{row}" for row in block.beyond] or None,
        "glide_factor_before": rounded(block.prior.value),
        "glide_factor": rounded(None if factor is None else factor.value),
        "glide_factor_spread": rounded(None if factor is None else 2.0 * factor.u * factor.value),
        "sink_m_s": rounded(sink),
        "sink_m_s_spread": rounded(None if sink is None or factor is None else 2.0 * factor.u * sink),
        "efficiency": rounded(None if block.efficiency is None else block.efficiency.value),
        "efficiency_spread": rounded(
            None if block.efficiency is None else 2.0 * block.efficiency.u * block.efficiency.value
        ),
        "circle_radius_low_m": rounded(min((each.radius_m for each in block.circled), default=None)),
        "circle_radius_high_m": rounded(max((each.radius_m for each in block.circled), default=None)),
        "circle_sink_share_high": rounded(max((each.more - 1.0 for each in block.circled), default=None)),
        "height_per_turns": rounded(None if per_turn is None else per_turn.value),
        "height_per_turns_spread": rounded(None if per_turn is None else 2.0 * per_turn.u * per_turn.value),
    }
