"""Reads logs that are tables: which column is the time, which the height or the pressure, in which unit.

Headings are read first, then the size of the numbers; whatever was assumed is told. All of it is common
practice, no source.
"""

import csv
import re
from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise
from math import isfinite
from statistics import median

from calc.subjects.flights import pressure
from calc.subjects.flights.logs import (
    HEIGHT_UNITS,
    LONGEST_LINE,
    MOST_SAMPLES,
    PRESSURE_UNITS,
    TIME_UNITS,
    Columns,
    Left,
    LogError,
    Recording,
    Wishes,
)

TIMES = re.compile(r"\b(time|t|timestamp|elapsed|seconds?|secs?|s|ms|millis|zeit|temps|tiempo|čas|clock|date)\b", re.I)
HEIGHTS = re.compile(r"(alt|height|höhe|hoehe|hauteur|altura|výška|agl|elevation)", re.I)
PRESSURES = re.compile(r"(press|druck|baro|hpa|mbar|\bpa\b|kpa)", re.I)
UNIT = re.compile(
    r"(?<![a-z])(milliseconds?|millis|ms|seconds?|secs?|s|minutes?|min|feet|foot|ft|cm|metres?|meters?|m|kpa|hpa|mbar|pa)(?![a-z/])",
    re.I,
)
METRES = ("metre", "metres", "meter", "meters")
MOST_HEADINGS = 40  # lines in which the headings are looked for
CLOCK = re.compile(r"(?:(\d+):)?(\d{1,2}):(\d{1,2}(?:\.\d+)?)")
MS_FROM = 15.0  # a step of more than so much is milliseconds
MOST_SHOWN, MOST_COLUMNS = 100_000, 40  # of a table whose columns are shown: letters, columns
FAST_CM = 50.0  # whole steps that rise by more a second are centimetres


def _number(cell: str) -> float | None:
    """Return the number in a cell, with a decimal point or comma; None for anything else, NaN and infinity too."""
    bare = cell.strip().strip('"').replace("\u2212", "-").replace(",", ".")
    if not re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?", bare, re.I):
        return None
    found = float(bare)
    return found if isfinite(found) else None


def _second(cell: str) -> float | None:
    """Return a time as seconds: a number, h:min:s, or ISO 8601."""
    bare = cell.strip().strip('"')
    match = CLOCK.fullmatch(bare.replace(",", "."))
    if match is not None:
        return 3600.0 * int(match[1] or 0) + 60.0 * int(match[2]) + float(match[3])
    if "-" in bare[1:] and ":" in bare:
        try:
            at = datetime.fromisoformat(bare.replace("Z", "+00:00"))
        except ValueError:
            return None
        return at.toordinal() * 86_400.0 + at.hour * 3600.0 + at.minute * 60.0 + at.second + at.microsecond / 1e6
    return _number(bare)


def _rows(text: str, left: Left) -> list[list[str]]:
    """Return the cells of each line; lines that are too long are left out."""
    lines = []
    for line in text.removeprefix("\ufeff").splitlines():
        if len(line) > LONGEST_LINE:
            left.out("lines that are too long")
        elif line.strip() and not line.startswith("#"):
            lines.append(line.replace("\0", ""))
        if len(lines) > MOST_HEADINGS + MOST_SAMPLES:
            raise LogError("too_many")
    head = lines[:MOST_HEADINGS]
    parted = max(";\t,", key=lambda sign: sum(sign in line for line in head) * (3 if sign != "," else 1))
    try:
        return list(csv.reader(lines, delimiter=parted))
    except csv.Error as error:
        raise LogError("no_log") from error


def _headings(rows: Sequence[Sequence[str]]) -> tuple[int, Sequence[str]]:
    """Return where the numbers begin, and the headings above them; none where there are none."""
    for at, row in enumerate(rows[:MOST_HEADINGS]):
        told = [cell for cell in row if cell.strip() and _second(cell) is None]
        if len(told) >= 1 and any(
            each.search(cell.replace("_", " ")) for cell in told for each in (HEIGHTS, PRESSURES, TIMES)
        ):
            return at + 1, row
    return 0, ()


def _unit(heading: str) -> str:
    found = UNIT.findall(heading.replace("_", " "))
    return found[-1].lower() if found else ""


