"""How the numbers of the subject limits come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subject import value
from calc.subjects.limits.allowance import Limit
from calc.subjects.limits.entries import Rule
from calc.subjects.limits.sure import half_width
from calc.subjects.limits.words import LIMITS
from calc.subjects.weights.answer import Weights
from site_src.app.sums import Working, added, mass_in, num, working
from site_src.subjects.weights.workings import weighed_or_not


def _flying(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield flying weight, all-up weight and the gear's share."""
    model = found.model
    if model.flying_kg is None or model.airframe_kg is None or model.share is None:
        return
    gear, a, flying = (mass_in(kg, budget) for kg in (found.gear.expected_kg, model.airframe_kg, model.flying_kg))
    lead = f" + {mass_in(model.lead_kg, budget)}" if model.lead_kg > 0.0 else ""
    yield working("flying", "limits-flying", "flying weight", f"A + gear{' + lead' if lead else ''}",
                  f"{a} + {gear}{lead}", flying)  # fmt: skip
    if model.with_rubber_kg is not None and model.with_rubber_kg > model.flying_kg:
        rubber = mass_in(model.with_rubber_kg - model.flying_kg, budget)
        yield working(
            "with_rubber",
            "limits-with-rubber",
            "with rubber",
            "flying weight + rubber",
            f"{flying} + {rubber}",
            mass_in(model.with_rubber_kg, budget),
        )
    yield from _all_up(budget, found)
    top = f"({gear}{lead})" if lead else gear
    yield working(
        "gear_share",
        "limits-gear-share",
        "gear’s share",
        f"{'(gear + lead)' if lead else 'gear'} / flying weight",
        f"{top} / {flying} × 100 %",
        f"{num(100 * model.share)} %",
    )


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the limits."""
    weights = found.of(Weights)
    airframe = None if weights is None else weights.airframe
    if airframe is not None and (budget.model.airframe is not None or budget.model.airframe_weighed is not None):
        weighed = budget.model.airframe_weighed is not None
        known_by = "weighed" if weighed else budget.model.airframe_known_by.value
        yield from weighed_or_not(budget, "airframe", "airframe A", 1, airframe.nominal_kg, known_by, airframe)
    airframe_spread_kg = 0.0 if airframe is None else airframe.spread_kg
    for limit, led in zip(found.limits, found.limits_with_lead, strict=True):
        yield from _limit(budget, found, limit, led, airframe_spread_kg)
    yield from _flying(budget, found)
    yield from _class(budget, found)
    yield from _chances(budget, found)


def _all_up(budget: Budget, found: Assessment) -> Iterator[Working]:
    model = found.model
    if model.all_up_kg is None or model.flying_kg is None:
        return
    parts = {"ballast": model.ballast_kg, "rubber": model.all_up_kg - model.ballast_kg - model.flying_kg}
    there = {name: kg for name, kg in parts.items() if kg > 1e-12}
    if there:
        yield working("all_up", "limits-all-up", "all-up weight", " + ".join(["flying weight", *there]),
                       " + ".join(mass_in(kg, budget) for kg in (model.flying_kg, *there.values())),
                       mass_in(model.all_up_kg, budget))  # fmt: skip


def _chances(budget: Budget, found: Assessment) -> Iterator[Working]:
    if found.chance is None:
        return
    widths = [half_width(row.mass) for row in found.rows]
    reach = added((mass_in(width, budget) for width in widths), "the half-widths of the rows, added up")
    yield working(
        "reach",
        "limits-reach",
        "the farthest that the gear can be off",
        "Σ of the half-widths √3/2 × spread",
        reach,
        mass_in(sum(widths), budget),
    )
    yield Working(id="chance", entry="limits-chance", what="the chance that it is within all limits", numbers="",
                  formula="F(in hand), F of the sum of the rectangles", result=f"{num(100 * found.chance.all)} %",
                  remark="each mass anywhere between its ends; the method page has the formula")  # fmt: skip


def _limit(
    budget: Budget, found: Assessment, limit: Limit, led: Limit, airframe_spread_kg: float
) -> Iterator[Working]:  # fmt: skip
    name, (formula, numbers), effect = LIMITS[limit.id], _allows(budget, found, limit), _effect(budget, found, limit)
    allows, gear = mass_in(limit.allows_kg, budget), mass_in(found.gear.expected_kg, budget)
    yield working(limit.id, f"limits-{limit.id}", f"{name}, allows", formula, numbers, allows)
    yield working(f"{limit.id}.in_hand", "limits-in-hand", f"{name}, in hand", "allows − gear", f"{allows} − {gear}",
                   mass_in(limit.in_hand_kg, budget))  # fmt: skip
    if found.lead_kg > 0.0:
        in_hand, lead = mass_in(limit.in_hand_kg, budget), mass_in(found.lead_kg, budget)
        yield working(f"{limit.id}.led", "limits-led", f"{name}, with lead", "in hand − lead", f"{in_hand} − {lead}",
                       mass_in(led.in_hand_kg, budget))  # fmt: skip
    spreads = mass_in(found.gear.spread_kg, budget), mass_in(airframe_spread_kg, budget)
    yield working(
        f"{limit.id}.spread", "limits-spread", f"{name}, spread", "√(gear’s² + (effect × airframe’s)²)",
        f"√(({spreads[0]})² + ({num(effect)} × {spreads[1]})²)", mass_in(limit.spread_kg, budget),
        "effect: by how much the limit moves with the airframe",
    )  # fmt: skip


def _effect(budget: Budget, found: Assessment, limit: Limit) -> float:
    if limit.id != "share" or found.model.airframe_kg is None:
        return 0.0 if found.model.airframe_kg is None else 1.0
    share = _share(budget)
    return share / (1.0 - share)


def _share(budget: Budget) -> float:
    return float((budget.rule or Rule()).share.value)


def _allows(budget: Budget, found: Assessment, limit: Limit) -> tuple[str, str]:
    """Return formula and numbers of what a limit allows."""
    model, airframe_kg, p = budget.model, found.model.airframe_kg, num(_share(budget))
    if airframe_kg is None:
        whole_kg = limit.allows_kg / _share(budget)
        return "p × the whole model", f"{p} × {mass_in(whole_kg, budget)}"
    a = mass_in(airframe_kg, budget)
    if limit.id == "share":
        nominal_kg = limit.allows_kg * (1.0 - _share(budget)) / _share(budget)
        return "p A₀ / (1 − p), A₀ without growth", f"{p} × {mass_in(nominal_kg, budget)} / (1 − {p})"
    if limit.id == "loading":
        rubber_kg = value(model.rubber) or 0.0
        carried = mass_in(limit.allows_kg + airframe_kg + rubber_kg, budget)
        return "w S − A − rubber", f"{carried} − {a} − {mass_in(rubber_kg, budget)}"
    name = "target − A" if limit.id == "target" else "class maximum − A"
    return name, f"{mass_in(limit.allows_kg + airframe_kg, budget)} − {a}"


def _class(budget: Budget, found: Assessment) -> Iterator[Working]:
    class_, model = found.class_, found.model
    if class_.minimum_kg is None or class_.use == "sport" or model.flying_kg is None or model.airframe_kg is None:
        return
    least, flying = mass_in(class_.minimum_kg, budget), mass_in(model.flying_kg, budget)
    if class_.short_kg:
        yield working(
            "short",
            "limits-short",
            "below the class minimum",
            "minimum − flying weight",
            f"{least} − {flying}",
            mass_in(class_.short_kg, budget),
        )
    if class_.free_kg:
        a = mass_in(model.airframe_kg, budget)
        yield working("free", "limits-free", "gear that costs nothing", "minimum − A", f"{least} − {a}",
                       mass_in(class_.free_kg, budget))  # fmt: skip
