"""What was typed in units of the other system, written anew in those of the document's own system.

Digits as NIST SP 1038 (2006), 4.4, has it: as many as were typed, one more where the first digit becomes smaller; so
that 36 in come to 910 mm, as the example of NIST LC 1137 has it, and not to 914.4 mm. Temperatures keep their decimals.
A mass from the scale follows the scale instead: it comes to steps of 1, 2 or 5 that are no finer than those of the
scale, which is what scales show (OIML R 76-1; from memory). So nothing is known better than before.

Rounding is on the safe side where there is one: a mass that was not weighed never becomes lighter, a limit never wider,
a strength never greater, a part never smaller, its bay never larger; the sizes of an airframe's part never make it
lighter, but for the planform that is the wing's, which goes to the nearest: a larger area would be the better one.
Fractions count as decimals of about that size: 3/4 in as 0.8 in; sizes of the airframe keep three digits at least.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from math import ceil, floor
from typing import Any

from calc import units
from calc.document.blocks import BLOCKS, LISTS, Budget
from calc.document.budget import read
from calc.document.fields import FieldRefusedError, QuantityField, described, key_of
from calc.document.paths import place, rows
from calc.document.systems import differs, is_bare_number, system_of

IMPERIAL = re.compile(r"oz|lb|ft|yd|mph|°F|(?<![a-z])in(?![a-z])")
SMALL = {"force": "gf", "torque": "gf·cm"}  # as small forces are told in metric units
# By block and key, a row's number left out
NEVER_MORE = (
    "model.maximum", "model.target", "model.max_loading", "surface.torque", "surface.thrust", "bays.length",
    "bays.width", "bays.height", "bays.back_width", "bays.back_height", "bays.hatch_to", "bays.hatch_width",
    "airframe.bore", "airframe.pitch",
)  # fmt: skip
SIZES = ("length", "width", "height", "plug_length")
NEVER_LESS = (
    "model.minimum", "scale_division", "bays.gap", "bays.wall", "bays.hatch_from",
    *(f"{block}.{key}" for block in ("gear", "cell") for key in SIZES),
    *(f"airframe.{key}" for key in ("length", "width", "thickness", "diameter", "end_diameter", "density", "weight",
                                    "tex", "volume", "span", "root", "tip")),
)  # fmt: skip
NOMINAL = 3  # digits at least of a size of the airframe: 1/8 in of strip is no rough eighth
PLANFORM = ("airframe.span", "airframe.root", "airframe.tip")  # to the nearest where it is the wing's
EITHER_WAY = ("motor.mass", "flights.mass")  # masses that are no weight to carry
NEVER_WEIGHED = ("motor", "flights", "airframe")  # whose `mass` no scale has shown
Rounding = Callable[[float], int]


@dataclass(frozen=True, kw_only=True)
class Converted:
    """A document in its own units; `count` entries were written anew, `most` is the greatest share one was moved by."""

    document: dict[str, Any]
    count: int
    most: float


@dataclass(frozen=True, kw_only=True)
class _Found:
    """An entry in units of the other system: its block, its place there, and what was typed."""

    path: str
    block: dict[str, Any]
    key: str
    field: QuantityField
    typed: str
    weighed: bool


def converted(document: Mapping[str, Any]) -> Converted:
    """Return a document in which each quantity that was typed in the other system's units has those of its own.

    What cannot be read stays as it was typed, and so does what would not be taken once it is rounded.

    Examples
    --------
    >>> converted({"units": "imperial", "gear": [{"mass": "1.3 g", "known_by": "maker"}]}).document["gear"]
    [{'mass': '0.046 oz', 'known_by': 'maker'}]
    >>> converted({"units": "metric", "model": {"wing_area": "133 sq in"}}).document["model"]
    {'wing_area': '8.58 dm²'}
    """
    changed, system = _copied(document), system_of(document)
    reading = read(document)
    given = changed.get("scale_division") not in (None, "")
    division = reading.budget.scale_division.value
    listed = [each for each in _foreign(changed) if system]
    for each in listed:
        each.block[each.key] = _written(each, system, division, given=given)
    _take_back(listed, {each.field for each in read(changed).problems} - {each.field for each in reading.problems})
    done = [each for each in listed if each.block[each.key] != each.typed]
    if not given and system == "imperial" and any(each.weighed for each in done):
        changed["scale_division"] = _of_scale(division, division, "oz", ceil)
    return Converted(document=changed, count=len(done), most=max((_moved(each) for each in done), default=0.0))


def _take_back(listed: list[_Found], refused: set[str]) -> None:
    """Put back what was typed in each block of which an entry would not be taken any more."""
    blocks = [id(each.block) for each in listed if each.path in refused]
    for each in listed:
        if id(each.block) in blocks:
            each.block[each.key] = each.typed


def _copied(document: Mapping[str, Any]) -> dict[str, Any]:
    """Return a document whose blocks and rows are its own."""
    blocks = {key: dict(item) for key, item in document.items() if key in BLOCKS and isinstance(item, Mapping)}
    lists = {key: [dict(row) if isinstance(row, Mapping) else row for row in rows(document, key)] for key in LISTS}
    return {**document, **blocks, **{key: listed for key, listed in lists.items() if listed}}


def _foreign(document: dict[str, Any]) -> Iterator[_Found]:
    """Yield the entries that were typed in units of the other system."""
    places: list[tuple[str, type, Any]] = [("", Budget, document)]
    places += [(key, kind, document.get(key)) for key, kind in BLOCKS.items()]
    places += [(f"{key}.{at}", kind, row) for key, kind in LISTS.items() for at, row in enumerate(rows(document, key))]
    for path, kind, block in places:
        for name, field in described(kind).items() if isinstance(block, dict) else ():
            key = key_of(name)
            raw = block.get(key)
            if isinstance(field, QuantityField) and isinstance(raw, str) and _is_foreign(raw, field, document):
                where = f"{path}.{key}".lstrip(".")
                weighed = _weighed(key, block, path)
                yield _Found(path=where, block=block, key=key, field=field, typed=raw, weighed=weighed)


def _is_foreign(raw: str, field: QuantityField, document: Mapping[str, Any]) -> bool:
    if not differs(field.dimension) or is_bare_number(raw):
        return False
    try:
        unit = field.read(raw, "metric").unit or ""
    except FieldRefusedError:
        return False
    return (IMPERIAL.search(unit) is not None) != (system_of(document) == "imperial")


def _weighed(key: str, block: Mapping[str, Any], path: str) -> bool:
    """Return whether an entry is what a scale showed; a mass of which nothing is said counts as weighed."""
    known = {"mass": "known_by", "airframe": "airframe_known_by"}.get(key, "")
    if key == "mass" and place(path).block in NEVER_WEIGHED:
        return False
    scale = key in ("weighed", "airframe_weighed")
    return scale or (known != "" and block.get(known) in (None, "", "weighed"))


def _written(found: _Found, system: str, division: float, *, given: bool) -> str:
    """Return an entry in the unit of a system."""
    of = found.field.dimension
    unit = units.default_unit(of, system) if system == "imperial" else SMALL.get(of, units.default_unit(of, system))
    old = units.parse(found.typed, of, "metric")
    last = units.last_place(found.typed, of)
    if found.weighed or found.path == "scale_division":
        fine = division if given or found.path == "scale_division" else min(division, units.to_si(last, old.unit, of))
        return _of_scale(old.si, fine, unit, ceil if found.path == "scale_division" else _nearest)
    number, typed = units.from_si(old.si, unit, of), units.from_si(old.si, old.unit, of)
    power = _power(last) if of == "temperature" else _last_power(number, typed, last)
    if place(found.path).block == "airframe" and number:
        power = min(power, _power(number) + 1 - NOMINAL)
    return _text(number, 10.0**power, _rounding(found), unit)


def _of_scale(kg: float, division: float, unit: str, rounding: Rounding) -> str:
    """Return a mass in steps of 1, 2 or 5 that are no finer than a scale division; never nothing of something."""
    number, least = units.from_si(kg, unit, "mass"), units.from_si(division, unit, "mass")
    if number <= 0.0 or least <= 0.0:
        return f"0 {unit}" if number <= 0.0 else _text(number, 10.0 ** (_power(number) - 5), rounding, unit)
    steps = (first * 10.0**power for power in range(_power(least), _power(least) + 2) for first in (1, 2, 5))
    step = next(each for each in steps if each >= least * (1.0 - 1e-9))
    return _text(max(number, step), step, rounding, unit)


def _text(number: float, step: float, rounding: Rounding, unit: str) -> str:
    whole = rounding(round(number / step, 6)) * step
    return f"{whole:.{max(0, -_power(step))}f} {unit}"


def _last_power(number: float, typed: float, place: float) -> int:
    """Return the power of ten of the last digit that a converted number keeps."""
    if number == 0.0 or typed == 0.0:
        return 0
    more = int(_first(number) < _first(typed))
    return _power(number) - max(0, _power(typed) - _power(place)) - more


def _power(number: float) -> int:
    """Return the power of ten of the first digit."""
    return int(f"{abs(number):.9e}".partition("e")[2])


def _first(number: float) -> int:
    return int(f"{abs(number):.9e}"[0])


def _nearest(number: float) -> int:
    return floor(abs(number) + 0.5) * (1 if number >= 0.0 else -1)


def _rounding(found: _Found) -> Rounding:
    kind = place(found.path).kind
    if kind in NEVER_MORE:
        return floor
    if kind in PLANFORM and found.block.get("area") is True:
        return _nearest
    is_load = found.field.dimension == "mass" and kind not in EITHER_WAY
    return ceil if is_load or kind in NEVER_LESS else _nearest


def _moved(found: _Found) -> float:
    """Return by what share of itself an entry was moved; a temperature counts as none."""
    of = found.field.dimension
    before, after = (units.parse(text, of, "metric").si for text in (found.typed, str(found.block[found.key])))
    return 0.0 if of == "temperature" or before == 0.0 else abs(after / before - 1.0)
