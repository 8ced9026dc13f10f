"""A table of texts, as it came out of a pasted block, a CSV file or a sheet of a workbook.

Text: RFC 4180, with semicolons, tabs or commas between cells; where there is none of these, two spaces and more, or
a mass at the end of the line (`Servo 1.7 g`); a byte-order mark is left out. A cell is a text as it was typed; a number
of a workbook is its stored value.

The limits are told as `BudgetError`, with facts; nothing is cut off unsaid.
"""

import csv
import io
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calc.errors import BudgetError, Problem

MOST_LETTERS = 4_000_000  # of all cells together, as of a box
MOST_ROWS = 5000  # with something in them, as parts of a box
MOST_COLUMNS = 256
SIGNS = "\t;,"  # between cells; of two that would do, the first: a comma may be a decimal one
LONGEST_LINE = 200  # letters, of one that ends in a mass
HEAD = 8000  # letters, of which the first lines show how cells are parted
_QUOTED = re.compile(r'(?:^|(?<=[;,\t\n]))"(?:[^"]|"")*"')
_DECIMAL = re.compile(r"(?<=[0-9]),(?=[0-9])")
_GAP = re.compile(r"\s{2,}")
_ENDS_IN_MASS = re.compile(r"(.*[^\s:=–-])[\s:=–-]+([0-9][0-9.,/ ½¼¾]*\s*(?:m?g|gr|gms?|grams?|oz|ounces?)\.?)", re.I)


@dataclass(frozen=True, kw_only=True)
class Row:
    """A line with something in it; `number` is what the spreadsheet counts it as, from 1."""

    number: int
    cells: tuple[str, ...]
    hidden: bool = False

    def cell(self, column: int) -> str:
        """Return the text of a cell, "" past the end."""
        return self.cells[column] if column < len(self.cells) else ""


@dataclass(frozen=True, kw_only=True)
class Table:
    """The filled rows of one sheet; `others` names the sheets beside it, `told` is to be said of the reading."""

    rows: tuple[Row, ...]
    sheet: str = ""  # "" for text, which has none
    others: tuple[str, ...] = ()
    told: tuple[Problem, ...] = ()

    @property
    def width(self) -> int:
        """The number of columns with something in them."""
        return max((len(row.cells) for row in self.rows), default=0)


def refused(code: str, **facts: Any) -> BudgetError:
    """Return the error for a whole file; `code` is one of `calc.wording.SENTENCES`."""
    return BudgetError((Problem(field="", code=code, facts=facts),))


def from_text(text: str, plain: Callable[[str], str] = str) -> Table:
    r"""Return the table in a block of text; `plain` is done to each cell.

    Raises
    ------
    BudgetError
        code `too_large`, `not_csv`, `too_many_in_file`, `table_too_wide`.

    Examples
    --------
    >>> [row.cells for row in from_text("Servo;1,7\n\nEmpfänger;1,1").rows]
    [('Servo', '1,7'), ('Empfänger', '1,1')]
    """
    if len(text) > MOST_LETTERS:
        raise refused("too_large", most=MOST_LETTERS)
    filling = Filling()
    for number, cells in enumerate(csv_rows(text.removeprefix("\ufeff")), 1):
        filling.add(number, {at: plain(cell.strip()) for at, cell in enumerate(cells)})
    return filling.table("")


def csv_rows(text: str, *, loose: bool = True) -> Iterator[list[str]]:
    """Yield the cells of each line of a text; lines without any sign in them are taken apart only if that is `loose`.

    Raises
    ------
    BudgetError
        code `not_csv`: a quote that is opened and not closed, or the like.
    """
    sign = parted_at(text) or ("" if loose else ",")
    if not sign:
        yield from (_apart(line.strip()) for line in text.splitlines())
        return
    try:
        yield from csv.reader(io.StringIO(text, newline=""), delimiter=sign, strict=True)
    except csv.Error as error:
        raise refused("not_csv", what=str(error)) from error


def _apart(line: str) -> list[str]:
    """Return the cells of a line without a sign between them: at wide gaps, else a mass at its end."""
    cells = _GAP.split(line)
    mass = _ENDS_IN_MASS.fullmatch(line) if len(cells) == 1 and len(line) <= LONGEST_LINE else None
    return cells if mass is None else [mass[1], mass[2]]


