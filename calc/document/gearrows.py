"""Rows of a table as rows of gear: texts as typed, with their unit; and all that was left aside, or is in doubt.

No part becomes lighter or better known on the way. A mass of which nobody says how it is known is a guess; a word that
is no kind is told and the part counts as another kind; a cell that cannot be read stays as it was typed, so that the
budget names it.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from dataclasses import field as with_default
from typing import Any, TypeVar

from calc import units
from calc.document import cells, gearwords
from calc.document.columns import Column, Layout
from calc.document.entries import KNOWN_BY
from calc.document.fields import FieldRefusedError, FlagField
from calc.document.gearfields import dimension, gear_fields
from calc.document.headings import UNIT, folded
from calc.document.reading import shortened
from calc.document.table import Row
from calc.errors import QuantityError

Read = TypeVar("Read", str, str | bool)
UNSAID = "guess"  # how a mass is known of which nobody says it
SUM_WITHIN = 0.005  # of the sum of the rows above: a nameless last row is that sum
_SEVERAL = re.compile(r"([2-9]|[1-9][0-9])\s*[x×]\s", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Told:
    """Something to say of a row, a column or all; `code` is a key of `calc.document.tablewords.TOLD`."""

    code: str
    row: int = 0  # 0: no single one
    facts: Mapping[str, Any] = with_default(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Taken:
    """The parts as documents of gear rows; `aside`: what was left out; `doubts`: what came in and asks for a look."""

    parts: tuple[dict[str, Any], ...]
    aside: tuple[Told, ...]
    doubts: tuple[Told, ...]


def rows(layout: Layout, system: str = "metric", known: str = UNSAID) -> Taken:
    r"""Return the gear in a table that is laid out; `known` says how masses are known where the table does not.

    Examples
    --------
    >>> from calc.document.columns import laid_out
    >>> from calc.document.table import from_text
    >>> taken = rows(laid_out(from_text("Part;Weight [oz];Type\nA;0.06;Servo\nB;0.04;LiPo\nTotal;0.1;")))
    >>> [(part["name"], part["mass"], part["kind"], part["known_by"]) for part in taken.parts]
    [('A', '0.06 oz', 'servo', 'guess'), ('B', '0.04 oz', 'cell', 'guess')]
    >>> [(told.row, told.code) for told in taken.aside]
    [(4, 'total')]
    """
    taking = _Taking(layout, system, known if known in KNOWN_BY else UNSAID)
    for index, row in enumerate(layout.rows):
        taking.take(row, last=index == len(layout.rows) - 1)
    doubts = [*taking.overall(), *taking.doubts]
    return Taken(parts=tuple(taking.parts), aside=tuple(taking.aside), doubts=tuple(doubts))


class _Taking:
    """Takes row after row, and notes what is to be said."""

    def __init__(self, layout: Layout, system: str, known: str) -> None:
        self.system, self.known = system, known
        self.layout = layout
        self.columns = [column for column in layout.columns if column.field]
        self.units_at = next((column.at for column in layout.columns if column.why == UNIT), None)
        self.shares = {column.at for column in self.columns if self._holds_shares(column)}
        self.parts: list[dict[str, Any]] = []
        self.aside: list[Told] = []
        self.doubts: list[Told] = []
        self.kg = 0.0  # of the parts so far
        self.unsaid = self.bare = self.grams = 0

    def _holds_shares(self, column: Column) -> bool:
        """Return whether the bare numbers of a percentage are all shares of one, as spreadsheets store them."""
        if dimension(column.field) != "ratio" or column.unit:
            return False
        said = [cell for row in self.layout.rows if units.is_bare(cell := row.cell(column.at))]
        return bool(said) and all(_number(cell, "ratio") <= 0.01 for cell in said)

    def take(self, row: Row, *, last: bool) -> None:
        """Take a row, or say why not."""
        code = self._no_part(row)
        if code:
            self.aside.append(Told(code=code, row=row.number, facts={"typed": shortened(_first(row))}))
            return
        part: dict[str, Any] = {}
        for column in self.columns:
            cell = row.cell(column.at)
            if cell and (column.field == "name" or not cells.is_nothing(cell)):
                part.update(self._entry(column, cell, row))
        kg = self._kg(part)
        if last and not part.get("name") and not part.get("kind") and self.parts and _close(kg, self.kg):
            facts = {"typed": shortened(part.get("weighed", part.get("mass", "")))}
            self.aside.append(Told(code="looks_total", row=row.number, facts=facts))
            return
        self.kg += kg
        self._settle(part, row)
        self.parts.append({name: part[name] for name in gear_fields() if name in part})

    def _no_part(self, row: Row) -> str:
        """Return why a row is no part, "" where it is one."""
        if any(row.cells == heading.cells for heading in self.layout.headings):
            return "heading_again"
        words = [row.cell(column.at) for column in self.columns if column.field in ("name", "kind")]
        if any(gearwords.is_total(word) for word in (*words, _first(row))):
            return "total"
        said = any(not cells.is_nothing(row.cell(column.at)) for column in self.columns)
        return "" if said else "nothing_taken"

    def _entry(self, column: Column, cell: str, row: Row) -> dict[str, Any]:
        """Return what a cell says of its part."""
        name = column.field
        if dimension(name):
            return {name: self._quantity(column, cell, row)}
        if name in ("count", "series"):
            return {name: self._read(name, cells.count_of(cell) or cell, row)}
        if name == "kind":
            return self._kind(cell, row)
        if name in ("known_by", "draw_known_by"):
            found = gearwords.known_by(cell)
            if not found:
                self.doubts.append(Told(code="no_known_by", row=row.number, facts={"typed": shortened(cell)}))
            measured = "measured" if name == "draw_known_by" else "weighed"
            return {name: (found or UNSAID).replace("weighed", measured)}
        if isinstance(gear_fields()[name], FlagField):
            flag = gearwords.flag_of(cell)
            return {name: self._read(name, cell if flag is None else flag, row)}
        if (several := _SEVERAL.match(cell)) and self.layout.column("count") is None:
            facts = {"count": several[1], "typed": shortened(cell)}
            self.doubts.append(Told(code="several", row=row.number, facts=facts))
        return {name: cell}

    def _kind(self, cell: str, row: Row) -> dict[str, Any]:
        found = gearwords.kind_of(cell)
        if found:
            return {"kind": found}
        self.doubts.append(Told(code="no_kind", row=row.number, facts={"typed": shortened(cell)}))
        named = self.layout.column("name")
        return {"kind": "other"} if named and row.cell(named.at) else {"kind": "other", "name": cell}

    def _quantity(self, column: Column, cell: str, row: Row) -> str:
        """Return a quantity as typed, with the unit of its heading, its unit row or its row behind a bare number."""
        unit = column.unit
        if units.is_bare(cell):
            beside = self.units_at is not None and column.field in ("mass", "weighed")
            unit = unit or (row.cell(self.units_at) if beside and self.units_at is not None else "")
            if not unit and column.at in self.shares:
                cell, unit = f"{100.0 * _number(cell, 'ratio') * 100.0:.12g}", "%"
            self.bare += not unit and _differs(column.field)
            cell = f"{cell} {unit}".strip()
        self.grams += units.speaks_of_gr(cell)
        return self._read(column.field, cell, row)

    def _read(self, name: str, text: Read, row: Row) -> Read:
        """Return an entry as it is, and note a doubt where the budget will not take it."""
        try:
            gear_fields()[name].read(text, self.system)
        except FieldRefusedError as error:
            facts = {"field": name, "problem": error.code, "facts": {"typed": shortened(text), **error.facts}}
            self.doubts.append(Told(code="unread", row=row.number, facts=facts))
        return text

    def _settle(self, part: dict[str, Any], row: Row) -> None:
        """Add what a part needs and the table does not say: its kind out of its name, how its mass is known."""
        if "kind" not in part and (found := gearwords.kind_in(str(part.get("name", "")))):
            part["kind"] = found
            if not gearwords.kind_of(part["name"]):
                facts = {"name": shortened(part["name"]), "kind": found}
                self.doubts.append(Told(code="kind_of_name", row=row.number, facts=facts))
        if "mass" in part and "known_by" not in part:
            part["known_by"] = self.known
            self.unsaid += 1
        if "mass" not in part and "weighed" not in part:
            self.doubts.append(Told(code="no_mass", row=row.number, facts={"typed": shortened(_first(row))}))

    def _kg(self, part: Mapping[str, Any]) -> float:
        one = _number(str(part.get("weighed", part.get("mass", ""))), "mass", self.system)
        return one * int(cells.count_of(str(part.get("count", "1"))) or 1)

    def overall(self) -> list[Told]:
        """Return what is to be said of all rows together."""
        unit = units.default_unit("mass", self.system)
        return [
            *([Told(code="bare", facts={"count": self.bare, "unit": unit})] if self.bare else []),
            *([Told(code="gr")] if self.grams else []),
            *([Told(code="shares")] if self.shares else []),
            *([Told(code="unsaid", facts={"count": self.unsaid, "known": self.known})] if self.unsaid else []),
        ]


def _differs(name: str) -> bool:
    of = dimension(name)
    return units.default_unit(of, "metric") != units.default_unit(of, "imperial")


def _number(text: str, of: str, system: str = "metric") -> float:
    """Return a quantity in SI, 0 for none."""
    try:
        return units.parse(text, of, system).si
    except QuantityError:
        return 0.0


def _close(kg: float, total: float) -> bool:
    return kg > 0.0 and abs(kg - total) <= SUM_WITHIN * total


def _first(row: Row) -> str:
    """Return the first words of a row; what is no word (a running number, a sum) has none."""
    return next((cell for cell in row.cells if folded(cell).strip("0123456789. ")), next(filter(None, row.cells), ""))
