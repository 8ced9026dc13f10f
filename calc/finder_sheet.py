"""The finder's answer in words, as a plain-text sheet and as plain data with the unit in each key.

What a set leaves in hand has the lead counted that balancing it takes, where stations are known.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from calc import sentences, shown, wording
from calc.allowance import Limit, governing
from calc.finder import Answer, Task, WorkingSet
from calc.sheet import wrapped

REASONS = {
    "weak": "an actuator is too weak for the surface",
    "no_draw": "nothing in it draws a current",
    "brownout": "the full cell browns out or is below its cut-off",
    "session": "one charge does not last",
}
LEFT_OUT = {
    "unreadable": "an entry cannot be read",
    "no_mass": "it has no mass",
    "no_capacity": "it has no capacity",
    "no_busy": "it has a current at work, but not how often it works",
}
WAITS = {
    "no_parts": "the box holds no part for this budget: a receiver, a servo or coil actuator, a linkage …",
    "no_cell": "neither the box nor the budget has a cell with a mass and a capacity",
}


def waits(task: Task) -> tuple[str, ...]:
    """Return what must be there before anything can be searched, as clauses."""
    return tuple(WAITS.get(path) or wording.field_name(path) for path in task.waits)


def left_out(task: Task) -> tuple[str, ...]:
    """Return the parts that were left out, each with its reason."""
    return tuple(f"{name}: {LEFT_OUT[code]}" for name, code in task.left_out)


def need_sentence(task: Task) -> str:
    """Return what one charge must do, and whether strength was looked at."""
    need = task.need
    flights = "one flight" if need.flights == 1 else f"{need.flights} flights"
    said = f"One charge must do {flights} of {shown.duration(need.on_s)}."
    if need.flights == 0:
        said = "Any run counts: the session gives no time for a flight."
    if not task.strength_asked:
        said += " Strength is not looked at, since the budget does not say what the surface asks."
    return said


def headline(answer: Answer, system: str = "metric") -> str:
    """Return the outcome in a sentence or two."""
    counts = answer.counts
    if answer.task.waits:
        return f"Nothing can be searched yet: {'; '.join(waits(answer.task))}."
    if not answer.sets:
        return f"None of {grouped(counts.total)} sets works." if counts.total != 1 else "The only set does not work."
    lightest, longest = answer.sets[0], answer.sets[-1]
    said = f"The lightest set that works weighs {mass(lightest, system)}"
    said += f" and runs {shown.duration(lightest.time_s)}"
    if len(answer.sets) == 1 and not answer.more:
        return f"{said}; no other is lighter or runs longer."
    word = "the last shown" if answer.more else "the longest runner"
    end = f"{mass(longest, system)} and runs {shown.duration(longest.time_s)}"
    return f"{said}; {word} weighs {end}."


def reasons(answer: Answer) -> tuple[tuple[str, str], ...]:
    """Return (how many sets, why they do not work), the most frequent first."""
    found = [(number, REASONS[code]) for code, number in answer.counts.reasons.items() if number]
    about = "about " if answer.counts.drawn else ""
    return tuple(
        (f"{about}{_rounded(number, answer)} {'set' if number == 1 else 'sets'}", words)
        for number, words in sorted(found, reverse=True)
    )


def works(answer: Answer) -> str:
    """Return how many sets work, of how many."""
    about = "about " if answer.counts.drawn else ""
    return f"{about}{_rounded(answer.counts.works, answer)} of {grouped(answer.counts.total)} sets work"


def _rounded(number: int, answer: Answer) -> str:
    """Return a count; an estimate with two figures."""
    return grouped(float(f"{number:.2g}") if answer.counts.drawn else number)


def grouped(number: float) -> str:
    r"""Return a whole number in groups of three; from a thousand million on as a power of ten.

    Examples
    --------
    >>> grouped(112000), grouped(4.7e10)
    ('112\u202f000', '4.7 × 10^10')
    """
    if number >= 1e9:
        top, power = f"{number:.1e}".split("e")
        return f"{top} × 10^{int(power)}"
    return f"{int(number):,}".replace(",", "\u202f")


def why(found: WorkingSet, system: str = "metric") -> str:
    """Return why a set works: strength, voltage, run."""
    said = []
    surface, power = found.assessment.surface, found.assessment.power
    if surface is not None and surface.factor is not None:
        said.append(f"actuator {shown.times(surface.factor)} times as strong as needed")
    assert power is not None  # else it would not work
    needed = power.load.least_volts(power.source)
    lowest = f"lowest voltage {power.run.lowest_v:.2f} V"
    said.append(f"{lowest}, {shown.given(needed)} V needed" if needed and needed < 30.0 else lowest)
    if power.flights is not None and power.plan is not None:
        flights = "one flight" if power.flights == 1 else f"{power.flights} flights"
        said.append(f"{flights} of {shown.duration(power.plan.on_s)} from one charge")
    if found.ties > 1:
        more = found.ties - 1
        said.append(f"{grouped(more)} other {'set is' if more == 1 else 'sets are'} as light and run as long")
    governs = governing(found.assessment.limits_with_lead)
    if governs is not None:
        lead = f", {shown.mass(found.assessment.lead_kg, system)} of lead counted" if found.assessment.lead_kg else ""
        said.append(f"{in_hand(governs, system)}, {sentences.LIMITS[governs.id]}{lead}")
    text = "; ".join(said)
    return f"{text[:1].upper()}{text[1:]}."


def in_hand(limit: Limit, system: str = "metric") -> str:
    """Return what is left under a limit, in words."""
    size = shown.mass(abs(limit.in_hand_kg), system, limit.spread_kg)
    return f"{size} {'over' if limit.in_hand_kg < 0 else 'in hand'}"


def mass(found: WorkingSet, system: str = "metric") -> str:
    """Return what a set weighs."""
    return shown.mass(found.mass_kg, system, found.assessment.gear.spread_kg)


def as_json(answer: Answer) -> dict[str, Any]:
    """Return the answer as plain data."""
    counts, present = answer.counts, answer.present
    return {
        "sets": {
            "total": counts.total, "works": counts.works, "reasons": dict(counts.reasons),
            "estimated_from": counts.drawn or None,
        },
        "waits": list(answer.task.waits),
        "left_out": [{"name": name, "reason": code} for name, code in answer.task.left_out],
        "present": None if present is None else {"gear_g": _grams(present[0]), "run_min": _minutes(present[1])},
        "best": [_set(found) for found in answer.sets],
        "more": answer.more,
    }  # fmt: skip


def _set(found: WorkingSet) -> Mapping[str, Any]:
    assessment = found.assessment
    power, governs, surface = assessment.power, governing(assessment.limits_with_lead), assessment.surface
    return {
        "gear_g": _grams(found.mass_kg),
        "run_min": _minutes(found.time_s),
        "ties": found.ties,
        "parts": [name for _, name in found.parts],
        "flights": None if power is None else power.flights,
        "lowest_V": None if power is None else round(power.run.lowest_v, 6),
        "servo_factor": None if surface is None or surface.factor is None else round(surface.factor, 6),
        "in_hand_g": None if governs is None else _grams(governs.in_hand_kg),
        "governs": None if governs is None else governs.id,
        "verdict": assessment.verdict,
    }


def _grams(kg: float) -> float:
    return round(kg * 1e3, 6)


def _minutes(seconds: float) -> float:
    return round(seconds / 60.0, 6)


def sheet(answer: Answer, system: str = "metric") -> str:
    """Return the answer as a sheet of plain text, at most 78 characters wide."""
    parts = [
        wrapped(headline(answer, system)),
        [] if answer.task.waits else wrapped(need_sentence(answer.task)),
        list(_table(answer, system)),
        list(_counted(answer)),
        [line for text in left_out(answer.task) for line in wrapped(f"left out: {text}", "* ")],
    ]
    return "\n\n".join("\n".join(lines) for lines in parts if lines)


def _table(answer: Answer, system: str) -> Iterator[str]:
    if answer.sets:
        yield f"{'':4}{'gear':>10}{'runs':>12}{'in hand':>12}   verdict"
    for number, found in enumerate(answer.sets, 1):
        governs = governing(found.assessment.limits_with_lead)
        hand = "" if governs is None else shown.mass(governs.in_hand_kg, system, governs.spread_kg)
        run = shown.duration(found.time_s)
        yield f"{number:>3} {mass(found, system):>10}{run:>12}{hand:>12}   {found.assessment.verdict or ''}".rstrip()
        yield from wrapped(" · ".join(name for _, name in found.parts), "      ")
    if answer.more:
        yield f"      and {answer.more} more, heavier and longer-running"


def _counted(answer: Answer) -> Iterator[str]:
    if not answer.task.waits:
        yield f"{works(answer)}.".capitalize().replace("\u202f", " ")
        for number, words in reasons(answer):
            yield f"  {number}: {words}".replace("\u202f", " ")
        if answer.counts.drawn:
            yield f"  (estimated from {answer.counts.drawn} sets drawn at random)"
