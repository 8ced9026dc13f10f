"""Groups of parts one behind the other along a bay: how round tubes and tapered bays are filled.

Every group has up to three parts, beside or over each other; `reach` says how far one comes that begins at a place. At
first the group that fills its length best is taken each time; then the sets of parts are gone through by size, and of
each the shortest way is kept: a group that begins sooner ends no later.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations
from math import prod

from calc.subjects.room.boxes import NOT_FOUND, Packed, Search, Spots, Turns, volume

MOST = 10  # parts in one bay; 1024 sets of them
IN_A_GROUP = 3
Members = tuple[int, ...]
# From where a group begins: where it ends, and where its parts lie; None where it does not go in.
Reach = Callable[[int, Members], tuple[int, Spots] | None]
Way = tuple[int, Spots, Members]  # where the last group ends; every spot so far, of which part


def along(parts: Sequence[Turns], gap: int, reach: Reach, nodes: int, *, any_order: bool) -> Search:
    """Yield steps as they are taken, and return whether groups of parts go in one behind the other.

    Parameters
    ----------
    parts : sequence of Turns
        The ways in which each may lie.
    gap : int
        Between two groups [nm].
    reach : Reach
        How far a group comes.
    nodes : int
        Ways of lying tried at most.
    any_order : bool
        Whether it matters which group comes first.
    """
    count = len(parts)
    if count > MOST:
        return NOT_FOUND
    ways: dict[int, Way] = {0: (-gap, (), ())}
    everything, used, mask = (1 << count) - 1, 0, 0
    while mask >= 0 and mask != everything:
        tried, found = _further(parts, mask, ways[mask], gap, reach, any_order=any_order)
        yield tried
        used += tried
        mask, way = max(found, key=lambda each: _filling(parts, each[1]), default=(-1, ways[0]))
        ways = {0: ways[0], mask: way}
    for mask in range(everything) if everything not in ways else ():
        if mask in ways and used <= nodes:
            tried, found = _further(parts, mask, ways[mask], gap, reach, any_order=any_order)
            yield tried
            used += tried
            for then, way in found:
                if then not in ways or way[0] < ways[then][0]:
                    ways[then] = way
    if everything not in ways:
        return NOT_FOUND
    _, spots, members = ways[everything]
    placed = dict(zip(members, spots, strict=True))
    return Packed("fits", tuple(placed[index] for index in range(count)))


def _further(
    parts: Sequence[Turns], mask: int, way: Way, gap: int, reach: Reach, *, any_order: bool
) -> tuple[int, list[tuple[int, Way]]]:
    """Return how many ways of lying were tried, and what one group more comes to, by the set of parts then in."""
    end, spots, before = way
    tried, found = 0, []
    for members in _groups(len(parts), mask, any_order=any_order):
        tried += prod(len(parts[each]) for each in members)
        come = reach(end + gap, members)
        if come is not None:
            then = mask | sum(1 << each for each in members)
            found.append((then, (come[0], (*spots, *come[1]), (*before, *members))))
    return tried, found


def _filling(parts: Sequence[Turns], way: Way) -> float:
    """Return how much of the parts has come in over the length used."""
    return sum(volume(parts[each]) for each in way[2]) / max(way[0], 1)


def _groups(count: int, mask: int, *, any_order: bool) -> Iterator[Members]:
    """Yield groups of the parts that are not in yet; those with the first of them alone where order does not matter."""
    left = [index for index in range(count) if not mask >> index & 1]
    for size in range(1, min(IN_A_GROUP, len(left)) + 1):
        for members in combinations(left, size):
            if any_order or members[0] == left[0]:
                yield members
