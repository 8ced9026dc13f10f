"""The sink of a glide: pieces that rise are cut out and its ends joined, then the slope of what is left.

Where what is left may well move by the strongest kind of air of `rises` itself, nothing is cut: what rose is of the
same air as what sinks, and without it the sink would be told too large. But a glide that rises on the whole tells no
sink, so there the rest is taken.

Symbols: p, q points of the pieces before and after a cut; u noise of a point [m]; x where it is joined, as a share of
the joined glide; T how long that lasts [s].

    joined at     times and heights by which the line before ends and the line after begins
    of a join     its height is known to u √(4/p + 4/q), which turns the slope by 6 x (1 − x)/T times that
    spread        that of the slope and those of the joins as a root of squares
    moving air    what is cut out; windows of 10 s, or three points, that sink by 0.3 m/s more or less than the whole

Source: the ends of a line of least squares, 4 u²/n; a step in one, 6 x (1 − x): from the textbook's sums, ours.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sqrt

from calc.subjects.flights import pieces, slope
from calc.subjects.flights.pieces import Piece
from calc.subjects.flights.slope import Series, Slope

LEAST_GLIDE_S = 10.0
WINDOW_S, MOVING_M_S = 10.0, 0.3
STRONG = 0.25  # how likely such air is from where on nothing is cut: our assumption, chosen on simulated glides


@dataclass(frozen=True, kw_only=True)
class Cut:
    """What is cut out of a glide: from after start_s to before end_s, and the height by which it rose [m].

    `wide` is the variance of that height over that of one point.
    """

    start_s: float
    end_s: float
    rose_m: float
    wide: float


@dataclass(frozen=True, kw_only=True)
class Glide:
    """What the sink is from: points with the cuts closed, when they were joined, the seconds that were cut out."""

    points: list[tuple[float, float]]
    joins: list[tuple[float, float]]  # time in the joined glide, variance over that of one point
    cut_s: float

    @property
    def lasts_s(self) -> float:
        """How long it lasts."""
        return self.points[-1][0] - self.points[0][0] if self.points else 0.0


def cuts(points: Series, parts: Sequence[Piece]) -> list[Cut]:
    """Return what is cut out, one for each run of pieces that rise; without a line beside it nothing is known of it."""
    found: list[Cut] = []
    before: Piece | None = None
    rises = False
    for part in [*parts, None]:
        if part is not None and part.slope > 0.0:
            rises = True
            continue
        if rises:
            beside = [each for each in (before, part) if each]
            held = (sum(each.start_s <= t <= each.end_s for t, _ in points) for each in beside)
            found.append(
                Cut(
                    start_s=before.end_s if before else float("-inf"),
                    end_s=part.start_s if part else float("inf"),
                    rose_m=part.start_m - before.end_m if before and part else 0.0,
                    wide=sum(4.0 / max(1, count) for count in held),
                )
            )
        before, rises = part, False
    return found


def joined(points: Series, parts: Sequence[Piece], from_s: float, to_s: float) -> Glide:
    """Return the glide between two times without what rises.

    Examples
    --------
    >>> record = [(float(t), 60.0 - 0.5 * t + 1.5 * min(20.0, max(0.0, t - 40.0))) for t in range(101)]
    >>> found = joined(record, pieces.pieces(record), 0.0, 100.0)
    >>> found.points[-1], found.cut_s, [second for second, _ in found.joins]
    ((79.0, 20.5), 21.0, [39.0])
    """
    within = [each for each in points if from_s <= each[0] <= to_s]
    if not within:
        return Glide(points=[], joins=[], cut_s=0.0)
    kept: list[tuple[float, float]] = []
    joins: list[tuple[float, float]] = []
    left = cuts(points, parts)
    cut_s = sum(max(0.0, min(within[-1][0], cut.end_s) - max(within[0][0], cut.start_s)) for cut in left)
    gone_s = gone_m = 0.0
    for second, height in within:
        while left and second >= left[0].end_s:
            cut = left.pop(0)
            if kept:
                gone_s, gone_m = gone_s + cut.end_s - cut.start_s, gone_m + cut.rose_m
                joins.append((cut.end_s - gone_s, cut.wide))
        ends = kept and kept[-1][0] >= second - gone_s  # the ends that meet are one point
        if not ends and (not left or second <= left[0].start_s):
            kept.append((second - gone_s, height - gone_m))
    return Glide(points=kept, joins=joins, cut_s=cut_s)


@dataclass(frozen=True, kw_only=True)
class Sinking:
    """The slope of a glide [m/s], the seconds it is from, and those in moving air.

    `all_of_it` says that strong air may move the whole of it, so that nothing that rose was cut out.
    """

    slope: Slope | None
    from_s: float
    moving_s: float = 0.0
    all_of_it: bool = False

    def downward(self, factor: float) -> "Sinking":
        """Return it with the slope downward positive, its heights put right by a factor."""
        if self.slope is None:
            return self
        found = Slope(slope=-self.slope.slope * factor, spread=self.slope.spread * factor, at_zero=0.0)
        return replace(self, slope=found)


def sink_between(points: Series, parts: Sequence[Piece], between: tuple[float, float], step_m: float) -> Sinking:
    """Return the slope of the glide between two times; None where fewer than 10 s or 5 points are left.

    `step_m` ≥ 0 is that of the record.
    """
    glide = joined(points, parts, *between)
    if len(glide.points) < pieces.SHORTEST or glide.lasts_s < LEAST_GLIDE_S:
        return Sinking(slope=None, from_s=glide.lasts_s)
    found = slope.robust(glide.points, step_m)
    if glide.cut_s and found.strong > STRONG:
        whole = joined(points, [], *between)
        of_all = slope.robust(whole.points, step_m)
        if of_all.slope < 0.0:
            moving_s = _moving(whole.points, of_all.slope)
            return Sinking(slope=of_all, from_s=whole.lasts_s, moving_s=moving_s, all_of_it=True)
    noise = max(slope.noise_of(glide.points), step_m / sqrt(12.0))
    turned = [
        noise * sqrt(wide) * 6.0 * share * (1.0 - share) / glide.lasts_s
        for second, wide in glide.joins
        for share in [min(1.0, max(0.0, (second - glide.points[0][0]) / glide.lasts_s))]
    ]
    spread = sqrt(found.spread**2 + sum(each * each for each in turned))
    moving_s = glide.cut_s + _moving(glide.points, found.slope)
    return Sinking(slope=replace(found, spread=spread), from_s=glide.lasts_s, moving_s=moving_s)


def _moving(glide: Series, usual: float) -> float:
    """Return the seconds of the glide in windows whose slope is another one."""
    moving, start = 0.0, 0
    for at, (second, _) in enumerate(glide):
        if at - start >= 2 and second - glide[start][0] >= WINDOW_S:
            if abs(slope.least_squares(glide[start : at + 1]).slope - usual) > MOVING_M_S:
                moving += second - glide[start][0]
            start = at
    return moving
