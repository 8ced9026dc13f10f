"""A bay as the search takes it, and whether a set of parts goes into it, or into several."""

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Literal

from calc.subjects.room.boxes import NOT_FOUND, Packed, Search, Size, Spot, Turns, volume
from calc.subjects.room.corners import tries
from calc.subjects.room.hatch import Opening
from calc.subjects.room.order import order_in
from calc.subjects.room.pack import pack
from calc.subjects.room.tapered import Taper, tapered
from calc.subjects.room.tube import tube
from calc.vocabulary import BayKind

Edge = Literal["length", "width", "height"]
EDGES: tuple[Edge, ...] = ("length", "width", "height")
ALONE = 1000  # steps for one part
A_SET = 20  # steps that looking at a set of parts takes besides, for each of them
TRIES = 60  # orders packed anew for one that goes in through the hatch


@dataclass(frozen=True, kw_only=True)
class Space:
    """A bay [nm]: of a tube the width is the bore; back sections of a tapered bay alone."""

    kind: BayKind = "box"
    size: Size
    back: tuple[int, int] = (0, 0)  # width and height
    gap: int = 0  # between parts
    wall: int = 0  # to the walls
    opening: Opening | None = None  # None: the whole side

    def wider(self, edge: Edge, by: int) -> "Space":
        """Return the bay longer, wider or higher; the bore and both sections of a tapered bay alike."""
        bore = self.kind == "tube" and edge == "width"
        grown = [each + by * (edge == name) for each, name in zip(self.size, EDGES, strict=True)]
        grown[2] += by * bore  # as wide as high
        back = (self.back[0] + by * (edge == "width"), self.back[1] + by * (edge == "height"))
        return replace(self, size=(grown[0], grown[1], grown[2]), back=back)

    @property
    def edges(self) -> tuple[Edge, ...]:
        """What can be made wider: a tube has a length and a bore, which is its width."""
        return EDGES[:2] if self.kind == "tube" else EDGES

    @property
    def around(self) -> Size:
        """The box around it."""
        return (self.size[0], *self.taper.widest)

    def volume(self) -> float:
        """Return the volume inside, of a tube that of the box around it, of a tapered bay by its middle [nm³]."""
        front, back = self.taper.front, self.taper.back
        return self.size[0] * (front[0] + back[0]) * (front[1] + back[1]) / 4

    @property
    def taper(self) -> Taper:
        """The bay as a tapered one."""
        back = self.back if self.kind == "tapered" else self.size[1:]
        return Taper(length=self.size[0], front=self.size[1:], back=back, wall=self.wall)


def into(space: Space, parts: Sequence[Turns], nodes: int) -> Search:
    """Yield steps as they are taken, and return whether parts go into a bay, with clearance; spots from its corner.

    Where the hatch has a size they must go in through it, or they are not found to: see `hatch`. Parameters are those
    of `lies`.
    """
    if space.opening is None or not parts:
        return (yield from lies(space, parts, nodes))
    passing = [space.opening.through(turns, space.around) for turns in parts]
    found = (yield from lies(space, passing, nodes)) if all(passing) else NOT_FOUND
    if found.answer == "fits":
        for spots in other_ways(space, passing, found.spots):
            yield 1
            if order_in(space, spots, space.opening.side) is not None:
                return Packed("fits", spots)
        return NOT_FOUND
    if passing != list(parts):
        found = yield from lies(space, parts, nodes)
    return found if found.answer == "cannot" else NOT_FOUND


def other_ways(space: Space, parts: Sequence[Turns], spots: Sequence[Spot]) -> Iterator[tuple[Spot, ...]]:
    """Yield ways in which parts lie in a bay: as found, end for end, and of a box some packed in other orders."""
    yield tuple(spots)
    if space.kind == "tapered":
        return
    yield tuple(Spot((space.size[0] - each.at[0] - each.size[0], *each.at[1:]), each.size) for each in spots)
    if space.kind == "box":
        grown = [tuple((a + space.gap, b + space.gap, c + space.gap) for a, b, c in turns) for turns in parts]
        x, y, z = (each - 2 * space.wall + space.gap for each in space.size)
        for found, _ in islice(tries(grown, (x, y, z)), TRIES):
            if len(found) == len(parts):
                packed = Packed("fits", tuple(found[index] for index in range(len(parts))))
                yield _moved(packed, space.wall, space.gap).spots


def lies(space: Space, parts: Sequence[Turns], nodes: int) -> Search:
    """Yield steps as they are taken, and return whether parts lie in a bay, however they got there.

    Parameters
    ----------
    space : Space
        The bay.
    parts : sequence of Turns
        The ways in which each may lie [nm], its plug with it.
    nodes : int
        Steps at most, but for those between two signs of progress.
    """
    length, width, height = (each - 2 * space.wall for each in space.size)
    if not parts:
        return Packed("fits")
    if space.kind == "tapered":
        if min(length, *space.taper.around) <= 0:
            return Packed("cannot")
        return (yield from tapered(parts, space.taper, space.gap, nodes))
    if space.kind == "tube":
        if min(length, width) <= 0:
            return Packed("cannot")
        return _moved((yield from tube(parts, width, length, space.gap, nodes)), space.wall, 0)
    gap = space.gap
    grown = [tuple((x + gap, y + gap, z + gap) for x, y, z in turns) for turns in parts]
    room = (length + gap, width + gap, height + gap)
    return _moved((yield from pack(grown, room, nodes)), space.wall, gap)


