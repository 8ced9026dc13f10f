"""The edge in words: shown quantities, labels of fields, and the sentence for each problem, notice and verdict.

Nothing is worked out here. Sentences are plain text; whoever puts them into a page escapes them.
"""

from collections.abc import Mapping
from typing import Any

from calc import digits, units
from calc.dimensions import DIMENSIONS
from calc.errors import Problem
from calc.notices import Notice
from calc.unit_system import UnitSystem

LABELS = {
    "format": "Format", "name": "Name of this budget", "units": "Units", "scale_division": "Scale division",
    "model": "Model", "rule": "Rule", "gear": "Gear", "cell": "Cell", "session": "Session", "balance": "Balance",
    "supply": "Converter", "wiring": "Leads", "surface": "Surface", "linkage": "Linkage", "air": "Air",
    "model.class": "Class", "model.use": "Flown as", "model.radio": "Radio is for",
    "model.airframe": "Airframe without gear", "model.airframe_known_by": "Airframe known by",
    "model.airframe_weighed": "Airframe, weighed",
    "model.target": "Wished flying mass", "model.rubber": "Rubber", "model.wing_area": "Wing area",
    "model.max_loading": "Greatest wing loading", "model.minimum": "Minimum in my rule book",
    "model.maximum": "Maximum in my rule book", "rule.share": "Share for the gear",
    "gear.kind": "Kind", "gear.name": "Name", "gear.count": "Count", "gear.mass": "Mass of one",
    "gear.known_by": "Known by", "gear.weighed": "Weighed, one", "gear.station": "Station from the nose",
    "gear.draw": "Draws when quiet", "gear.draw_known_by": "Draw known by",
    "gear.busy_draw": "Draws at work", "gear.busy": "Share of time at work", "gear.min_volts": "Works down to",
    "gear.off": "Left out",
    "cell.name": "Name", "cell.mass": "Mass", "cell.known_by": "Known by",
    "cell.weighed": "Weighed", "cell.station": "Station from the nose",
    "cell.capacity": "Capacity", "cell.resistance": "Resistance at 25 °C", "cell.cutoff": "Cut-off voltage",
    "cell.series": "Cells in series", "cell.capacity_left": "Capacity left by age",
    "cell.charge_current": "Charging current",
    "session.flights": "Flights wanted", "session.on_time": "Radio on, each flight",
    "session.temperature": "Temperature", "session.reserve": "Charge kept in reserve",
    "session.between": "Radio between flights", "session.pause": "Pause between flights",
    "supply.kind": "Converter steps", "supply.volts": "Gives the gear", "supply.efficiency": "Efficiency",
    "supply.min_input": "Converter works down to", "wiring.gauge": "Wire gauge (AWG)",
    "wiring.length": "Length, one way",
    "balance.airframe_at": "Airframe balances at", "balance.rubber_at": "Rubber sits at",
    "balance.target": "Wanted balance point", "balance.leading_edge": "Leading edge at",
    "balance.chord": "Wing chord", "balance.target_chord": "Wanted, share of chord",
    "balance.nose_at": "Nose lead at", "balance.tail_at": "Tail lead at",
    "surface.kind": "Surface", "surface.span": "Span of what moves", "surface.chord": "Whole chord",
    "surface.flap_chord": "Chord of the flap", "surface.pivot": "Pivot, share of chord",
    "surface.deflection": "Deflection wanted", "surface.speed": "Design speed", "surface.actuator": "Moved by",
    "surface.horn": "Horn", "surface.arm": "Servo arm", "surface.travel": "Servo turns each way",
    "surface.stroke": "Stroke each way", "surface.torque": "Rated torque", "surface.thrust": "Rated thrust",
    "linkage.kind": "Linkage", "linkage.length": "Length", "linkage.free_length": "Free between guides",
    "linkage.material": "Rod of", "linkage.section": "Section", "linkage.diameter": "Diameter or side",
    "linkage.bore": "Bore of a tube", "linkage.density": "Density, if other", "linkage.modulus": "Modulus, if other",
    "linkage.yarn": "Lines of", "linkage.tex": "Each line", "linkage.line_diameter": "or its diameter",
    "linkage.knot": "Ends are", "linkage.ends": "Ends and guides",
    "air.field_height": "Field above the sea", "air.lift": "Lift coefficient", "air.glide_factor": "Glide factor Φ",
    "air.launch": "Launch", "air.rubber_energy": "Energy of the rubber", "air.work": "Work of motor or catapult",
    "air.efficiency": "Share that lifts", "air.height": "Height of the launch", "air.timed_height": "Timed: height",
    "air.timed_glide": "Timed: glide", "air.timed_motor": "Timed: motor run",
    "box.kind": "Kind", "box.name": "Name", "box.mass": "Mass", "box.known_by": "Known by",
    "box.draw": "Draws when quiet", "box.draw_known_by": "Draw known by",
    "box.busy_draw": "Draws at work", "box.busy": "Share of time at work",
    "box.min_volts": "Works down to",
    "box.torque": "Rated torque", "box.thrust": "Rated thrust", "box.capacity": "Capacity",
    "box.resistance": "Resistance at 25 °C", "box.cutoff": "Cut-off voltage", "box.series": "Cells in series",
    "box.volts": "Gives the gear", "box.efficiency": "Efficiency", "box.min_input": "Converter works down to",
    "box.count": "Count", "box.station": "Station",
    "stock": "Stock", "stock.shape": "Shape", "stock.pieces": "Pieces", "stock.material": "Material",
    "stock.density": "Density, if other", "stock.diameter": "Diameter", "stock.bore": "Bore", "stock.width": "Width",
    "stock.thickness": "Thickness", "stock.length": "Length", "stock.gauge": "Wire gauge (AWG)",
    "stock.strands": "Conductor", "stock.over_all": "Diameter with sleeve", "stock.tex": "Thread",
    "stock.area": "Area", "stock.weight": "Weight per area", "stock.volume": "Volume",
}  # fmt: skip

