"""The voltage over the session. Numbers to geometry, no markup."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor

from calc import digits
from calc.subjects.power import endurance
from calc.subjects.power.answer import Power
from site_src.app.scale import Tick, nice_step, percent, ticks_to


@dataclass(frozen=True, kw_only=True)
class Line:
    """A level line of the curve: where from the top [%], its text, and whether that stands below the line."""

    at: float
    below: bool
    text: str
    id: str


@dataclass(frozen=True, kw_only=True)
class Band:
    """A flight on the time axis: from, width [%], its number, whether the cell still does it."""

    at: float
    width: float
    number: int
    label: str


@dataclass(frozen=True, kw_only=True)
class Curve:
    """Voltage over time: `mean` and `peak` are SVG polyline points in a box of 100 × 100."""

    mean: str
    peak: str
    end: float  # where the run ends [%]
    end_text: str
    end_anchor: str
    lines: tuple[Line, ...]
    bands: tuple[Band, ...]
    times: tuple[Tick, ...]
    volts: tuple[Tick, ...]


@lru_cache(maxsize=8)  # most edits change nothing of it
def curve(power: Power) -> Curve:
    """Return the loaded-voltage curve over the session, from full cells to empty ones, at the low end of the run."""
    clock = _Clock(power)
    floor_v, top_v = _volt_range(power)
    states = sorted({state for state, _ in power.source.table} | {index / 40 for index in range(41)}, reverse=True)
    times = [percent(clock.at(state), clock.life_s) / 100.0 for state in states]

    def points(volts: Iterable[float | None]) -> str:
        inside = _clipped(list(zip(times, volts, strict=True)), floor_v)
        return " ".join(f"{100 * x:.2f},{_down(v, floor_v, top_v):.2f}" for x, v in inside)

    minutes = clock.life_s / 60.0
    ends_s = clock.at(min(1.0, power.worst.end_state))
    end = percent(ends_s, clock.life_s)
    bound = "at most " if power.at_most else "at worst " if power.low.time_s < power.high.time_s else ""
    return Curve(
        mean=points(power.load.volts_under(power.source, state, power.load.mean_a) for state in states),
        peak=points(power.end.volts_under_peak(power.load, state) for state in states),
        end=end,
        end_text=f"{bound}{digits.duration(ends_s)}",
        end_anchor="end" if end > 50.0 else "start",
        lines=tuple(_lines(power, floor_v, top_v)),
        bands=tuple(_bands(power, clock.life_s)),
        times=tuple(Tick(at=percent(value, minutes), text=f"{value:g}") for value in ticks_to(minutes)),
        volts=tuple(
            Tick(at=_down(value, floor_v, top_v), text=f"{value:.1f}") for value in _volt_ticks(floor_v, top_v)
        ),
    )


class _Clock:
    """The time on the axis [s]: with the radio left on between flights it runs through the pauses, too."""

    def __init__(self, power: Power) -> None:
        self._power = power
        self.life_s = self.at(0.0)

    def at(self, state: float) -> float:
        """Return when the cells are down to a state of charge."""
        flown_s = endurance.run_time(self._power.source, self._power.load, 1.0, state)
        plan = self._power.plan
        if plan is None or plan.pause_s <= 0.0:
            return flown_s
        cycles, rest_s = divmod(flown_s, plan.on_s + plan.pause_equal_s)
        if rest_s > plan.on_s and plan.pause_share > 0.0:
            rest_s = plan.on_s + (rest_s - plan.on_s) / plan.pause_share
        return cycles * (plan.on_s + plan.pause_s) + rest_s


def _needed(power: Power) -> float | None:
    """Return the voltage below which the gear stops, if it lies on the picture."""
    least_v = power.load.least_volts(power.source)
    return least_v if least_v is not None and 0.0 < least_v < 30.0 else None


def _volt_range(power: Power) -> tuple[float, float]:
    cutoff_v = power.source.cutoff_v
    lowest = min(cutoff_v, cutoff_v if power.lowest_v is None else power.lowest_v, _needed(power) or cutoff_v)
    return max(0.0, floor((lowest - 0.15) * 5.0) / 5.0), ceil(power.source.table[-1][1] * 5.0) / 5.0


def _volt_ticks(floor_v: float, top_v: float) -> Sequence[float]:
    step = nice_step(top_v - floor_v, 7)
    first = ceil(floor_v / step - 1e-9)
    return [round(index * step, 6) for index in range(first, floor(top_v / step + 1e-9) + 1)]


def _down(volts: float, floor_v: float, top_v: float) -> float:
    """Return how far below the top of the picture a voltage lies [%]."""
    return round(100.0 * (top_v - volts) / (top_v - floor_v), 2)


def _clipped(spots: list[tuple[float, float | None]], floor_v: float) -> list[tuple[float, float]]:
    """Return the falling line down to where it leaves the picture, or to where the cell collapses."""
    kept: list[tuple[float, float]] = []
    for x, volts in spots:
        if volts is None:
            break
        if volts < floor_v:
            if kept:
                x0, v0 = kept[-1]
                kept.append((x0 + (x - x0) * (v0 - floor_v) / (v0 - volts), floor_v))
            break
        kept.append((x, volts))
    return kept


def _lines(power: Power, floor_v: float, top_v: float) -> Iterable[Line]:
    cutoff_v, needed_v = power.source.cutoff_v, _needed(power)
    at = _down(cutoff_v, floor_v, top_v)
    lower = needed_v is not None and cutoff_v < needed_v
    yield Line(at=at, text=f"cut-off {digits.given(cutoff_v)} V", id="cutoff", below=lower)
    if needed_v is not None:
        at = _down(needed_v, floor_v, top_v)
        yield Line(at=at, text=f"gear needs {digits.given(needed_v)} V", id="needs", below=not lower)


def _bands(power: Power, life_s: float) -> Iterable[Band]:
    """Yield a band for each whole flight of the session that this cell does."""
    if power.plan is None or power.flights is None:
        return
    wanted = power.flights if power.session_flights is None else min(power.flights, power.session_flights)
    width = 100.0 * power.plan.on_s / life_s
    step = 100.0 * (power.plan.on_s + power.plan.pause_s) / life_s
    for index in range(min(wanted, 200)):
        label = f"{index + 1}" if width > 4.0 else ""
        yield Band(at=round(index * step, 2), width=round(width, 2), number=index + 1, label=label)
