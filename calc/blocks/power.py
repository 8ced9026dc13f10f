"""The cell in the session."""

from collections.abc import Iterable
from dataclasses import dataclass

from calc import endurance
from calc.blocks import value
from calc.budget import Budget, GearRow, Session


@dataclass(frozen=True, kw_only=True)
class Power:
    """The cell in the session. Draws [A], voltages [V], times [s]."""

    source: endurance.Source
    mean_a: float
    peak_a: float
    min_volts: float | None
    reserve: float
    resistance_assumed: bool
    run: endurance.Run
    on_time_s: float | None
    flights: int | None  # whole flights from one cell
    session_flights: int | None
    cells_needed: int | None


def _consumer(row: GearRow) -> endurance.Consumer:
    return endurance.Consumer(
        count=row.count.value,
        quiet_a=value(row.draw) or 0.0,
        busy_a=value(row.busy_draw),
        busy_share=value(row.busy) or 0.0,
        min_volts=value(row.min_volts),
    )


def power(budget: Budget) -> tuple[Power | None, tuple[str, ...]]:
    """Return the power block, or None and the paths of the fields it waits for."""
    cell, lacks = budget.cell, tuple(_lacks(budget))
    if cell is None or cell.capacity is None or lacks:
        return None, lacks or ("cell.capacity",)
    session = budget.session or Session()
    source = endurance.today(
        cell.capacity.value, value(cell.resistance), cell.cutoff.value, session.temperature.value
    )  # fmt: skip
    return _in_session(source, _consumers(budget), session, resistance_assumed=cell.resistance is None), ()


def _consumers(budget: Budget) -> list[endurance.Consumer]:
    return [_consumer(row) for row in budget.gear if not row.off.value]


def _in_session(
    source: endurance.Source, consumers: list[endurance.Consumer], session: Session, *, resistance_assumed: bool
) -> Power:  # fmt: skip
    mean_a, min_volts = endurance.mean_draw(consumers), endurance.needed_volts(consumers)
    peak_a = max(mean_a, endurance.peak_draw(consumers))
    run = endurance.run(source, mean_a, peak_a, min_volts, session.reserve.value)
    wanted, on_time_s = value(session.flights), value(session.on_time)
    flights = None if on_time_s is None else endurance.flights_in(run.time_s, on_time_s)
    return Power(
        source=source,
        mean_a=mean_a,
        peak_a=peak_a,
        min_volts=min_volts,
        reserve=session.reserve.value,
        resistance_assumed=resistance_assumed,
        run=run,
        on_time_s=on_time_s,
        flights=flights,
        session_flights=wanted,
        cells_needed=None if wanted is None or flights is None else endurance.cells_needed(wanted, flights),
    )


def _lacks(budget: Budget) -> Iterable[str]:
    """Yield the fields without which the run cannot be worked out: absent, or not to be read."""
    for path in ("cell", "cell.resistance", "cell.cutoff", "session", "session.temperature", "session.reserve"):
        if path in budget.unread:
            yield path
    if budget.cell is None or budget.cell.capacity is None:
        yield "cell.capacity"
    for index, row in enumerate(budget.gear):
        if not row.off.value:
            yield from _row_lacks(budget, row, f"gear.{index}")
    if endurance.mean_draw(_consumers(budget)) <= 0.0:
        yield "gear.draw"


def _row_lacks(budget: Budget, row: GearRow, path: str) -> Iterable[str]:
    for name in ("draw", "busy_draw", "busy", "min_volts", "count", "off"):
        if f"{path}.{name}" in budget.unread:
            yield f"{path}.{name}"
    if row.busy_draw is not None and row.busy is None and f"{path}.busy" not in budget.unread:
        yield f"{path}.busy"
