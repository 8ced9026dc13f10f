"""Which column of a table is which field of the gear: by its heading, by what is in it, or as the visitor says.

Nothing is changed here. A `Layout` says of each column what it was taken for and why, so that it can be shown first.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from calc import units
from calc.document import cells
from calc.document.gearfields import dimension, gear_fields, is_called
from calc.document.headings import NOTES, NUMBER, TOTAL, UNIT, folded, named
from calc.document.table import Row, Table

TITLE_ROWS = 12  # among which the headings are looked for
LONGEST_HEADING = 80  # letters that are looked at
SAMPLE = 200  # rows by which a column is judged
PSEUDO = (NUMBER, UNIT, TOTAL, NOTES)
HARMLESS = frozenset(["approx", "about", "ca", "est", "each", "one", "planned", "estimated", "optional", "nominal"])


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column; `field` is "" where it is left aside. `why`: a key of `calc.document.tablewords.WHY`."""

    at: int  # from 0
    heading: str = ""
    field: str = ""
    unit: str = ""  # that its bare numbers take; as written, so that one nobody knows is told
    why: str = "no_field"


@dataclass(frozen=True, kw_only=True)
class Chosen:
    """What the visitor says of a table; what is not said is found out."""

    fields: Mapping[int, str] = field(default_factory=dict)  # column -> field, "" to leave it aside
    units: Mapping[int, str] = field(default_factory=dict)
    headings: int | None = None  # the row's number; 0: there are none


@dataclass(frozen=True, kw_only=True)
class Layout:
    """The columns, the rows that hold parts, and the rows that are headings, titles before them or units below them."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    headings: tuple[Row, ...] = ()
    before: tuple[Row, ...] = ()

    def column(self, name: str) -> Column | None:
        """Return the column of a field, None where there is none."""
        return next((column for column in self.columns if column.field == name), None)


def laid_out(table: Table, chosen: Chosen | None = None) -> Layout:
    r"""Return which column of a table is what; the visitor's word goes before what is found out.

    Examples
    --------
    >>> from calc.document.table import from_text
    >>> found = laid_out(from_text("Gewicht (g);Typ;Bauteil\n1,7;Servo;links\n1,1;Empfänger;klein"))
    >>> [(column.field, column.unit) for column in found.columns]
    [('mass', 'g'), ('kind', ''), ('name', '')]
    """
    chosen = chosen or Chosen()
    at, deep, header = _heading(table, chosen.headings)
    first = 0 if at is None else at + deep
    rows = table.rows[first:]
    units_row = rows[0] if at is not None and rows and _holds_units(rows[0], header) else None
    rows = rows[1:] if units_row else rows
    width = max(table.width, len(header))
    header = tuple(header[column] if column < len(header) else "" for column in range(width))
    columns = by_heading(header, rows) if at is not None else _by_contents(rows, width)
    if units_row:
        columns = tuple(_with_unit(column, units_row.cell(column.at)) for column in columns)
    return Layout(
        columns=tuple(_as_chosen(column, chosen) for column in _without(columns, chosen)),
        rows=rows,
        headings=() if at is None else (*table.rows[at:first], *([units_row] if units_row else [])),
        before=table.rows[: at or 0],
    )


def _without(columns: Iterable[Column], chosen: Chosen) -> Iterable[Column]:
    """Yield the columns without a field that the visitor gives to another one."""
    given = {name for name in chosen.fields.values() if name}
    for column in columns:
        taken = column.field in given and chosen.fields.get(column.at) != column.field
        yield replace(column, field="", why="taken") if taken else column


def _as_chosen(column: Column, chosen: Chosen) -> Column:
    if column.at in chosen.fields and (chosen.fields[column.at] != column.field or column.why == "taken"):
        name = chosen.fields[column.at]
        unit = column.unit or next((unit for _, unit in _parts(column.heading, name)), "")
        first = min(at for at, each in chosen.fields.items() if each == name)
        taken = bool(name) and first != column.at
        column = replace(column, field="" if taken else name, unit=unit, why="taken" if taken else "yours")
    return replace(column, unit=chosen.units[column.at]) if column.at in chosen.units else column


def _heading(table: Table, told: int | None) -> tuple[int | None, int, tuple[str, ...]]:
    """Return where the headings stand among the rows, over how many rows, and their texts; None for no headings."""
    rows = table.rows
    if told is not None:
        at = next((at for at, row in enumerate(rows) if row.number == told), None)
        return (at, 1, rows[at].cells) if at is not None else (None, 0, ())
    best: tuple[int, int | None, int, tuple[str, ...]] = (0, None, 0, ())
    for at, row in enumerate(rows[:TITLE_ROWS]):
        score = _score(row, first=at == 0)
        if score > best[0]:
            best = (score, at, 1, row.cells)
        merged = _merged(row, rows[at + 1]) if score and at + 1 < len(rows) else None
        if merged is not None and (more := _score(replace(row, cells=merged))) > max(best[0], 1):
            best = (more, at, 2, merged)
    return best[1], best[2], best[3]


def is_heading(rows: Sequence[Row]) -> bool:
    """Return whether a sheet of these rows has headings that are known."""
    return _heading(Table(rows=tuple(rows)), None)[0] is not None


def _score(row: Row, *, first: bool = False) -> int:
    """Return how many cells of a row are known headings; 0 where it rather is a part."""
    filled = [cell for cell in row.cells if cell]
    found = [fields[0] for cell in filled if (fields := _candidates(cell))]
    real = [name for name in found if name not in PSEUDO]
    if any(cells.is_quantity(cell) for cell in filled) or not real:
        return 0
    alone = first and real[0] in ("name", "kind", "mass", "weighed")
    return len(found) if len(found) > 1 or alone else 0


def _merged(row: Row, below: Row) -> tuple[str, ...] | None:
    """Return headings over two rows as one, where the upper ones stand over several columns; None if they do not."""
    if any(re.search("[0-9]", cell) for cell in below.cells):
        return None
    found, over, spread = [], "", False
    for at in range(max(len(row.cells), len(below.cells))):
        upper, lower = row.cell(at), below.cell(at)
        over = upper or (over if lower else "")
        spread = spread or bool(lower and not upper and over)
        joined = f"{over} {lower}".strip()
        found.append(next((each for each in (joined, lower, upper) if each and _candidates(each)), joined))
    return tuple(found) if spread else None


def _holds_units(row: Row, header: Sequence[str]) -> bool:
    """Return whether a row below the headings has nothing but units, at least one of them its column's."""
    filled = [(at, cells.bare_unit(cell)) for at, cell in enumerate(row.cells) if cell.strip(" -–")]
    if not filled or not all(cells.is_unit(cell) for _, cell in filled):
        return False
    of = [(cell, _candidates(header[at])) for at, cell in filled if at < len(header)]
    return any(units.unit_label(cell, dimension(names[0])) for cell, names in of if names and dimension(names[0]))


