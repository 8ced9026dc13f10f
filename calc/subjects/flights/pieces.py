"""Parts a series into straight pieces, exactly, by dynamic programming.

    cost(i, j)   S_hh − S_th²/S_tt of the points i to j, from prefix sums
    F_k(j)       min over i of F_(k−1)(i) + cost(i, j), each piece of at least so many points
    how many     the least of n ln(SSE/n) + 2 k ln n  (BIC)

Source: Killick, Fearnhead and Eckley, JASA 107 (2012) 1590, for the method; the limits are ours.
"""

from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import inf, log
from operator import add

from calc.errors import require
from calc.subjects.flights.slope import Series

SHORTEST = 5  # points of a piece
MOST_PIECES = 10


@dataclass(frozen=True, kw_only=True)
class Piece:
    """A straight piece: its points from `first` to before `end`, its slope [m/s], its height at its first time [m]."""

    first: int
    end: int
    start_s: float
    end_s: float
    slope: float
    start_m: float

    @property
    def end_m(self) -> float:
        """The line's height at the piece's last time."""
        return self.start_m + self.slope * (self.end_s - self.start_s)


class _Costs:
    """Squares about the line through any run of points."""

    def __init__(self, points: Series) -> None:
        t0, h0 = points[0]
        moved = [(t - t0, h - h0) for t, h in points]
        self.t = [0.0, *accumulate(t for t, _ in moved)]
        self.h = [0.0, *accumulate(h for _, h in moved)]
        self.tt = [0.0, *accumulate(t * t for t, _ in moved)]
        self.th = [0.0, *accumulate(t * h for t, h in moved)]
        self.hh = [0.0, *accumulate(h * h for _, h in moved)]

    def row(self, end: int, starts: range) -> list[float]:
        """Return the squares of the runs from each start to before `end`."""
        t1, h1, tt1, th1, hh1 = self.t[end], self.h[end], self.tt[end], self.th[end], self.hh[end]
        t, h, tt, th, hh = self.t, self.h, self.tt, self.th, self.hh
        found = []
        for i in starts:
            count, t_sum, h_sum = end - i, t1 - t[i], h1 - h[i]
            s_tt = tt1 - tt[i] - t_sum * t_sum / count
            s_th = th1 - th[i] - t_sum * h_sum / count
            found.append(max(0.0, hh1 - hh[i] - h_sum * h_sum / count - s_th * s_th / s_tt))
        return found


def _borders(points: Series, most: int, shortest: int) -> tuple[list[list[float]], list[list[int]]]:
    """Return the least squares of the first j points in k pieces, and where the last of them begins."""
    costs, size = _Costs(points), len(points)
    least = [[inf] * (size + 1) for _ in range(most)]
    begins = [[0] * (size + 1) for _ in range(most)]
    for end in range(shortest, size + 1):
        row = costs.row(end, range(end - shortest + 1))
        least[0][end] = row[0]
        for k in range(1, most):
            if end < (k + 1) * shortest:
                break
            start, stop = k * shortest, end - shortest + 1
            sums = list(map(add, least[k - 1][start:stop], row[start:]))
            lowest = min(sums)
            least[k][end], begins[k][end] = lowest, start + sums.index(lowest)
    return least, begins


def pieces(points: Series, count: int | None = None, shortest: int = SHORTEST, step_m: float = 0.0) -> list[Piece]:
    """Return the straight pieces of at least 5 points: so many, or as many as BIC says; the record's step_m ≥ 0.

    Examples
    --------
    >>> found = pieces([(float(t), max(0.0, 2.0 * (t - 10))) for t in range(30)])
    >>> [(each.first, round(each.slope, 2)) for each in found]
    [(0, 0.0), (10, 2.0)]
    """
    require("points", len(points), shortest)
    size = len(points)
    most = min(count or MOST_PIECES, size // shortest)
    least, begins = _borders(points, most, shortest)
    floor = max(1e-12, size * step_m * step_m / 12.0)  # a record is known no better than to its step
    scores = [size * log(max(least[k][size], floor) / size) + 2.0 * (k + 1) * log(size) for k in range(most)]
    k = most - 1 if count is not None else min(range(most), key=scores.__getitem__)
    ends = [size]
    for each in range(k, 0, -1):
        ends.append(begins[each][ends[-1]])
    borders = [0, *reversed(ends)]
    return [_piece(points, first, end) for first, end in pairwise(borders)]


def _piece(points: Series, first: int, end: int) -> Piece:
    run = points[first:end]
    middle_t, middle_h = (sum(each[axis] for each in run) / len(run) for axis in (0, 1))
    s_tt = sum((t - middle_t) ** 2 for t, _ in run)
    slope = sum((t - middle_t) * (h - middle_h) for t, h in run) / s_tt
    start_s, end_s = run[0][0], run[-1][0]
    return Piece(first=first, end=end, start_s=start_s, end_s=end_s, slope=slope,
                 start_m=middle_h + slope * (start_s - middle_t))  # fmt: skip
