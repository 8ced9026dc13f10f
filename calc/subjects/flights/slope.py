"""The slope of a noisy line, robust against rising air, and how well it is known.

Scope: heights over time in a glide, of which nearly half may be rising air; at most 200 points are taken, means of
blocks where there are more.

Symbols: t times [s]; h heights [m]; b slope [m/s]; e residuals; r their correlation from one sample to the next.

    repeated median   b = median over i of the median over j ≠ i of (h_j − h_i)/(t_j − t_i)
    least squares     b = S_th/S_tt, u(b) = s/√S_tt, s² = Σe²/(n − 2)
    correlated        u × √Σ w_i w_j r^|i−j|/Σ w², w = t − mean t; √((1 + r)/(1 − r)) for long series
    u of the repeated median: √(π/2) times that, the record's step/√12 added in squares
    rising air        pieces of the glide, at most 6: u = t/2 √((var of their slopes − that of their noise)/pieces),
                      t Student's, added in squares: moving air shows in it long before it shows in r

Sources: Siegel, Biometrika 69 (1982) 242 (repeated median); Santer et al., JGR 105 (2000) 7337 (correlated residuals).
That a median takes √(π/2) for independent normal errors: textbooks, from memory. That r comes out too small by about
(1 + 4 r)/n from residuals of a line: Marriott and Pope, Biometrika 41 (1954) 390, from memory.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, pi, sqrt
from statistics import fmean, median, variance

from calc.errors import require

PIECES, SHORTEST = 6, 8  # of a glide; points of the shortest
STUDENT = {3: 4.303, 4: 3.182, 5: 2.776, 6: 2.571}  # 95 %, two-sided, one degree of freedom fewer than pieces
BY_CHANCE = 1.6  # times the noise: about one in seven quiet glides differs by more
MOST = 200  # points whose pairs are taken
MEDIAN = sqrt(pi / 2.0)
LARGEST_R = 0.99

Series = Sequence[tuple[float, float]]


@dataclass(frozen=True, kw_only=True)
class Slope:
    """A slope, its standard uncertainty, and the line's height at time 0."""

    slope: float
    spread: float
    at_zero: float


