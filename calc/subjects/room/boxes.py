"""Boxes with their sides along those of a box that holds them: what they are, and proofs that they cannot go in.

Lengths are whole nanometres, so that sums are exact and the same wherever they run; x fore and aft, y across, z up.
A proof is about boxes lying square to the bay. How long a search may take is counted in its steps, never in seconds.

    each alone       some way of lying is within the bay
    volume           Σ f(x) f(y) f(z) ≤ 1 with lengths as shares of the bay, least over the ways of lying, for f(s) = s
    dual feasible    … and for each f with: Σ s ≤ 1 gives Σ f(s) ≤ 1; here u_k(s) = s where (k+1)s is whole,
                     else ⌊(k+1)s⌋ / k

Source: Fekete & Schepers, *A general framework for bounds for higher-dimensional orthogonal packing problems*,
Math. Oper. Res. 29 (2004), arXiv cs/0402044 (the functions u_k and their use; abstract read, the functions from memory
and checked by exhaustion in the tests).
"""

from collections.abc import Generator, Iterable, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Literal

Size = tuple[int, int, int]
Turns = tuple[Size, ...]  # the ways in which a part may lie, each as its extents
Answer = Literal["fits", "cannot", "not_found"]
MOST_SHARES = 3  # functions u_1 to u_3


@dataclass(frozen=True)
class Spot:
    """Where a part lies: its corner nearest to the bay's, and its extents that way round."""

    at: Size
    size: Size


@dataclass(frozen=True)
class Packed:
    """An answer, and for `fits` where each part lies, in their order."""

    answer: Answer
    spots: tuple[Spot, ...] = ()


CANNOT, NOT_FOUND = Packed("cannot"), Packed("not_found")
Spots = tuple[Spot, ...]
# A search: yields how many steps it took since it last did, and returns what it came to.
Search = Generator[int, None, Packed]
Part = Generator[int, None, Spots | None]  # one that only finds


def fits_alone(turns: Turns, room: Size) -> Turns:
    """Return the ways of lying that are within a room, each once.

    Examples
    --------
    >>> fits_alone(((2, 1, 3), (3, 1, 2), (3, 1, 2)), (3, 2, 2))
    ((3, 1, 2),)
    """
    return tuple(dict.fromkeys(size for size in turns if all(a <= b for a, b in zip(size, room, strict=True))))


WHOLE = 6  # parts of a whole in which u_1, u_2 and u_3 are whole numbers


def _share(length: int, of: int, k: int) -> int:
    """Return the share of a length, k = 0, or u_k of it, times the whole length and `WHOLE`."""
    if k == 0 or (k + 1) * length % of == 0:
        return length * WHOLE
    return (k + 1) * length // of * of * WHOLE // k


def refuted(parts: Sequence[Turns], room: Size) -> bool:
    """Return whether it is proved that the parts cannot be in the room together.

    Examples
    --------
    >>> refuted([((2, 2, 2),)] * 8, (5, 5, 5)), refuted([((2, 2, 2),)] * 9, (5, 5, 5))
    (False, True)
    """
    inside = [fits_alone(turns, room) for turns in parts]
    if not all(inside):
        return True
    kinds = {turns: inside.count(turns) for turns in inside}
    return any(_too_much(kinds.items(), room, ks) for ks in product(range(MOST_SHARES + 1), repeat=3))


def _too_much(kinds: Iterable[tuple[Turns, int]], room: Size, ks: tuple[int, ...]) -> bool:
    total = 0
    width, across, up = room
    a, b, c = ks
    for turns, count in kinds:
        total += count * min(_share(x, width, a) * _share(y, across, b) * _share(z, up, c) for x, y, z in turns)
    return total > width * across * up * WHOLE**3


def apart(one: Spot, other: Spot) -> bool:
    """Return whether two parts do not overlap; touching is no overlap.

    Examples
    --------
    >>> apart(Spot((0, 0, 0), (2, 2, 2)), Spot((2, 0, 0), (1, 1, 1)))
    True
    """
    return any(
        one.at[axis] + one.size[axis] <= other.at[axis] or other.at[axis] + other.size[axis] <= one.at[axis]
        for axis in range(3)
    )


def volume(turns: Turns) -> int:
    """Return the volume of a part."""
    x, y, z = turns[0]
    return x * y * z
