"""The edge in words: shown quantities, labels of fields, and the sentence for each problem, notice and verdict.

Nothing is worked out here. Sentences are plain text; whoever puts them into a page escapes them.
"""

from collections.abc import Mapping
from typing import Any

from calc import shown, units
from calc.allowance import Limit
from calc.assess import Assessment
from calc.blocks.notices import Notice
from calc.blocks.power import Power
from calc.errors import Problem

LABELS = {
    "format": "Format", "name": "Name of this budget", "units": "Units", "scale_division": "Scale division",
    "model": "Model", "rule": "Rule", "gear": "Gear", "cell": "Cell", "session": "Session", "balance": "Balance",
    "model.class": "Class", "model.radio": "Radio is for", "model.airframe": "Airframe without gear",
    "model.airframe_known_by": "Airframe known by", "model.target": "Wished flying mass", "model.rubber": "Rubber",
    "model.wing_area": "Wing area", "model.max_loading": "Greatest wing loading",
    "model.minimum": "Minimum in my rule book", "model.maximum": "Maximum in my rule book",
    "rule.share": "Share for the gear",
    "gear.kind": "Kind", "gear.name": "Name", "gear.count": "Count", "gear.mass": "Mass of one",
    "gear.known_by": "Known by", "gear.station": "Station from the nose", "gear.draw": "Draws when quiet",
    "gear.busy_draw": "Draws at work", "gear.busy": "Share of time at work", "gear.min_volts": "Works down to",
    "gear.off": "Left out",
    "cell.name": "Name", "cell.mass": "Mass", "cell.known_by": "Known by", "cell.station": "Station from the nose",
    "cell.capacity": "Capacity", "cell.resistance": "Resistance at 25 °C", "cell.cutoff": "Cut-off voltage",
    "session.flights": "Flights wanted", "session.on_time": "Radio on, each flight",
    "session.temperature": "Temperature", "session.reserve": "Charge kept in reserve",
    "balance.airframe_at": "Airframe balances at", "balance.rubber_at": "Rubber sits at",
    "balance.target": "Wanted balance point", "balance.nose_at": "Nose ballast at",
    "balance.tail_at": "Tail ballast at",
}  # fmt: skip

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
KINDS_OF_QUANTITY = {
    "mass": "a mass", "length": "a length", "area": "an area", "loading": "a wing loading", "current": "a current",
    "voltage": "a voltage", "resistance": "a resistance", "charge": "a capacity", "time": "a time",
    "temperature": "a temperature", "ratio": "a percentage",
}  # fmt: skip

SENTENCES = {
    "not_a_budget": "This is not a budget: it should be a JSON object as in the examples.",
    "not_json": "This is not JSON text.",
    "too_large": "This is too large for a budget: at most {most} characters.",
    "too_deep": "This is nested too deeply for a budget.",
    "not_a_block": "This should be a group of fields.",
    "not_a_list": "This should be a list of rows.",
    "too_many_rows": "{count} rows are more than a budget holds; the first {most} are used.",
    "unknown_field": "There is no such field.{near_sentence}",
    "not_a_value": "This should be one text or number, not a group or a list.",
    "missing": "This is needed, with its unit: for example {example}.",
    "empty": "This needs a number: for example {example}.",
    "too_long": "“{typed}” is too long for a quantity: at most {most} characters.",
    "not_a_number": "“{typed}” cannot be read as {kind}: write for example {example}.",
    "two_ways": "“{typed}” can be read in two ways: write {point} or {none}.",
    "unknown_unit": "“{unit}” is not a unit of {kind}: write for example {example}.",
    "other_dimension": "“{typed}” is {other_kind}; this field needs {kind}: for example {example}.",
    "out_of_range": "“{typed}” is outside what makes sense here: {range}.",
    "not_whole": "“{typed}” should be a whole number from {low} to {high}.",
    "not_text": "“{typed}” should be a text.",
    "text_too_long": "A text of {length} characters is too long: at most {most}.",
    "not_a_choice": "“{typed}” is none of the choices: {choices_listed}.",
    "not_a_flag": "“{typed}” should be true or false.",
    "link_too_long": "The link is too long ({length} characters, at most {most}).",
    "link_not_budget": "This address holds no budget.",
    "link_damaged": "The link is damaged: some letters were lost or changed on the way. Ask for it again.",
    "link_too_large": "The link unpacks to more than a budget can be.",
    "link_format": "The link was made in format {format}; this edition reads format {known}. Load the page anew.",
    "inside": "Something went wrong inside the program ({what}). What you typed is kept.",
    "unknown_method": "The page asked for something this edition does not have. Load the page anew.",
}

