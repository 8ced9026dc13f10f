"""What a person would say of the answer: one sentence or two for each block.

Nothing is worked out here. Sentences are plain text; whoever puts them into a page escapes them.
"""

from math import degrees

from calc import shown, units
from calc.allowance import Limit, governing, worst
from calc.assess import Assessment
from calc.blocks.air import AirBlock
from calc.blocks.balance import BalanceBlock
from calc.blocks.growth import Growth
from calc.blocks.power import Power, Sway
from calc.blocks.surface import LinkageBlock, SurfaceBlock, holds
from calc.masses import Total
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
    """Return the answer as a person would say it; what lead for balance does to it is part of the answer."""
    governs = assessment.governs
    if governs is None:
        lacking = " and ".join(lowered(field_name(path)) for path in assessment.missing.get("limits", ()))
        return f"No limit can be worked out yet: that needs the {lacking.removeprefix('model, ')}."
    before = _words(assessment.limits, system)
    said = _with_lead(assessment, before, system) if assessment.lead_kg > 0 else before
    name = LIMITS[governs.id]
    bites = f"The {name} bites first." if len(assessment.limits) > 1 else f"The {name} decides."
    return f"{'So far: ' + lowered(said) if open_question(assessment) else said} {bites}"


def _with_lead(assessment: Assessment, before: str, system: str) -> str:
    """Return the words before, and what the lead at one end makes of them."""
    lead = f"{shown.mass(assessment.lead_kg, system)} of lead at the {_end(assessment)}"
    after = governing(assessment.limits_with_lead)
    if after is not None and assessment.verdict == assessment.verdict_before_lead == "fits":
        return f"{before.rstrip('.')}, {_margin(after, system)} with {lead}."
    words = lowered(_words(assessment.limits_with_lead, system))
    if assessment.verdict == assessment.verdict_before_lead:
        return f"{before.rstrip('.')}; with {lead} {words}"
    return f"{before.rstrip('.')}, but not once it balances: with {lead} {words}"


def _end(assessment: Assessment) -> str:
    ballast = None if assessment.balance is None else assessment.balance.ballast
    return "" if ballast is None else ballast.end


def _words(limits: tuple[Limit, ...], system: str) -> str:
    """Return verdict and margin; `limits` holds at least one."""
    governs, verdict = min(limits, key=lambda limit: limit.in_hand_kg), worst(limits)
    in_hand = _margin(governs, system)
    if verdict == "over":
        return f"Over by {in_hand}."
    if verdict == "fits":
        return f"Fits, with {in_hand} in hand."
    known = f"known only to ± {shown.spread(governs.spread_kg, system)}"
    if governs.verdict == "fits":
        unsure = next(limit for limit in limits if limit.verdict == "close")
        return (
            f"Close: {in_hand} in hand, but {_margin(unsure, system)} at the {LIMITS[unsure.id]} "
            f"is known only to ± {shown.spread(unsure.spread_kg, system)}. Weigh what is not weighed."
        )
    side = f"{in_hand} over" if governs.in_hand_kg < 0 else f"{in_hand} in hand"
    return f"Close: {side}, {known}. Weigh what is not weighed."


def _margin(limit: Limit, system: str) -> str:
    """Return what is in hand or over, without its sign."""
    return shown.mass(abs(limit.in_hand_kg), system, limit.spread_kg)


def short_headline(assessment: Assessment, system: str = "metric") -> str:
    """Return the answer in a few words, for the bar on a narrow screen."""
    governs, verdict = governing(assessment.limits_with_lead), assessment.verdict
    if governs is None or verdict is None:
        return "No limit yet"
    in_hand = _margin(governs, system)
    if governs.in_hand_kg < 0:
        said = f"over by {in_hand}" if verdict == "over" else f"{verdict}, {in_hand} over"
    else:
        said = f"{verdict}, {in_hand} in hand"
    said += " with lead" if assessment.lead_kg > 0 else ""
    if not open_question(assessment):
        return said.capitalize()
    missing = len(assessment.uncounted)
    return f"So far {said}; {missing} {'mass' if missing == 1 else 'masses'} missing"


def open_question(assessment: Assessment) -> bool:
    """Return whether what is not counted yet could still change the verdict; over stays over."""
    return bool(assessment.uncounted) and assessment.verdict != "over"


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
        f"{name} {shown.rounded(most, 'loading', system, 3) if name == 'loading' else shown.figure(most, system)}"
        for name, most in found.read.items()
    ]
    return f"Class {' and '.join(said)}, {found.as_of}: the current rule book decides." if said else ""


