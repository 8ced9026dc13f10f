"""What is said of the limits and the class."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from calc import digits
from calc.english import wrapped
from calc.subject import not_yet
from calc.subjects.limits.allowance import Limit

if TYPE_CHECKING:
    from calc.assess import Assessment

LIMITS = {
    "share": "share rule",
    "target": "wished flying mass",
    "class_max": "class maximum",
    "loading": "wing loading",
}


def allows(limit: Limit, system: str = "metric") -> str:
    """Return what a limit allows; below nothing it says why.

    Examples
    --------
    >>> allows(Limit(id="target", allows_kg=-0.010, in_hand_kg=-0.015, spread_kg=0.0))
    'nothing: the airframe alone is 10.0 g over'
    """
    if limit.allows_kg >= 0.0:
        return digits.mass(limit.allows_kg, system, limit.spread_kg)
    return f"nothing: the airframe alone is {digits.mass(-limit.allows_kg, system, limit.spread_kg)} over"


def class_sentence(assessment: "Assessment", system: str = "metric") -> str:
    """Return what the class minimum means for this model, and of which year the class's figures are."""
    return f"{_minimum_means(assessment, system)} {_class_year(assessment, system)}".strip()


def _class_year(assessment: "Assessment", system: str) -> str:
    """Return the class table's figures that the answer rests on, with their year; empty where it rests on none."""
    found = assessment.class_
    said = [
        f"{name} {digits.rounded(most, 'loading', system, 3) if name == 'loading' else digits.figure(most, system)}"
        for name, most in found.read.items()
    ]
    return f"Class {' and '.join(said)}, {found.as_of}: the current rule book decides." if said else ""


def _minimum_means(assessment: "Assessment", system: str) -> str:
    found = assessment.class_
    if found.minimum_kg is None or found.short_kg is None or found.free_kg is None:
        return ""
    if found.use == "sport":
        return "Flown for sport it need not reach the class minimum: no ballast, and every gram of gear is on top."
    minimum = digits.figure(found.minimum_kg, system)
    short, free = (digits.mass(each, system, assessment.model.spread_kg) for each in (found.short_kg, found.free_kg))
    if found.short_kg > 0:
        lead = ", the lead for balance counted," if assessment.lead_kg > 0 else ""
        return (
            f"Flying mass{lead} is {short} below the class minimum of {minimum}: "
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


def lines(assessment: "Assessment", system: str) -> Iterator[str]:
    """Yield the table of the limits."""
    led = assessment.lead_kg > 0.0
    if assessment.limits:
        yield f"{'Limit':23}{'allows':>11}{'in hand':>11}{'with lead' if led else '':>11}{'± spread':>11}   verdict"
    for limit, with_lead in zip(assessment.limits, assessment.limits_with_lead, strict=True):
        hand, after = (digits.mass(each.in_hand_kg, system, each.spread_kg) for each in (limit, with_lead))
        name, spread = LIMITS[limit.id], digits.spread(limit.spread_kg, system)
        allowed = digits.mass(limit.allows_kg, system, limit.spread_kg) if limit.allows_kg >= 0.0 else "nothing"
        yield f"  {name:21}{allowed:>11}{hand:>11}{after if led else '':>11}{spread:>11}   {with_lead.verdict}"
    for limit in assessment.limits:
        if limit.allows_kg < 0.0:
            yield from wrapped(f"The {LIMITS[limit.id]} allows {allows(limit, system)}.", "  ")


def brief(assessment: "Assessment", system: str) -> str:
    """Return the limits in one line: which comes first and what it allows."""
    first = assessment.governs
    if first is None:
        return not_yet(assessment, "limits")
    return f"the {LIMITS[first.id]} comes first and allows {allows(first, system)}"
