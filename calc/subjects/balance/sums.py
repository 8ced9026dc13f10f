"""Where it balances, and what it takes to balance where it should.

Scope: masses on a line. Station x [m] from the datum at the nose, aft positive; m mass [kg]; M = Σ m.

    balance point      x = Σ m x / Σ m
    ballast at b       M (t − x) / (b − t)     brings it to the wanted point t
    moving a part      by M (t − x) / m        does it without ballast

Source: FAA Aircraft Weight and Balance Handbook (FAA-H-8083-1), the same formulas; checked against FAA knowledge-test
questions with printed answers.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from calc.errors import require

SAME_PLACE_M = 1e-9


@dataclass(frozen=True, kw_only=True)
class Weight:
    """A mass [kg] at a station [m]."""

    mass_kg: float
    station_m: float


@dataclass(frozen=True, kw_only=True)
class Balance:
    """The whole mass [kg] and its balance point [m]."""

    mass_kg: float
    cg_m: float


def balance_point(weights: Iterable[Weight]) -> Balance:
    """Return the mass and the balance point of several weights.

    Raises
    ------
    OutOfRangeError
        If a mass is negative, a station is not finite, or the whole mass is not above zero.

    Examples
    --------
    >>> balance_point([Weight(mass_kg=4, station_m=2), Weight(mass_kg=6, station_m=5), Weight(mass_kg=10, station_m=7)])
    Balance(mass_kg=20, cg_m=5.4)
    """
    parts = tuple(weights)
    mass_kg = sum(require("mass_kg", part.mass_kg, 0.0) for part in parts)
    require("mass_kg", mass_kg, 0.0, above=True)
    moment = sum(part.mass_kg * require("station_m", part.station_m) for part in parts)
    return Balance(mass_kg=mass_kg, cg_m=moment / mass_kg)


def ballast(mass_kg: float, cg_m: float, target_m: float, station_m: float) -> float:
    """Return the ballast [kg] at a station that brings the balance point to the target.

    Negative: ballast there would push the wrong way, or mass would have to come off.

    Raises
    ------
    OutOfRangeError
        If the mass is not above zero, or the ballast would sit nearer than 1e-09 m to the target, where it
        moves nothing.

    Examples
    --------
    >>> round(ballast(4954, 30.5, 32.0, 162), 2)
    57.16
    """
    require("mass_kg", mass_kg, 0.0, above=True)
    arm_m = require("station_m", station_m) - require("target_m", target_m)
    require("distance of the ballast from the wanted point", abs(arm_m), SAME_PLACE_M)
    return mass_kg * (target_m - require("cg_m", cg_m)) / arm_m


def moved_station(mass_kg: float, cg_m: float, target_m: float, part: Weight) -> float:
    """Return the station [m] at which a part already aboard brings the balance point to the target.

    Raises
    ------
    OutOfRangeError
        If a mass is not above zero, or a station is not finite.

    Examples
    --------
    >>> round(moved_station(2500, 44.0, 43.5, Weight(mass_kg=31.25, station_m=150)), 6)
    110.0
    """
    require("mass_kg", mass_kg, 0.0, above=True)
    require("part's mass_kg", part.mass_kg, 0.0, above=True)
    shift_m = require("target_m", target_m) - require("cg_m", cg_m)
    return require("station_m", part.station_m) + mass_kg * shift_m / part.mass_kg


def chord_station(leading_edge_m: float, chord_m: float, share: float) -> float:
    """Return the station [m] of a share of the wing chord behind its leading edge.

    Raises
    ------
    OutOfRangeError
        If the chord is not above zero.

    Examples
    --------
    >>> chord_station(0.120, 0.100, 0.55)
    0.175
    """
    require("chord_m", chord_m, 0.0, above=True)
    return require("leading_edge_m", leading_edge_m) + require("share", share) * chord_m
