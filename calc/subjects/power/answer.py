"""The cells in the session: run time, flights, plan, and what moves the run time most."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.subject import Answered, Answers, Needs, value
from calc.subjects.power import endurance, plan
from calc.subjects.power.draws import CONSUMERS, untold
from calc.subjects.power.endurance import Consumer, Load, Pack, Run, Source, Supply
from calc.subjects.power.entries import Session
from calc.subjects.power.plan import Plan
from calc.subjects.power.sways import Case, Sway, sways
from calc.subjects.stock import sums as stock


@dataclass(frozen=True, kw_only=True)
class Power:
    """The cells in the session. Voltages [V], times [s]; None where the session does not say."""

    source: Source
    load: Load
    quiet_a: float
    reserve: float
    resistance_assumed: bool
    run: Run
    plan: Plan | None
    flights: int | None  # whole flights from one charge
    safe_flights: int | None  # the same with SWAY_SHARE less capacity
    session_flights: int | None
    cells_needed: int | None
    safe_cells: int | None  # with that much less capacity; None where it does not give one flight
    swaps: tuple[int, ...]  # after which flights the cell is swapped
    safe_swaps: tuple[int, ...]
    charge_s: float | None
    charge_rate: float | None  # charging current as a multiple of the capacity in one hour
    sways: tuple[Sway, ...]  # the one that moves it most first
    untold: tuple[str, ...] = ()  # paths of draws that nobody has told: the run is then at most as long as this
    guessed: tuple[str, ...] = ()  # rows whose draw is a guess
    no_least_volts: tuple[str, ...] = ()  # consumers that do not say down to which voltage they work
    quiet_only: tuple[str, ...] = ()  # rows whose draw at work nobody has told: the run is then at most so long, too
    half_asked: tuple[str, ...] = ()  # of the session or the converter: fields that are missing or cannot be read

    @property
    def at_most(self) -> bool:
        """Whether the run time is only an upper bound."""
        return bool(self.untold or self.quiet_only)

    @property
    def gives_too_little(self) -> bool:
        """Whether the converter gives less than the gear needs, so that it never runs."""
        return self.load.least_volts(self.source) == float("inf")

    @property
    def bring(self) -> int | None:
        """Charged cells to bring, with a spare: enough with less capacity, too; None where it is not known."""
        if self.cells_needed is None:
            return None
        return max(self.cells_needed, self.safe_cells or 0) + 1

    @property
    def lasts(self) -> bool | None:
        """Whether one cell does the session's flights, as far as both are known; None where they are not."""
        if self.flights is None or self.session_flights is None:
            return None
        return self.flights >= 1


def power(budget: Budget) -> tuple[Power | None, tuple[str, ...]]:
    """Return the power block, or None, and the paths of the fields that it or a part of it waits for."""
    needs = Needs(budget)
    rows = [(f"gear.{index}", row) for index, row in enumerate(budget.gear) if not row.off.value]
    consumers = tuple(_consumer(needs, path, row) for path, row in rows)
    needs.sound(*NEEDED, "gear")
    _half_given(needs)
    capacity_c = needs.must("cell.capacity", None if budget.cell is None else budget.cell.capacity)
    draws = endurance.mean_draw(consumers) > 0.0
    if capacity_c is None or budget.cell is None or needs.lacks or not draws:
        needs.note(*_untold(rows), *(() if draws or any(_untold(rows)) else ("gear.draw",)), *_pause_lacks(budget))
        return None, needs.lacks
    session = budget.session or Session()
    case = Case(
        pack=pack_of(budget, budget.cell, capacity_c),
        consumers=consumers,
        supply=supply_of(budget),
        temperature_k=session.temperature.value,
        reserve=session.reserve.value,
    )
    found = _told(_in_session(case, budget.cell, session), rows)
    needs.note(*found.untold, *(f"{path}.busy_draw" for path in found.quiet_only))
    half_asked = tuple(_half_asked(budget, session))
    needs.note(*half_asked)
    needs.sound("cell.charge_current", *(f"{path}.draw_known_by" for path, _ in rows))
    return replace(found, half_asked=half_asked), needs.lacks


def _pause_lacks(budget: Budget) -> tuple[str, ...]:
    """Return the path of the pause where it is unreadable, or the radio stays on and nobody said how long."""
    session = budget.session or Session()
    untold_on = session.between.value == "on" and session.pause is None
    return ("session.pause",) if untold_on or "session.pause" in budget.unread else ()


def _half_asked(budget: Budget, session: Session) -> Iterable[str]:
    """Yield what is missing of a session or a converter of which a part was told."""
    yield from _pause_lacks(budget)
    yield from (path for path in ("session.flights", "session.on_time") if path in budget.unread)
    if session.flights is not None and session.on_time is None and "session.on_time" not in budget.unread:
        yield "session.on_time"
    converters = any(row.kind.value == "supply" and not row.off.value for row in budget.gear)
    if converters and (budget.supply is None or budget.supply.volts is None):
        yield "supply.volts"


def _told(found: Power, rows: Iterable[tuple[str, GearRow]]) -> Power:
    """Return the power block with the rows that leave something open."""
    listed = tuple(rows)
    consumers = [(path, row) for path, row in listed if row.kind.value in CONSUMERS and not _draws_nothing(row)]
    return replace(
        found,
        untold=tuple(_untold(listed)),
        guessed=tuple(path for path, row in listed if row.draw_known_by.value == "guess"),
        no_least_volts=tuple(path for path, row in consumers if row.min_volts is None),
        quiet_only=tuple(path for path, row in listed if row.kind.value in WORKING and _quiet_only(row)),
    )


WORKING = ("servo", "coil actuator")  # kinds that draw more at work than quiet


