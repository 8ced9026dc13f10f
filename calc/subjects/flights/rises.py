"""Air that rises or sinks for a while in a glide: found by its likelihood, taken out, and what the glide then tells.

Scope: a glide of 10 s to an hour in at most 24 blocks of at least 4 s; no rise, one or two, of half a block to eight
blocks; the rest of the air still (noise that may hang together) or moving by chance.

Symbols: g what a rise of 1 m/s adds to the differences of block means [m]; r its strength [m/s], normal about 0 with
R = 1 m/s; M, d as in `moving`.

    likelihood of a rise   ln L += ½ (gᵀMd)² v − ½ ln(1 + R² gᵀMg), v = R²/(1 + R² gᵀMg)
    of a second one        the same with M − v M g gᵀ M for M
    mean difference        less r 1ᵀC⁻¹g/(1ᵀC⁻¹1), its variance more by v times the square of that
    spread                 half of what holds 95 % of all these lines about the slope told, each by its likelihood

Kinds of air, their weights before a record is seen, and R are our assumption, chosen on simulated glides; how often
the spread holds the truth is in tests/README.md.

Source: Hoeting et al., Statistical Science 14 (1999) 382, from memory (lines weighed by their likelihood).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from heapq import nlargest
from itertools import accumulate
from math import erf, exp, log, sqrt
from operator import mul

from calc.subjects.flights import moving
from calc.subjects.flights.moving import Blocks, Series

STRENGTHS_M_S, LASTS_S = (0.08, 0.25, 0.75), (3.0, 12.0, 30.0)  # kinds of moving air
CORRELATIONS = ((0.0, 0.7), (0.5, 0.15), (0.8, 0.15))  # of the noise in still air, and the weight of each
STILL = 0.5  # weight of still air
RISES = (0.6, 0.25, 0.15)  # weights of none, one and two rises
R_M_S = 1.0
HALVES = (1, 2, 3, 4, 6, 8, 12, 16)  # how many half blocks a rise lasts
FIRSTS = 3  # of the likeliest single rises, each is looked at with a second one
LEAST_M = 1e-3  # noise of a mean: no record is better than a millimetre
HELD = 0.95


@dataclass(frozen=True, kw_only=True)
class Rise:
    """Air that rises by m_s [m/s] (below 0: sinks) from start_s to end_s."""

    start_s: float
    end_s: float
    m_s: float

    def lifted(self, second: float) -> float:
        """Return by how much it has lifted until then [m]."""
        return self.m_s * min(max(second - self.start_s, 0.0), self.end_s - self.start_s)


@dataclass(frozen=True, kw_only=True)
class Way:
    """One way to see the record: its weight, the slope [m/s] and its variance, the likeliest rises of this way.

    `moves_m_s` is the strength of the rest of the air [m/s], 0 where that is still.
    """

    weight: float
    slope: float
    variance: float
    rises: tuple[Rise, ...] = ()
    moves_m_s: float = 0.0


def ways(points: Series, noise_m: float) -> list[Way]:
    """Return the ways to see a glide of ≥ 3 points, `noise_m` ≥ 0 as it would be if errors did not hang together.

    Their weights sum to 1.

    Examples
    --------
    >>> lifted = [(float(t), 60.0 - 0.5 * t + min(max(t - 40.0, 0.0), 10.0) + 0.1 * (-1) ** t) for t in range(120)]
    >>> best = max(ways(lifted, 0.1), key=lambda way: way.weight)
    >>> round(best.slope, 2), [(each.start_s, each.end_s, round(each.m_s, 1)) for each in best.rises]
    (-0.5, [(39.5, 49.5, 0.8), (44.5, 49.5, 0.4)])
    """
    record = moving.blocks(points)
    found = [
        replace(way, weight=logs + way.weight, moves_m_s=strength)
        for logs, strength, covered in _airs(record, noise_m)
        for way in _ways(record, covered)
    ]
    best = max(way.weight for way in found)
    whole = sum(exp(way.weight - best) for way in found)
    return [replace(way, weight=exp(way.weight - best) / whole) for way in found]


def strong(found: Sequence[Way]) -> float:
    """Return how likely it is that the rest of the air moves by the most that is looked for, from 0 to 1."""
    return sum(way.weight for way in found if way.moves_m_s == STRENGTHS_M_S[-1])


def taken_out(points: Series, found: Sequence[Way]) -> list[tuple[float, float]]:
    """Return the points without the rises of the likeliest way that has as many as are likeliest."""
    counts = [sum(way.weight for way in found if len(way.rises) == count) for count in range(len(RISES))]
    likely = max((way for way in found if len(way.rises) == counts.index(max(counts))), key=lambda way: way.weight)
    return [(t, h - sum(rise.lifted(t) for rise in likely.rises)) for t, h in points]


def half_width(found: Sequence[Way], about: float) -> float:
    """Return what holds 95 % of the ways' slopes about one [m/s]."""
    lines = [(way.weight, way.slope - about, 1.0 / sqrt(2.0 * way.variance)) for way in found if way.weight > 1e-9]
    low, high = 0.0, max(abs(off) + 4.0 / scale for _, off, scale in lines)
    for _ in range(24):
        middle = (low + high) / 2.0
        held = sum(weight * (erf((middle - off) * scale) + erf((middle + off) * scale)) for weight, off, scale in lines)
        low, high = (middle, high) if held < 2.0 * HELD else (low, middle)
    return high


