"""A box as a file, JSON or CSV.

CSV is RFC 4180 with a header row that names the unit of each column; the columns are the entries of a part. Semicolons
or tabs between cells, decimal commas and a byte-order mark, as spreadsheets write them, are read, too.
"""

import csv
import io
import itertools
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from calc import units
from calc.document import gearwords
from calc.document.blocks import FORMAT, BoxPart
from calc.document.box import MOST_PARTS, Boxed, read_box
from calc.document.columns import Column, by_heading
from calc.document.fields import Field, FlagField, QuantityField, described
from calc.document.jsontext import loads
from calc.document.systems import block_with_units, is_bare_number, system_of
from calc.document.table import Row, csv_rows
from calc.errors import BudgetError, Problem

LONGEST_BOX = 4_000_000  # characters
YES, NO = "yes", "no"
# A spreadsheet takes a cell that begins so for a formula; so does one that parts cells at another sign than ours.
# An apostrophe goes before it, and one more before those that are there, so that reading takes off just what was put.
_RISKY = "=+\\-@\t\r\n\uff1d\uff0b\uff0d\uff20"
_BEGINS = r"(?:\A|(?<=[;,|\t\r\n]))"
_TO_ESCAPE = re.compile(rf"{_BEGINS}(?=['\s]*[{_RISKY}])")
_ESCAPED = re.compile(rf"{_BEGINS}'(?=['\s]*[{_RISKY}])")


def box_from_text(source: str) -> dict[str, Any]:
    """Return the document of a box in a file's text, JSON or CSV.

    Raises
    ------
    BudgetError
        With one problem: too large, too deep, not JSON; or CSV without a header that names a known column.
    """
    text = source.removeprefix("\ufeff")
    if is_json(text):
        document = loads(text, LONGEST_BOX)
        if not isinstance(document, dict) or "parts" not in document:
            raise BudgetError((Problem(field="", code="not_a_box"),))
        return document
    return from_csv(text)


def is_json(source: str) -> bool:
    """Return whether a file's text is taken for JSON, and not for CSV."""
    return source.removeprefix("\ufeff").lstrip()[:1] in ("{", "[")


def to_csv(document: Mapping[str, Any], kind: type[BoxPart] = BoxPart) -> str:
    """Return a box as CSV: RFC 4180, units in the header, and no cell that a spreadsheet would take for a formula.

    A quantity that cannot be read goes out as it was typed.
    """
    box = read_box(_with_units_told(document), kind)
    fields = described(kind)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([_heading(each, box.units) for each in fields.values()])
    for boxed in box.parts:
        writer.writerow([_cell(boxed, name, each, box.units) for name, each in fields.items()])
    return out.getvalue()


def is_own_csv(text: str, kind: type[BoxPart] = BoxPart) -> bool:
    """Return whether a text has exactly the headings that `to_csv` writes for parts of `kind`, in either system.

    Examples
    --------
    >>> is_own_csv(to_csv({"parts": []})), is_own_csv("kind,name,mass [g]"), is_own_csv("")
    (True, False, False)
    """
    line = text.removeprefix("\ufeff").partition("\n")[0].rstrip("\r")
    headings = [[_heading(each, system) for each in described(kind).values()] for system in ("metric", "imperial")]
    return next(csv.reader([line]), []) in headings


def _with_units_told(document: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return a box whose bare numbers will not take the unit of a heading, if its own system cannot be read."""
    parts = document.get("parts")
    if system_of(document) or not isinstance(parts, list | tuple):
        return document
    return {**document, "parts": [block_with_units(BoxPart, part, "") for part in parts[:MOST_PARTS]]}


def _heading(each: Field, system: str) -> str:
    label = each.box_label
    return f"{label} [{units.default_unit(each.dimension, system)}]" if isinstance(each, QuantityField) else label


def _cell(boxed: Boxed, name: str, each: Field, system: str) -> str:
    entry = getattr(boxed.part, name)
    raw = boxed.document.get(name)
    if isinstance(each, QuantityField) and entry is not None and entry.typed is not None:
        number = units.from_si(entry.value, units.default_unit(each.dimension, system), each.dimension)
        return f"{number:.12g}"
    if isinstance(each, FlagField) and isinstance(raw, bool):
        return YES if raw else NO
    return escaped("" if raw is None else str(raw).rstrip())


def escaped(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula; `unescaped` gives it back.

    Examples
    --------
    >>> escaped("=1"), escaped("a;=1"), escaped("'=1"), escaped("it's"), unescaped(escaped("'=1"))
    ("'=1", "a;'=1", "''=1", "it's", "'=1")
    """
    return _TO_ESCAPE.sub("'", text)


def unescaped(text: str) -> str:
    """Return a text without the apostrophes that `escaped` put into it."""
    return _ESCAPED.sub("", text)


def from_csv(text: str, kind: type[BoxPart] = BoxPart, most: int = MOST_PARTS) -> dict[str, Any]:
    """Return the document of a box in CSV, its parts of `kind`; unknown columns are left aside and told in `ignored`.

    Raises
    ------
    BudgetError
        code `no_header`: the first row names no column of a box; `not_csv`; `too_large`; `too_many_in_file`: more than
        `most` rows, counted before anything is made of them.
    """
    if len(text) > LONGEST_BOX:
        raise BudgetError((Problem(field="", code="too_large", facts={"most": LONGEST_BOX}),))
    rows = csv_rows(text, loose=False)
    header = [cell.strip() for cell in next(rows, [])]
    fields = described(kind)
    listed = _counted(rows, most)
    columns = by_heading(header, listed, fields)
    if not any(column.field in ("kind", "name", "mass") for column in columns):
        labels = ", ".join(each.box_label for each in fields.values())
        raise BudgetError((Problem(field="", code="no_header", facts={"labels": labels}),))
    parts = [_part(columns, fields, row) for row in listed]
    ignored = [column.heading for column in columns if not column.field and column.heading]
    document: dict[str, Any] = {"format": FORMAT, "parts": parts}
    return {**document, "ignored": ignored} if ignored else document


def _counted(rows: Iterator[list[str]], most: int) -> list[Row]:
    """Return the rows with something in them, if they are not too many."""
    filled = (row for row in rows if any(cell.strip() for cell in row))
    found = list(itertools.islice(filled, most + 1))
    if len(found) > most:
        raise BudgetError((Problem(field="", code="too_many_in_file", facts={"most": most}),))
    return [Row(number=number, cells=tuple(map(str.strip, row))) for number, row in enumerate(found, 2)]


def _part(columns: Iterable[Column], fields: Mapping[str, Field], row: Row) -> dict[str, Any]:
    part: dict[str, Any] = {}
    for column in columns:
        text = unescaped(row.cell(column.at))
        if column.field and text:
            bare = column.unit and is_bare_number(text)
            part[column.field] = f"{text} {column.unit}" if bare else _settled(fields[column.field], column.field, text)
    return part


def _settled(field: Field, name: str, text: str) -> str | bool:
    """Return a word as the box spells it, whatever its capitals and language; yes and no as what they mean."""
    flag = gearwords.flag_of(text) if isinstance(field, FlagField) else None
    return gearwords.settled(name, text) if flag is None else flag