def _quiet_only(row: GearRow) -> bool:
    return row.draw is not None and row.busy_draw is None and row.busy is None


def _untold(rows: Iterable[tuple[str, GearRow]]) -> Iterable[str]:
    """Yield the paths of the draws that nobody has told."""
    return (f"{path}.{untold(row)}" for path, row in rows if untold(row))


def _draws_nothing(row: GearRow) -> bool:
    """Return whether a row says that it draws nothing of this cell, as one with a cell of its own does."""
    return row.draw is not None and not row.draw.value and not value(row.busy_draw)


def pack_of(budget: Budget, cell: Cell, capacity_c: float) -> Pack:
    """Return a cell as bought, with the leads of the budget."""
    return Pack(
        capacity_c=capacity_c,
        resistance_ohm=value(cell.resistance),
        cutoff_v=cell.cutoff.value,
        series=cell.series.value,
        left=cell.capacity_left.value,
        wiring_ohm=_wiring(budget),
    )


def _wiring(budget: Budget) -> float:
    wiring = budget.wiring
    if wiring is None or wiring.gauge is None or wiring.length is None:
        return 0.0
    return 2.0 * stock.wire_resistance(wiring.gauge.value, wiring.length.value, stranded=True)


def supply_of(budget: Budget) -> Supply | None:
    """Return the converter of the budget, None where there is none."""
    supply = budget.supply
    if supply is None or supply.volts is None:
        return None
    down = supply.kind.value == "down"
    least_v = supply.volts.value if down and supply.min_input is None else (value(supply.min_input) or 0.0)
    return Supply(volts=supply.volts.value, efficiency=supply.efficiency.value, min_input_v=least_v)


@lru_cache(maxsize=32)  # most edits change nothing of it
def _in_session(case: Case, cell: Cell, session: Session) -> Power:
    source, load, run = case.run()
    quiet_a = sum(consumer.count * consumer.quiet_a for consumer in case.consumers)
    flown = _plan(session, min(1.0, quiet_a / load.mean_a))
    swayed = sways(case, run.time_s)
    less_s = next(sway.worse_s for sway in swayed if sway.id == "capacity")
    flights, safe = (None if flown is None else plan.flights_per_cell(time_s, flown) for time_s in (run.time_s, less_s))
    wanted: int | None = value(session.flights)
    known = wanted is not None and flights is not None
    charge_a: float | None = value(cell.charge_current)
    return Power(
        source=source,
        load=load,
        quiet_a=quiet_a,
        reserve=case.reserve,
        resistance_assumed=cell.resistance is None,
        run=run,
        plan=flown,
        flights=flights,
        safe_flights=safe,
        session_flights=wanted,
        cells_needed=plan.cells_needed(wanted or 0, flights or 0) if known else None,
        safe_cells=plan.cells_needed(wanted or 0, safe or 0) if known else None,
        swaps=plan.swaps(wanted or 0, flights or 0) if known else (),
        safe_swaps=plan.swaps(wanted or 0, safe or 0) if known else (),
        charge_s=_charge_time(case.pack, run, charge_a),
        charge_rate=None if charge_a is None else charge_a * 3600.0 / case.pack.capacity_c,
        sways=swayed,
    )


def _plan(session: Session, quiet_share: float) -> Plan | None:
    if session.on_time is None or (session.between.value == "on" and session.pause is None):
        return None
    pause_s = session.pause.value if session.between.value == "on" and session.pause is not None else 0.0
    return Plan(on_s=session.on_time.value, pause_s=pause_s, pause_share=quiet_share)


def _charge_time(pack: Pack, run: Run, charge_a: float | None) -> float | None:
    """Return the least time to charge from where the run ended [s]; None without a current."""
    if charge_a is None:
        return None
    return plan.charge_time(pack.capacity_c * pack.left * (1.0 - run.end_state), charge_a)


NEEDED = (
    "cell", "cell.resistance", "cell.cutoff", "cell.series", "cell.capacity_left", "session", "session.temperature",
    "session.reserve", "supply", "supply.kind", "supply.volts", "supply.efficiency", "supply.min_input", "wiring",
    "wiring.gauge", "wiring.length", "session.between",
)  # fmt: skip


def _consumer(needs: Needs, path: str, row: GearRow) -> Consumer:
    """Return a row's appetite; what it lacks is noted. A draw that is absent counts as none, and is told elsewhere."""
    needs.sound(path, f"{path}.kind", f"{path}.off")
    busy_a = needs.may(f"{path}.busy_draw", row.busy_draw)
    busy = needs.must(f"{path}.busy", row.busy) if busy_a is not None else needs.may(f"{path}.busy", row.busy)
    return Consumer(
        count=needs.usual(f"{path}.count", row.count),
        quiet_a=needs.may(f"{path}.draw", row.draw) or 0.0,
        busy_a=busy_a,
        busy_share=busy or 0.0,
        min_volts=needs.may(f"{path}.min_volts", row.min_volts),
    )


def _half_given(needs: Needs) -> None:
    """Note what is missing of things that need two entries: a converter, leads."""
    budget = needs.budget
    wiring, supply = budget.wiring, budget.supply
    if supply is not None and (supply.min_input is not None or supply.efficiency.typed is not None):
        needs.must("supply.volts", supply.volts)
    if wiring is not None and (wiring.gauge is not None or wiring.length is not None):
        needs.must("wiring.gauge", wiring.gauge)
        needs.must("wiring.length", wiring.length)


def answer(budget: Budget, answers: Answers) -> Answered:  # noqa: ARG001 - it needs no other subject
    """Return the cells in the session."""
    found, lacks = power(budget)
    return Answered(answer=found, lacks={"power": lacks})
