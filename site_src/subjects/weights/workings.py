"""How the numbers of the subject weights come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.subjects.weights.answer import RowMass, as_counted
from calc.subjects.weights.masses import GROWTH, Total
from calc.vocabulary import KnownBy
from site_src.app.sums import Working, added, mass_in, num, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the weights."""
    counted = as_counted(budget)
    for row in found.rows:
        part = counted.part(row.path)
        if part is not None and part.mass is not None:
            yield from _row(budget, row, part, part.mass.value)
    if len(found.rows) > 1:
        yield working("gear", "masses-gear", "all the gear, expected", "Σ of the rows",
                       added((mass_in(row.mass.expected_kg, budget) for row in found.rows), "the rows above, added up"),
                       mass_in(found.gear.expected_kg, budget))  # fmt: skip
        squares = (f"({mass_in(row.mass.spread_kg, budget)})²" for row in found.rows)
        yield working("gear.spread", "masses-gear-spread", "all the gear, spread", "√(Σ spread²)",
                       f"√({added(squares, 'the spreads above, squared and added up')})",
                       mass_in(found.gear.spread_kg, budget))  # fmt: skip


def _row(budget: Budget, row: RowMass, part: GearRow | Cell, one_kg: float) -> Iterator[Working]:
    name, count = row.called, part.count.value if isinstance(part, GearRow) else 1
    yield from weighed_or_not(budget, f"{row.path}", name, count, one_kg, row.known_by, row.mass)


def weighed_or_not(
    budget: Budget, id_: str, name: str, count: int, one_kg: float, known_by: KnownBy, mass: Total
) -> Iterator[Working]:  # fmt: skip
    """Yield how a mass and its spread come about; `id_` names them on the page."""
    one, growth = mass_in(one_kg, budget), GROWTH[known_by]
    many = f"{count} × {one}"
    if known_by == "weighed":
        division = mass_in(budget.scale_division.value, budget)
        yield working(id_, "masses-nominal", f"{name}, expected", "n m", many, mass_in(mass.expected_kg, budget),
                      "weighed: nothing added")  # fmt: skip
        yield working(f"{id_}.spread", "masses-spread-weighed", f"{name}, spread", "2 × ½ scale division / √3",
                      f"2 × 0.5 × {division} / √3", mass_in(mass.spread_kg, budget))  # fmt: skip
        return
    why = "a maker’s figure grows" if known_by == "maker" else "a guess grows"
    yield working(id_, "masses-expected", f"{name}, expected", "n m (1 + g)", f"{many} × (1 + {num(growth)})",
                   mass_in(mass.expected_kg, budget), f"{why} by {num(100 * growth)} %")  # fmt: skip
    yield working(
        f"{id_}.spread",
        "masses-spread",
        f"{name}, spread",
        "2 n g m / √3",
        f"2 × {count} × {num(growth)} × {one} / √3",
        mass_in(mass.spread_kg, budget),
    )
