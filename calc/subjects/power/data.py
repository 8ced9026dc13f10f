"""What the JSON tells of the power."""

from typing import Any

from calc.plain import rounded
from calc.subjects.power.answer import Power
from calc.subjects.power.sensitivity import Sensitivity


def data(power: Power) -> dict[str, Any]:
    """Return the power block; where a draw is not told, the run and what rests on it have names of their own.

    Flights, cells and swaps are those of the low end.
    """
    run, flights, cells = ("run_min", "flights", "cells_needed")
    if power.at_most:
        run, flights, cells = ("run_at_most_min", "flights_at_most", "cells_needed_at_least")
    answer: dict[str, Any] = {
        "mean_mA" if not power.at_most else "mean_at_least_mA": rounded(power.load.mean_a, 1e3),
        "peak_mA" if not power.at_most else "peak_at_least_mA": rounded(power.load.peak_a, 1e3),
        run: rounded(power.run.time_s, 1 / 60),
        **_ends(power),
        "ends_by": power.worst.ends_by,
        "lowest_V" if not power.at_most else "lowest_at_most_V": rounded(power.lowest_v),
        "sways": [_sensitivity_json(effect) for effect in power.sensitivities] if not power.at_most else None,
        "draw_untold": [*power.untold, *(f"{path}.busy_draw" for path in power.quiet_only)] or None,
        "draw_guessed": list(power.guessed) or None,
    }
    if power.flights is not None:
        answer[flights] = power.flights
        answer["flights_usual"] = None if power.at_most else power.flights_usual
        answer["flights_safe"] = None if power.at_most else power.safe_flights
        if power.session_flights is not None:
            answer[cells] = power.cells_needed  # null: one cell does not give one flight
            answer |= (
                {}
                if power.at_most
                else {"swap_after": list(power.cell_swaps), "swap_safe": list(power.safe_cell_swaps)}
            )
            answer["bring"] = power.bring if not power.at_most else None
    answer |= _learned(power)
    if power.charge_s is not None:
        answer["charge_min"] = rounded(power.charge_s, 1 / 60)
    return answer


def _learned(power: Power) -> dict[str, Any]:
    """Return what the charges put back taught; a spread is that of about 95 of 100 cases."""
    taught, before = power.learned, power.before
    if taught is None or before is None:
        return {}
    found: dict[str, Any] = {}
    if taught.draw is not None:
        found["sessions"] = taught.draws
        found["planned_mA"] = rounded(before.load.mean_a, 1e3)
        found["mean_mA_spread"] = rounded(2.0 * taught.draw.u * taught.draw.value, 1e3)
        found["flights_before"] = before.flights
    if taught.capacity is not None:
        found["rests"] = taught.capacities
        found["capacity_mAh"] = rounded(taught.capacity.value, 1 / 3.6)
        found["capacity_mAh_spread"] = rounded(2.0 * taught.capacity.u * taught.capacity.value, 1 / 3.6)
    return found


def _ends(power: Power) -> dict[str, Any]:
    """Return the low and the high end of the run and of the cells' resistance today, and the most that they sag."""
    ends = power.ends
    found: dict[str, Any] = {
        "resistance_low_ohm": rounded(ends.high.source.resistance_ohm),
        "resistance_ohm": rounded(ends.middle.source.resistance_ohm),
        "resistance_high_ohm": rounded(ends.low.source.resistance_ohm),
        "resistance_from": power.resistance_from,
    }
    if power.at_most:
        return {**found, "too_fast": power.too_fast or None}
    runs = {"run_low_min": rounded(power.low.time_s, 1 / 60), "run_high_min": rounded(power.high.time_s, 1 / 60)}
    return {**runs, **found, "sag_V": rounded(power.sag_v)}


def _sensitivity_json(effect: Sensitivity) -> dict[str, Any]:
    return {
        "id": effect.id,
        "worse_min": rounded(effect.worse_s, 1 / 60),
        "better_min": rounded(effect.better_s, 1 / 60),
        "worse_by": rounded(effect.worse_by),
        "better_by": rounded(effect.better_by),
    }
