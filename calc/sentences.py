"""What a person would say of the answer: one sentence or two for each block.

Nothing is worked out here. Sentences are plain text; whoever puts them into a page escapes them.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import degrees

from calc import digits, units
from calc.assess import Assessment
from calc.subjects.air.answer import AirBlock
from calc.subjects.balance.answer import BalanceBlock
from calc.subjects.growth.answer import Growth
from calc.subjects.limits.allowance import TIE_KG, Limit, governing
from calc.subjects.limits.sure import ChanceBlock, Weighing
from calc.subjects.power.answer import Power, Sway
from calc.subjects.surface.answer import LinkageBlock, SurfaceBlock, holds
from calc.subjects.weights.masses import Total
from calc.wording import field_name, lowered

LIMITS = {
    "share": "share rule",
    "target": "wished flying mass",
    "class_max": "class maximum",
    "loading": "wing loading",
}
ENDS = {
    "reserve": "the reserve is reached",
    "cutoff": "the voltage falls to the cut-off",
    "brownout": "the gear browns out while everything works at once",
}


def headline(assessment: Assessment, system: str = "metric") -> str:
    """Return the answer for the whole installation as a person would say it."""
    return " ".join(headline_parts(assessment, system)).strip()


def headline_parts(assessment: Assessment, system: str = "metric") -> tuple[str, str]:
    """Return the headline in two parts: the verdict, and what is to be added; the second may be empty.

    The verdict is about the grams with the lead that balance takes, how sure that is, and what else fails. Then which
    limit comes first, what is good, what is still open, and what was not asked.
    """
    fails = _sentence("But", [_words(assessment, name, system) for name in assessment.whole.that_are("bad")])
    if assessment.governs is None or assessment.chance is None:
        return " ".join([_no_limit(assessment), *fails]), " ".join(_others(assessment, system))
    grams = _grams(assessment, assessment.chance, system)
    so_far = f"So far: {lowered(grams)}" if open_question(assessment) else grams
    first = _first(assessment.limits, assessment.governs)
    return " ".join([so_far, *fails]), " ".join([first, *_others(assessment, system)])


def _no_limit(assessment: Assessment) -> str:
    lacking = listed([lowered(field_name(path)) for path in assessment.missing.get("limits", ())])
    return f"No limit can be worked out yet: that needs the {lacking.removeprefix('model, ')}."


PART_NAMES = {"run": "run time", "balance": "balance", "strength": "strength"}


def listed(names: Sequence[str]) -> str:
    """Return names in a row, the last after "and".

    Examples
    --------
    >>> listed(["run time", "balance", "strength"]), listed(["balance"])
    ('run time, balance and strength', 'balance')
    """
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names)


def _grams(assessment: Assessment, chance: ChanceBlock, system: str) -> str:
    """Return verdict, margin and chance by weight, lead counted; there is a limit."""
    limits, verdict = assessment.limits_with_lead, assessment.verdict
    narrow = min(limits, key=lambda limit: limit.in_hand_kg)
    in_hand = _margin(narrow, system)
    if verdict == "over":
        said = f"Over by {in_hand}"
    elif verdict == "fits":
        word = "Fits" if assessment.whole.verdict != "fails" else "By weight it fits"
        said = f"{word}, with {in_hand} in hand"
    else:
        said = f"Close: {in_hand} {'over' if narrow.in_hand_kg < 0 else 'in hand'}"
        if narrow.verdict == "fits":
            unsure = next(limit for limit in limits if limit.verdict == "close")
            said += f", but {_margin(unsure, system)} at the {LIMITS[unsure.id]}"
            said += f" is known only to ± {digits.spread(unsure.spread_kg, system)}"
    return f"{said}{_lead_counted(assessment, system)}{_comes_out(assessment, system)}{how_sure(assessment, chance)}"


def _lead_counted(assessment: Assessment, system: str) -> str:
    """Return that lead is counted, and what would be in hand without it."""
    if assessment.lead_kg <= 0.0:
        return ""
    before = min(assessment.limits, key=lambda limit: limit.in_hand_kg)
    side = "over" if before.in_hand_kg < 0 else "in hand"
    lead = f"{digits.mass(assessment.lead_kg, system)} of lead at the {_end(assessment)}"
    return f", {lead} counted (without the lead {_margin(before, system)} {side})"


def _end(assessment: Assessment) -> str:
    ballast = None if assessment.balance is None else assessment.balance.ballast
    return "" if ballast is None else ballast.end


def _comes_out(assessment: Assessment, system: str) -> str:
    """Return the condition that the answer stands on while no airframe is known."""
    kg = assessment.supposed_kg
    return "" if kg is None else f", if the model comes out at {digits.figure(kg, system)}"


def how_sure(assessment: Assessment, found: ChanceBlock) -> str:
    """Return how sure the grams are, and what would settle it; with the full stop that ends the sentence."""
    if found.all in (0.0, 1.0):
        certain = f"{'fits' if found.all else 'is over'} in every case you gave"
        return f", but it {certain}." if assessment.verdict == "close" else ", in every case you gave."
    words = chance_words(found.all)
    if assessment.verdict == "fits":
        return f", {words}." if words == "nearly sure" else f", but the chance is {words}."
    said = f"; {words}{' to fit' if words == 'nearly sure' else ' that it fits'}."
    return said if assessment.verdict == "over" else f"{said} {_settles(found.settle)}"


def chance_words(chance: float) -> str:
    """Return a chance that is neither 0 nor 1, with one denominator everywhere.

    Examples
    --------
    >>> [chance_words(each) for each in (0.999, 0.88, 0.278, 0.06, 0.01)]
    ['nearly sure', 'about 9 in 10', 'about 3 in 10', 'about 1 in 10', 'hardly a chance']
    """
    if chance > NEARLY:
        return "nearly sure"
    if chance < 1.0 - NEARLY:
        return "hardly a chance"
    return f"about {min(9, max(1, round(10.0 * chance)))} in 10"


NEARLY = 0.95  # 19 in 20


def _settles(weigh: Weighing | None) -> str:
    """Return the weighing that would settle most."""
    if weigh is None:
        return "All is weighed: only a finer scale would tell."
    return f"Weigh {the(weigh.name)}: that settles it." if weigh.settles else f"Weigh {the(weigh.name)} first."


def _first(limits: Sequence[Limit], governs: Limit) -> str:
    """Return which limit comes first; of equals all of them."""
    equal = [limit for limit in limits if limit.in_hand_kg - governs.in_hand_kg <= TIE_KG]
    names = [f"the {LIMITS[limit.id]}" for limit in equal]
    text = listed(names)
    text = f"{text[:1].upper()}{text[1:]}"
    if len(limits) == 1:
        return f"{text} decides."
    return f"{text} comes first." if len(equal) == 1 else f"{text} leave the same."


def _others(assessment: Assessment, system: str) -> list[str]:
    """Return what is close, good, open and not asked beside the grams, each as a sentence."""
    found = assessment.whole
    said = _sentence("Just:", [_words(assessment, name, system) for name in found.that_are("close")])
    said += _sentence("It", [GOOD[name] for name in found.that_are("good")])
    said += _sentence("Still open:", [PART_NAMES[name] for name in found.that_are("open")])
    return said + _sentence("Not asked yet:", [PART_NAMES[name] for name in found.that_are("not asked")])


def _sentence(begin: str, names: Sequence[str]) -> list[str]:
    return [f"{begin} {listed(names)}."] if names else []


def _words(assessment: Assessment, name: str, system: str) -> str:
    return PARTS[name](assessment, system)


GOOD = {"run": "runs for the session", "balance": "balances", "strength": "is strong enough"}


def _run_words(assessment: Assessment, system: str) -> str:  # noqa: ARG001 - a time is the same in both systems
    power = assessment.power
    assert power is not None  # else it would be open, or not asked
    if power.gives_too_little:
        return "the converter gives the gear too few volts"
    if power.run.time_s <= 0.0:
        return "the cell cannot run the gear"
    if power.lasts is False:
        return "one cell does not last one flight"
    return "with 10 % less capacity one cell does not last one flight"


def _balance_words(assessment: Assessment, system: str) -> str:
    block = assessment.balance
    assert block is not None  # else it would be open, or not asked
    assert block.off_m is not None
    return f"it is {digits.length(abs(block.off_m), system)} {'tail' if block.off_m > 0 else 'nose'}-heavy"


def _strength_words(assessment: Assessment, system: str) -> str:  # noqa: ARG001
    block = assessment.surface
    assert block is not None  # else it would be open, or not asked
    if block.factor is not None and block.factor < 1.0:
        return f"the actuator has only {digits.times(block.factor)} times the strength it needs"
    if block.enough_throw is False and block.throw_rad is not None:
        return f"the surface moves only {digits.measured(degrees(min(block.throw_rad)))}° of the {_wanted(block)}°"
    return f"the {'push rod' if assessment.linkage and assessment.linkage.kind == 'rod' else 'lines'} would not hold"


def _wanted(block: SurfaceBlock) -> str:
    return digits.given(degrees(block.wanted_rad))


PARTS: Mapping[str, Callable[[Assessment, str], str]] = {
    "run": _run_words, "balance": _balance_words, "strength": _strength_words,
}  # fmt: skip


def _margin(limit: Limit, system: str) -> str:
    """Return what is in hand or over, without its sign."""
    return digits.mass(abs(limit.in_hand_kg), system, limit.spread_kg)


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


def short_headline(assessment: Assessment, system: str = "metric") -> str:
    """Return the answer in a few words, for the bar on a narrow screen."""
    governs, verdict = governing(assessment.limits_with_lead), assessment.verdict
    bad = [PART_NAMES[name] for name in assessment.whole.that_are("bad")]
    if governs is None or verdict is None:
        return f"No limit yet{f'; {listed(bad)} not' if bad else ''}"
    in_hand = _margin(governs, system)
    if governs.in_hand_kg < 0:
        said = f"over by {in_hand}" if verdict == "over" else f"{verdict}, {in_hand} over"
    else:
        said = f"{verdict}, {in_hand} in hand"
    said += " with lead" if assessment.lead_kg > 0 else ""
    said += f", but not {listed(bad)}" if bad else ""
    if not open_question(assessment):
        return f"{said[:1].upper()}{said[1:]}"
    missing = len(assessment.uncounted)
    return f"So far {said}{_missing(missing)}"


def _missing(number: int) -> str:
    return f"; {counted(number, 'mass', 'masses')} missing" if number else ""


def open_question(assessment: Assessment) -> bool:
    """Return whether what is not counted or not read yet could still change the verdict by weight; over stays over."""
    lacks = assessment.uncounted or assessment.missing.get("limits") or assessment.missing.get("class")
    return bool(lacks) and assessment.verdict != "over"


def counted(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun.

    Examples
    --------
    >>> counted(1, "flight"), counted(2, "flight"), counted(2, "mass", "masses")
    ('1 flight', '2 flights', '2 masses')
    """
    return f"{number} {one if number == 1 else many or f'{one}s'}"


