"""What a run is made of, and what moves its time most."""

from dataclasses import dataclass, replace
from typing import Literal

from calc.subjects.power import cell as cells
from calc.subjects.power import endurance, span
from calc.subjects.power.endurance import Consumer, Load, Pack, Run, Supply
from calc.subjects.power.sag import Resistance
from calc.subjects.power.span import End, Ends
from calc.vocabulary import SensitivityId

CAPACITY_SHARE = 0.10  # of the capacity, either way: our assumption
TEMPERATURE_K = 10.0  # of the temperature: our assumption
RESISTANCE_FACTOR = 2.0  # of resistance and busy share: small cells differ by that; a guess at the sticks may, too
Which = Literal["low", "middle", "high"]


@dataclass(frozen=True, kw_only=True)
class Sensitivity:
    """How far the run time [s] moves when one thing is worse or better; `id` names the thing.

    `worse_by` and `better_by` say how far it was moved: a share of the capacity, kelvins, or a factor of the resistance
    or of the time at work. At an end of its range a thing is moved less far, and `ended` says so.
    """

    id: SensitivityId
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
    """What a run is made of; a sensitivity changes one thing in it. `ohms` as in `span.ends`."""

    pack: Pack
    ohms: tuple[Resistance, Resistance, Resistance]
    consumers: tuple[Consumer, ...]
    supply: Supply | None
    temperature_k: float
    reserve: float
    drawn: tuple[float, float, float] = (1.0, 1.0, 1.0)  # by how much sessions show another draw: low end, middle, high

    @property
    def load(self) -> Load:
        """What the gear asks, in the middle."""
        return self.load_at("middle")

    def load_at(self, which: Which) -> Load:
        """Return what the gear asks at one end; at the low end it draws most."""
        mean_a = endurance.mean_draw(self.consumers) * self.drawn[("low", "middle", "high").index(which)]
        return Load(
            mean_a=mean_a,
            peak_a=max(mean_a, endurance.peak_draw(self.consumers)),
            min_volts=endurance.needed_volts(self.consumers),
            supply=self.supply,
        )

    @property
    def ends(self) -> Ends:
        """What the cells may give."""
        return span.ends(self.pack, self.temperature_k, self.load, self.ohms)

    def run(self, which: Which) -> Run:
        """Return the run at one end of what the cells may give."""
        end: End = getattr(self.ends, which)
        return span.run(end, self.load_at(which), self.reserve)


def sensitivities_of(case: Case, time_s: float, which: Which) -> tuple[Sensitivity, ...]:
    """Return what worse and better would do to the run time [s] of one end, the largest span first."""

    def pair(
        name: SensitivityId, worse: Case, better: Case, worse_by: float, better_by: float, ended: bool = False
    ) -> Sensitivity:
        times = (worse.run(which).time_s, better.run(which).time_s)
        ends = (min(*times, time_s), max(*times, time_s))
        return Sensitivity(
            id=name, worse_s=ends[0], better_s=ends[1], worse_by=worse_by, better_by=better_by, ended=ended
        )

    colder_k = max(cells.COLDEST_K, case.temperature_k - TEMPERATURE_K)
    warmer_k = min(cells.WARMEST_K, case.temperature_k + TEMPERATURE_K)
    by_k = (case.temperature_k - colder_k, warmer_k - case.temperature_k)
    less, more, factor = 1.0 - CAPACITY_SHARE, 1.0 + CAPACITY_SHARE, RESISTANCE_FACTOR
    cold, warm = replace(case, temperature_k=colder_k), replace(case, temperature_k=warmer_k)
    full = any(each.busy_share * factor > 1.0 for each in case.consumers)
    found = [
        pair("capacity", with_capacity(case, less), with_capacity(case, more), CAPACITY_SHARE, CAPACITY_SHARE),
        pair("temperature", cold, warm, *by_k, min(by_k) < TEMPERATURE_K - 1e-6),
        pair("resistance", _resistance(case, factor), _resistance(case, 1.0 / factor), factor, 1.0 / factor),
        pair("busy", _busy(case, factor), _busy(case, 1.0 / factor), factor, 1.0 / factor, full),
    ]
    return tuple(sorted(found, key=lambda effect: -effect.span_s))


def with_capacity(case: Case, factor: float) -> Case:
    """Return the case with so many times the capacity, and the resistance it had."""
    return replace(case, pack=replace(case.pack, capacity_c=case.pack.capacity_c * factor))


def _resistance(case: Case, factor: float) -> Case:
    low, middle, high = (
        replace(each, at_once_ohm=each.at_once_ohm * factor, later_ohm=each.later_ohm * factor) for each in case.ohms
    )
    return replace(case, ohms=(low, middle, high))


def _busy(case: Case, factor: float) -> Case:
    busier = tuple(replace(each, busy_share=min(1.0, each.busy_share * factor)) for each in case.consumers)
    return replace(case, consumers=busier)
