"""Which of the packings found balances best: mirrored, packed in other orders, and slid along the bay as a whole.

Parts that lie between their foremost and hindmost places, all at the same share of the way, keep clear of each other:
each pair that must stay in order along the bay does so at both ends, and so in between.
"""

from collections.abc import Sequence

from calc.subjects.room.boxes import Spot, Turns
from calc.subjects.room.order import order_in
from calc.subjects.room.spaces import Space, other_ways

Weights = Sequence[float]  # mass of each part


def ends(space: Space, spots: Sequence[Spot]) -> tuple[tuple[Spot, ...], tuple[Spot, ...]]:
    """Return parts pushed to the front of a bay and to its back, in the same order; of a tapered bay as they are."""
    if space.kind == "tapered":
        return tuple(spots), tuple(spots)
    front = _pushed(space, spots)
    mirrored = [Spot((space.size[0] - each.at[0] - each.size[0], *each.at[1:]), each.size) for each in spots]
    back = _pushed(space, mirrored)
    return front, tuple(Spot((space.size[0] - each.at[0] - each.size[0], *each.at[1:]), each.size) for each in back)


def _pushed(space: Space, spots: Sequence[Spot]) -> tuple[Spot, ...]:
    done: dict[int, Spot] = {}
    for index in sorted(range(len(spots)), key=lambda each: spots[each].at[0]):
        spot = spots[index]
        behind = [each.at[0] + each.size[0] + space.gap for each in done.values() if _in_line(each, spot, space.gap)]
        done[index] = Spot((max([space.wall, *behind]), *spot.at[1:]), spot.size)
    return tuple(done[index] for index in range(len(spots)))


def _in_line(one: Spot, other: Spot, gap: int) -> bool:
    """Return whether one part keeps the other from passing it along the bay."""
    return all(
        one.at[axis] < other.at[axis] + other.size[axis] + gap and other.at[axis] < one.at[axis] + one.size[axis] + gap
        for axis in (1, 2)
    )


def moment(spots: Sequence[Spot], masses: Weights) -> float:
    """Return the moment about the front of the bay, each part at the middle of its room [kg nm]."""
    return sum(mass * (spot.at[0] + spot.size[0] / 2.0) for spot, mass in zip(spots, masses, strict=True))


def nearest(
    space: Space, parts: Sequence[Turns], spots: Sequence[Spot], masses: Weights, wanted: float
) -> tuple[Spot, ...]:
    """Return the packing of a bay whose moment [kg nm] comes nearest to the one wanted, slid along for that.

    Where the hatch has a size, only those that go in through it.
    """
    best, off = tuple(spots), abs(moment(spots, masses) - wanted)
    for each in other_ways(space, parts, spots):
        front, back = ends(space, each)
        low, high = moment(front, masses), moment(back, masses)
        share = min(max((wanted - low) / (high - low), 0.0), 1.0) if high > low else 0.0
        slid = tuple(_between(one, other, share) for one, other in zip(front, back, strict=True))
        hatch = space.opening
        barred = hatch is not None and order_in(space, slid, hatch.side) is None
        if abs(moment(slid, masses) - wanted) < off - 1e-9 and not barred:
            best, off = slid, abs(moment(slid, masses) - wanted)
    return best


def _between(one: Spot, other: Spot, share: float) -> Spot:
    """Return a place between two, to a thousandth of the way, so that whole steps keep parts clear of each other."""
    thousandths = round(1000 * share)
    return Spot((one.at[0] + (other.at[0] - one.at[0]) * thousandths // 1000, *one.at[1:]), one.size)
