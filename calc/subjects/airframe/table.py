"""The parts of the airframe as CSV and back, and out of a workbook: a column for each entry, its unit in the heading.

CSV is RFC 4180. Workbooks (ODS, XLSX) are read by `calc.document.intake`.
"""

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc import units
from calc.document.boxfile import LONGEST_BOX, NO, YES, escaped, unescaped
from calc.document.budget import MOST_ROWS
from calc.document.columns import TITLE_ROWS
from calc.document.fields import ChoiceField, Field, FlagField, QuantityField, described
from calc.document.gearwords import flag_of, is_total
from calc.document.paths import rows
from calc.document.reading import read_block
from calc.document.systems import is_bare_number, system_of
from calc.document.table import Row, Table, csv_rows
from calc.errors import BudgetError, Problem
from calc.subjects.airframe.entries import AirframePart

_HEADING = re.compile(r"(.*?)\s*(?:\[([^\]]*)\])?\s*")


def to_csv(document: Mapping[str, Any]) -> str:
    """Return the parts of the airframe of a document of any shape as CSV; what cannot be read as it was typed.

    Examples
    --------
    >>> text = to_csv({"airframe": [{"name": "=tube", "length": "40 cm", "area": True}]})
    >>> [cell for cell in text.splitlines()[1].split(",") if cell]
    ["'=tube", '400', 'yes']
    """
    system, fields, out = system_of(document), described(AirframePart), io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([_heading(each, system) for each in fields.values()])
    for index, raw in enumerate(rows(document, "airframe")):
        part = raw if isinstance(raw, Mapping) else {}
        read, _ = read_block(AirframePart, part, f"airframe.{index}", system)
        writer.writerow([_cell(each, getattr(read, name), part.get(name), system) for name, each in fields.items()])
    return out.getvalue()


def _heading(each: Field, system: str) -> str:
    if isinstance(each, QuantityField) and system:
        return f"{each.label} [{units.default_unit(each.dimension, system)}]"
    return each.label


def _cell(each: Field, entry: Any, raw: object, system: str) -> str:
    if isinstance(each, QuantityField) and system and entry is not None and entry.typed is not None:
        number = units.from_si(entry.value, units.default_unit(each.dimension, system), each.dimension)
        return f"{number:.12g}"
    if isinstance(raw, bool):
        return YES if raw else NO
    return escaped("" if raw is None else str(raw).rstrip())


@dataclass(frozen=True, kw_only=True)
class Added:
    """A document with the parts of a table after its own; `aside`: headings that name no entry, rows that are a sum."""

    document: dict[str, Any]
    parts: int
    aside: tuple[str, ...]
    told: tuple[Problem, ...]  # of the reading


def from_csv(text: str, document: Mapping[str, Any]) -> tuple[dict[str, Any], tuple[str, ...]]:
    r"""Return a document with the parts of a CSV after its own, and the headings that name no column.

    Raises
    ------
    BudgetError
        code `no_parts_header`: none of the first rows names a column of a part; `not_csv`; `too_large`; `no_room`: more
        parts than rows are left.

    Examples
    --------
    >>> document, ignored = from_csv("Part;Belongs to;Length [cm];Colour\r\ntube;fuselage or boom;40;red", {})
    >>> document["airframe"], ignored
    ([{'name': 'tube', 'group': 'fuselage', 'length': '40 cm'}], ('Colour',))
    """
    if len(text) > LONGEST_BOX:
        raise BudgetError((Problem(field="", code="too_large", facts={"most": LONGEST_BOX}),))
    lines = csv_rows(text.removeprefix("\ufeff"), loose=False)
    numbered = ((number, [unescaped(cell.strip()) for cell in cells]) for number, cells in enumerate(lines, 1))
    rows_ = tuple(Row(number=number, cells=tuple(cells)) for number, cells in numbered if any(cells))
    added = from_table(Table(rows=rows_), document)
    return added.document, added.aside


def from_table(table: Table, document: Mapping[str, Any]) -> Added:
    """Return a document with the parts of a table after its own.

    Raises
    ------
    BudgetError
        code `no_parts_header` or `no_room`, as `from_csv`.
    """
    at = heading_at(table.rows)
    if at is None:
        labels = ", ".join(each.label for each in described(AirframePart).values())
        raise BudgetError((Problem(field="", code="no_parts_header", facts={"labels": labels}),))
    columns = [_column(heading) for heading in table.rows[at].cells]
    called = next((at for at, (name, _) in enumerate(columns) if name == "name"), 0)
    sums = [row for row in table.rows[at + 1 :] if is_total(row.cell(called))]
    found = list(_parts(columns, (row for row in table.rows[at + 1 :] if row not in sums)))
    before = rows(document, "airframe")
    if len(before) + len(found) > MOST_ROWS:
        facts = {"count": len(found), "most": MOST_ROWS, "rows": len(before)}
        raise BudgetError((Problem(field="airframe", code="no_room", facts=facts),))
    unknown = [cell for cell, (name, _) in zip(table.rows[at].cells, columns, strict=True) if cell and not name]
    aside = (*unknown, *(f"row {row.number}, a sum" for row in sums))
    parts = {**document, "airframe": [*before, *found]}
    return Added(document=parts, parts=len(found), aside=aside, told=table.told)


def heading_at(listed: Sequence[Row]) -> int | None:
    """Return which of the first rows holds the headings: one that names what a part must have, and no quantity.

    Examples
    --------
    >>> heading_at([Row(number=1, cells=("My model",)), Row(number=2, cells=("Part", "Shape"))])
    1
    """
    for at, row in enumerate(listed[:TITLE_ROWS]):
        names = _named(row)
        if names & DECIDING and (at == 0 or len(names) > 1):
            return at
    return None


def is_headed(listed: Sequence[Row]) -> bool:
    """Return whether rows of a sheet begin with headings of parts of an airframe, two of them at least."""
    at = heading_at(listed)
    return at is not None and len(_named(listed[at])) > 1


DECIDING = frozenset(["name", "shape", "mass", "weighed"])  # one of them a list of parts must have


def _named(row: Row) -> set[str]:
    return {name for name, _ in map(_column, row.cells)} - {""}


def _column(heading: str) -> tuple[str, str]:
    """Return the entry that a heading names, "" for none, and the unit in it."""
    match = _HEADING.fullmatch(heading)
    label, unit = (match[1].casefold(), match[2] or "") if match else ("", "")
    for name, each in described(AirframePart).items():
        if label in (name, name.replace("_", " "), each.label.casefold()):
            return name, unit.strip()
    return "", ""


def _parts(columns: Sequence[tuple[str, str]], listed: Iterable[Row]) -> Iterator[dict[str, Any]]:
    """Yield the parts; one more than there can be rows is enough to know that they are too many."""
    fields, count = described(AirframePart), 0
    for row in listed:
        part = {
            name: _settled(fields[name], cell, unit)
            for (name, unit), cell in zip(columns, row.cells, strict=False)
            if name and cell
        }
        if part:
            count += 1
            yield part
        if count > MOST_ROWS:
            return


def _settled(each: Field, text: str, unit: str) -> str | bool:
    """Return a cell as the document has it: with its unit, a choice by its key, yes and no as what they mean."""
    if isinstance(each, FlagField):
        flag = flag_of(text)
        return text if flag is None else flag
    if isinstance(each, ChoiceField):
        words = {word.casefold(): key for key, word in each.words.items()}
        return words.get(text.casefold(), text)
    return f"{text} {unit}" if isinstance(each, QuantityField) and unit and is_bare_number(text) else text