def the(name: str) -> str:
    """Return a part's name as it stands in a sentence.

    Examples
    --------
    >>> the("push rod"), the("one cell, 40 mAh"), the("a thread"), the("1.7 g servo")
    ('the push rod', 'one cell, 40 mAh', 'a thread', 'the 1.7 g servo')
    """
    return name if name.split(" ")[0].lower() in ("a", "an", "the", "one", "my", "no") else f"the {name}"


def row_name(kind: str, name: str) -> str:
    """Return what a row is called.

    Examples
    --------
    >>> row_name("servo", ""), row_name("servo", "linear, 1.7 g")
    ('servo', 'linear, 1.7 g')
    """
    return name.strip() or kind


def class_sentence(assessment: Assessment, system: str = "metric") -> str:
    """Return what the class minimum means for this model, and of which year the class's figures are."""
    return f"{_minimum_means(assessment, system)} {_class_year(assessment, system)}".strip()


def _class_year(assessment: Assessment, system: str) -> str:
    """Return the class table's figures that the answer rests on, with their year; empty where it rests on none."""
    found = assessment.class_
    said = [
        f"{name} {digits.rounded(most, 'loading', system, 3) if name == 'loading' else digits.figure(most, system)}"
        for name, most in found.read.items()
    ]
    return f"Class {' and '.join(said)}, {found.as_of}: the current rule book decides." if said else ""


