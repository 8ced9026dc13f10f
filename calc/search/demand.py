"""What one charge must do, and what a part asks of the cell: entries as the whole numbers of the search."""

from math import ceil

from calc.document.blocks import BoxPart
from calc.document.entries import GearRow
from calc.errors import require
from calc.search.sets import Need, Option
from calc.subject import value
from calc.subjects.power.entries import Session


def need_of_charge(session: Session, charges: int) -> Need:
    """Return what one of several charges must do: its share of the flights, one at least; any run without a time.

    Raises
    ------
    OutOfRangeError
        If `charges` is below 1.
    """
    require("charges", charges, 1)
    if session.on_time is None:
        return Need()
    flights = ceil((value(session.flights) or 1) / charges)
    pause_s = (value(session.pause) or 0.0) if session.between.value == "on" else 0.0
    return Need(flights=flights, on_s=session.on_time.value, pause_s=pause_s)


def demands(part: BoxPart | GearRow, count: int, mass: int, *, strong: bool) -> Option:
    """Return `count` equal parts as the search takes them, their mass in grains."""
    quiet_a, busy_share = value(part.draw) or 0.0, value(part.busy) or 0.0
    busy_a = quiet_a if part.busy_draw is None else part.busy_draw.value
    return Option(
        mass=mass,
        mean_na=round(count * (quiet_a + busy_share * (busy_a - quiet_a)) * 1e9),
        peak_na=round(count * max(quiet_a, busy_a) * 1e9),
        volts_uv=round((value(part.min_volts) or 0.0) * 1e6),
        quiet_na=round(count * quiet_a * 1e9),
        strong=strong,
    )