def _airs(record: Blocks, noise_m: float) -> Iterator[tuple[float, float, list[float]]]:
    """Yield the kinds of air and noise: logarithm of the weight, strength [m/s], covariances."""
    count = len(record.differences)
    least = moving.of_noise(LEAST_M, 0.0, 1, count)
    for r, share in CORRELATIONS:
        noise = noise_m * sqrt(6.0 / (6.0 - 8.0 * r + 2.0 * r * r))  # second differences see less of it
        covered = moving.of_noise(noise, r, record.points, count)
        yield log(STILL * share), 0.0, [a + b for a, b in zip(covered, least, strict=True)]
    noises = [a + b for a, b in zip(moving.of_noise(noise_m, 0.0, record.points, count), least, strict=True)]
    share = (1.0 - STILL) / (len(STRENGTHS_M_S) * len(LASTS_S))
    for strength in STRENGTHS_M_S:
        for lasts_s in LASTS_S:
            moved = moving.of_air(strength, lasts_s, record.step_s, count)
            yield log(share), strength, [a + b for a, b in zip(moved, noises, strict=True)]


def _since(values: Sequence[float], step_s: float) -> list[float]:
    """Return the sum of values of the differences, each by what air rising by 1 m/s since a half block adds to it.

    A difference of means weighs the air between by a triangle: what begins in its middle counts half, what begins half
    a block before 7/8, half a block after 1/8.
    """
    whole = [*list(accumulate(reversed(values)))[::-1], 0.0]  # of this difference and all later ones
    rows = zip([whole[0], *whole], whole, [*whole[1:], 0.0], strict=False)
    halves = ((4.0 * (a + b), a + 6.0 * b + c) for a, b, c in rows)
    return [step_s / 8.0 * each for pair in halves for each in pair] + [0.0]


@dataclass(frozen=True, kw_only=True)
class _Looked:
    """Possible rises: from and to which half block; gᵀMd, gᵀMg and 1ᵀC⁻¹g/(1ᵀC⁻¹1) of each."""

    windows: list[tuple[int, int]]
    pulls: list[float]
    own: list[float]
    shares: list[float]

    @cached_property
    def unknown(self) -> list[float]:
        """What is left open of the strength of each, v [(m/s)²]."""
        return [R_M_S**2 / (1.0 + R_M_S**2 * max(0.0, own)) for own in self.own]

    @cached_property
    def gains(self) -> list[float]:
        """By how much each makes the record likelier, as logarithms."""
        return [0.5 * (pull * pull * v + log(v / R_M_S**2)) for pull, v in zip(self.pulls, self.unknown, strict=True)]

    def beside(self, tied: list[float], first: int) -> "_Looked":
        """Return the same where one of them is there as well; `tied` by v gᵀMg of it and each."""
        pull, share, v = self.pulls[first], self.shares[first], self.unknown[first]
        return _Looked(
            windows=self.windows,
            pulls=[each - tie * pull for each, tie in zip(self.pulls, tied, strict=True)],
            own=[each - tie * tie / v for each, tie in zip(self.own, tied, strict=True)],
            shares=[each - tie * share for each, tie in zip(self.shares, tied, strict=True)],
        )


