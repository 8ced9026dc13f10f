"""Groups of parts one behind the other along a bay: how round tubes and tapered bays are filled.

Every group has up to three parts, beside or over each other; `reach` says how far one comes that begins at a place. The
sets of parts in are gone through by size, and of each the shortest way is kept: a group that begins sooner ends no later.
"""

from collections.abc import Callable, Iterator
from itertools import combinations

from calc.subjects.room.boxes import NOT_FOUND, Packed, Search, Spots

MOST = 10  # parts in one bay; 1024 sets of them
IN_A_GROUP = 3
Members = tuple[int, ...]
# From where a group begins: where it ends, and where its parts lie; None where it does not go in.
Reach = Callable[[int, Members], tuple[int, Spots] | None]


def along(count: int, gap: int, reach: Reach, nodes: int, *, any_order: bool) -> Search:
    """Yield steps as they are taken, and return whether groups of so many parts go in one behind the other.

    Parameters
    ----------
    count : int
        How many parts.
    gap : int
        Between two groups [nm].
    reach : Reach
        How far a group comes.
    nodes : int
        Groups tried at most.
    any_order : bool
        Whether it matters which group comes first.
    """
    if count > MOST:
        return NOT_FOUND
    best: dict[int, tuple[int, dict[int, Spots]]] = {0: (-gap, {})}
    everything, used = (1 << count) - 1, 0
    for mask in range(everything):
        if mask not in best:
            continue
        if used > nodes:
            return NOT_FOUND
        end, before = best[mask]
        tried = 0
        for members in _groups(count, mask, any_order=any_order):
            tried += 1
            found = reach(end + gap, members)
            then = mask | sum(1 << each for each in members)
            if found is not None and (then not in best or found[0] < best[then][0]):
                placed = {each: (spot,) for each, spot in zip(members, found[1], strict=True)}
                best[then] = (found[0], before | placed)
        used += tried
        yield tried
    if everything not in best:
        return NOT_FOUND
    return Packed("fits", tuple(best[everything][1][index][0] for index in range(count)))


def _groups(count: int, mask: int, *, any_order: bool) -> Iterator[Members]:
    """Yield groups of the parts that are not in yet; those with the first of them alone where order does not matter."""
    left = [index for index in range(count) if not mask >> index & 1]
    for size in range(1, min(IN_A_GROUP, len(left)) + 1):
        for members in combinations(left, size):
            if any_order or members[0] == left[0]:
                yield members
