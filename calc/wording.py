"""The edge in words: shown quantities, labels of fields, and the sentence for each problem, notice and verdict.

Nothing is worked out here. Sentences are plain text; whoever puts them into a page escapes them.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from calc import digits, units
from calc.dimensions import DIMENSIONS
from calc.document.blocks import ROW_NAMES, labels, labels_of
from calc.document.paths import place
from calc.errors import Problem
from calc.subjects.stock.entries import Stock
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.notices import Notice

LABELS = {**labels(), "stock": "Stock", **labels_of("stock", Stock)}  # of blocks and entries, by path

KINDS_OF_QUANTITY = {
    "mass": "a mass", "length": "a length", "area": "an area", "loading": "a wing loading", "current": "a current",
    "voltage": "a voltage", "resistance": "a resistance", "charge": "a capacity", "time": "a time",
    "temperature": "a temperature", "ratio": "a percentage", "speed": "a speed", "force": "a force",
    "torque": "a torque", "angle": "an angle", "density": "a density", "volume": "a volume",
    "height": "a height", "modulus": "a modulus", "linear density": "a linear density",
    "specific energy": "an energy per mass",
    "energy": "an energy",
    "frequency": "a frequency", "level": "a level in dBm", "decibels": "a number of decibels",
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
    "no_room_in_box": "The list has {count} parts, but a box holds {most} and has {there}.",
    "no_header": "The first row of the CSV names no column of a box. Known are: {labels}.",
    "no_parts_header": "None of the first rows names a column of an airframe’s parts. Known are: {labels}.",
    "not_csv": "This cannot be read as CSV ({what}).",
    "file_too_large": "The file is larger than {most_mb} MB; that is the most that is read of a spreadsheet.",
    "workbook_old": "This is a workbook of the old kind (.xls) or one with a password: save it as .xlsx or .ods, "
    "without a password, and open that.",
    "workbook_locked": "The workbook has a password: save it without one and open that.",
    "workbook_damaged": "The workbook cannot be read: {what}.",
    "workbook_bomb": "The workbook unpacks to far more than a list of gear needs (more than {most_mb} MB, or {times} "
    "times its size): it is not read.",
    "no_workbook": "This is no spreadsheet that can be read here: save it as .xlsx, .ods or CSV.",
    "no_text": "This is neither a spreadsheet nor text that can be read.",
    "no_table": "There is nothing in this table.",
    "no_sheet": "The workbook has no sheet “{sheet}”.",
    "table_too_wide": "Row {row} has something in column {column}; at most {most} columns are read.",
    "table_repeats": "Row {row} repeats what is in it {count} times: that is no list of gear.",
    "table_hidden_rows": "{count} hidden {rows_are} read as well: {rows}.",
    "table_no_result": "{count} {cells_hold} a formula without its result, and {count_is} empty here: open the file in "
    "your spreadsheet, save it there, and open it again.",
    "table_sheets": "Read is the sheet “{sheet}”. Not read: {others}.",
    "not_utf8": "The text is not UTF-8; it was read as Windows-1252, as some spreadsheets write it. Look whether "
    "letters are right.",
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
    "change_stale": "The budget was changed there since this was worked out: ask anew what would make it fit.",
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
    "quiet_only": "Only the quiet draw of these is known; at work they draw more, so the run is at most so long: "
    "{parts}.",
    "ballast_over": "In a contest ballast fills the model up to {minimum}, which is over the target flying weight of "
    "{target}.",
    "no_least_volts": "Nobody has said down to which voltage these work, so brown-out was not looked at for them: "
    "{parts}.",
    "resistance_assumed": "The cell’s resistance is not known; {low} to {high} was assumed from its capacity and the "
    "temperature. Two loads and two readings at the bench tell it.",
    "resistance_metered": "The cell’s resistance is known at 1 kHz alone; under a load for a second or more it has 2.1 "
    "to 3.2 times as much, here {low} to {high}. Two loads and two readings at the bench tell it.",
    "resistance_low": "A resistance of {given} is less than any cell of this size that was looked at has under a load "
    "({least}). If it is what a meter at 1 kHz shows, put it there: as it stands the run is too long.",
    "cold_cell": "At this temperature and draw the cell gives {least} to {most} of its charge, as three cells "
    "worked out do: keep it in a warm pocket until the flight.",
}


ROWS = {**ROW_NAMES, "parts": "Part {}"}
LISTED = {"parts": "box"}  # under which the labels of a list's entries stand, if not under its own name
ODD_NAMES = {
    "": "The budget", "rule.share": "Share rule", "gear.draw": "Gear, the current that at least one part draws",
}  # fmt: skip


def field_name(path: str) -> str:
    """Return a field's name as a person would say it.

    Examples
    --------
    >>> field_name("gear.1.mass"), field_name("cell.capacity"), field_name("gear.0.mess")
    ('Gear row 2, mass of one', 'Cell, capacity', 'Gear row 1, “mess”')
    """
    if path in ODD_NAMES:
        return ODD_NAMES[path]
    at = place(path)
    if at.row is not None and at.block in ROWS:
        row = ROWS[at.block].format(at.row + 1)
        return f"{row}, {lowered(label_of(path))}" if at.key else row
    label = label_of(path)
    return f"{LABELS[at.block]}, {lowered(label)}" if at.key and at.block in LABELS else label


def label_of(path: str) -> str:
    """Return a field's label alone, without the block or the row that it stands in.

    Examples
    --------
    >>> label_of("gear.1.mass"), label_of("model.airframe_weighed"), label_of("gear.0.mess")
    ('Mass of one', 'Airframe, weighed', '“mess”')
    """
    at = place(path)
    listed = path if at.row is None else f"{LISTED.get(at.block, at.block)}.{at.key}"
    return LABELS.get(listed, f"“{path.split('.')[-1]}”")


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
    if code in ("table_hidden_rows", "table_no_result"):
        one = facts["count"] == 1
        words["rows_are"] = "row is" if one else "rows are"
        words["cells_hold"] = "cell holds" if one else "cells hold"
        words["count_is"] = "is" if one else "are"
    if "than" in facts:
        words["than_label"] = label_of(facts["than"])
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


def notice(found: "Notice", system: UnitSystem) -> str:
    """Return a notice's sentence."""
    words = dict(found.facts)
    for key, value in found.facts.items():
        if key.endswith("_kg"):
            words[key.removesuffix("_kg")] = system.round_mass(value) if key != "spread_kg" else system.spread(value)
        elif key.endswith("_share"):
            words[key.removesuffix("_share")] = f"{100.0 * value:.0f} %"
        elif key.endswith("_ohm"):
            words[key.removesuffix("_ohm")] = digits.resistance(value)
    words["freezing"] = system.temperature(273.15)
    return NOTICES[found.code].format_map(words)
