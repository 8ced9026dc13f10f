"""Numbers to SVG geometry: no markup here, no sums of the trade.

Every length is a percentage of the picture's width or height, so text keeps its size on a narrow screen. Coordinates
are rounded to 0.01: the same under every Python.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from math import ceil, floor, log10

from calc import digits, english, units
from calc.assess import Assessment
from calc.subjects.limits import words as limit_words
from calc.subjects.limits.allowance import TIE_KG, Limit
from calc.subjects.power import endurance
from calc.subjects.power.answer import Power
from calc.subjects.weights import words as weight_words

ROOM = 1.18  # how far the strip's scale goes past the larger of the gear and the governing limit


@dataclass(frozen=True, kw_only=True)
class Tick:
    """A mark on a scale: where [%], and its text."""

    at: float
    text: str


@dataclass(frozen=True, kw_only=True)
class Block:
    """A gear row on the strip: from, width [%], its number, how it is known."""

    at: float
    width: float
    number: int
    known_by: str
    title: str


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A limit on the strip. `beyond`: further right than the scale goes; `anchor` is SVG's text-anchor."""

    at: float
    level: int
    text: str
    anchor: str
    beyond: bool
    governs: bool
    verdict: str


@dataclass(frozen=True, kw_only=True)
class Dot:
    """One of twenty equally likely outcomes: where [%], on which level of its heap, whether past the limit."""

    at: float
    level: int
    beyond: bool


@dataclass(frozen=True, kw_only=True)
class Strip:
    """Gear as blocks as wide as their mass, against a mark for each limit; equally likely outcomes as heaped dots."""

    blocks: tuple[Block, ...]
    marks: tuple[Mark, ...]
    dots: tuple[Dot, ...]
    against: str  # the limit that the dots are seen against
    heap: int  # levels of the highest heap of dots
    ticks: tuple[Tick, ...]
    unit: str


def nice_step(span: float, most: int = 6) -> float:
    """Return a step of 1, 2 or 5 times a power of ten that parts `span` > 0 into at most `most` parts.

    Examples
    --------
    >>> nice_step(11.2), nice_step(0.4), nice_step(55.0)
    (2.0, 0.1, 10.0)
    """
    power = 10.0 ** floor(log10(span / most))
    return next(m * power for m in (1.0, 2.0, 5.0, 10.0) if span / (m * power) <= most * (1 + 1e-9))


def ticks_to(top: float, most: int = 6) -> list[float]:
    """Return the nice numbers from 0 to `top`.

    Examples
    --------
    >>> ticks_to(0.45)
    [0.0, 0.1, 0.2, 0.3, 0.4]
    """
    step = nice_step(top, most)
    return [round(index * step, 10) for index in range(floor(top / step + 1e-9) + 1)]


def percent(value: float, top: float) -> float:
    """Return where a value lies on a scale from 0 to `top`, in percent, kept within the picture."""
    return round(min(max(value / top, 0.0), 1.0) * 100.0, 2)


def strip(assessment: Assessment, system: str) -> Strip:
    """Return the strip."""
    gear = assessment.gear
    governs = 0.0 if assessment.governs is None else assessment.governs.allows_kg
    outcomes = () if assessment.chance is None else assessment.chance.dots_kg
    top_kg = ROOM * max(gear.expected_kg + gear.spread_kg, governs, 1e-5, *outcomes)
    masses = [row.mass.expected_kg for row in assessment.rows]
    starts = accumulate(masses, initial=0.0)
    blocks = tuple(
        Block(
            at=percent(start, top_kg),
            width=percent(row.mass.expected_kg, top_kg),
            number=index + 1,
            known_by=row.known_by,
            title=f"{english.row_name(row.kind, row.name)}, {weight_words.expected(row.mass, system)}",
        )
        for index, (row, start) in enumerate(zip(assessment.rows, starts, strict=False))
    )
    label = units.default_unit("mass", system)
    top = units.from_si(top_kg, label, "mass")
    dots = tuple(_dots(assessment, top_kg))
    return Strip(
        blocks=blocks,
        marks=_marks(assessment, top_kg, system),
        dots=dots,
        against="" if assessment.chance is None else assessment.chance.against,
        heap=max((dot.level + 1 for dot in dots), default=0),
        ticks=tuple(Tick(at=percent(value, top), text=f"{value:g}") for value in ticks_to(top)),
        unit=label,
    )


