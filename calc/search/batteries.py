"""Sources of power as the finder's search takes them: run times as whole numbers.

The sums are those of `calc.subjects.power.endurance`.
"""

from bisect import bisect_right

from calc.search.pareto import Battery
from calc.subjects.power import endurance
from calc.subjects.power.endurance import Load, Source, Supply


def battery_of(mass: int, source: Source, supply: Supply | None, reserve: float) -> Battery:
    """Return a source of power as the search takes it; the sums are those of `calc.subjects.power.endurance.run`."""
    if supply is not None:
        return _through(mass, source, supply, reserve)
    states, volts = zip(*source.table, strict=True)
    ohm, charge_c, cutoff_v = source.resistance_ohm, source.capacity_c, source.cutoff_v

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
        end = max(reserve, state(cutoff_v + mean_a * ohm))
        if needed_uv > 0:
            end = max(end, state(needed_uv * 1e-6 + max(mean_na, peak_na) * 1e-9 * ohm))
        return round((1.0 - end) * charge_c / mean_a * 1e9)

    def most(mean_na: int) -> int:
        return round((1.0 - reserve) * charge_c / (mean_na * 1e-9) * 1e9)

    return Battery(mass=mass, time=time, most=most)


def _through(mass: int, source: Source, supply: Supply, reserve: float) -> Battery:
    """Return a source of power behind a converter."""
    known: dict[tuple[int, int, int], int] = {}
    energy_j = (1.0 - reserve) * source.capacity_c * source.table[-1][1]

    def time(mean_na: int, peak_na: int, needed_uv: int) -> int:
        key = (mean_na, peak_na, needed_uv)
        if key not in known:
            least_v = needed_uv * 1e-6 if needed_uv > 0 else None
            load = Load(
                mean_a=mean_na * 1e-9, peak_a=max(mean_na, peak_na) * 1e-9, min_volts=least_v, supply=supply
            )  # fmt: skip
            known[key] = round(endurance.run(source, load, reserve).time_s * 1e9)
        return known[key]

    def most(mean_na: int) -> int:
        return int(energy_j / supply.power(mean_na * 1e-9) * 1e9) + 1

    return Battery(mass=mass, time=time, most=most)
