"""The finder's answer in words, as a plain-text sheet and as plain data with the unit in each key.

What a set leaves in hand has the lead counted that balancing it takes, where stations are known.
"""

from collections.abc import Iterable, Iterator

from calc import digits, wording
from calc.english import counted, listed, wrapped
from calc.headline import PART_NAMES
from calc.search.finder import Answer, WorkingSet
from calc.search.slots import Task
from calc.subjects.limits import words as limit_words
from calc.subjects.limits.allowance import Limit, governing
from calc.subjects.power import words as power_words
from calc.subjects.room.answer import RoomBlock
from calc.subjects.weights.words import names_of
from calc.unit_system import UnitSystem

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
    "no_draw_given": "it does not say what it draws",
    "no_strength": "its strength is not given: it cannot be compared with what the surface asks",
    "no_need": "what the surface asks of such a servo is not known, for want of: {arms}",
    "barred": "barred, as you asked",
    "too_large": "it goes into none of the bays, even alone",
}
WAITS = {
    "no_parts": "the box holds no part for this budget: a receiver, a servo or coil actuator, a linkage …",
    "no_cell": "neither the box nor the budget has a cell with a mass and a capacity",
    "kept_left_out": "a part to be kept is left out of the search",
    "all_left_out": "all that the box has of a kind that is needed is left out",
    "nothing_left": "nothing may stand in one of the places with the parts kept, barred or asked for",
}
NOT_COUNTED = {
    "receiver": "No receiver is counted: neither the box nor the budget has one.",
    "actuator": "No servo, coil actuator or timer is counted: neither the box nor the budget has one that will do.",
    "linkage": "Servos are counted without a linkage: neither the box nor the budget has one.",
    "cell_log": "The cell log is left aside: it was written with the gear that is aboard now.",
    "cell_log_worse": "The cell log is left aside: it was written with the gear that is aboard now. It tells of a "
    "shorter run than was planned; these sets may well run shorter, too.",
}


def waits(task: Task) -> tuple[str, ...]:
    """Return what must be there before anything can be searched, as clauses."""
    said = [WAITS.get(path) or wording.field_name(path) for path in task.waits if path != "no_such_part"]
    return (*(f"“{name}” is neither in the box nor in the budget" for name in task.unknown), *said)


def not_counted(task: Task) -> tuple[str, ...]:
    """Return what no set holds although it should, in sentences."""
    return tuple(NOT_COUNTED[kind] for kind in task.not_counted)


def too_large(answer: Answer) -> tuple[str, ...]:
    """Return how many sets were proved too large for the bays, and whether all were looked at; nothing if none was."""
    said = []
    if answer.too_large:
        sets = counted(answer.too_large, "set", "sets")
        said.append(f"Left out, for it is proved that the bays do not hold them: {sets}, and all with parts as large.")
    if not answer.all_looked_at:
        said.append("Not every set was looked at for the bays: a better one that goes in may be missing.")
    return tuple(said)


def left_out(task: Task) -> tuple[str, ...]:
    """Return the parts that were left out, each with its reason."""
    arms = _fields(task.strength.arms)
    return tuple(f"{name}: {LEFT_OUT[code].format(arms=arms)}" for name, code in task.left_out)


def need_sentence(task: Task) -> str:
    """Return what one charge must do, and whether strength was looked at."""
    need = task.need
    flights = "one flight" if need.flights == 1 else f"{need.flights} flights"
    said = f"One charge must do {flights} of {digits.duration(need.on_s)}."
    if need.flights == 0:
        said = "Any run counts: the session gives no time for a flight."
    if not task.strength_asked:
        said += " Strength is not looked at, since the budget does not say what the surface asks."
        if task.strength.missing:
            said += f" Missing: {_fields(task.strength.missing)}."
    if task.strength_untold:
        said += f" The budget’s own actuator is not compared with that: {_fields(task.strength_untold)} is not known."
    return said


def _fields(paths: Iterable[str]) -> str:
    return "; ".join(wording.lowered(wording.field_name(path)) for path in paths)


