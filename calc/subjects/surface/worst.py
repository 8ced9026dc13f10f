"""The unfavourable end of what a surface asks: where the force can lie, the propeller's stream, how far theory is off.

Symbols: q = ½ρV² [Pa]; V flight speed, v what the propeller adds at its disc [m/s]; A disc area [m²]; P power in the
air [W]; a lift slope [1/rad]; δ deflection [rad]; c chord [m].

    whole surface    moment = q S a(AR) δ max |x_pivot − x| c,  x from 0.20 to 0.40
    propeller        P = 2 ρ A v (V + v)²;  behind it the air comes with V + 2 v;  q rises by ((V + 2 v) / V)²
    hinged flap      thin-aerofoil theory gives 1 to 4.2 times what is measured

Sources: that the force of a small surface lies between 0.20 and 0.40 of its chord from small angles to the stall: from
memory, no source read. Actuator disc (Rankine and Froude): any text on propellers or helicopters. Flap: a vortex
lattice gave 1/2.1 of thin-aerofoil theory at an aspect ratio of 1.45, and at Reynolds numbers of 12 000 to 50 000 about
half is left: worked out or told elsewhere, not read; measured slopes are smaller (NACA TR 721, abstract). The two are
taken as independent.
Range: the stream is fully drawn in, and all of P goes into it: the most that it can be. Swirl is left out.
"""

from math import pi

from calc.errors import require
from calc.subjects.surface import sums

FORCE_AT = (0.20, 0.40)  # share of the chord
LATTICE, LOW_REYNOLDS = 2.1, 2.0
FLAP_TOO_HIGH = LATTICE * LOW_REYNOLDS


def farthest_arm(pivot_share: float) -> float:
    """Return how far from the pivot the force can lie, as a share of the chord; the pivot from 0 to 1.

    Examples
    --------
    >>> round(farthest_arm(0.25), 3), round(farthest_arm(0.30), 3), round(farthest_arm(0.0), 3)
    (0.15, 0.1, 0.4)
    """
    require("pivot_share", pivot_share, 0.0, 1.0)
    return max(abs(pivot_share - at) for at in FORCE_AT)


def pivoted_moment(
    pressure_pa: float, area_m2: float, chord_m: float, aspect_ratio: float, pivot_share: float, deflection_rad: float
) -> float:  # fmt: skip
    """Return the most that a whole surface asks about its pivot [N m], wherever between 0.20 and 0.40 the force lies.

    Never less than `sums.pivoted_moment`, which has the force at a quarter.

    Raises
    ------
    OutOfRangeError
        If an area or length is not above zero, the pivot lies off the chord, or the deflection is beyond 90°.

    Examples
    --------
    >>> round(pivoted_moment(22.05, 0.0040, 0.05, 2.0, 0.25, 0.1745329) * 1e3, 3)
    0.3
    """
    given = (pressure_pa, area_m2, chord_m, aspect_ratio, pivot_share, deflection_rad)
    return max(sums.pivoted_moment(*given, force_at=at) for at in FORCE_AT)


def stream_speed(speed_m_s: float, power_w: float, diameter_m: float, density_kg_m3: float) -> float:
    """Return the speed of the air behind a propeller [m/s], from the flight speed ≥ 0 and the power in the air ≥ 0.

    Solved by halving. The power in the air is at most that of the shaft: torque × turns a second × 2π, or for a rubber
    motor its energy over its run, several times as much at launch.

    Raises
    ------
    OutOfRangeError
        If an argument lies outside.

    Examples
    --------
    >>> round(stream_speed(4.5, 1.5, 0.24, 1.225), 2), round(stream_speed(4.5, 6.0, 0.24, 1.225), 2)
    (5.57, 7.5)
    """
    require("speed_m_s", speed_m_s, 0.0)
    require("diameter_m", diameter_m, 0.0, above=True)
    swept = 2.0 * require("density_kg_m3", density_kg_m3, 0.0, above=True) * pi / 4.0 * diameter_m**2
    target = require("power_w", power_w, 0.0) / swept
    low, high = 0.0, float(target ** (1.0 / 3.0))  # at rest; in flight it is less
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (middle, high) if middle * (speed_m_s + middle) ** 2 < target else (low, middle)
    return speed_m_s + 2.0 * high


def pressure_ratio(speed_m_s: float, power_w: float, diameter_m: float, density_kg_m3: float) -> float:
    """Return how many times higher q is behind the propeller than in the same flight without it; speed > 0.

    Examples
    --------
    >>> round(pressure_ratio(4.5, 6.0, 0.24, 1.225), 2)
    2.78
    """
    require("speed_m_s", speed_m_s, 0.0, above=True)
    times = stream_speed(speed_m_s, power_w, diameter_m, density_kg_m3) / speed_m_s
    return times * times


def flap_range(moment_nm: float) -> tuple[float, float]:
    """Return the least and the most that a hinged flap asks [N m] where thin-aerofoil theory says `moment_nm` ≥ 0.

    The actuator is chosen by the most. Up to four times as strong as needed it may so be by theory alone, and a lighter
    one is a matter for a trial on the bench and in the air.

    Examples
    --------
    >>> [round(each * 1e3, 2) for each in flap_range(0.00042)]
    [0.1, 0.42]
    """
    require("moment_nm", moment_nm, 0.0)
    return moment_nm / FLAP_TOO_HIGH, moment_nm
