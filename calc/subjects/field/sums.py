"""Wind with height, drift, coming back against the wind, and the circle that a model flies.

Scope: level ground, a steady wind, a model that goes with the air; no lee of trees, no gusts, no thermals.

Symbols: W wind [m/s] at height z [m] above the ground; z0 roughness of the ground [m]; h height [m]; t time [s]; V
speed through the air, w sink [m/s]; x distance downwind [m]; φ bank; T seconds a
circle; R its radius [m]; n load factor.

    wind           W(z) = W ln(z/z0) / ln(z1/z0)        measured at z1; the power law W (z/z1)^(1/7) beside it
    mean, 0 to h   W (ln(h/z0) − 1 + z0/h) / ln(z1/z0)  of a steady climb or glide; power law W (h/z1)^(1/7) / (8/7)
    drift          mean wind × t
    coming back    (h/w) (V − W) upwind, (h/w) √(V² − W²) across, (h/w) (V + W) downwind; none where W ≥ V
    turn back at   w x / (V − W)
    circle         tan φ = 2 π V_c / (g T), V_c = V/√cos φ, so sin φ/√cos φ = k = 2 π V/(g T), cos φ = (√(k⁴+4) − k²)/2
                   R = V_c²/(g tan φ), n = 1/cos φ, sink × n^1.5

Sources: roughness by Davenport and Wieringa's classes (WMO code table “Surface roughness”; Stull, Meteorology for
Scientists and Engineers); 1/7 over open ground and the laws themselves: from memory. Circle: any flight-mechanics text,
from memory; its figures are checked. The two laws differ: of the two winds the stronger one counts.
"""

from math import acos, cos, exp, log, pi, sqrt, tan

from calc.errors import require
from calc.vocabulary import Ground

GRAVITY = 9.80665
ROUGHNESS_M: dict[Ground, float] = {"smooth": 0.005, "grass": 0.03, "low crops": 0.10, "high crops": 0.25}
POWER = 1.0 / 7.0
LOWEST_M = 2.0  # heights below it count as this one
GUSTS = 1.5  # common practice, no source


def wind_log(wind_m_s: float, at_m: float, height_m: float, roughness_m: float) -> float:
    """Return the wind [m/s] at a height by the logarithmic law; both heights above the roughness > 0, wind ≥ 0.

    Examples
    --------
    >>> round(wind_log(1.0, 2.0, 30.0, 0.03), 3)
    1.645
    """
    require("wind_m_s", wind_m_s, 0.0)
    require("roughness_m", roughness_m, 0.0, above=True)
    rises = [log(require(name, each, roughness_m, above=True) / roughness_m)
             for name, each in (("height_m", height_m), ("at_m", at_m))]  # fmt: skip
    return wind_m_s * rises[0] / rises[1]


def wind_power(wind_m_s: float, at_m: float, height_m: float, power: float = POWER) -> float:
    """Return the wind [m/s] at a height by the power law; heights > 0, wind ≥ 0.

    Examples
    --------
    >>> round(wind_power(3.0, 10.0, 30.0, 0.143), 2)
    3.51
    """
    require("wind_m_s", wind_m_s, 0.0)
    ratio = require("height_m", height_m, 0.0, above=True) / require("at_m", at_m, 0.0, above=True)
    return wind_m_s * exp(power * log(ratio))


def wind_aloft(wind_m_s: float, at_m: float, height_m: float, roughness_m: float) -> float:
    """Return the wind [m/s] at a height, at least that at 2 m: of the two laws the stronger wind; all ≥ 0.

    Examples
    --------
    >>> round(wind_aloft(3.0, 2.0, 40.0, 0.03), 2)
    5.14
    """
    high_m = max(LOWEST_M, require("height_m", height_m, 0.0))
    return max(wind_log(wind_m_s, at_m, high_m, roughness_m), wind_power(wind_m_s, at_m, high_m))


def wind_mean(wind_m_s: float, at_m: float, height_m: float, roughness_m: float) -> float:
    """Return the mean wind [m/s] between the ground and a height (≥ 0; at least 2 m): of the two laws the stronger.

    Examples
    --------
    >>> round(wind_mean(3.0, 2.0, 40.0, 0.03), 2)
    4.43
    """
    high_m = max(LOWEST_M, require("height_m", height_m, 0.0))
    less = (log(high_m / roughness_m) - 1.0 + roughness_m / high_m) / log(high_m / roughness_m)
    by_log = wind_log(wind_m_s, at_m, high_m, roughness_m) * less
    return max(by_log, wind_power(wind_m_s, at_m, high_m) / (1.0 + POWER))


