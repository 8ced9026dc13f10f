"""Quantities as people type them, to SI and back. The only module that knows pint.

Scope: one number (or a run such as `5 min 30 s`) with a unit of one dimension. A visitor's text is matched against
the spellings of `calc.dimensions` and never reaches pint's expression parser; pint only supplies the factors, from
`units.txt`.

Numbers: decimal point or comma, fractions (`7/8`, `21 1/2`, `21½`), a clock for times (`1:47` is a minute and 47
seconds), an exponent. `1,234` could mean two things and is refused rather than guessed.

Source of the factors: NIST Special Publication 811 (inch, foot, ounce, pound: exact by definition).
"""

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from math import floor, isfinite, log10

import pint

from calc.dimensions import DIMENSIONS as DIMENSIONS
from calc.document.letters import plain
from calc.errors import QuantityError

LONGEST_TEXT = 60  # characters; a longer text is not a quantity somebody typed


@dataclass(frozen=True, kw_only=True)
class Quantity:
    """A text that was understood: the SI value and the label of the unit it was given in."""

    si: float
    unit: str


_NUMBER = re.compile(
    r"(?P<sign>[-+]?)\s*(?:(?:(?P<whole>[0-9]{1,9})\s+)?(?P<top>[0-9]{1,9})\s*/\s*(?P<bottom>[0-9]{1,9})"
    r"|(?P<decimal>(?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)(?:[eE][-+]?[0-9]{1,3})?))"
)
_CLOCK = re.compile(r"(?:(?P<h>[0-9]{1,3}):)?(?P<min>[0-9]{1,3}):(?P<s>[0-5][0-9](?:[.,][0-9]+)?)")
_TWO_WAYS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_RUN_ON = re.compile(r"([0-9]+(?:[.,][0-9]+)?(?: [0-9]+/[0-9]+)?|[0-9]+/[0-9]+)\s*([a-zA-Z'\"’”]+)\s*")
_RUNNING = {"mass", "length", "time"}  # dimensions in which people write two units in a row
_CASE_COUNTS = {"resistance"}  # where m and M would differ by a factor of a thousand million


@lru_cache(maxsize=1)
def _registry() -> pint.UnitRegistry[float]:
    definitions = files("calc").joinpath("units.txt").read_text(encoding="utf-8")
    return pint.UnitRegistry(definitions.splitlines(), cache_folder=None)


@lru_cache(maxsize=256)
def _line(dimension: str, label: str) -> tuple[float, float]:
    """Return (factor, offset) with si = factor * number + offset, as pint has them."""
    kind = DIMENSIONS[dimension]
    quantity = _registry().Quantity
    zero = float(quantity(0.0, kind.units[label]).to(kind.si).magnitude)
    if zero == 0.0:
        return float(quantity(1.0, kind.units[label]).to(kind.si).magnitude), 0.0
    hundred = float(quantity(100.0, kind.units[label]).to(kind.si).magnitude)
    return (hundred - zero) / 100.0, zero


def to_si(number: float, label: str, dimension: str) -> float:
    """Return a number of the labelled unit in the dimension's SI unit.

    Raises
    ------
    KeyError
        If the dimension or label is not one of this module's.

    Examples
    --------
    >>> round(to_si(1.0, "oz", "mass"), 12)
    0.028349523125
    """
    factor, offset = _line(dimension, label)
    return factor * number + offset


def from_si(value: float, label: str, dimension: str) -> float:
    """Return an SI value as a number of the labelled unit; the inverse of `to_si`.

    Examples
    --------
    >>> from_si(281.15, "°C", "temperature")
    8.0
    """
    factor, offset = _line(dimension, label)
    return (value - offset) / factor


def default_unit(dimension: str, system: str) -> str:
    """Return the label of the unit that a bare number takes in a `metric` or `imperial` budget.

    Examples
    --------
    >>> default_unit("mass", "imperial")
    'oz'
    """
    kind = DIMENSIONS[dimension]
    return kind.imperial if system == "imperial" else kind.metric


