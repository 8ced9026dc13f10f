"""Quantities as shown: how many digits, which unit, a real minus sign.

Digits: no more than a figure is known to. A mass has the two digits of its spread, and no finer than 0.01 g or 0.001 oz
(a tenth of that below it); what rests on a theory, an assumption or a guess has two figures; what a scale, meter or
data sheet gave keeps its own. Strength is rounded down, loss up, so that no figure promises what is not there. A change
between two answers is known better than either, since what is unsure is the same in both: it may be finer.

Rounding is one rule everywhere: to the nearest, halves away from zero, of the number without its last binary digits
(`rounded_to`). A mass that was added up in another order so shows the same digits.
"""

import re
from math import ceil, floor, log10

from calc import units


def rounded_to(number: float, places: int) -> tuple[int, int]:
    """Return the digits of |number| rounded to so many decimals, as whole and decimal part; halves away from zero.

    Examples
    --------
    >>> rounded_to(7.855, 2), rounded_to(5.93499999999999, 2), rounded_to(0.125, 2), rounded_to(1249.9, 0)
    ((7, 86), (5, 94), (0, 13), (1250, 0))
    """
    scale = 10**places
    digits = floor(round(abs(number) * scale, 6) + 0.5)
    return digits // scale, digits % scale


def _places(size: float) -> int:
    """Return the decimals that show a size to what a builder's scale would: more for smaller."""
    return 1 if size >= 9.995 else 2 if size >= 0.00995 or size == 0 else 3


FINEST = 3  # decimals of a gram, where the spread is known so finely


def mass(kg: float, system: str = "metric", spread_kg: float = 0.0) -> str:
    """Return a mass as shown, grams or ounces, no finer than the second digit of its spread where it has one.

    Examples
    --------
    >>> mass(0.0013), mass(-0.01234), mass(0.0013, "imperial")
    ('1.30 g', '−12.3 g', '0.046 oz')
    >>> mass(0.0013, spread_kg=0.00034), mass(0.0013, spread_kg=0.00185), mass(0.0483, spread_kg=0.0996)
    ('1.30 g', '1.3 g', '48 g')
    >>> mass(0.0000857, spread_kg=0.000001), mass(0.00000006)
    ('0.086 g', '0.000 g')
    >>> mass(0.000006, "imperial"), mass(0.0, "imperial")
    ('0.0002 oz', '0.000 oz')
    """
    label = units.default_unit("mass", system)
    number = units.from_si(kg, label, "mass")
    places = _places(abs(number))
    if label == "oz" and abs(number) < 9.9995:
        places = 4 if 0.0 < abs(number) < 0.000995 else 3
    if spread_kg > 0.0:
        power = int(f"{units.from_si(spread_kg, label, 'mass'):.1e}".split("e")[1])
        known = max(0, 1 - power)
        finely = label == "g" and abs(number) < 0.0995 and spread_kg < 0.1 * abs(kg)
        places = min(FINEST, known) if finely else min(places, known)
    return f"{signed(number, places)} {label}"


def spread(kg: float, system: str = "metric") -> str:
    """Return a spread with two digits at most.

    Examples
    --------
    >>> spread(0.00034), spread(0.00185), spread(0.0123)
    ('0.34 g', '1.9 g', '12 g')
    """
    return mass(kg, system, kg)


def figures(number: float, digits: int = 2) -> str:
    """Return a number with so many figures, without an exponent.

    Examples
    --------
    >>> figures(0.1774), figures(118.2), figures(0.0), figures(-9.96), figures(12.58, 3)
    ('0.18', '120', '0', '−10', '12.6')
    """
    if number == 0.0:
        return "0"
    power = int(f"{number:.9e}".split("e")[1])
    if floor(round(abs(number) / 10.0 ** (power - digits + 1), 6) + 0.5) >= 10**digits:
        power += 1  # 9.96 with two figures is 10, not 10.0
    places = digits - 1 - power
    whole = float(f"{floor(round(abs(number) * 10.0**places, 6) + 0.5)}e{-places}")
    return signed(whole if number > 0.0 else -whole, max(0, places))


def given(number: float, digits: int = 3) -> str:
    """Return a number that was given, without idle zeros.

    Examples
    --------
    >>> given(8.0, 2), given(3.30), given(1200.0), given(-0.5)
    ('8', '3.3', '1200', '−0.5')
    """
    return _trimmed(figures(number, digits))


def _trimmed(number: str) -> str:
    return number.rstrip("0").rstrip(".") if "." in number else number


def measured(number: float) -> str:
    """Return a number with two figures, but no coarser than whole.

    Examples
    --------
    >>> measured(9.94), measured(9.96), measured(176.2)
    ('9.9', '10', '176')
    """
    return signed(number, 1 if abs(number) < 9.95 else 0)


def current(amperes: float) -> str:
    """Return a current.

    Examples
    --------
    >>> current(0.0426)
    '43 mA'
    """
    return f"{measured(amperes * 1e3)} mA"