NOTICES = {
    "radio_sport": "In contests of this class ({class}) the radio may, by common practice, only trip the "
    "dethermaliser. With steering it is a sport model built to the class’s sizes. Check your current rule book.",
    "radio_ask": "What radio may do in contests of this class ({class}) was not found. Check your current rule book.",
    "rubber_over": "The rubber, {rubber}, is more than the class allows ({most}).",
    "uk_flyer": "Ready to fly it weighs {mass}: from {threshold} on the United Kingdom asks the flyer for an ID "
    "(as read in one secondary source). The local code decides.",
    "eu_uk_250": "Ready to fly it weighs {mass}: from {threshold} on more rules for unmanned aircraft apply in the "
    "European Union and the United Kingdom. The local code decides.",
    "us_055": "Ready to fly it weighs {mass}: above 0.55 lb ({threshold}) the USA asks for registration "
    "(14 CFR 48.15). The local code decides.",
    "below_freezing": "Below 0 °C real cells can be far worse than this sum says: keep them warm until the flight, "
    "and never charge them cold.",
    "resistance_assumed": "The cell’s resistance is not known; {resistance} was assumed from its capacity and the "
    "temperature. Small cells differ by a factor of two either way.",
}


def field_name(path: str) -> str:
    """Return a field's name as a person would say it.

    Examples
    --------
    >>> field_name("gear.1.mass"), field_name("cell.capacity"), field_name("gear.0.mess")
    ('Gear row 2, mass of one', 'Cell, capacity', 'Gear row 1, “mess”')
    """
    parts = path.split(".")
    if parts[0] == "gear" and len(parts) > 1 and parts[1].isdigit():
        row, key = f"Gear row {int(parts[1]) + 1}", ".".join(parts[2:])
        return f"{row}, {_lowered(LABELS.get(f'gear.{key}', f'“{key}”'))}" if key else row
    if path == "gear.draw":
        return "Gear, the current that at least one part draws"
    if not path:
        return "The budget"
    label = LABELS.get(path, f"“{parts[-1]}”")
    return f"{LABELS[parts[0]]}, {_lowered(label)}" if len(parts) > 1 and parts[0] in LABELS else label


def _lowered(label: str) -> str:
    return label[:1].lower() + label[1:]


def sentence(code: str, facts: Mapping[str, Any]) -> str:
    """Return the sentence for a problem or a link error."""
    words = {**facts}
    dimension = facts.get("dimension")
    words.setdefault("example", "1.2 g")
    if dimension:
        words["kind"] = KINDS_OF_QUANTITY[dimension]
        words["example"] = units.DIMENSIONS[dimension].example
    if "other" in facts:
        words["other_kind"] = KINDS_OF_QUANTITY[facts["other"]]
    if code == "out_of_range":
        words["range"] = _range(facts)
    if "near" in facts:
        words["near_sentence"] = f" Was “{facts['near']}” meant?" if facts["near"] else ""
    if "choices" in facts:
        words["choices_listed"] = ", ".join(facts["choices"])
    return SENTENCES[code].format_map(words)


def _range(facts: Mapping[str, Any]) -> str:
    """Return an allowed range in the unit that was typed."""
    unit, dimension = facts["unit"], facts["dimension"]
    low = f"{units.from_si(facts['low'], unit, dimension):.4g}".replace("-", "−")
    high = f"{units.from_si(facts['high'], unit, dimension):.6g}".replace("-", "−")
    return f"above {low} {unit}, up to {high} {unit}" if facts["above"] else f"from {low} {unit} to {high} {unit}"


def problem(found: Problem) -> str:
    """Return a problem as one line: the field's name and the sentence."""
    return f"{field_name(found.field)}: {sentence(found.code, found.facts)}"


