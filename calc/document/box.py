"""The visitor's box of parts: read, written, as CSV, and its parts in and out of a budget.

A box is `{"format": 1, "name": …, "units": …, "parts": [{"kind": "servo", "name": …, "mass": "1.7 g", …}, …]}`;
quantities are texts as typed, as in a budget. CSV is RFC 4180 with a header row that names the unit of each column.
Semicolons or tabs between cells, decimal commas and a byte-order mark, as spreadsheets write them, are read, too.
"""

import csv
import io
import itertools
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from calc import units, wording
from calc.document.budget import BLOCKS, FORMAT, block_with_units, is_bare_number, read_part, shortened, system_of
from calc.document.fields import QuantityField, described
from calc.document.jsontext import loads
from calc.document.parts import BOX_KINDS, DRAW_KNOWN_BY, KNOWN_BY, BoxPart, Cell, GearRow
from calc.errors import BudgetError, Problem
from calc.vocabulary import Actuator

MOST_PARTS = 5000
LONGEST_BOX = 4_000_000  # characters
ACTUATORS: tuple[Literal["servo"], Literal["coil actuator"]] = ("servo", "coil actuator")
ROW_KEYS = ("kind", "name", "mass", "known_by", "draw", "draw_known_by", "busy_draw", "busy", "min_volts")
CELL_KEYS = ("name", "mass", "known_by", "capacity", "resistance", "cutoff", "series")
SUPPLY_KEYS = ("volts", "efficiency", "min_input")
FULL_V = 4.2  # of one cell: a converter that gives more steps up
# A spreadsheet takes a cell that begins so for a formula; so does one that parts cells at another sign than ours.
# An apostrophe goes before it, and one more before those that are there, so that reading takes off just what was put.
_RISKY = "=+\\-@\t\r\n\uff1d\uff0b\uff0d\uff20"
_BEGINS = r"(?:\A|(?<=[;,|\t\r\n]))"
_TO_ESCAPE = re.compile(rf"{_BEGINS}(?=['\s]*[{_RISKY}])")
_ESCAPED = re.compile(rf"{_BEGINS}'(?=['\s]*[{_RISKY}])")


@dataclass(frozen=True, kw_only=True)
class Boxed:
    """A part with its document; `problems` are its own. A part with problems is kept, and left out of every search."""

    part: BoxPart
    document: Mapping[str, Any]
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Box:
    """The parts in their order, and what is wrong with the box as a whole."""

    parts: tuple[Boxed, ...] = ()
    units: str = "metric"
    problems: tuple[Problem, ...] = ()

    @property
    def all_problems(self) -> tuple[Problem, ...]:
        """Everything wrong, in order."""
        return (*self.problems, *(problem for boxed in self.parts for problem in boxed.problems))


def called(part: GearRow | Cell | BoxPart) -> str:
    """Return what a part is called: its name, or its kind where that is left out or nothing but blanks.

    Examples
    --------
    >>> called(read_box({"parts": [{"kind": "servo", "name": "  "}]}).parts[0].part)
    'servo'
    """
    return part.name.value.strip() or ("cell" if isinstance(part, Cell) else str(part.kind.value))


def read_box(document: object, kind: type[BoxPart] = BoxPart) -> Box:
    """Return the box in a document of any shape; its parts are of `kind`.

    Examples
    --------
    >>> box = read_box({"parts": [{"kind": "servo", "mass": "1.7 g"}, {"kind": "anvil"}]})
    >>> len(box.parts), [problem.field for problem in box.all_problems]
    (2, ['parts.1.kind'])
    """
    if not isinstance(document, Mapping) or not isinstance(document.get("parts", []), list | tuple):
        return Box(problems=(Problem(field="", code="not_a_box"),))
    system = system_of(document)
    raw = document.get("parts", [])
    too_many = Problem(field="parts", code="too_many_parts", facts={"most": MOST_PARTS, "count": len(raw)})
    return Box(
        parts=tuple(_boxed(part, f"parts.{index}", system, kind) for index, part in enumerate(raw[:MOST_PARTS])),
        units=system or "metric",
        problems=(*_of_units(document, system), *((too_many,) if len(raw) > MOST_PARTS else ())),
    )


def _of_units(document: Mapping[str, Any], system: str) -> tuple[Problem, ...]:
    facts = {"typed": shortened(document.get("units")), "choices": ("metric", "imperial")}
    return () if system else (Problem(field="units", code="not_a_choice", facts=facts),)


