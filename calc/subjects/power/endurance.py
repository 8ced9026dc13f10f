"""How long the cell runs the gear, and what ends the run.

Scope: a constant mean draw, a constant resistance; cells directly on the gear, or through a converter.

Symbols: i mean draw [A]; î peak draw [A]; C capacity [C]; r from `.cell`; R resistance at 25 °C [ohm]; P power
taken from the cell [W]; v voltage under load [V]; s state of charge.

    mean draw  i = Σ n (q + f (b − q))      q quiet, b busy draw of one, f busy share
    peak draw  î = Σ n b                    (q where there is no b): everything at work at once
    the run ends at the largest of three states of charge:
      reserve   s = the share kept
      cutoff    OCV(s) = cut-off + i R r
      brownout  OCV(s) = highest voltage the gear needs + î R r
    time = (1 − s) C / i

    through a converter of output V and efficiency η: P = V i / η, v = OCV − (P/v) R, and
    time = ∫ C v(s) / P ds, in closed form along each straight piece of the table. The converter gives up where v
    falls to what it needs, or where the cell can no longer give the power (OCV² = 4 P R).

Source: charge bookkeeping and Ohm's law; checked against PyBaMM runs at constant current and at constant power.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import log, sqrt

from calc.errors import require
from calc.subjects.power import cell, sag
from calc.vocabulary import RunEnd

ROUNDING = 1e-9  # at the very point of collapse the cell still gives half its voltage at rest


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
    """The cell as it is today: capacity [C], resistance [ohm], cut-off voltage under the mean draw [V]."""

    capacity_c: float
    resistance_ohm: float
    cutoff_v: float
    table: cell.Table = cell.OPEN_CIRCUIT


@dataclass(frozen=True, kw_only=True)
class Supply:
    """A converter between cell and gear: output [V] > 0, efficiency above 0 to 1, least input [V], 0 if any will do."""

    volts: float
    efficiency: float
    min_input_v: float = 0.0

    def power(self, draw_a: float) -> float:
        """Return the power [W] taken from the cell for a draw [A] of the gear.

        Raises
        ------
        OutOfRangeError
            If `volts` is not above zero, or the efficiency does not lie above 0 to 1.
        """
        volts = require("volts", self.volts, 0.0, above=True)
        return volts * draw_a / require("efficiency", self.efficiency, 0.0, 1.0, above=True)


@dataclass(frozen=True, kw_only=True)
class Run:
    """A run: its time [s], what ends it (a RunEnd), the state of charge and the lowest voltage then.

    There is no lowest voltage where the cell cannot give the power that a converter asks: it collapses.
    """

    time_s: float
    ends_by: RunEnd
    end_state: float
    lowest_v: float | None


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


@dataclass(frozen=True, kw_only=True)
class Pack:
    """Cells as bought: capacity [C] and resistance [ohm, at 25 °C; None: the usual, see `sag`] of one, in series.

    `left` is the share of the capacity that age has left; `wiring_ohm` the leads there and back.
    """

    capacity_c: float
    resistance_ohm: float | None
    cutoff_v: float  # of one cell
    series: int = 1
    left: float = 1.0
    wiring_ohm: float = 0.0


def today(pack: Pack, temperature_k: float) -> Source:
    """Return the cells at a temperature; that the cold takes charge, too, `span` counts.

    Raises
    ------
    OutOfRangeError
        If the capacity is not above zero, or the temperature lies outside 253.15 to 333.15 K.
    """
    capacity_c = require("capacity_c", pack.capacity_c, 0.0, above=True)
    left = require("left", pack.left, 0.0, 1.0, above=True)
    one_ohm = sag.usual(capacity_c)[1].settled_ohm if pack.resistance_ohm is None else pack.resistance_ohm
    cells_ohm = pack.series * require("resistance_ohm", one_ohm, 0.0) * cell.resistance_ratio(temperature_k)
    return Source(
        capacity_c=capacity_c * left,
        resistance_ohm=cells_ohm + require("wiring_ohm", pack.wiring_ohm, 0.0),
        cutoff_v=pack.series * pack.cutoff_v,
        table=tuple((state, pack.series * volts) for state, volts in cell.OPEN_CIRCUIT),
    )


@dataclass(frozen=True, kw_only=True)
class Load:
    """What the gear asks: mean and peak draw [A], 0 < mean ≤ peak; the voltage it needs [V]; a converter, if any."""

    mean_a: float
    peak_a: float
    min_volts: float | None = None
    supply: Supply | None = None

    def least_volts(self, source: Source) -> float | None:
        """Return the voltage under the peak below which the gear stops [V]; None if nobody says."""
        if self.supply is None:
            return self.min_volts
        if self.min_volts is not None and self.supply.volts < self.min_volts:
            return float("inf")  # the converter never gives enough
        collapse_v = sqrt(self.supply.power(self.peak_a) * source.resistance_ohm)
        return max(self.supply.min_input_v, collapse_v)

    def rest_volts(self, source: Source, volts: float, draw_a: float) -> float:
        """Return the voltage at rest at which a draw of the gear pulls the cell down to `volts` > 0."""
        current_a = draw_a if self.supply is None else self.supply.power(draw_a) / volts
        return volts + current_a * source.resistance_ohm

    def volts_under(self, source: Source, state: float, draw_a: float) -> float | None:
        """Return the voltage under a draw of the gear at a state of charge [V]; None where the cell collapses."""
        rest_v = cell.open_circuit_voltage(state, source.table)
        if self.supply is None:
            return rest_v - draw_a * source.resistance_ohm
        inside = rest_v**2 - 4.0 * self.supply.power(draw_a) * source.resistance_ohm
        return None if inside < -ROUNDING * rest_v**2 else (rest_v + sqrt(max(0.0, inside))) / 2.0


def run(source: Source, load: Load, reserve: float, start: float = 1.0) -> Run:
    """Return the run from state of charge `start` to the first of the three ends.

    Parameters
    ----------
    source : Source
        The cells as they are today.
    load : Load
        What the gear asks.
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
    >>> found = run(fresh, Load(mean_a=0.060, peak_a=0.060), reserve=0.20)
    >>> round(found.time_s / 60, 6), found.ends_by
    (24.0, 'reserve')
    """
    require("mean_a", load.mean_a, 0.0, above=True)
    require("peak_a", load.peak_a, load.mean_a * (1.0 - 1e-12))
    states = _end_states(source, load, require("reserve", reserve, 0.0, 1.0))
    ends_by = max(states, key=lambda end: states[end])
    end_state = min(states[ends_by], require("start", start, 0.0, 1.0))
    return Run(
        time_s=run_time(source, load, start, end_state),
        ends_by=ends_by,
        end_state=end_state,
        lowest_v=load.volts_under(source, end_state, load.peak_a),
    )


def _end_states(source: Source, load: Load, reserve: float) -> dict[RunEnd, float]:
    """Return the state of charge of each end; in the order that breaks ties."""
    states: dict[RunEnd, float] = {"reserve": reserve}
    states["cutoff"] = _state_at(source, load, source.cutoff_v, load.mean_a)
    least_v = load.least_volts(source)
    if least_v is not None:
        states["brownout"] = _state_at(source, load, least_v, load.peak_a)
    return states


def _state_at(source: Source, load: Load, volts: float, draw_a: float) -> float:
    """Return the state of charge at which a draw pulls the cell down to `volts`; more than 1 if it always does."""
    if volts == float("inf"):
        return volts
    return cell.state_of_charge(load.rest_volts(source, volts, draw_a), source.table) if volts > 0.0 else 0.0


def run_time(source: Source, load: Load, start: float, end: float) -> float:
    """Return the time [s] that the mean draw takes from one state of charge down to another.

    Raises
    ------
    OutOfRangeError
        If `start` lies outside 0 to 1, or `end` outside 0 to `start`.
    """
    require("end", end, 0.0, require("start", start, 0.0, 1.0))
    if load.supply is None:
        return (start - end) * source.capacity_c / load.mean_a
    power_w = load.supply.power(load.mean_a)
    under = 4.0 * power_w * source.resistance_ohm
    knots = sorted({start, end, *(state for state, _ in source.table if end < state < start)})
    volts = [cell.open_circuit_voltage(state, source.table) for state in knots]
    pieces = zip(knots, knots[1:], volts, volts[1:], strict=False)
    whole = sum((s1 - s0) * _mean_volts(v0, v1, under) for s0, s1, v0, v1 in pieces)
    return source.capacity_c * whole / power_w


def _mean_volts(v0: float, v1: float, under: float) -> float:
    """Return the mean over a straight piece of (V + √(V² − under))/2, the voltage under a constant power."""
    if abs(v1 - v0) < 1e-9:
        return (v0 + sqrt(max(0.0, v0 * v0 - under))) / 2.0
    return (_integral(v1, under) - _integral(v0, under)) / (v1 - v0)


def _integral(volts: float, under: float) -> float:
    """Return the integral of (V + √(V² − under))/2 over V."""
    root = sqrt(max(0.0, volts * volts - under))
    tail = under * log(max(volts + root, sqrt(under))) if under > 0.0 else 0.0
    return (volts * volts + volts * root - tail) / 4.0
