"""Which demands no other demand beats: what the search may keep of the sets that it has half made.

Why nothing that could be best is lost, see `calc.search.pareto`.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from itertools import groupby

from calc.search.sets import Label


def undominated(labels: Sequence[Label] | Mapping[Label, object]) -> list[Label]:
    """Return the labels that no other one beats: none asks as little of everything and is lighter or draws less.

    One without a mean draw beats only others without.

    Examples
    --------
    >>> undominated([(1, 2, 0, 0, 0), (1, 2, 5, 0, 0), (1, 3, 0, 0, 0), (2, 1, 9, 9, 9)])
    [(1, 2, 0, 0, 0), (1, 2, 5, 0, 0), (2, 1, 9, 9, 9)]
    """
    ordered = sorted(labels)
    if any(label[4] for label in ordered):
        return _by_pairs(ordered)
    resting = _by_pairs([label for label in ordered if label[1] == 0])
    return sorted(resting + _by_sweep([label for label in ordered if label[1] > 0]))


def _by_pairs(ordered: Sequence[Label]) -> list[Label]:
    """Return what is left of sorted labels when each is held against those kept before it."""
    kept: list[Label] = []
    ahead: list[Label] = []  # those kept, the one that beat last in front: it is likely to beat again
    for label in ordered:
        mass, mean, peak, volts, quiet = label
        for place, other in enumerate(ahead):
            asks_no_more = other[1] <= mean and other[2] <= peak and other[3] <= volts and other[4] <= quiet
            if asks_no_more and (other[1] < mean or other[0] < mass) and (other[1] > 0 or mean == 0):
                if place:
                    ahead.insert(0, ahead.pop(place))
                break
        else:
            kept.append(label)
            ahead.append(label)
    return kept


def _by_sweep(ordered: Sequence[Label]) -> list[Label]:
    """Return the same for labels that all draw, none of them quietly: sorted, one pass, in n log² n.

    Whatever comes before a label with another mass or mean is lighter or draws less, so only those of the very same
    mass and mean must not beat it: they are put in after all of them were held against what came before.
    """
    before = _Stages(sorted({label[3] for label in ordered}))
    kept: list[Label] = []
    for _, alike in groupby(ordered, key=lambda label: label[:2]):
        fresh = [label for label in alike if not before.covers(label)]
        for label in fresh:
            before.add(label)
        kept += fresh
    return kept


class _Stages:
    """Which (mean, peak) were seen, for each voltage and below; a binary indexed tree over the voltages.

    Each node is a staircase: means rise, peaks fall.
    """

    def __init__(self, volts: Sequence[int]) -> None:
        self._place = {each: number for number, each in enumerate(volts, 1)}
        self._stairs: list[tuple[list[int], list[int]]] = [([], []) for _ in range(len(volts) + 1)]

    def covers(self, label: Label) -> bool:
        """Return whether a label was seen that asks no more mean draw, peak draw and voltage."""
        _, mean, peak, volts, _ = label
        number = self._place[volts]
        while number:
            means, peaks = self._stairs[number]
            place = bisect_right(means, mean)
            if place and peaks[place - 1] <= peak:
                return True
            number -= number & -number
        return False

    def add(self, label: Label) -> None:
        """Take a label in."""
        _, mean, peak, volts, _ = label
        number = self._place[volts]
        while number < len(self._stairs):
            means, peaks = self._stairs[number]
            start = bisect_right(means, mean)
            if not start or peaks[start - 1] > peak:
                start -= 1 if start and means[start - 1] == mean else 0
                end = start
                while end < len(peaks) and peaks[end] >= peak:
                    end += 1
                means[start:end], peaks[start:end] = [mean], [peak]
            number += number & -number
