"""Sheets of an Office Open XML workbook (ECMA-376, part 1, chapter 18: SpreadsheetML).

Read are the rows and cells of each worksheet (18.3.1.4 `c`, 18.18.11 `ST_CellType`), shared strings (18.4) and number
formats (18.8.30). A cell stands where its reference says (`r="D2"`); a formula is its stored result. No macro is run.
"""

import posixpath
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from calc.document.table import Filling, Table, refused
from calc.document.xlsxforms import Form, form, shown
from calc.document.zipped import Archive, Event, events, until, whole

_REFERENCE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_ESCAPED = re.compile(r"_x(?![dD][89a-fA-F])([0-9A-Fa-f]{4})_")
FURTHEST = 1_048_576  # rows that a sheet can have (18.3.1.73 and the programs’ limits)


@dataclass
class _Book:
    archive: Archive
    texts: list[str] = field(default_factory=list)
    forms: list[Form] = field(default_factory=list)
    from_1904: bool = False
    sheets: list[tuple[str, str]] = field(default_factory=list)  # name, part; hidden ones last


def sheets(archive: Archive) -> Iterator[Table]:
    """Yield each sheet with its filled rows, hidden sheets last.

    Raises
    ------
    BudgetError
        As `calc.document.zipped` and `calc.document.table`.
    """
    book = _book(archive)
    for name, part in book.sheets:
        yield _sheet(name, part, book)


def _related(archive: Archive, part: str) -> dict[str, tuple[str, str]]:
    """Return what a part refers to (ECMA-376, part 2, chapter 9): id -> (kind, part)."""
    folder, name = posixpath.split(part)
    listed = posixpath.join(folder, "_rels", f"{name}.rels")
    found = {}
    for event in events(archive.pieces(listed)) if listed in archive.names else ():
        if event.kind == "start" and event.name == "Relationship":
            target = event.attributes.get("Target", "")
            where = posixpath.normpath(posixpath.join("/", folder, target)).lstrip("/")
            found[event.attributes.get("Id", "")] = (event.attributes.get("Type", "").rpartition("/")[2], where)
    return found


def _book(archive: Archive) -> _Book:
    part = next((part for kind, part in _related(archive, "").values() if kind == "officeDocument"), "xl/workbook.xml")
    book, related = _Book(archive), _related(archive, part)
    hidden: list[tuple[str, str]] = []
    for event in events(archive.pieces(part)):
        if event.kind != "start":
            continue
        if event.name == "workbookPr":
            book.from_1904 = event.attributes.get("date1904", "") in ("1", "true")
        kind, where = related.get(event.attributes.get("id", ""), ("", ""))
        if event.name == "sheet" and kind == "worksheet":
            seen = event.attributes.get("state", "visible") == "visible"
            (book.sheets if seen else hidden).append((event.attributes.get("name", ""), where))
    book.sheets += hidden
    for kind, where in related.values():
        if kind == "sharedStrings":
            book.texts = _shared(events(archive.pieces(where)))
        elif kind == "styles":
            book.forms = _forms(events(archive.pieces(where)))
    return book


def _shared(at: Iterator[Event]) -> list[str]:
    return [_string(at, "si") for event in at if event.kind == "start" and event.name == "si"]


def _string(at: Iterator[Event], end: str) -> str:
    """Return a text with all its runs, up to the end of its element; how it is spoken (`rPh`) is left out."""
    found, inside, spoken = "", False, False
    for event in until(at, end):
        if event.kind == "text":
            found += event.name if inside and not spoken else ""
        elif event.name == "t":
            inside = event.kind == "start"
        elif event.name == "rPh":
            spoken = event.kind == "start"
    return _unescaped(found)


def _forms(at: Iterator[Event]) -> list[Form]:
    """Return the number format of each style of a cell."""
    codes: dict[int, str] = {}
    found, within = [], False
    for event in at:
        if event.name == "cellXfs" and event.kind != "text":
            within = event.kind == "start"
        elif event.kind == "start" and event.name == "numFmt":
            codes.setdefault(whole(event.attributes.get("numFmtId", ""), 0), event.attributes.get("formatCode", ""))
        elif event.kind == "start" and event.name == "xf" and within:
            number = whole(event.attributes.get("numFmtId", ""), 0)
            found.append(form(number, codes.get(number, "")))
    return found


def _sheet(name: str, part: str, book: _Book) -> Table:
    filling, number, bare = Filling(), 0, 0
    at = events(book.archive.pieces(part))
    for event in at:
        if event.kind == "start" and event.name == "row":
            number = whole(event.attributes.get("r", ""), number + 1)
            if number > FURTHEST:
                raise refused("workbook_damaged", what=f"it has a row {number}")
            cells, formulas = _row(at, book)
            filling.add(number, cells, hidden=event.attributes.get("hidden", "") in ("1", "true"))
            bare += formulas
    return filling.table(name, bare)


def _row(at: Iterator[Event], book: _Book) -> tuple[dict[int, str], int]:
    """Return the texts of a row by column, and how many of its formulas have no result."""
    cells: dict[int, str] = {}
    column = bare = 0
    for event in until(at, "row"):
        if event.kind == "start" and event.name == "c":
            column = _column(event.attributes.get("r", ""), column)
            cells[column], formula = _cell(event, at, book)
            bare += formula and not cells[column]
            column += 1
    return cells, bare


def _column(reference: str, next_one: int) -> int:
    """Return the column that a reference names, counted from 0; without one a cell follows the cell before it."""
    if not reference:
        return next_one
    found = _REFERENCE.fullmatch(reference)
    if found is None:
        raise refused("workbook_damaged", what=f"“{reference[:20]}” is no place of a cell")
    column = 0
    for letter in found[1]:
        column = 26 * column + ord(letter) - 64
    return column - 1


def _cell(start: Event, at: Iterator[Event], book: _Book) -> tuple[str, bool]:
    """Return the text of a cell, and whether a formula stands in it."""
    stored, formula, inside = "", False, False
    for event in until(at, "c"):
        if event.kind == "text":
            stored += event.name if inside else ""
        elif event.name == "v":
            inside = event.kind == "start"
        elif event.kind == "start" and event.name == "is":
            stored = _string(at, "is")
        formula = formula or (event.kind == "start" and event.name == "f")
    return _text(start, stored, book), formula


def _text(start: Event, stored: str, book: _Book) -> str:
    """Return what a cell stores as text, by its kind (18.18.11)."""
    kind = start.attributes.get("t", "n")
    if kind == "s" and stored:
        index = whole(stored.strip(), 0)
        if index >= len(book.texts):
            raise refused("workbook_damaged", what=f"it has no text number {index}")
        return book.texts[index].strip()
    if kind == "n" and stored:
        style = whole(start.attributes.get("s", ""), 0)
        return shown(stored.strip(), book.forms[style] if style < len(book.forms) else Form(), book.from_1904)
    if kind == "b":
        return {"1": "TRUE", "0": "FALSE"}.get(stored, stored)
    return (_unescaped(stored) if kind == "str" else stored).strip()


def _unescaped(text: str) -> str:
    """Return a text with its `_x000D_` as letters (22.9.2.19, ST_Xstring); halves of letters stay written out."""
    return _ESCAPED.sub(lambda code: chr(int(code[1], 16)), text)
