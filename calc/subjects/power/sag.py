"""How far a cell's voltage falls under a load, and how its resistance is found.

Scope: one lithium cell; Thevenin's circuit with one RC branch. Resistances at 25 °C; `cell.resistance_ratio` has the
others.

Symbols: i current [A]; R0 resistance at once, R1 what comes with time, τ its time constant [s].

    sag after a time t          i (R0 + R1 (1 − exp(−t/τ)))        R0 for a short peak, R0 + R1 for the mean
    under a pull on top of it   OCV − mean (R0 + R1) − (peak − mean) (R0 + R1 (1 − exp(−pull/τ)))
    two loads at the bench      R = (V_light − V_heavy) / (I_heavy − I_light)

Sources: circuit as in PyBaMM's Thevenin model, against which it is checked. Resistance times capacity: 34 mohm Ah at
1 kHz (one data sheet, 80 mAh and at most 0.43 ohm). Under a load for seconds more: 70 to 110 mohm Ah is taken; PyBaMM
26.10.1.1's cells, half full, 25 °C, after 1 s and 10 s of 1C: Ai2020 94 and 103, Marquis2019 84 and 88, Ecker2015 (a
large cell for cars, not what flies here) 38 and 42. τ is set so that 34 at once becomes 94 of 103 after 1 s: two
unlike cells, weak.
"""

from dataclasses import dataclass
from math import exp, log, sqrt

from calc.errors import OutOfRangeError, require

AT_ONCE = 0.034 * 3600.0  # ohm C
LEAST_DC, MOST_DC = 0.070 * 3600.0, 0.110 * 3600.0  # ohm C
USUAL_TAU_S = 1.0 / log((103.4 - 34.0) / (103.4 - 94.4))
PULL_S = 1.0  # how long a servo pulls at a stretch: our assumption


@dataclass(frozen=True, kw_only=True)
class Resistance:
    """A cell's two resistances [ohm], ≥ 0, and the time constant of the second [s], above 0."""

    at_once_ohm: float
    later_ohm: float = 0.0
    tau_s: float = USUAL_TAU_S

    @property
    def settled_ohm(self) -> float:
        """R0 + R1, what the mean draw meets [ohm]; both ≥ 0."""
        return require("at_once_ohm", self.at_once_ohm, 0.0) + require("later_ohm", self.later_ohm, 0.0)

    def after(self, time_s: float) -> float:
        """Return what a load meets that began `time_s` ≥ 0 ago [ohm].

        Examples
        --------
        >>> round(Resistance(at_once_ohm=0.48, later_ohm=0.72, tau_s=30.0).after(30.0), 3)
        0.935
        """
        tau_s = require("tau_s", self.tau_s, 0.0, above=True)
        return self.settled_ohm - self.later_ohm * exp(-require("time_s", time_s, 0.0) / tau_s)


def sag(current_a: float, resistance: Resistance, time_s: float) -> float:
    """Return how far the voltage has fallen [V] after a current [A] ≥ 0 of so long [s].

    Examples
    --------
    >>> round(sag(0.1, Resistance(at_once_ohm=0.48, later_ohm=0.72, tau_s=30.0), 0.0), 3)
    0.048
    """
    return require("current_a", current_a, 0.0) * resistance.after(time_s)


def volts_under_pull(
    rest_v: float, mean_a: float, peak_a: float, resistance: Resistance, pull_s: float = PULL_S
) -> float:  # fmt: skip
    """Return the voltage [V] at the end of a pull of the peak current on top of a long mean; peak ≥ mean ≥ 0.

    It can come out below 0: the cell cannot give that current.

    Examples
    --------
    >>> round(volts_under_pull(3.84, 0.05, 0.20, Resistance(at_once_ohm=1.0, later_ohm=2.0), 0.0), 3)
    3.54
    """
    require("peak_a", peak_a, require("mean_a", mean_a, 0.0))
    return rest_v - mean_a * resistance.settled_ohm - (peak_a - mean_a) * resistance.after(pull_s)


def usual(capacity_c: float) -> tuple[Resistance, Resistance, Resistance]:
    """Return the favourable, the middle and the unfavourable resistance of a cell of which only the capacity is known.

    70, 88 and 110 mohm Ah at DC, of which 34 at once; capacity [C] above 0.

    Examples
    --------
    >>> [round(each.settled_ohm, 2) for each in usual(0.030 * 3600)]
    [2.33, 2.92, 3.67]
    """
    require("capacity_c", capacity_c, 0.0, above=True)
    at_once = AT_ONCE / capacity_c
    settled = (LEAST_DC, sqrt(LEAST_DC * MOST_DC), MOST_DC)
    low, middle, high = (Resistance(at_once_ohm=at_once, later_ohm=each / capacity_c - at_once) for each in settled)
    return low, middle, high


def from_meter(meter_ohm: float) -> tuple[Resistance, Resistance, Resistance]:
    """Return the same for a cell measured by a meter at 1 kHz [ohm], ≥ 0: at DC it has 2.1 to 3.2 times as much.

    Examples
    --------
    >>> [round(each.settled_ohm, 2) for each in from_meter(1.0)]
    [2.06, 2.58, 3.24]
    """
    require("meter_ohm", meter_ohm, 0.0)
    settled = (LEAST_DC, sqrt(LEAST_DC * MOST_DC), MOST_DC)
    found = (Resistance(at_once_ohm=meter_ohm, later_ohm=meter_ohm * (each / AT_ONCE - 1.0)) for each in settled)
    low, middle, high = found
    return low, middle, high


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What a meter shows under one load: volts at the cell, current [A]."""

    volts: float
    current_a: float


@dataclass(frozen=True, kw_only=True)
class Bench:
    """A resistance [ohm] out of two readings, its least and most by the meter's digits, and the voltage at rest [V]."""

    ohm: float
    low_ohm: float
    high_ohm: float
    rest_v: float


def bench(light: Reading, heavy: Reading, digit_v: float = 0.0) -> Bench:
    """Return a cell's resistance out of two loads, each read as long after it was put on; the digit of the volts [V].

    Each reading may be off by half a digit, so their difference by a whole one. Read after 1 s for a short pull, after
    10 s or more for the mean. A charger or a meter at 1 kHz shows less than half of this.

    Raises
    ------
    OutOfRangeError
        If a voltage is not above 0, the heavy load does not draw more, or the cell does not sag under it.

    Examples
    --------
    >>> found = bench(Reading(volts=3.90, current_a=0.020), Reading(volts=3.75, current_a=0.070), 0.01)
    >>> round(found.ohm, 3), round(found.low_ohm, 3), round(found.high_ohm, 3), round(found.rest_v, 3)
    (3.0, 2.8, 3.2, 3.96)
    """
    require("light_a", light.current_a, 0.0)
    more_a = heavy.current_a - light.current_a
    if not more_a > 0.0:
        raise OutOfRangeError("heavy_a", heavy.current_a, light.current_a, float("inf"))
    require("heavy_v", heavy.volts, 0.0, light.volts, above=True)
    fall_v = light.volts - heavy.volts
    require("digit_v", digit_v, 0.0)
    ohm = fall_v / more_a
    return Bench(
        ohm=ohm,
        low_ohm=max(0.0, fall_v - digit_v) / more_a,
        high_ohm=(fall_v + digit_v) / more_a,
        rest_v=light.volts + light.current_a * ohm,
    )
