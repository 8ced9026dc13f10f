"""The lines of every list on the page as texts."""

from collections.abc import Iterator, Mapping
from typing import Any

from calc.assess import Assessment
from calc.document.blocks import LISTS
from calc.document.budget import Budget
from calc.document.fields import ChoiceField, FlagField, described
from calc.document.letters import plain
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
        str(index): Line(name=first or f"line {index + 1}", counts="", rest=", ".join(filter(None, rest)))
        for index, (first, *rest) in enumerate(map(_typed, rows))
    }
    return lines | {str(len(rows)): Line(name="Add a line", counts="", rest="")}


def _typed(row: Any) -> Iterator[str]:
    """Yield each entry of a row in words, safe to stand beside others; "" where nothing was typed."""
    for name, field in described(type(row)).items():
        typed = "" if getattr(row, name) is None else getattr(row, name).typed
        if isinstance(field, FlagField):
            yield field.label.lower() if typed else ""
        else:
            yield field.word(typed) if isinstance(field, ChoiceField) and typed else plain(str(typed or ""))