def _with_unit(column: Column, cell: str) -> Column:
    unit = cells.bare_unit(cell)
    fits = unit and dimension(column.field) and not column.unit
    return replace(column, unit=unit) if fits else column


_BRACKETS = re.compile(r"(.*?)\s*[\[(]\s*([^\])]*?)\s*[\])]?\s*")
_LAST = re.compile(r"(.*?[^\s/,;:_-])(?:\s+in\s+|\s*[/,;:_-]\s*|\s+)(\S+)")


def _parts(heading: str, name: str) -> list[tuple[str, str]]:
    """Return the words of a heading and the unit that it gives for a field, if it gives one."""
    heading = heading[:LONGEST_HEADING]
    found = _BRACKETS.fullmatch(heading)
    if found is not None:
        told = found[2] if folded(found[2]) not in HARMLESS else ""
        return [(found[1], told if dimension(name) else "")]
    last = _LAST.fullmatch(heading)
    if last is not None and dimension(name) and units.unit_label(last[2], dimension(name)):
        return [(last[1], last[2])]
    return []


def _is_own(heading: str, name: str) -> bool:
    """Return whether a heading is what our own CSV calls a field, with its unit in brackets or without."""
    bracketed = _BRACKETS.fullmatch(heading[:LONGEST_HEADING])
    return is_called(heading, name) or (bracketed is not None and is_called(bracketed[1], name))