def headings(text: str) -> tuple[str, ...]:
    r"""Return the headings of a table, to choose the columns by; a table without any gets numbers for them.

    Examples
    --------
    >>> headings("a;b\n1;2"), headings("time;x\n1;2")
    (('column 1', 'column 2'), ('time', 'x'))
    """
    rows = _rows(text[:MOST_SHOWN], Left())
    found = _headings(rows)[1] or (_numbered(rows) if rows else ())
    return tuple(each.strip()[:40] for each in found[:MOST_COLUMNS])


def read(text: str, wishes: Wishes) -> Recording:
    """Return the heights of a table. LogError where it has none, or no time and no rate was said."""
    left = Left()
    rows = _rows(text, left)
    start, names = _headings(rows)
    if not names:
        names = _guessed(rows) if wishes.at is None else _numbered(rows)
    wished = _time_at(names) if wishes.time_at is None else wishes.time_at
    time_at = None if wished == -1 else wished
    if time_at is not None and not 0 <= time_at < len(names):
        raise LogError("no_time")
    at, kind, said = _measured(names, time_at, wishes)
    if time_at is None and wishes.rate is None:
        raise LogError("no_time")
    seconds, raw = _columns(rows[start:], set(names), (time_at, at), wishes.rate or 1.0, left)
    if not raw:
        raise LogError("too_few", count="no sample")
    time_unit, told = ("s", "") if time_at is None else _scale_of_time(_unit(names[time_at]), seconds, wishes.time_unit)
    factor = TIME_UNITS[time_unit][0]
    heights, unit, more = _heights(kind, names[at], raw, seconds, factor, wishes)
    points = [(each * factor, height) for each, height in zip(seconds, heights, strict=True) if height is not None]
    for _ in range(len(heights) - len(points)):
        left.out("pressures that no air has")
    taken = Columns(headings=headings(text), time_at=time_at, at=at, time_unit=time_unit, unit=unit)
    sentences = tuple(each for each in (said, told, more, *left.told()) if each)
    return Recording(points=points, told=sentences, kind=kind, date=_date(rows[start:], time_at), columns=taken)


def _time_at(names: Sequence[str]) -> int | None:
    return next((at for at, each in enumerate(names) if TIMES.search(each.replace("_", " "))), None)


def _date(rows: Sequence[Sequence[str]], time_at: int | None) -> str:
    """Return the date of the first sample, where the times tell one."""
    first = rows[0][time_at] if rows and time_at is not None and len(rows[0]) > time_at else ""
    found = re.match(r"\s*\"?(\d{4}-\d\d-\d\d)[T ]", first, re.ASCII)
    return "" if found is None else found[1]


def _columns(
    rows: Sequence[Sequence[str]], headings: set[str], columns: tuple[int | None, int], rate: float, left: Left
) -> tuple[list[float], list[float]]:  # fmt: skip
    """Return times and what was measured of each line that has both."""
    time_at, at = columns
    seconds, raw = [], []
    for number, row in enumerate(rows):
        value = _number(row[at]) if len(row) > at else None
        second = number / rate if time_at is None else _second(row[time_at]) if len(row) > time_at else None
        if value is None or second is None:
            again = headings & set(row)
            left.out("headings that come again" if again else "lines without a number where one should be")
            continue
        seconds.append(second)
        raw.append(value)
    return seconds, raw


def _numbered(rows: Sequence[Sequence[str]]) -> tuple[str, ...]:
    return tuple(f"column {at + 1}" for at in range(len(rows[0]))) if rows else ()


def _guessed(rows: Sequence[Sequence[str]]) -> tuple[str, ...]:
    """Return headings for a table without any: two columns of numbers are time and height or pressure."""
    if not rows or len(rows[0]) < 2 or _second(rows[0][0]) is None or _number(rows[0][1]) is None:
        raise LogError("no_log")
    low, high = PRESSURE_UNITS["Pa"][1:]
    pressed = low <= (_number(rows[0][1]) or 0.0) <= high
    return ("time", "pressure" if pressed else "height", *_numbered(rows)[2:])


