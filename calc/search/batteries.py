"""Sources of power as the finder's search takes them: run times as whole numbers, at their low end.

The sums are those of `calc.subjects.power.span`.
"""

from bisect import bisect_right

from calc.search.sets import Battery
from calc.subjects.power import cold, span
from calc.subjects.power.cell import OPEN_CIRCUIT
from calc.subjects.power.endurance import Load, Pack, Supply
from calc.subjects.power.ohms import Ohms


def battery_of(
    mass: int, pack: Pack, known: Ohms, supply: Supply | None, temperature_k: float, reserve: float
) -> Battery:  # fmt: skip
    """Return a source of power as the search takes it, at a temperature [K]; its sums are those of `span.run`."""
    if supply is not None:
        return _through(mass, pack, known, supply, temperature_k, reserve)
    light = span.ends(pack, temperature_k, Load(mean_a=1e-9, peak_a=1e-9), known.each).low
    states, volts = zip(*light.source.table, strict=True)
    ohm, charge_c, cutoff_v = light.source.resistance_ohm, light.source.capacity_c, light.source.cutoff_v
    one_c = pack.capacity_c * pack.left

    def state(at_v: float) -> float:
        """Return the state of charge at a voltage at rest, as `cell.state_of_charge`; 1 stands for "past it"."""
        if at_v <= volts[0]:
            return 0.0
        if at_v > volts[-1]:
            return 1.0
        right = min(bisect_right(volts, at_v), len(volts) - 1)
        v0, v1, s0, s1 = volts[right - 1], volts[right], states[right - 1], states[right]
        return float(s0 + (s1 - s0) * (at_v - v0) / (v1 - v0))

    def time(mean_na: int, peak_na: int, needed_uv: int) -> int:
        mean_a = mean_na * 1e-9
        share, _ = cold.share_band(temperature_k, cold.rate_of(mean_a, one_c))
        end = max(1.0 - (1.0 - reserve) * share, state(cutoff_v + mean_a * ohm))
        if needed_uv > 0:
            more_a = max(0, peak_na - mean_na) * 1e-9
            end = max(end, state(needed_uv * 1e-6 + mean_a * ohm + more_a * light.pull_ohm))
        return round((1.0 - end) * charge_c / mean_a * 1e9)

    def most(mean_na: int) -> int:
        return round((1.0 - reserve) * charge_c / (mean_na * 1e-9) * 1e9)

    return Battery(mass=mass, time=time, most=most)


def _through(
    mass: int, pack: Pack, ohms: Ohms, supply: Supply, temperature_k: float, reserve: float
) -> Battery:  # fmt: skip
    """Return a source of power behind a converter."""
    known: dict[tuple[int, int, int], int] = {}
    energy_j = (1.0 - reserve) * pack.capacity_c * pack.left * pack.series * OPEN_CIRCUIT[-1][1]

    def time(mean_na: int, peak_na: int, needed_uv: int) -> int:
        key = (mean_na, peak_na, needed_uv)
        if key not in known:
            least_v = needed_uv * 1e-6 if needed_uv > 0 else None
            load = Load(
                mean_a=mean_na * 1e-9, peak_a=max(mean_na, peak_na) * 1e-9, min_volts=least_v, supply=supply
            )  # fmt: skip
            low = span.ends(pack, temperature_k, load, ohms.each).low
            known[key] = round(span.run(low, load, reserve).time_s * 1e9)
        return known[key]

    def most(mean_na: int) -> int:
        return int(energy_j / supply.power(mean_na * 1e-9) * 1e9) + 1

    return Battery(mass=mass, time=time, most=most)