def _minimum_means(assessment: Assessment, system: str) -> str:
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
        what = "gear and lead cost" if assessment.lead_kg > 0 else "the gear costs"
        return (
            f"In a contest {free} of {what} nothing: without it ballast "
            f"would fill the model up to the class minimum of {minimum}."
        )
    return f"The airframe alone reaches the class minimum of {minimum}: every gram of gear is on top."


def growth_sentence(block: Growth, system: str = "metric") -> str:
    """Return how the weighed parts came out beside the plan, and what is still a guess."""
    said = [_came_out(block, system)] if block.rows else []
    if block.guesses:
        told = [f"{guess.name}, {expected(guess.mass, system)}" for guess in block.guesses[:MOST_TOLD]]
        more = len(block.guesses) - len(told)
        said.append(f"Still a guess: {'; '.join(told)}{f'; and {more} more' if more else ''}.")
    return " ".join(said)


def expected(mass: Total, system: str) -> str:
    """Return what a row weighs, as far as it is known."""
    return digits.mass(mass.expected_kg, system, mass.spread_kg)


MOST_TOLD = 3  # guesses named in the sentence


def _came_out(block: Growth, system: str) -> str:
    """Return the change of all together, and the part that has most to do with it; `block.rows` is not empty."""
    change = digits.mass(abs(block.change_kg), system)
    what = block.rows[0].name if len(block.rows) == 1 else "weighed parts"
    if abs(block.change_kg) < SEEN_KG:
        return f"The {what} came out as planned{' together' if len(block.rows) > 1 else ''}."
    grown = block.change_kg > 0
    said = f"The {what} came out {change} {'over' if grown else 'under'} the plan"
    if len(block.rows) == 1:
        return f"{said}."
    most = (max if grown else min)(block.rows, key=lambda row: row.change_kg)
    verb = "grew" if grown else "shrank"
    return f"{said}; {the(most.name)} {verb} most, by {digits.mass(abs(most.change_kg), system)}."


