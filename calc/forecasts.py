"""The forecast before and after what was measured, beside each other: by the plan alone, by flights and cell log."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp

from calc import digits
from calc.assess import Assessment
from calc.english import counted
from calc.subjects.air.climb import Range
from calc.subjects.flights.answer import FlightsBlock
from calc.subjects.learn import Known
from calc.subjects.power.answer import Power
from calc.unit_system import UnitSystem

NOTHING = "not told"


@dataclass(frozen=True, kw_only=True)
class Forecast:
    """A figure by the plan and as measured, each with the range of about 95 of 100 cases; what it is from."""

    name: str
    before: str
    after: str
    source: str

    @property
    def planned(self) -> bool:
        """Whether the plan tells it."""
        return self.before != NOTHING


def forecasts(found: Assessment, system: UnitSystem) -> tuple[Forecast, ...]:
    """Return what flights and sessions changed; nothing where none counts."""
    flights, power = found.of(FlightsBlock), found.power
    return (*(() if flights is None else _of_flights(found, flights, system)), *(() if power is None else _run(power)))


def _of_flights(found: Assessment, block: FlightsBlock, system: UnitSystem) -> Iterator[Forecast]:
    factor, air = block.factor, found.air
    source = counted(len(block.counted), "flight")
    if factor is not None and block.sink_m_s is not None:
        yield Forecast(name="Glide factor Φ", before=_share(block.prior), after=_share(factor), source=source)
        before = Known(value=block.sink_m_s * factor.value / block.prior.value, u=block.prior.u)
        told = (_share(each, system, "speed") for each in (before, Known(value=block.sink_m_s, u=factor.u)))
        yield Forecast(name="Sink", before=next(told), after=next(told), source=source)
    if air is not None and air.before is not None and air.times is not None:
        times = NOTHING if air.before.times is None else _seconds(air.before.times)
        yield Forecast(name="Still-air time", before=times, after=_seconds(air.times), source=source)
    if block.per_turn is not None:
        height = Known(value=100.0 * block.per_turn.value, u=block.per_turn.u)
        yield Forecast(name="Height from 100 turns", before=NOTHING, after=_share(height, system, "height"),
                       source=counted(block.heights, "flight"))  # fmt: skip


def _run(power: Power) -> Iterator[Forecast]:
    taught, before = power.learned, power.before
    if taught is not None and before is not None and (taught.draw is not None or taught.capacity is not None):
        source = counted(max(taught.draws, taught.capacities), "session")
        yield Forecast(name="Run time", before=_runs(before, bound=power.at_most), after=_runs(power), source=source)


def _share(known: Known, system: UnitSystem | None = None, dimension: str = "") -> str:
    """Return a figure whose u is a share of it, with its range."""
    low, high = known.value * exp(-2.0 * known.u), known.value * exp(2.0 * known.u)
    if system is None:
        return f"{digits.figures(known.value)} ({digits.figures(low)} to {digits.figures(high)})"
    number = (digits.figures(system.number(each, dimension)) for each in (known.value, low, high))
    return "{} ({} to {}) ".format(*number) + system.label(dimension)


def _seconds(times: Range) -> str:
    return f"{digits.figures(times.middle)} ({digits.figures(times.low)} to {digits.figures(times.high)}) s"


def _runs(power: Power, *, bound: bool = False) -> str:
    """Return a run with its ends; with a draw that nobody told (`bound`) it is at most so long."""
    if bound or power.at_most:
        return f"at most {digits.duration(power.run.time_s)}"
    return f"{digits.duration(power.low.time_s)} to {digits.duration(power.high.time_s)}"
