"""The parts and the bays of a budget in whole nanometres, and what of them is missing."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations

from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.document.fields import Entry
from calc.subject import Needs
from calc.subjects.room.boxes import Size, Turns
from calc.subjects.room.entries import Bay
from calc.subjects.room.hatch import Opening
from calc.subjects.room.spaces import Space

NM = 1e9
EDGES = ("length", "width", "height")
ASKED = (*EDGES, "plug_side", "plug_length", "lies")
OF_A_BAY = ("name", "kind", "gap", "wall", "hatch", "hatch_from", "hatch_to", "hatch_width", "station")
OF_A_ROW = (*ASKED, "count", "off")
PLUG_AT = {"end": 0, "side": 1, "top": 2}
OUTSIDE = ("linkage",)  # runs through the model; counted only where somebody tells its sizes
MOST_PARTS = 40


@dataclass(frozen=True)
class Item:
    """One part: its row, what it is called, how it may lie with its plug, and its edges without one [nm]."""

    path: str
    kind: str
    name: str
    turns: Turns
    body: Size
    plug: Size  # what the plug adds to each edge

    def centre(self, at: int, size: Size) -> float:
        """Return where along the bay the middle of its body lies, its plug behind it [nm]."""
        edges = [a + b for a, b in zip(self.body, self.plug, strict=True)]
        ways = [order for order in permutations(range(3)) if tuple(edges[axis] for axis in order) == size]
        behind = min((self.plug[order[0]] for order in ways), default=0)
        return at + (size[0] - behind) / 2.0


def nm(length_m: float) -> int:
    """Return a length in whole nanometres.

    Examples
    --------
    >>> nm(0.0254), nm(0.0015875)
    (25400000, 1587500)
    """
    return round(length_m * NM)


def part_turns(edges: Size, lies: str) -> Turns:
    """Return the ways in which a part may lie, each as its extents fore and aft, across, and up.

    Examples
    --------
    >>> part_turns((3, 2, 1), "upright"), part_turns((3, 2, 1), "as given")
    (((3, 2, 1), (2, 3, 1)), ((3, 2, 1),))
    """
    length, width, height = edges
    if lies == "any":
        ways = ((edges[a], edges[b], edges[c]) for a, b, c in permutations(range(3)))
        return tuple(dict.fromkeys(ways))
    other: dict[str, Size] = {"upright": (width, length, height), "along": (length, height, width)}
    return tuple(dict.fromkeys([edges, other.get(lies, edges)]))


def items(budget: Budget, needs: Needs) -> Iterator[Item]:
    """Yield every part that is to go into a bay; rows that do not say how large they are are noted."""
    needs.sound("gear")
    for index, row in enumerate(budget.gear):
        path = f"gear.{index}"
        sound = needs.sound(*(f"{path}.{key}" for key in OF_A_ROW))
        if row.off.value or not sound:
            continue
        found = item_of(path, row, needs)
        yield from () if found is None else [found] * row.count.value
    cell = budget.cell
    if cell is not None and needs.sound(*(f"cell.{key}" for key in ASKED)):
        found = item_of("cell", cell, needs)
        yield from () if found is None else [found]


def item_of(path: str, part: GearRow | Cell, needs: Needs) -> Item | None:
    """Return a part, None where it goes into no bay or does not say its sizes."""
    edges = [part.length, part.width, part.height]
    told = [each for each in edges if each is not None]
    kind = "cell" if isinstance(part, Cell) else part.kind.value
    if part.lies.value == "outside":
        return None
    if len(told) < len(edges):
        if told or kind not in OUTSIDE:
            needs.note(*(f"{path}.{key}" for key, each in zip(EDGES, edges, strict=True) if each is None))
        return None
    plug = [0, 0, 0]
    plug[PLUG_AT[part.plug_side.value]] = 0 if part.plug_length is None else nm(part.plug_length.value)
    length, width, height = (nm(each.value) for each in told)
    with_plug = (length + plug[0], width + plug[1], height + plug[2])
    return Item(path, kind, part.called, part_turns(with_plug, part.lies.value), (length, width, height),
                (plug[0], plug[1], plug[2]))  # fmt: skip


def spaces(budget: Budget, needs: Needs) -> tuple[Space, ...] | None:
    """Return the bays; None where one cannot be worked out."""
    needs.sound("bays")
    found = [_space(f"bays.{index}", bay, needs) for index, bay in enumerate(budget.bays)]
    sure = tuple(each for each in found if each is not None)
    return sure if sure and len(sure) == len(found) else None


def _space(path: str, bay: Bay, needs: Needs) -> Space | None:
    sound = needs.sound(path, *(f"{path}.{key}" for key in OF_A_BAY))
    wanted = {"box": EDGES, "tube": EDGES[:2], "tapered": (*EDGES, "back_width", "back_height")}[bay.kind.value]
    entries: list[Entry[float] | None] = [getattr(bay, key) for key in wanted]
    values = [needs.must(f"{path}.{key}", entry) for key, entry in zip(wanted, entries, strict=True)]
    sizes = [nm(each) for each in values if each is not None]
    if len(sizes) < len(values) or not sound:
        return None
    length, width, height, *back = sizes if len(sizes) > 2 else [*sizes, sizes[1]]
    return Space(
        kind=bay.kind.value,
        size=(length, width, height),
        back=(back[0], back[1]) if back else (0, 0),
        gap=nm(bay.gap.value),
        wall=nm(bay.wall.value),
        opening=_opening(bay),
    )


def _opening(bay: Bay) -> Opening | None:
    """Return the hatch where it has a size; where in its length one in an end is, makes no sense and is not taken."""
    ends = bay.hatch.value in ("front", "back")
    begin, end = (None, None) if ends else (bay.hatch_from, bay.hatch_to)
    if begin is None and end is None and bay.hatch_width is None:
        return None
    return Opening(
        side=bay.hatch.value,
        begin=0 if begin is None else nm(begin.value),
        end=None if end is None else nm(end.value),
        wide=None if bay.hatch_width is None else nm(bay.hatch_width.value),
    )