@dataclass(frozen=True, kw_only=True)
class _Look:
    """A record in one kind of air, and how much each of two ends of a rise have in common: hᵀMh of steps h."""

    record: Blocks
    cross: list[list[float]]

    def rise(self, looked: _Looked, at: int, m_s: float) -> Rise:
        """Return one of the possible rises with its strength."""
        half_s, (start, end) = self.record.step_s / 2.0, looked.windows[at]
        start_s = self.record.start_s
        return Rise(start_s=start_s + start * half_s, end_s=start_s + end * half_s, m_s=m_s)

    def tied(self, looked: _Looked, first: int) -> list[float]:
        """Return how much of each rise one of them would explain."""
        start, end = looked.windows[first]
        v = looked.unknown[first]
        row = [v * (a - b) for a, b in zip(self.cross[start], self.cross[end], strict=True)]
        return [row[a] - row[b] for a, b in looked.windows]

    def one_more(self, before: Way, looked: _Looked, share: float) -> tuple[Way, int]:
        """Return all of the possible rises as one way, and the number of the likeliest."""
        variances = looked.unknown
        gains = looked.gains
        best = max(gains)
        at = gains.index(best)
        weights = [exp(gain - best) for gain in gains]
        whole = sum(weights)
        off = [-a * b * v for a, b, v in zip(looked.shares, looked.pulls, variances, strict=True)]
        mean = sum(map(mul, weights, off)) / whole
        squares = (w * (a * a * v + b * b) for w, a, v, b in zip(weights, looked.shares, variances, off, strict=True))
        wide = max(0.0, sum(squares) / whole - mean * mean)
        step_s = self.record.step_s
        way = Way(
            weight=before.weight + share + best + log(whole / len(gains)),
            slope=before.slope + mean / step_s,
            variance=before.variance + wide / step_s**2,
            rises=(*before.rises, self.rise(looked, at, looked.pulls[at] * variances[at])),
        )
        return way, at

    def two(self, before: Way, looked: _Looked, first: int) -> Way:
        """Return one rise with each of the others as one way."""
        tied, v, step_s = self.tied(looked, first), looked.unknown[first], self.record.step_s
        alone, share = looked.pulls[first] * v, looked.shares[first] / step_s
        with_first = Way(
            weight=before.weight + looked.gains[first] - log(len(looked.windows)),
            slope=before.slope - share * alone,
            variance=before.variance + share * share * v,
        )
        way, at = self.one_more(with_first, looked.beside(tied, first), log(2.0 * RISES[2] / RISES[0]))
        other = way.rises[0]
        return replace(way, rises=(self.rise(looked, first, alone - tied[at] * other.m_s), other))


def _ways(record: Blocks, covered: Sequence[float]) -> list[Way]:
    """Return no rise, one, and two in one kind of air; the weights are logarithms."""
    line, step_s = moving.line(record.differences, covered), record.step_s
    pulls, shares = _since(line.pulls, step_s), _since(line.shares, step_s)
    columns = zip(*(_since(row, step_s) for row in line.precision), strict=True)
    cross = [_since(column, step_s) for column in columns]
    windows = [(a, a + halves) for halves in HALVES for a in range(len(pulls) - halves)]
    looked = _Looked(
        windows=windows,
        pulls=[pulls[a] - pulls[b] for a, b in windows],
        own=[cross[a][a] + cross[b][b] - 2.0 * cross[a][b] for a, b in windows],
        shares=[shares[a] - shares[b] for a, b in windows],
    )
    look = _Look(record=record, cross=cross)
    none = Way(weight=line.likelihood + log(RISES[0]), slope=line.mean / step_s, variance=line.variance / step_s**2)
    one, _ = look.one_more(none, looked, log(RISES[1] / RISES[0]))
    gains = looked.gains
    firsts = nlargest(FIRSTS, range(len(gains)), key=gains.__getitem__)
    return [none, one, *(look.two(none, looked, first) for first in firsts)]
