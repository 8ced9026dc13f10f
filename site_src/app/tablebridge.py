"""The part of the worker's door for tables: a pasted block, a CSV file or a workbook into gear or box; see `bridge`.

First `table_preview`, which changes nothing, then `table_take`; both get the same table and the visitor's assignment.
`box_table_preview` and `box_table_take` do the same for a box.
"""

import base64
import binascii
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from calc import wording
from calc.document import intake
from calc.document.blocks import BoxPart
from calc.document.boxtable import OF_MODEL, for_box, with_parts
from calc.document.columns import PSEUDO, Column, Layout
from calc.document.entries import KNOWN_BY
from calc.document.fields import described
from calc.document.gearfields import dimension, gear_fields, label_of
from calc.document.gearrows import UNSAID, Told
from calc.document.letters import plain
from calc.document.reading import shortened
from calc.document.systems import system_of
from calc.document.table import Row, letters, refused
from calc.document.tablewords import column_name, told, why
from calc.document.zipped import MOST_BYTES
from calc.errors import BudgetError
from site_src.app.given import letters_lost, mapping
from site_src.app.render import render
from site_src.app.sharebridge import added_told, sheets_told

SHOWN_ROWS = 6  # of the table, in the preview
TOLD_ROWS = 40  # sentences about rows; the rest as a number
HEADING_ROWS = 12  # rows that can be named as headings


