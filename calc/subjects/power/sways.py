"""What a run is made of, and what moves its time most."""

from dataclasses import dataclass, replace

from calc.subjects.power import cell as cells
from calc.subjects.power import endurance
from calc.subjects.power.endurance import Consumer, Load, Pack, Run, Source, Supply

SWAY_SHARE = 0.10  # of the capacity, either way: our assumption
SWAY_K = 10.0  # of the temperature: our assumption
SWAY_FACTOR = 2.0  # of resistance and busy share: small cells differ by that; a guess at the sticks may, too


@dataclass(frozen=True, kw_only=True)
class Sway:
    """How far the run time [s] moves when one thing is worse or better; `id` names the thing.

    `worse_by` and `better_by` say how far it was moved: a share of the capacity, kelvins, or a factor of the resistance
    or of the time at work. At an end of its range a thing is moved less far, and `ended` says so.
    """

    id: str  # capacity, temperature, resistance or busy
    worse_s: float
    better_s: float
    worse_by: float
    better_by: float
    ended: bool = False

    @property
    def span_s(self) -> float:
        """The whole way between the two."""
        return self.better_s - self.worse_s


@dataclass(frozen=True, kw_only=True)
class Case:
    """What a run is made of; sways change one thing in it."""

    pack: Pack
    consumers: tuple[Consumer, ...]
    supply: Supply | None
    temperature_k: float
    reserve: float

    def run(self) -> tuple[Source, Load, Run]:
        """Return the cells as they are today, what the gear asks, and the run."""
        mean_a = endurance.mean_draw(self.consumers)
        load = Load(
            mean_a=mean_a,
            peak_a=max(mean_a, endurance.peak_draw(self.consumers)),
            min_volts=endurance.needed_volts(self.consumers),
            supply=self.supply,
        )
        source = endurance.today(self.pack, self.temperature_k)
        return source, load, endurance.run(source, load, self.reserve)


def sways(case: Case, time_s: float) -> tuple[Sway, ...]:
    """Return what worse and better would do to the run time [s], the largest span first."""

    def pair(name: str, worse: Case, better: Case, worse_by: float, better_by: float, ended: bool = False) -> Sway:
        times = (worse.run()[2].time_s, better.run()[2].time_s)
        ends = (min(*times, time_s), max(*times, time_s))
        return Sway(id=name, worse_s=ends[0], better_s=ends[1], worse_by=worse_by, better_by=better_by, ended=ended)

    colder_k = max(cells.COLDEST_K, case.temperature_k - SWAY_K)
    warmer_k = min(cells.WARMEST_K, case.temperature_k + SWAY_K)
    by_k = (case.temperature_k - colder_k, warmer_k - case.temperature_k)
    less, more, factor = 1.0 - SWAY_SHARE, 1.0 + SWAY_SHARE, SWAY_FACTOR
    cold, warm = replace(case, temperature_k=colder_k), replace(case, temperature_k=warmer_k)
    full = any(each.busy_share * factor > 1.0 for each in case.consumers)
    found = [
        pair("capacity", _capacity(case, less), _capacity(case, more), SWAY_SHARE, SWAY_SHARE),
        pair("temperature", cold, warm, *by_k, min(by_k) < SWAY_K - 1e-6),
        pair("resistance", _resistance(case, factor), _resistance(case, 1.0 / factor), factor, 1.0 / factor),
        pair("busy", _busy(case, factor), _busy(case, 1.0 / factor), factor, 1.0 / factor, full),
    ]
    return tuple(sorted(found, key=lambda sway: -sway.span_s))


def _capacity(case: Case, factor: float) -> Case:
    """Return the case with another capacity and the resistance it had."""
    ohm = case.pack.resistance_ohm
    kept = cells.resistance_from_capacity(case.pack.capacity_c) if ohm is None else ohm
    return replace(case, pack=replace(case.pack, capacity_c=case.pack.capacity_c * factor, resistance_ohm=kept))


def _resistance(case: Case, factor: float) -> Case:
    ohm = case.pack.resistance_ohm
    known = cells.resistance_from_capacity(case.pack.capacity_c) if ohm is None else ohm
    return replace(case, pack=replace(case.pack, resistance_ohm=known * factor))


def _busy(case: Case, factor: float) -> Case:
    busier = tuple(replace(each, busy_share=min(1.0, each.busy_share * factor)) for each in case.consumers)
    return replace(case, consumers=busier)