@lru_cache(maxsize=1024)  # an edit changes one text of a hundred
def parse(text: str, dimension: str, system: str) -> Quantity:
    """Return the quantity that a text means.

    Parameters
    ----------
    text : str
        As typed, at most 60 characters.
    dimension : str
        A key of `DIMENSIONS`.
    system : str
        `metric` or `imperial`: decides the unit of a bare number.

    Raises
    ------
    QuantityError
        code `empty`, `too_long`, `not_a_number`, `two_ways` (a comma that could part thousands),
        `unknown_unit`, `other_dimension`.

    Examples
    --------
    >>> parse("1,2 g", "mass", "metric")
    Quantity(si=0.0012, unit='g')
    >>> round(parse("21 1/2", "length", "imperial").si, 4)
    0.5461
    """
    if len(text) > LONGEST_TEXT:
        raise QuantityError("too_long", most=LONGEST_TEXT)
    plain = _plain(text)
    if not plain:
        raise QuantityError("empty")
    found = _clock(plain, dimension) or _single(plain, dimension, system)
    if not isfinite(found.si):
        raise QuantityError("not_a_number", dimension=dimension)
    return found


def last_place(text: str, dimension: str) -> float:
    """Return what the last digit of a quantity that can be read counts, in the unit it is followed by.

    A fraction counts as a decimal of about its size: a quarter as a tenth, a thirty-second as a hundredth.

    Examples
    --------
    >>> last_place("1.30 g", "mass"), last_place("2 ft 6 in", "length"), last_place("4 3/4 in", "length")
    (0.01, 1.0, 0.1)
    """
    plain = _plain(text)
    running = _running(plain, dimension) and _RUN_ON.findall(plain)
    match = _NUMBER.match(running[-1][0] if running else plain)
    if match is None:
        raise QuantityError("not_a_number", dimension=dimension)
    if match["top"] is not None:
        return float(10.0 ** floor(-log10(int(match["bottom"]))))
    digits, _, exponent = match["decimal"].lower().replace(",", ".").partition("e")
    return float(10.0 ** (int(exponent or 0) - len(digits.partition(".")[2])))


@lru_cache(maxsize=1024)
def is_bare(text: str) -> bool:
    """Return whether a text is a number without a unit, which takes the default one.

    Examples
    --------
    >>> is_bare("21 1/2"), is_bare("1,2 g"), is_bare("1:47")
    (True, False, False)
    """
    return len(text) <= LONGEST_TEXT and _NUMBER.fullmatch(_plain(text)) is not None


def _plain(text: str) -> str:
    """Return the text in plain characters: ½ as 1/2, ² as ^2, every dash a minus, every space a space."""
    if text.isascii():
        return " ".join(text.split())
    spread = []
    for character in text:
        plain = unicodedata.normalize("NFKC", character)
        if "\u2044" in plain:
            spread.append(" " + plain.replace("\u2044", "/"))
        elif character in "²³":
            spread.append("^" + plain)
        else:
            spread.append({"\u2212": "-", "\u2013": "-", "\u2033": '"', "\u2032": "'"}.get(character, plain))
    return " ".join("".join(spread).split())


def _clock(plain: str, dimension: str) -> Quantity | None:
    """Return `h:mm:ss` or `m:ss` as a time, None for any other text or dimension."""
    match = _CLOCK.fullmatch(plain) if dimension == "time" else None
    if match is None:
        return None
    seconds = float(match["s"].replace(",", "."))
    return Quantity(si=3600.0 * int(match["h"] or 0) + 60.0 * int(match["min"]) + seconds, unit="min")


def _single(plain: str, dimension: str, system: str) -> Quantity:
    """Return number and unit, the unit being all that follows the number; else try a run of two units."""
    match = _NUMBER.match(plain)
    if match is None:
        raise QuantityError("not_a_number", dimension=dimension)
    written = plain[match.end() :].strip()
    label = _label(written, dimension) if written else default_unit(dimension, system)
    if label is not None:
        return Quantity(si=to_si(_number(match, dimension), label, dimension), unit=label)
    running = _running(plain, dimension)
    if running is not None:
        return running
    raise _unknown_unit(written, dimension)


