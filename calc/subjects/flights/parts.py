"""The parts of one flight: ground, launch, climb, top, glide, landing; and its sink.

No standard exists for models; these rules are ours:

    ground         15 s within 1 m (or six times the noise), in the lower third of the record; 10 s with at least five
                   samples where a record begins, climbs right after them and never comes 2 m below them
    launch         the last sample within 1 m (or three times the noise) of the ground before 3 s above it
    false peak     a fall of more than 1.5 m at more than 1 m/s within 5 s of the launch: air blown on the port
    top            the highest border between a rising and a falling piece, the false peak left out; the median of the
                   highest sample and its neighbours where that border is not within 1 m (or three times the noise) of
                   what these allow: ten pieces are too few for an hour of thermals
    glide          from 5 s after the top to 3 m above the landing; its sink, and moving air, in `gliding`
    landing        the first of the samples that stay within 1 m (or three times the noise) of where it lies, which may
                   be a tree
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from calc.subjects.flights import pieces, slope
from calc.subjects.flights.clean import step_of
from calc.subjects.flights.gliding import Sinking, sink_between
from calc.subjects.flights.logs import Recording
from calc.subjects.flights.pieces import Piece
from calc.subjects.flights.pressure import put_right
from calc.subjects.flights.slope import Series, Slope, noise_of

BLOCK_S, STILL_BLOCKS, FIRST_BLOCKS, LOWER = 5.0, 3, 2, 0.35
EDGE_S, LEAST_M = 20.0, 2.0
ABOVE_S, FALSE_S, FALL_S, FALSE_M, FALSE_M_S = 3.0, 5.0, 3.0, 1.5, 1.0
AFTER_TOP_S, BEFORE_LANDING_M = 5.0, 3.0
MOST_POINTS = 300  # that are parted into pieces

Block = tuple[float, float, float, float]  # of 5 s: start [s], lowest, highest, median [m]


@dataclass(frozen=True, kw_only=True)
class Borders:
    """Times of the record [s] that part a flight; the sink is from the glide between `from_s` and `to_s`."""

    launch_s: float
    top_s: float
    from_s: float
    to_s: float
    down_s: float


@dataclass(frozen=True, kw_only=True)
class Flown:
    """One flight: heights [m] above the ground at its launch; None where it was not seen."""

    borders: Borders
    height_m: float
    landed_m: float
    gliding: Sinking  # downward positive
    false_m: float  # height of a false peak at the launch
    from_ground: bool
    to_ground: bool
    pieces: tuple[Piece, ...]
    noise_m: float
    points: Series  # the record around it, without a false peak; heights as logged
    ground_m: float  # where it was launched, as logged
    factor: float = 1.0  # of heights, for the temperature

    @property
    def sink(self) -> Slope | None:
        """How fast it sank in the glide [m/s], downward positive."""
        return self.gliding.slope

    @property
    def launch_s(self) -> float:
        """When it was launched."""
        return self.borders.launch_s

    @property
    def top_s(self) -> float:
        """When it was highest."""
        return self.borders.top_s

    @property
    def down_s(self) -> float:
        """When it was down."""
        return self.borders.down_s


def flights_in(recording: Recording, ground_k: float | None = None) -> list[Flown]:
    """Return the flights of a cleaned recording, in their order; `ground_k`, the temperature there, puts heights right.

    Examples
    --------
    >>> heights = [0.0] * 20 + [2.0 * t for t in range(25)] + [50.0 - 0.5 * t for t in range(100)] + [0.0] * 20
    >>> found = flights_in(Recording(points=list(enumerate(heights))))[0]
    >>> round(found.height_m), round(found.sink.slope, 2), found.to_ground
    (50, 0.5, True)
    """
    return [_flown(points, begins, ends, ground_k) for points, begins, ends in _apart(recording.points)]


def _blocks(points: Series) -> Iterator[Block]:
    """Yield each 5 s."""
    block: list[tuple[float, float]] = []
    for each in points:
        if block and each[0] - block[0][0] >= BLOCK_S:
            yield _block(block)
            block = []
        block.append(each)
    yield _block(block)


def _block(block: Series) -> Block:
    heights = [height for _, height in block]
    return block[0][0], min(heights), max(heights), median(heights)


def _grounds(points: Series) -> list[tuple[float, float, float]]:
    """Return (start, end, level) of each time on the ground."""
    blocks = list(_blocks(points))
    within = max(1.0, 6.0 * noise_of(points))
    heights = [level for _, _, _, level in blocks]
    low, high = min(heights), max(heights)
    found: list[tuple[float, float, float]] = []
    for run in _runs(points, blocks, within):
        level = median(each[3] for each in run)
        still = max(each[2] for each in run) - min(each[1] for each in run) <= within
        if not still or level > low + LOWER * (high - low):
            continue
        start, end = run[0][0], run[-1][0] + BLOCK_S
        if found and start <= found[-1][1] and abs(level - found[-1][2]) <= within:
            found[-1] = (found[-1][0], end, level)
        else:
            found.append((start, end, level))
    return found


def _runs(points: Series, blocks: Sequence[Block], within: float) -> Iterator[Sequence[Block]]:
    """Yield the runs of blocks that are a ground if they are still."""
    first, after = blocks[:FIRST_BLOCKS], blocks[FIRST_BLOCKS : FIRST_BLOCKS + 1]
    samples = sum(second - points[0][0] < FIRST_BLOCKS * BLOCK_S for second, _ in points)
    climbs = bool(after) and after[0][2] > first[-1][2] + within
    lowest = min(low for _, low, _, _ in blocks) >= first[0][1] - max(LEAST_M, within)
    if samples >= pieces.SHORTEST and climbs and lowest:
        yield first
    for at in range(len(blocks) - STILL_BLOCKS + 1):
        yield blocks[at : at + STILL_BLOCKS]


def _apart(points: Series) -> Iterator[tuple[Series, float | None, float | None]]:
    """Yield the samples of each flight, with the ground's level before and after it, None where it was not seen."""
    first, last = points[0][0], points[-1][0]
    grounds = _grounds(points)
    edges = [(first, first, None), *grounds, (last, last, None)]
    for (_, leaves, before), (lands, _, after) in pairwise(edges):
        run = [each for each in points if leaves - EDGE_S <= each[0] <= lands + EDGE_S]
        levels = [level for level in (before, after) if level is not None]
        if len(run) < 2 * pieces.SHORTEST or lands - leaves < BLOCK_S:
            continue
        base = max(levels) if levels else min(height for _, height in run)
        if max(height for _, height in run) - base >= LEAST_M:
            yield run, before, after


