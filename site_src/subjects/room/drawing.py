"""Where the parts lie: side view, top view and, of a tube, its section. Numbers to geometry in mm, no markup.

Letters and dimension lines are placed in hundredths of a view, so that they are as large as those of the page.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import Any

from calc.subjects.room.answer import Placed, RoomBlock
from calc.subjects.room.hatch import OUT
from calc.subjects.room.spaces import Space
from calc.subjects.room.words import lengths
from calc.unit_system import UnitSystem

MM = 1e6
PAPER_MM = 165.0  # a view longer than that is drawn smaller on the sheet
NUMBER_MM = 4.0  # how high a number is, at most
VIEWS = {"from the side": (0, 2), "from above": (0, 1), "from behind": (1, 2)}  # which axes go across and up the paper


@dataclass(frozen=True, kw_only=True)
class Part:
    """One part: corner and extents [mm] from the picture's upper left, its number in the gear and where, its title."""

    x: float
    y: float
    width: float
    height: float
    label: str
    label_x: float
    label_y: float
    title: str


@dataclass(frozen=True, kw_only=True)
class Dimension:
    """A dimension line along a side of a view: from where to where [% of it], and what it says."""

    start: float
    end: float
    text: str

    @property
    def middle(self) -> float:
        """Where its text stands [%]."""
        return round((self.start + self.end) / 2.0, 2)

    @property
    def anchor(self) -> str:
        """At which end of the text that is: near an end of the view it runs inwards."""
        return "start" if self.middle < 30.0 else "end" if self.middle > 70.0 else "middle"


@dataclass(frozen=True, kw_only=True)
class Listed:
    """A part in the table beside the views: its number, name, size as it lies, and where its front end is."""

    number: str
    name: str
    size: str
    behind: str  # the front of the bay
    station: str  # of its middle, from the nose; empty where it is not known


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
    across: Dimension
    up: Dimension | None  # at the right; None of a section that is round
    up_front: Dimension | None  # at the left, of a bay that tapers
    hatch: Dimension | None  # where along the bay it is
    opening: str  # the hatch as an SVG path; empty where it is the whole side
    table: tuple[Listed, ...] = ()  # of the bay, with its last view

    @property
    def too_long(self) -> bool:
        """Whether it does not go onto the sheet as large as it is."""
        return self.width > PAPER_MM


def pictures(block: RoomBlock, numbers: Mapping[str, int], system: UnitSystem) -> Iterator[Picture]:
    """Yield the views of each bay in which something lies."""
    for bay, (name, space) in enumerate(zip(block.bays, block.spaces, strict=True)):
        inside = [each for each in block.parts if each.bay == bay]
        views = [view for view in VIEWS if inside and (view != "from behind" or space.kind == "tube")]
        for view in views:
            table = tuple(_listed(inside, numbers, system)) if view == views[-1] else ()
            yield replace(_picture(f"{name}, {view}", space, inside, VIEWS[view], numbers, system), table=table)


def _listed(inside: Sequence[Placed], numbers: Mapping[str, int], system: UnitSystem) -> Iterator[Listed]:
    """Yield the parts of a bay from its front."""
    for each in sorted(inside, key=lambda part: part.spot.at[0]):
        station = "" if each.station_m is None else lengths([round(each.station_m * 1e9)], system)
        yield Listed(
            number=str(numbers.get(each.item.path, "")), name=each.item.name, size=lengths(each.spot.size, system),
            behind=lengths([each.spot.at[0]], system), station=station,
        )  # fmt: skip


