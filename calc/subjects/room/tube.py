"""Parts in a round tube: one above the other in one cross-section, and such stacks one behind the other.

Scope: sides parallel to the tube and to each other; lengths are whole nanometres. In a bore of diameter D the parts of
a stack have the widths w_i, the heights h_i from the bottom, and their feet at y_i over the lowest foot:

    half chord     s_i = √(D²/4 − w_i²/4)
    stack          there is one shift t with  −s_i − y_i ≤ t ≤ s_i − y_i − h_i  for all i
    two parts      h1 + h2 ≤ s1 + s2

It decides one and two parts; beyond the stack nothing is said. Roots are rounded down, a nanometre to the safe side.

Source: derived here from Pythagoras; checked against the least circles around 1 to 5 unit squares as listed by
E. Friedman (Packing Unit Squares in Squares and Circles), tests/reference/room.toml.
"""

from collections.abc import Iterator, Sequence
from itertools import permutations, product
from math import isqrt

from calc.subjects.room.along import Members, Reach, along
from calc.subjects.room.boxes import CANNOT, NOT_FOUND, Packed, Search, Size, Spot, Spots, Turns, refuted
from calc.subjects.room.pack import pack

SLACK = 2  # nm more of bore, in which nothing that was rounded down is missed
ABOVE_PI = (355, 113)


def in_bore(turns: Turns, bore: int, length: int) -> Turns:
    """Return the ways in which a part lies in a tube alone: w² + h² ≤ D²."""
    return tuple(size for size in turns if size[0] <= length and size[1] ** 2 + size[2] ** 2 <= bore**2)


def feet(stack: Sequence[tuple[int, int]], gap: int, bore: int) -> list[int] | None:
    """Return how high over the lowest point of the bore each part of a stack begins; None where it does not go in.

    Parameters
    ----------
    stack : sequence of (width, height)
        From the bottom [nm]; each within the bore alone.
    gap : int
        Between two of them [nm].
    bore : int
        Inner diameter [nm].

    Examples
    --------
    >>> feet([(6, 8)], 0, 10), feet([(12_000, 6_000), (11_000, 4_000)], 0, 15_260), feet([(6, 8)] * 2, 0, 10)
    ([1], [2917, 8917], None)
    """
    foot, low, high = 0, -(10**30), 10**30
    at = []
    for width, height in stack:
        if width > bore:
            return None
        chord = isqrt(bore**2 - width**2)
        low, high = max(low, -chord - 2 * foot), min(high, chord - 2 * (foot + height))
        at.append(foot)
        foot += height + gap
    low += (low + bore) % 2  # so that the feet are whole
    return None if low > high else [(bore + low) // 2 + each for each in at]


def tube(parts: Sequence[Turns], bore: int, length: int, gap: int, nodes: int) -> Search:
    """Yield steps as they are taken, and return whether the parts go into a tube; spots are in the box around it.

    Parameters
    ----------
    parts : sequence of Turns
        The ways in which each may lie [nm].
    bore, length : int
        Inner diameter and length [nm], clear of the walls.
    gap : int
        Between parts [nm].
    nodes : int
        Steps at most.
    """
    inside = [in_bore(turns, bore, length) for turns in parts]
    over, under = ABOVE_PI
    filled = sum(min(x * y * z for x, y, z in turns) for turns in parts) * 4 * under
    if not all(inside) or filled > over * bore**2 * length:
        return CANNOT
    found = yield from along(inside, gap, _reach(inside, bore, length, gap), nodes, any_order=False)
    if found.answer == "fits":
        return found
    if len(parts) <= 2:
        wider = [in_bore(turns, bore + SLACK, length) for turns in parts]
        again = yield from along(wider, gap, _reach(wider, bore + SLACK, length, gap), nodes, any_order=False)
        return CANNOT if again.answer != "fits" else NOT_FOUND
    grown = [tuple((x + gap, y + gap, z + gap) for x, y, z in turns) for turns in inside]
    room = (length + gap, bore + gap, bore + gap)
    boxed = CANNOT if refuted(grown, room) else (yield from pack(grown, room, nodes))
    return Packed("cannot" if boxed.answer == "cannot" else "not_found")


def _reach(parts: Sequence[Turns], bore: int, length: int, gap: int) -> Reach:
    """Return how far stacks of these parts come; the same whatever stands before them."""
    known: dict[tuple[Turns, ...], tuple[int, Spots] | None] = {}

    def reach(start: int, members: Members) -> tuple[int, Spots] | None:
        turned = tuple(parts[each] for each in members)
        if turned not in known:
            known[turned] = _stacked(turned, bore, gap)
        found = known[turned]
        if found is None or start + found[0] > length:
            return None
        return start + found[0], tuple(Spot((start, each.at[1], each.at[2]), each.size) for each in found[1])

    return reach


def _stacked(parts: Sequence[Turns], bore: int, gap: int) -> tuple[int, Spots] | None:
    """Return the shortest stack of parts, one above the other or one beside the other."""
    rows = list(_rows(len(parts)))
    for sizes in sorted(product(*parts), key=lambda each: max(size[0] for size in each)):
        for up in (2, 1):
            for stack in rows:
                found = feet([_across(sizes, row, up, gap) for row in stack], gap, bore)
                if found is not None:
                    spots: dict[int, Spot] = {}
                    for row, foot in zip(stack, found, strict=True):
                        spots |= dict(_spots(sizes, row, up, foot, gap, bore))
                    return max(size[0] for size in sizes), tuple(spots[index] for index in range(len(sizes)))
    return None


def _rows(count: int) -> Iterator[tuple[Members, ...]]:
    """Yield the stacks of rows: one part each, or two side by side in one of them; upside down it is the same stack."""
    yield from (tuple((each,) for each in order) for order in permutations(range(count)) if order[0] <= order[-1])
    if count > 2:
        yield from (((one, other), (third,)) for one, other, third in ((0, 1, 2), (0, 2, 1), (1, 2, 0)))


def _across(sizes: Sequence[Size], row: Members, up: int, gap: int) -> tuple[int, int]:
    """Return the width and the height of a row."""
    width = sum(sizes[each][3 - up] for each in row) + gap * (len(row) - 1)
    return width, max(sizes[each][up] for each in row)


def _spots(sizes: Sequence[Size], row: Members, up: int, foot: int, gap: int, bore: int) -> Iterator[tuple[int, Spot]]:
    """Yield where the parts of a row lie, the row in the middle."""
    side = (bore - _across(sizes, row, up, gap)[0]) // 2
    for each in row:
        at = [0, side, side]
        at[up] = foot
        yield each, Spot((at[0], at[1], at[2]), sizes[each])
        side += sizes[each][3 - up] + gap
