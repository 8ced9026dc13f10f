"""Whether the gear goes into the bays: what a short look tells, with places, order and stations.

The short look is within a bound of steps, so that an edit is answered at once; the long one is `calc.fitting.find`.
Both give one of three answers: it fits (these are the places), it cannot (proved), or it was not found.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from calc.document.budget import Budget
from calc.document.entries import GearRow
from calc.subject import Answered, Answers, Needs
from calc.subjects.room.boxes import Size, Spot, Turns
from calc.subjects.room.entries import HATCH_SIDES
from calc.subjects.room.order import order_in
from calc.subjects.room.parts import MOST_PARTS, NM, Item, item_of, items, spaces
from calc.subjects.room.spaces import Shared, Sharing, Space
from calc.vocabulary import RoomAnswer

SHORT = 4000  # steps of the short look


@dataclass(frozen=True, kw_only=True)
class Placed:
    """Where a part lies: its bay, its corner and extents there [nm], and the station of its middle [m] if known."""

    item: Item
    bay: int
    spot: Spot
    station_m: float | None


@dataclass(frozen=True, kw_only=True)
class RoomBlock:
    """The answer, and for `fits` where each part lies and in which order each bay is filled."""

    answer: RoomAnswer
    bays: tuple[str, ...]  # what they are called
    sides: tuple[str, ...]  # from where parts go into each, in words
    spaces: tuple[Space, ...]
    items: tuple[Item, ...]
    parts: tuple[Placed, ...]
    order: tuple[tuple[Placed, ...] | None, ...]  # by bay; None: one part has no straight way in
    homeless: tuple[Item, ...]  # go into no bay even alone
    barred: tuple[Item, ...]  # go straight through no hatch
    complete: bool  # every part that is to go in says how large it is

    @property
    def hatched(self) -> bool:
        """Whether a hatch has a size: then parts must be found to go in through it."""
        return any(space.opening is not None for space in self.spaces)

    @property
    def tapered(self) -> bool:
        """Whether a bay tapers: there the search stays on the safe side."""
        return any(space.kind == "tapered" for space in self.spaces)


@lru_cache(maxsize=64)
def short_look(bays: tuple[Space, ...], parts: tuple[Turns, ...], nodes: int = SHORT) -> Shared:
    """Return what a search of so many steps comes to."""
    if len(parts) > MOST_PARTS:
        return Shared("not_found")
    search = Sharing(bays, parts, nodes).search()
    while True:
        try:
            next(search)
        except StopIteration as ended:
            found: Shared = ended.value
            return found


def room(budget: Budget) -> tuple[RoomBlock | None, tuple[str, ...]]:
    """Return what a short look tells, None where there are no bays or no parts yet; and the fields it waits for."""
    if not budget.bays and "bays" not in budget.unread:
        return None, ()
    needs = Needs(budget)
    bays, found = spaces(budget, needs), tuple(items(budget, needs))
    if bays is None or not found:
        return None, needs.missing
    shared = short_look(bays, tuple(each.turns for each in found))
    return block_of(budget, bays, found, shared, complete=not needs.missing), needs.missing


def block_of(
    budget: Budget, bays: tuple[Space, ...], found: tuple[Item, ...], shared: Shared, *, complete: bool
) -> RoomBlock:
    """Return the answer that a search comes to."""
    parts = placed(budget, found, shared.bays, shared.spots)
    sharing = Sharing(bays, (), 0)
    left = () if shared.answer == "fits" else tuple(dict.fromkeys(found))
    return RoomBlock(
        answer=shared.answer,
        bays=tuple(bay.name.value or f"bay {index + 1}" for index, bay in enumerate(budget.bays)),
        sides=tuple(HATCH_SIDES[bay.hatch.value] for bay in budget.bays),
        spaces=bays,
        items=found,
        parts=parts,
        order=tuple(_order(budget, bays, parts, bay) for bay in range(len(bays))) if parts else (),
        homeless=tuple(each for each in left if not sharing.homes(each.turns)),
        barred=tuple(each for each in left if sharing.barred(each.turns)),
        complete=complete,
    )


def placed(budget: Budget, found: Sequence[Item], bays: Sequence[int], spots: Sequence[Spot]) -> tuple[Placed, ...]:
    """Return parts in their places, with stations where the bay has one."""
    listed = []
    for item, bay, spot in zip(found, bays, spots, strict=False):
        front = budget.bays[bay].station
        station_m = None if front is None else front.value + item.centre(spot.at[0], spot.size) / NM
        listed.append(Placed(item=item, bay=bay, spot=spot, station_m=station_m))
    return tuple(listed)


def _order(budget: Budget, bays: tuple[Space, ...], parts: tuple[Placed, ...], bay: int) -> tuple[Placed, ...] | None:
    inside = [each for each in parts if each.bay == bay]
    order = order_in(bays[bay], [each.spot for each in inside], budget.bays[bay].hatch.value)
    return None if order is None else tuple(inside[index] for index in order)


def too_large(part: GearRow, bays: tuple[Space, ...] | None) -> bool:
    """Return whether a part goes into none of the bays, even alone; one that does not say its size may."""
    item = item_of("", part, Needs(Budget())) if bays else None
    return item is not None and not Sharing(bays or (), (), 0).homes(item.turns)


def size_mm(size: Size) -> tuple[float, float, float]:
    """Return extents in millimetres."""
    return (size[0] / 1e6, size[1] / 1e6, size[2] / 1e6)


def answer(budget: Budget, answers: Answers) -> Answered:  # noqa: ARG001 - it needs no other subject
    """Return whether the gear goes in."""
    found, missing = room(budget)
    return Answered(answer=found, missing={"room": missing} if missing else {})