def headline(answer: Answer, system: UnitSystem) -> str:
    """Return the outcome in a sentence or two."""
    counts = answer.counts
    if answer.task.waits:
        return f"Nothing can be searched yet: {'; '.join(waits(answer.task))}."
    if not answer.sets and (answer.too_large or not answer.all_looked_at):
        which = "of them" if answer.all_looked_at else "that was looked at"
        return f"There are sets that work, but none {which} goes into the bays."
    if not answer.sets:
        return f"None of {grouped(counts.total)} sets works." if counts.total != 1 else "The only set does not work."
    said = _lightest(answer, system)
    if len(answer.sets) == 1 and not answer.more:
        return f"{said}; no other is lighter or runs longer."
    longest = answer.sets[-1]
    word = "the last shown" if answer.more else "the longest runner"
    return f"{said}; {word} weighs {mass(longest, system)} and runs {runs(longest)}."


def _lightest(answer: Answer, system: UnitSystem) -> str:
    """Return what the lightest set is, and if it is too heavy by how much."""
    lightest = answer.sets[0]
    weighs, its_run = mass(lightest, system), runs(lightest)
    governs = governing(lightest.assessment.limits_with_lead)
    if governs is None or lightest.by_weight != "over":
        fails = f", but fails in {listed([PART_NAMES[name] for name in lightest.fails])}" if lightest.fails else ""
        return f"The lightest set that works weighs {weighs} and runs {its_run}{fails}"
    over = in_hand(governs, system)
    light_enough = next((found for found in answer.sets if found.by_weight != "over"), None)
    if light_enough is None:
        whole = "of those shown " if answer.more else ""
        return f"The sets run, but none {whole}fits: the lightest weighs {weighs}, is {over} and runs {its_run}"
    said = f"The lightest set that runs weighs {weighs}, but is {over} with its lead; it runs {its_run}"
    return f"{said}; the lightest that is not over weighs {mass(light_enough, system)}"


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
    counts = answer.counts
    if counts.total == 1:
        return "the only set works" if counts.works else "the only set does not work"
    about, verb = "about " if counts.drawn else "", "works" if counts.works == 1 else "work"
    return f"{about}{_rounded(counts.works, answer)} of {grouped(counts.total)} sets {verb}"


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


def why(found: WorkingSet, system: UnitSystem) -> str:
    """Return why a set works: strength, voltage, run."""
    said = []
    surface, power = found.assessment.surface, found.assessment.power
    if surface is not None and surface.factor is not None:
        said.append(f"actuator {digits.times(surface.factor)} times as strong as needed")
    assert power is not None  # else it would not work
    assert power.lowest_v is not None
    needed = power.load.least_volts(power.source)
    most = "at most " if found.at_most else ""
    lowest = f"lowest voltage {most}{digits.volts(power.lowest_v)}"
    said.append(f"{lowest}, {digits.given(needed)} V needed" if needed and needed < 30.0 else lowest)
    if power.flights is not None and power.plan is not None:
        flights = "one flight" if power.flights == 1 else f"{power.flights} flights"
        worst = "" if found.at_most or power.flights == power.flights_usual else "at worst "
        said.append(f"{most}{worst}{flights} of {digits.duration(power.plan.on_s)} from one charge")
    said += asides(found)
    governs = governing(found.assessment.limits_with_lead)
    if governs is not None:
        lead = f", {system.mass(found.assessment.lead_kg)} of lead counted" if found.assessment.lead_kg else ""
        said.append(f"{in_hand(governs, system)}, {limit_words.LIMITS[governs.id]}{lead}")
    text = "; ".join(said)
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith('?') else '.'}"


def asides(found: WorkingSet) -> tuple[str, ...]:
    """Return what is said beside a set: how many tie with it, and which parts of the box stand in it twice."""
    said = [f"“{name}” of the box stands in more than one place: have you got as many?" for name in found.twice]
    if found.ties > 1:
        more = found.ties - 1
        each = "set is as light and runs" if more == 1 else "sets are as light and run"
        said.insert(0, f"{grouped(more)} other {each} as long")
    said[:0] = _unsure(found)
    if found.fails:
        said.insert(0, f"fails in {listed([PART_NAMES[name] for name in found.fails])}")
    return tuple(said)


