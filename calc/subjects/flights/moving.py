"""How well the slope of a glide is known in air that may move: the noise of the record, and the air, told apart.

Scope: a glide of 10 s to an hour in at most 12 blocks of at least 4 s; air that rises and sinks by chance.

Symbols: d differences of neighbouring block means [m], Δ their time apart [s], their covariances c_k over k blocks; s
strength of the moving air [m/s], τ how long it keeps its direction [s]; w_k weights of least squares.

    moving air      wanders by 2 s² τ² (t/τ − 1 + e^(−t/τ)) [m²] in a time t
    covariances     c_k = (F(k+1) + F(k−1) − 2 F(k))/2, F the mean of that between two blocks; noise adds 2 u², −u²
    likelihood      of d for each pair s, τ and for still air, the mean slope left open
    of the slope    u² = Σ w_i w_j c_|i−j|, for the repeated median 1.1 times that, for noise π/2 times; noise whose
                    errors hang together with r from sample to sample counts (1 + r)/(1 − r) times its variance
    spread          half of what holds 95 % of the mixture, each pair counted by its likelihood

Why not from the residuals' correlation alone: air that moves for seconds makes a path that wanders for minutes, whose
first correlations say nothing of it; a line takes most of it for slope. Pairs and their weights before a record is
seen are our assumption, chosen on simulated glides; how often the spread holds the truth is in tests/README.md.

Source: Santer et al., JGR 105 (2000) 7337 (correlated errors). From memory: Taylor, Proc. London Math. Soc. 20 (1921)
196 (wandering); Durbin, Rev. Int. Stat. Inst. 28 (1960) 233 (recursion); Patterson and Thompson, Biometrika 58 (1971)
545 (likelihood with the mean left open).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import erf, exp, log, pi, sinh, sqrt

from calc.errors import require

STRENGTHS_M_S = (0.03, 0.09, 0.27, 0.8)
LASTS_S = (3.0, 8.0)
STILL = 0.1  # weight of still air before the record is seen
BLOCKS, SHORTEST_S = 12, 4.0
HELD = 0.95
MOST_R = 0.8
LEAST_M2 = 1e-6  # noise of a mean: no record is better than a millimetre
OF_MEDIAN, OF_NOISE = 1.1, pi / 2.0  # variance of the repeated median over that of least squares, in our simulations

Series = Sequence[tuple[float, float]]


@dataclass(frozen=True, kw_only=True)
class Blocks:
    """Differences of block means [m] that lie step_s apart, and how many samples a block holds."""

    differences: tuple[float, ...]
    step_s: float
    samples: int


def blocks(points: Series) -> Blocks:
    """Return the differences of 3 to 12 blocks of ≥ 3 points; those over a gap count as over the usual time.

    Examples
    --------
    >>> found = blocks([(float(t), -0.5 * t) for t in range(40)])
    >>> len(found.differences), found.samples, found.step_s, found.differences[0]
    (8, 4, 4.0, -2.0)
    """
    require("points", len(points), 3)
    lasts = points[-1][0] - points[0][0]
    count = max(3, min(BLOCKS, int(lasts / SHORTEST_S), len(points)))
    size = len(points) // count
    runs = [points[start : start + size] for start in range(0, count * size, size)]
    means = [(sum(t for t, _ in run) / size, sum(h for _, h in run) / size) for run in runs]
    step_s = sorted(b[0] - a[0] for a, b in pairwise(means))[(count - 1) // 2]
    slopes = ((b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(means))
    return Blocks(differences=tuple(each * step_s for each in slopes), step_s=step_s, samples=size)


def covariances(strength_m_s: float, lasts_s: float, step_s: float, count: int) -> list[float]:
    """Return the covariances [m²] of `count` differences of block means in moving air; τ and their step > 0.

    Long beside τ it wanders by 2 s² τ t, and means of blocks by two thirds of that: 2/3 × 2 × 0.1² × 3 × 400.

    Examples
    --------
    >>> [round(each, 1) for each in covariances(0.1, 3.0, 400.0, 2)]
    [16.0, 4.0]
    """
    y = require("step_s", step_s, 0.0, above=True) / require("lasts_s", lasts_s, 0.0, above=True)
    scale = 2.0 * (strength_m_s * lasts_s) ** 2
    within = scale * (y / 3.0 - 1.0 + 2.0 * (y - 1.0 + exp(-y)) / (y * y))
    far = (sinh(min(y, 600.0) / 2.0) / (y / 2.0)) ** 2 if y < 600.0 else 0.0
    wander = [within, *(scale * (k * y - 1.0 + exp(-k * y) * far) for k in range(1, count + 1))]
    return [0.5 * (wander[k + 1] + wander[abs(k - 1)] - 2.0 * wander[k]) for k in range(count)]


def likelihood(differences: Sequence[float], covered: Sequence[float]) -> float:
    """Return the logarithm of the likelihood of differences, but for a constant; their common mean is left open.

    Covariances as `covariances` gives them, over 0, 1, 2 … blocks, the first > 0; solved by Durbin's recursion.

    Examples
    --------
    >>> round(likelihood([1.0, 3.0], [2.0, 0.0]), 4)  # −(ln 4 + ln 1 + 1)/2
    -1.1931
    """
    left, ones, crossed, squares, total = require("covered", covered[0], 0.0, above=True), 0.0, 0.0, 0.0, 0.0
    taken: list[float] = []
    for at, difference in enumerate(differences):
        if at > 0:
            last = (covered[at] - sum(taken[j] * covered[at - 1 - j] for j in range(at - 1))) / left
            taken = [*(taken[j] - last * taken[at - 2 - j] for j in range(at - 1)), last]
            left *= 1.0 - last * last
        one = 1.0 - sum(taken)
        new = difference - sum(taken[j] * differences[at - 1 - j] for j in range(at))
        ones, crossed, squares = ones + one * one / left, crossed + one * new / left, squares + new * new / left
        total += log(left)
    return -0.5 * (total + log(ones) + squares - crossed * crossed / ones)


def of_slope(covered: Sequence[float], step_s: float) -> float:
    """Return the variance [(m/s)²] of the slope of least squares, from the covariances of all its differences.

    Examples
    --------
    >>> count = 21  # independent errors of 0.3 m, one a second; the textbook has 12 × 0.3² / (n (n² − 1))
    >>> round(of_slope([2 * 0.09, -0.09] + [0.0] * (count - 3), 1.0) ** 0.5, 5)
    0.01081
    """
    count = len(covered)
    weights = [float((k + 1) * (count - k)) for k in range(count)]
    whole = sum(weights) * step_s
    lags = [sum(weights[i] * weights[i + k] for i in range(count - k)) for k in range(count)]
    return max(0.0, (2.0 * sum(a * b for a, b in zip(lags, covered, strict=True)) - lags[0] * covered[0]) / whole**2)


def long_run(points: Series) -> float:
    """Return the variance [m²] of a point by which the mean of many of them is known, where errors hang together.

    From differences d of neighbours: r = 1 + 2 (Σ d_i d_(i+1)/Σ d_i²), within 0 and 0.8; mean d² (1 + r)/(2 (1 − r)²),
    exact for errors that fade by r from one point to the next. Moving air makes it larger.

    Examples
    --------
    >>> round(long_run([(float(t), 0.1 * (t % 2)) for t in range(41)]), 6)  # each the other way: r = 0
    0.005
    """
    steps = [b[1] - a[1] for a, b in pairwise(points)]
    mean = sum(steps) / len(steps)
    steps = [each - mean for each in steps]
    square = sum(each * each for each in steps)
    if square == 0.0:
        return 0.0
    r = min(MOST_R, max(0.0, 1.0 + 2.0 * sum(a * b for a, b in pairwise(steps)) / square))
    return square / len(steps) * (1.0 + r) / (2.0 * (1.0 - r) ** 2)


def spread(points: Series, noise_m: float) -> float:
    """Return the standard uncertainty [m/s] of the repeated median of a glide of ≥ 5 points, so that ± 2 u hold 95 %.

    `noise_m` ≥ 0 is the noise of one point.

    Examples
    --------
    >>> still = [(float(t), 60.0 - 0.5 * t + 0.1 * (-1) ** t) for t in range(120)]
    >>> 0.0002 < spread(still, 0.1) < 0.001
    True
    """
    found = blocks(points)
    count = len(found.differences)
    noise_m2 = max(LEAST_M2, require("noise_m", noise_m, 0.0) ** 2 / found.samples)
    noise = [2.0 * noise_m2, -noise_m2, *([0.0] * (count - 2))][:count]
    quiet = OF_NOISE * of_slope(noise, found.step_s) * max(1.0, long_run(points) / found.samples / noise_m2)
    rows = [(log(STILL) + likelihood(found.differences, noise), sqrt(quiet))]
    share = log((1.0 - STILL) / (len(STRENGTHS_M_S) * len(LASTS_S)))
    for strength in STRENGTHS_M_S:
        for lasts_s in LASTS_S:
            moved = covariances(strength, lasts_s, found.step_s, count)
            both = [a + b for a, b in zip(moved, noise, strict=True)]
            u2 = quiet + OF_MEDIAN * of_slope(moved, found.step_s)
            rows.append((share + likelihood(found.differences, both), sqrt(u2)))
    best = max(each for each, _ in rows)
    return _half_width([(exp(each - best), u) for each, u in rows]) / 2.0


def _half_width(mixture: Sequence[tuple[float, float]]) -> float:
    """Return what holds 95 % of normal errors about 0 whose spread is one of several, each with its weight."""
    whole = sum(weight for weight, _ in mixture)
    low, high = 0.0, 4.0 * max(u for _, u in mixture)
    for _ in range(40):
        middle = (low + high) / 2.0
        held = sum(weight * erf(middle / (u * sqrt(2.0))) for weight, u in mixture)
        low, high = (middle, high) if held < HELD * whole else (low, middle)
    return high