KINDS_OF_QUANTITY = {
    "mass": "a mass", "length": "a length", "area": "an area", "loading": "a wing loading", "current": "a current",
    "voltage": "a voltage", "resistance": "a resistance", "charge": "a capacity", "time": "a time",
    "temperature": "a temperature", "ratio": "a percentage", "speed": "a speed", "force": "a force",
    "torque": "a torque", "angle": "an angle", "density": "a density", "volume": "a volume",
    "height": "a height", "modulus": "a modulus", "linear density": "a linear density",
    "specific energy": "an energy per mass",
    "energy": "an energy",
    "number": "a plain number",
}  # fmt: skip

SENTENCES = {
    "not_a_budget": "This is not a budget: it should be a JSON object as in the examples.",
    "not_json": "This is not JSON text.",
    "too_large": "This is too large for a budget: at most {most} characters.",
    "too_deep": "This is nested too deeply for a budget.",
    "given_twice": "“{name}” stands twice in one group of fields: which of the two is meant cannot be told.",
    "not_a_box": "This is not a box of parts: it should be JSON with a list “parts”, or CSV with a header row.",
    "too_many_in_file": "The file has more than {most} rows of parts; that is the most that can be taken from one.",
    "too_many_parts": "{count} parts are more than a box holds; the first {most} are used.",
    "is_a_box": "This is a box of parts, not a budget: open it on the page Box.",
    "no_room": "The file has {count} parts for the gear, but a budget takes {most} rows and has {rows}.",
    "no_header": "The first row of the CSV names no column of a box. Known are: {labels}.",
    "not_csv": "This cannot be read as CSV ({what}).",
    "not_a_block": "This should be a group of fields.",
    "not_a_list": "This should be a list of rows.",
    "too_many_rows": "{count} rows are more than a budget holds; the first {most} are used.",
    "unknown_field": "There is no such field.{near_sentence}",
    "more_unknown": "{count} more {fields_are} not known here, and not read.",
    "not_a_value": "This should be one text or number, not a group or a list.",
    "missing": "This is needed, with its unit: for example {example}.",
    "empty": "This needs a number: for example {example}.",
    "too_long": "“{typed}” is too long for a quantity: at most {most} characters.",
    "not_a_number": "“{typed}” cannot be read as {kind}: write for example {example}.",
    "two_ways": "“{typed}” can be read in two ways: write {point} or {none}.",
    "unknown_unit": "“{unit}” is not a unit of {kind}: write for example {example}.",
    "other_dimension": "“{typed}” is {other_kind}; this field needs {kind}: for example {example}.",
    "out_of_range": "“{typed}” is outside what makes sense here: {range}.",
    "too_large_beside": "“{typed}” is too large beside “{than_label}”.",
    "not_whole": "“{typed}” should be a whole number from {low} to {high}.",
    "other_format": "This budget was made in format {typed}, by another edition; this one reads format {low}. What "
    "it does not know stays in the budget, unread.",
    "unit_unknown": "“{typed}” has no unit, and which system of units it was typed in cannot be read: write the unit, "
    "for example {example}.",
    "not_text": "“{typed}” should be a text.",
    "half_letter": "“{typed}” holds half of a letter, as a text cut in two does: type it again.",
    "text_too_long": "A text of {length} characters is too long: at most {most}.",
    "not_a_choice": "“{typed}” is none of the choices: {choices_listed}.",
    "not_a_flag": "“{typed}” should be true or false.",
    "link_too_long": "The link is too long ({length} characters, at most {most}).",
    "link_not_budget": "This address holds no budget.",
    "link_damaged": "The link is damaged: some letters were lost or changed on the way. Ask for it again.",
    "link_too_large": "The link unpacks to more than a budget can be.",
    "link_format": "The link was made in format {format}; this edition reads format {known}. Load the page anew.",
    "link_no_format": "The link does not say in which format it was made, so it cannot be read. Ask for it again.",
    "inside": "Something went wrong inside the program ({what}). What you typed is kept.",
    "left_out": "A function is called that is not in the snapshot ({what}).",
    "unknown_method": "The page asked for something this edition does not have. Load the page anew.",
}

