"""The lines of the gear as texts: what a part counts as, and what a phone shows of it until it is opened."""

from collections.abc import Iterator, Mapping

from calc.assess import Assessment
from calc.document.budget import MOST_ROWS, Budget
from calc.document.entries import Cell, GearRow
from calc.english import row_name
from calc.unit_system import UnitSystem
from site_src.app.line import Line

KNOWN = {"weighed": "weighed", "maker": "maker’s figure", "guess": "a guess"}
EMPTY = "Add a part"


def gear_lines(budget: Budget, found: Assessment, system: UnitSystem) -> Mapping[str, Line]:
    """Return the lines by what stands for each in ids: the row’s number, `cell`, and the number of the empty line."""
    counts = {
        row.path: f"{system.mass(row.mass.expected_kg, row.mass.spread_kg)} ± {system.spread(row.mass.spread_kg)}"
        for row in found.rows
    }
    rows = budget.gear[:MOST_ROWS]
    lines = {
        str(index): Line(
            name=row_name(row.kind.value, row.name.value),
            counts=counts.get(f"gear.{index}", ""),
            rest=", ".join(_rest(row, row.kind.value)),
        )
        for index, row in enumerate(rows)
    }
    lines[str(len(rows))] = Line(name=EMPTY, counts="", rest="")
    cell = budget.cell
    rest = ["cell"] if cell is None else _rest(cell, "cell")
    name = "cell" if cell is None else row_name("cell", cell.name.value)
    lines["cell"] = Line(name=name, counts=counts.get("cell", ""), rest=", ".join(rest))
    return lines


def _rest(part: GearRow | Cell, kind: str) -> list[str]:
    return [kind, *_told(part)]


def _told(part: GearRow | Cell) -> Iterator[str]:
    """Yield what else a line holds: left out, how its mass is known, its draw."""
    if isinstance(part, GearRow) and part.off.value:
        yield "left out"
    if part.weighed is not None:
        yield f"on the scale {part.weighed.typed}"
    elif part.mass is not None:
        yield KNOWN.get(part.known_by.value, part.known_by.value)
    if isinstance(part, GearRow) and part.draw is not None:
        yield f"draws {part.draw.typed}"
