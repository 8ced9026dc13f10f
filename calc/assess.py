"""Budget -> Assessment: the one door to the sums, for the page, the command and the tests.

What cannot be worked out is absent (None), and `Assessment.missing` names the fields that would be needed: a key is a
block of the answer, a value the field paths. A row whose mass cannot be read is not counted and stands in `uncounted`;
then the verdict is only about what could be counted.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from calc import allowance, masses
from calc.blocks.mass import (
    ClassMass,
    ModelMass,
    RowMass,
    airframe_mass,
    bounds_of,
    class_mass,
    counted_rows,
    limit_lacks,
    model_mass,
    together,
    uncounted,
)
from calc.blocks.notices import Notice, notices
from calc.blocks.power import Power, power
from calc.budget import Budget


@dataclass(frozen=True, kw_only=True)
class Assessment:
    """The whole answer; see the module's docstring for what is absent."""

    gear: masses.Total
    rows: tuple[RowMass, ...]
    uncounted: tuple[str, ...]
    model: ModelMass
    limits: tuple[allowance.Limit, ...]
    governs: allowance.Limit | None
    class_: ClassMass
    power: Power | None
    missing: Mapping[str, tuple[str, ...]]
    notices: tuple[Notice, ...]

    @property
    def verdict(self) -> str | None:
        """`fits`, `close` or `over`; None while no limit can be worked out.

        The limit with the least in hand governs, and another one that is less sure can still be worse.
        """
        found = {limit.verdict for limit in self.limits}
        return next((word for word in ("over", "close", "fits") if word in found), None)


def assess(budget: Budget) -> Assessment:
    """Return everything that can be worked out for a budget."""
    division_kg = budget.scale_division.value
    rows = tuple(counted_rows(budget, division_kg))
    gear, airframe = together(row.mass for row in rows), airframe_mass(budget, division_kg)
    bounds = bounds_of(budget)
    limits = allowance.limits(bounds, airframe, gear)
    model = model_mass(budget, airframe, gear)
    power_block, power_lacks = power(budget)
    missing = {
        "limits": () if limits else limit_lacks(budget),
        "model": ("model.airframe",) if airframe is None else (),
        "power": power_lacks,
    }
    return Assessment(
        gear=gear,
        rows=rows,
        uncounted=uncounted(budget, rows),
        model=model,
        limits=limits,
        governs=allowance.governing(limits),
        class_=class_mass(budget, bounds, model),
        power=power_block,
        missing={block: lacks for block, lacks in missing.items() if lacks},
        notices=tuple(notices(budget, model, power_block)),
    )
