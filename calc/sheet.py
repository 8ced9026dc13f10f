"""The answer as a one-page sheet of plain text, at most 78 characters wide."""

import textwrap
from collections.abc import Iterator

from calc import digits, sentences, wording
from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.weights.masses import Total

WIDTH = 78


def sheet(budget: Budget, assessment: Assessment) -> str:
    """Return the sheet for a budget and its assessment."""
    system = budget.units.value
    parts = [
        [budget.name.value or "Budget without a name"],
        wrapped(sentences.headline(assessment, system)),
        list(_gear(assessment, system)),
        list(_model(assessment, system)),
        list(_limits(assessment, system)),
        wrapped(sentences.class_sentence(assessment, system)),
        list(_power(assessment, system)),
        *_others(assessment, system),
        [line for notice in assessment.notices for line in wrapped(wording.notice(notice, system), "* ")],
    ]
    return "\n\n".join("\n".join(lines) for lines in parts if lines)


def wrapped(text: str, mark: str = "") -> list[str]:
    """Return a text in lines of the sheet's width, the first one after a mark."""
    return textwrap.wrap(text, WIDTH, initial_indent=mark, subsequent_indent=" " * len(mark))


def _gear(assessment: Assessment, system: str) -> Iterator[str]:
    yield f"{'Gear':44}{'expected':>12}{'spread':>14}"
    for row in assessment.rows:
        name = sentences.row_name(row.kind, row.name)
        yield _weight(name[:40], row.mass, system)
    yield _weight("all gear", assessment.gear, system)
    for path in assessment.uncounted:
        yield f"  {wording.field_name(path)} is not counted: its mass is not known."


def _weight(name: str, mass: Total, system: str) -> str:
    return (
        f"  {name:42}{digits.mass(mass.expected_kg, system, mass.spread_kg):>12}{_spread(mass.spread_kg, system):>14}"
    )


def _spread(kg: float, system: str) -> str:
    return f"± {digits.spread(kg, system)}"


def _model(assessment: Assessment, system: str) -> Iterator[str]:
    model = assessment.model
    if model.flying_kg is not None and model.share is not None:
        if model.lead_kg > 0.0:
            yield f"{'Lead for balance':44}{digits.mass(model.lead_kg, system):>12}"
        yield f"{'Flying mass, without rubber':44}{digits.mass(model.flying_kg, system, model.spread_kg):>12}"
        what = "Gear and lead as a share of it" if model.lead_kg > 0.0 else "Gear as a share of it"
        yield f"{what:44}{digits.percent(model.share):>12}"
    if model.ballast_kg > 0.0:
        yield f"{'Ballast up to the class minimum':44}{digits.mass(model.ballast_kg, system, model.spread_kg):>12}"
    if model.all_up_kg is not None and model.all_up_kg > (model.flying_kg or 0.0):
        yield f"{'All-up weight, with everything aboard':44}{digits.mass(model.all_up_kg, system, model.spread_kg):>12}"


def _limits(assessment: Assessment, system: str) -> Iterator[str]:
    led = assessment.lead_kg > 0.0
    if assessment.limits:
        yield f"{'Limit':23}{'allows':>11}{'in hand':>11}{'with lead' if led else '':>11}{'± spread':>11}   verdict"
    for limit, with_lead in zip(assessment.limits, assessment.limits_with_lead, strict=True):
        hand, after = (digits.mass(each.in_hand_kg, system, each.spread_kg) for each in (limit, with_lead))
        name, spread = sentences.LIMITS[limit.id], digits.spread(limit.spread_kg, system)
        allowed = digits.mass(limit.allows_kg, system, limit.spread_kg) if limit.allows_kg >= 0.0 else "nothing"
        yield f"  {name:21}{allowed:>11}{hand:>11}{after if led else '':>11}{spread:>11}   {with_lead.verdict}"
    for limit in assessment.limits:
        if limit.allows_kg < 0.0:
            yield from wrapped(f"The {sentences.LIMITS[limit.id]} allows {sentences.allows(limit, system)}.", "  ")


def _power(assessment: Assessment, system: str) -> Iterator[str]:
    power = assessment.power
    if power is None:
        lacking = "; ".join(wording.field_name(path) for path in assessment.missing.get("power", ()))
        yield from wrapped(f"Run time is not worked out: it needs {lacking}.")
        return
    yield from wrapped(sentences.power_sentence(power, sentences.names_of(assessment)))
    least, most = (", at least", ", at most") if power.at_most else ("", "")
    yield f"  {f'mean draw{least}':42}{digits.current(power.load.mean_a):>12}"
    yield f"  {f'everything at work at once{least}':42}{digits.current(power.load.peak_a):>12}"
    yield f"  {f'lowest voltage{most}':42}{digits.volts(power.run.lowest_v):>12}"
    if sentences.plan_sentence(power):
        yield from wrapped(sentences.plan_sentence(power))
    if power.run.time_s > 0.0 and not power.at_most:
        yield from wrapped(f"Moves the run time most: {sentences.sway_sentence(power.sways[0], system)}.")


def _others(assessment: Assessment, system: str) -> Iterator[list[str]]:
    """Yield a paragraph for each of the other blocks that were worked out."""
    if assessment.growth is not None:
        yield wrapped(sentences.growth_sentence(assessment.growth, system))
    if assessment.balance is not None:
        yield wrapped(sentences.balance_sentence(assessment.balance, system))
    if assessment.surface is not None:
        said = [sentences.surface_sentence(assessment.surface, system)]
        said.append(sentences.throw_sentence(assessment.surface, system))
        yield wrapped(" ".join(said).strip())
    if assessment.linkage is not None:
        yield wrapped(sentences.linkage_sentence(assessment.linkage, system))
    if assessment.air is not None:
        yield wrapped(sentences.air_sentence(assessment.air, system))