def _minimum_means(assessment: Assessment, system: str) -> str:
    found = assessment.class_
    if found.minimum_kg is None or found.short_kg is None or found.free_kg is None:
        return ""
    if found.use == "sport":
        return "Flown for sport it need not reach the class minimum: no ballast, and every gram of gear is on top."
    minimum = shown.figure(found.minimum_kg, system)
    short, free = (shown.mass(each, system, assessment.model.spread_kg) for each in (found.short_kg, found.free_kg))
    if 0 < found.short_kg < assessment.lead_kg:
        return (
            f"Flying mass is {short} below the class minimum of {minimum}; "
            "the lead for balance is more than that, and the rest of it is paid for."
        )
    if found.short_kg > 0:
        return (
            f"Flying mass is {short} below the class minimum of {minimum}: "
            "in a contest that much ballast goes in anyway, so all the gear costs nothing."
        )
    if found.free_kg > 0:
        return (
            f"In a contest {free} of the gear costs nothing: without it ballast "
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
    return shown.mass(mass.expected_kg, system, mass.spread_kg)


MOST_TOLD = 3  # guesses named in the sentence


def _came_out(block: Growth, system: str) -> str:
    """Return the change of all together, and the part that has most to do with it; `block.rows` is not empty."""
    change = shown.mass(abs(block.change_kg), system)
    what = block.rows[0].name if len(block.rows) == 1 else "weighed parts"
    if abs(block.change_kg) < SEEN_KG:
        return f"The {what} came out as planned{' together' if len(block.rows) > 1 else ''}."
    grown = block.change_kg > 0
    said = f"The {what} came out {change} {'over' if grown else 'under'} the plan"
    if len(block.rows) == 1:
        return f"{said}."
    most = (max if grown else min)(block.rows, key=lambda row: row.change_kg)
    verb = "grew" if grown else "shrank"
    return f"{said}; {most.name} {verb} most, by {shown.mass(abs(most.change_kg), system)}."


SEEN_KG = 5e-7  # half a milligram; less is not shown


def power_sentence(power: Power) -> str:
    """Return the run time and what it is enough for."""
    if power.run.time_s <= 0:
        return f"This cell cannot run the gear: when full already {ENDS[power.run.ends_by]}."
    said = f"The cell runs {shown.duration(power.run.time_s)}, until {ENDS[power.run.ends_by]}."
    if power.flights is None or power.plan is None:
        return said
    each = shown.duration(power.plan.on_s)
    if power.flights == 0:
        return f"{said} That is not one flight of {each}."
    said += f" That is {_counted(power.flights, 'flight')} of {each} from one cell"
    if power.plan.pause_equal_s > 0:
        said += ", the radio left on between them"
    if power.cells_needed is None or power.session_flights is None:
        return said + "."
    wanted = _counted(power.session_flights, "flight")
    return f"{said}; {wanted} take {_counted(power.cells_needed, 'charged cell')}, and a spare."


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def plan_sentence(power: Power) -> str:
    """Return when to swap the cell, how many to bring, how long to charge; empty where nothing is to be said."""
    said = []
    if power.swaps:
        after = [str(number) for number in power.swaps]
        listed = after[0] if len(after) == 1 else f"{', '.join(after[:-1])} and {after[-1]}"
        said.append(f"Swap the cell after flight{'s' if len(after) > 1 else ''} {listed}.")
    if power.cells_needed is not None:
        said.append(f"Bring {power.cells_needed + 1}: one is the spare.")
    if power.charge_s is not None:
        said.append(
            f"Charging one again takes at least {shown.duration(power.charge_s)}; the end of a charge is slower."
        )
    return " ".join(said)


SWAYS = {
    "capacity": "capacity 10 % less or more",
    "temperature": "10 °C colder or warmer",
    "resistance": "resistance double or half",
    "busy": "at work twice or half as often",
}


def sway_sentence(sway: Sway, system: str = "metric") -> str:
    """Return how far one thing moves the run time.

    Examples
    --------
    >>> sway_sentence(Sway(id="capacity", worse_s=1080.0, better_s=1320.0))
    'capacity 10 % less or more: 18 min to 22 min'
    >>> sway_sentence(Sway(id="resistance", worse_s=1200.0, better_s=1205.0))
    'resistance double or half: still 20 min'
    """
    what = SWAYS[sway.id].replace("10 °C", "18 °F") if system == "imperial" else SWAYS[sway.id]
    worse, better = shown.duration(sway.worse_s), shown.duration(sway.better_s)
    return f"{what}: still {worse}" if worse == better else f"{what}: {worse} to {better}"


def balance_sentence(block: BalanceBlock, system: str = "metric") -> str:
    """Return where it balances, and what puts it right."""
    at = shown.length(block.cg_m, system)
    if block.target_m is None or block.off_m is None:
        return f"It balances at {at}."
    wanted = shown.station(block.target_m, system)
    if block.balanced:
        return f"It balances at {at}, as near to the wanted {wanted} as a fingertip feels."
    heavy = "behind the wanted" if block.off_m > 0 else "ahead of the wanted"
    kind = "tail-heavy" if block.off_m > 0 else "nose-heavy"
    said = f"It balances at {at}, {shown.length(abs(block.off_m), system)} {heavy} {wanted}: {kind}."
    if block.ballast is None:
        end = "nose" if block.off_m > 0 else "tail"
        return f"{said} To work out lead, give a station for it at the {end}, beyond the wanted point."
    lead = shown.mass(block.ballast.mass_kg, system)
    return f"{said} {lead} of lead at the {block.ballast.end} puts it right."


def surface_sentence(block: SurfaceBlock, system: str = "metric") -> str:
    """Return what the surface asks, and how the actuator stands to it."""
    label = units.default_unit("speed", system)
    speed = shown.rounded(block.speed_m_s, "speed", system)
    if block.speed_from == "given":
        speed = f"{shown.given(units.from_si(block.speed_m_s, label, 'speed'), 2)} {label}"
    origin = "in the glide" if block.speed_from == "glide" else "design speed"
    said = f"At {speed} ({origin}) the air turns the surface back with {shown.torque(block.moment_nm, system)}."
    if block.factor is None:
        return said
    said += f" The actuator is {shown.times(block.factor)} times as strong as needed"
    if block.factor < 1.0:
        return f"{said}: too weak."
    return f"{said}: a far lighter one would still do." if block.far_stronger else f"{said}."


def throw_sentence(block: SurfaceBlock, wanted_rad: float) -> str:
    """Return the throw that the arms give, beside the one wanted; empty where it is not known."""
    if block.throw_rad is None:
        return ""
    pull, push = (shown.measured(degrees(each)) for each in block.throw_rad)
    given = f"{pull}°" if pull == push else f"{pull}° one way and {push}° the other"
    wanted = degrees(wanted_rad)
    enough = min(float(pull), float(push)) >= wanted - 0.05  # as shown: the arms are not known better
    return f"The arms give {given}; {shown.given(wanted)}° are wanted{'' if enough else ': not enough'}."


def linkage_sentence(block: LinkageBlock, system: str = "metric") -> str:
    """Return how the linkage holds, and the lightest usual choice that would."""
    said = []
    if block.held is not None:
        what = "rod buckles" if block.kind == "rod" else "lines break"
        name = "push rod" if block.kind == "rod" else "pair of lines"
        said.append(
            f"The {name} weighs {shown.mass(block.held.mass_kg, system)}; the {what} at "
            f"{shown.times(block.held.factor)} times the load, and stretch loses {shown.lost(block.held.lost_deg)}: "
            f"by our rule (twice the load, at most 2° lost) it {'holds' if holds(block.held) else 'does not hold'}."
        )
    best = block.lightest
    if best is not None:
        said.append(f"Lightest usual choice that holds: {best.name}, {shown.mass(best.held.mass_kg, system)}.")
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
    lead = f"With {shown.mass(block.lead_kg, system)} of lead it" if block.lead_kg > 0 else "It"
    speed, sink = (shown.rounded(each, "speed", system) for each in (block.speed_m_s, block.sink_m_s))
    said = f"{lead} flies {speed} and sinks {sink}."
    if block.time_s is None or block.time_without_gear_s is None or block.time_kept is None:
        return said
    about = still_air_about(block)
    kept, without = (shown.figures(each) for each in (block.time_s, block.time_without_gear_s))
    said += f" Still-air time {about}{kept} s; without the gear {about}{without} s."
    said += f" {REGIMES[block.regime]}"
    if block.per_gram_s is not None and block.per_gram_s < -0.05:
        # a tenth of an ounce is 2.835 g
        next_ = "tenth of an ounce" if system == "imperial" else "gram"
        takes_s = -block.per_gram_s * (2.8349523125 if system == "imperial" else 1.0)
        said += f" The next {next_} takes {about}{shown.measured(takes_s)} s."
    return said
