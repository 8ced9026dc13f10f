"""Which fields of the gear a column of a table can be, and what they are called."""

from calc.document.blocks import GearPart
from calc.document.entries import GearRow
from calc.document.fields import Field, QuantityField, described


def gear_fields() -> dict[str, Field]:
    """Return the fields that a column can be, by name: those of a part with its place in a model, and a weighed mass.

    The one place where tables learn what there is.
    """
    return {**described(GearPart), "weighed": described(GearRow)["weighed"]}


def label_of(name: str) -> str:
    """Return a field's name as a person reads it, as in the gear; "" for none."""
    each = gear_fields().get(name)
    return each.label if each else ""


def is_called(heading: str, name: str) -> bool:
    """Return whether a heading is a field's own name, as we write it in documents, pages and CSV.

    Examples
    --------
    >>> is_called("MASS OF ONE", "mass"), is_called("known by", "known_by"), is_called("", "mass")
    (True, True, False)
    """
    each = gear_fields().get(name)
    return each is not None and heading.casefold() in (
        name,
        name.replace("_", " "),
        each.label.casefold(),
        each.box_label.casefold(),
    )


def dimension(name: str) -> str:
    """Return the dimension of a field, "" where it is no quantity.

    Examples
    --------
    >>> dimension("mass"), dimension("name"), dimension("colour")
    ('mass', '', '')
    """
    each = gear_fields().get(name)
    return each.dimension if isinstance(each, QuantityField) else ""
