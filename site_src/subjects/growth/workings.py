"""How the numbers of the subject growth come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from site_src.app.sums import Working, mass_in, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the growth."""
    block = found.growth
    for row in () if block is None else block.rows:
        yield working(row.path, "growth-change", f"{row.name}, change", "weighed − planned, all of the row",
                       f"{mass_in(row.weighed_kg, budget)} − {mass_in(row.planned_kg, budget)}",
                       mass_in(row.change_kg, budget))  # fmt: skip
    if block is not None and len(block.rows) > 1:
        yield working("together", "growth-together", "together", "Σ weighed − Σ planned",
                       f"{mass_in(block.now_kg, budget)} − {mass_in(block.planned_kg, budget)}",
                       mass_in(block.change_kg, budget))  # fmt: skip
