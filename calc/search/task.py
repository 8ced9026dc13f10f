"""What the finder searches: the places of a budget and what of the box may stand in each, as the search takes it.

Each switched-on gear row whose kind the box holds is a slot: any part of that kind may stand there (servo or coil
actuator for an actuator's row). A receiver is asked for even where the budget has no row for it, and so is an actuator;
where the radio only trips the dethermaliser a timer will do. A servo needs a linkage, a coil at the hinge none, so sets
fall into families. Rows of other kinds stay as they are, and so do the converter, and the cell if the box has none.

Never the unsafe side: a part whose draw or strength is not told is left out by name, and where a row that stays does
not say what it draws, nothing is searched. What no set holds although it should is named in `Task.not_counted`.
"""

from collections.abc import Iterator, Sequence

from calc.assess import Assessment, assess
from calc.document.blocks import BoxPart
from calc.document.box import ACTUATORS, SHEET, Box, Boxed
from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.document.fields import keys_of
from calc.document.paths import place
from calc.search.batteries import battery_of
from calc.search.demand import demands, need_of_charge
from calc.search.exact import Grain, exact_mass, grain_of
from calc.search.sets import Option
from calc.search.slots import Choice, Slot, Supplied, Task, families_of, keeping, needs_linkage
from calc.search.strength import rating_of, rating_of_row, strength_of
from calc.search.wishes import Wishes, barred, kept, named
from calc.subject import Needs, unread
from calc.subjects.power.draws import untold
from calc.subjects.power.entries import Session
from calc.subjects.power.given import log_unread, pack_of, supply_of
from calc.subjects.power.ohms import BENCH, ohms_of
from calc.subjects.room.answer import too_large
from calc.subjects.room.parts import spaces
from calc.subjects.weights.answer import as_counted
from calc.taking import log_left_aside
from calc.unit_system import UnitSystem
from calc.vocabulary import Kind, PartKind

SLOT_KINDS = ("receiver", *ACTUATORS, "linkage", "altimeter", "tracker", "timer", "switch")
OF_A_ROW = ("draw", "busy_draw", "busy", "min_volts", "known_by", "mass", "weighed")  # what a row that stays must say
OF_A_PLACE = ("kind", "count", "off")  # … and any row
KNOWN_OF_IT = ("resistance", "meter", *BENCH, "cutoff", "series", "capacity_left", "known_by")
OF_THE_CELL = ("cell", *(f"cell.{each}" for each in KNOWN_OF_IT))


def task_of(budget: Budget, box: Box, charges: int = 1, wishes: Wishes | None = None) -> Task:
    """Return what is to be searched.

    Raises
    ------
    OutOfRangeError
        If `charges` is below one.
    """
    return _Maker(budget, box, wishes or Wishes()).task(charges)