def _measured(names: Sequence[str], time_at: int | None, wishes: Wishes) -> tuple[int, str, str]:
    """Return the column that counts, whether it is a height or a pressure, and what is said of it."""
    columns = [(at, each) for at, each in enumerate(names) if at != time_at]
    heights = [(at, each) for at, each in columns if HEIGHTS.search(each) and not re.search(r"gps|gnss", each, re.I)]
    pressures = [(at, each) for at, each in columns if PRESSURES.search(each) and (at, each) not in heights]
    if wishes.at is not None:
        return _chosen(names, time_at, wishes, {at for at, _ in pressures})
    if not heights and not pressures:
        raise LogError("no_height", headings=", ".join(each.strip()[:20] for each in names[:12]) or "none")
    at, name = (pressures or heights)[0]
    others = [each.strip()[:30] for where, each in [*pressures, *heights] if where != at]
    aside = f"; left aside: {', '.join(others[:4])}" if others else ""
    kind = _kind(wishes.unit, pressed=bool(pressures))
    return at, kind, f"The column “{name.strip()[:30]}” is taken as the {kind}{aside}."


def _chosen(names: Sequence[str], time_at: int | None, wishes: Wishes, pressures: set[int]) -> tuple[int, str, str]:
    at = wishes.at or 0
    if at == time_at:
        raise LogError("same_column")
    if not 0 <= at < len(names) or not 0 <= (time_at or 0) < len(names):
        raise LogError("no_height", headings=", ".join(each.strip()[:20] for each in names[:12]))
    kind = _kind(wishes.unit, pressed=at in pressures)
    return at, kind, f"The column “{names[at].strip()[:30]}” is the {kind}, as you say."


def _kind(unit: str, *, pressed: bool) -> str:
    """Return what a column holds: as its unit says, else as its heading does."""
    if unit:
        return "pressure" if unit in PRESSURE_UNITS else "height"
    return "pressure" if pressed else "height"


def _scale_of_time(named: str, seconds: Sequence[float], wished: str) -> tuple[str, str]:
    """Return the unit of the times, and what is said of it."""
    if wished:
        return wished, f"Times are {TIME_UNITS[wished][1]}, as you say."
    for unit, begins in (("ms", ("ms", "milli")), ("min", ("min",)), ("s", ("s",))):
        if named.startswith(begins):
            return unit, f"Times are {TIME_UNITS[unit][1]}, as the heading says."
    steps = [later - earlier for earlier, later in pairwise(seconds) if later > earlier]
    if steps and median(steps) > MS_FROM and all(each == round(each) for each in steps[:50]):
        return "ms", "Times are taken as milliseconds: their steps are that large."
    return "s", "Times are taken as seconds."


def _heights(
    kind: str, heading: str, raw: Sequence[float], seconds: Sequence[float], factor: float, wishes: Wishes
) -> tuple[list[float | None], str, str]:  # fmt: skip
    """Return heights [m], the unit they were in, and what is said of it."""
    if kind == "pressure":
        return _from_pressure(raw, wishes.unit)
    told = _unit(heading)
    named = "ft" if told.startswith("f") else "cm" if told == "cm" else "m" if told in ("m", *METRES) else ""
    unit = wishes.unit or named
    if unit:
        by = "as you say" if wishes.unit else "as the heading says"
        return [each * HEIGHT_UNITS[unit][0] for each in raw], unit, f"Heights are {HEIGHT_UNITS[unit][1]}, {by}."
    if _as_centimetres(raw, seconds, factor):
        said = "Heights are taken as centimetres: whole numbers that change by more than 50 a second."
        return [each * 0.01 for each in raw], "cm", said
    return list(raw), "m", "Heights are taken as metres: nothing says so; if they are feet, say it."


def _as_centimetres(raw: Sequence[float], seconds: Sequence[float], factor: float) -> bool:
    if not all(each == round(each) for each in raw):
        return False
    both = pairwise(zip(seconds, raw, strict=True))
    rates = [abs(b - a) / ((t - s) * factor) for (s, a), (t, b) in both if t > s]
    fast = sorted(rates, reverse=True)[: max(3, len(rates) // 50)]
    return bool(rates) and median(fast) > FAST_CM


def _from_pressure(raw: Sequence[float], wished: str) -> tuple[list[float | None], str, str]:
    """Return standard heights of pressures, by their size where no unit is said; None where no air has such a one."""
    middle = median(raw)
    for unit, (pascals, low, high) in PRESSURE_UNITS.items():
        if unit == wished or (not wished and low <= middle <= high):
            found = [each * pascals for each in raw]
            sound = [pressure.LOW_PA <= each <= pressure.HIGH_PA for each in found]
            heights = [pressure.standard_height(each) if ok else None for each, ok in zip(found, sound, strict=True)]
            return (
                heights,
                unit,
                f"Pressures are {unit}, as you say." if wished else f"Pressures are taken as {unit} by their size.",
            )
    raise LogError("no_log")
