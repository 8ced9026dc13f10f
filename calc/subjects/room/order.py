"""In which order parts go into a bay from its hatch: the last one in is the first that has a free straight way out."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from calc.subjects.room.boxes import Spot
from calc.subjects.room.hatch import OUT, nearness, order_through
from calc.vocabulary import HatchSide

if TYPE_CHECKING:
    from calc.subjects.room.spaces import Space


def order_in(space: "Space", spots: Sequence[Spot], hatch: HatchSide) -> tuple[int, ...] | None:
    """Return parts in the order in which they go in; None where one has no straight way.

    Parameters
    ----------
    space : Space
        The bay; its whole side is open, of a tapered one the end as it is, unless its hatch has a size.
    spots : sequence of Spot
        Where the parts lie.
    hatch : HatchSide
        The side that is open.

    Examples
    --------
    >>> from calc.subjects.room.spaces import Space
    >>> bay = Space(size=(2, 1, 1))
    >>> order_in(bay, [Spot((0, 0, 0), (1, 1, 1)), Spot((1, 0, 0), (1, 1, 1))], "front")
    (1, 0)
    """
    axis, way = OUT[hatch]
    if space.kind == "tapered" and axis == 0 and not all(_through(space, each, way) for each in spots):
        return None
    if space.opening is not None:
        return order_through(space.kind, space.around, space.opening, spots)
    nearest = sorted(range(len(spots)), key=lambda index: (nearness(spots[index], axis, way), index))
    return tuple(nearest)


def _through(space: "Space", spot: Spot, way: int) -> bool:
    """Return whether a part goes straight through an end of a tapered bay."""
    end = space.size[1:] if way < 0 else space.back
    wide = space.taper.widest
    low = [(wide[axis] - end[axis]) // 2 for axis in (0, 1)]
    return all(
        spot.at[axis + 1] >= low[axis] and spot.at[axis + 1] + spot.size[axis + 1] <= low[axis] + end[axis]
        for axis in (0, 1)
    )
