"""The best sets among those that may go into the bays: what cannot is left out before it hides others, exactly.

Only what stands in the ranking is looked at. A set that is proved not to go in is a reason: those of its parts that are
enough for the proof, and with them every set with parts as large in the same places. The sets that are left without
them fall into regions, one for each of those places, and each region is searched anew; so a heavier set comes up that
was hidden. It goes on until nothing in the ranking is proved too large, or the work is at its bound, which is told.

    volume      more than the bays hold: reasons by volume, each place as much smaller as the rest allows
    places      the fewest parts that are still proved not to go in together
    as large    each way of lying of one part holds some way of lying of the other

Source: own reasoning; checked in the tests against every set, each looked at.
"""

from collections.abc import Callable, Generator, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from calc.document.budget import Budget
from calc.search.pareto import MOST_TIED, best_of
from calc.search.sets import Best, Progress, Way
from calc.search.slots import Choice, Task
from calc.subject import Needs
from calc.subjects.room.answer import short_look
from calc.subjects.room.boxes import Turns, volume
from calc.subjects.room.parts import item_of, items
from calc.subjects.room.spaces import Space

MOST_LOOKS = 600  # sets looked at
MOST_SEARCHES = 120  # regions searched
QUICK = 400  # steps for finding out which parts are enough for a proof
CELL = "cell"

Body = tuple[Turns, int]  # how a part may lie, and how many of it a place has
Reason = Mapping[str, Callable[[Body], bool]]  # by place, whether a part there is as large as the proof needs


@dataclass(frozen=True)
class Region:
    """Some of the sets: a family, which choices each of its slots may have, and which cells."""

    family: int
    picks: tuple[tuple[int, ...], ...]
    cells: tuple[int, ...]


@dataclass(frozen=True)
class Ranked:
    """The best sets, lightest first; how many were proved too large; whether all that are shown were looked at."""

    best: tuple[Best, ...]
    too_large: int
    complete: bool


def ranked(
    task: Task, budget: Budget, bays: tuple[Space, ...], first: tuple[Best, ...], most: int
) -> Generator[Progress, None, Ranked]:  # fmt: skip
    """Yield signs of progress, and return the best sets that are not proved too large for the bays.

    Parameters
    ----------
    task : Task
        What is searched.
    budget : Budget
        Whose rows stay where a slot has no part of the box.
    bays : sequence of Space
        The bays.
    first : tuple of Best
        The best sets of all.
    most : int
        How many from the top are looked at.
    """
    return (yield from _Ranking(task, budget, bays, first).run(most))


class _Ranking:
    def __init__(self, task: Task, budget: Budget, bays: tuple[Space, ...], first: tuple[Best, ...]) -> None:
        self.task, self.bays = task, bays
        self.bodies = _Bodies(task, budget)
        self.first: tuple[Best, ...] | None = first  # of all families together, until one of them is proved too large
        self.found: dict[Region, tuple[Best, ...]] = {}
        self.reasons: list[Reason] = []
        self.known: dict[Way, bool] = {}  # whether it may go in
        self.looks = self.searches = 0

    def run(self, most: int) -> Generator[Progress, None, Ranked]:
        """Yield signs of progress, and return the ranking."""
        complete = True
        while True:
            best = self.first or merged([each for found in self.found.values() for each in found])
            bad = yield from self._first_bad(best[:most])
            if bad is None or self.looks >= MOST_LOOKS or self.searches >= MOST_SEARCHES:
                complete = bad is None and self.looks < MOST_LOOKS
                break
            yield from self._every_family() if self.first else self._split(*bad)
        return Ranked(best, sum(not each for each in self.known.values()), complete)

    def _first_bad(self, best: Sequence[Best]) -> Generator[Progress, None, tuple[Way, Reason] | None]:
        """Return the first set that is proved too large, and why."""
        for way in (way for each in best for way in each.tied):
            if self.known.get(way):
                continue
            reason = next((each for each in self.reasons if self._has(way, each)), None)
            if reason is None and self.looks < MOST_LOOKS:
                yield self._progress()
                reason = yield from self._look(self.bodies.of(way))
            self.known[way] = reason is None
            if reason is not None:
                return way, reason
        return None

    def _progress(self) -> Progress:
        return Progress(done=0.9 + 0.1 * min(1.0, max(self.looks / MOST_LOOKS, self.searches / MOST_SEARCHES)))

    def _has(self, way: Way, reason: Reason) -> bool:
        bodies = self.bodies.of(way)
        return all(path in bodies and large(bodies[path]) for path, large in reason.items())

    def _look(self, bodies: Mapping[str, Body]) -> Generator[Progress, None, Reason | None]:
        """Return why parts cannot go in; None where that is not proved."""
        self.looks += 1
        reason = _by_volume(bodies, sum(volume((space.around,)) for space in self.bays))
        if reason is None and short_look(self.bays, _turns(bodies)).answer == "cannot":
            kept = dict(bodies)
            for path in sorted(bodies, key=lambda each: volume(bodies[each][0])):
                yield self._progress()
                fewer = {key: body for key, body in kept.items() if key != path}
                if fewer and short_look(self.bays, _turns(fewer), QUICK).answer == "cannot":
                    kept = fewer
            reason = {path: _as_large(body) for path, body in kept.items()}
        if reason is not None:
            self.reasons.append(reason)
        return reason

    def _every_family(self) -> Iterator[Progress]:
        """Search every family apart: what one hides of another may be too large."""
        self.first, cells = None, tuple(range(len(self.task.batteries)))
        for number, family in enumerate(self.task.families):
            region = Region(number, tuple(tuple(range(len(slot.choices))) for slot in family), cells)
            yield from self._search(region, cells)

    def _split(self, way: Way, reason: Reason) -> Iterator[Progress]:
        """Search what is left of the region of a set without those that have the reason."""
        family, picks, cell = way
        (region,) = (each for each in self.found if each.family == family and cell in each.cells
                     and all(pick in some for pick, some in zip(picks, each.picks, strict=True)))  # fmt: skip
        del self.found[region]
        slots = self.task.families[family]
        left = region
        for place, slot in enumerate(slots):
            if slot.path in reason:
                large = [pick for pick in left.picks[place]
                         if (body := self.bodies.body(slot.path, slot.choices[pick], slot.count))
                         and reason[slot.path](body)]  # fmt: skip
                small = tuple(pick for pick in left.picks[place] if pick not in large)
                yield from self._search(replace(left, picks=_put(left.picks, place, small)), small)
                left = replace(left, picks=_put(left.picks, place, tuple(large)))
        if CELL in reason:
            small = tuple(each for each in left.cells
                          if not ((body := self.bodies.body(CELL, self.task.batteries[each].cell, 1))
                                  and reason[CELL](body)))  # fmt: skip
            yield from self._search(replace(left, cells=small), small)

    def _search(self, region: Region, some: Sequence[int]) -> Iterator[Progress]:
        """Search a region; one in which a place has nothing left holds no set."""
        if not some:
            return
        self.searches += 1
        family = self.task.option_families[region.family]
        options = tuple(tuple(slot[pick] for pick in picks) for slot, picks in zip(family, region.picks, strict=True))
        batteries = [self.task.batteries[each].battery for each in region.cells]
        found: tuple[Best, ...] = ()
        search = best_of([options], batteries, self.task.need)
        while True:
            try:
                next(search)
            except StopIteration as ended:
                found = ended.value
                break
            yield self._progress()
        self.found[region] = tuple(_in_task(best, region) for best in found)


