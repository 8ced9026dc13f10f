"""What is said of a table before it goes into the gear: why a column is what it is, what a row came to."""

from collections.abc import Mapping

from calc import wording
from calc.document.boxtable import OF_MODEL
from calc.document.columns import Column
from calc.document.gearfields import label_of
from calc.document.gearrows import Told
from calc.document.headings import NOTES, NUMBER, TOTAL, UNIT
from calc.document.letters import plain
from calc.document.table import letters

WHY: Mapping[str, str] = {
    "heading": "by its heading",
    "contents": "by what is in it",
    "yours": "as you chose",
    "taken": "left aside: another column has that field",
    "unfit": "left aside: what is in it does not fit its heading",
    "kind_as_name": "by its heading a kind, but what is in it are names",
    "only_total": "the mass of all, but no other mass is there and every count is one",
    "no_field": "left aside: no field is called so",
    "no_heading": "left aside: nothing says what it is",
    "unclear": "left aside: what is in it could be several things",
    NUMBER: "left aside: a running number",
    UNIT: "the units of the masses beside it",
    TOTAL: "left aside: the mass of several together, where the mass of one is wanted",
    NOTES: "left aside: gear has no field for notes",
    OF_MODEL: "left aside: it belongs to a model, not to a part in the box",
}
TOLD: Mapping[str, str] = {
    "total": "“{typed}” is the sum of the others, and no part",
    "looks_total": "{typed} without a name is the sum of the rows above, and no part",
    "heading_again": "the headings once more",
    "nothing_taken": "“{typed}”: nothing that goes into the gear",
    "no_kind": "“{typed}” is no kind that is known here; it comes in as other",
    "no_known_by": "“{typed}” does not say how the figure is known; it counts as a guess",
    "kind_of_name": "“{name}” is taken for the kind {kind}, by its name",
    "several": "“{typed}” speaks of {count}; the mass is taken as that of one part, counted once",
    "unread": "{label}: {sentence}",
    "no_mass": "“{typed}” has no mass, and is not counted until it has one",
    "bare": "Numbers without a unit ({count}) take this budget’s own units: masses count as {unit}.",
    "bare_in_box": "Numbers without a unit ({count}) take the units of the box: masses count as {unit}.",
    "no_mass_in_box": "“{typed}” has no mass: the finder leaves it out until it has one",
    "there_already": "In the box already, and not put in again: {count}.",
    "planned_aside": "Weighed as well as planned: {count}. The box keeps the weighed mass alone.",
    OF_MODEL: "“{label}” belongs to a model, not to a part in the box.",
    "gr": "“gr” is read as grams, not as grains.",
    "shares": "Shares of time or efficiencies from 0 to 1 are taken as 0 to 100 %.",
    "unsaid": "Nobody says how {count} of the masses are known; they come in as: {known}.",
}


def why(column: Column) -> str:
    """Return why a column is what it is.

    Examples
    --------
    >>> why(Column(at=0, field="mass", unit="g", why="heading")), why(Column(at=1, why="#notes"))
    ('by its heading; bare numbers in g', 'left aside: gear has no field for notes')
    """
    unit = f"; bare numbers in {plain(column.unit[:20])}" if column.field and column.unit else ""
    return WHY[column.why] + unit


def column_name(column: Column) -> str:
    """Return what a column is called: its letter and its heading.

    Examples
    --------
    >>> column_name(Column(at=1, heading="Weight (g)")), column_name(Column(at=27))
    ('B, “Weight (g)”', 'AB')
    """
    return f"{letters(column.at)}, “{plain(column.heading[:40])}”" if column.heading else letters(column.at)


def told(found: Told) -> str:
    """Return what is said of a row, a column or all of them.

    Examples
    --------
    >>> told(Told(code="total", row=7, facts={"typed": "Sum"})), told(Told(code="gr"))
    ('Row 7: “Sum” is the sum of the others, and no part.', '“gr” is read as grams, not as grains.')
    """
    facts = dict(found.facts)
    if found.code == "unread":
        said = wording.sentence(str(facts["problem"]), facts["facts"]).rstrip(".")
        facts.update(label=wording.lowered(label_of(str(facts["field"]))), sentence=said)
    text = TOLD[found.code].format_map(facts)
    return f"Row {found.row}: {text}." if found.row else text
