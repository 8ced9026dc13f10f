"""A comparison's figures as shown, and the change between two of them, which agrees with what is shown.

A change is the difference of the two figures as they stand there: whoever adds it to the one before comes to the one
now. Where the digits that both are known to are the same, nothing is seen to have changed.
"""

import re
from collections.abc import Callable
from math import degrees, isclose

from calc import digits
from calc.assess import Assessment
from calc.unit_system import UnitSystem

MINUS = "\u2212"
PER = {"h": 3600, "min": 60, "s": 1}  # seconds
_ONE = re.compile(rf"({MINUS}?)([0-9]+)(?:\.([0-9]+))?(?: ?([^0-9 ].*))?")
_TIMES = re.compile(r"([0-9]+) (h|min|s)")


def figure(number: float, dimension: str, system: UnitSystem, spread_kg: float = 0.0) -> str:
    """Return a figure of a comparison as the answers show it.

    Examples
    --------
    >>> units = UnitSystem.METRIC
    >>> figure(0.0123, "mass", units), figure(3125.0, "run", units), figure(41.23, "time", units)
    ('12.3 g', '52 min', '41 s')
    >>> figure(0.0463, "current", units), figure(3.456, "voltage", units), figure(0.01, "angle", units)
    ('46 mA', '3.46 V', '0.6°')
    """
    plain: dict[str, Callable[[], str]] = {
        "mass": lambda: system.mass(number, spread_kg),
        "ratio": lambda: digits.percent(number),
        "current": lambda: digits.current(number),
        "run": lambda: digits.duration(number),
        "time": lambda: f"{digits.figures(number)} s",
        "voltage": lambda: f"{digits.signed(number, 2)} V",
        "count": lambda: f"{number:.0f}",
        "number": lambda: digits.times(number),
        "length": lambda: system.length(number),
        "angle": lambda: digits.lost(degrees(number)),
        "loading": lambda: system.rounded(number, dimension, 3),
        "speed": lambda: system.rounded(number, dimension),
    }
    return plain[dimension]()


def spreads(answer: Assessment) -> dict[str, float]:
    """Return the spread of the masses that have one, by the ids of their rows [kg]."""
    whole_kg, gear_kg, governs = answer.model.spread_kg, answer.gear.spread_kg, answer.governs
    found = {f"in_hand_{limit.id}": limit.spread_kg for limit in answer.limits}
    found |= {"in_hand": 0.0 if governs is None else governs.spread_kg, "gear": gear_kg, "spread": gear_kg}
    return found | {"flying": whole_kg, "class_free": whole_kg, "class_short": whole_kg}


def seconds(text: str) -> int | None:
    """Return a run time as shown in seconds; None for any other text.

    Examples
    --------
    >>> seconds("1 h 19 min"), seconds("2 min 10 s"), seconds("46 mA")
    (4740, 130, None)
    """
    found = _TIMES.findall(text)
    return (
        sum(int(number) * PER[unit] for number, unit in found) if found and not _TIMES.sub("", text).strip() else None
    )


def in_words(whole_s: int) -> str:
    """Return seconds as hours, minutes and seconds, none of them dropped.

    Examples
    --------
    >>> in_words(4740), in_words(4170), in_words(3600), in_words(35)
    ('1 h 19 min', '1 h 9 min 30 s', '1 h', '35 s')
    """
    counts = {"h": whole_s // 3600, "min": whole_s % 3600 // 60, "s": whole_s % 60}
    return " ".join(f"{number} {unit}" for unit, number in counts.items() if number)


def change(before: str, after: str) -> tuple[int, str]:
    """Return which way a figure went as shown, 1, −1 or 0, and by how much; "" for no change and for no number.

    Examples
    --------
    >>> change("5.93 g", "6.10 g"), change("9.87 g", "12.3 g"), change("83 s", "120 s"), change("52 min", "1 h 4 min")
    ((1, '+0.17 g'), (1, '+2.43 g'), (1, '+37 s'), (1, '+12 min'))
    >>> change("5.9 g", "5.93 g"), change("8.3", "over 100"), change("8", "5"), change("0.6°", "−0.2°")
    ((0, ''), (1, ''), (-1, '−3'), (-1, '−0.8°'))
    """
    times = seconds(before), seconds(after)
    if times[0] is not None and times[1] is not None and ("min" in before + after or "h" in before + after):
        more = times[1] - times[0]
        return _way(more), f"{_sign(more)}{in_words(abs(more))}" if more else ""
    was, now = _ONE.fullmatch(before), _ONE.fullmatch(after)
    if was is None or now is None:
        return _unnumbered(before, after), ""
    places = [len(each[3] or "") for each in (was, now)]
    fine, coarse = max(places), min(places)
    tenths = [_whole(each, fine) for each in (was, now)]
    if _rounded(tenths[0], fine - coarse) == _rounded(tenths[1], fine - coarse):
        return 0, ""
    more = tenths[1] - tenths[0]
    number = f"{abs(more) // 10**fine}.{abs(more) % 10**fine:0{fine}d}" if fine else str(abs(more))
    unit = now[4] or ""
    return _way(more), f"{_sign(more)}{number}{'' if unit in ('', '°') else ' '}{unit}"


def _unnumbered(before: str, after: str) -> int:
    """Return which way a figure went that is "over" or "under" something on one side at least."""
    if before == after:
        return 0
    return 1 if after.startswith("over") or before.startswith("under") else -1


def _way(more: int) -> int:
    return (more > 0) - (more < 0)


def _sign(more: int) -> str:
    return "+" if more > 0 else MINUS


def _whole(found: re.Match[str], places: int) -> int:
    """Return a number as shown as a whole number of its last digit, `places` behind the point."""
    number = int(f"{found[2]}{(found[3] or '').ljust(places, '0')}")
    return -number if found[1] else number


def _rounded(number: int, places: int) -> int:
    """Return a whole number without its last digits, half away from zero."""
    step: int = 10**places
    size = (abs(number) + step // 2) // step
    return -size if number < 0 else size


def alike(before: float, after: float) -> bool:
    """Return whether two figures are the same but for their last bits."""
    return isclose(before, after, rel_tol=1e-9, abs_tol=1e-12)
