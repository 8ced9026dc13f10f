"""The graph of a flight: height over time, its parts, and the borders between them. Numbers to geometry, no markup."""

from collections.abc import Iterator
from dataclasses import dataclass

from calc.subjects.flights.borders import ORDER
from calc.subjects.flights.parts import Flown
from calc.subjects.flights.slope import Series
from calc.unit_system import UnitSystem
from site_src.app.scale import Tick, nice_step, percent

PIECES = 150  # of the line, each drawn with its lowest and its highest sample
NAMES = {"launch_s": "Launch", "top_s": "Top", "from_s": "Glide from", "to_s": "Glide to", "down_s": "Down"}
LEVELS = {"launch_s": 0, "top_s": 0, "from_s": 1, "to_s": 0, "down_s": 1}  # of the handles, that they stand apart


@dataclass(frozen=True, kw_only=True)
class Border:
    """A border: where [%], its time since the graph's start [s], what is told of it."""

    key: str
    number: int
    name: str
    at: float
    second: float
    told: str  # its time after the launch
    level: int


@dataclass(frozen=True, kw_only=True)
class Band:
    """A part of the flight: its kind, and from where to where [%]."""

    kind: str
    start: float
    width: float


@dataclass(frozen=True, kw_only=True)
class FlightGraph:
    """Height over time: `line` is an SVG polyline in a box of 100 × 100."""

    line: str
    bands: tuple[Band, ...]
    borders: tuple[Border, ...]
    times: tuple[Tick, ...]
    heights: tuple[Tick, ...]
    unit: str
    span_s: float
    step_s: float  # of a border moved by a key


def flight_graph(flown: Flown, system: UnitSystem) -> FlightGraph:
    """Return the graph of a flight with all that is drawn around it, some seconds of ground too."""
    points, launch_s = flown.points, flown.borders.launch_s
    start_s, span_s = points[0][0], max(points[-1][0] - points[0][0], 1e-3)
    meters = [(height - flown.ground_m) * flown.factor for _, height in points]
    low, high = min(0.0, *meters), max(meters)
    room = 1.08 * max(high - low, 1.0)
    drawn = [(second - start_s, (height - flown.ground_m) * flown.factor - low) for second, height in shortened(points)]
    return FlightGraph(
        line=" ".join(f"{percent(at, span_s):.2f},{100.0 - percent(up, room):.2f}" for at, up in drawn),
        bands=tuple(_bands(flown, start_s, span_s)),
        borders=tuple(_borders(flown, start_s, span_s)),
        times=tuple(_times(start_s - launch_s, span_s)),
        heights=tuple(_heights(low, room, system)),
        unit=system.label("height"),
        span_s=round(span_s, 2),
        step_s=max(0.1, round(span_s / 500.0, 1)),
    )


def shortened(points: Series) -> list[tuple[float, float]]:
    """Return some hundred of the samples, extremes among them, in their order.

    Examples
    --------
    >>> found = shortened([(float(t), 99.0 if t == 1234 else 0.0) for t in range(10_000)])
    >>> len(found) <= 302, max(found, key=lambda each: each[1])
    (True, (1234.0, 99.0))
    """
    if len(points) <= 2 * PIECES:
        return list(points)
    size = -(-len(points) // PIECES)
    found = [points[0]]
    for start in range(0, len(points), size):
        piece = points[start : start + size]
        ends = {min(piece, key=lambda each: each[1]), max(piece, key=lambda each: each[1])}
        found += sorted(ends)
    return [*found, points[-1]]


def clock(seconds: float) -> str:
    """Return a time after the launch as minutes and seconds, before it with a minus.

    Examples
    --------
    >>> clock(83.44), clock(-2.0), clock(59.97)
    ('1:23.4', '−0:02.0', '1:00.0')
    """
    tenths = round(abs(seconds) * 10.0)
    sign = "−" if seconds < 0.0 and tenths else ""
    return f"{sign}{tenths // 600}:{tenths % 600 / 10:04.1f}"


def _borders(flown: Flown, start_s: float, span_s: float) -> Iterator[Border]:
    for number, key in enumerate(ORDER, 1):
        second = getattr(flown.borders, key)
        told = clock(second - flown.borders.launch_s)
        yield Border(key=key, number=number, name=NAMES[key], at=percent(second - start_s, span_s),
                     second=round(second - start_s, 1), told=told, level=LEVELS[key])  # fmt: skip


def _bands(flown: Flown, start_s: float, span_s: float) -> Iterator[Band]:
    """Yield climb and glide, and what of the glide rises and so does not count."""
    borders = flown.borders
    yield _band("climbs", borders.launch_s, borders.top_s, start_s, span_s)
    yield _band("glides", borders.from_s, borders.to_s, start_s, span_s)
    for piece in flown.pieces:
        begins, ends = max(piece.start_s, borders.from_s), min(piece.end_s, borders.to_s)
        if piece.slope > 0.0 and begins < ends and not flown.gliding.all_of_it:
            yield _band("rises", begins, ends, start_s, span_s)


def _band(kind: str, begins: float, ends: float, start_s: float, span_s: float) -> Band:
    start, end = percent(begins - start_s, span_s), percent(ends - start_s, span_s)
    return Band(kind=kind, start=start, width=round(end - start, 2))


def _times(first: float, span_s: float) -> Iterator[Tick]:
    """Yield marks of the time after the launch, `first` [s] being that of the graph's start."""
    step = next((each for each in (5.0, 10.0, 20.0, 30.0, 60.0, 120.0, 300.0, 600.0) if span_s / each <= 6.0), 1200.0)
    at = -(-first // step) * step
    while at <= first + span_s:
        minutes, seconds = divmod(abs(round(at)), 60)
        yield Tick(at=percent(at - first, span_s), text=f"{'−' if at < 0 else ''}{minutes}:{seconds:02d}")
        at += step


def _heights(low_m: float, room_m: float, system: UnitSystem) -> Iterator[Tick]:
    unit_m = room_m / (system.number(room_m, "height") - system.number(0.0, "height"))
    step = nice_step(room_m / unit_m, 4)
    number = -(-(low_m / unit_m) // step) * step + 0.0
    while number * unit_m <= low_m + room_m:
        yield Tick(
            at=round(100.0 - percent(number * unit_m - low_m, room_m), 2), text=f"{number + 0.0:g}".replace("-", "−")
        )
        number += step
