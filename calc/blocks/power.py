"""The cells in the session: run time, flights, plan, and what moves the run time most."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from calc import cell as cells
from calc import endurance, plan, stock
from calc.blocks import value
from calc.budget import Budget
from calc.endurance import Consumer, Load, Pack, Run, Source, Supply
from calc.parts import Cell, GearRow, Session
from calc.plan import Plan

SWAY_SHARE = 0.10  # of the capacity, either way: our assumption
SWAY_K = 10.0  # of the temperature: our assumption
SWAY_FACTOR = 2.0  # of resistance and busy share: small cells differ by that; a guess at the sticks may, too


@dataclass(frozen=True, kw_only=True)
class Sway:
    """How far the run time [s] moves when one thing is worse or better; `id` names the thing."""

    id: str  # capacity, temperature, resistance or busy
    worse_s: float
    better_s: float

    @property
    def span_s(self) -> float:
        """The whole way between the two."""
        return self.better_s - self.worse_s


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
    session_flights: int | None
    cells_needed: int | None
    swaps: tuple[int, ...]  # after which flights the cell is swapped
    charge_s: float | None
    charge_rate: float | None  # charging current as a multiple of the capacity in one hour
    sways: tuple[Sway, ...]  # the one that moves it most first


@dataclass(frozen=True, kw_only=True)
class _Case:
    """What a run is made of; sways change one thing in it."""

    pack: Pack
    consumers: tuple[Consumer, ...]
    supply: Supply | None
    temperature_k: float
    reserve: float

    def run(self) -> tuple[Source, Load, Run]:
        mean_a = endurance.mean_draw(self.consumers)
        load = Load(
            mean_a=mean_a,
            peak_a=max(mean_a, endurance.peak_draw(self.consumers)),
            min_volts=endurance.needed_volts(self.consumers),
            supply=self.supply,
        )
        source = endurance.today(self.pack, self.temperature_k)
        return source, load, endurance.run(source, load, self.reserve)


def power(budget: Budget) -> tuple[Power | None, tuple[str, ...]]:
    """Return the power block, or None and the paths of the fields it waits for."""
    lacks = tuple(_lacks(budget))
    if budget.cell is None or budget.cell.capacity is None or lacks:
        return None, lacks
    session = budget.session or Session()
    case = _Case(
        pack=pack_of(budget, budget.cell, budget.cell.capacity.value),
        consumers=tuple(_consumer(row) for row in budget.gear if not row.off.value),
        supply=supply_of(budget),
        temperature_k=session.temperature.value,
        reserve=session.reserve.value,
    )
    return _in_session(case, budget.cell, session), ()


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
    return 2.0 * stock.wire_resistance(wiring.gauge.value, wiring.length.value)


def supply_of(budget: Budget) -> Supply | None:
    """Return the converter of the budget, None where there is none."""
    supply = budget.supply
    if supply is None or supply.volts is None:
        return None
    down = supply.kind.value == "down"
    least_v = supply.volts.value if down and supply.min_input is None else (value(supply.min_input) or 0.0)
    return Supply(volts=supply.volts.value, efficiency=supply.efficiency.value, min_input_v=least_v)


@lru_cache(maxsize=32)  # most edits change nothing of it
def _in_session(case: _Case, cell: Cell, session: Session) -> Power:
    source, load, run = case.run()
    quiet_a = sum(consumer.count * consumer.quiet_a for consumer in case.consumers)
    flown = _plan(session, min(1.0, quiet_a / load.mean_a))
    flights = None if flown is None else plan.flights_per_cell(run.time_s, flown)
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
        session_flights=wanted,
        cells_needed=plan.cells_needed(wanted or 0, flights or 0) if known else None,
        swaps=plan.swaps(wanted or 0, flights or 0) if known else (),
        charge_s=_charge_time(case.pack, run, charge_a),
        charge_rate=None if charge_a is None else charge_a * 3600.0 / case.pack.capacity_c,
        sways=_sways(case, run.time_s),
    )


def _plan(session: Session, quiet_share: float) -> Plan | None:
    if session.on_time is None:
        return None
    pause_s = (value(session.pause) or 0.0) if session.between.value == "on" else 0.0
    return Plan(on_s=session.on_time.value, pause_s=pause_s, pause_share=quiet_share)


def _charge_time(pack: Pack, run: Run, charge_a: float | None) -> float | None:
    """Return the least time to charge from where the run ended [s]; None without a current."""
    if charge_a is None:
        return None
    return plan.charge_time(pack.capacity_c * pack.left * (1.0 - run.end_state), charge_a)


def _sways(case: _Case, time_s: float) -> tuple[Sway, ...]:
    """Return what worse and better would do to the run time, the largest span first."""

    def pair(name: str, worse: _Case, better: _Case) -> Sway:
        times = (worse.run()[2].time_s, better.run()[2].time_s)
        return Sway(id=name, worse_s=min(*times, time_s), better_s=max(*times, time_s))

    colder_k = max(cells.COLDEST_K, case.temperature_k - SWAY_K)
    warmer_k = min(cells.WARMEST_K, case.temperature_k + SWAY_K)
    found = [
        pair("capacity", _capacity(case, 1.0 - SWAY_SHARE), _capacity(case, 1.0 + SWAY_SHARE)),
        pair("temperature", replace(case, temperature_k=colder_k), replace(case, temperature_k=warmer_k)),
        pair("resistance", _resistance(case, SWAY_FACTOR), _resistance(case, 1.0 / SWAY_FACTOR)),
        pair("busy", _busy(case, SWAY_FACTOR), _busy(case, 1.0 / SWAY_FACTOR)),
    ]
    return tuple(sorted(found, key=lambda sway: -sway.span_s))


def _capacity(case: _Case, factor: float) -> _Case:
    """Return the case with another capacity and the resistance it had."""
    ohm = case.pack.resistance_ohm
    kept = cells.resistance_from_capacity(case.pack.capacity_c) if ohm is None else ohm
    return replace(case, pack=replace(case.pack, capacity_c=case.pack.capacity_c * factor, resistance_ohm=kept))


def _resistance(case: _Case, factor: float) -> _Case:
    ohm = case.pack.resistance_ohm
    known = cells.resistance_from_capacity(case.pack.capacity_c) if ohm is None else ohm
    return replace(case, pack=replace(case.pack, resistance_ohm=known * factor))


def _busy(case: _Case, factor: float) -> _Case:
    busier = tuple(replace(each, busy_share=min(1.0, each.busy_share * factor)) for each in case.consumers)
    return replace(case, consumers=busier)


def _consumer(row: GearRow) -> Consumer:
    return Consumer(
        count=row.count.value,
        quiet_a=value(row.draw) or 0.0,
        busy_a=value(row.busy_draw),
        busy_share=value(row.busy) or 0.0,
        min_volts=value(row.min_volts),
    )


NEEDED = (
    "cell", "cell.resistance", "cell.cutoff", "cell.series", "cell.capacity_left", "session", "session.temperature",
    "session.reserve", "supply", "supply.kind", "supply.efficiency", "supply.min_input", "wiring", "session.between",
)  # fmt: skip


def _lacks(budget: Budget) -> Iterable[str]:
    """Yield the fields without which the run cannot be worked out: absent, or not to be read."""
    yield from (path for path in NEEDED if path in budget.unread)
    if budget.cell is None or budget.cell.capacity is None:
        yield "cell.capacity"
    yield from _half_given(budget)
    for index, row in enumerate(budget.gear):
        if not row.off.value:
            yield from _row_lacks(budget, row, f"gear.{index}")
    consumers = [_consumer(row) for row in budget.gear if not row.off.value]
    if endurance.mean_draw(consumers) <= 0.0:
        yield "gear.draw"


def _half_given(budget: Budget) -> Iterable[str]:
    """Yield what is missing of things that need two entries: a converter, leads, a radio left on through pauses."""
    wiring, session, supply = budget.wiring, budget.session, budget.supply
    if supply is not None and supply.volts is None:
        started = supply.min_input is not None or supply.efficiency.typed is not None
        if started or "supply.volts" in budget.unread:
            yield "supply.volts"
    if wiring is not None and wiring.gauge is None and (wiring.length is not None or "wiring.gauge" in budget.unread):
        yield "wiring.gauge"
    if wiring is not None and wiring.length is None and (wiring.gauge is not None or "wiring.length" in budget.unread):
        yield "wiring.length"
    if session is not None and session.between.value == "on" and session.pause is None:
        yield "session.pause"


def _row_lacks(budget: Budget, row: GearRow, path: str) -> Iterable[str]:
    for name in ("draw", "busy_draw", "busy", "min_volts", "count", "off"):
        if f"{path}.{name}" in budget.unread:
            yield f"{path}.{name}"
    if row.busy_draw is not None and row.busy is None and f"{path}.busy" not in budget.unread:
        yield f"{path}.busy"
