"""Moisture of bare wood in damp air: what was weighed in a warm room weighs more on a damp field.

Simpson's fit of the Wood Handbook's table to the Hailwood-Horrobin model, T [°C], h 0 to 1, answer in percent:

    M = 1800/W (K h/(1 − K h) + (K1 K h + 2 K1 K2 K² h²)/(1 + K1 K h + K1 K2 K² h²))
    W  = 349 + 1.29 T + 0.0135 T²               K  = 0.805 + 0.000736 T − 0.00000273 T²
    K1 = 6.27 − 0.00938 T − 0.000303 T²         K2 = 1.91 + 0.0407 T − 0.000293 T²

At rest in that air: hours for bare sheet of 1 mm, longer under dope (from memory). Balsa is not in the fit.

Source: Simpson, Forest Products Journal 23 (1973) 5; USDA Wood Handbook, equation (4-5): form and accuracy (0.13 of
moisture in the mean, 0.9 at most) read in an abstract, the coefficients from memory, confirmed against read values.
"""

from calc.errors import require

COLDEST_C, HOTTEST_C = -1.0, 71.0  # of the sums here; the Handbook's table goes on to 130 °C


def moisture(celsius: float, humidity: float) -> float:
    """Return the moisture of wood at rest in air, as a share of its dry mass.

    Raises
    ------
    OutOfRangeError
        If the temperature is not from −1 to 71 °C, or the relative humidity is not from 0 to 1.

    Examples
    --------
    >>> round(moisture(20.0, 0.40) * 100, 2), round(moisture(12.0, 0.85) * 100, 2)
    (7.72, 18.31)
    """
    warm = require("celsius", celsius, COLDEST_C, HOTTEST_C)
    damp = require("humidity", humidity, 0.0, 1.0)
    weight = 349.0 + 1.29 * warm + 0.0135 * warm**2
    k = (0.805 + 0.000736 * warm - 0.00000273 * warm**2) * damp
    k1 = 6.27 - 0.00938 * warm - 0.000303 * warm**2
    k2 = 1.91 + 0.0407 * warm - 0.000293 * warm**2
    first, second = k1 * k, k1 * k2 * k**2
    return 18.0 / weight * (k / (1.0 - k) + (first + 2.0 * second) / (1.0 + first + second))


def gain(room: tuple[float, float], field: tuple[float, float]) -> float:
    """Return what bare wood weighs in the field's air over what it weighs in the room's; air is (°C, humidity).

    Raises
    ------
    OutOfRangeError
        As `moisture`.

    Examples
    --------
    >>> round(gain((20.0, 0.40), (12.0, 0.85)), 3)
    1.098
    """
    return (1.0 + moisture(*field)) / (1.0 + moisture(*room))