def _boxed(raw: object, path: str, system: str, kind: type[BoxPart]) -> Boxed:
    part, problems = read_part(raw, path, system, kind)
    return Boxed(part=part, document=raw if isinstance(raw, Mapping) else {}, problems=problems)


def box_from_text(source: str) -> dict[str, Any]:
    """Return the document of a box in a file's text, JSON or CSV.

    Raises
    ------
    BudgetError
        With one problem: too large, too deep, not JSON; or CSV without a header that names a known column.
    """
    text = source.removeprefix("\ufeff")
    if text.lstrip()[:1] in ("{", "["):
        document = loads(text, LONGEST_BOX)
        if not isinstance(document, dict) or "parts" not in document:
            raise BudgetError((Problem(field="", code="not_a_box"),))
        return document
    return from_csv(text)


def take(document: Mapping[str, Any], part: Mapping[str, Any], path: str, system: str) -> dict[str, Any]:
    """Return a budget with a part of the box in a place: `gear.N` (N past the end: a new row) or `cell`.

    What the place itself says (station, count) stays. An actuator brings its strength into the surface, if there is
    one, a converter its figures into `supply`. `system` is the box's: its bare numbers get their units.
    """
    part = block_with_units(BoxPart, part, system)
    changed = dict(document)
    if path == "cell":
        kept = {"station": _block(document, "cell").get("station")}
        changed["cell"] = _only({**kept, **{key: part.get(key) for key in CELL_KEYS}})
        return changed
    index, rows = int(path.split(".")[1]), [*_rows(document)]
    old = rows[index] if index < len(rows) and isinstance(rows[index], Mapping) else {}
    kept = {key: item for key, item in old.items() if key in ("station", "count")}
    rows[index : index + 1] = [_only({**{key: part.get(key) for key in ROW_KEYS}, **kept})]
    changed["gear"] = rows
    if part.get("kind") in ACTUATORS and document.get("surface"):
        changed["surface"] = _with_actuator(_block(document, "surface"), part)
    if part.get("kind") == "supply":
        changed["supply"] = _supply(part, system)
    return changed