def drift(wind_m_s: float, time_s: float) -> float:
    """Return how far a flight drifts [m]: wind × time, both ≥ 0.

    Examples
    --------
    >>> drift(3.0, 120.0)
    360.0
    """
    return require("wind_m_s", wind_m_s, 0.0) * require("time_s", time_s, 0.0)


def upwind(speed_m_s: float, wind_m_s: float, sink_m_s: float, height_m: float) -> float:
    """Return how far upwind it comes from a height [m]; 0 against a wind as fast as it. Speed and sink > 0.

    Examples
    --------
    >>> round(upwind(4.5, 3.0, 0.4, 40.0), 1)
    150.0
    """
    return _down(sink_m_s, height_m) * max(0.0, _over(speed_m_s, wind_m_s))


def across(speed_m_s: float, wind_m_s: float, sink_m_s: float, height_m: float) -> float:
    """Return how far across the wind it comes from a height [m]; 0 in a wind as fast as it. Speed and sink > 0.

    Examples
    --------
    >>> round(across(4.5, 3.0, 0.4, 40.0), 1)
    335.4
    """
    return _down(sink_m_s, height_m) * sqrt(max(0.0, _over(speed_m_s, wind_m_s) * (speed_m_s + wind_m_s)))


def downwind(speed_m_s: float, wind_m_s: float, sink_m_s: float, height_m: float) -> float:
    """Return how far downwind it may come from a height [m]; speed and sink > 0.

    Examples
    --------
    >>> round(downwind(4.5, 3.0, 0.4, 40.0), 1)
    750.0
    """
    return _down(sink_m_s, height_m) * (_over(speed_m_s, wind_m_s) + 2.0 * wind_m_s)


def _down(sink_m_s: float, height_m: float) -> float:
    """Return the time down [s]."""
    return require("height_m", height_m, 0.0) / require("sink_m_s", sink_m_s, 0.0, above=True)


def _over(speed_m_s: float, wind_m_s: float) -> float:
    """Return how much faster than the wind it is; below 0 where it is slower."""
    return require("speed_m_s", speed_m_s, 0.0, above=True) - require("wind_m_s", wind_m_s, 0.0)


def turn_back_height(speed_m_s: float, wind_m_s: float, sink_m_s: float, away_m: float) -> float | None:
    """Return the height [m] that coming back from so far downwind takes; None where it cannot.

    Speed > 0, the others ≥ 0.

    Examples
    --------
    >>> round(turn_back_height(4.5, 3.0, 0.4, 100.0), 1), turn_back_height(3.0, 3.0, 0.4, 100.0)
    (26.7, None)
    """
    gains = _over(speed_m_s, wind_m_s)
    if gains <= 0.0:
        return None
    return require("sink_m_s", sink_m_s, 0.0) * require("away_m", away_m, 0.0) / gains


def bank_of_circle(speed_m_s: float, circle_s: float) -> float:
    """Return the bank [rad] of a circle of so many seconds; the speed that of straight flight; both > 0.

    Examples
    --------
    >>> from math import degrees
    >>> round(degrees(bank_of_circle(4.0, 7.0)), 1)
    20.7
    """
    require("speed_m_s", speed_m_s, 0.0, above=True)
    k2 = (2.0 * pi * speed_m_s / (GRAVITY * require("circle_s", circle_s, 0.0, above=True))) ** 2
    return acos(2.0 / (k2 + sqrt(k2 * k2 + 4.0)))


def turn_radius(speed_m_s: float, bank_rad: float) -> float:
    """Return the radius [m] of a circle, V²/(g tan φ); V in the circle, > 0, bank above 0 to 1.57.

    Examples
    --------
    >>> from math import radians
    >>> round(turn_radius(4.0, radians(20.0)), 2)
    4.48
    """
    require("bank_rad", bank_rad, 0.0, 1.57, above=True)
    return require("speed_m_s", speed_m_s, 0.0, above=True) ** 2 / (GRAVITY * tan(bank_rad))


def sink_in_circle(sink_m_s: float, bank_rad: float) -> float:
    """Return the sink [m/s] in a circle at the lift coefficient of straight flight, w / cos(φ)^1.5; bank 0 to 1.57.

    Examples
    --------
    >>> from math import radians
    >>> round(sink_in_circle(1.0, radians(30.0)), 3)
    1.241
    """
    bank = require("bank_rad", bank_rad, 0.0, 1.57)
    return float(require("sink_m_s", sink_m_s, 0.0) / cos(bank) ** 1.5)
