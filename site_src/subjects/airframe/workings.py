"""How the numbers of the subject airframe come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.airframe.answer import AirframeBlock, PartMass
from site_src.app.sums import Working, added, length_in, mass_in, num, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the airframe."""
    block = found.of(AirframeBlock)
    if block is None:
        return
    for part in block.parts:
        yield from _part(budget, part)
    counts = (mass_in(part.counts.expected_kg, budget) for part in block.parts)
    yield working("forecast", "airframe-forecast", "the airframe, forecast", "Σ w + Σ p (1 + γ)",
                  added(counts, "the parts above, added up"),
                  mass_in(block.forecast.expected_kg, budget))  # fmt: skip
    if block.cg_m is not None:
        moments = (
            f"{mass_in(part.counts.expected_kg, budget)} × {length_in(part.station_m or 0.0, budget)}"
            for part in block.parts
        )
        listed = added(moments, "")
        sums = f"({listed}) / {mass_in(block.forecast.expected_kg, budget)}" if listed else "mass by mass, as above"
        yield working("cg", "airframe-cg", "where the airframe balances", "Σ m x / Σ m", sums,
                      length_in(block.cg_m, budget))  # fmt: skip


def _part(budget: Budget, part: PartMass) -> Iterator[Working]:
    """Yield what a part that is not weighed yet counts as; a reading of the scale needs no sum."""
    planned_kg = part.plan.planned_kg
    if part.plan.weighed_kg is not None or not planned_kg:
        return
    growth = part.counts.expected_kg / planned_kg - 1.0
    glue = f", of which glue {mass_in(part.glue_kg, budget)}" if part.glue_kg else ""
    yield working(part.path, "airframe-part", part.name, "p (1 + γ)",
                  f"{mass_in(planned_kg, budget)} × (1 + {num(growth)})", mass_in(part.counts.expected_kg, budget),
                  f"planned{glue}" if glue else "")  # fmt: skip