def notice(found: Notice, system: str = "metric") -> str:
    """Return a notice's sentence."""
    words = dict(found.facts)
    for key, value in found.facts.items():
        if key.endswith("_kg"):
            words[key.removesuffix("_kg")] = shown.figure(value, system)
        elif key.endswith("_ohm"):
            words[key.removesuffix("_ohm")] = f"{value:.2f} Ω"
    return NOTICES[found.code].format_map(words)


def headline(assessment: Assessment, system: str = "metric") -> str:
    """Return the answer as a person would say it."""
    governs = assessment.governs
    if governs is None:
        lacking = " and ".join(_lowered(field_name(path)) for path in assessment.missing.get("limits", ()))
        return f"No limit can be worked out yet: that needs the {lacking.removeprefix('model, ')}."
    said = _verdict_words(assessment, governs, system)
    more = f" {_bites(assessment, governs)}"
    return f"{'So far: ' + _lowered(said) if open_question(assessment) else said}{more}"


def _verdict_words(assessment: Assessment, governs: Limit, system: str) -> str:
    in_hand = shown.mass(abs(governs.in_hand_kg), system)
    if assessment.verdict == "over":
        return f"Over by {in_hand}."
    if assessment.verdict == "fits":
        return f"Fits, with {in_hand} in hand."
    known = f"known only to ± {shown.mass(governs.spread_kg, system)}"
    if governs.verdict == "fits":
        unsure = next(limit for limit in assessment.limits if limit.verdict == "close")
        return (
            f"Close: {in_hand} in hand, but {shown.mass(unsure.in_hand_kg, system)} at the {LIMITS[unsure.id]} "
            f"is known only to ± {shown.mass(unsure.spread_kg, system)}. Weigh what is not weighed."
        )
    side = f"{in_hand} over" if governs.in_hand_kg < 0 else f"{in_hand} in hand"
    return f"Close: {side}, {known}. Weigh what is not weighed."


def _bites(assessment: Assessment, governs: Limit) -> str:
    name = LIMITS[governs.id]
    return f"The {name} bites first." if len(assessment.limits) > 1 else f"The {name} decides."


def short_headline(assessment: Assessment, system: str = "metric") -> str:
    """Return the answer in a few words, for the bar on a narrow screen."""
    governs = assessment.governs
    if governs is None or assessment.verdict is None:
        return "No limit yet"
    in_hand = shown.mass(abs(governs.in_hand_kg), system)
    if governs.in_hand_kg < 0:
        said = f"over by {in_hand}" if assessment.verdict == "over" else f"{assessment.verdict}, {in_hand} over"
    else:
        said = f"{assessment.verdict}, {in_hand} in hand"
    return f"So far {said}" if open_question(assessment) else said.capitalize()


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
    """Return what the class minimum means for this model; empty where there is none or it is not known."""
    found = assessment.class_
    if found.minimum_kg is None or found.short_kg is None or found.free_kg is None:
        return ""
    minimum = shown.figure(found.minimum_kg, system)
    if found.short_kg > 0:
        return (
            f"Flying mass is {shown.mass(found.short_kg, system)} below the class minimum of {minimum}: "
            "in a contest that much ballast goes in anyway, so all the gear costs nothing."
        )
    if found.free_kg > 0:
        return (
            f"In a contest {shown.mass(found.free_kg, system)} of the gear costs nothing: without it ballast "
            f"would fill the model up to the class minimum of {minimum}."
        )
    return f"The airframe alone reaches the class minimum of {minimum}: every gram of gear is on top."


def power_sentence(power: Power) -> str:
    """Return the run time and what it is enough for."""
    if power.run.time_s <= 0:
        return f"This cell cannot run the gear: when full already {ENDS[power.run.ends_by]}."
    said = f"The cell runs {shown.duration(power.run.time_s)}, until {ENDS[power.run.ends_by]}."
    if power.flights is None or power.on_time_s is None:
        return said
    if power.flights == 0:
        return f"{said} That is not one flight of {shown.duration(power.on_time_s)}."
    flights = "1 flight" if power.flights == 1 else f"{power.flights} flights"
    said += f" That is {flights} of {shown.duration(power.on_time_s)} from one cell"
    if power.cells_needed is None or power.session_flights is None:
        return said + "."
    cells = "1 charged cell" if power.cells_needed == 1 else f"{power.cells_needed} charged cells"
    return f"{said}; {power.session_flights} flights take {cells}, and a spare."
