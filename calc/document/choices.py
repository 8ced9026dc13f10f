"""The words for choices: what a person reads where the document has a short word."""

from calc.document import classes

WORDS = {
    "metric": "grams, millimetres", "imperial": "ounces, inches",
    "steering": "steering", "dethermaliser": "the dethermaliser only",
    "contest": "a contest model", "sport": "a sport model", "up": "the voltage up", "down": "the voltage down",
    "off": "off", "on": "left on", "hinged": "a hinged flap", "whole": "a whole surface on a pivot",
    "lines": "pull-pull lines", "motor": "motor run", "thrown": "thrown to a height",
    "rod": "push rod", "solid": "solid", "stranded": "7 strands",
    "weighed": "weighed", "maker": "maker", "guess": "guess",
}  # fmt: skip


def word(path: str, typed: str) -> str:
    """Return an entry of a choice in words, anything else as it was typed; `path` names the field.

    Examples
    --------
    >>> word("model.class", "p30"), word("surface.kind", "hinged"), word("model.airframe", "40 g")
    ('30 in rubber (USA, Sweden)', 'a hinged flap', '40 g')
    """
    if path == "model.class" and typed in classes.table():
        return classes.table()[typed].name
    return WORDS.get(typed, typed)