SEEN_KG = 5e-7  # half a milligram; less is not shown


def names_of(assessment: Assessment) -> dict[str, str]:
    """Return what each row of the gear is called, by path."""
    rows = assessment.budget.gear
    return {f"gear.{index}": row_name(row.kind.value, row.name.value) for index, row in enumerate(rows)}


def power_sentence(power: Power, names: Mapping[str, str]) -> str:
    """Return the run time and what it is enough for; `names` says what the rows are called, by path."""
    if power.gives_too_little and power.load.supply is not None:
        gives, needs = digits.given(power.load.supply.volts), digits.given(power.load.min_volts or 0.0)
        return f"The converter gives {gives} V, but the gear needs {needs} V: it never runs."
    if power.run.time_s <= 0:
        return f"This cell cannot run the gear: when full already {ENDS[power.run.ends_by]}."
    most = "at most " if power.at_most else ""
    said = f"The cell runs {most}{digits.duration(power.run.time_s)}, until {ENDS[power.run.ends_by]}"
    said += f"{_not_told(power, names)}{_enough_for(power)}"
    return said + (_guessed_draws(power, names))


def _enough_for(power: Power) -> str:
    """Return what the run is enough for, with the full stop of the sentence before."""
    if power.flights is None or power.plan is None:
        return "."
    each, most = digits.duration(power.plan.on_s), "at most " if power.at_most else ""
    if power.flights == 0:
        return f". That is not one flight of {each}."
    said = f". That is {most}{counted(power.flights, 'flight')} of {each} from one cell"
    if power.plan.pause_equal_s > 0:
        said += ", the radio left on between them"
    if power.cells_needed is None or power.session_flights is None:
        return said + "."
    wanted, least = counted(power.session_flights, "flight"), "at least " if power.at_most else ""
    verb = "takes" if power.session_flights == 1 else "take"
    safe = power.safe_cells
    more = f", {safe} to be safe" if safe is not None and safe > power.cells_needed and not power.at_most else ""
    return f"{said}; {wanted} {verb} {least}{counted(power.cells_needed, 'charged cell')}{more}."


def _rows_of(paths: Iterable[str]) -> list[str]:
    """Return the paths of the rows, each once."""
    return list(dict.fromkeys(".".join(path.split(".")[:2]) for path in paths))


def _not_told(power: Power, names: Mapping[str, str]) -> str:
    """Return whose draw nobody has told, with what that means."""
    if not power.at_most:
        return ""
    called = listed([the(names.get(path, path)) for path in _rows_of(power.untold)])
    return f"; it is less, for nobody has said what {called} draw{'s' if len(_rows_of(power.untold)) == 1 else ''}"


