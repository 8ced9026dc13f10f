"""Decides packings by normal patterns: pushed low, every box starts at a sum of edges of others, or at none.

So only such places need to be tried, the largest box first. Nothing is lost by holding the first box to the low half
of each axis, nor by having equal boxes after it in rising order. Exact on the lengths it is given; on rounded ones:

    parts rounded down, room rounded up     where these cannot, the true ones cannot
    parts rounded up, room rounded down     where these fit, the true ones do, in the same places

Source: Herz, IBM J. Res. Dev. 16 (1972); Christofides & Whitlock, Oper. Res. 25 (1977); both from memory.
"""

from collections.abc import Iterator, Sequence

from calc.subjects.room.boxes import CANNOT, NOT_FOUND, Packed, Search, Size, Spot, Turns, fits_alone, volume

STEP = 500  # places tried between two signs of progress
GRIDS_NM = (100_000, 200_000, 500_000)
COARSE_NM = 1_000_000
CELLS = 60  # of the longest edge, at most, unless the grid is the coarsest


def grid_of(room: Size) -> int:
    """Return the grid [nm] that lengths of a room are rounded to.

    Examples
    --------
    >>> grid_of((34_000_000, 17_000_000, 12_000_000)), grid_of((300_000_000, 1, 1))
    (1000000, 1000000)
    """
    return next((grid for grid in GRIDS_NM if max(room) <= CELLS * grid), COARSE_NM)


def on_grid(parts: Sequence[Turns], room: Size, grid: int, *, easier: bool) -> tuple[list[Turns], Size]:
    """Return parts and room in whole steps of a grid, rounded so that packing them is easier, or harder.

    Examples
    --------
    >>> on_grid([((15, 25, 30),)], (95, 95, 95), 10, easier=True)
    ([((1, 2, 3),)], (10, 10, 10))
    >>> on_grid([((15, 25, 30),)], (95, 95, 95), 10, easier=False)
    ([((2, 3, 3),)], (9, 9, 9))
    """

    def down(size: Size) -> Size:
        return (size[0] // grid, size[1] // grid, size[2] // grid)

    def up(size: Size) -> Size:
        return (-(-size[0] // grid), -(-size[1] // grid), -(-size[2] // grid))

    of_part, of_room = (down, up) if easier else (up, down)
    return [tuple(of_part(size) for size in turns) for turns in parts], of_room(room)


def patterns(parts: Sequence[Turns], room: Size, nodes: int) -> Search:
    """Yield steps as they are taken, and return a packing, that there is none, or that it was not found.

    Parameters are those of `corners`; `nodes` bounds the places tried.
    """
    order = sorted(range(len(parts)), key=lambda index: (-volume(parts[index]), parts[index]))
    turned = [fits_alone(parts[index], room) for index in order]
    sums = [[_sums(turned, box, axis, room[axis]) for axis in range(3)] for box in range(len(order))]
    found: list[Spot] = []
    stack = [_places(turned, sums, room, found)]
    used = 0
    while stack:
        spot = next(stack[-1], None)
        used += 1
        if used % STEP == 0:
            yield STEP
        if used > nodes:
            return NOT_FOUND
        if spot is None:
            stack.pop()
            del found[-1:]
        elif isinstance(spot, Spot):
            found.append(spot)
            if len(found) == len(parts):
                placed = dict(zip(order, found, strict=True))
                return Packed("fits", tuple(placed[index] for index in range(len(order))))
            stack.append(_places(turned, sums, room, found))
    return CANNOT


def _sums(parts: Sequence[Turns], box: int, axis: int, most: int) -> list[int]:
    """Return every sum of edges of other boxes, one at most of each, up to the room."""
    found = {0}
    for index, turns in enumerate(parts):
        if index != box:
            edges = {size[axis] for size in turns}
            found |= {far for each in found for edge in edges if (far := each + edge) <= most}
    return sorted(found)


def _places(
    parts: Sequence[Turns], sums: Sequence[Sequence[list[int]]], room: Size, found: Sequence[Spot]
) -> Iterator[Spot | bool]:
    """Yield the free places for the next box; True for each place that is taken, so that it is counted."""
    box, taken = len(found), tuple(found)
    after = taken[-1].at if box > 1 and parts[box] == parts[box - 1] else (0, 0, 0)
    for size in parts[box]:
        ends = [room[axis] - size[axis] for axis in range(3)]
        xs, ys, zs = (
            [each for each in sums[box][axis] if each <= (ends[axis] // 2 if box == 0 else ends[axis])]
            for axis in range(3)
        )
        for x in xs:
            beside = [each for each in taken if each.at[0] < x + size[0] and x < each.at[0] + each.size[0]]
            for y in ys if x >= after[0] else ():
                over = [each for each in beside if each.at[1] < y + size[1] and y < each.at[1] + each.size[1]]
                free = 0
                for z in zs:
                    if z < free or (x, y, z) < after:
                        continue
                    ends_at = [each.at[2] + each.size[2] for each in over
                               if each.at[2] < z + size[2] and z < each.at[2] + each.size[2]]  # fmt: skip
                    free = max(ends_at, default=0)
                    yield True if ends_at else Spot((x, y, z), size)
