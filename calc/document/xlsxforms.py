"""Number formats of SpreadsheetML (ECMA-376, part 1, 18.8.30 and 18.8.31) as far as a stored number needs them.

Read off a format: whether the number is a date, whether it is shown as a percentage or by the thousand, and which unit
stands behind it in quotes. Serial dates (18.17.4.1): 1 is 1900-01-01 and 60 a 29 February 1900 that never was, so
that from 61 on the days count from 1899-12-30; in a workbook of the 1904 system 0 is 1904-01-01.
"""

import re
from dataclasses import dataclass

from calc.document.table import number_text

BUILT_IN_DATES = frozenset((*range(14, 23), *range(45, 48)))
BUILT_IN_PERCENT = (9, 10)
LONGEST_CODE = 200  # letters
NEVER_WAS = 60
LAST_DAY = 2_958_465  # 9999-12-31
_QUOTED = re.compile(r'"[^"]*"|\\.|_.|\*.|\[[^\]]*\]')
_UNIT = re.compile(r'[0#?][.,0#?]*\s*(?:"([^"]{1,12})"|((?:\\.)+))\s*$')
_THOUSANDS = re.compile(r"[0#?](,+)(?![0#?,])")


@dataclass(frozen=True, kw_only=True)
class Form:
    """What a number format says beside the digits."""

    date: bool = False
    percent: bool = False
    thousands: int = 0  # the number is shown divided by 1000 so often
    unit: str = ""


def form(number: int, code: str) -> Form:
    r"""Return what a format says, by its number and, for one that is not built in, its code.

    Examples
    --------
    >>> form(14, "").date, form(10, "").percent, form(164, 'yyyy\\-mm\\-dd').date, form(164, '0.0" g"')
    (True, True, True, Form(date=False, percent=False, thousands=0, unit='g'))
    """
    first = code[:LONGEST_CODE].split(";")[0]
    bare = _QUOTED.sub("", first)
    unit = _UNIT.search(first)
    thousands = _THOUSANDS.search(bare)
    return Form(
        date=number in BUILT_IN_DATES or (bool(re.search("[dmyhs]", bare, re.I)) and "general" not in bare.casefold()),
        percent=number in BUILT_IN_PERCENT or "%" in bare,
        thousands=len(thousands[1]) if thousands else 0,
        unit="" if unit is None else (unit[1] or unit[2].replace("\\", "")).strip(),
    )


def shown(stored: str, how: Form, from_1904: bool = False) -> str:
    """Return a stored number as text: a date as ISO 8601 has it, a percentage with its sign, a unit behind it.

    Examples
    --------
    >>> shown("45000", Form(date=True)), shown("61", Form(date=True)), shown("0.2", Form(percent=True))
    ('2023-03-15', '1900-03-01', '20 %')
    >>> shown("60", Form(date=True)), shown("0.25", Form(date=True)), shown("1500", Form(thousands=1, unit="kg"))
    ('60', '6:00:00', '1.5 kg')
    """
    try:
        number = float(stored)
    except ValueError:
        return stored
    if how.date:
        return _date(number, from_1904) or number_text(stored)
    if how.percent:
        return f"{100.0 * number:.12g} %"
    text = number_text(repr(number / 1000.0**how.thousands)) if how.thousands else number_text(stored)
    return f"{text} {how.unit}" if how.unit else text


def _date(serial: float, from_1904: bool) -> str:
    """Return a serial date, or a time of day below 1; "" for what is no day."""
    from datetime import datetime, timedelta

    day, seconds = divmod(round(serial * 86_400.0) if abs(serial) <= LAST_DAY else -1, 86_400)
    if day < 0 or (not from_1904 and day == NEVER_WAS):
        return ""
    clock = f"{seconds // 3600}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
    if day == 0 and seconds:
        return clock
    start = datetime(1904, 1, 1) if from_1904 else datetime(1899, 12, 30 if day > NEVER_WAS else 31)
    date = (start + timedelta(days=day)).date().isoformat()
    return f"{date} {clock}" if seconds else date
