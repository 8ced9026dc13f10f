"""Parts in a bay that narrows along its length, straight-sided and even about its middle: cut into slices.

Each group of parts has the room of the box inside its slice, which is the narrower of the two ends there: on the safe
side, for beside a short part the bay is wider than that. What does not go into the box around the bay cannot go in.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import isqrt

from calc.subjects.room.along import Members, Reach, along
from calc.subjects.room.boxes import Packed, Search, Size, Spot, Spots, Turns, fits_alone
from calc.subjects.room.pack import pack


@dataclass(frozen=True, kw_only=True)
class Taper:
    """Length, width and height in front and at the back, clearance to the walls [nm]."""

    length: int
    front: tuple[int, int]
    back: tuple[int, int]
    wall: int

    @property
    def widest(self) -> tuple[int, int]:
        """The width and the height of the box around it."""
        return (max(self.front[0], self.back[0]), max(self.front[1], self.back[1]))

    @property
    def around(self) -> Size:
        """The same, clear of walls that were straight."""
        width, height = self.widest
        return (self.length - 2 * self.wall, width - 2 * self.wall, height - 2 * self.wall)

    @property
    def inside(self) -> Size:
        """The box inside it, as long as it is."""
        return (self.length - 2 * self.wall, *self.section(self.wall, self.length - self.wall))

    def section(self, begin: int, end: int) -> tuple[int, int]:
        """Return the clear width and height of the box between two places along it [nm].

        Examples
        --------
        >>> Taper(length=100, front=(20, 30), back=(40, 30), wall=0).section(25, 75)
        (25, 30)
        """
        width, height = (self._clear(one, other, begin, end) for one, other in zip(self.front, self.back, strict=True))
        return width, height

    def _clear(self, front: int, back: int, begin: int, end: int) -> int:
        """Return the clear room between two walls; square to a wall that slants its clearance takes more."""
        narrow = min(front + (back - front) * place // self.length for place in (begin, end))
        run = 2 * self.length
        slanted = -(-self.wall * (isqrt(run**2 + (back - front) ** 2) + 1) // run)
        return narrow - 2 * (slanted if front != back else self.wall)

    @property
    def turned(self) -> "Taper":
        """The same with its back in front."""
        return Taper(length=self.length, front=self.back, back=self.front, wall=self.wall)


def tapered(parts: Sequence[Turns], bay: Taper, gap: int, nodes: int) -> Search:
    """Yield steps as they are taken, and return whether parts go into a tapered bay.

    Spots are in the box around the bay, from its front. Parameters are those of `tube`.
    """
    grown = [tuple((x + gap, y + gap, z + gap) for x, y, z in turns) for turns in parts]
    inner, outer = ((x + gap, y + gap, z + gap) for x, y, z in (bay.inside, bay.around))
    whole = yield from pack(grown, inner, nodes // 4)
    if whole.answer == "fits":
        spots = (_spot(bay, bay.wall + each.at[0], each.at[1:], bay.inside[1:], _less(each.size, gap))
                 for each in whole.spots)  # fmt: skip
        return Packed("fits", tuple(spots))
    inside = [fits_alone(turns, bay.around) for turns in parts]
    for way in (bay, bay.turned):
        found = yield from along(inside, gap, _reach(inside, way, gap), nodes // 4, any_order=True)
        if found.answer == "fits":
            return found if way is bay else Packed("fits", tuple(_mirrored(each, bay) for each in found.spots))
    around = yield from pack(grown, outer, nodes // 4)
    return Packed("cannot" if around.answer == "cannot" else "not_found")


def _less(size: Size, gap: int) -> Size:
    return (size[0] - gap, size[1] - gap, size[2] - gap)


def _mirrored(spot: Spot, bay: Taper) -> Spot:
    return Spot((bay.length - spot.at[0] - spot.size[0], *spot.at[1:]), spot.size)


def _spot(bay: Taper, x: int, at: tuple[int, ...], section: tuple[int, ...], size: Size) -> Spot:
    """Return a spot in the box around the bay of a place in a section of it; a section lies in the middle."""
    y, z = ((bay.widest[axis] - section[axis]) // 2 + at[axis] for axis in range(2))
    return Spot((x, y, z), size)


def _reach(parts: Sequence[Turns], bay: Taper, gap: int) -> Reach:
    """Return how far groups of parts come, each beside or over the other."""

    def reach(start: int, members: Members) -> tuple[int, Spots] | None:
        begin = max(start, bay.wall)
        best: tuple[int, Spots] | None = None
        for sizes in product(*(parts[each] for each in members)):
            end = begin + max(size[0] for size in sizes)
            if end > bay.length - bay.wall or (best is not None and end >= best[0]):
                continue
            section = bay.section(begin, end)
            for across in (0, 1):
                spots = tuple(_row(bay, sizes, across, begin, section, gap))
                if spots and (best is None or end < best[0]):
                    best = (end, spots)
        return best

    return reach


def _row(
    bay: Taper, sizes: Sequence[Size], across: int, begin: int, section: tuple[int, int], gap: int
) -> Iterator[Spot]:
    """Yield the places of parts in a row across or up a section; none where it is too narrow."""
    taken = sum(size[1 + across] for size in sizes) + gap * (len(sizes) - 1)
    if taken > section[across] or max(size[2 - across] for size in sizes) > section[1 - across]:
        return
    offset = 0
    for size in sizes:
        at = [0, 0]
        at[across] = offset
        yield _spot(bay, begin, tuple(at), section, size)
        offset += size[1 + across] + gap
