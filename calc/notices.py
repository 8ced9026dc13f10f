"""What the builder should know that is no verdict."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from calc import units
from calc.document import classes
from calc.document.budget import Budget
from calc.document.entries import Cell
from calc.subject import unread, value
from calc.subjects.limits import allowance
from calc.subjects.linkage.answer import LinkageBlock
from calc.subjects.power import sag
from calc.subjects.power.answer import Power
from calc.subjects.power.entries import Session
from calc.subjects.power.ohms import ohms_of
from calc.subjects.weights.answer import ModelMass


@dataclass(frozen=True, kw_only=True)
class Notice:
    """Something the builder should know that is no verdict; `code` and `facts` as in `calc.wording`."""

    code: str
    facts: Mapping[str, Any] = field(default_factory=dict)


LEGAL_KG = (("uk_flyer", 0.100), ("eu_uk_250", 0.250), ("us_055", units.to_si(0.55, "lb", "mass")))


def notices(
    budget: Budget, model: ModelMass, power: Power | None, linkage: LinkageBlock | None, so_far: bool
) -> Iterable[Notice]:  # fmt: skip
    """Yield what applies to this model: radio use, rubber, thresholds of the law, what no row counts, the cells.

    `so_far`: something aboard is not counted yet, so that the model will be heavier.
    """
    yield from _rules(budget, model, so_far)
    yield from _not_in_rows(budget, linkage)
    yield from _cells(budget, power)


def _not_in_rows(budget: Budget, linkage: LinkageBlock | None) -> Iterable[Notice]:
    """Yield what is described in a block of its own and stands in no row, so that no mass counts it."""
    kinds = {row.kind.value for row in budget.gear if not row.off.value}
    if linkage is not None and linkage.strength is not None and "linkage" not in kinds:
        what = "push rod" if linkage.kind == "rod" else "pair of lines"
        yield Notice(code="linkage_no_row", facts={"what": what, "mass_kg": linkage.strength.mass_kg})
    if budget.wiring is not None and budget.wiring.gauge is not None and "wiring" not in kinds:
        yield Notice(code="leads_no_row")


def _rules(budget: Budget, model: ModelMass, so_far: bool) -> Iterable[Notice]:
    rule = classes.table()[budget.model.class_.value]
    radio_known = not unread(budget, "model.class", "model.radio", "model.use")
    if rule.radio != "free" and radio_known:
        if rule.radio == "ask":
            yield Notice(code="radio_ask", facts={"class": rule.name})
        elif budget.model.radio.value == "steering" and budget.model.use.value == "contest":
            yield Notice(code="radio_sport", facts={"class": rule.name})
    rubber_kg = value(budget.model.rubber)
    if rule.rubber_most_kg is not None and budget.model.rubber is None and not unread(budget, "model.rubber"):
        facts = {"class": rule.name, "most_kg": rule.rubber_most_kg, "as_of": rule.as_of}
        yield Notice(code="rubber_unknown", facts=facts)
    if rubber_kg is not None and rule.rubber_most_kg is not None and rubber_kg > rule.rubber_most_kg + allowance.TIE_KG:
        facts = {"rubber_kg": rubber_kg, "most_kg": rule.rubber_most_kg, "as_of": rule.as_of}
        yield Notice(code="rubber_over", facts=facts)
    if rule.minimum_kg is not None or budget.model.minimum is not None:
        yield from _too_heavy_a_minimum(budget, model)
    if model.all_up_kg is not None:
        for code, threshold_kg in LEGAL_KG:
            if model.all_up_kg + model.spread_kg >= threshold_kg:
                facts = {"mass_kg": model.all_up_kg, "spread_kg": model.spread_kg, "threshold_kg": threshold_kg}
                aboard = "With what is known so far aboard" if so_far else "With everything aboard"
                yield Notice(code=code, facts={**facts, "aboard": aboard})


def _too_heavy_a_minimum(budget: Budget, model: ModelMass) -> Iterable[Notice]:
    """Yield that a contest's ballast takes the model over the mass that is wished for it."""
    target = budget.model.target
    if target is not None and model.ballast_kg > 0.0 and model.flying_kg is not None:
        least_kg = model.flying_kg + model.ballast_kg
        if least_kg > target.value + allowance.TIE_KG:
            yield Notice(code="ballast_over", facts={"minimum_kg": least_kg, "target_kg": target.value})


def _cells(budget: Budget, power: Power | None) -> Iterable[Notice]:
    if power is not None and budget.session is not None and budget.session.temperature.value < 273.15:
        yield Notice(code="below_freezing", facts={"temperature_k": budget.session.temperature.value})
    if power is not None:
        yield from _cell_today(power, (budget.session or Session()).temperature.value)
    if power is not None and budget.cell is not None and budget.cell.capacity is not None:
        yield from _low_resistance(budget.cell, budget.cell.capacity.value)
    if power is not None and power.charge_rate is not None and power.charge_rate > 1.0:
        yield Notice(code="charge_fast", facts={"rate": power.charge_rate})
    if power is not None and power.gives_too_little:
        yield Notice(code="supply_low", facts={})
    if power is not None and power.quiet_only:
        yield Notice(code="quiet_only", facts={"parts": _named(budget, power.quiet_only)})
    if power is not None and power.no_least_volts:
        yield Notice(code="no_least_volts", facts={"parts": _named(budget, power.no_least_volts)})


def _low_resistance(cell: Cell, capacity_c: float) -> Iterable[Notice]:
    """Yield that a resistance is less than that of any cell which was looked at under a load."""
    most_ohm, least_ohm = ohms_of(cell, capacity_c).each[-1].settled_ohm, sag.usual(capacity_c)[0].settled_ohm
    if most_ohm < least_ohm:
        yield Notice(code="resistance_low", facts={"given_ohm": most_ohm, "least_ohm": least_ohm})


def _cell_today(power: Power, kelvin: float) -> Iterable[Notice]:
    """Yield what is not known of the cell's resistance, and what the cold takes."""
    low, high = power.ends.low, power.ends.high
    facts = {"low_ohm": high.source.resistance_ohm, "high_ohm": low.source.resistance_ohm}
    if power.resistance_assumed:
        yield Notice(code="resistance_assumed", facts=facts)
    if power.resistance_from == "meter":
        yield Notice(code="resistance_metered", facts=facts)
    if kelvin < COLD_K and not power.too_fast:
        yield Notice(code="cold_cell", facts={"least_share": low.share, "most_share": high.share})


COLD_K = 283.15  # below which the pocket is told: our choice


def _named(budget: Budget, paths: Iterable[str]) -> str:
    return ", ".join(part.called for path in paths if (part := budget.part(path)) is not None)