def _flown(points: Series, before: float | None, after: float | None, ground_k: float | None) -> Flown:
    noise = noise_of(points)
    within = max(1.0, 3.0 * noise)
    ground = before if before is not None else after if after is not None else min(height for _, height in points)
    launch = 0 if before is None else _launch(points, ground, within)
    kept, false_m = _without_false_peak(points, launch, noise)
    down = len(kept) - 1 if after is None else _down(kept, after, within)
    launch_s, down_s = points[launch][0], max(points[launch][0], kept[down][0])
    seen = [each for each in kept if launch_s <= each[0] <= down_s]
    parts = _parted(seen, step_of(points))
    top_s, top_m = _top(parts, seen, within)
    landed_m = kept[down][1] if after is None else after
    borders = _borders(kept, (launch_s, top_s, down_s), None if after is None else landed_m)
    factor = 1.0 if ground_k is None else put_right(max(top_m - ground, 1.0), ground_k) / max(top_m - ground, 1.0)
    return Flown(
        borders=borders,
        height_m=(top_m - ground) * factor,
        landed_m=(landed_m - ground) * factor,
        gliding=sink_between(kept, parts, (borders.from_s, borders.to_s), step_of(points)).downward(factor),
        false_m=false_m * factor,
        from_ground=before is not None,
        to_ground=after is not None,
        pieces=tuple(parts),
        noise_m=noise,
        points=kept,
        ground_m=ground,
        factor=factor,
    )


