"""What air that moves and noise that hangs together do to a glide's record: covariances, and lines weighed by them.

Symbols: d differences of neighbouring block means [m], a step of time [s] apart, their covariances c_k over k blocks;
s strength of the moving air [m/s], τ how long it keeps its direction [s]; r correlation of neighbouring errors.

    moving air   wanders by F(t) = 2 s² τ² (t/τ − 1 + e^(−t/τ)) [m²] in a time t
    of it        c_k = (F(k+1) + F(k−1) − 2 F(k))/2, F the mean between the points of two blocks
    of noise     c_k = 2 n_k − n_(k−1) − n_(k+1), n_k the mean of u² r^|i−j| between the points of two blocks
    precision    M = C⁻¹ − C⁻¹ 1 1ᵀ C⁻¹/(1ᵀ C⁻¹ 1): the inverse of the covariances, the mean difference left open

Source, from memory: Taylor, Proc. London Math. Soc. 20 (1921) 196 (wandering); Durbin, Rev. Int. Stat. Inst. 28
(1960) 233 (recursion); Patterson and Thompson, Biometrika 58 (1971) 545 (likelihood with the mean left open).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, log, sinh, sqrt
from operator import mul

from calc.errors import require

BLOCKS, SHORTEST_S = 24, 4.0

Series = Sequence[tuple[float, float]]


@dataclass(frozen=True, kw_only=True)
class Blocks:
    """Differences of block means [m] that lie step_s apart, how many points a block holds, when the first begins."""

    differences: tuple[float, ...]
    step_s: float
    points: int
    start_s: float


@dataclass(frozen=True, kw_only=True)
class Line:
    """Differences that lie about one mean: that mean [m], its variance [m²]; M; M d; C⁻¹1/(1ᵀC⁻¹1); how likely.

    `shares` times the differences is their mean; `likelihood` is a logarithm, but for a constant.
    """

    mean: float
    variance: float
    precision: tuple[tuple[float, ...], ...]
    pulls: tuple[float, ...]
    shares: tuple[float, ...]
    likelihood: float


def blocks(points: Series) -> Blocks:
    """Return the differences of 3 to 24 blocks of ≥ 3 points; those over a gap count as over the usual time.

    Examples
    --------
    >>> found = blocks([(float(t), -0.5 * t) for t in range(40)])
    >>> len(found.differences), found.points, found.step_s, found.differences[0], found.start_s
    (9, 4, 4.0, -2.0, -0.5)
    """
    require("points", len(points), 3)
    lasts = (points[-1][0] - points[0][0]) * len(points) / (len(points) - 1)  # the last one's time as well
    count = max(3, min(BLOCKS, int(lasts / SHORTEST_S), len(points)))
    size = len(points) // count
    runs = [points[start : start + size] for start in range(0, count * size, size)]
    means = [(sum(t for t, _ in run) / size, sum(h for _, h in run) / size) for run in runs]
    step_s = sorted(b[0] - a[0] for a, b in pairwise(means))[(count - 1) // 2]
    slopes = ((b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(means))
    start_s = means[0][0] - step_s / 2.0
    return Blocks(differences=tuple(each * step_s for each in slopes), step_s=step_s, points=size, start_s=start_s)


def of_air(strength_m_s: float, lasts_s: float, step_s: float, count: int) -> list[float]:
    """Return the covariances [m²] of `count` differences of block means in moving air; τ and their step > 0.

    Long beside τ it wanders by 2 s² τ t, and means of blocks by two thirds of that: 2/3 × 2 × 0.1² × 3 × 400.

    Examples
    --------
    >>> [round(each, 1) for each in of_air(0.1, 3.0, 400.0, 2)]
    [16.0, 4.0]
    """
    y = require("step_s", step_s, 0.0, above=True) / require("lasts_s", lasts_s, 0.0, above=True)
    scale = 2.0 * (strength_m_s * lasts_s) ** 2
    within = scale * (y / 3.0 - 1.0 + 2.0 * (y - 1.0 + exp(-y)) / (y * y))
    far = (sinh(min(y, 600.0) / 2.0) / (y / 2.0)) ** 2 if y < 600.0 else 0.0
    wander = [within, *(scale * (k * y - 1.0 + exp(-k * y) * far) for k in range(1, count + 1))]
    return [0.5 * (wander[k + 1] + wander[abs(k - 1)] - 2.0 * wander[k]) for k in range(count)]


def of_noise(noise_m: float, correlation: float, points: int, count: int) -> list[float]:
    """Return the covariances [m²] of `count` differences of means of so many points with noise ≥ 0.

    `correlation` is that of neighbours, from 0 to below 1, without a unit.

    Examples
    --------
    >>> [round(each, 4) for each in of_noise(0.2, 0.0, 4, 3)]
    [0.02, -0.01, 0.0]
    """
    size, r = points, correlation
    lags = range(1 - size, size)
    means = [sum((size - abs(lag)) * r ** abs(k * size + lag) for lag in lags) / size**2 for k in range(count + 1)]
    return [noise_m**2 * (2.0 * means[k] - means[abs(k - 1)] - means[k + 1]) for k in range(count)]


def line(differences: Sequence[float], covered: Sequence[float]) -> Line:
    """Return the mean of ≥ 1 differences weighed by their covariances over 0, 1, 2 … blocks, the first > 0.

    Examples
    --------
    >>> found = line([1.0, 3.0], [2.0, 0.0])
    >>> found.mean, round(found.variance, 9), round(found.likelihood, 4)  # −(ln 4 + ln 1 + 1)/2
    (2.0, 1.0, -1.1931)
    """
    rows, logs = _whitening(covered)
    columns = [[row[at] for row in rows[at:]] for at in range(len(rows))]
    inverse = [
        [sum(map(mul, one[b - a :], other)) for b, other in enumerate(columns) if b >= a]
        for a, one in enumerate(columns)
    ]
    square = [[inverse[min(a, b)][abs(b - a)] for b in range(len(rows))] for a in range(len(rows))]
    ones = [sum(row) for row in square]
    whole = sum(ones)
    precision = tuple(
        tuple(each - one * other / whole for each, other in zip(row, ones, strict=True))
        for row, one in zip(square, ones, strict=True)
    )
    pulls = tuple(sum(map(mul, row, differences)) for row in precision)
    return Line(
        mean=sum(map(mul, ones, differences)) / whole,
        variance=1.0 / whole,
        precision=precision,
        pulls=pulls,
        shares=tuple(each / whole for each in ones),
        likelihood=-0.5 * (logs + log(whole) + sum(map(mul, pulls, differences))),
    )


def _whitening(covered: Sequence[float]) -> tuple[list[list[float]], float]:
    """Return the rows that make differences independent with variance 1, by Durbin's recursion, and ln |C|."""
    left = require("covered", covered[0], 0.0, above=True)
    rows, logs, taken = [[1.0 / sqrt(left)]], log(left), list[float]()
    for at in range(1, len(covered)):
        last = (covered[at] - sum(map(mul, taken, covered[at - 1 : 0 : -1]))) / left
        taken = [*(a - last * b for a, b in zip(taken, reversed(taken), strict=True)), last]
        left *= 1.0 - last * last
        scale = 1.0 / sqrt(left)
        rows.append([*(-scale * each for each in reversed(taken)), scale])
        logs += log(left)
    return rows, logs
