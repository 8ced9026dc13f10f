"""A single lithium cell: voltage at rest over state of charge, resistance over temperature.

Scope: one lithium-ion or lithium-polymer cell of 4.20 V full charge, -20 to 60 °C.

Symbols: s state of charge (1 full, 0 empty); OCV(s) voltage at rest [V]; r(T) resistance as a multiple
of that at 25 °C.

Sources
-------
OCV: LiCoO2 pouch cell, Ai et al. 2020 parameter set, as computed with PyBaMM 26.10.1.1.
r: Arrhenius law with 20 kJ/mol, as in PyBaMM's example circuit model. Real cells can be far worse below 0 °C: one
measured cell rose about fifty-fold from 20 to -20 °C (Zhang et al. 1999).
"""

from bisect import bisect_right
from math import exp

from calc.errors import require

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018, exact by definition
ACTIVATION_J_MOL = 20_000.0
REFERENCE_K = 298.15
COLDEST_K, WARMEST_K = 253.15, 333.15

Table = tuple[tuple[float, float], ...]

OPEN_CIRCUIT: Table = (
    (0.0, 3.000), (0.1, 3.640), (0.2, 3.695), (0.3, 3.733), (0.4, 3.762), (0.5, 3.793),
    (0.6, 3.837), (0.7, 3.909), (0.8, 3.995), (0.9, 4.088), (1.0, 4.200),
)  # fmt: skip


def interpolate(table: Table, x: float) -> float:
    """Return the value at x, straight between the table's points; x must lie within the table.

    Raises
    ------
    OutOfRangeError
        If x lies outside.

    Examples
    --------
    >>> interpolate(((0.0, 1.0), (2.0, 5.0)), 0.5)
    2.0
    """
    require("x", x, table[0][0], table[-1][0])
    right = min(bisect_right([point[0] for point in table], x), len(table) - 1)
    (x0, y0), (x1, y1) = table[right - 1], table[right]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def open_circuit_voltage(state: float, table: Table = OPEN_CIRCUIT) -> float:
    """Return the voltage at rest [V] at a state of charge from 0 to 1.

    Examples
    --------
    >>> round(open_circuit_voltage(0.55), 4)
    3.815
    """
    return interpolate(table, state)


def state_of_charge(volts: float, table: Table = OPEN_CIRCUIT) -> float:
    """Return the state of charge at which the voltage at rest has come down to `volts`; the inverse of the above.

    Below the table's lowest voltage 0 (the cell is empty first); above its highest more than any charge: `inf`
    stands for "already past when full".

    Raises
    ------
    OutOfRangeError
        If `volts` is no finite number.

    Examples
    --------
    >>> round(state_of_charge(3.815), 4)
    0.55
    """
    require("volts", volts)
    if volts <= table[0][1]:
        return 0.0
    if volts > table[-1][1]:
        return float("inf")
    return interpolate(tuple((v, s) for s, v in table), volts)


def resistance_ratio(temperature_k: float) -> float:
    """Return r(T) = exp(Ea/R (1/T − 1/298.15 K)) for 253.15 to 333.15 K.

    Examples
    --------
    >>> round(resistance_ratio(273.15), 3)
    2.093
    """
    temperature_k = require("temperature_k", _settled(temperature_k), COLDEST_K, WARMEST_K)
    return exp(ACTIVATION_J_MOL / GAS_CONSTANT * (1.0 / temperature_k - 1.0 / REFERENCE_K))


def _settled(temperature_k: float) -> float:
    """Return the temperature to a microkelvin: -20 °C and -4 °F are 253.15 K whatever the last digit says."""
    return round(temperature_k, 6)