def _candidates(heading: str) -> tuple[str, ...]:
    """Return the fields that a heading may name, in their order."""
    heading = heading[:LONGEST_HEADING]
    for name in gear_fields():
        if _is_own(heading, name):
            return (name,)
    bracketed = _BRACKETS.fullmatch(heading)
    words = [heading, *(found[1] for found in (bracketed, _LAST.fullmatch(heading)) if found)]
    for each in words[:2]:
        if known := tuple(name for name in named(each) if each == heading or _fits_heading(heading, name)):
            return known
    return tuple(name for name in ("mass", "draw", "capacity") if units.unit_label(heading, dimension(name)))


def _fits_heading(heading: str, name: str) -> bool:
    return bool(_parts(heading, name)) or _BRACKETS.fullmatch(heading) is not None


def by_heading(header: Sequence[str], rows: Sequence[Row], names: Iterable[str] = ()) -> tuple[Column, ...]:
    """Return the columns under headings; with `names`, of those fields alone. What two of them name is the first one's.

    Where a heading can mean several fields, the first that fits what is in the column is taken.
    """
    found: list[Column] = []
    barred = set(gear_fields()) - set(names) if names else set()
    taken = set(barred)
    for at, heading in enumerate(header):
        sample = [cell for row in rows[:SAMPLE] if (cell := row.cell(at)) and cell != heading]
        name, why = _settled(heading, sample, taken)
        unit = next((unit for _, unit in _parts(heading, name)), "") if name else ""
        if not unit and name and units.unit_label(heading, dimension(name)):
            unit = heading
        found.append(Column(at=at, heading=heading, field=name, unit=unit, why=why))
        taken.add(name)
    return _spare(found, rows, barred)


def _settled(heading: str, sample: Sequence[str], taken: set[str]) -> tuple[str, str]:
    """Return the field that a heading names, and the reason."""
    names = _candidates(heading)
    if not names:
        return "", "no_field" if heading else "no_heading"
    free = [name for name in names if name not in taken]
    if not free:
        return "", "taken"
    exact = _is_own(heading, free[0])
    fitting = [name for name in free if cells.fits(name, dimension(name), sample)]
    if exact or fitting or free[0] not in cells.STRICT:
        name = free[0] if exact or not fitting else fitting[0]
        return ("", name) if name in PSEUDO else (name, "heading")
    return "", "unfit"


def _spare(columns: list[Column], rows: Sequence[Row], barred: set[str]) -> tuple[Column, ...]:
    """Give name and mass to a column that was left aside, where no other has them and it will do."""
    have = barred | {column.field for column in columns}
    for index, column in enumerate(columns):
        if column.why == "unfit" and "name" not in have and "kind" in _candidates(column.heading):
            columns[index] = replace(column, field="name", why="kind_as_name")
            have.add("name")
        counted = next((other.at for other in columns if other.field == "count"), None)
        several = counted is not None and any(row.cell(counted).strip() not in ("", "1") for row in rows)
        if column.why == TOTAL and not have & {"mass", "weighed"} and not several:
            unit = next((unit for _, unit in _parts(column.heading, "mass")), "")
            columns[index] = replace(column, field="mass", unit=unit, why="only_total")
            have.add("mass")
    return tuple(columns)


def _by_contents(rows: Sequence[Row], width: int) -> tuple[Column, ...]:
    """Return a guess where there are no headings."""
    samples = [[cell for row in rows[:SAMPLE] if (cell := row.cell(at))] for at in range(width)]
    found: list[Column] = []
    taken: set[str] = set()
    texts = sum("name" in cells.guesses(sample) for sample in samples)
    for at, sample in enumerate(samples):
        if texts == 1 and "name" in cells.guesses(sample):  # the only words there are: a part is called so
            found.append(Column(at=at, field="name", why="contents"))
            continue
        name = next((name for name in cells.guesses(sample) if name not in taken), "")
        name = "" if name == "count" and not _has_mass(samples[at + 1 :], taken) else name
        why = (name if name in PSEUDO else "contents") if name else ("unclear" if sample else "no_heading")
        if name == "" and sample and "mass" not in taken and "mass" in cells.guesses(sample):
            name, why = "mass", "contents"
        taken.add(name)
        found.append(Column(at=at, field="" if name in PSEUDO else name, why=why))
    return tuple(found)


def _has_mass(samples: Iterable[Sequence[str]], taken: set[str]) -> bool:
    return "mass" in taken or any("mass" in cells.guesses(sample) for sample in samples)
