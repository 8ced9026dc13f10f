"""What would make a set fit: how much longer, wider or higher a bay has to be; and the smallest bay for a set.

Halving on the three-valued answer, in tenths of a millimetre. What is told was found to fit; a little less may do where
the search below it did not come to an end, so `proved` says whether the step below cannot.
"""

from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass
from itertools import permutations

from calc.subjects.room.boxes import Packed, Turns
from calc.subjects.room.spaces import Edge, Shared, Sharing, Space, into

STEP_NM = 100_000
TRIAL = 20_000  # steps for one size
Trial = Callable[[int], Generator[int, None, str]]  # the answer for so many steps of a tenth of a millimetre


@dataclass(frozen=True)
class Widening:
    """An edge of a bay that is wider by so much [nm], the bay then, and whether a tenth less is proved too little."""

    bay: int
    edge: Edge
    by: int
    space: Space
    proved: bool


def least(trial: Trial, most: int) -> Generator[int, None, tuple[int, bool] | None]:
    """Yield steps as they are taken, and return the least number from 1 that fits, and whether one less cannot.

    None if not even `most` fits. An answer that is not found counts as none, so that what is told was found.
    """
    if most < 1 or (yield from trial(most)) != "fits":
        return None
    low, high, below = 0, most, "cannot"
    while high - low > 1:
        middle = (low + high) // 2
        answer = yield from trial(middle)
        if answer == "fits":
            high = middle
        else:
            low, below = middle, answer
    return high, below == "cannot"


def widenings(
    spaces: Sequence[Space], parts: Sequence[Turns], asked: Shared
) -> Generator[int, None, tuple[Widening, ...]]:
    """Yield steps as they are taken, and return the least widening of each edge of each bay that makes the parts fit.

    Parameters
    ----------
    spaces : sequence of Space
        The bays, into which the parts do not go, or were not found to.
    parts : sequence of Turns
        The parts.
    asked : Shared
        The answer for the bays as they are: a least widening by a tenth is proved only if that was.
    """
    found = []
    for bay, space in enumerate(spaces):
        for edge in space.edges:
            trial = _trial(spaces, bay, edge, parts)
            most = sum(max(max(size) for size in turns) + space.gap for turns in parts) // STEP_NM + 1
            come = yield from least(trial, most)
            if come is not None:
                by, proved = come
                wide = space.wider(edge, by * STEP_NM)
                found.append(Widening(bay, edge, by * STEP_NM, wide, proved and (by > 1 or asked.answer == "cannot")))
    return tuple(sorted(found, key=lambda each: each.by))


def _trial(spaces: Sequence[Space], bay: int, edge: Edge, parts: Sequence[Turns]) -> Trial:
    def trial(steps: int) -> Generator[int, None, str]:
        wide = [space.wider(edge, steps * STEP_NM) if index == bay else space for index, space in enumerate(spaces)]
        found = yield from Sharing(wide, parts, TRIAL).search()
        return found.answer

    return trial


def smallest(space: Space, parts: Sequence[Turns]) -> Generator[int, None, Space]:
    """Yield steps as they are taken, and return the smallest bay found for parts, no edge longer than it is.

    Each edge in turn is made as small as it goes, in every order of the edges; the least volume of these.
    """
    found = []
    for order in permutations(space.edges):
        found.append((yield from _shrunk(space, order, parts)))
    return min(found, key=Space.volume)


def _shrunk(space: Space, order: Sequence[Edge], parts: Sequence[Turns]) -> Generator[int, None, Space]:
    """Yield steps as they are taken, and return a bay with each edge in turn made as small as it goes."""
    for edge in order:
        wide = space.size[("length", "width", "height").index(edge)]
        back = {"width": space.back[0], "height": space.back[1]}.get(edge, 0) if space.kind == "tapered" else wide
        most = min(wide, back or wide) // STEP_NM - 1
        come = yield from least(_narrower(space, edge, most, parts), most)
        if come is not None:
            space = space.wider(edge, (come[0] - most - 1) * STEP_NM)
    return space


def _narrower(space: Space, edge: Edge, most: int, parts: Sequence[Turns]) -> Trial:
    """Return the trial of an edge that is smaller by `most` steps and one, and wider again by so many."""

    def trial(steps: int) -> Generator[int, None, str]:
        found: Packed = yield from into(space.wider(edge, (steps - most - 1) * STEP_NM), parts, TRIAL)
        return found.answer

    return trial
