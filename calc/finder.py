"""The finder: the best sets of gear from the box for a budget's model and session.

Each switched-on gear row whose kind the box holds is a slot: any part of that kind may stand there (servo or coil
actuator for an actuator's row). A receiver and an actuator are asked for even where the budget has no row for them.
Rows of other kinds stay as they are, and so do the converter, and the cell if the box has none. The search itself is in
`calc.fronts`.

A set works if every actuator is strong enough for the surface, as far as both are known; if the cell, as warm as the
session has it, does not brown out when full; and if one charge does its share of the session's flights.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Any

from calc import endurance, masses
from calc.assess import Assessment, assess
from calc.blocks import value
from calc.blocks.mass import as_counted
from calc.blocks.power import pack_of, supply_of
from calc.box import ACTUATORS, Box, Boxed, actuator_of, take
from calc.budget import Budget, read
from calc.endurance import Load, Pack, Source, Supply
from calc.fields import Entry
from calc.fronts import Battery, Best, Counts, Family, Found, Need, Option, Progress, search
from calc.parts import Cell, GearRow, Session

SLOT_KINDS = ("receiver", *ACTUATORS, "linkage", "altimeter", "tracker", "timer", "switch")
MOST_SHOWN = 60  # best sets that are worked out in full


@dataclass(frozen=True, kw_only=True)
class Choice:
    """What may stand in a slot: a part of the box, or None for what the budget has there now."""

    boxed: Boxed | None
    name: str
    option: Option


@dataclass(frozen=True, kw_only=True)
class Slot:
    """A place to fill: its path in the budget, what it is called, and the choices."""

    path: str
    kind: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True, kw_only=True)
class Supplied:
    """A cell with or without a converter: the choices that make it, and what it gives."""

    cell: Choice
    battery: Battery


@dataclass(frozen=True, kw_only=True)
class Task:
    """What is searched: families of slots, the batteries, the need of one charge, and what had to be left out."""

    families: tuple[tuple[Slot, ...], ...]
    batteries: tuple[Supplied, ...]
    need: Need
    left_out: tuple[tuple[str, str], ...]  # (name of a part, code of the reason)
    waits: tuple[str, ...]  # what must be there first: codes, or paths of fields
    strength_asked: bool

    @property
    def option_families(self) -> tuple[Family, ...]:
        """The slots as the search takes them."""
        return tuple(tuple(tuple(c.option for c in slot.choices) for slot in family) for family in self.families)


@dataclass(frozen=True, kw_only=True)
class WorkingSet:
    """A best set: its expected mass [kg] and run time [s], how many tie with it, its budget and the answer to that."""

    mass_kg: float
    time_s: float
    ties: int
    parts: tuple[tuple[str, str], ...]  # (path, name)
    document: Mapping[str, Any]
    assessment: Assessment


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What the finder found for a task."""

    task: Task
    sets: tuple[WorkingSet, ...]
    more: int  # best sets beyond those worked out in full
    counts: Counts
    now: Assessment  # of the budget as it is
    system: str  # its units

    @property
    def present(self) -> tuple[float, float] | None:
        """Expected mass [kg] and run time [s] of the budget as it is; None where there is no run."""
        power = self.now.power
        return None if power is None else (self.now.gear.expected_kg, power.run.time_s)


def find(document: Mapping[str, Any], box: Box, charges: int = 1) -> Iterator[Progress | Answer]:
    """Yield signs of progress, then the answer.

    Parameters
    ----------
    document : mapping
        A budget document; its model, session, surface and limits stand.
    box : Box
        The parts.
    charges : int
        Charged cells that share the session's flights, at least 1.
    """
    budget = read(document).budget
    task, now, system = task_of(budget, box, charges), assess(budget), budget.units.value
    if task.waits:
        empty = Counts(total=0, works=0, reasons={}, drawn=0)
        yield Answer(task=task, sets=(), more=0, counts=empty, now=now, system=system)
        return
    batteries = tuple(supplied.battery for supplied in task.batteries)
    for step in search(task.option_families, batteries, task.need):
        if isinstance(step, Found):
            shown = tuple(_worked_out(document, task, best, box.units) for best in step.best[:MOST_SHOWN])
            more = max(0, len(step.best) - MOST_SHOWN)
            yield Answer(task=task, sets=shown, more=more, counts=step.counts, now=now, system=system)
        else:
            yield step


