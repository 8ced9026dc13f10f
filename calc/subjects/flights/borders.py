"""A flight whose borders were moved by hand: its figures anew, from the samples between them."""

from dataclasses import asdict, replace
from statistics import median

from calc.subjects.flights.clean import step_of
from calc.subjects.flights.gliding import sink_between
from calc.subjects.flights.parts import EDGE_S, Borders, Flown
from calc.subjects.flights.slope import Series

ORDER = ("launch_s", "top_s", "from_s", "to_s", "down_s")
NEAREST = 5  # samples whose median is the height at a border
FEWEST = 3  # samples of a ground


def in_order(borders: Borders, moved: str, second: float, ends: tuple[float, float]) -> Borders:
    """Return the borders with one moved to a time within the record; those in its way go along.

    Examples
    --------
    >>> found = Borders(launch_s=10.0, top_s=20.0, from_s=25.0, to_s=90.0, down_s=95.0)
    >>> in_order(found, "top_s", 30.0, (0.0, 100.0))
    Borders(launch_s=10.0, top_s=30.0, from_s=30.0, to_s=90.0, down_s=95.0)
    """
    to, at = min(max(second, ends[0]), ends[1]), ORDER.index(moved)
    told = asdict(borders)
    pushed = {key: min(told[key], to) if ORDER.index(key) < at else max(told[key], to) for key in ORDER}
    return Borders(**{**pushed, moved: to})


def measured(flown: Flown, borders: Borders) -> Flown:
    """Return a flight with the figures that follow from these borders.

    Ground and landing are the medians of up to 20 s before the launch and after the landing, the top that of the five
    nearest samples; what no moved border touches stays as found.
    """
    found, ground, factor = flown.borders, flown.ground_m, flown.factor
    top_m, landed_m = flown.height_m / factor + ground, flown.landed_m / factor + ground
    if borders.launch_s != found.launch_s:
        ground = _ground(flown.points, borders.launch_s - EDGE_S, borders.launch_s, ground)
    if borders.top_s != found.top_s:
        top_m = _height(flown.points, borders.top_s)
    if borders.down_s != found.down_s:
        landed_m = _ground(flown.points, borders.down_s, borders.down_s + EDGE_S, landed_m)
    between, step_m = (borders.from_s, borders.to_s), step_of(flown.points)
    gliding = sink_between(flown.points, flown.pieces, between, step_m).downward(factor)
    return replace(
        flown,
        borders=borders,
        ground_m=ground,
        height_m=(top_m - ground) * factor,
        landed_m=(landed_m - ground) * factor,
        gliding=gliding,
    )


def _ground(points: Series, start_s: float, end_s: float, otherwise_m: float) -> float:
    heights = [height for second, height in points if start_s <= second <= end_s]
    return median(heights) if len(heights) >= FEWEST else otherwise_m


def _height(points: Series, second: float) -> float:
    near = sorted(points, key=lambda each: abs(each[0] - second))[:NEAREST]
    return median(height for _, height in near)
