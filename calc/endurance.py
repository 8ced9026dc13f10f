"""How long the cell runs the gear, and what ends the run.

Scope: a constant mean draw, a constant resistance; one cell directly on the gear.

Symbols: i mean draw [A]; î peak draw [A]; C capacity [C]; k, r from `calc.cell`; R resistance at 25 °C [ohm].

    mean draw  i = Σ n (q + f (b − q))      q quiet, b busy draw of one, f busy share
    peak draw  î = Σ n b                    (q where there is no b): everything at work at once
    the run ends at the largest of three states of charge:
      reserve   s = the share kept
      cutoff    OCV(s) = cut-off + i R r
      brownout  OCV(s) = highest voltage the gear needs + î R r
    time = (1 − s) C k / i

Source: charge bookkeeping and Ohm's law; checked against a PyBaMM run with constant resistance.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, floor

from calc import cell
from calc.errors import require

ENDS = ("reserve", "cutoff", "brownout")
WHOLE = 1e-9  # a run that falls short of one more flight by a rounding error still makes it


@dataclass(frozen=True, kw_only=True)
class Consumer:
    """A row's appetite: count, quiet and busy draw of one [A], share of the time at work, least voltage [V]."""

    count: int = 1
    quiet_a: float = 0.0
    busy_a: float | None = None
    busy_share: float = 0.0
    min_volts: float | None = None


@dataclass(frozen=True, kw_only=True)
class Source:
    """The cell as it is today: usable capacity [C], resistance [ohm], cut-off voltage under the mean draw [V]."""

    capacity_c: float
    resistance_ohm: float
    cutoff_v: float
    table: cell.Table = cell.OPEN_CIRCUIT


@dataclass(frozen=True, kw_only=True)
class Run:
    """A run: its time [s], what ends it (one of ENDS), the state of charge and the lowest voltage then."""

    time_s: float
    ends_by: str
    end_state: float
    lowest_v: float


def mean_draw(consumers: Iterable[Consumer]) -> float:
    """Return the mean draw [A].

    Raises
    ------
    OutOfRangeError
        If a draw is negative or a busy share lies outside 0 to 1.

    Examples
    --------
    >>> round(mean_draw([Consumer(quiet_a=0.006, busy_a=0.160, busy_share=0.08)]), 5)
    0.01832
    """
    return sum(_mean_of(consumer) for consumer in consumers)


def _mean_of(consumer: Consumer) -> float:
    quiet_a = require("quiet_a", consumer.quiet_a, 0.0)
    busy_a = quiet_a if consumer.busy_a is None else require("busy_a", consumer.busy_a, 0.0)
    busy_share = require("busy_share", consumer.busy_share, 0.0, 1.0)
    return consumer.count * (quiet_a + busy_share * (busy_a - quiet_a))


def peak_draw(consumers: Iterable[Consumer]) -> float:
    """Return the draw [A] with everything at work at once.

    Examples
    --------
    >>> peak_draw([Consumer(quiet_a=0.02), Consumer(count=2, quiet_a=0.006, busy_a=0.160)])
    0.34
    """
    return sum(c.count * max(c.quiet_a, c.quiet_a if c.busy_a is None else c.busy_a) for c in consumers)


def needed_volts(consumers: Iterable[Consumer]) -> float | None:
    """Return the highest voltage [V] that any of the gear needs; None if nobody says.

    Examples
    --------
    >>> needed_volts([Consumer(min_volts=2.8), Consumer(min_volts=3.1), Consumer()])
    3.1
    """
    return max((c.min_volts for c in consumers if c.min_volts is not None), default=None)


def today(capacity_c: float, resistance_ohm: float | None, cutoff_v: float, temperature_k: float) -> Source:
    """Return the cell at a temperature; a resistance that is not known is taken from the capacity.

    Raises
    ------
    OutOfRangeError
        If the capacity is not above zero or the temperature lies outside 253.15 to 333.15 K.
    """
    require("capacity_c", capacity_c, 0.0, above=True)
    at_25_ohm = cell.resistance_from_capacity(capacity_c) if resistance_ohm is None else resistance_ohm
    return Source(
        capacity_c=capacity_c * cell.capacity_share(temperature_k),
        resistance_ohm=require("resistance_ohm", at_25_ohm, 0.0) * cell.resistance_ratio(temperature_k),
        cutoff_v=cutoff_v,
    )


def run(
    source: Source, mean_a: float, peak_a: float, min_volts: float | None, reserve: float, start: float = 1.0
) -> Run:  # fmt: skip
    """Return the run from state of charge `start` to the first of the three ends.

    Parameters
    ----------
    source : Source
        The cell as it is today.
    mean_a, peak_a : float, scalars
        [A], 0 < mean ≤ peak.
    min_volts : float or None
        Highest voltage the gear needs [V]; None: brown-out is not looked at.
    reserve : float
        Share of the charge kept, 0 to 1.
    start : float
        State of charge at the start, 0 to 1.

    Raises
    ------
    OutOfRangeError
        For arguments outside.

    Examples
    --------
    >>> fresh = Source(capacity_c=108.0, resistance_ohm=0.0, cutoff_v=3.3)
    >>> found = run(fresh, mean_a=0.060, peak_a=0.060, min_volts=None, reserve=0.20)
    >>> round(found.time_s / 60, 6), found.ends_by
    (24.0, 'reserve')
    """
    require("mean_a", mean_a, 0.0, above=True)
    require("peak_a", peak_a, mean_a * (1.0 - 1e-12))
    states = _end_states(source, mean_a, peak_a, min_volts, require("reserve", reserve, 0.0, 1.0))
    ends_by = max(states, key=lambda end: states[end])
    end_state = min(states[ends_by], start)
    return Run(
        time_s=(start - end_state) * source.capacity_c / mean_a,
        ends_by=ends_by,
        end_state=end_state,
        lowest_v=cell.open_circuit_voltage(end_state, source.table) - peak_a * source.resistance_ohm,
    )


def _end_states(
    source: Source, mean_a: float, peak_a: float, min_volts: float | None, reserve: float
) -> dict[str, float]:  # fmt: skip
    """Return the state of charge of each end; in the order that breaks ties."""
    states = {"reserve": reserve}
    states["cutoff"] = cell.state_of_charge(source.cutoff_v + mean_a * source.resistance_ohm, source.table)
    if min_volts is not None:
        states["brownout"] = cell.state_of_charge(min_volts + peak_a * source.resistance_ohm, source.table)
    return states


def loaded_voltage(source: Source, draw_a: float, mean_a: float, time_s: float) -> float:
    """Return the voltage [V] under `draw_a` after `time_s` of the mean draw from a full cell.

    Raises
    ------
    OutOfRangeError
        If the cell is empty before that.
    """
    state = 1.0 - require("time_s", time_s, 0.0) * mean_a / source.capacity_c
    return cell.open_circuit_voltage(state, source.table) - draw_a * source.resistance_ohm


def flights_in(time_s: float, on_time_s: float) -> int:
    """Return how many whole flights of `on_time_s` > 0 a run holds.

    Examples
    --------
    >>> flights_in(24.0 * 60, 6.0 * 60)
    4
    """
    return floor(require("time_s", time_s, 0.0) / require("on_time_s", on_time_s, 0.0, above=True) + WHOLE)


def cells_needed(flights: int, flights_per_cell: int) -> int | None:
    """Return how many charged cells the session takes; None when a cell does not give one flight.

    Examples
    --------
    >>> cells_needed(8, 3)
    3
    """
    return None if flights_per_cell < 1 else ceil(flights / flights_per_cell)
