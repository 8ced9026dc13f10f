"""A pasted block, a CSV file or a workbook to a table of cells, and a table into the gear of a budget.

First a `Preview`: what each column was taken for, what would come in, what would be left aside; nothing is changed.
Then `gear_from_table`. The visitor's own assignment of columns goes into both.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from calc.document import ods, xlsx
from calc.document.boxfile import unescaped
from calc.document.columns import Chosen, Layout, is_heading, laid_out
from calc.document.gearcsv import Added, add_parts
from calc.document.gearfields import gear_fields
from calc.document.gearrows import UNSAID, Taken, rows
from calc.document.headings import UNIT
from calc.document.letters import plain
from calc.document.table import Row, Table, from_text, letters, refused
from calc.document.zipped import Archive
from calc.errors import BudgetError, Problem

ZIP, OLD = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
WIDE = {b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}
BOUNDS = frozenset(["too_large", "too_many_in_file", "table_too_wide", "table_repeats"])


@dataclass(frozen=True, kw_only=True)
class Preview:
    """What a table would come to: `taken` as it would go into the gear."""

    table: Table
    layout: Layout
    taken: Taken
    chosen: Chosen
    known: str


Headed = Callable[[Sequence[Row]], bool]


def opened(source: str | bytes, sheet: str = "", headed: Headed = is_heading) -> Table:
    r"""Return the table in a text or in the bytes of a file; of a workbook the named sheet.

    Without a name it is the first sheet with known headings (`headed` says so of its rows), else the first with
    anything in it; which one is told.

    Raises
    ------
    BudgetError
        With one problem, for a file that cannot be read or goes over the limits.

    Examples
    --------
    >>> opened("Servo\t1.7 g").rows[0].cells
    ('Servo', '1.7 g')
    """
    if isinstance(source, bytes) and source.startswith(ZIP):
        table = _sheet(_sheets(Archive(source)), sheet, headed)
    else:
        table = from_text(source, unescaped) if isinstance(source, str) else _decoded(source)
    if not table.rows:
        raise refused("no_table")
    return table


def _decoded(data: bytes) -> Table:
    if data.startswith(OLD):
        raise refused("workbook_old")
    coding = WIDE.get(data[:2], "utf-8-sig")
    try:
        return from_text(data.decode(coding), unescaped)
    except UnicodeDecodeError as error:
        if b"\0" in data:
            raise refused("no_text") from error
    table = from_text(data.decode("cp1252", "replace"), unescaped)
    return replace(table, told=(*table.told, Problem(field="", code="not_utf8")))


def _sheets(archive: Archive) -> Iterator[Table]:
    if ods.CONTENT in archive.names:
        return ods.sheets(archive)
    if "[Content_Types].xml" in archive.names:
        return xlsx.sheets(archive)
    raise refused("no_workbook")


def _sheet(tables: Iterator[Table], name: str, headed: Headed) -> Table:
    """Return one sheet of a workbook, with the names of the others."""
    found: Table | None = None
    names: list[str] = []
    sure = False
    try:
        for table in tables:
            names.append(table.sheet)
            good = name in (table.sheet, plain(table.sheet[:60])) if name else headed(table.rows)
            if not sure and (good or ((found is None or not found.rows) and not name)):
                found, sure = table, good
    except BudgetError as error:
        if not sure or error.problems[0].code not in BOUNDS:  # a sheet behind the one that is wanted may be anything
            raise
    if found is None:
        raise refused("no_sheet", sheet=name[:60]) if name else refused("no_table")
    others = tuple(each for each in names if each != found.sheet)
    listed = ", ".join(f"“{each[:40]}”" for each in others[:8])
    told = [Problem(field="", code="table_sheets", facts={"sheet": found.sheet[:40], "others": listed})]
    return replace(found, others=others, told=(*(told if others else ()), *found.told))


def preview(table: Table, system: str = "metric", chosen: Chosen | None = None, known: str = UNSAID) -> Preview:
    """Return what a table would come to; `chosen` and `known` as the visitor says."""
    chosen = chosen or Chosen()
    layout = laid_out(table, chosen)
    return Preview(
        table=table, layout=layout, taken=rows(layout, system or "metric", known), chosen=chosen, known=known
    )  # fmt: skip


def gear_from_table(document: Mapping[str, Any], found: Preview) -> Added:
    """Return a budget with the parts of a table added to its gear, as `calc.document.gearcsv.add_parts` does it.

    Raises
    ------
    BudgetError
        code `no_room`: more parts than rows are left.
    """
    aside = (column for column in found.layout.columns if not column.field and column.why != UNIT)
    filled = {at for row in found.layout.rows for at, cell in enumerate(row.cells) if cell}
    names = (column.heading or letters(column.at) for column in aside if column.at in filled)
    return add_parts(document, found.taken.parts, tuple(names))


def chosen_from(raw: object) -> tuple[Chosen, str]:
    """Return the visitor's assignment, and how masses are known, out of what a page sends.

    `{"fields": {"0": "mass", "2": ""}, "units": {"0": "oz"}, "headings": 3, "known_by": "maker"}`, each as far as it
    was said; what makes no sense counts as not said.

    Examples
    --------
    >>> chosen_from({"fields": {"0": "mass", "1": "colour", "x": "name"}, "headings": "0", "known_by": "maker"})
    (Chosen(fields={0: 'mass'}, units={}, headings=0), 'maker')
    """
    said = raw if isinstance(raw, Mapping) else {}
    fields = {at: name for at, name in _by_column(said.get("fields")) if name == "" or name in gear_fields()}
    headings = str(said.get("headings", ""))
    return Chosen(
        fields=fields,
        units={at: unit.strip()[:20] for at, unit in _by_column(said.get("units"))},
        headings=int(headings) if headings.isascii() and headings.isdigit() and len(headings) < 8 else None,
    ), str(said.get("known_by") or UNSAID)


def _by_column(raw: object) -> Iterator[tuple[int, str]]:
    for at, text in raw.items() if isinstance(raw, Mapping) else ():
        if str(at).isascii() and str(at).isdigit() and len(str(at)) < 4 and isinstance(text, str):
            yield int(at), text
