"""Climb and glide apart: the height that an energy gives, the time down from it, and how well both are known.

Scope: still air; a rubber or electric motor run, or a catapult (a run of 0 s); a steady climb, then a steady glide.

Symbols: E energy [J]; η share of it that the propeller gives on; m mass [kg]; w sinking speed [m/s], √(2 m g/(ρ S))/Φ;
t motor run [s]; h height at its end [m].

    height    h = η E / (m g) − w_climb t_motor        what is left of the lift after keeping the model up
    time      t = t_motor + h / w_glide
    too weak to climb (h = 0): t = η E / (m g w_climb)
    glide     Φ_glide = Φ × what the propeller leaves of it

Sources: energy over power (any flight-mechanics text, from memory). Small propellers 45 to 75 % (university propeller
tests). What a propeller leaves of the glide: from memory, no source; a folded one nearly all. Which of stopped and
free-wheeling is worse depends on its pitch. A timed glide has its propeller in it already: take "in it" there.
The range: each thing that is not known moves the answer alone, and the moves are added in squares (GUM, JCGM 100,
5.1.2, uncorrelated), of the time as ratios. Leaves out: the zoom at the end of the climb, circling, rising air.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import exp, log, sqrt

from calc.errors import require
from calc.subjects.air.sums import GRAVITY, energy_time, height_time, sink_speed

PROPELLER = {  # what is left of Φ: least, usual, most
    "in it": (1.0, 1.0, 1.0),
    "none": (1.0, 1.0, 1.0),
    "folded": (0.93, 0.98, 1.0),
    "stopped": (0.70, 0.82, 0.92),
    "free-wheeling": (0.70, 0.85, 0.95),
}
GUESSED_FACTOR = 1.25  # of Φ, share, energy or motor run that no flight was timed for, either way: our assumption
ENERGY_LAUNCHES = ("rubber", "motor", "catapult")
EFFICIENCY = (0.45, 0.58, 0.75)  # least, usual, most of small propellers; the usual one is their geometric mean


@dataclass(frozen=True, kw_only=True)
class Flight:
    """A flight: energy [J], share that becomes height, mass [kg], area [m²], density [kg/m³], Φ, motor run [s].

    `left` is what the propeller leaves of Φ in the glide, above 0 to 1.
    """

    energy_j: float
    efficiency: float
    mass_kg: float
    area_m2: float
    density_kg_m3: float
    glide_factor: float
    motor_s: float = 0.0
    left: float = 1.0

    @cached_property
    def climb_sink_m_s(self) -> float:
        """What the model would sink at in the climb without its motor [m/s]."""
        return sink_speed(self.mass_kg, self.area_m2, self.density_kg_m3, self.glide_factor)

    @property
    def glide_sink_m_s(self) -> float:
        """What it sinks at in the glide [m/s]; `left` above 0 to 1."""
        return self.climb_sink_m_s / require("left", self.left, 0.0, 1.0, above=True)

    @cached_property
    def lift_m(self) -> float:
        """What the energy would lift the model to if nothing had to keep it up [m]; share above 0 to 1, mass > 0."""
        lifts = require("efficiency", self.efficiency, 0.0, 1.0, above=True)
        energy_j = require("energy_j", self.energy_j, 0.0, above=True)
        return lifts * energy_j / (require("mass_kg", self.mass_kg, 0.0, above=True) * GRAVITY)


def height(flight: Flight) -> float:
    """Return the height [m] at the end of the motor run; 0 where the motor is too weak to climb; run ≥ 0.

    Examples
    --------
    >>> round(height(Flight(energy_j=45.0, efficiency=0.6, mass_kg=0.065, area_m2=0.086, density_kg_m3=1.225,
    ...     glide_factor=8.0, motor_s=25.0)), 1)
    31.5
    """
    return max(0.0, flight.lift_m - flight.climb_sink_m_s * require("motor_s", flight.motor_s, 0.0))


def time(flight: Flight) -> float:
    """Return the still-air time [s], motor run and glide.

    Examples
    --------
    >>> round(time(Flight(energy_j=45.0, efficiency=0.6, mass_kg=0.065, area_m2=0.086, density_kg_m3=1.225,
    ...     glide_factor=8.0, motor_s=25.0, left=0.85)), 0)
    87.0
    """
    top_m = height(flight)
    if top_m <= 0.0:
        return energy_time(flight.energy_j, flight.efficiency, flight.mass_kg, flight.climb_sink_m_s)
    return flight.motor_s + height_time(top_m, flight.glide_sink_m_s)


def energy_for(height_m: float, flight: Flight) -> float:
    """Return the energy [J] that takes a flight to a height [m] > 0 in its motor run; its own energy does not matter.

    Examples
    --------
    >>> some = Flight(energy_j=45.0, efficiency=0.6, mass_kg=0.065, area_m2=0.086, density_kg_m3=1.225,
    ...     glide_factor=8.0, motor_s=25.0)
    >>> round(energy_for(height(some), some), 6)
    45.0
    """
    rises_m = require("height_m", height_m, 0.0, above=True) + flight.climb_sink_m_s * flight.motor_s
    return rises_m * flight.mass_kg * GRAVITY / require("efficiency", flight.efficiency, 0.0, 1.0, above=True)


@dataclass(frozen=True, kw_only=True)
class Range:
    """A figure with its low and high end."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True, kw_only=True)
class Ranges:
    """The height [m] and the time [s] of a flight."""

    height_m: Range
    time_s: Range


def either_way(value: float, factor: float = GUESSED_FACTOR, most: float = float("inf")) -> tuple[float, float]:
    """Return the low and the high end of a guess, a factor ≥ 1 either way.

    Examples
    --------
    >>> either_way(8.0), either_way(0.9, most=1.0)
    ((6.4, 10.0), (0.72, 1.0))
    """
    require("factor", factor, 1.0)
    return value / factor, min(most, value * factor)


def ranges(flight: Flight, unsure: Mapping[str, tuple[float, float]]) -> Ranges:
    """Return height and time with their ranges; `unsure` has the low and high end of the fields that are not known.

    Raises
    ------
    OutOfRangeError
        If a middle does not lie between its ends.

    Examples
    --------
    >>> some = Flight(energy_j=45.0, efficiency=0.6, mass_kg=0.065, area_m2=0.086, density_kg_m3=1.225,
    ...     glide_factor=8.0, motor_s=25.0, left=0.85)
    >>> found = ranges(some, {"efficiency": (0.45, 0.75), "glide_factor": either_way(8.0)}).time_s
    >>> round(found.low), round(found.middle), round(found.high)
    (61, 87, 117)
    """
    heights, times = [], []
    top_m, whole_s = height(flight), time(flight)
    for name, (low, high) in unsure.items():
        require(name, getattr(flight, name), low, high)
        ends = [replace(flight, **{name: end}) for end in (low, high)]
        heights.append(sorted(height(each) - top_m for each in ends))
        times.append(sorted(log(time(each) / whole_s) for each in ends))
    down_m, up_m = _squares(heights)
    down, up = _squares(times)
    return Ranges(
        height_m=Range(low=max(0.0, top_m - down_m), middle=top_m, high=top_m + up_m),
        time_s=Range(low=whole_s * exp(-down), middle=whole_s, high=whole_s * exp(up)),
    )


def _squares(moves: list[list[float]]) -> tuple[float, float]:
    """Return the moves down and up, each added in squares."""
    return sqrt(sum(min(0.0, low) ** 2 for low, _ in moves)), sqrt(sum(max(0.0, high) ** 2 for _, high in moves))
