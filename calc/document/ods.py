"""Sheets of an OpenDocument spreadsheet (ISO/IEC 26300; OASIS OpenDocument 1.3, part 3, chapter 9).

Read are `table:table`, its rows and cells with their repeats and stored values (`office:value-type`, section 19.387),
and paragraphs of text; no formula, macro, picture or comment.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from calc.document.table import MOST_COLUMNS, MOST_ROWS, Filling, Table, number_text, refused, with_shown_unit
from calc.document.zipped import Archive, Event, events, until, whole

CONTENT = "content.xml"
MANIFEST = "META-INF/manifest.xml"
CELLS = ("table-cell", "covered-table-cell")
BLANKS = {"tab": "\t", "line-break": "\n"}


@dataclass
class _Cell:
    attributes: Mapping[str, str]
    paragraphs: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """The cell as text: its stored value with the unit it is shown with; else what it shows."""
        shown = "\n".join(self.paragraphs).strip()
        kind, stored = self.attributes.get("value-type", ""), self.attributes.get("value", "")
        if kind in ("float", "currency") and stored:
            return with_shown_unit(number_text(stored), shown)
        if kind == "percentage" and stored:
            return f"{number_text(_hundredfold(stored))} %"
        if kind == "date":
            return self.attributes.get("date-value", shown).removesuffix("T00:00:00")
        return shown or self.attributes.get("string-value", "").strip()


def _hundredfold(stored: str) -> str:
    try:
        return f"{100.0 * float(stored):.12g}"
    except ValueError:
        return stored


def sheets(archive: Archive) -> Iterator[Table]:
    """Yield each sheet with its filled rows.

    Raises
    ------
    BudgetError
        code `table_repeats`: a text is to stand in more cells than a table takes; `workbook_locked`; else as
        `calc.document.zipped`.
    """
    if MANIFEST in archive.names:
        for event in events(archive.pieces(MANIFEST)):
            if event.kind == "start" and event.name == "encryption-data":
                raise refused("workbook_locked")
    at = events(archive.pieces(CONTENT))
    for event in at:
        if event.kind == "start" and event.name == "table":
            yield _sheet(event.attributes.get("name", ""), at)


def _sheet(name: str, at: Iterator[Event]) -> Table:
    filling, number, depth, bare = Filling(), 1, 1, 0
    while True:
        event = next(at)  # until the table ends, which in well-formed XML it does
        if event.name == "table":
            depth += {"start": 1, "end": -1}.get(event.kind, 0)
            if not depth:
                break
        elif depth == 1 and event.kind == "start" and event.name == "table-row":
            repeat = whole(event.attributes.get("number-rows-repeated", ""), 1)
            cells, formulas = _row(at, number)
            hidden = event.attributes.get("visibility", "visible") != "visible"
            if repeat > 1 and any(cells.values()):
                _fair(repeat, number)
            filling.add(number, cells, repeat=repeat, hidden=hidden)
            number, bare = number + repeat, bare + formulas
    return filling.table(name, bare)


def _fair(repeat: int, number: int) -> None:
    if repeat > MOST_ROWS:
        raise refused("table_repeats", row=number, count=repeat)


def _row(at: Iterator[Event], number: int) -> tuple[dict[int, str], int]:
    """Return the texts of a row by column, and how many of its formulas have no result."""
    cells: dict[int, str] = {}
    column = bare = 0
    for event in until(at, "table-row"):
        if event.kind == "start" and event.name in CELLS:
            repeat = whole(event.attributes.get("number-columns-repeated", ""), 1)
            text = _cell(event, at).text
            bare += not text and "formula" in event.attributes
            if text and repeat > 1 and column + repeat > MOST_COLUMNS:
                raise refused("table_repeats", row=number, count=repeat)
            cells.update({column + each: text for each in range(repeat if text else 0)})
            column += repeat
    return cells, bare


def _cell(start: Event, at: Iterator[Event]) -> _Cell:
    """Return a cell with its paragraphs; what hangs on it (comments, pictures, tables within) is passed over."""
    cell, aside, inside = _Cell(start.attributes), 0, False
    while True:
        event = next(at)
        if event.kind == "end" and not aside and event.name in CELLS:
            break
        if aside or (event.kind == "start" and _hangs(event)):
            aside += {"start": 1, "end": -1}.get(event.kind, 0)
        elif event.kind != "text" and event.name == "p":
            inside = event.kind == "start"
            cell.paragraphs += [""] * inside
        elif inside:
            cell.paragraphs[-1] += _letters(event)
    return cell


def _letters(event: Event) -> str:
    if event.kind == "text":
        return event.name
    if event.kind == "start" and event.name == "s":
        return " " * min(whole(event.attributes.get("c", ""), 1), 80)
    return BLANKS.get(event.name, "") if event.kind == "start" else ""


def _hangs(event: Event) -> bool:
    return event.name in ("annotation", "table", "note") or ":drawing:" in event.space