def _unsure(found: WorkingSet) -> Iterator[str]:
    """Yield what a set stands on that nobody has said."""
    room = found.assessment.of(RoomBlock)
    if room is not None and room.answer == "not_found":
        yield "whether it goes into the bays was not found"
    elif room is not None and not room.complete:
        yield "whether it goes into the bays is open: sizes are missing"
    power = found.assessment.power
    assert power is not None  # else it would not work
    if power.quiet_only:
        yield f"it will run shorter: at work {_named(found, power.quiet_only)} draws more than the quiet draw given"
    if power.no_least_volts:
        yield f"brown-out not looked at for {_named(found, power.no_least_volts)}: no lowest voltage given"
    if power.resistance_assumed:
        yield "the cell’s resistance is assumed"
    if power.resistance_from == "meter":
        yield "the cell’s resistance is known at 1 kHz alone"
    if any(notice.code == "resistance_low" for notice in found.assessment.notices):
        yield "it will run shorter: the cell’s resistance is less than any looked at has under a load"


def _named(found: WorkingSet, paths: Iterable[str]) -> str:
    names = names_of(found.assessment)
    return listed([f"“{names[path]}”" for path in paths])


def in_hand(limit: Limit, system: UnitSystem) -> str:
    """Return what is left under a limit, in words."""
    size = system.mass(abs(limit.in_hand_kg), limit.spread_kg)
    return f"{size} {'over' if limit.in_hand_kg < 0 else 'in hand'}"


def runs(found: WorkingSet) -> str:
    """Return how long a set runs at worst; that it is an upper bound where it is one."""
    power = found.assessment.power
    assert power is not None  # else it would not work
    return power_words.runs_at_worst(power)


def mass(found: WorkingSet, system: UnitSystem) -> str:
    """Return what a set weighs."""
    return system.mass(found.mass_kg, found.assessment.gear.spread_kg)


def plain_text(answer: Answer, system: UnitSystem) -> str:
    """Return the answer as a sheet of plain text, at most 78 characters wide."""
    parts = [
        wrapped(headline(answer, system)),
        [line for text in (*not_counted(answer.task), *too_large(answer)) for line in wrapped(text)],
        [] if answer.task.waits else wrapped(need_sentence(answer.task)),
        list(_table(answer, system)),
        list(_counted(answer)),
        [line for text in left_out(answer.task) for line in wrapped(f"left out: {text}", "* ")],
    ]
    return "\n\n".join("\n".join(lines) for lines in parts if lines)


def _table(answer: Answer, system: UnitSystem) -> Iterator[str]:
    if answer.sets:
        yield f"{'':4}{'gear':>10}{'runs at worst':>15}{'in hand':>12}   fits?"
    for number, found in enumerate(answer.sets, 1):
        governs = governing(found.assessment.limits_with_lead)
        hand = "" if governs is None else system.mass(governs.in_hand_kg, governs.spread_kg)
        run = f"{'≤ ' if found.at_most else ''}{digits.duration(found.time_s)}"
        yield f"{number:>3} {mass(found, system):>10}{run:>15}{hand:>12}   {found.verdict or ''}".rstrip()
        yield from wrapped(" · ".join(name for _, name in found.parts), "      ")
        yield from (line for text in asides(found) for line in wrapped(text, "      "))
    if answer.more:
        yield f"      {more(answer)}"


def more(answer: Answer) -> str:
    """Return how many best sets are not shown; whether they go into the bays was not looked at."""
    bays = ", not looked at for the bays" if answer.now.budget.bays else ""
    return f"and {answer.more} more, heavier and longer-running{bays}" if answer.more else ""


def _counted(answer: Answer) -> Iterator[str]:
    if not answer.task.waits:
        yield f"{works(answer)}.".capitalize().replace("\u202f", " ")
        for number, words in reasons(answer):
            yield f"  {number}: {words}".replace("\u202f", " ")
        if answer.counts.drawn:
            yield f"  (estimated from {answer.counts.drawn} sets drawn at random)"