def table_preview(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a table would come to in the gear of `document`, as data and as HTML; nothing is changed.

    `table` is `{"text": …}` or `{"data": base64 of a file}`, with `sheet` for one sheet of a workbook; `assignment` as
    `calc.document.intake.chosen_from` reads it.
    """
    found, warned = _found(params)
    shown = _shown(found, warned, _coming(mapping(params.get("document")), found))
    return {**shown, "html": render("table.html", {"table": shown})}


def table_take(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return `document` with the parts of a table in its gear, and all that is to be said of it; as `table_preview`."""
    document = mapping(params["document"])
    found, warned = _found(params)
    added = intake.gear_from_table(document, found)
    return {
        "document": added.document,
        "told": " ".join(filter(None, [added_told(added), warned])),
        "aside": _sentences(found.taken.aside),
        "doubts": _sentences(found.taken.doubts),
    }


def box_table_preview(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a table would come to in the box `document`, as `table_preview` does it for gear."""
    found, warned = _found(params)
    try:
        ready = for_box(mapping(params.get("document")), found)
        shown = _shown(ready.found, warned, _Coming(adds=len(ready.parts)), described(BoxPart))
    except BudgetError as error:
        coming = _Coming(problem=wording.problem(error.problems[0]))
        shown = _shown(found, warned, coming, described(BoxPart))
    return {**shown, "html": render("table.html", {"table": shown})}


def box_table_take(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the box `document` with the parts of a table behind its own, and the new `parts` by themselves."""
    box = mapping(params["document"])
    found, warned = _found(params)
    ready = for_box(box, found)
    count, taken = len(ready.parts), ready.found.taken
    said = f"{count} {'part is' if count == 1 else 'parts are'} added to the box."
    return {
        "document": with_parts(box, ready.parts),
        "parts": list(ready.parts),
        "told": " ".join(filter(None, [said, warned])),
        "aside": _sentences(taken.aside),
        "doubts": _sentences(taken.doubts),
    }


def _found(params: Mapping[str, Any]) -> tuple[intake.Preview, str]:
    given = mapping(params["table"])
    chosen, known = intake.chosen_from(params.get("assignment"))
    table = intake.opened(source_in(given), str(given.get("sheet") or ""))
    system = system_of(mapping(params.get("document")))
    return intake.preview(table, system, chosen, known), letters_lost(str(given.get("text", "")))


class _Coming(NamedTuple):
    """How many parts a table would bring, or why none; `aside`: cells that would find no place."""

    adds: int = 0
    problem: str = ""
    aside: tuple[str, ...] = ()


def _coming(document: Mapping[str, Any], found: intake.Preview) -> _Coming:
    try:
        added = intake.gear_from_table(document, found)
    except BudgetError as error:
        return _Coming(problem=wording.problem(error.problems[0]))
    left = added.cells_left
    cells = f"{'A cell is' if left == 1 else f'{left} cells are'} left aside: a budget has only one."
    sheets = (f"{sheets_told(added.sheets_left)}.",) if added.sheets_left else ()
    return _Coming(adds=added.parts + added.cell, aside=((cells,) if left else ()) + sheets)


def source_in(given: Mapping[str, Any]) -> str | bytes:
    """Return the text or the bytes of a table that the page sends, `text` or `data` in base64.

    Raises
    ------
    BudgetError
        code `file_too_large` or `no_text`.
    """
    if "data" not in given:
        return str(given.get("text", ""))
    data = str(given["data"])
    if len(data) > MOST_BYTES // 3 * 4 + 8:
        raise refused("file_too_large", most_mb=MOST_BYTES // 1_000_000)
    try:
        return base64.b64decode(data, validate=True)
    except (binascii.Error, ValueError) as error:
        raise refused("no_text") from error


def _shown(
    found: intake.Preview, warned: str, coming: _Coming, fields: Mapping[str, Any] | None = None
) -> dict[str, Any]:  # fmt: skip
    """Return a preview as plain data; the template shows the same. `fields` can be chosen, and a weighed mass."""
    table, layout, taken = found.table, found.layout, found.taken
    kept = {row.number for row in layout.rows}
    first = [row for row in table.rows if row.number in kept][:SHOWN_ROWS]
    said = [wording.sentence(problem.code, problem.facts) for problem in table.told]
    before = [row.number for row in layout.before]
    return {
        "sheet": plain(table.sheet[:60]),
        "sheets": [plain(name[:60]) for name in (table.sheet, *table.others)] if table.others else [],
        "told": [*said, *([f"Above the headings, left aside: {_numbers(before)}."] if before else [])]
        + ([warned] if warned else []),
        "headings": layout.headings[0].number if layout.headings else 0,
        "heading_rows": [_heading_row(row) for row in table.rows[:HEADING_ROWS]],
        "known_by": found.known if found.known in KNOWN_BY else UNSAID,
        "known_choices": list(KNOWN_BY),
        "fields": [{"value": name, "label": label_of(name)} for name in _choosable(fields)],
        "columns": [{**_column(column), "unsure": _is_unsure(column, layout)} for column in layout.columns],
        "rows": [
            {"number": row.number, "cells": [shortened(row.cell(column.at)) for column in layout.columns]}
            for row in first
        ],
        "more_rows": len(layout.rows) - len(first),
        "parts": len(taken.parts),
        "adds": coming.adds,
        "problem": coming.problem,
        "sure": not any(_is_unsure(column, layout) for column in layout.columns),
        "aside": [*coming.aside, *_sentences(taken.aside)],
        "doubts": _sentences(taken.doubts),
    }


def _choosable(fields: Mapping[str, Any] | None) -> list[str]:
    return [name for name in gear_fields() if fields is None or name in (*fields, "weighed")]


def _is_unsure(column: Column, layout: Layout) -> bool:
    """Return whether something stands in a column that goes nowhere, and is nothing that gear has no field for."""
    goes = column.field or column.why in (*PSEUDO, OF_MODEL)
    return not goes and any(row.cell(column.at) for row in layout.rows)


def _column(column: Column) -> dict[str, Any]:
    return {
        "at": column.at, "letter": letters(column.at), "heading": plain(column.heading[:60]),
        "name": column_name(column), "field": column.field, "label": label_of(column.field),
        "unit": plain(column.unit[:20]), "why": why(column), "quantity": bool(dimension(column.field)),
    }  # fmt: skip


def _numbers(rows: list[int]) -> str:
    return f"row {rows[0]}" if len(rows) == 1 else f"rows {rows[0]} to {rows[-1]}"


def _heading_row(row: Row) -> dict[str, Any]:
    filled = ", ".join(cell for cell in row.cells if cell)
    return {"number": row.number, "text": shortened(filled, 50)}


def _sentences(found: tuple[Told, ...]) -> list[str]:
    """Return what is said of rows, of many the first ones, and how many more there are."""
    more = len(found) - TOLD_ROWS
    return [*map(told, found[:TOLD_ROWS]), *([f"And {more} more of this kind."] if more > 0 else [])]


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "table_preview": table_preview,
    "table_take": table_take,
    "box_table_preview": box_table_preview,
    "box_table_take": box_table_take,
}