def parted_at(text: str) -> str:
    r"""Return the sign between the cells of a text, "" where two spaces and more must do.

    At least half of the first lines have it, the first one among them unless it is a title. A comma between two digits
    is no such sign, nor is anything within quotes.

    Examples
    --------
    >>> parted_at("RX, bare\t1,1\nServo\t1,7"), parted_at("a;1,5\nb;2,5"), parted_at('"a;b",x'), parted_at("RX  1,1 g")
    ('\t', ';', ',', '')
    >>> parted_at("Gear, 2024\nName;Mass\nServo;1,7"), parted_at("kind,name\nservo,a;b")
    (';', ',')
    """
    lines = [line for line in _QUOTED.sub("", text[:HEAD]).split("\n")[:20] if line.strip()] or [","]
    bare = [_DECIMAL.sub("", line) for line in lines]
    having = {sign: sum(sign in line for line in bare) for sign in SIGNS}
    everywhere = [sign for sign in SIGNS if having[sign] == len(lines)]
    for sign in SIGNS:
        if 2 * having[sign] >= len(lines) and (sign in lines[0] or not everywhere):
            return sign
    found = everywhere + [sign for sign in SIGNS if sign in bare[0]] + [","] * ('"' in text[:HEAD])
    return found[0] if found else ""


class Filling:
    """Takes the rows of a sheet one by one, and refuses what goes over the limits before it takes any room."""

    def __init__(self) -> None:
        self.rows: list[Row] = []
        self.letters = 0

    def add(self, number: int, cells: Mapping[int, str], *, repeat: int = 1, hidden: bool = False) -> None:
        """Take a row, `repeat` times; columns are counted from 0, and empty cells take no room."""
        filled = {at: cell for at, cell in cells.items() if cell}
        if not filled:
            return
        last = max(filled)
        if last >= MOST_COLUMNS:
            raise refused("table_too_wide", row=number, column=letters(last), most=MOST_COLUMNS)
        if len(self.rows) + repeat > MOST_ROWS:
            raise refused("too_many_in_file", most=MOST_ROWS)
        self.letters += repeat * sum(map(len, filled.values()))
        if self.letters > MOST_LETTERS:
            raise refused("too_large", most=MOST_LETTERS)
        row = tuple(filled.get(at, "") for at in range(last + 1))
        self.rows += (Row(number=number + each, cells=row, hidden=hidden) for each in range(repeat))

    def table(self, sheet: str, bare_formulas: int = 0) -> Table:
        """Return the table of what was taken; hidden rows and formulas without a result are told."""
        hidden = [row.number for row in self.rows if row.hidden]
        told = [_told("table_hidden_rows", count=len(hidden), rows=listed(hidden))] if hidden else []
        told += [_told("table_no_result", count=bare_formulas)] if bare_formulas else []
        return Table(rows=tuple(self.rows), sheet=sheet, told=tuple(told))


def _told(code: str, **facts: Any) -> Problem:
    return Problem(field="", code=code, facts=facts)


def listed(numbers: list[int], most: int = 8) -> str:
    """Return numbers in a sentence, the first ones of many.

    Examples
    --------
    >>> listed([3]), listed([3, 5, 9]), listed(list(range(20)), 3)
    ('3', '3, 5 and 9', '0, 1, 2 and 17 more')
    """
    if len(numbers) > most:
        return f"{', '.join(map(str, numbers[:most]))} and {len(numbers) - most} more"
    return " and ".join(filter(None, [", ".join(map(str, numbers[:-1])), *map(str, numbers[-1:])]))


def letters(column: int) -> str:
    """Return the letters that a spreadsheet gives a column, counted from 0.

    Examples
    --------
    >>> letters(0), letters(25), letters(26), letters(16383)
    ('A', 'Z', 'AA', 'XFD')
    """
    found = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        found = chr(65 + rest) + found
    return found


def number_text(stored: str) -> str:
    """Return a stored number without the last digits, which no spreadsheet shows; anything else as it is.

    Examples
    --------
    >>> number_text("1.7000000000000002"), number_text("3.0"), number_text("1E-3"), number_text("n/a")
    ('1.7', '3', '0.001', 'n/a')
    """
    try:
        number = float(stored)
    except ValueError:
        return stored
    return f"{number:.15g}"


_SHOWN = re.compile(r"([-+−]?[0-9][0-9.,'’\s]*)(?<=[0-9])\s*([^0-9\s][^0-9]{0,11})")


def with_shown_unit(stored: str, shown: str) -> str:
    """Return a stored number with the unit that the spreadsheet shows behind it.

    Where the number shown is another one (a format that shows 1500 as `1.5 kg`), it is as shown.

    Examples
    --------
    >>> with_shown_unit("1.4567", "1,5 g"), with_shown_unit("1.5", "1,5"), with_shown_unit("1500", "1.5 kg")
    ('1.4567 g', '1.5', '1.5 kg')
    """
    found = _SHOWN.fullmatch(shown.strip()[:60])
    if found is None:
        return stored
    digits = re.sub(r"['’\s]", "", found[1]).replace("−", "-")
    for reading in (digits, digits.replace(",", "."), re.sub("[.,](?=.*[.,])", "", digits).replace(",", ".")):
        places = len(reading.partition(".")[2])
        if abs(_float(reading) - _float(stored)) <= 0.51 * 10.0**-places:
            return f"{stored} {found[2]}"
    return shown.strip()


def _float(text: str) -> float:
    try:
        return float(text.replace(",", ""))
    except ValueError:
        return float("nan")