NOTICES = {
    "radio_sport": "In contests of this class ({class}) the radio may, by common practice, only trip the "
    "dethermaliser. With steering it is a sport model built to the class’s sizes. Check your current rule book.",
    "radio_ask": "What radio may do in contests of this class ({class}) was not found. Check your current rule book.",
    "rubber_unknown": "How much rubber is aboard is not known; the all-up weight counts the {most} that this class "
    "({class}) allows at most ({as_of}).",
    "rubber_over": "The rubber, {rubber}, is more than the class allows ({most}, {as_of}).",
    "uk_flyer": "{aboard} it weighs {mass} (± {spread}): from {threshold} on the United Kingdom "
    "asks the flyer for an ID (since January 2026, as read in one secondary source). The local code decides.",
    "eu_uk_250": "{aboard} it weighs {mass} (± {spread}): from {threshold} on more rules for unmanned "
    "aircraft apply in the European Union and the United Kingdom. The local code decides.",
    "us_055": "{aboard} it weighs {mass} (± {spread}): above 0.55 lb ({threshold}) the USA asks for "
    "registration (14 CFR 48.15). The local code decides.",
    "linkage_no_row": "The {what} described weighs {mass}, but no row of the gear is a linkage: the masses do not "
    "count it.",
    "leads_no_row": "Leads are described, but no row of the gear is wiring: the masses do not count them.",
    "below_freezing": "Below {freezing} real cells can be far worse than this sum says: keep them warm until the "
    "flight, and never charge them cold.",
    "charge_fast": "That current is {rate:.1f} times the capacity in one hour. Many small cells take no more than "
    "once, some half: the maker’s figure decides.",
    "supply_low": "The converter gives less than the gear needs.",
    "quiet_only": "Only the quiet draw of these is known; at work they draw more, so the run time is too long: "
    "{parts}.",
    "ballast_over": "In a contest ballast fills the model up to {minimum}, which is over the wished flying mass of "
    "{target}.",
    "no_least_volts": "Nobody has said down to which voltage these work, so brown-out was not looked at for them: "
    "{parts}.",
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
    if parts[0] == "gear" and len(parts) > 1 and _is_index(parts[1]):
        row, key = f"Gear row {int(parts[1]) + 1}", ".".join(parts[2:])
        return f"{row}, {lowered(LABELS.get(f'gear.{key}', f'“{key}”'))}" if key else row
    if parts[0] == "parts" and len(parts) > 1 and _is_index(parts[1]):
        key = ".".join(parts[2:])
        return (
            f"Part {int(parts[1]) + 1}, {lowered(LABELS.get(f'box.{key}', f'“{key}”'))}"
            if key
            else (f"Part {int(parts[1]) + 1}")
        )
    if path == "rule.share":
        return "Share rule"
    if path == "gear.draw":
        return "Gear, the current that at least one part draws"
    if not path:
        return "The budget"
    label = LABELS.get(path, f"“{parts[-1]}”")
    return f"{LABELS[parts[0]]}, {lowered(label)}" if len(parts) > 1 and parts[0] in LABELS else label


def _is_index(part: str) -> bool:
    return part.isascii() and part.isdigit()


def lowered(label: str) -> str:
    """Return a label as it stands inside a sentence."""
    return label[:1].lower() + label[1:]


def sentence(code: str, facts: Mapping[str, Any]) -> str:
    """Return the sentence for a problem or a link error."""
    words = {**facts}
    dimension = facts.get("dimension")
    words.setdefault("example", "1.2 g")
    if dimension:
        words["kind"] = KINDS_OF_QUANTITY[dimension]
        words["example"] = DIMENSIONS[dimension].example
    if "other" in facts:
        words["other_kind"] = KINDS_OF_QUANTITY[facts["other"]]
    if code == "not_whole" and facts["low"] == facts["high"]:
        code = "other_format"
    if code == "out_of_range":
        words["range"] = _range(facts)
    if "near" in facts:
        words["near_sentence"] = f" Was “{facts['near']}” meant?" if facts["near"] else ""
    if code == "more_unknown":
        words["fields_are"] = "field is" if facts["count"] == 1 else "fields are"
    if "than" in facts:
        words["than_label"] = LABELS[facts["than"]]
    if "choices" in facts:
        words["choices_listed"] = ", ".join(facts["choices"])
    return SENTENCES[code].format_map(words)


def _range(facts: Mapping[str, Any]) -> str:
    """Return an allowed range in the unit that was typed; a time in words."""
    unit, dimension = facts["unit"], facts["dimension"]
    if dimension == "time":
        low, high = (digits.duration(facts[end]) for end in ("low", "high"))
        return f"above {low}, up to {high}" if facts["above"] else f"from {low} to {high}"
    low = f"{units.from_si(facts['low'], unit, dimension):.4g}".replace("-", "−")
    high = f"{units.from_si(facts['high'], unit, dimension):.6g}".replace("-", "−")
    return f"above {low} {unit}, up to {high} {unit}" if facts["above"] else f"from {low} {unit} to {high} {unit}"


def problem(found: Problem) -> str:
    """Return a problem as one line: the field's name and the sentence."""
    return f"{field_name(found.field)}: {sentence(found.code, found.facts)}"


def notice(found: Notice, system: UnitSystem) -> str:
    """Return a notice's sentence."""
    words = dict(found.facts)
    for key, value in found.facts.items():
        if key.endswith("_kg"):
            words[key.removesuffix("_kg")] = system.round_mass(value) if key != "spread_kg" else system.spread(value)
        elif key.endswith("_ohm"):
            words[key.removesuffix("_ohm")] = digits.resistance(value)
    words["freezing"] = system.temperature(273.15)
    return NOTICES[found.code].format_map(words)
