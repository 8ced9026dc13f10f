"""The cells in the session: run time, flights, plan, and what moves the run time most."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from math import exp
from typing import Any

from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.subject import Answered, Answers, Needs, value
from calc.subjects.power import charges, endurance, plan
from calc.subjects.power.cell import open_circuit_voltage
from calc.subjects.power.charges import Learned
from calc.subjects.power.draws import CONSUMERS, untold
from calc.subjects.power.endurance import Load, Pack, Run, Source
from calc.subjects.power.entries import Session
from calc.subjects.power.given import NEEDED, consumer, half_given, log_unread, pack_of, sessions_of, supply_of
from calc.subjects.power.ohms import bench_missing, ohms_of
from calc.subjects.power.plan import Plan
from calc.subjects.power.sensitivity import CAPACITY_SHARE, Case, Sensitivity, sensitivities_of, with_capacity
from calc.subjects.power.span import End, Ends
from calc.vocabulary import ResistanceOrigin


@dataclass(frozen=True, kw_only=True)
class Power:
    """The cells in the session. Voltages [V], times [s]; None where the session does not say."""

    ends: Ends
    load: Load
    quiet_a: float
    reserve: float
    resistance_from: ResistanceOrigin
    run: Run  # in the middle; where it is "at most", at the favourable end
    low: Run  # at the unfavourable end
    high: Run
    plan: Plan | None
    flights: int | None  # whole flights from one charge, at worst
    flights_usual: int | None  # in the middle
    safe_flights: int | None  # at worst and with CAPACITY_SHARE less capacity
    safe_s: float  # the run [s] then
    session_flights: int | None
    cells_needed: int | None
    safe_cells: int | None  # with that much less capacity; None where it does not give one flight
    cell_swaps: tuple[int, ...]  # after which flights the cell is swapped
    safe_cell_swaps: tuple[int, ...]
    charge_s: float | None
    charge_rate: float | None  # charging current as a multiple of the capacity in one hour
    sensitivities: tuple[Sensitivity, ...]  # the one that moves it most first
    untold: tuple[str, ...] = ()  # paths of draws that nobody has told: the run is then at most as long as this
    guessed: tuple[str, ...] = ()  # rows whose draw is a guess
    no_least_volts: tuple[str, ...] = ()  # consumers that do not say down to which voltage they work
    quiet_only: tuple[str, ...] = ()  # rows whose draw at work nobody has told: the run is then at most so long, too
    learned: Learned | None = None  # from what was put back
    before: "Power | None" = None  # what it would be without that
    half_asked: tuple[str, ...] = ()  # of the session or the converter: fields that are missing or cannot be read

    @property
    def at_most(self) -> bool:
        """Whether the run time is only an upper bound: a draw is not told, or beyond what is known of cells."""
        return bool(self.untold or self.quiet_only) or self.too_fast

    @property
    def too_fast(self) -> bool:
        """Whether the mean draw is faster than anything is known of."""
        return not self.ends.known

    @property
    def worst(self) -> Run:
        """The run that verdict and plan rest on: the low end, or what it is at most."""
        return self.run if self.at_most else self.low

    @property
    def end(self) -> End:
        """What the cell gives in that run."""
        return self.ends.high if self.at_most else self.ends.low

    @property
    def source(self) -> Source:
        """The cells in that run."""
        return self.end.source

    @property
    def lowest_v(self) -> float | None:
        """The lowest voltage of all that may be [V]; None where the cell may collapse."""
        found = [self.run.lowest_v] if self.at_most else [each.lowest_v for each in (self.low, self.run, self.high)]
        told = [each for each in found if each is not None]
        return min(told) if len(told) == len(found) else None

    @property
    def sag_v(self) -> float | None:
        """How far the voltage has fallen when everything is at work at once [V], at the unfavourable end."""
        lowest_v, state = self.worst.lowest_v, self.worst.end_state
        return None if lowest_v is None or state > 1.0 else open_circuit_voltage(state, self.source.table) - lowest_v

    @property
    def resistance_assumed(self) -> bool:
        """Whether nothing is known of the cell's resistance but its capacity."""
        return self.resistance_from == "usual"

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
    consumers = tuple(consumer(needs, path, row) for path, row in rows)
    needs.sound(*NEEDED, "gear")
    needs.note(*log_unread(budget))
    half_given(needs)
    capacity_c = needs.must("cell.capacity", None if budget.cell is None else budget.cell.capacity)
    draws = endurance.mean_draw(consumers) > 0.0
    if capacity_c is None or budget.cell is None or needs.missing or not draws:
        needs.note(*_untold(rows), *(() if draws or any(_untold(rows)) else ("gear.draw",)), *_pause_missing(budget))
        return None, needs.missing
    session = budget.session or Session()
    known = ohms_of(budget.cell, capacity_c)
    pack, supply = pack_of(budget, budget.cell, capacity_c), supply_of(budget)
    kelvin, reserve = session.temperature.value, session.reserve.value
    case = Case(
        pack=pack, ohms=known.each, consumers=consumers, supply=supply, temperature_k=kelvin, reserve=reserve
    )  # fmt: skip
    bound = any(_untold(rows)) or any(_works_quietly(row) for _, row in rows)
    plain = _in_session(case, budget.cell, session, known.how, bound)
    taught = _taught(needs, case, session, bound)
    found = plain if taught is None else replace(
        _in_session(_with(case, taught), budget.cell, session, known.how, bound), learned=taught, before=plain
    )  # fmt: skip
    found = _told(found, rows)
    needs.note(*found.untold, *(f"{path}.busy_draw" for path in found.quiet_only))
    half_asked = tuple(_half_asked(budget, session))
    needs.note(*half_asked)
    needs.sound("cell.charge_current", *(f"{path}.draw_known_by" for path, _ in rows))
    return replace(found, half_asked=half_asked), needs.missing