def _guessed_draws(power: Power, names: Mapping[str, str]) -> str:
    """Return whose draw is a guess."""
    if not power.guessed:
        return ""
    called = listed([the(names.get(path, path)) for path in power.guessed])
    return f" The draw of {called} is a guess: measure it."


def plan_sentence(power: Power) -> str:
    """Return when to swap the cell, how many to bring, how long to charge; empty where nothing is to be said."""
    said = [f"Swap the cell {_after(power.swaps)}."] if power.swaps else []
    said += [_to_be_safe(power)] if _to_be_safe(power) else []
    if power.bring is not None:
        least = "at least " if power.at_most else ""
        said.append(f"Bring {least}{power.bring}: one of them is the spare.")
    if power.charge_s is not None:
        said.append(
            f"Charging one again takes at least {digits.duration(power.charge_s)}; the end of a charge is slower."
        )
    return " ".join(said)


def _after(swaps: Sequence[int]) -> str:
    return f"after flight{'s' if len(swaps) > 1 else ''} {listed([str(number) for number in swaps])}"


def _to_be_safe(power: Power) -> str:
    """Return when to swap with less capacity than was taken; empty where that changes nothing."""
    if power.session_flights is None or power.safe_flights is None or not power.flights:
        return ""
    less_s = next(sway.worse_s for sway in power.sways if sway.id == "capacity")
    less = f"with 10 % less capacity it runs {digits.duration(less_s)}"
    if power.safe_flights == 0:
        return f"Too near the edge: {less}, which is not one flight."
    if power.safe_swaps == power.swaps:
        return ""
    swap = "swap it" if power.swaps else "swap the cell"
    return f"To be safe, {swap} {_after(power.safe_swaps)}: {less}."


def sway_sentence(sway: Sway, system: str = "metric") -> str:
    """Return how far one thing moves the run time, and how far it was moved itself.

    Examples
    --------
    >>> sway_sentence(Sway(id="capacity", worse_s=1080.0, better_s=1320.0, worse_by=0.1, better_by=0.1))
    'capacity 10 % less or more: 18 min to 22 min'
    >>> sway_sentence(Sway(id="resistance", worse_s=1200.0, better_s=1205.0, worse_by=2.0, better_by=0.5))
    'resistance double or half: still 20 min'
    """
    worse, better = digits.duration(sway.worse_s), digits.duration(sway.better_s)
    return f"{_moved(sway, system)}: {f'still {worse}' if worse == better else f'{worse} to {better}'}"


def _moved(sway: Sway, system: str) -> str:
    """Return what was changed, and by how much; an end of its range is told."""
    if sway.id == "capacity":
        return "capacity 10 % less or more"
    if sway.id == "resistance":
        return "resistance double or half"
    if sway.id == "busy":
        return f"at work twice{' (at most all the time)' if sway.ended else ''} or half as often"
    colder, warmer = (digits.kelvins(by, system) for by in (sway.worse_by, sway.better_by))
    if not sway.ended:
        return f"{colder} colder or warmer"
    end = "coldest" if sway.worse_by < sway.better_by else "warmest"
    return f"{colder} colder or {warmer} warmer (to the {end} that these sums know)"


def balance_sentence(block: BalanceBlock, system: str = "metric") -> str:
    """Return where it balances, and what puts it right."""
    at = digits.length(block.cg_m, system)
    if block.target_m is None or block.off_m is None:
        return f"It balances at {at}."
    wanted = digits.station(block.target_m, system)
    if block.balanced:
        return f"It balances at {at}, as near to the wanted {wanted} as a fingertip feels."
    heavy = "behind the wanted" if block.off_m > 0 else "ahead of the wanted"
    kind = "tail-heavy" if block.off_m > 0 else "nose-heavy"
    said = f"It balances at {at}, {digits.length(abs(block.off_m), system)} {heavy} {wanted}: {kind}."
    if block.ballast is None:
        end = "nose" if block.off_m > 0 else "tail"
        return f"{said} To work out lead, give a station for it at the {end}, beyond the wanted point."
    lead = digits.mass(block.ballast.mass_kg, system)
    return f"{said} {lead} of lead at the {block.ballast.end} puts it right."