def thinned(points: Series, most: int = MOST) -> list[tuple[float, float]]:
    """Return at most so many points: means of blocks of neighbours.

    Examples
    --------
    >>> thinned([(0.0, 1.0), (1.0, 3.0), (2.0, 5.0), (3.0, 7.0)], 2)
    [(0.5, 2.0), (2.5, 6.0)]
    """
    size = max(1, -(-len(points) // most))
    blocks = (points[start : start + size] for start in range(0, len(points), size))
    return list(points) if size == 1 else [(fmean(t for t, _ in each), fmean(h for _, h in each)) for each in blocks]


def repeated_median(points: Series) -> float:
    """Return Siegel's slope of ≥ 2 points at different times.

    Examples
    --------
    >>> repeated_median([(0.0, 0.0), (1.0, 2.0), (2.0, 4.0), (3.0, 60.0), (4.0, 8.0)])
    2.0
    """
    require("points", len({t for t, _ in points}), 2)
    return median(median([(other - h) / (later - t) for later, other in points if later != t]) for t, h in points)


def least_squares(points: Series) -> Slope:
    """Return the line of least squares through ≥ 3 points, its spread as of independent errors.

    Examples
    --------
    >>> found = least_squares([(0.0, 1.0), (1.0, 3.1), (2.0, 4.9)])
    >>> round(found.slope, 3), round(found.spread, 3), round(found.at_zero, 3)
    (1.95, 0.087, 1.05)
    """
    require("points", len({t for t, _ in points}), 3)
    middle, mean = fmean(t for t, _ in points), fmean(h for _, h in points)
    s_tt = sum((t - middle) ** 2 for t, _ in points)
    slope = sum((t - middle) * (h - mean) for t, h in points) / s_tt
    at_zero = mean - slope * middle
    square = sum((h - at_zero - slope * t) ** 2 for t, h in points) / (len(points) - 2)
    return Slope(slope=slope, spread=sqrt(square / s_tt), at_zero=at_zero)


def lag_one(residuals: Sequence[float]) -> float:
    """Return the correlation r of residuals from one to the next; 0 where they are all alike.

    Examples
    --------
    >>> round(lag_one([1.0, 0.0, -1.0, 0.0]), 2), lag_one([1.0, 1.0])
    (0.0, 0.0)
    """
    mean = fmean(residuals)
    square = sum((each - mean) ** 2 for each in residuals)
    return 0.0 if square == 0.0 else sum((a - mean) * (b - mean) for a, b in pairwise(residuals)) / square


def inflation(r: float) -> float:
    """Return √((1 + r)/(1 − r)), by which correlation widens the spread of a long series; −1 < r < 1.

    Examples
    --------
    >>> round(inflation(0.5), 2), round(inflation(0.8), 2)
    (1.73, 3.0)
    """
    return sqrt((1.0 + r) / (1.0 - r))


def widened(times: Iterable[float], r: float) -> float:
    """Return by how much correlation r widens the spread of these times' slope, 1 for r ≤ 0.

    Examples
    --------
    >>> round(widened([float(t) for t in range(91)], 0.5), 2), widened([0.0, 1.0, 2.0], -0.3)
    (1.69, 1.0)
    """
    listed = list(times)
    if r <= 0.0:
        return 1.0
    middle = fmean(listed)
    weights, total = [t - middle for t in listed], 0.0
    carried = 0.0  # Σ over j < i of w_j r^(i−j)
    for weight in weights:
        total += weight * (weight + 2.0 * carried)
        carried = r * (carried + weight)
    return max(1.0, sqrt(total / sum(weight * weight for weight in weights)))


def robust(points: Series, step_m: float = 0.0) -> Slope:
    """Return the repeated median with its spread, of at least 5 points; `step_m` ≥ 0 is that of the record.

    More than 200 points are thinned first.

    Examples
    --------
    >>> found = robust([(float(t), 30.0 - 0.5 * t + 0.1 * (t % 3)) for t in range(60)])
    >>> round(found.slope, 3), 0.0005 < found.spread < 0.003
    (-0.5, True)
    """
    taken = thinned(points)
    require("points", len(taken), 5)
    slope = repeated_median(taken)
    at_zero = median(h - slope * t for t, h in taken)
    line = least_squares(taken)
    raw, count = lag_one([h - line.at_zero - line.slope * t for t, h in taken]), len(taken)
    r = min(LARGEST_R, raw + (1.0 + 4.0 * max(0.0, raw)) / count)
    s_tt = sum((t - taken[0][0]) ** 2 for t, _ in taken) - count * fmean(t - taken[0][0] for t, _ in taken) ** 2
    steps = require("step_m", step_m, 0.0) / sqrt(12.0 * s_tt)
    spread = MEDIAN * hypot(line.spread, steps) * widened([t for t, _ in taken], r)
    return Slope(slope=slope, spread=hypot(spread, _between_pieces(taken)), at_zero=at_zero)


def _between_pieces(points: Series) -> float:
    """Return the spread of the mean slope of pieces of the glide, as they differ beyond the noise of their samples.

    The noise is that of second differences, which no rising air moves. What is no more than chance counts as none.
    """
    pieces = min(PIECES, len(points) // SHORTEST)
    if pieces not in STUDENT:
        return 0.0
    size = len(points) // pieces
    slopes = [least_squares(points[start : start + size]).slope for start in range(0, pieces * size, size)]
    bends = [(a - 2.0 * b + c) ** 2 for (_, a), (_, b), (_, c) in zip(points, points[1:], points[2:], strict=False)]
    step_s = (points[-1][0] - points[0][0]) / (len(points) - 1)
    noise = 12.0 * fmean(bends) / 6.0 / (size * (size * size - 1) * step_s * step_s)
    differ = variance(slopes)
    if differ <= BY_CHANCE * noise:
        return 0.0
    return STUDENT[pieces] / 2.0 * sqrt((differ - noise) / pieces)
