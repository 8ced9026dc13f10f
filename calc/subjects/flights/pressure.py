"""Height from air pressure, as altimeters and recorders have it, and put right for the day's temperature.

Scope: below 11 km; differences of height are good to some tenths of a metre, heights above the sea to 10 to 30 m.

Symbols: p pressure [Pa]; T mean absolute temperature of the layer [K]; T0 288.15 K, L 0.0065 K/m, R 287.053 J/(kg K),
g 9.80665 m/s².

    standard height        h = (T0/L) (1 − (p/p_ref)^(R L/g))
    above the ground       Δh = (R T/g) ln(p_ground/p)
    of a standard height   Δh = Δh_log T/T_standard, both means of the layer: 15 K off the standard are 5 % of height

Sources: US Standard Atmosphere 1976, ISO 2533; hypsometric equation: textbooks, from memory.
"""

from math import log

from calc.errors import require

T0_K, LAPSE_K_M, GAS, GRAVITY = 288.15, 0.0065, 287.053, 9.80665
SEA_PA = 101_325.0
LOW_PA, HIGH_PA = 22_000.0, 120_000.0


def standard_height(pressure_pa: float, reference_pa: float = SEA_PA) -> float:
    """Return the height [m] above a reference pressure in the standard atmosphere; both 22 000 to 120 000 Pa.

    Examples
    --------
    >>> round(standard_height(100_325.0), 2)
    83.58
    """
    require("pressure_pa", pressure_pa, LOW_PA, HIGH_PA)
    ratio = pressure_pa / require("reference_pa", reference_pa, LOW_PA, HIGH_PA)
    return float(T0_K / LAPSE_K_M * (1.0 - ratio ** (GAS * LAPSE_K_M / GRAVITY)))


def height_above(pressure_pa: float, ground_pa: float, mean_k: float) -> float:
    """Return the height [m] above the ground from both pressures, 22 000 to 120 000 Pa, air of a mean temperature > 0.

    Examples
    --------
    >>> round(height_above(100_325.0, 101_325.0, 293.15), 2)
    85.11
    """
    for name, each in (("pressure_pa", pressure_pa), ("ground_pa", ground_pa)):
        require(name, each, LOW_PA, HIGH_PA)
    return GAS * require("mean_k", mean_k, 0.0, above=True) / GRAVITY * log(ground_pa / pressure_pa)


def standard_mean(height_m: float, ground_m: float = 0.0) -> float:
    """Return the mean temperature [K] of the standard atmosphere from the ground to a height [m] above it.

    Examples
    --------
    >>> standard_mean(100.0)
    287.825
    """
    return T0_K - LAPSE_K_M * (ground_m + height_m / 2.0)


def put_right(logged_m: float, ground_k: float, ground_m: float = 0.0) -> float:
    """Return the true height [m] of a logged standard height, for the temperature at the ground > 0; to 11 000 m.

    Examples
    --------
    >>> round(put_right(100.0, 303.15), 1), round(put_right(100.0, 263.15), 1)
    (105.2, 91.3)
    """
    above_k = require("ground_k", ground_k, 0.0, above=True) - T0_K + LAPSE_K_M * ground_m  # the day is warmer by this
    standard_k = standard_mean(logged_m, ground_m)
    return logged_m * (standard_k + above_k) / standard_k


def false_height(speed_m_s: float, coefficient: float = 1.0) -> float:
    """Return the height [m] that air blown over or into the port feigns, C V²/(2 g); speed ≥ 0, C from −1 to 1.

    Examples
    --------
    >>> round(false_height(4.0), 1), round(false_height(15.0), 1)
    (0.8, 11.5)
    """
    return coefficient * require("speed_m_s", speed_m_s, 0.0) ** 2 / (2.0 * GRAVITY)
