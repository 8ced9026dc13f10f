"""Where the parts lie: side view, top view and, of a tube, its section. Numbers to geometry in mm, no markup."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from calc.subjects.room.answer import Placed, RoomBlock
from calc.subjects.room.spaces import Space
from calc.subjects.room.words import lengths
from calc.unit_system import UnitSystem

MM = 1e6
VIEWS = {"from the side": (0, 2), "from above": (0, 1), "from behind": (1, 2)}  # which axes go across and up the paper


@dataclass(frozen=True, kw_only=True)
class Part:
    """One part: corner and extents [mm] from the picture's upper left, its number in the gear, its title."""

    x: float
    y: float
    width: float
    height: float
    label: str
    title: str


@dataclass(frozen=True, kw_only=True)
class Picture:
    """One view of one bay to scale [mm]: its outline as corners, or round; front at the left."""

    title: str
    width: float
    height: float
    outline: str
    round: bool
    parts: tuple[Part, ...]
    size: str  # inside, in words


def pictures(block: RoomBlock, numbers: Mapping[str, int], system: UnitSystem) -> Iterator[Picture]:
    """Yield the views of each bay in which something lies."""
    for bay, (name, space) in enumerate(zip(block.bays, block.spaces, strict=True)):
        inside = [each for each in block.parts if each.bay == bay]
        for view, axes in VIEWS.items() if inside else ():
            if view != "from behind" or space.kind == "tube":
                yield _picture(f"{name}, {view}", space, inside, axes, numbers, system)


def _around(space: Space) -> tuple[int, int, int]:
    width, height = space.taper.widest
    return (space.size[0], width, height)


def _picture(
    title: str, space: Space, inside: Sequence[Placed], axes: tuple[int, int], numbers: Mapping[str, int],
    system: UnitSystem,
) -> Picture:  # fmt: skip
    across, up = axes
    around = _around(space)
    wide, high = around[across] / MM, around[up] / MM
    parts = tuple(
        Part(
            x=_mm(each.spot.at[across]),
            y=_mm(around[up] - each.spot.at[up] - each.spot.size[up]) if up == 2 else _mm(each.spot.at[up]),
            width=_mm(each.spot.size[across]),
            height=_mm(each.spot.size[up]),
            label=str(numbers.get(each.item.path, "")),
            title=f"{each.item.name}, {lengths(each.spot.size, system)}",
        )
        for each in inside
    )
    return Picture(
        title=title,
        width=round(wide, 3),
        height=round(high, 3),
        outline=_outline(space, axes, wide, high),
        round=space.kind == "tube" and across == 1,
        parts=parts,
        size=lengths((around[across], around[up]), system),
    )


def _mm(nm: int) -> float:
    return round(nm / MM, 3)


def _outline(space: Space, axes: tuple[int, int], wide: float, high: float) -> str:
    """Return the corners of the inside: of a tapered bay two ends, each in the middle of the picture's height."""
    across, up = axes
    taper = space.taper
    front, back = (taper.front[up - 1] / MM, taper.back[up - 1] / MM) if across == 0 else (high, high)
    corners = [
        (0.0, (high - front) / 2.0), (wide, (high - back) / 2.0),
        (wide, (high + back) / 2.0), (0.0, (high + front) / 2.0),
    ]  # fmt: skip
    return " ".join(f"{round(x, 3):g},{round(y, 3):g}" for x, y in corners)
