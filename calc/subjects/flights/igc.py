"""Reads IGC files, the FAI's open flight recorder format.

Source: FAI/IGC, Technical Specification for IGC-approved GNSS Flight Recorders, 2nd edition with amendment 8 (2023),
appendix A: B records A4.1, I record A3.4, date A9.2. The pressure height stands in characters 26 to 30, in metres of
the standard atmosphere above 1013.25 hPa; GNSS height is above the ellipsoid, jumps, and is never taken for a sink.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from calc.subjects.flights.logs import LONGEST_LINE, MOST_SAMPLES, Left, LogError, Recording

_FIX = re.compile(
    r"B(\d\d)(\d\d)(\d\d)(\d\d)(\d{5})([NS])(\d{3})(\d{5})([EW])([AV])(-\d{4}|\d{5})(-\d{4}|\d{5})", re.ASCII
)
DAY_S = 86_400.0
HALF_DAY_S = DAY_S / 2.0


@dataclass(frozen=True, kw_only=True)
class Fix:
    """A B record: seconds of the day (UTC), latitude and longitude [°], validity, pressure and GNSS height [m]."""

    second: float
    latitude_deg: float
    longitude_deg: float
    valid: str
    pressure_m: float
    gnss_m: float


def fix(line: str) -> Fix | None:
    """Return the fix of a B record, None for any other line; what follows the 35 characters is left aside.

    Examples
    --------
    >>> found = fix("B1101455206259N00006295WV-001200556")
    >>> found.second, round(found.latitude_deg, 7), found.valid, found.pressure_m, found.gnss_m
    (39705.0, 52.1043167, 'V', -12.0, 556.0)
    """
    match = _FIX.match(line)
    if match is None:
        return None
    hour, minute, second, north, north_min, ns, east, east_min, ew, valid, pressure, gnss = match.groups()
    if int(hour) > 23 or int(minute) > 59 or int(second) > 59:
        return None
    return Fix(
        second=3600.0 * int(hour) + 60.0 * int(minute) + int(second),
        latitude_deg=(int(north) + int(north_min) / 60_000.0) * (-1.0 if ns == "S" else 1.0),
        longitude_deg=(int(east) + int(east_min) / 60_000.0) * (-1.0 if ew == "W" else 1.0),
        valid=valid,
        pressure_m=float(pressure),
        gnss_m=float(gnss),
    )


def extensions(line: str) -> dict[str, tuple[int, int]]:
    """Return what an I record names beyond the 35 characters, each with its first and last character, counted from 1.

    Examples
    --------
    >>> extensions("I023638FXA3940SIU")
    {'FXA': (36, 38), 'SIU': (39, 40)}
    """
    found = re.findall(r"(\d\d)(\d\d)([A-Z]{3})", line[3:]) if line.startswith("I") else []
    return {name: (int(first), int(last)) for first, last, name in found}


def is_igc(text: str) -> bool:
    """Return whether a text is an IGC file: it has B records.

    Examples
    --------
    >>> is_igc("B1101355206343N00006198WA0058700558"), is_igc("Time,Height")
    (True, False)
    """
    return re.search(r"(?m)^B\d{6}\d{7}[NS]\d{8}[EW][AV]", text[:200_000]) is not None


def read(text: str) -> Recording:
    """Return the pressure heights of a file; midnight is passed. LogError where no pressure was recorded."""
    left, points = Left(), []
    days, before = 0.0, None
    for each in _fixes(text.splitlines(), left):
        if before is not None and each.second < before - HALF_DAY_S:
            days += DAY_S
        before = each.second
        points.append((days + each.second, each.pressure_m))
        if len(points) > MOST_SAMPLES:
            raise LogError("too_many")
    if points and not any(height for _, height in points):
        raise LogError("all_equal")
    said = "The pressure heights of an IGC file, in metres of the standard atmosphere."
    return Recording(points=points, told=(said, *left.told()), kind="pressure height", date=date(text))


def date(text: str) -> str:
    """Return the date of a file, "" where none can be read; years below 80 are of this century.

    Examples
    --------
    >>> date("HFDTE030526"), date("HFDTEDATE:150718,01"), date("HFDTE999999")
    ('2026-05-03', '2018-07-15', '')
    """
    found = re.search(r"(?m)^HFDTE(?:DATE:)?(\d\d)(\d\d)(\d\d)", text[:100_000], re.ASCII)
    if found is None or not (1 <= int(found[1]) <= 31 and 1 <= int(found[2]) <= 12):
        return ""
    return f"{'20' if int(found[3]) < 80 else '19'}{found[3]}-{found[2]}-{found[1]}"


def _fixes(lines: Iterable[str], left: Left) -> Iterable[Fix]:
    for line in lines:
        if not line.startswith("B"):
            continue
        found = fix(line) if len(line) <= LONGEST_LINE else None
        if found is None:
            left.out("B records that cannot be read")
        else:
            yield found
