"""Parts of the visitor's box in the place of those in the gear, of the same kind.

What is tried per place depends on what is wrong: lighter parts for the weight, thriftier ones and larger cells for the
run, stronger actuators for the surface. Which of them are tried first is a forecast; what they come to is not.

Never the unsafe side: a part with an entry that cannot be read, without a mass, or without the draw that it needs is
not proposed, and a row of which something cannot be read keeps its part. Another linkage is not the one that the budget
describes: only the lengths of that are kept, so that its strength stands open until it is described.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

from calc.changes.change import Proposal
from calc.changes.standing import WEIGHT
from calc.changes.trials import Trials, typed
from calc.document.blocks import BoxPart
from calc.document.box import ACTUATORS, Box, Boxed
from calc.document.entries import Cell, GearRow
from calc.search.strength import rating_of, rating_of_row
from calc.subject import value
from calc.subjects.power.draws import untold
from calc.subjects.surface.answer import UNKNOWN, Effort
from calc.subjects.weights.masses import GROWTH
from calc.taking import taken
from calc.unit_system import UnitSystem

MOST_LIGHTER, MOST_OTHER = 3, 2  # of one place: the nearest that should do; besides that the farthest
KEPT_OF_LINKAGE = ("length", "free_length")
Swap = tuple[dict[str, Any], Proposal]


@dataclass(frozen=True, kw_only=True)
class _Place:
    """A place in the gear: path, the part there with its kind, how many [-] and what all of them weigh [kg]."""

    path: str
    row: GearRow | Cell
    kind: str
    count: int
    mass_kg: float

    @property
    def mean_a(self) -> float:
        """The mean draw of one [A]."""
        return 0.0 if isinstance(self.row, Cell) else _mean(self.row)


def swaps(trials: Trials, box: Box) -> Iterator[Swap]:
    """Yield what the box offers, first of each place what is likeliest to do."""
    usable = [each for each in box.parts if _usable(each)]
    lists = [list(_of_place(trials, place, usable)) for place in _places(trials)]
    turns = (each for turn in zip_longest(*lists) for each in turn if each is not None)
    yield from (_swap(trials, place, boxed, UnitSystem(box.units)) for place, boxed in turns)


def _usable(boxed: Boxed) -> bool:
    part = boxed.part
    if boxed.problems or part.mass is None or (part.busy_draw is not None and part.busy is None):
        return False
    return part.capacity is not None if part.kind.value == "cell" else not untold(part)


def _places(trials: Trials) -> Iterator[_Place]:
    for row in trials.now.rows:
        if trials.sound(row.path):
            part = trials.row(row.path)
            count = 1 if isinstance(part, Cell) else part.count.value
            yield _Place(path=row.path, row=part, kind=row.kind, count=count, mass_kg=row.mass.expected_kg)


def _of_place(trials: Trials, place: _Place, usable: Iterable[Boxed]) -> Iterator[tuple[_Place, Boxed]]:
    """Yield the parts to try in a place, each once."""
    alike = [each for each in usable if each.part.kind.value == place.kind]
    found: dict[int, Boxed] = {}
    if trials.stands.bad(WEIGHT):
        found |= _picked(_lighter(trials, place, alike), MOST_LIGHTER)
    if trials.stands.bad("run"):
        found |= _picked(_larger(place, alike) if place.kind == "cell" else _thriftier(place, alike), MOST_OTHER)
    if trials.stands.bad("strength") and place.kind in ACTUATORS:
        found |= _picked(_stronger(trials, place, alike), MOST_OTHER)
    yield from ((place, boxed) for boxed in found.values())


def _picked(ranked: list[Boxed], most: int) -> dict[int, Boxed]:
    """Return the first few and the last one, each once."""
    return {id(each): each for each in (*ranked[:most], *ranked[-1:])}


def _ranked(found: Iterable[tuple[float, Boxed]]) -> list[Boxed]:
    """Return parts by a number, ties by their names, so that the order of the box does not matter."""
    return [each for _, each in sorted(found, key=lambda pair: (pair[0], pair[1].part.called, str(pair[1].document)))]


def _lighter(trials: Trials, place: _Place, alike: Iterable[Boxed]) -> list[Boxed]:
    """Return the lighter parts: first those that should do, the least saving first, then the others, the most first."""
    needed_kg = trials.stands.short[WEIGHT]
    savings = [(place.mass_kg - place.count * _expected(each.part), each) for each in alike]
    enough = _ranked((kg, each) for kg, each in savings if kg >= needed_kg and kg > 0.0)
    return enough + _ranked((-kg, each) for kg, each in savings if 0.0 < kg < needed_kg)


def _expected(part: BoxPart) -> float:
    return (value(part.mass) or 0.0) * (1.0 + GROWTH[part.known_by.value])


def _thriftier(place: _Place, alike: Iterable[Boxed]) -> list[Boxed]:
    """Return the parts that draw less, the thriftiest first."""
    return _ranked((_mean(each.part), each) for each in alike if _mean(each.part) < place.mean_a)


def _larger(place: _Place, alike: Iterable[Boxed]) -> list[Boxed]:
    """Return the cells of more capacity, the smallest first."""
    assert isinstance(place.row, Cell)
    now_c = value(place.row.capacity) or 0.0
    sizes = [(value(each.part.capacity) or 0.0, each) for each in alike]
    return _ranked((capacity_c, each) for capacity_c, each in sizes if capacity_c > now_c)


def _stronger(trials: Trials, place: _Place, alike: Iterable[Boxed]) -> list[Boxed]:
    """Return the stronger actuators of the same sort: first those that should do, the weakest first."""
    assert isinstance(place.row, GearRow)
    word, rated, _ = rating_of_row(place.row, trials.budget)
    surface = trials.now.surface
    need = UNKNOWN if surface is None else surface.need
    alike_rated = [(given, each) for each in alike for kind, given in [rating_of(each.part)] if kind == word]
    stronger = [(given, each) for given, each in alike_rated if _size(given) > _size(rated)]
    enough = [not need.known or given.meets(need) for given, _ in stronger]
    return _ranked(
        (_size(given), each) for (given, each), does in zip(stronger, enough, strict=True) if does
    ) + _ranked((-_size(given), each) for (given, each), does in zip(stronger, enough, strict=True) if not does)


def _size(effort: Effort) -> float:
    """Return a torque or a thrust as a number to put actuators of one sort in order by; 0 where it is not known."""
    return (effort.thrust_n if effort.torque_nm is None else effort.torque_nm) or 0.0


def _mean(part: GearRow | BoxPart) -> float:
    quiet_a, share = value(part.draw) or 0.0, value(part.busy) or 0.0
    return float(quiet_a + share * ((quiet_a if part.busy_draw is None else part.busy_draw.value) - quiet_a))


def _swap(trials: Trials, place: _Place, boxed: Boxed, system: UnitSystem) -> Swap:
    changed = taken(trials.document, boxed.document, place.path, system)
    swapped = place.kind == "linkage" and bool(trials.document.get("linkage"))
    if swapped:
        block = trials.document["linkage"]
        kept = [key for key in KEPT_OF_LINKAGE if isinstance(block, Mapping) and key in block]
        changed["linkage"] = {key: block[key] for key in kept}
    return changed, _proposal(trials, place, boxed, system, "linkage." if swapped else "")


def _proposal(trials: Trials, place: _Place, boxed: Boxed, system: UnitSystem, allowed: str) -> Proposal:
    row, part = place.row, boxed.part
    lighter_kg = place.mass_kg - place.count * _expected(part)
    before, after = (
        typed(row.mass if row.weighed is None else row.weighed, trials.system.label("mass")),
        typed(part.mass, system.label("mass")),
    )
    facts: dict[str, Any] = {"part": part.called, "count": place.count, "lighter_kg": lighter_kg}
    if isinstance(row, Cell):
        facts |= {"capacity_before": typed(row.capacity, "mAh"), "capacity_after": typed(part.capacity, "mAh")}
    return Proposal(
        code="swap",
        path=place.path,
        name=row.called,
        before=before,
        after=after,
        measure=_measure(trials, place, part, lighter_kg),
        facts=facts,
        sure="guess" not in (part.known_by.value, _draw_known_by(part)),
        allowed=allowed,
    )


def _draw_known_by(part: BoxPart) -> str:
    return part.draw_known_by.value if part.draw is not None or part.busy_draw is not None else ""


def _measure(trials: Trials, place: _Place, part: BoxPart, lighter_kg: float) -> float:
    """Return how much a swap changes: the share of the gear's mass, or of its draw or the capacity if that is more."""
    shares = [abs(lighter_kg) / max(trials.now.gear.expected_kg, 1e-6)]
    if isinstance(place.row, Cell):
        now_c = value(place.row.capacity)
        shares += [abs((value(part.capacity) or 0.0) - now_c) / now_c] if now_c else []
    elif trials.now.power is not None:
        more_a = abs(_mean(part) - place.mean_a) * place.count
        shares.append(more_a / max(trials.now.power.load.mean_a, 1e-9))
    return max(shares)
