"""The long search for room, in steps that can be stopped: how far it has come is told in steps, not in seconds.

Where the gear goes in: of the packings found the one that needs the least lead, its stations as edits, and the smallest
bays for it. Where not: the least widening of each edge, the parts in the way, and parts of the box that go in instead.
"""

from collections.abc import Generator, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from calc.assess import Assessment, assess
from calc.changes.edits import Edit, edits
from calc.changes.moves import station_text
from calc.document.box import Box, Boxed, take
from calc.document.budget import Budget, read
from calc.document.paths import place, rows
from calc.subject import Needs
from calc.subjects.room.answer import RoomBlock, block_of, short_look
from calc.subjects.room.parts import MOST_PARTS, Item, item_of
from calc.subjects.room.slides import moment, nearest
from calc.subjects.room.spaces import Shared, Sharing, Space
from calc.subjects.room.widen import TRIAL, Widening, smallest, widenings
from calc.unit_system import UnitSystem

LONG = 400_000  # steps of the search for places
MOST_INSTEAD = 3  # parts of the box that are told


@dataclass(frozen=True, kw_only=True)
class Moved:
    """A row whose station the packing moves [m]; `before` is None where it had none."""

    item: Item
    before: float | None
    after: float


@dataclass(frozen=True, kw_only=True)
class Instead:
    """A part of the box that goes in where another one does not, and what would put it there.

    No edits where the row holds several parts: only one of them was tried.
    """

    item: Item
    name: str
    edits: tuple[Edit, ...]


@dataclass(frozen=True, kw_only=True)
class RoomFound:
    """What the long search came to. `lead_kg` is that of the budget as it is and with the stations of the packing."""

    block: RoomBlock
    system: UnitSystem
    least: tuple[Widening, ...] = ()
    in_the_way: tuple[Item, ...] = ()  # each alone left out lets the others in
    instead: tuple[Instead, ...] = ()
    smallest: tuple[tuple[int, Space], ...] = ()  # by bay
    moved: tuple[Moved, ...] = ()
    edits: tuple[Edit, ...] = ()
    lead_kg: tuple[float, float] | None = None
    document: Mapping[str, Any] = field(default_factory=dict)


Steps = Generator[int, None, RoomFound | None]


def find(document: object, box: Box | None = None, nodes: int = LONG) -> Steps:
    """Yield steps as they are taken, and return what the search came to; None where nothing is asked yet.

    Parameters
    ----------
    document : object
        A budget document of any shape.
    box : Box
        The visitor's parts, for what goes in instead.
    nodes : int
        Steps at most for the places; each further trial has its own bound.
    """
    source: Mapping[str, Any] = document if isinstance(document, Mapping) else {}
    budget = read(source).budget
    now = assess(budget)
    block = now.of(RoomBlock)
    if block is None:
        return None
    turns = [each.turns for each in block.items]
    shared = Shared(block.answer, tuple(each.bay for each in block.parts), tuple(each.spot for each in block.parts))
    if block.answer == "not_found" and len(turns) <= MOST_PARTS:
        shared = yield from Sharing(block.spaces, turns, nodes).search()
    block = block_of(budget, block.spaces, block.items, shared, complete=block.complete)
    system = UnitSystem.of(budget)
    if shared.answer == "fits":
        return (yield from _where(source, budget, now, block, shared))
    wide = yield from widenings(block.spaces, turns, shared) if len(turns) <= MOST_PARTS else _none()
    way = yield from _in_the_way(block)
    instead = tuple(_instead(source, block, way, box or Box()))
    return RoomFound(block=block, system=system, least=wide, in_the_way=way, instead=instead, document=source)


def _none() -> Generator[int, None, tuple[Widening, ...]]:
    yield from ()
    return ()


def _in_the_way(block: RoomBlock) -> Generator[int, None, tuple[Item, ...]]:
    """Yield steps, and return the parts each of which keeps the others out."""
    found = []
    for item in dict.fromkeys(block.items):
        left = [*block.items]
        left.remove(item)
        come = yield from Sharing(block.spaces, [each.turns for each in left], TRIAL).search()
        if left and come.answer == "fits":
            found.append(item)
    return tuple(found)


def _instead(source: Mapping[str, Any], block: RoomBlock, way: Iterable[Item], box: Box) -> Iterator[Instead]:
    """Yield parts of the box of the kind of a part in the way with which all go in."""
    for item in way:
        others = list(block.items)
        others.remove(item)
        told = 0
        for boxed in sorted(box.parts, key=_first):
            part = _boxed_item(item, boxed)
            if part is None or told >= MOST_INSTEAD:
                continue
            if short_look(block.spaces, tuple(each.turns for each in (*others, part))).answer == "fits":
                told += 1
                alone = all(each.path != item.path for each in others)
                changed = take(source, boxed.document, item.path, box.units) if alone else source
                yield Instead(item=item, name=part.name, edits=tuple(edits(source, changed)))