def _taught(needs: Needs, case: Case, session: Session, bound: bool) -> Learned | None:
    """Return what the charges put back teach; where a draw is not told, the planned one is no prior."""
    planned_a = endurance.mean_draw(case.consumers)
    quiet_a = sum(each.count * each.quiet_a for each in case.consumers)
    sessions = sessions_of(needs, session, min(1.0, quiet_a / planned_a))
    rated_c = case.pack.capacity_c * case.pack.left
    found = charges.learned(sessions, None if bound else planned_a, rated_c, planned_a)
    return found if found.draws or found.capacities or found.odd else None


def _with(case: Case, taught: Learned) -> Case:
    """Return the case with what was learned: a draw with its spread, the capacity that the cell has."""
    if taught.draw is not None:
        k, wide = taught.draw.value / endurance.mean_draw(case.consumers), exp(2.0 * taught.draw.u)
        case = replace(case, drawn=(k * wide, k, k / wide))
    if taught.capacity is None:
        return case
    return with_capacity(case, taught.capacity.value / (case.pack.capacity_c * case.pack.left))


def _pause_missing(budget: Budget) -> tuple[str, ...]:
    """Return the path of the pause where it is unreadable, or the radio stays on and nobody said how long."""
    session = budget.session or Session()
    untold_on = session.between.value == "on" and session.pause is None
    return ("session.pause",) if untold_on or "session.pause" in budget.unread else ()


def _half_asked(budget: Budget, session: Session) -> Iterable[str]:
    """Yield what is missing of a session, a converter or a measurement of which a part was told."""
    yield from _pause_missing(budget)
    yield from () if budget.cell is None else bench_missing(budget.cell)
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
        quiet_only=tuple(path for path, row in listed if _works_quietly(row)),
    )


WORKING = ("servo", "coil actuator")  # kinds that draw more at work than quiet


def _works_quietly(row: GearRow) -> bool:
    return row.kind.value in WORKING and row.draw is not None and row.busy_draw is None and row.busy is None


def _untold(rows: Iterable[tuple[str, GearRow]]) -> Iterable[str]:
    """Yield the paths of the draws that nobody has told."""
    return (f"{path}.{untold(row)}" for path, row in rows if untold(row))


def _draws_nothing(row: GearRow) -> bool:
    """Return whether a row says that it draws nothing of this cell, as one with a cell of its own does."""
    return row.draw is not None and not row.draw.value and not value(row.busy_draw)


def _cells(wanted: int | None, flights: int | None, safe: int) -> dict[str, Any]:
    """Return how many cells the session takes and when they are swapped, to be safe as well."""
    if wanted is None or flights is None:
        return {
            "session_flights": wanted,
            "cells_needed": None,
            "safe_cells": None,
            "cell_swaps": (),
            "safe_cell_swaps": (),
        }
    return {
        "session_flights": wanted,
        "cells_needed": plan.cells_needed(wanted, flights),
        "safe_cells": plan.cells_needed(wanted, safe),
        "cell_swaps": plan.cell_swaps(wanted, flights),
        "safe_cell_swaps": plan.cell_swaps(wanted, safe),
    }


@lru_cache(maxsize=32)  # most edits change nothing of it
def _in_session(case: Case, cell: Cell, session: Session, how: ResistanceOrigin, bound: bool) -> Power:
    """Return the power block; `bound`: a draw is not told, so that only the favourable end bounds the run."""
    ends, load = case.ends, case.load
    low, middle, high = (case.run(which) for which in ("low", "middle", "high"))
    bound = bound or not ends.known
    told, worst = (high, high) if bound else (middle, low)
    quiet_a = sum(consumer.count * consumer.quiet_a for consumer in case.consumers)
    flown = _plan(session, min(1.0, quiet_a * case.drawn[1] / load.mean_a))
    safe_s = with_capacity(case, 1.0 - CAPACITY_SHARE).run("high" if bound else "low").time_s
    flights, usual, safe = (
        None if flown is None else plan.flights_per_cell(time_s, flown)
        for time_s in (worst.time_s, told.time_s, safe_s)
    )
    wanted: int | None = value(session.flights)
    charge_a: float | None = value(cell.charge_current)
    return Power(
        ends=ends, load=load, quiet_a=quiet_a, reserve=case.reserve, resistance_from=how, run=told, low=low,
        high=high, plan=flown, flights=flights, flights_usual=usual, safe_flights=safe, safe_s=safe_s,
        **_cells(wanted, flights, safe or 0), charge_s=_charge_time(case.pack, told, charge_a),
        charge_rate=None if charge_a is None else charge_a * 3600.0 / case.pack.capacity_c,
        sensitivities=sensitivities_of(case, told.time_s, "high" if bound else "middle"),
    )  # fmt: skip


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


def answer(budget: Budget, answers: Answers) -> Answered:  # noqa: ARG001 - it needs no other subject
    """Return the cells in the session."""
    found, missing = power(budget)
    return Answered(answer=found, missing={"power": missing})
