"""How much gear the model may carry, what that means for the model and its class, and how sure it is."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.document.budget import Budget
from calc.subject import Answered, Answers, unread
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.balance.answer import BalanceBlock
from calc.subjects.limits import allowance
from calc.subjects.limits.sure import ChanceBlock, chance
from calc.subjects.weights.answer import (
    ClassMass,
    ModelMass,
    Weights,
    airframe_row,
    class_mass,
    class_missing,
    limit_missing,
    model_mass,
)


@dataclass(frozen=True, kw_only=True)
class Limits:
    """The limits before and with the lead that balance takes, the model's masses with it, the class, the chances."""

    before: tuple[allowance.Limit, ...]
    with_lead: tuple[allowance.Limit, ...]  # equal where no lead is needed or it is not known
    model: ModelMass
    class_: ClassMass
    chance: ChanceBlock | None
    supposed_kg: float | None  # the flying weight that the share rule goes by while no airframe is known


def lead_effects(balance: BalanceBlock | None) -> dict[str, float]:
    """Return the lead that a kilogram of each part asks for, by its path; empty where no lead is needed or known."""
    if balance is None or balance.ballast is None or balance.target_m is None:
        return {}
    arm_m = balance.ballast.station_m - balance.target_m
    return {part.path: (balance.target_m - part.station_m) / arm_m for part in balance.placed}


def _lead(weights: Weights, balance: BalanceBlock | None, effects: Mapping[str, float]) -> allowance.Lead | None:
    if balance is None or balance.ballast is None:
        return None
    squares = (((1.0 + effects[row.path]) * row.mass.uncertainty_kg) ** 2 for row in weights.rows)
    return allowance.Lead(
        mass_kg=balance.ballast.mass_kg,
        per_airframe=effects["model.airframe"],
        gear_uncertainty_kg=sum(squares) ** 0.5,
    )


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return the limits."""
    weights, balance = answers.must(Weights), answers.of(BalanceBlock)
    airframe, bounds = weights.airframe, weights.bounds
    before = () if unread(budget, "scale_division") else allowance.limits(bounds, airframe, weights.gear)
    effects = lead_effects(balance)
    lead = _lead(weights, balance, effects)
    lead_kg = 0.0 if lead is None else lead.mass_kg
    with_lead = allowance.with_lead(before, lead, 0.0 if airframe is None else airframe.uncertainty_kg)
    model = model_mass(budget, airframe, weights.gear, bounds, lead_kg)
    frame = None if airframe is None else airframe_row(budget, airframe, answers.of(AirframeBlock))
    found = Limits(
        before=before,
        with_lead=with_lead,
        model=model,
        class_=class_mass(budget, bounds, model),
        chance=chance(before, with_lead, weights.rows, frame, budget.scale_division.value, effects),
        supposed_kg=allowance.supposed(bounds) if airframe is None and before else None,
    )
    missing = {"limits": limit_missing(budget, bounds, airframe), "class": class_missing(budget)}
    return Answered(answer=found, missing=missing)