def _first(boxed: Boxed) -> tuple[float, float]:
    """Return by what parts are sorted: of cells the largest first, of others the lightest."""
    part = boxed.part
    capacity = 0.0 if part.capacity is None else part.capacity.value
    return -capacity, part.mass.value if part.mass is not None else float("inf")


def _boxed_item(item: Item, boxed: Boxed) -> Item | None:
    """Return a part of the box as one to put in the place of another; None if it is of another kind, or has no size."""
    if boxed.problems or boxed.part.kind.value != item.kind:
        return None
    return item_of(item.path, boxed.part, Needs(Budget()))


def _where(source: Mapping[str, Any], budget: Budget, now: Assessment, block: RoomBlock, shared: Shared) -> Steps:
    """Yield steps, and return the packing that balances best, with the smallest bays for what is in each."""
    balanced = _balanced(source, budget, block, shared)
    found = block_of(budget, block.spaces, block.items, balanced, complete=block.complete)
    small = []
    for bay, space in enumerate(block.spaces):
        inside = [item.turns for item, each in zip(block.items, balanced.bays, strict=True) if each == bay]
        if inside:
            small.append((bay, (yield from smallest(space, inside))))
    changed = with_stations(source, budget, found)
    after = assess(read(changed).budget)
    return RoomFound(
        block=found,
        system=UnitSystem.of(budget),
        smallest=tuple(small),
        moved=tuple(_moved(budget, found)),
        edits=tuple(edits(source, changed)),
        lead_kg=None if now.lead_open or after.lead_open or now.balance is None else (now.lead_kg, after.lead_kg),
        document=changed,
    )


def _balanced(source: Mapping[str, Any], budget: Budget, block: RoomBlock, shared: Shared) -> Shared:
    """Return the packing found that needs the least lead; as it is where the balance is not known.

    Bay by bay the moment about the datum is brought as near as it goes to what balances the model.
    """
    spots = list(shared.spots)
    found = assess(read(with_stations(source, budget, block)).budget)
    balance = found.balance
    if balance is None or balance.off_m is None or any(each.station_m is None for each in block.parts):
        return shared
    counts = {row.path: sum(each.path == row.path for each in block.items) for row in found.rows}
    mass = {row.path: row.mass.expected_kg / max(counts[row.path], 1) for row in found.rows}
    left = -balance.mass_kg * balance.off_m * 1e9  # kg nm that the parts should move by
    for bay, space in enumerate(block.spaces):
        inside = [index for index, each in enumerate(shared.bays) if each == bay]
        weights = [mass.get(block.items[index].path, 0.0) for index in inside]
        before = [spots[index] for index in inside]
        wanted = left + moment(before, weights)
        after = nearest(space, [block.items[index].turns for index in inside], before, weights, wanted)
        left = wanted - moment(after, weights)
        for index, spot in zip(inside, after, strict=True):
            spots[index] = spot
    return Shared("fits", shared.bays, tuple(spots))


def stations(block: RoomBlock) -> dict[str, float]:
    """Return the station of each row whose parts lie where it is known [m]: the mean of its parts."""
    by_row: dict[str, list[float]] = {}
    for part in block.parts:
        if part.station_m is not None:
            by_row.setdefault(part.item.path, []).append(part.station_m)
    return {path: sum(each) / len(each) for path, each in by_row.items()}


def with_stations(source: Mapping[str, Any], budget: Budget, block: RoomBlock) -> dict[str, Any]:
    """Return a document in which every row stands where it lies, to a millimetre, in the unit of its system."""
    changed, unit = dict(source), UnitSystem.of(budget).label("length")
    listed = rows(source)
    for path, at_m in stations(block).items():
        text = station_text(at_m, unit, -2.0, 5.0)[0]
        index = place(path).row
        if index is None:
            changed["cell"] = {**source["cell"], "station": text}
        else:
            listed[index] = {**listed[index], "station": text}
    return {**changed, "gear": listed} if listed else changed


def _moved(budget: Budget, block: RoomBlock) -> Iterator[Moved]:
    by_path = {each.path: each for each in block.items}
    for path, after in stations(block).items():
        part = budget.part(path)
        station = None if part is None else part.station
        yield Moved(item=by_path[path], before=None if station is None else station.value, after=after)


def in_one_go(steps: Steps) -> RoomFound | None:
    """Return what a search comes to."""
    while True:
        try:
            next(steps)
        except StopIteration as ended:
            found: RoomFound | None = ended.value
            return found