def answer(document: Mapping[str, Any], box: Box, charges: int = 1) -> Answer:
    """Return the finder's answer in one go."""
    *_, last = find(document, box, charges)
    assert isinstance(last, Answer)
    return last


def task_of(budget: Budget, box: Box, charges: int = 1) -> Task:
    """Return what is to be searched."""
    budget = as_counted(budget)
    usable, left_out = _sorted_out(box)
    needs = _strength_needs(budget)
    slots = tuple(_slots(budget, usable, needs))
    cells = tuple(_cells(budget, usable))
    waits = tuple(_waits(budget, slots, cells))
    return Task(
        families=() if waits else _families(slots),
        batteries=() if waits else cells,
        need=need_of_charge(budget.session or Session(), charges),
        left_out=tuple(left_out),
        waits=waits,
        strength_asked=bool(needs),
    )


def _sorted_out(box: Box) -> tuple[list[Boxed], list[tuple[str, str]]]:
    """Return the parts that can be used, and those that cannot with the reason."""
    usable, left_out = [], []
    for boxed in box.parts:
        part = boxed.part
        name = part.name.value or part.kind.value
        if boxed.problems:
            left_out.append((name, "unreadable"))
        elif part.mass is None:
            left_out.append((name, "no_mass"))
        elif part.kind.value == "cell" and part.capacity is None:
            left_out.append((name, "no_capacity"))
        elif part.busy_draw is not None and part.busy is None:
            left_out.append((name, "no_busy"))
        else:
            usable.append(boxed)
    return usable, left_out


def _waits(budget: Budget, slots: Sequence[Slot], cells: Sequence[Supplied]) -> Iterable[str]:
    """Yield what must be there before anything can be searched."""
    yield from sorted(path for path in budget.unread if path.split(".")[0] in ("session", "wiring", "supply"))
    if not slots:
        yield "no_parts"
    if not cells:
        yield "no_cell"
    for slot in slots:
        if not slot.choices:
            yield f"{slot.path}.mass"


def need_of_charge(session: Session, charges: int) -> Need:
    """Return what one of several charges must do: its share of the flights, one at least; any run without a time."""
    if session.on_time is None:
        return Need()
    flights = ceil((value(session.flights) or 1) / max(1, charges))
    pause_s = (value(session.pause) or 0.0) if session.between.value == "on" else 0.0
    return Need(flights=flights, on_s=session.on_time.value, pause_s=pause_s)


def _strength_needs(budget: Budget) -> dict[str, float]:
    """Return what the surface asks of each kind of actuator at the present speed, as far as it is known."""
    needs: dict[str, float] = {}
    if budget.surface is None:
        return needs
    for word in ("rotary servo", "linear servo", "coil actuator"):
        asked = replace(budget, surface=replace(budget.surface, actuator=Entry(value=word)))
        found = assess(asked).surface
        if found is not None and found.need is not None:
            needs[word] = found.need
    return needs


def _slots(budget: Budget, usable: Sequence[Boxed], needs: Mapping[str, float]) -> Iterator[Slot]:
    seen = set()
    for index, row in enumerate(budget.gear):
        if row.off.value:
            continue
        kind = row.kind.value
        seen.add("actuator" if kind in ACTUATORS else kind)
        parts = _of_kind(usable, kind) if kind in SLOT_KINDS else []
        count = row.count.value
        choices = [Choice(boxed=b, name=_name(b), option=_option(b.part, count, needs)) for b in parts]
        fixed = (
            [] if choices or row.mass is None else [Choice(boxed=None, name=row.name.value or kind, option=_row(row))]
        )
        yield Slot(path=f"gear.{index}", kind=kind, choices=tuple(choices or fixed))
    place = len(budget.gear)
    for word, kind in (("receiver", "receiver"), ("actuator", "servo")):
        parts = _of_kind(usable, kind)
        if word not in seen and parts and not (word == "actuator" and "timer" in seen):
            choices = [Choice(boxed=b, name=_name(b), option=_option(b.part, 1, needs)) for b in parts]
            yield Slot(path=f"gear.{place}", kind=kind, choices=tuple(choices))
            place += 1


