"""Decides packings that leave nothing empty: the lowest empty cell of a grid is always the corner of some part.

So only the parts left are tried there, the largest first; a search that ends is a proof. The grid is what all lengths
are whole multiples of, cells are the bits of a whole number.

Source: own reasoning; finds J. Conway's and the Slothouber–Graatsma puzzle (tests/reference/room.toml).
"""

from collections.abc import Iterator, Sequence
from math import gcd

from calc.subjects.room.boxes import CANNOT, NOT_FOUND, Packed, Search, Size, Spot, Turns, volume

MOST_CELLS = 8000
STEP = 200  # places tried between two signs of progress


def fills(parts: Sequence[Turns], room: Size) -> bool:
    """Return whether parts have just the volume of a room.

    Examples
    --------
    >>> fills([((1, 2, 2),)] * 2, (2, 2, 2)), fills([((1, 2, 2),)], (2, 2, 2))
    (True, False)
    """
    return sum(volume(turns) for turns in parts) == volume((room,))


def filling(parts: Sequence[Turns], room: Size, nodes: int) -> Search:
    """Yield steps as they are taken, and return a packing without a gap, that there is none, or that it was not found.

    Parameters are those of `corners`; the parts have just the volume of the room.
    """
    grid = gcd(*room, *(edge for turns in parts for size in turns for edge in size))
    cells = (room[0] // grid, room[1] // grid, room[2] // grid)
    if volume((cells,)) > MOST_CELLS:
        return NOT_FOUND
    return (yield from _Filling(parts, cells, grid).search(nodes))


class _Filling:
    def __init__(self, parts: Sequence[Turns], cells: Size, grid: int) -> None:
        self.cells, self.grid = cells, grid
        self.whole = (1 << volume((cells,))) - 1
        self.waiting: dict[Turns, list[int]] = {}
        for index in sorted(range(len(parts)), key=lambda each: -volume(parts[each])):
            self.waiting.setdefault(parts[index], []).append(index)
        self.shapes = [(turns, size, self._bits(size)) for turns in self.waiting for size in turns]
        self.taken: list[tuple[int, Turns, int, Spot]] = []  # cells that are full with it, which part, where it lies

    def search(self, nodes: int) -> Search:
        """Yield steps as they are taken, and return the answer."""
        stack, used = [self._places()], 0
        while stack:
            place = next(stack[-1], None)
            used += 1
            if used % STEP == 0:
                yield STEP
            if used > nodes:
                return NOT_FOUND
            if place is None:
                stack.pop()
                for _, turns, index, _ in self.taken[-1:]:
                    self.waiting[turns].append(index)
                del self.taken[-1:]
                continue
            turns, bits, spot = place
            self.taken.append((self._full() | bits, turns, self.waiting[turns].pop(), spot))
            if self._full() == self.whole:
                return Packed("fits", tuple(each[3] for each in sorted(self.taken, key=lambda each: each[2])))
            stack.append(self._places())
        return CANNOT

    def _full(self) -> int:
        return self.taken[-1][0] if self.taken else 0

    def _bits(self, size: Size) -> int:
        """Return the cells of a part in the corner."""
        width, depth, _ = self.cells
        row = (1 << size[0] // self.grid) - 1
        layer = sum(row << width * y for y in range(size[1] // self.grid))
        return sum(layer << width * depth * z for z in range(size[2] // self.grid))

    def _places(self) -> Iterator[tuple[Turns, int, Spot]]:
        """Yield what goes into the lowest empty cell, with its cells."""
        full, grid, (width, depth, _) = self._full(), self.grid, self.cells
        empty = ~full & self.whole
        cell = (empty & -empty).bit_length() - 1
        corner = (cell % width, cell // width % depth, cell // (width * depth))
        for turns, size, shape in self.shapes:
            ends = (low + edge // grid for low, edge in zip(corner, size, strict=True))
            inside = all(end <= most for end, most in zip(ends, self.cells, strict=True))
            if self.waiting[turns] and inside and not full & shape << cell:
                yield turns, shape << cell, Spot((corner[0] * grid, corner[1] * grid, corner[2] * grid), size)