def _parted(seen: Series, step_m: float) -> list[Piece]:
    """Return the straight pieces of the time in the air; none where it has too few samples for one."""
    air = slope.thinned(seen, MOST_POINTS)
    return pieces.pieces(air, step_m=step_m) if len(air) >= pieces.SHORTEST else []


def _borders(points: Series, found: tuple[float, float, float], landed_m: float | None) -> Borders:
    """Return the borders, with those of the glide that the sink is from."""
    launch_s, top_s, down_s = found
    from_s = min(top_s + AFTER_TOP_S, down_s)
    low_m = float("-inf") if landed_m is None else landed_m + BEFORE_LANDING_M
    high = [second for second, height in points if from_s <= second <= down_s and height >= low_m]
    return Borders(launch_s=launch_s, top_s=top_s, from_s=from_s, to_s=high[-1] if high else from_s, down_s=down_s)


def _launch(points: Series, ground: float, within: float) -> int:
    """Return the number of the last sample on the ground before 3 s above it."""
    since = None
    for at, (second, height) in enumerate(points):
        if height <= ground + within:
            since = None
        elif since is None:
            since = at
        elif second - points[since][0] >= ABOVE_S:
            break
    return 0 if since is None else max(0, since - 1)


def _down(points: Series, level: float, within: float) -> int:
    """Return the number of the first sample of those that stay at the level where it lies."""
    away = [at for at, (_, height) in enumerate(points) if abs(height - level) > within]
    return min(len(points) - 1, away[-1] + 1) if away else 0


def _without_false_peak(points: Series, launch: int, noise: float) -> tuple[list[tuple[float, float]], float]:
    """Return the samples without a false peak at the launch, and its height above where it falls to."""
    start_s = points[launch][0]
    soon = [each for each in points[launch:] if each[0] <= start_s + FALSE_S]
    peak_s, peak_m = max(soon, key=lambda each: each[1])
    after = [each for each in points[launch:] if peak_s < each[0] <= peak_s + FALL_S]
    if not after:
        return list(points), 0.0
    low_s, low_m = min(after, key=lambda each: each[1])
    fall = peak_m - low_m
    if fall <= max(FALSE_M, 6.0 * noise) or fall / (low_s - peak_s) <= FALSE_M_S:
        return list(points), 0.0
    return [each for each in points if not start_s < each[0] < low_s], fall


def _top(parts: list[Piece], seen: Series, within: float) -> tuple[float, float]:
    """Return time and height of the top: of the straight pieces where the samples bear it out, else of the samples."""
    at = max(range(len(seen)), key=lambda each: seen[each][1])
    (highest_s, highest_m), near = seen[at], [height for _, height in seen[max(0, at - 1) : at + 2]]
    found = _meeting(parts)
    most = highest_m + max(highest_m - height for height in near) + within  # it may have been higher between two
    if found is not None and median(near) - within <= found[1] <= most:
        return found
    return highest_s, median(near)


def _meeting(parts: list[Piece]) -> tuple[float, float] | None:
    """Return where the lines of two pieces meet at their highest, or the highest end of one; None without a piece."""
    ends = [(each.start_s, each.start_m) for each in parts] + [(each.end_s, each.end_m) for each in parts]
    for one, other in pairwise(parts):
        if one.slope > 0.0 > other.slope:
            at = (other.start_m - other.slope * other.start_s - one.start_m + one.slope * one.start_s) / (
                one.slope - other.slope
            )
            if one.end_s <= at <= other.start_s:
                ends.append((at, one.start_m + one.slope * (at - one.start_s)))
    return max(ends, key=lambda each: each[1], default=None)