def _of_kind(usable: Sequence[Boxed], kind: str) -> list[Boxed]:
    wanted = ACTUATORS if kind in ACTUATORS else (kind,)
    return [boxed for boxed in usable if boxed.part.kind.value in wanted]


def _name(boxed: Boxed) -> str:
    return boxed.part.name.value or boxed.part.kind.value


def _option(part: Any, count: int, needs: Mapping[str, float]) -> Option:
    """Return a part of the box, `count` of them, as the search takes it."""
    word = actuator_of(part.kind.value, thrust=part.thrust is not None)
    rated = value(part.thrust if word == "linear servo" else part.torque)
    need = needs.get(word) if part.kind.value in ACTUATORS else None
    strong = rated is None or need is None or rated >= need
    return _demands(part, count, strong=strong)


def _row(row: GearRow) -> Option:
    return _demands(row, row.count.value, strong=True)


def _demands(part: Any, count: int, *, strong: bool) -> Option:
    quiet_a, busy_share = value(part.draw) or 0.0, value(part.busy) or 0.0
    busy_a = quiet_a if part.busy_draw is None else part.busy_draw.value
    return Option(
        mass_ng=_nano_grams(part.mass.value, count, part.known_by.value),
        mean_na=round(count * (quiet_a + busy_share * (busy_a - quiet_a)) * 1e9),
        peak_na=round(count * max(quiet_a, busy_a) * 1e9),
        volts_uv=round((value(part.min_volts) or 0.0) * 1e6),
        quiet_na=round(count * quiet_a * 1e9),
        strong=strong,
    )


def _nano_grams(mass_kg: float, count: int, known_by: str) -> int:
    return round(masses.expected_mass(masses.Part(mass_kg=mass_kg, count=count, known_by=known_by)) * 1e12)


def _families(slots: tuple[Slot, ...]) -> tuple[tuple[Slot, ...], ...]:
    """Return the slots; where one actuator may be a servo or a coil, apart: a coil at the hinge has no linkage."""
    actuators = [slot for slot in slots if slot.kind in ACTUATORS]
    if len(actuators) != 1 or not any(slot.kind == "linkage" for slot in slots):
        return (slots,)
    with_coil = tuple(
        _only(slot, "coil actuator") if slot is actuators[0] else slot for slot in slots if slot.kind != "linkage"
    )
    with_servo = tuple(_only(slot, "servo") if slot is actuators[0] else slot for slot in slots)
    return tuple(family for family in (with_servo, with_coil) if all(slot.choices for slot in family))


def _only(slot: Slot, kind: str) -> Slot:
    """Return a slot with the choices of one kind; what the budget has there now is of the slot's own."""
    kept = (c for c in slot.choices if (slot.kind if c.boxed is None else c.boxed.part.kind.value) == kind)
    return replace(slot, choices=tuple(kept))


def _cells(budget: Budget, usable: Sequence[Boxed]) -> Iterator[Supplied]:
    """Yield each cell of the box as this session finds it; the budget's own if the box has none."""
    session = budget.session or Session()
    supply = supply_of(budget)
    for boxed in usable:
        if boxed.part.kind.value == "cell":
            part = boxed.part
            cell = Cell(
                mass=part.mass, known_by=part.known_by, capacity=part.capacity, resistance=part.resistance,
                cutoff=part.cutoff, series=part.series,
            )  # fmt: skip
            yield _supplied(boxed, _name(boxed), cell, budget, session, supply)
    own = budget.cell
    in_box = any(boxed.part.kind.value == "cell" for boxed in usable)
    if not in_box and own is not None and own.capacity is not None and own.mass is not None:
        yield _supplied(None, own.name.value or "cell", own, budget, session, supply)


def _supplied(
    boxed: Boxed | None, name: str, cell: Cell, budget: Budget, session: Session, supply: Supply | None
) -> Supplied:  # fmt: skip
    assert cell.mass is not None
    assert cell.capacity is not None
    pack: Pack = pack_of(budget, cell, cell.capacity.value)
    source = endurance.today(pack, session.temperature.value)
    mass_ng = _nano_grams(cell.mass.value, 1, cell.known_by.value)
    battery = battery_of(mass_ng, source, supply, session.reserve.value)
    return Supplied(cell=Choice(boxed=boxed, name=name, option=Option(mass_ng=mass_ng)), battery=battery)