class _Maker:
    """Makes a task: what its steps share."""

    def __init__(self, budget: Budget, box: Box, wishes: Wishes) -> None:
        self.now: Assessment = assess(budget)
        self.budget = as_counted(budget)
        self.bays = spaces(self.budget, Needs(self.budget))
        self.units, self.wishes = UnitSystem(box.units), wishes
        self.strength = strength_of(self.budget, self.now)
        self.all_parts = box.parts
        self.usable, self.left_out = self._sorted_out()
        self.grain = self._grain()
        self.strength_untold: list[str] = []

    def task(self, charges: int) -> Task:
        """Return the task for so many charges."""
        slots, absent = self._slots()
        linkages = [] if any(slot.kind == "linkage" for slot in slots) else self._parts_of("linkage")
        families = tuple(families_of(slots, lambda count: [self._added(slots, linkages, count)] if linkages else []))
        if any(needs_linkage(family) for family in families):
            absent.append("linkage")
        for name in self.wishes.keep:
            if not self._in_budget(name) and not self._is_cell(name):
                families = tuple(keeping(families, name))
        cells = tuple(self._cells())
        waits = tuple(dict.fromkeys(self._waits(slots, families, cells, absent)))
        return Task(
            families=() if waits else families,
            batteries=() if waits else cells,
            need=need_of_charge(self.budget.session or Session(), charges),
            grain=self.grain,
            left_out=tuple(self.left_out),
            waits=waits,
            not_counted=(*absent, *log_left_aside(self.now.power)),
            strength=self.strength,
            strength_untold=tuple(dict.fromkeys(self.strength_untold)),
            unknown=self._unknown(),
        )

    def _sorted_out(self) -> tuple[list[Boxed], list[tuple[str, str]]]:
        """Return the parts that can be used, and those that cannot with the reason."""
        usable, left_out = [], []
        for boxed in self.all_parts:
            if boxed.part.kind.value == SHEET:
                continue  # for the airframe; no gear
            reason = self._why_not(boxed)
            if reason:
                left_out.append((boxed.part.called, reason))
            elif boxed.part.kind.value not in ACTUATORS or self.wishes.takes(boxed.part.kind.value):
                usable.append(boxed)
        return usable, left_out

    def _why_not(self, boxed: Boxed) -> str:
        """Return why a part cannot be used, as a code; "" if it can."""
        part = boxed.part
        if boxed.problems:
            return "unreadable"
        if barred(self.wishes, part.called):
            return "barred"
        if part.mass is None:
            return "no_mass"
        if too_large(part, self.bays):
            return "too_large"
        if part.kind.value == "cell":
            return "no_capacity" if part.capacity is None else ""
        if part.busy_draw is not None and part.busy is None:
            return "no_busy"
        if untold(part):
            return "no_draw_given"
        return self.strength.why_not(part) if part.kind.value in ACTUATORS else ""

    def _grain(self) -> Grain:
        system = UnitSystem.of(self.budget)
        blocks = (*self.budget.gear, *(() if self.budget.cell is None else (self.budget.cell,)))
        own = [(exact_mass(b.mass, system), b.known_by.value) for b in blocks if b.mass is not None]
        masses = [(exact_mass(b.part.mass, self.units), b.part.known_by.value) for b in self.usable if b.part.mass]
        return grain_of([*own, *masses])

    def _mass(self, part: BoxPart | GearRow | Cell, count: int, system: UnitSystem) -> int:
        assert part.mass is not None
        return self.grain.whole(exact_mass(part.mass, system), count, part.known_by.value)

    def _parts_of(self, kind: PartKind) -> list[Boxed]:
        wanted = ACTUATORS if kind in ACTUATORS else (kind,)
        return [boxed for boxed in self.usable if boxed.part.kind.value in wanted]

    def _slots(self) -> tuple[list[Slot], list[str]]:
        """Return the slots, and the kinds that sets should hold and nothing is there for."""
        slots = [self._row_slot(index, row) for index, row in enumerate(self.budget.gear) if not row.off.value]
        seen = {"actuator" if slot.kind in ACTUATORS else slot.kind for slot in slots}
        absent = []
        for word, kinds in (("receiver", ("receiver",)), ("actuator", self._may_steer(seen))):
            if word in seen or not kinds:
                continue
            found = next((parts for parts in map(self._parts_of, kinds) if parts), [])
            if found:
                slots.append(self._added(slots, found))
            else:
                absent.append(word)
        for name in self.wishes.keep:
            extra = [boxed for boxed in self.usable if named(boxed.part.called, name)]
            if extra and not self._in_budget(name) and not self._has_place(slots, extra[0].part.kind.value):
                slots.append(self._added(slots, extra))
        return slots, absent

    def _may_steer(self, seen: set[str]) -> tuple[Kind, ...]:
        """Return the kinds of which one is asked for; a timer trips a dethermaliser, but steers nothing."""
        if self.budget.model.radio.value != "dethermaliser":
            return ("servo",)
        return () if "timer" in seen else ("servo", "timer")

    def _has_place(self, slots: Sequence[Slot], kind: PartKind) -> bool:
        """Return whether a kind has its place already, or never has one among the gear."""
        alike = ACTUATORS if kind in ACTUATORS else (kind,)
        return kind in ("cell", "supply", "linkage") or any(slot.kind in alike for slot in slots)

    def _added(self, slots: Sequence[Slot], parts: Sequence[Boxed], count: int = 1) -> Slot:
        """Return a slot for which the budget has no row yet."""
        place = len(self.budget.gear) + sum(int(slot.path[5:]) >= len(self.budget.gear) for slot in slots)
        kind = "servo" if parts[0].part.kind.value in ACTUATORS else parts[0].part.kind.value
        choices = tuple(self._choice(boxed, count) for boxed in parts)
        return Slot(path=f"gear.{place}", kind=kind, count=count, choices=choices)

    def _row_slot(self, index: int, row: GearRow) -> Slot:
        kind, count, path = row.kind.value, row.count.value, f"gear.{index}"
        stays = kind not in SLOT_KINDS or kept(self.wishes, row.called)
        choices = [] if stays else [self._choice(boxed, count) for boxed in self._parts_of(kind)]
        allowed = not barred(self.wishes, row.called) and (kind not in ACTUATORS or self.wishes.takes(kind))
        if not choices and row.mass is not None and allowed:
            option = self._demands(row, count, UnitSystem.of(self.budget), strong=self._row_strong(row))
            choices = [Choice(boxed=None, name=row.called, kind=kind, option=option)]
        return Slot(path=path, kind=kind, count=count, choices=tuple(choices))

    def _row_strong(self, row: GearRow) -> bool:
        """Return whether an actuator that stays is strong enough; one that cannot be compared is told."""
        if row.kind.value not in ACTUATORS or not self.strength.asked:
            return True
        word, rated, path = rating_of_row(row, self.budget)
        if not rated.known or word not in self.strength.needs:
            self.strength_untold.append(path if not rated.known else "surface.horn")
            return True
        return self.strength.enough(word, rated)

    def _choice(self, boxed: Boxed, count: int) -> Choice:
        part = boxed.part
        strong = part.kind.value not in ACTUATORS or self.strength.enough(*rating_of(part))
        option = self._demands(part, count, self.units, strong=strong)
        return Choice(boxed=boxed, name=part.called, kind=part.kind.value, option=option)

    def _demands(self, part: BoxPart | GearRow, count: int, system: UnitSystem, *, strong: bool) -> Option:
        return demands(part, count, self._mass(part, count, system), strong=strong)

    def _cells(self) -> Iterator[Supplied]:
        """Yield each cell of the box as this session finds it; the budget's own if the box has none, or it is kept."""
        own, wishes = self.budget.cell, self.wishes
        in_box = [] if own is not None and kept(wishes, own.called) else self._parts_of("cell")
        wanted = [name for name in wishes.keep if self._is_cell(name)]
        for boxed in in_box:
            part = boxed.part
            if all(named(part.called, name) for name in wanted):
                cell = Cell(**{key: getattr(part, key) for key in keys_of(Cell, "part")})
                yield self._supplied(boxed, part.called, cell, self.units)
        if in_box or own is None or own.capacity is None or own.mass is None or barred(wishes, own.called):
            return
        yield self._supplied(None, own.called, own, UnitSystem.of(self.budget))

    def _supplied(self, boxed: Boxed | None, name: str, cell: Cell, system: UnitSystem) -> Supplied:
        assert cell.capacity is not None
        session, mass = self.budget.session or Session(), self._mass(cell, 1, system)
        pack, known = pack_of(self.budget, cell, cell.capacity.value), ohms_of(cell, cell.capacity.value)
        supply, temperature_k = supply_of(self.budget), session.temperature.value
        battery = battery_of(mass, pack, known, supply, temperature_k, session.reserve.value)
        choice = Choice(boxed=boxed, name=name, kind="cell", option=Option(mass=mass))
        return Supplied(cell=choice, battery=battery)

    def _in_budget(self, name: str) -> bool:
        rows = (row for row in self.budget.gear if not row.off.value)
        return any(named(row.called, name) for row in rows) or self._is_own_cell(name)

    def _is_own_cell(self, name: str) -> bool:
        return self.budget.cell is not None and named(self.budget.cell.called, name)

    def _is_cell(self, name: str) -> bool:
        """Return whether a name is that of a cell of the box and of no row."""
        kinds = {boxed.part.kind.value for boxed in self.usable if named(boxed.part.called, name)}
        return kinds == {"cell"}

    def _unknown(self) -> tuple[str, ...]:
        boxes = [boxed.part.called for boxed in self.all_parts]
        wished = (*self.wishes.keep, *self.wishes.bar)
        return tuple(n for n in wished if not self._in_budget(n) and not any(named(each, n) for each in boxes))

    def _waits(
        self, slots: Sequence[Slot], families: Sequence[object], cells: Sequence[Supplied], absent: Sequence[str]
    ) -> Iterator[str]:  # fmt: skip
        """Yield what must be there before anything can be searched."""
        missing = self.now.missing.get("power", ())
        yield from sorted(path for path in missing if place(path).block in ("session", "wiring", "supply"))
        yield from sorted(path for path in ("gear", "session", "wiring", "supply") if path in self.budget.unread)
        yield from log_unread(self.budget)
        wished = tuple(self._wish_waits())
        yield from wished
        yield from () if slots else ("no_parts",)
        yield from () if cells else ("no_cell",)
        if any(supplied.cell.boxed is None for supplied in cells):
            yield from (path for path in OF_THE_CELL if path in self.budget.unread)
        for slot in slots:
            yield from self._slot_waits(slot)
        if any(self._all_left_out(kind) for kind in absent if kind != "linkage"):
            yield "all_left_out"
        elif "actuator" in absent and self.wishes.actuator:
            yield "nothing_left"
        if slots and all(slot.choices for slot in slots) and not families and not wished:
            yield "nothing_left"

    def _wish_waits(self) -> Iterator[str]:
        """Yield what is wrong with the parts to keep or to bar."""
        if self._unknown():
            yield "no_such_part"
        if any(named(name, wish) for name, _ in self.left_out for wish in self.wishes.keep):
            yield "kept_left_out"

    def _all_left_out(self, kind: str) -> bool:
        """Return whether the box has parts of a kind that no set holds, each left out."""
        wanted = ACTUATORS if kind == "actuator" else (kind,)
        return any(boxed.part.kind.value in wanted for boxed in self.all_parts if self._why_not(boxed))

    def _slot_waits(self, slot: Slot) -> Iterator[str]:
        """Yield what a row must say: what its place asks, and if it stays what it draws."""
        index = int(slot.path[5:])
        if index >= len(self.budget.gear):
            return
        row = self.budget.gear[index]
        yield from (f"{slot.path}.{name}" for name in OF_A_PLACE if unread(self.budget, f"{slot.path}.{name}"))
        if not slot.choices:
            yield "nothing_left" if row.mass is not None else f"{slot.path}.mass"
        elif slot.choices[0].boxed is None:
            broken = [name for name in OF_A_ROW if unread(self.budget, f"{slot.path}.{name}")]
            yield from (f"{slot.path}.{name}" for name in broken)
            if row.busy_draw is not None and row.busy is None and "busy" not in broken:
                yield f"{slot.path}.busy"
            if untold(row) and untold(row) not in broken:
                yield f"{slot.path}.{untold(row)}"