class _Bodies:
    """How large what stands in each place is; a part that does not say so, or lies outside, is not counted."""

    def __init__(self, task: Task, budget: Budget) -> None:
        self.task = task
        self.own: dict[str, Turns] = {each.path: each.turns for each in items(budget, Needs(budget))}
        self.known: dict[tuple[str, int], Turns | None] = {}

    def body(self, path: str, choice: Choice, count: int) -> Body | None:
        """Return how large what stands in a place is."""
        if choice.boxed is None:
            return (self.own[path], count) if path in self.own else None
        key = (path, id(choice.boxed))
        if key not in self.known:
            item = item_of(path, choice.boxed.part, Needs(Budget()))
            self.known[key] = None if item is None else item.turns
        turns = self.known[key]
        return None if turns is None else (turns, count)

    def of(self, way: Way) -> dict[str, Body]:
        """Return the bodies of a set by place, in the order of the budget."""
        family, picks, cell = way
        slots = zip(self.task.families[family], picks, strict=True)
        listed = [(slot.path, slot.choices[pick], slot.count) for slot, pick in slots]
        listed = sorted(listed, key=lambda each: int(each[0][5:]))
        listed.append((CELL, self.task.batteries[cell].cell, 1))
        return {each[0]: body for each in listed if (body := self.body(*each)) is not None}


def merged(found: Sequence[Best]) -> tuple[Best, ...]:
    """Return the best of sets that were found apart, lightest first; those that tie are told as one."""
    kept: list[Best] = []
    for best in sorted(found, key=lambda each: (each.mass, -each.time_ns)):
        last = kept[-1] if kept else None
        if last is not None and (last.mass, last.time_ns) == (best.mass, best.time_ns):
            tied = (*last.tied, *best.tied)[:MOST_TIED]
            kept[-1] = replace(last, count=last.count + best.count, tied=tied)
        elif last is None or best.time_ns > last.time_ns:
            kept.append(best)
    return tuple(kept)


def _in_task(best: Best, region: Region) -> Best:
    """Return a best set of a region with the numbers that its choices have in the task."""

    def whole(way: Way) -> Way:
        picks = tuple(some[pick] for some, pick in zip(region.picks, way[1], strict=True))
        return region.family, picks, region.cells[way[2]]

    tied = tuple(whole(way) for way in best.tied)
    return replace(best, family=region.family, picks=tied[0][1], battery=tied[0][2], tied=tied)


def _put(picks: tuple[tuple[int, ...], ...], place: int, some: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    return (*picks[:place], some, *picks[place + 1 :])


def _turns(bodies: Mapping[str, Body]) -> tuple[Turns, ...]:
    return tuple(turns for turns, count in bodies.values() for _ in range(count))


def _as_large(body: Body) -> Callable[[Body], bool]:
    """Return whether a part is as large as one: each way in which it lies holds a way in which that one lies."""
    small, count = body
    return lambda other: other[1] >= count and all(any(_holds(turn, way) for way in small) for turn in other[0])


def _holds(large: Sequence[int], small: Sequence[int]) -> bool:
    return all(a >= b for a, b in zip(large, small, strict=True))


def _by_volume(bodies: Mapping[str, Body], held: int) -> Reason | None:
    """Return a reason by volume; each place may be smaller by its share of what is too much."""
    sizes = {path: volume(turns) * count for path, (turns, count) in bodies.items()}
    whole = sum(sizes.values())
    if whole <= held:
        return None
    least = {path: size - (whole - held - 1) * size // whole for path, size in sizes.items()}
    return {path: _volume_from(each) for path, each in least.items()}


def _volume_from(least: int) -> Callable[[Body], bool]:
    return lambda other: volume(other[0]) * other[1] >= least
