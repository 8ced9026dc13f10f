"""What is said of the limits and the class."""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from calc.english import wrapped
from calc.subject import not_yet
from calc.subjects.limits.allowance import Limit
from calc.unit_system import UnitSystem
from calc.vocabulary import LimitId

if TYPE_CHECKING:
    from calc.assess import Assessment

LIMITS: Mapping[LimitId, str] = {
    "share": "share rule",
    "target": "target flying weight",
    "class_max": "class maximum",
    "loading": "wing loading",
}


def allows(limit: Limit, system: UnitSystem) -> str:
    """Return what a limit allows; below nothing it says why.

    Examples
    --------
    >>> allows(Limit(id="target", allows_kg=-0.010, in_hand_kg=-0.015, spread_kg=0.0), UnitSystem.METRIC)
    'nothing: the airframe alone is 10.0 g over'
    """
    if limit.allows_kg >= 0.0:
        return system.mass(limit.allows_kg, limit.spread_kg)
    return f"nothing: the airframe alone is {system.mass(-limit.allows_kg, limit.spread_kg)} over"


def class_sentence(assessment: "Assessment", system: UnitSystem) -> str:
    """Return what the class minimum means for this model, and of which year the class's figures are."""
    return f"{_minimum_means(assessment, system)} {_class_year(assessment, system)}".strip()


def _class_year(assessment: "Assessment", system: UnitSystem) -> str:
    """Return the class table's figures that the answer rests on, with their year; empty where it rests on none."""
    found = assessment.class_
    said = [
        f"{name} {system.loading(most) if name == 'loading' else system.round_mass(most)}"
        for name, most in found.read.items()
    ]
    return f"Class {' and '.join(said)}, {found.as_of}: the current rule book decides." if said else ""


def _minimum_means(assessment: "Assessment", system: UnitSystem) -> str:
    found = assessment.class_
    if found.minimum_kg is None or found.short_kg is None or found.free_kg is None:
        return ""
    if found.use == "sport":
        return "Flown for sport it need not reach the class minimum: no ballast, and every gram of gear is on top."
    minimum = system.round_mass(found.minimum_kg)
    short, free = (system.mass(each, assessment.model.spread_kg) for each in (found.short_kg, found.free_kg))
    if found.short_kg > 0:
        lead = ", the lead for balance counted," if assessment.lead_kg > 0 else ""
        return (
            f"Flying weight{lead} is {short} below the class minimum of {minimum}: "
            "in a contest that much ballast goes in anyway, so all the gear costs nothing."
        )
    if found.free_kg > 0:
        led = assessment.lead_kg > 0
        what, it = ("gear and lead cost", "them") if led else ("the gear costs", "it")
        return (
            f"In a contest {free} of {what} nothing: without {it} ballast "
            f"would fill the model up to the class minimum of {minimum}."
        )
    return f"The airframe alone reaches the class minimum of {minimum}: every gram of gear is on top."


def lines(assessment: "Assessment", system: UnitSystem) -> Iterator[str]:
    """Yield the table of the limits."""
    led = assessment.lead_kg > 0.0
    if assessment.limits:
        yield f"{'Limit':23}{'allows':>11}{'in hand':>11}{'with lead' if led else '':>11}{'known to ±':>11}   fits?"
    for limit, with_lead in zip(assessment.limits, assessment.limits_with_lead, strict=True):
        hand, after = (system.mass(each.in_hand_kg, each.spread_kg) for each in (limit, with_lead))
        name, spread = LIMITS[limit.id], system.spread(limit.spread_kg)
        allowed = system.mass(limit.allows_kg, limit.spread_kg) if limit.allows_kg >= 0.0 else "nothing"
        yield f"  {name:21}{allowed:>11}{hand:>11}{after if led else '':>11}{spread:>11}   {with_lead.verdict}"
    for limit in assessment.limits:
        if limit.allows_kg < 0.0:
            yield from wrapped(f"The {LIMITS[limit.id]} allows {allows(limit, system)}.", "  ")


def brief(assessment: "Assessment", system: UnitSystem) -> str:
    """Return the limits in one line: which comes first and what it allows."""
    first = assessment.governs
    if first is None:
        return not_yet(assessment, "limits")
    return f"the {LIMITS[first.id]} comes first and allows {allows(first, system)}"