def _block(document: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    found = document.get(key)
    return found if isinstance(found, Mapping) else {}


def _rows(document: Mapping[str, Any]) -> list[Any]:
    rows = document.get("gear")
    return list(rows) if isinstance(rows, list | tuple) else []


def _only(block: Mapping[str, Any]) -> dict[str, Any]:
    """Return what is there of a block."""
    return {key: item for key, item in block.items() if item not in (None, "")}


def _with_actuator(surface: Mapping[str, Any], part: Mapping[str, Any]) -> dict[str, Any]:
    word: str = actuator_of(str(part.get("kind")), thrust=part.get("thrust") not in (None, ""))
    old = surface.get("actuator", "rotary servo")
    if part.get("torque") in (None, "") and part.get("thrust") in (None, ""):
        word = str(old) if part.get("kind") == "servo" and old != "coil actuator" else word
    kept = {key: item for key, item in surface.items() if key not in ("torque", "thrust")}
    return _only({**kept, "actuator": word, "torque": part.get("torque"), "thrust": part.get("thrust")})


def actuator_of(kind: str, *, thrust: bool) -> Actuator:
    """Return which actuator of a surface a part is: a servo with a rated thrust is a linear one.

    Examples
    --------
    >>> actuator_of("servo", thrust=True), actuator_of("servo", thrust=False)
    ('linear servo', 'rotary servo')
    """
    if kind == "coil actuator":
        return "coil actuator"
    return "linear servo" if thrust else "rotary servo"


def _supply(part: Mapping[str, Any], system: str) -> dict[str, Any]:
    volts = read_part(part, "", system)[0].volts
    kind = "up" if volts is None or volts.value > FULL_V else "down"
    return _only({"kind": kind, **{key: part.get(key) for key in SUPPLY_KEYS}})


def put_back(document: Mapping[str, Any], path: str) -> dict[str, Any]:
    """Return a gear row or the cell of a budget as a part for the box, with its weighed mass if it has one."""
    system = system_of(document)
    if path == "cell":
        block = {**_block(document, "cell"), "kind": "cell"}
    else:
        index, rows = int(path.split(".")[1]), _rows(document)
        block = dict(rows[index]) if index < len(rows) and isinstance(rows[index], Mapping) else {}
    if block.get("weighed") not in (None, ""):
        block.update(mass=block["weighed"], known_by="weighed")
    if block.get("kind") in ACTUATORS:
        surface = block_with_units(BLOCKS["surface"], _block(document, "surface"), system)
        block.update({key: surface[key] for key in ("torque", "thrust") if key in surface})
    if block.get("kind") == "supply":
        block.update({key: item for key, item in _block(document, "supply").items() if key in SUPPLY_KEYS})
    part = _only({key: block.get(key) for key in described(BoxPart)})
    written = block_with_units(BoxPart, part, system)
    assert isinstance(written, dict)
    return written


def to_csv(document: Mapping[str, Any], kind: type[BoxPart] = BoxPart) -> str:
    """Return a box as CSV: RFC 4180, units in the header, and no cell that a spreadsheet would take for a formula.

    A quantity that cannot be read goes out as it was typed.
    """
    box = read_box(_with_units_told(document), kind)
    fields = described(kind)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([_heading(name, each, box.units) for name, each in fields.items()])
    for boxed in box.parts:
        writer.writerow([_cell(boxed, name, each, box.units) for name, each in fields.items()])
    return out.getvalue()


def _with_units_told(document: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return a box whose bare numbers will not take the unit of a heading, if its own system cannot be read."""
    parts = document.get("parts")
    if system_of(document) or not isinstance(parts, list | tuple):
        return document
    return {**document, "parts": [block_with_units(BoxPart, part, "") for part in parts[:MOST_PARTS]]}


def _heading(name: str, each: Any, system: str) -> str:
    label = wording.LABELS[f"box.{name}"]
    return f"{label} [{units.default_unit(each.dimension, system)}]" if isinstance(each, QuantityField) else label


def _cell(boxed: Boxed, name: str, each: Any, system: str) -> str:
    entry = getattr(boxed.part, name)
    raw = boxed.document.get(name)
    if isinstance(each, QuantityField) and entry is not None and entry.typed is not None:
        number = units.from_si(entry.value, units.default_unit(each.dimension, system), each.dimension)
        return f"{number:.12g}"
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
    rows = _csv_rows(text)
    header = [cell.strip() for cell in next(rows, [])]
    names = tuple(described(kind))
    columns = [_column(cell, names) for cell in header]
    if not any(name in ("kind", "name", "mass") for name, _ in columns):
        raise BudgetError((Problem(field="", code="no_header", facts={"labels": ", ".join(_labels(names))}),))
    parts = [_part(columns, row) for row in _counted(rows, most)]
    ignored = [cell for cell, (name, _) in zip(header, columns, strict=True) if not name and cell]
    document: dict[str, Any] = {"format": FORMAT, "parts": parts}
    return {**document, "ignored": ignored} if ignored else document


def _counted(rows: Iterator[list[str]], most: int) -> list[list[str]]:
    """Return the rows with something in them, if they are not too many."""
    filled = (row for row in rows if any(cell.strip() for cell in row))
    found = list(itertools.islice(filled, most + 1))
    if len(found) > most:
        raise BudgetError((Problem(field="", code="too_many_in_file", facts={"most": most}),))
    return found


def _csv_rows(text: str) -> Iterator[list[str]]:
    first = text.split("\n", 1)[0]
    delimiter = max(";\t,", key=first.count)
    try:
        yield from csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    except csv.Error as error:
        raise BudgetError((Problem(field="", code="not_csv", facts={"what": str(error)}),)) from error


def _labels(names: Iterable[str]) -> Iterable[str]:
    return (wording.LABELS[f"box.{name}"] for name in names)


def _column(heading: str, names: Iterable[str]) -> tuple[str, str]:
    """Return the field that a heading names, "" for none, and the unit that it gives."""
    label, _, unit = heading.partition("[")
    wanted = label.strip().casefold()
    for name in names:
        if wanted in (name, name.replace("_", " "), wording.LABELS[f"box.{name}"].casefold()):
            return name, unit.rstrip(" ]").strip()
    return "", ""


def _part(columns: list[tuple[str, str]], row: list[str]) -> dict[str, Any]:
    part: dict[str, Any] = {}
    for (name, unit), cell in zip(columns, row, strict=False):
        text = unescaped(cell.strip())
        if name and text:
            part[name] = f"{text} {unit}" if unit and is_bare_number(text) else _settled(name, text)
    return part


def _settled(name: str, text: str) -> str:
    """Return a word as the box spells it, whatever its capitals."""
    words = {"kind": BOX_KINDS, "known_by": KNOWN_BY, "draw_known_by": DRAW_KNOWN_BY}.get(name, ())
    return next((word for word in words if word == text.casefold()), text)
