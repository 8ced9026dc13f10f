"""What is read of a budget for the power: cells, leads, converter, and what each row draws."""

from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.document.fields import described, key_of
from calc.subject import Needs, value
from calc.subjects.power.charges import Session as Charged
from calc.subjects.power.endurance import Consumer, Pack, Supply
from calc.subjects.power.entries import Charge, Session
from calc.subjects.power.ohms import BENCH
from calc.subjects.stock import sums as stock

ROOM_K, COOL_K = 293.15, 288.15  # where nobody says; below it a cell gives less than it holds
NEEDED = (
    "cell", "cell.resistance", "cell.meter", *(f"cell.{name}" for name in BENCH), "cell.cutoff", "cell.series",
    "cell.capacity_left", "session", "session.temperature",
    "session.reserve", "supply", "supply.kind", "supply.volts", "supply.efficiency", "supply.min_input", "wiring",
    "wiring.gauge", "wiring.length", "session.between",
)  # fmt: skip


def consumer(needs: Needs, path: str, row: GearRow) -> Consumer:
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


def sessions_of(needs: Needs, session: Session, quiet_share: float) -> tuple[Charged, ...]:
    """Return the sessions whose charge was put back; with the radio left on between flights the pauses count, too."""
    pause_s = (value(session.pause) or 0.0) * quiet_share if session.between.value == "on" else 0.0
    found = []
    for row, each in enumerate(needs.budget.charges):
        if each.out.value or each == Charge():
            continue
        on_s, flown = value(each.on_time) or value(session.on_time), value(each.flights)
        known = on_s is not None and flown is not None
        if each.put_back is None:
            needs.note(f"charges.{row}.put_back")
            continue
        if not known and each.rest is None:  # else it tells nothing
            needs.note(f"charges.{row}.{'flights' if flown is None else 'on_time'}")
        found.append(Charged(
            row=row,
            put_back_c=each.put_back.value,
            on_s=(flown or 0) * (on_s or 0.0) + ((flown or 1) - 1) * pause_s if known else None,
            rest_v=value(each.rest),
            warm=(value(each.temperature) or ROOM_K) >= COOL_K,
        ))  # fmt: skip
    return tuple(found)


def log_unread(budget: Budget) -> tuple[str, ...]:
    """Return the paths of what cannot be read of the cell log: it may tell of a shorter run."""
    needs = Needs(budget)
    rows = range(len(budget.charges))
    needs.sound("charges", *(f"charges.{row}.{key_of(name)}" for row in rows for name in described(Charge)))
    return needs.missing


def half_given(needs: Needs) -> None:
    """Note what is missing of things that need two entries: a converter, leads."""
    budget = needs.budget
    wiring, supply = budget.wiring, budget.supply
    if supply is not None and (supply.min_input is not None or supply.efficiency.typed is not None):
        needs.must("supply.volts", supply.volts)
    if wiring is not None and (wiring.gauge is not None or wiring.length is not None):
        needs.must("wiring.gauge", wiring.gauge)
        needs.must("wiring.length", wiring.length)


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
