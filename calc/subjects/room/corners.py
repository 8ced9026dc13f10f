"""Finds packings by corner points: each box goes to the first free point made of far faces of those already in.

Orders, ways of lying and axes come from a generator of our own with a fixed start, so the answer is always the same.
It proves nothing. Source: the corner and extreme points of Crainic, Perboli & Tadei, INFORMS J. Computing 20 (2008),
from memory, with random orders.
"""

from collections.abc import Iterator, Sequence
from itertools import permutations
from typing import TypeVar

from calc.subjects.room.boxes import Part, Size, Spot, Turns, volume

T = TypeVar("T")
AXES = tuple(permutations(range(3)))


class Chance:
    """Whole numbers that look random, the same ones each time (the linear congruential generator of POSIX drand48)."""

    def __init__(self, start: int = 18) -> None:
        self.state = start

    def below(self, end: int) -> int:
        """Return a whole number from 0 to below the end."""
        self.state = (self.state * 25214903917 + 11) % 2**48
        return (self.state >> 16) * end >> 32

    def shuffled(self, items: Sequence[T]) -> list[T]:
        """Return items in another order."""
        left = list(items)
        return [left.pop(self.below(len(left))) for _ in items]


def corners(parts: Sequence[Turns], room: Size, nodes: int) -> Part:
    """Yield steps as they are taken, and return a packing, or None once there were so many.

    Parameters
    ----------
    parts : sequence of Turns
        Ways of lying within the room, at least one each.
    room : Size
        The room.
    nodes : int
        Points tried at most.
    """
    used, source = 0, tries(parts, room)
    while used < nodes:
        spots, tried = next(source)
        used += tried
        yield tried
        if len(spots) == len(parts):
            return tuple(spots[index] for index in range(len(parts)))
    return None


def tries(parts: Sequence[Turns], room: Size) -> Iterator[tuple[dict[int, Spot], int]]:
    """Yield for ever what could be put in, by part, and how many points that took; the largest first to begin with."""
    chance = Chance()
    order = sorted(range(len(parts)), key=lambda index: -volume(parts[index]))
    axes = AXES[0]
    while True:
        yield _filled(parts, room, order, axes, chance)
        order, axes = chance.shuffled(order), AXES[chance.below(len(AXES))]


def _filled(
    parts: Sequence[Turns], room: Size, order: Sequence[int], axes: tuple[int, ...], chance: Chance
) -> tuple[dict[int, Spot], int]:
    """Return what goes in, in an order of parts and of axes, until one finds no place."""
    found: dict[int, Spot] = {}
    tried = 0
    faces: list[list[int]] = [[0], [0], [0]]
    for index in order:
        for size in chance.shuffled(parts[index]):
            spot, points = _first(size, room, axes, faces, list(found.values()))
            tried += points
            if spot is not None:
                break
        if spot is None:
            break
        found[index] = spot
        for axis in range(3):
            far = spot.at[axis] + spot.size[axis]
            if far not in faces[axis]:
                faces[axis] = sorted([*faces[axis], far])
    return found, tried


def _first(
    size: Size, room: Size, axes: tuple[int, ...], faces: list[list[int]], taken: list[Spot]
) -> tuple[Spot | None, int]:
    """Return the first free point for a box, the last of the axes rising first, and how many were tried."""
    a, b, c = axes
    tried = 1
    for first in _starts(faces, size, room, a):
        beside = _across(first, size, a, taken)
        for second in _starts(faces, size, room, b):
            over = _across(second, size, b, beside)
            for third in _starts(faces, size, room, c):
                tried += 1
                if not _across(third, size, c, over):
                    at = {a: first, b: second, c: third}
                    return Spot((at[0], at[1], at[2]), size), tried
    return None, tried


def _starts(faces: list[list[int]], size: Size, room: Size, axis: int) -> list[int]:
    return [each for each in faces[axis] if each + size[axis] <= room[axis]]


def _across(low: int, size: Size, axis: int, taken: list[Spot]) -> list[Spot]:
    """Return the boxes that overlap along an axis."""
    high = low + size[axis]
    return [each for each in taken if each.at[axis] < high and each.at[axis] + each.size[axis] > low]
