"""Budget -> Assessment: the one door to the sums, for the page, the command and the tests.

What cannot be worked out is absent (None), and `Assessment.missing` names the fields that would be needed: a key is a
block of the answer, a value the field paths. A row whose mass cannot be read is not counted and stands in `uncounted`;
then the verdict is only about what could be counted.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.document.budget import Budget
from calc.notices import Notice, notices
from calc.subject import unread
from calc.subjects.air.answer import AirBlock, air
from calc.subjects.balance.answer import BalanceBlock, balance
from calc.subjects.growth.answer import Growth, growth, growth_lacks
from calc.subjects.limits import allowance
from calc.subjects.limits.sure import ChanceBlock, chance
from calc.subjects.power.answer import Power, power
from calc.subjects.surface.answer import LinkageBlock, SurfaceBlock, linkage, surface
from calc.subjects.weights import masses
from calc.subjects.weights.answer import (
    ClassMass,
    ModelMass,
    RowMass,
    airframe_lacks,
    airframe_mass,
    airframe_row,
    bounds_of,
    class_lacks,
    class_mass,
    counted_rows,
    limit_lacks,
    model_mass,
    together,
    uncounted,
)
from calc.whole import Whole, whole


@dataclass(frozen=True, kw_only=True)
class Assessment:
    """The whole answer; see the module's docstring for what is absent."""

    budget: Budget
    gear: masses.Total
    rows: tuple[RowMass, ...]
    uncounted: tuple[str, ...]
    model: ModelMass
    limits: tuple[allowance.Limit, ...]  # before any lead for balance
    limits_with_lead: tuple[allowance.Limit, ...]  # the same with it; equal where none is needed or known
    class_: ClassMass
    growth: Growth | None
    power: Power | None
    balance: BalanceBlock | None
    surface: SurfaceBlock | None
    linkage: LinkageBlock | None
    air: AirBlock | None
    missing: Mapping[str, tuple[str, ...]]
    notices: tuple[Notice, ...]
    chance: ChanceBlock | None
    whole: Whole
    supposed_kg: float | None  # the flying mass that the share rule goes by while no airframe is known

    @property
    def lead_kg(self) -> float:
        """Lead that balancing takes [kg]; 0 where none is needed or it is not known."""
        return 0.0 if self.balance is None or self.balance.ballast is None else self.balance.ballast.mass_kg

    @property
    def governs(self) -> allowance.Limit | None:
        """The limit with the least in hand, before any lead; lead takes as much from each."""
        return allowance.governing(self.limits)

    @property
    def verdict(self) -> str | None:
        """`fits`, `close` or `over`, the lead for balance counted; None while no limit can be worked out.

        The worst of all limits: one with more in hand than the governing one can be less sure, and so the worse.
        """
        return allowance.worst(self.limits_with_lead)

    @property
    def verdict_before_lead(self) -> str | None:
        """The verdict without the lead."""
        return allowance.worst(self.limits)


def assess(budget: Budget) -> Assessment:
    """Return everything that can be worked out for a budget."""
    division_kg = budget.scale_division.value
    rows = tuple(counted_rows(budget, division_kg))
    not_counted = uncounted(budget, rows)
    gear, airframe = together(row.mass for row in rows), airframe_mass(budget, division_kg)
    bounds = bounds_of(budget)
    limits = () if unread(budget, "scale_division") else allowance.limits(bounds, airframe, gear)
    balance_block, balance_lacks = balance(budget, airframe, rows, not_counted)
    lead_kg = 0.0 if balance_block is None or balance_block.ballast is None else balance_block.ballast.mass_kg
    limits_with_lead = allowance.with_lead(limits, lead_kg)
    model = model_mass(budget, airframe, gear, bounds, lead_kg)
    class_block = class_mass(budget, bounds, model)
    power_block, power_lacks = power(budget)
    air_block, air_lacks = air(budget, model, gear.expected_kg, class_block, lead_kg)
    surface_block, surface_lacks = surface(budget, air_block)
    linkage_block, linkage_lacks = linkage(budget, surface_block)
    missing = {
        "limits": limit_lacks(budget, bounds, airframe),
        "model": airframe_lacks(budget) if airframe is None else (),
        "class": class_lacks(budget),
        "growth": growth_lacks(budget, rows),
        "power": power_lacks,
        "balance": balance_lacks,
        "surface": surface_lacks,
        "linkage": linkage_lacks,
        "air": air_lacks,
    }
    verdict = allowance.worst(limits_with_lead)
    open_limits = bool(not_counted or missing["limits"] or missing["class"])
    frame = None if airframe is None else airframe_row(budget, airframe)
    return Assessment(
        budget=budget,
        gear=gear,
        rows=rows,
        uncounted=not_counted,
        model=model,
        limits=limits,
        limits_with_lead=limits_with_lead,
        class_=class_block,
        growth=growth(budget, rows, airframe),
        power=power_block,
        balance=balance_block,
        surface=surface_block,
        linkage=linkage_block,
        air=air_block,
        missing={block: lacks for block, lacks in missing.items() if lacks},
        notices=tuple(notices(budget, model, power_block, linkage_block)),
        supposed_kg=allowance.supposed(bounds) if airframe is None and limits else None,
        chance=chance(limits, limits_with_lead, rows, frame, division_kg),
        whole=whole(budget, verdict, open_limits, power_block, balance_block, surface_block, linkage_block),
    )