def _number(match: re.Match[str], dimension: str) -> float:
    """Return the value of a matched number."""
    sign = -1.0 if match["sign"] == "-" else 1.0
    if match["top"] is not None:
        if int(match["bottom"]) == 0:
            raise QuantityError("not_a_number", dimension=dimension)
        return sign * (int(match["whole"] or 0) + int(match["top"]) / int(match["bottom"]))
    decimal = match["decimal"]
    if _TWO_WAYS.fullmatch(decimal):
        raise QuantityError("two_ways", point=decimal.replace(",", "."), none=decimal.replace(",", ""))
    return sign * float(decimal.replace(",", "."))


def _running(plain: str, dimension: str) -> Quantity | None:
    """Return a run such as `2 ft 6 in` or `5 min 30 s`: each unit smaller than the one before; else None."""
    if dimension not in _RUNNING or _RUN_ON.sub("", plain):
        return None
    total, before = 0.0, float("inf")
    label: str | None = None
    for number, written in _RUN_ON.findall(plain):
        label = _label(written, dimension)
        match = _NUMBER.fullmatch(number)
        if label is None or match is None or to_si(1.0, label, dimension) >= before:
            return None
        before = to_si(1.0, label, dimension)
        total += to_si(_number(match, dimension), label, dimension)
    return Quantity(si=total, unit=label) if label is not None else None


@lru_cache(maxsize=64)
def _spellings(dimension: str) -> dict[str, str]:
    """Return every spelling read in a dimension, in the form that `_key` gives."""
    kind = DIMENSIONS[dimension]
    listed = {**{label: label for label in kind.units}, **kind.spellings}
    return {_key(spelling, dimension): label for spelling, label in listed.items()}


def _key(written: str, dimension: str) -> str:
    """Return a unit's spelling without what does not matter: spaces, full stops, ^, capitals."""
    bare = unicodedata.normalize("NFKC", written).replace("per", "/")
    for dropped in (" ", ".", "^", "·", "*"):
        bare = bare.replace(dropped, "")
    return bare if dimension in _CASE_COUNTS else bare.casefold()


def unit_label(written: str, dimension: str) -> str:
    """Return the label of a unit of a dimension as people write it, "" where it or the dimension is none.

    Examples
    --------
    >>> unit_label("Grams", "mass"), unit_label("kg cm", "torque"), unit_label("mm", "mass")
    ('g', 'kgf·cm', '')
    """
    return (_label(written, dimension) or "") if dimension in DIMENSIONS else ""


_GR = re.compile(r"(?:^|[0-9.,½¼¾\s/])grs?\.?(?![a-z])", re.IGNORECASE)


@lru_cache(maxsize=1024)
def speaks_of_gr(text: str) -> bool:
    """Return whether a text has `gr`, which is read as grams, where a book may mean grains (64.8 mg).

    Grams are the heavier of the two: a reading that is wrong never makes a part lighter than it is.

    Examples
    --------
    >>> speaks_of_gr("1.4 gr"), speaks_of_gr("1.4gr."), speaks_of_gr("12 gr/dm²"), speaks_of_gr("1.4 grams")
    (True, True, True, False)
    """
    return _GR.search(text) is not None


def _label(written: str, dimension: str) -> str | None:
    return _spellings(dimension).get(_key(written, dimension))


def _unknown_unit(written: str, dimension: str) -> QuantityError:
    """Return the error for a unit that the dimension does not have, naming the dimension that does."""
    facts = {"unit": plain(written[:20]), "dimension": dimension}
    for other in DIMENSIONS:
        if _label(written, other) is not None:
            return QuantityError("other_dimension", other=other, **facts)
    return QuantityError("unknown_unit", **facts)
