"""The lines of every list on the page as texts."""

from collections.abc import Iterator, Mapping
from typing import Any

from calc.assess import Assessment
from calc.document.blocks import LISTS
from calc.document.budget import Budget
from calc.document.fields import ChoiceField, described
from calc.unit_system import UnitSystem
from site_src.app.line import Line
from site_src.subjects.listed import LINES


def all_texts(budget: Budget, found: Assessment, system: UnitSystem) -> Mapping[str, Line]:
    """Return each line by what stands for it in ids: the list and the row’s number, the empty line's as well."""
    texts: dict[str, Line] = {}
    for key in LISTS:
        make = LINES.get(key)
        lines = plain_lines(getattr(budget, key)) if make is None else make(budget, found, system)
        texts |= {f"{key}-{row}": line for row, line in lines.items()}
    return texts


def plain_lines(rows: tuple[Any, ...]) -> Mapping[str, Line]:
    """Return the lines of rows of which no subject has more to say than what was typed."""
    lines = {
        str(index): Line(name=row.name.value or f"line {index + 1}", counts="", rest=", ".join(_typed(row)))
        for index, row in enumerate(rows)
    }
    return lines | {str(len(rows)): Line(name="Add a line", counts="", rest="")}


def _typed(row: Any) -> Iterator[str]:
    for name, field in described(type(row)).items():
        entry = getattr(row, name)
        if name != "name" and entry is not None and entry.typed not in (None, ""):
            yield field.word(entry.value) if isinstance(field, ChoiceField) else str(entry.typed)
