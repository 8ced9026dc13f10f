"""What is said of the weights."""

import textwrap
from collections.abc import Iterator
from typing import TYPE_CHECKING

from calc import digits, wording
from calc.english import counted
from calc.subjects.weights.masses import Total
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment


NAME_WIDTH = 40  # a longer name goes on in the next line


def expected(mass: Total, system: UnitSystem) -> str:
    """Return what a row weighs, as far as it is known."""
    return system.mass(mass.expected_kg, mass.spread_kg)


def names_of(assessment: "Assessment") -> dict[str, str]:
    """Return what each row of the gear is called, by path."""
    rows = assessment.budget.gear
    return {f"gear.{index}": row.called for index, row in enumerate(rows)}


def gear_lines(assessment: "Assessment", system: UnitSystem) -> Iterator[str]:
    """Yield the table of the gear."""
    yield f"{'Gear':44}{'counts as':>12}{'give or take':>14}"
    for row in assessment.rows:
        first, *more = textwrap.wrap(row.called, NAME_WIDTH)
        yield _weight(first, row.mass, system)
        yield from (f"    {rest}" for rest in more)
    yield _weight("all gear", assessment.gear, system)
    for path in assessment.uncounted:
        yield f"  {wording.field_name(path)} is not counted: its mass is not known."


def _weight(name: str, mass: Total, system: UnitSystem) -> str:
    return f"  {name:42}{system.mass(mass.expected_kg, mass.spread_kg):>12}{_spread(mass.spread_kg, system):>14}"


def _spread(kg: float, system: UnitSystem) -> str:
    return f"± {system.spread(kg)}"


def model_lines(assessment: "Assessment", system: UnitSystem) -> Iterator[str]:
    """Yield what the model weighs."""
    model = assessment.model
    if model.flying_kg is not None and model.share is not None:
        if model.lead_kg > 0.0:
            yield f"{'Lead for balance':44}{system.mass(model.lead_kg):>12}"
        yield f"{'Flying weight, without rubber':44}{system.mass(model.flying_kg, model.spread_kg):>12}"
        what = "Gear and lead as a share of it" if model.lead_kg > 0.0 else "Gear as a share of it"
        yield f"{what:44}{digits.percent(model.share):>12}"
    if model.ballast_kg > 0.0:
        yield f"{'Ballast up to the class minimum':44}{system.mass(model.ballast_kg, model.spread_kg):>12}"
    if model.all_up_kg is not None and model.all_up_kg > (model.flying_kg or 0.0):
        known = "so far" if assessment.uncounted or assessment.lead_open else "with everything aboard"
        yield f"{f'All-up weight, {known}':44}{system.mass(model.all_up_kg, model.spread_kg):>12}"


def brief(assessment: "Assessment", system: UnitSystem) -> str:
    """Return the gear in one line: how many parts, their mass, and how many have none yet."""
    parts, lacking = len(assessment.rows), len(assessment.uncounted)
    if not parts and not lacking:
        return "no parts yet"
    said = f"{counted(parts, 'part')}, {expected(assessment.gear, system)}" if parts else ""
    missing = f"{counted(lacking, 'part')} without a mass" if lacking else ""
    return "; ".join(filter(None, (said, missing)))