def surface_sentence(block: SurfaceBlock, system: str = "metric") -> str:
    """Return what the surface asks, and how the actuator stands to it."""
    label = units.default_unit("speed", system)
    speed = digits.rounded(block.speed_m_s, "speed", system)
    if block.speed_from == "given":
        speed = f"{digits.given(units.from_si(block.speed_m_s, label, 'speed'), 2)} {label}"
    origin = "in the glide" if block.speed_from == "glide" else "design speed"
    said = f"At {speed} ({origin}) the air turns the surface back with {digits.torque(block.moment_nm, system)}."
    if block.factor is None:
        return said
    said += f" The actuator is {digits.times(block.factor)} times as strong as needed"
    if block.factor < 1.0:
        return f"{said}: too weak."
    if block.far_stronger:
        return f"{said}: a far lighter one would still do."
    glide = block.speed_from == "glide"
    return f"{said} in the glide; a climb or a dive is faster: give a design speed." if glide else f"{said}."


def throw_sentence(block: SurfaceBlock, system: str = "metric") -> str:
    """Return the throw that the arms give, beside the one wanted; empty where it is not known."""
    if block.throw_rad is None:
        return ""
    pull, push = (digits.measured(degrees(each)) for each in block.throw_rad)
    given = f"{pull}°" if pull == push else f"{pull}° one way and {push}° the other"
    said = f"The arms give {given}; {_wanted(block)}° are wanted"
    if block.enough_throw:
        return f"{said}."
    assert block.full_horn_m is not None  # known wherever the throw is
    horn = digits.length(block.full_horn_m, system)
    strong = block.full_factor
    then = "" if strong is None else f", and with it the actuator is {digits.times(strong)} times as strong as needed"
    return f"{said}: not enough. A horn of about {horn} gives them{then}."


def linkage_sentence(block: LinkageBlock, system: str = "metric") -> str:
    """Return how the linkage holds, and the lightest usual choice that would."""
    said = []
    if block.held is not None:
        what = "rod buckles" if block.kind == "rod" else "lines break"
        name = "push rod" if block.kind == "rod" else "pair of lines"
        said.append(
            f"The {name} weighs {digits.mass(block.held.mass_kg, system)}; the {what} at "
            f"{digits.times(block.held.factor)} times the load, and stretch loses {digits.lost(block.held.lost_deg)}: "
            f"by our rule (twice the load, at most 2° lost) it {'holds' if holds(block.held) else 'does not hold'}."
        )
    best = block.lightest
    if best is not None:
        said.append(f"Lightest usual choice that holds: {best.name}, {digits.mass(best.held.mass_kg, system)}.")
    else:
        said.append("None of the usual choices holds: shorten the free length, or use a longer horn.")
    return " ".join(said)


REGIMES = {
    "free": "The gear costs nothing in a contest: ballast up to the class minimum would take its place.",
    "part": "Part of the gear takes the place of ballast and costs nothing; the rest is paid for.",
    "paid": "Every gram of gear is paid for.",
}


def still_air_about(block: AirBlock) -> str:
    """Return the word before a still-air time that no timed flight stands behind."""
    return "" if (block.efficiency_from or block.conditions.glide_factor_from) == "timed" else "about "


def air_sentence(block: AirBlock, system: str = "metric") -> str:
    """Return what the model does in the air and what the gear costs."""
    lead = f"With {digits.mass(block.lead_kg, system)} of lead it" if block.lead_kg > 0 else "It"
    speed, sink = (digits.rounded(each, "speed", system) for each in (block.speed_m_s, block.sink_m_s))
    said = f"{lead} flies {speed} and sinks {sink}."
    if block.time_s is None or block.time_without_gear_s is None or block.time_kept is None:
        return said
    about = still_air_about(block)
    kept, without = (digits.figures(each) for each in (block.time_s, block.time_without_gear_s))
    said += f" Still-air time {about}{kept} s; without the gear {about}{without} s."
    said += "" if not about else " These times are good to a factor of two: no flight was timed."
    said += f" {REGIMES[block.regime]}"
    if block.per_gram_s is not None and block.per_gram_s < -0.05:
        next_ = "tenth of an ounce" if system == "imperial" else "gram"
        takes_s = -block.per_gram_s * (units.to_si(0.1, "oz", "mass") / 0.001 if system == "imperial" else 1.0)
        said += f" The next {next_} takes {about}{digits.measured(takes_s)} s."
    return said
