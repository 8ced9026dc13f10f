"""Boxes in a box: proofs first, then corner points, then the two exact searches, each within its share of the steps.

Where nothing may stay empty a third one, which is quick there, goes before them.
"""

from collections.abc import Sequence

from calc.subjects.room.boxes import CANNOT, NOT_FOUND, Packed, Search, Size, Spot, Turns, fits_alone, refuted
from calc.subjects.room.corners import corners
from calc.subjects.room.filling import filling, fills
from calc.subjects.room.pairs import pairs
from calc.subjects.room.patterns import grid_of, on_grid, patterns

FIRST = 250  # corner points for each part before the exact searches, which soon know it of few parts
LIKE = 3  # so many equal boxes: normal patterns before pairs, which are weak there


def pack(parts: Sequence[Turns], room: Size, nodes: int) -> Search:
    """Yield steps as they are taken, and return whether the parts go into the room, lying square to it.

    Parameters
    ----------
    parts : sequence of Turns
        The ways in which each may lie [nm].
    room : Size
        The room [nm].
    nodes : int
        Steps at most, of all searches together; it may pass that by those between two signs of progress.
    """
    if not parts:
        return Packed("fits")
    if min(room) <= 0 or refuted(parts, room):
        return CANNOT
    inside = [fits_alone(turns, room) for turns in parts]
    if fills(inside, room):
        filled = yield from filling(inside, room, nodes // 4)
        if filled.answer != "not_found":
            return filled
    spots = yield from corners(inside, room, min(nodes // 20, FIRST * len(inside)))
    if spots is not None:
        return Packed("fits", spots)
    exact = [_by_pairs(inside, room, nodes // 4), _by_patterns(inside, room, nodes // 4)]
    for search in reversed(exact) if len(inside) - len(set(inside)) >= LIKE else exact:
        found = yield from search
        if found.answer != "not_found":
            return found
    spots = yield from corners(inside, room, nodes // 2)
    return NOT_FOUND if spots is None else Packed("fits", spots)


def _by_pairs(parts: Sequence[Turns], room: Size, nodes: int) -> Search:
    """Return what the relations of pairs come to; a node there costs about as much as five places."""
    return (yield from pairs(parts, room, nodes // 5))


def _by_patterns(parts: Sequence[Turns], room: Size, nodes: int) -> Search:
    """Return what normal patterns come to: exact where lengths are whole steps of the grid, else from both sides."""
    grid = grid_of(room)
    for easier in (True, False):
        small, space = on_grid(parts, room, grid, easier=easier)
        if refuted(small, space):
            return CANNOT if easier else NOT_FOUND
        found = yield from patterns(small, space, nodes // 2)
        exact = (small, space) == on_grid(parts, room, grid, easier=not easier)
        if found.answer == ("cannot" if easier else "fits") or exact:
            return _in_nm(found, parts, small, grid)
    return NOT_FOUND


def _in_nm(found: Packed, parts: Sequence[Turns], small: Sequence[Turns], grid: int) -> Packed:
    """Return what was found on a grid in nanometres, with the true extents."""
    spots = tuple(
        Spot((spot.at[0] * grid, spot.at[1] * grid, spot.at[2] * grid), true[coarse.index(spot.size)])
        for spot, true, coarse in zip(found.spots, parts, small, strict=False)
    )
    return Packed(found.answer, spots)
