"""The slope of a noisy line, robust against rising air, and how well it is known.

Scope: heights over time in a glide, of which nearly half may be rising air; at most 200 points are taken, means of
blocks where there are more.

Symbols: t times [s]; h heights [m]; b slope [m/s].

    repeated median   b = median over i of the median over j ≠ i of (h_j − h_i)/(t_j − t_i)
    least squares     b = S_th/S_tt, u(b) = s/√S_tt, s² = Σe²/(n − 2), e the residuals

How well the repeated median is known: `moving`.

Source: Siegel, Biometrika 69 (1982) 242 (repeated median).
"""

from dataclasses import dataclass
from math import sqrt
from statistics import fmean, median

from calc.errors import require
from calc.subjects.flights import rises
from calc.subjects.flights.moving import Series as Series

MOST = 200  # points whose pairs are taken


@dataclass(frozen=True, kw_only=True)
class Slope:
    """A slope, its standard uncertainty, the line's height at time 0, how likely strong air moves all of it."""

    slope: float
    spread: float
    at_zero: float
    strong: float = 0.0


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
    noise = max(noise_of(taken), require("step_m", step_m, 0.0) / sqrt(12.0))
    seen = rises.ways(taken, noise)
    taken = rises.taken_out(taken, seen)
    slope = repeated_median(taken)
    at_zero = median(h - slope * t for t, h in taken)
    return Slope(slope=slope, spread=rises.half_width(seen, slope) / 2.0, at_zero=at_zero, strong=rises.strong(seen))


def noise_of(points: Series) -> float:
    """Return the noise of samples [m] from their second differences, which no steady climb moves; robust."""
    bends = [abs(a - 2.0 * b + c) for (_, a), (_, b), (_, c) in zip(points, points[1:], points[2:], strict=False)]
    return 1.4826 * median(bends) / sqrt(6.0) if bends else 0.0