def resistance(ohms: float) -> str:
    """Return a resistance; with the temperature it is known to two figures at best.

    Examples
    --------
    >>> resistance(4.01)
    '4.0 Ω'
    """
    return f"{figures(ohms)} Ω"


def times(factor: float) -> str:
    """Return a factor of strength, rounded down; beyond a hundredfold it tells no more.

    Examples
    --------
    >>> times(8.39), times(0.998), times(2.0), times(131.0), times(float("inf"))
    ('8.3', '0.99', '2.0', 'over 100', 'over 100')
    """
    if factor >= MANY:
        return f"over {MANY}"
    step = 10.0 ** (floor(log10(factor)) - 1)
    return figures(floor(factor / step + 1e-9) * step)


MANY = 100


def lost(angle_deg: float) -> str:
    """Return an angle lost to stretch, rounded up.

    Examples
    --------
    >>> lost(0.0007), lost(0.1), lost(2.01), lost(31.2)
    ('under 0.1°', '0.1°', '2.1°', '32°')
    """
    tenths = ceil(angle_deg * 10.0 - 1e-9)
    return (
        "under 0.1°" if angle_deg < 0.1 - 1e-9 else f"{tenths / 10.0:.1f}°" if tenths < 100 else f"{ceil(angle_deg)}°"
    )


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
    return f"{_trimmed(number)} {label}"


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
    return f"{signed(number, places)} {label}"


def signed(number: float, places: int) -> str:
    """Return a number with a real minus sign, never a negative zero.

    Examples
    --------
    >>> signed(-1.5, 1), signed(-0.001, 1)
    ('−1.5', '0.0')
    """
    whole, part = rounded_to(number, places)
    text = f"{whole}.{part:0{places}d}" if places > 0 else str(whole)
    return f"−{text}" if number < 0 and (whole or part) else text


def volts(volts_: float) -> str:
    """Return a voltage to 0.01 V.

    Examples
    --------
    >>> volts(3.456)
    '3.46 V'
    """
    return f"{signed(volts_, 2)} V"


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
    """Return a torque from thin-aerofoil theory: two figures.

    Examples
    --------
    >>> torque(0.00123456), torque(0.00123456, "imperial")
    ('1.2 mN·m', '0.17 ozf·in')
    """
    return rounded(newton_meters, "torque", system)


def rounded(value: float, dimension: str, system: str = "metric", digits: int = 2) -> str:
    """Return an SI value in the system's default unit with so many figures.

    Examples
    --------
    >>> rounded(0.58146, "loading", digits=3), rounded(3.61, "speed", "imperial")
    ('5.81 g/dm²', '12 ft/s')
    """
    label = units.default_unit(dimension, system)
    return f"{figures(units.from_si(value, label, dimension), digits)} {label}"


def kelvins(difference_k: float, system: str = "metric") -> str:
    """Return a difference of temperatures.

    Examples
    --------
    >>> kelvins(10.0), kelvins(10.0, "imperial"), kelvins(4.5)
    ('10 °C', '18 °F', '4.5 °C')
    """
    label = units.default_unit("temperature", system)
    degrees = units.from_si(difference_k, label, "temperature") - units.from_si(0.0, label, "temperature")
    return f"{given(degrees)} {label}"


def percent(ratio: float) -> str:
    """Return a ratio as a percentage with one decimal.

    Examples
    --------
    >>> percent(0.0812)
    '8.1 %'
    """
    return f"{signed(100.0 * ratio, 1)} %"


_NUMBER_AND_UNIT = re.compile(
    r"(?<=[0-9]) (?=(?:g|kg|oz|mm|in|m|ft|V|Ω|mA|mAh|s|min|h|%|°|N|mN·m|ozf·in|m/s|ft/s|times)(?![a-z]))"
)


def tight(text: str) -> str:
    """Return a sentence in which no number is parted from its unit at the end of a line.

    Examples
    --------
    >>> tight("Fits, with 1.3 g in hand.") == "Fits, with 1.3\u00a0g in hand."
    True
    >>> tight("known to ± 2 g") == "known to ±\u00a02\u00a0g"
    True
    """
    return _NUMBER_AND_UNIT.sub("\u00a0", text).replace("± ", "±\u00a0")


def length(meters: float, system: str = "metric", fine: bool = True) -> str:
    """Return a worked-out station or distance: to 0.1 mm or 0.01 in, or where that is not known to 1 mm or 0.1 in.

    Examples
    --------
    >>> length(0.1686), length(0.1686, "imperial"), length(0.1686, fine=False)
    ('168.6 mm', '6.64 in', '169 mm')
    """
    return quantity(meters, "length", system, (1 if system == "imperial" else 0) + fine)


def station(meters: float, system: str = "metric") -> str:
    """Return a station that was given, without idle zeros.

    Examples
    --------
    >>> station(0.165), station(0.1655), station(0.1, "imperial")
    ('165 mm', '165.5 mm', '3.94 in')
    """
    number, label = length(meters, system).split(" ")
    return f"{_trimmed(number)} {label}"
