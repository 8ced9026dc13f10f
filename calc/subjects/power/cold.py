"""What a cell gives when it is cold or drawn fast, as a band.

Scope: one lithium cell from full down to 3.3 V under a constant current, −20 to 60 °C. The share is of what it gives at
20 °C drawn in five hours, as labels count (IEC 61960 practice); the rate is a multiple of that charge in an hour (1C).

Sources: PyBaMM 26.10.1.1, Doyle-Fuller-Newman model at a held temperature, parameter sets Ai2020, Ecker2015 and
Marquis2019; `tests/reference/cold_and_rate.py` made the figures, `cold_and_rate.toml` holds them. LOW is the least of
the three, HIGH the most, neither ever rising with the rate or with cold. Two cell data sheets promise at least 0.60 at
−20 °C and 0.85 at −10 °C, drawn slowly: within the band. A cell warms itself a little; that is left out, on the safe
side. The low end holds the voltage lost in the cell's resistance, too: it is not to be multiplied with a run that
already counts that, but bounds it (`span`).
"""

from bisect import bisect_right

from calc.errors import require
from calc.subjects.power import cell

KELVIN = (253.15, 263.15, 273.15, 283.15, 293.15)
RATES = (0.2, 0.5, 1.0, 1.5, 2.0, 3.0, 5.0)
LOW = (
    (0.101, 0.048, 0.000, 0.000, 0.000, 0.000, 0.000),
    (0.858, 0.499, 0.215, 0.116, 0.079, 0.043, 0.020),
    (0.985, 0.946, 0.664, 0.445, 0.288, 0.139, 0.061),
    (0.995, 0.979, 0.916, 0.749, 0.585, 0.339, 0.125),
    (1.000, 0.987, 0.960, 0.893, 0.778, 0.537, 0.220),
)
HIGH = (
    (0.943, 0.472, 0.153, 0.117, 0.091, 0.062, 0.037),
    (0.981, 0.861, 0.438, 0.292, 0.197, 0.119, 0.067),
    (0.998, 0.966, 0.825, 0.642, 0.517, 0.369, 0.130),
    (1.000, 0.984, 0.953, 0.884, 0.800, 0.656, 0.420),
    (1.000, 0.991, 0.975, 0.954, 0.930, 0.842, 0.679),
)


def rate_of(current_a: float, capacity_c: float) -> float:
    """Return the rate [1/h] of a current [A] ≥ 0 out of a charge [C] above 0.

    Examples
    --------
    >>> round(rate_of(0.045, 0.030 * 3600), 6)
    1.5
    """
    return require("current_a", current_a, 0.0) * 3600.0 / require("capacity_c", capacity_c, 0.0, above=True)


def share_band(temperature_k: float, rate: float) -> tuple[float, float]:
    """Return the least and the most of its charge that a cell gives, at 253.15 to 333.15 K and a rate [1/h] ≥ 0.

    Straight between the figures. Drawn slower than in five hours, or warmer than 20 °C, a cell gives no less: there
    both stay as they are at the end. Beyond 5C nothing was worked out: the least is 0, the most that at 5C.

    Raises
    ------
    OutOfRangeError
        If an argument lies outside.

    Examples
    --------
    >>> share_band(273.15, 1.5), share_band(298.15, 0.1), share_band(293.15, 6.0)
    ((0.445, 0.642), (1.0, 1.0), (0.0, 0.679))
    """
    kelvin = require("temperature_k", round(temperature_k, 6), cell.COLDEST_K, cell.WARMEST_K)
    require("rate", rate, 0.0)
    low, high = _between(LOW, kelvin, rate), _between(HIGH, kelvin, rate)
    return (low if rate <= RATES[-1] else 0.0), high


def _between(table: tuple[tuple[float, ...], ...], kelvin: float, rate: float) -> float:
    """Return the value of a table, straight between its rows and columns, at its ends where it ends."""
    row, along = _place(KELVIN, min(kelvin, KELVIN[-1]))
    column, across = _place(RATES, min(max(rate, RATES[0]), RATES[-1]))
    cold, warm = (
        (1.0 - across) * table[each][column] + across * table[each][column + 1] for each in (row, row + 1)
    )  # fmt: skip
    return (1.0 - along) * cold + along * warm


def _place(points: tuple[float, ...], x: float) -> tuple[int, float]:
    """Return after which point x lies, and how far towards the next."""
    left = min(bisect_right(points, x), len(points) - 1) - 1
    return left, (x - points[left]) / (points[left + 1] - points[left])