DOT = 1.6  # width of a dot's bin [%]: dots that would overlap are heaped


def _dots(assessment: Assessment, top_kg: float) -> Iterable[Dot]:
    """Yield the outcomes as heaps in bins; a dot is past the limit by its own mass, whatever its bin."""
    if assessment.chance is None:
        return
    limit_kg = next(each.allows_kg for each in assessment.limits if each.id == assessment.chance.against)
    levels: dict[int, int] = {}
    for mass_kg in assessment.chance.dots_kg:
        place = round(100.0 * mass_kg / top_kg / DOT)
        level = levels[place] = levels.get(place, -1) + 1
        yield Dot(at=round(place * DOT, 2), level=level, beyond=mass_kg > limit_kg + TIE_KG)


def _marks(assessment: Assessment, top_kg: float, system: str) -> tuple[Mark, ...]:
    """Return the limits' marks, each on a level of its own so that their texts never meet."""
    left = [limit for limit in assessment.limits if limit.allows_kg <= top_kg / 2.0]
    right = [limit for limit in assessment.limits if limit.allows_kg > top_kg / 2.0]
    ordered = sorted(left, key=lambda limit: limit.allows_kg) + sorted(right, key=lambda limit: -limit.allows_kg)
    return tuple(_mark(limit, level, assessment.governs, top_kg, system) for level, limit in enumerate(ordered))


def _mark(limit: Limit, level: int, governs: Limit | None, top_kg: float, system: str) -> Mark:
    at, beyond = percent(limit.allows_kg, top_kg), limit.allows_kg > top_kg
    allowed = digits.mass(limit.allows_kg, system, limit.spread_kg) if limit.allows_kg >= 0.0 else "nothing"
    text = f"{limit_words.LIMITS[limit.id]} {allowed}"
    return Mark(
        at=at,
        level=level,
        text=f"{text} →" if beyond else text,
        anchor="end" if limit.allows_kg > top_kg / 2.0 else "start",
        beyond=beyond,
        governs=limit is governs,
        verdict=limit.verdict,
    )


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
    """Return the loaded-voltage curve over the session, from full cells to empty ones."""
    clock = _Clock(power)
    floor_v, top_v = _volt_range(power)
    states = sorted({state for state, _ in power.source.table} | {index / 40 for index in range(41)}, reverse=True)
    times = [percent(clock.at(state), clock.life_s) / 100.0 for state in states]

    def points(draw_a: float) -> str:
        volts = [power.load.volts_under(power.source, state, draw_a) for state in states]
        inside = _clipped(list(zip(times, volts, strict=True)), floor_v)
        return " ".join(f"{100 * x:.2f},{_down(v, floor_v, top_v):.2f}" for x, v in inside)

    minutes = clock.life_s / 60.0
    end = percent(clock.at(power.run.end_state), clock.life_s)
    return Curve(
        mean=points(power.load.mean_a),
        peak=points(power.load.peak_a),
        end=end,
        end_text=digits.duration(clock.at(power.run.end_state)),
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
    lowest = min(power.source.cutoff_v, power.run.lowest_v, _needed(power) or power.source.cutoff_v)
    return max(0.0, floor((lowest - 0.15) * 5.0) / 5.0), ceil(power.source.table[-1][1] * 5.0) / 5.0


def _volt_ticks(floor_v: float, top_v: float) -> Sequence[float]:
    step = nice_step(top_v - floor_v, 7)
    first = ceil(floor_v / step - 1e-9)
    return [round(index * step, 6) for index in range(first, floor(top_v / step + 1e-9) + 1)]


def _down(volts: float, floor_v: float, top_v: float) -> float:
    """Return how far below the top of the picture a voltage lies [%]."""
    return round(100.0 * (top_v - volts) / (top_v - floor_v), 2)


def _clipped(spots: list[tuple[float, float]], floor_v: float) -> list[tuple[float, float]]:
    """Return the falling line down to where it leaves the picture."""
    kept: list[tuple[float, float]] = []
    for x, volts in spots:
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