def alone(space: Space, turns: Turns) -> bool:
    """Return whether a part goes into an empty bay, lying square to it."""
    search = into(space, [turns], ALONE)
    while True:
        try:
            next(search)
        except StopIteration as ended:
            return bool(ended.value.answer != "cannot")


def _through(space: Space, turns: Turns) -> bool:
    passing = turns if space.opening is None else space.opening.through(turns, space.around)
    return bool(passing) and alone(replace(space, opening=None), passing)


def _moved(found: Packed, wall: int, gap: int) -> Packed:
    spots = (
        Spot((x + wall, y + wall, z + wall), (a - gap, b - gap, c - gap))
        for (x, y, z), (a, b, c) in ((each.at, each.size) for each in found.spots)
    )
    return Packed(found.answer, tuple(spots))


@dataclass(frozen=True)
class Shared:
    """An answer for several bays: for `fits` the bay of each part and where it lies there."""

    answer: Literal["fits", "cannot", "not_found"]
    bays: tuple[int, ...] = ()
    spots: tuple[Spot, ...] = ()


SharedSearch = Generator[int, None, Shared]
SomeSearch = Generator[int, None, Shared | None]


class Sharing:
    """Which part goes into which bay: the largest first, bay by bay; sets that were tried are not tried again."""

    def __init__(self, spaces: Sequence[Space], parts: Sequence[Turns], nodes: int) -> None:
        self.spaces, self.parts, self.left = spaces, parts, nodes
        self.order = sorted(range(len(parts)), key=lambda index: -volume(parts[index]))
        self.known: dict[tuple[int, tuple[Turns, ...]], Packed] = {}
        self.each = max(nodes // 10, 1) if len(spaces) > 1 else nodes
        self.unsure = False

    def search(self) -> SharedSearch:
        """Yield steps as they are taken, and return the answer."""
        if len(self.spaces) == 1:
            packed = yield from into(self.spaces[0], self.parts, self.left)
            return Shared(packed.answer, (0,) * len(packed.spots), packed.spots)
        if any(turns for turns in self.parts if not self.homes(turns)) or self._too_much():
            return Shared("cannot")
        found = yield from self._next([[] for _ in self.spaces])
        if found is None:
            return Shared("not_found" if self.unsure else "cannot")
        return found

    def homes(self, turns: Turns) -> tuple[int, ...]:
        """Return the bays that a part goes into alone; that takes no search."""
        return tuple(bay for bay, space in enumerate(self.spaces) if alone(space, turns))

    def barred(self, turns: Turns) -> bool:
        """Return whether a part lies in a bay alone, but goes straight through no hatch of such a bay."""
        bays = [self.spaces[bay] for bay in self.homes(turns)]
        return bool(bays) and not any(_through(space, turns) for space in bays)

    def _too_much(self) -> bool:
        """Return whether the parts are more than all the bays hold."""
        held = sum(volume((space.around,)) for space in self.spaces)
        return sum(volume(turns) for turns in self.parts) > held

    def _next(self, held: list[list[int]]) -> SomeSearch:
        done = sum(len(each) for each in held)
        if done == len(self.order):
            return (yield from self._told(held))
        for bay in range(len(self.spaces)):
            if self.left <= 0:
                self.unsure = True
                return None
            tried = [*held[bay], self.order[done]]
            packed = yield from self._packed(bay, tried)
            self.unsure = self.unsure or packed.answer == "not_found"
            if packed.answer == "fits":
                found = yield from self._next([tried if each == bay else held[each] for each in range(len(held))])
                if found is not None:
                    return found
        return None

    def _packed(self, bay: int, members: Sequence[int]) -> Search:
        key = (bay, tuple(self.parts[each] for each in members))
        if key not in self.known:
            search = into(self.spaces[bay], key[1], self.each)
            while key not in self.known:
                try:
                    steps = next(search)
                    self.left -= steps
                    yield steps
                except StopIteration as ended:
                    self.known[key] = ended.value
            self.left -= A_SET * len(members)
        return self.known[key]

    def _told(self, held: list[list[int]]) -> SomeSearch:
        bays: dict[int, tuple[int, Spot]] = {}
        for bay, members in enumerate(held):
            packed = yield from self._packed(bay, members)
            bays |= {part: (bay, spot) for part, spot in zip(members, packed.spots, strict=True)}
        listed = [bays[index] for index in range(len(self.parts))]
        return Shared("fits", tuple(bay for bay, _ in listed), tuple(spot for _, spot in listed))
