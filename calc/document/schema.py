"""JSON Schema of a budget and of a box, made of their entries, for editors and other programs.

A schema tells which keys there are, which words a choice takes, and how long a text may be. That a quantity is one, and
lies within its range, only reading can tell (`calc.document.budget.read`): the schema says the range in words.

Source: JSON Schema, draft 2020-12 (json-schema.org, Core and Validation).
"""

from collections.abc import Mapping
from typing import Any

from calc import units
from calc.document.blocks import BLOCK_LABELS, BLOCKS, LISTS, MOST, BoxPart, Budget
from calc.document.box import MOST_PARTS
from calc.document.fields import ChoiceField, Field, FlagField, QuantityField, TextField, WholeField, described, key_of

DIALECT = "https://json-schema.org/draft/2020-12/schema"
NOTHING = ["", None]  # either is no entry
REFERENCE = {"$schema": {"type": "string", "title": "Address of this schema"}}


def budget_schema() -> dict[str, Any]:
    """Return the JSON Schema of a budget.

    Examples
    --------
    >>> found = budget_schema()
    >>> found["properties"]["gear"]["items"]["properties"]["count"]["title"]
    'Count'
    """
    lists = {
        key: {"title": BLOCK_LABELS[key], "type": ["array", "null"], "maxItems": MOST[key], "items": _block(kind)}
        for key, kind in LISTS.items()
    }
    blocks = {key: {**_block(kind, "null"), "title": BLOCK_LABELS[key]} for key, kind in BLOCKS.items()}
    return _document("Thistledown budget", {**_entries(Budget), **blocks, **lists})


def box_schema() -> dict[str, Any]:
    """Return the JSON Schema of a box; what it says beside its parts is left alone, as reading leaves it.

    Examples
    --------
    >>> box_schema()["properties"]["parts"]["items"]["properties"]["torque"]["description"]
    'A quantity with its unit, above 0 mN·m, up to 10000 mN·m.'
    """
    parts = {"title": "Parts", "type": "array", "maxItems": MOST_PARTS, "items": _block(BoxPart)}
    system = _entries(Budget)["units"]
    found = _document("Thistledown box of parts", {"units": system, "parts": parts})
    return {**found, "required": ["parts"], "additionalProperties": True}


def _document(title: str, properties: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "$schema": DIALECT, "title": title, "type": "object",
        "properties": {**REFERENCE, **properties}, "additionalProperties": False,
    }  # fmt: skip


def _block(kind: type, *otherwise: str) -> dict[str, Any]:
    return {"type": ["object", *otherwise], "properties": _entries(kind), "additionalProperties": False}


def _entries(kind: type) -> dict[str, Any]:
    return {key_of(name): _entry(field) for name, field in described(kind).items()}


def _entry(field: Field) -> dict[str, Any]:
    """Return what an entry may be."""
    told: dict[str, Any] = {"title": field.label, **({"description": field.hint} if field.hint else {})}
    if isinstance(field, ChoiceField):
        return {**told, "enum": [*field.choices, *NOTHING], "default": field.default}
    if isinstance(field, FlagField):
        return {**told, "enum": [True, False, *NOTHING], "default": False}
    if isinstance(field, TextField):
        return {**told, "type": ["string", "null"], "maxLength": field.most}
    if isinstance(field, WholeField):
        number = {"type": "integer", "minimum": field.low, "maximum": field.high}
        digits = {"type": "string", "pattern": r"^\s*[0-9]*\s*$"}
        default = {} if field.default is None else {"default": field.default}
        return {**told, "anyOf": [number, digits, {"type": "null"}], **default}
    assert isinstance(field, QuantityField)
    return {**told, **_quantity(field)}


def _quantity(field: QuantityField) -> dict[str, Any]:
    low, high = _text(field.low, field), _text(field.high, field)
    within = f"above {low}, up to {high}" if field.above else f"from {low} to {high}"
    default = {} if field.default is None else {"default": _text(field.default, field)}
    bare = [f"A bare number is in {field.bare}."] if field.bare else []
    return {
        "type": ["string", "number", "null"], "maxLength": units.LONGEST_TEXT,
        "description": " ".join([*([field.hint] if field.hint else []), f"A quantity with its unit, {within}.", *bare]),
        **default,
    }  # fmt: skip


def _text(si: float, field: QuantityField) -> str:
    """Return a quantity in its metric unit."""
    unit = units.default_unit(field.dimension, "metric")
    return f"{units.from_si(si, unit, field.dimension):.6g} {unit}".strip()
