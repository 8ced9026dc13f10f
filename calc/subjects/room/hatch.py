"""The opening through which parts go into a bay, and whether one comes out again: what goes out goes in backwards.

A part moves straight through the opening in the way in which it lies, and is slid along the bay and across it to its
place; it is not turned or tilted on the way. That is the safe side: by hand more may go in.

    through      both edges square to the push are within those of the opening
    slides       of a box along the bay and across, of a tube along, of a bay that tapers none
    order        the last part in is the first that comes out; to take one out bars no other, so the first that can is
                 taken

Source: derived here; checked in the tests by moving parts step by step.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, permutations

from calc.subjects.room.boxes import Size, Spot, Turns, apart
from calc.vocabulary import BayKind, HatchSide

OUT: dict[HatchSide, tuple[int, int]] = {
    "front": (0, -1), "back": (0, 1), "left": (1, -1), "right": (1, 1), "bottom": (2, -1), "top": (2, 1),
}  # fmt: skip
FAR = 10**12  # nm, outside
SLIDES: dict[BayKind, tuple[int, ...]] = {"box": (0, 1, 2), "tube": (0,), "tapered": ()}


@dataclass(frozen=True, kw_only=True)
class Opening:
    """A hatch that is not the whole side [nm]: from where to where along the bay, and how wide, in the middle."""

    side: HatchSide
    begin: int = 0
    end: int | None = None  # None: to the end of the bay
    wide: int | None = None  # None: as the bay

    def limits(self, around: Size) -> tuple[Size, Size]:
        """Return the lower and the upper ends of the opening in the box around the bay; those of the bay for the push.

        Examples
        --------
        >>> Opening(side="top", begin=10, end=50, wide=20).limits((80, 30, 25))
        ((10, 5, 0), (50, 25, 25))
        """
        axis = OUT[self.side][0]
        low, high = [0, 0, 0], [*around]
        if axis:
            low[0], high[0] = self.begin, min(around[0], around[0] if self.end is None else self.end)
        if self.wide is not None:
            across = 3 - axis if axis else 1
            spare = max(around[across] - self.wide, 0)
            low[across], high[across] = (spare + 1) // 2, around[across] - (spare + 1) // 2
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    def through(self, turns: Turns, around: Size) -> Turns:
        """Return the ways of lying in which a part goes straight through.

        Examples
        --------
        >>> Opening(side="top", begin=10, end=50, wide=20).through(((60, 10, 9), (10, 9, 60)), (80, 30, 25))
        ((10, 9, 60),)
        """
        low, high = self.limits(around)
        square = [axis for axis in range(3) if axis != OUT[self.side][0]]
        return tuple(size for size in turns if all(size[axis] <= high[axis] - low[axis] for axis in square))


def order_through(kind: BayKind, around: Size, opening: Opening, spots: Sequence[Spot]) -> tuple[int, ...] | None:
    """Return parts in the order in which they go in; None where no straight way for one was found.

    Parameters
    ----------
    kind : BayKind
        What the bay is: it says which slides stay inside it.
    around : Size
        The box around the bay [nm].
    opening : Opening
        The hatch.
    spots : sequence of Spot
        Where the parts lie.
    """
    axis, way = OUT[opening.side]
    left = sorted(range(len(spots)), key=lambda index: (nearness(spots[index], axis, way), index))
    taken: list[int] = []
    while left:
        for index in reversed(left):
            others = [spots[other] for other in left if other != index]
            if any(_free(path, others) for path in _ways(kind, around, opening, spots[index])):
                left.remove(index)
                taken.append(index)
                break
        else:
            return None
    return tuple(reversed(taken))


def nearness(spot: Spot, axis: int, way: int) -> int:
    """Return how near to the hatch a part reaches; what lies straight in its way reaches nearer."""
    return -(spot.at[axis]) if way < 0 else spot.at[axis] + spot.size[axis]


def _free(path: Sequence[Spot], others: Sequence[Spot]) -> bool:
    return all(apart(swept, other) for swept in path for other in others)


def _ways(kind: BayKind, around: Size, opening: Opening, spot: Spot) -> Iterator[tuple[Spot, ...]]:
    """Yield ways out as the boxes that a part sweeps: slides to the nearest place in the opening, then straight out."""
    axis, way = OUT[opening.side]
    low, high = opening.limits(around)
    ends = [*spot.at]
    for each in range(3):
        if each != axis:
            ends[each] = min(max(spot.at[each], low[each]), high[each] - spot.size[each])
            if ends[each] < low[each]:
                return
    moved = [each for each in range(3) if ends[each] != spot.at[each]]
    if not all(each in SLIDES[kind] for each in moved):
        return
    for order in permutations(moved):
        stops = [spot.at]
        for each in order:
            stops.append(_with(stops[-1], each, ends[each]))
        out = _with(stops[-1], axis, way * FAR)
        yield tuple(_swept(one, other, spot.size) for one, other in pairwise([*stops, out]))


def _with(at: Size, axis: int, value: int) -> Size:
    changed = [*at]
    changed[axis] = value
    return (changed[0], changed[1], changed[2])


def _swept(one: Size, other: Size, size: Size) -> Spot:
    """Return the box that a part sweeps from one corner to another."""
    low = [min(pair) for pair in zip(one, other, strict=True)]
    wide = [edge + abs(a - b) for edge, a, b in zip(size, one, other, strict=True)]
    return Spot((low[0], low[1], low[2]), (wide[0], wide[1], wide[2]))
