"""The system of units of a document, and bare numbers: what they mean, and their units written out."""

from collections.abc import Mapping
from typing import Any

from calc import units
from calc.document.blocks import BLOCKS, LISTS, Budget
from calc.document.fields import QuantityField, described, key_of


def system_of(document: Mapping[str, Any]) -> str:
    """Return a document's system of units: `metric` (where it names none), `imperial`, or "" if it cannot be read.

    Examples
    --------
    >>> system_of({}), system_of({"units": "imperial"}), system_of({"units": "metricc"})
    ('metric', 'imperial', '')
    """
    named = document.get("units")
    if named in (None, "", "metric"):
        return "metric"
    return "imperial" if named == "imperial" else ""


def differs(dimension: str) -> bool:
    """Return whether a bare number of a dimension means something else in the other system."""
    return units.default_unit(dimension, "metric") != units.default_unit(dimension, "imperial")


def with_units_written(document: Mapping[str, Any], system: str) -> dict[str, Any]:
    """Return a document in which each bare number has the unit that it takes in `metric` or `imperial`.

    What was typed then keeps its meaning when the document's own system changes. Numbers whose unit is the same in both
    systems stay bare, and so does everything that is no quantity.

    Examples
    --------
    >>> with_units_written({"units": "metric", "cell": {"mass": 0.04, "capacity": "30"}}, "imperial")
    {'units': 'metric', 'cell': {'mass': '0.04 oz', 'capacity': '30'}}
    """
    changed = {**document, **block_with_units(Budget, document, system)}
    for key, kind in BLOCKS.items():
        if key in document:
            changed[key] = block_with_units(kind, document[key], system)
    for key, kind in LISTS.items():
        rows = document.get(key)
        if isinstance(rows, list | tuple):
            changed[key] = [block_with_units(kind, row, system) for row in rows]
    return changed


def block_with_units(kind: type, block: Any, system: str) -> Any:
    """Return a block of a document with units written; anything that is no block as it is.

    In a system that cannot be read ("") the unit is a question mark, which no reader takes for a unit.
    """
    if not isinstance(block, Mapping):
        return block
    changed = dict(block)
    for name, field in described(kind).items():
        raw = block.get(key_of(name))
        if isinstance(field, QuantityField) and is_bare_number(raw):
            unit = units.default_unit(field.dimension, system)
            if differs(field.dimension):
                changed[key_of(name)] = f"{raw} {unit if system else '?'}"
    return changed


def is_bare_number(raw: object) -> bool:
    """Return whether a raw entry is a number without a unit, as JSON number or as text.

    Examples
    --------
    >>> is_bare_number(1.2), is_bare_number("1,2"), is_bare_number("1.2 g"), is_bare_number(True)
    (True, True, False, False)
    """
    return isinstance(raw, str | int | float) and not isinstance(raw, bool) and units.is_bare(str(raw))
