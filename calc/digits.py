"""Numbers as text: how many digits, a real minus sign; and quantities whose unit is the same in every system.

Digits: no more than a number is known to. What rests on a theory, an assumption or a guess has two figures; what a
scale, meter or data sheet gave keeps its own. Strength is rounded down and loss up, so that no number promises what is
not there. A change between two answers is known better than either of them, since what is unsure is the same in both:
it may be finer. Quantities in metric or imperial units are in `calc.unit_system`.

Rounding is one rule everywhere: to the nearest, halves away from zero, of the number without its last binary digits
(`rounded_to`). So a mass that was added up in another order shows the same digits.
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


NOTHING = 1e-290  # below it no power of ten brings a number to one


def figures(number: float, digits: int = 2) -> str:
    """Return a number with so many figures, without an exponent.

    Examples
    --------
    >>> figures(0.1774), figures(118.2), figures(0.0), figures(-9.96), figures(12.58, 3)
    ('0.18', '120', '0', '−10', '12.6')
    """
    if abs(number) < NOTHING:
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
    return trimmed(figures(number, digits))


def trimmed(number: str) -> str:
    """Return a number as text without idle zeros.

    Examples
    --------
    >>> trimmed("8.00"), trimmed("1200")
    ('8', '1200')
    """
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


def charge(coulombs: float) -> str:
    """Return a charge in milliampere-hours.

    Examples
    --------
    >>> charge(108.0), charge(33.1)
    ('30 mAh', '9.2 mAh')
    """
    return f"{measured(units.from_si(coulombs, 'mAh', 'charge'))} mAh"


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


def percent(ratio: float) -> str:
    """Return a ratio as a percentage with one decimal.

    Examples
    --------
    >>> percent(0.0812)
    '8.1 %'
    """
    return f"{signed(100.0 * ratio, 1)} %"


def whole_percent(ratio: float) -> str:
    """Return a ratio as a whole percentage.

    Examples
    --------
    >>> whole_percent(0.2)
    '20 %'
    """
    return f"{signed(100.0 * ratio, 0)} %"


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