def _picture(
    title: str, space: Space, inside: Sequence[Placed], axes: tuple[int, int], numbers: Mapping[str, int],
    system: UnitSystem,
) -> Picture:  # fmt: skip
    across, up = axes
    around = space.around
    wide, high = around[across] / MM, around[up] / MM
    parts: list[Part] = []
    for each in inside:
        x, width, height = (_mm(each.spot.at[across]), _mm(each.spot.size[across]), _mm(each.spot.size[up]))
        y = _mm(around[up] - each.spot.at[up] - each.spot.size[up]) if up == 2 else _mm(each.spot.at[up])
        label_x, label_y = _clear(x, y, width, height, parts)
        label, named = str(numbers.get(each.item.path, "")), f"{each.item.name}, {lengths(each.spot.size, system)}"
        parts.append(
            Part(x=x, y=y, width=width, height=height, label=label, label_x=label_x, label_y=label_y, title=named)
        )
    return Picture(
        title=title,
        width=round(wide, 3),
        height=round(high, 3),
        outline=_outline(space, axes, wide, high),
        round=space.kind == "tube" and across == 1,
        parts=tuple(parts),
        size=lengths((around[across], around[up]), system),
        **_dimensions(space, axes, system),
    )


def _dimensions(space: Space, axes: tuple[int, int], system: UnitSystem) -> dict[str, Any]:
    """Return the dimension lines of a view, and its hatch."""
    across, up = axes
    around = space.around
    rounded = space.kind == "tube" and across == 1
    bore = "⌀ " if space.kind == "tube" else ""
    front, back = (space.taper.front[up - 1], space.taper.back[up - 1]) if across == 0 else (around[up], around[up])

    def upright(high: int) -> Dimension:
        half = 50.0 * high / around[up]
        return Dimension(start=round(50.0 - half, 2), end=round(50.0 + half, 2), text=bore + lengths([high], system))

    length = lengths([around[across]], system)
    return {
        "across": Dimension(start=0.0, end=100.0, text=bore + length if rounded else length),
        "up": None if rounded else upright(back),
        "up_front": upright(front) if front != back else None,
        "hatch": _hatch(space, system) if across == 0 else None,
        "opening": _opening(space, axes),
    }


def _hatch(space: Space, system: UnitSystem) -> Dimension | None:
    """Return where along the bay the hatch is; None where it is an end, or has no place."""
    if space.opening is None or OUT[space.opening.side][0] == 0:
        return None
    low, high = (each[0] for each in space.opening.limits(space.around))
    if not 0 <= low < high:
        return None
    unit = system.label("length")
    begin = lengths([low], system).removesuffix(unit).strip()
    start, end = (round(100.0 * each / space.size[0], 2) for each in (low, high))
    return Dimension(start=start, end=end, text=f"hatch {begin} to {lengths([high], system)}")


def _opening(space: Space, axes: tuple[int, int]) -> str:
    """Return the hatch in a view: a rectangle seen square to it, else a line along its side."""
    if space.opening is None:
        return ""
    axis, way = OUT[space.opening.side]
    low, high = ([*each] for each in space.opening.limits(space.around))
    low[axis] = high[axis] = 0 if way < 0 else space.around[axis]
    across, up = axes
    x1, x2 = _mm(low[across]), _mm(high[across])
    y1, y2 = (_mm(space.around[2] - high[2]), _mm(space.around[2] - low[2])) if up == 2 else (_mm(low[1]), _mm(high[1]))
    return "" if x2 < x1 or y2 < y1 else f"M{x1:g} {y1:g}H{x2:g}V{y2:g}H{x1:g}Z"


def _clear(x: float, y: float, width: float, height: float, before: Sequence[Part]) -> tuple[float, float]:
    """Return the place in a part that is farthest from the numbers before it: parts lie behind each other."""
    shares = (0.5, 0.2, 0.8)
    spots = [(round(x + width * across, 3), round(y + height * up, 3)) for up in shares for across in shares]

    def free(spot: tuple[float, float]) -> float:
        return min((hypot(spot[0] - each.label_x, spot[1] - each.label_y) for each in before), default=0.0)

    return max(spots, key=lambda spot: min(free(spot), NUMBER_MM * 1.5))  # the middle if that is clear


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
