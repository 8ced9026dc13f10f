"""Quantities as shown: how many digits, which unit, a real minus sign."""

import re
from math import floor

from calc import units


def _places(size: float) -> int:
    """Return the decimals that show a size to what a builder's scale would: more for smaller."""
    return 1 if size >= 9.995 else 2 if size >= 0.00995 or size == 0 else 3


def mass(kg: float, system: str = "metric") -> str:
    """Return a mass as shown: grams, or ounces.

    Examples
    --------
    >>> mass(0.0013), mass(-0.01234), mass(0.0013, "imperial")
    ('1.30 g', '−12.3 g', '0.046 oz')
    """
    label = units.default_unit("mass", system)
    number = units.from_si(kg, label, "mass")
    places = 3 if label == "oz" and abs(number) < 9.9995 else _places(abs(number))
    return f"{signed(number, places)} {label}"


def mass_change(kg: float, system: str = "metric") -> str:
    """Return a change of mass with its sign; one below half a milligram is none.

    Examples
    --------
    >>> mass_change(0.0003), mass_change(-0.0003), mass_change(1e-9)
    ('+0.30 g', '−0.30 g', '0.00 g')
    """
    said = mass(0.0 if abs(kg) < 5e-7 else kg, system)
    return f"+{said}" if kg >= 5e-7 else said


def figure(kg: float, system: str = "metric") -> str:
    """Return a round mass, as rule books give it, without idle zeros.

    Examples
    --------
    >>> figure(0.040), figure(0.0014), figure(0.0425242847)
    ('40 g', '1.4 g', '42.5 g')
    """
    number, label = mass(kg, system).split(" ")
    return f"{number.rstrip('0').rstrip('.') if '.' in number else number} {label}"


def entry(kg: float, system: str = "metric") -> str:
    """Return a worked-out mass as text for a mass field: three figures, but no finer than a tenth of a milligram.

    Examples
    --------
    >>> entry(0.00035343), entry(0.0000012), entry(0.012345), entry(0.00035343, "imperial")
    ('0.353 g', '0.0012 g', '12.3 g', '0.0125 oz')
    """
    label = units.default_unit("mass", system)
    number = units.from_si(kg, label, "mass")
    places = next((places for places, size in ((1, 10.0), (2, 1.0), (3, 0.1)) if number >= size), 4)
    return f"{number:.{places}f} {label}"


def signed(number: float, places: int) -> str:
    """Return a number with a real minus sign, never a negative zero.

    Examples
    --------
    >>> signed(-1.5, 1), signed(-0.001, 1)
    ('−1.5', '0.0')
    """
    text = f"{number:.{places}f}"
    return (text if float(text) != 0 else f"{0:.{places}f}").replace("-", "−")


def duration(seconds: float) -> str:
    """Return a run time in words, rounded down: nobody should plan on a half minute that is not there.

    Examples
    --------
    >>> duration(1753.4), duration(107.0), duration(7260.0), duration(42.0), duration(360.0)
    ('29 min', '1 min 47 s', '2 h 1 min', '42 s', '6 min')
    """
    whole = floor(seconds + 1e-6)
    if whole >= 3600:
        return f"{whole // 3600} h {whole % 3600 // 60} min"
    if whole >= 600 or (whole >= 60 and whole % 60 == 0):
        return f"{whole // 60} min"
    return f"{whole // 60} min {whole % 60} s" if whole >= 60 else f"{whole} s"


def quantity(value: float, dimension: str, system: str = "metric", places: int = 1) -> str:
    """Return an SI value in the system's default unit of its dimension.

    Examples
    --------
    >>> quantity(281.15, "temperature", places=0), quantity(0.2, "ratio", places=0)
    ('8 °C', '20 %')
    """
    label = units.default_unit(dimension, system)
    return f"{signed(units.from_si(value, label, dimension), places)} {label}"


def torque(newton_meters: float, system: str = "metric") -> str:
    """Return a torque with three figures.

    Examples
    --------
    >>> torque(0.00123456), torque(0.00123456, "imperial")
    ('1.23 mN·m', '0.175 ozf·in')
    """
    label = units.default_unit("torque", system)
    return f"{units.from_si(newton_meters, label, 'torque'):.3g} {label}"


def percent(ratio: float) -> str:
    """Return a ratio as a percentage with one decimal.

    Examples
    --------
    >>> percent(0.0812)
    '8.1 %'
    """
    return f"{signed(100.0 * ratio, 1)} %"


_NUMBER_AND_UNIT = re.compile(
    r"(?<=[0-9]) (?=(?:g|kg|oz|mm|in|m|ft|V|Ω|mA|mAh|s|min|h|%|°|N|mN·m|m/s|ft/s|times)(?![a-z]))"
)


def tight(text: str) -> str:
    """Return a sentence in which no number is parted from its unit at the end of a line.

    Examples
    --------
    >>> tight("Fits, with 1.3 g in hand.") == "Fits, with 1.3\u00a0g in hand."
    True
    """
    return _NUMBER_AND_UNIT.sub("\u00a0", text)


def length(meters: float, system: str = "metric") -> str:
    """Return a station or distance as shown: millimetres, or inches to a fiftieth.

    Examples
    --------
    >>> length(0.1686), length(0.1686, "imperial")
    ('168.6 mm', '6.64 in')
    """
    return quantity(meters, "length", system, 2 if system == "imperial" else 1)


def sink(meters_per_second: float, system: str = "metric") -> str:
    """Return a sinking speed with two decimals.

    Examples
    --------
    >>> sink(0.4366)
    '0.44 m/s'
    """
    return quantity(meters_per_second, "speed", system, 2)