def battery_of(mass_ng: int, source: Source, supply: Supply | None, reserve: float) -> Battery:
    """Return a source of power as the search takes it; the sums are those of `calc.endurance.run`."""
    if supply is not None:
        return _through(mass_ng, source, supply, reserve)
    states, volts = zip(*source.table, strict=True)
    ohm, charge_c, cutoff_v = source.resistance_ohm, source.capacity_c, source.cutoff_v

    def state(at_v: float) -> float:
        """Return the state of charge at a voltage at rest, as `calc.cell.state_of_charge`; 1 stands for "past it"."""
        if at_v <= volts[0]:
            return 0.0
        if at_v > volts[-1]:
            return 1.0
        right = min(bisect_right(volts, at_v), len(volts) - 1)
        v0, v1, s0, s1 = volts[right - 1], volts[right], states[right - 1], states[right]
        return float(s0 + (s1 - s0) * (at_v - v0) / (v1 - v0))

    def time(mean_na: int, peak_na: int, needed_uv: int) -> int:
        mean_a = mean_na * 1e-9
        end = max(reserve, state(cutoff_v + mean_a * ohm))
        if needed_uv > 0:
            end = max(end, state(needed_uv * 1e-6 + max(mean_na, peak_na) * 1e-9 * ohm))
        return round((1.0 - end) * charge_c / mean_a * 1e9)

    def most(mean_na: int) -> int:
        return round((1.0 - reserve) * charge_c / (mean_na * 1e-9) * 1e9)

    return Battery(mass_ng=mass_ng, time=time, most=most)


def _through(mass_ng: int, source: Source, supply: Supply, reserve: float) -> Battery:
    """Return a source of power behind a converter."""
    known: dict[tuple[int, int, int], int] = {}
    energy_j = (1.0 - reserve) * source.capacity_c * source.table[-1][1]

    def time(mean_na: int, peak_na: int, needed_uv: int) -> int:
        key = (mean_na, peak_na, needed_uv)
        if key not in known:
            least_v = needed_uv * 1e-6 if needed_uv > 0 else None
            load = Load(
                mean_a=mean_na * 1e-9, peak_a=max(mean_na, peak_na) * 1e-9, min_volts=least_v, supply=supply
            )  # fmt: skip
            known[key] = round(endurance.run(source, load, reserve).time_s * 1e9)
        return known[key]

    def most(mean_na: int) -> int:
        return int(energy_j / supply.power(mean_na * 1e-9) * 1e9) + 1

    return Battery(mass_ng=mass_ng, time=time, most=most)


def _worked_out(document: Mapping[str, Any], task: Task, best: Best, system: str) -> WorkingSet:
    slots, supplied = task.families[best.family], task.batteries[best.battery]
    changed: dict[str, Any] = dict(document)
    parts = []
    for slot, pick in zip(slots, best.picks, strict=True):
        choice = slot.choices[pick]
        parts.append((slot.path, choice.name))
        if choice.boxed is not None:
            changed = take(changed, choice.boxed.document, slot.path, system)
    if supplied.cell.boxed is not None:
        changed = take(changed, supplied.cell.boxed.document, "cell", system)
    changed = _without_linkage(changed, {slot.path for slot in slots})
    return WorkingSet(
        mass_kg=best.mass_ng * 1e-12,
        time_s=best.time_ns * 1e-9,
        ties=best.count,
        parts=(*parts, ("cell", supplied.cell.name)),
        document=changed,
        assessment=assess(read(changed).budget),
    )


def _without_linkage(document: dict[str, Any], used: set[str]) -> dict[str, Any]:
    """Return the budget with the linkage rows that a set does without left out, not deleted."""
    rows = [
        {**row, "off": True}
        if isinstance(row, Mapping)
        and row.get("kind") == "linkage"
        and f"gear.{index}" not in used
        and not row.get("off")
        else row
        for index, row in enumerate(document.get("gear") or [])
    ]
    return {**document, "gear": rows}
