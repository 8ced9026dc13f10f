"""Sources of power as the finder's search takes them: run times as whole numbers.

The sums are those of `calc.subjects.power.endurance`; only the quick bound is made here.
"""

from calc.search.sets import Battery
from calc.subjects.power import endurance
from calc.subjects.power.endurance import Load, Source, Supply


def battery_of(mass: int, source: Source, supply: Supply | None, reserve: float) -> Battery:
    """Return a source of power as the search takes it; `mass` in the search's unit, `reserve` the share kept."""
    known: dict[tuple[int, int, int], int] = {}
    energy_j = (1.0 - reserve) * source.capacity_c * source.table[-1][1]

    def time(mean_na: int, peak_na: int, needed_uv: int) -> int:
        key = (mean_na, peak_na, needed_uv)
        if key not in known:
            least_v = needed_uv * 1e-6 if needed_uv > 0 else None
            load = Load(mean_a=mean_na * 1e-9, peak_a=max(mean_na, peak_na) * 1e-9, min_volts=least_v, supply=supply)
            known[key] = round(endurance.run(source, load, reserve).time_s * 1e9)
        return known[key]

    def most(mean_na: int) -> int:
        if supply is None:
            return round((1.0 - reserve) * source.capacity_c / (mean_na * 1e-9) * 1e9)
        return int(energy_j / supply.power(mean_na * 1e-9) * 1e9) + 1

    return Battery(mass=mass, time=time, most=most)
