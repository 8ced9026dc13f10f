"""The controls of a form, each made of its entry: label, unit, kind of control, choices, what stands in."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc import units
from calc.document.blocks import BLOCKS, LISTS, MOST, Budget
from calc.document.fields import ChoiceField, Field, QuantityField, TextField, described, key_of
from calc.document.paths import place, rows
from calc.document.systems import is_bare_number
from calc.unit_system import UnitSystem

ANY_ROW = "__"  # stands for a row's number in the line from which the page makes empty ones


@dataclass(frozen=True, kw_only=True)
class Control:
    """One field of the form: its path and id, its label, what was typed, and what is said beside it."""

    kind: str  # quantity, whole, text, choice or check
    path: str
    id: str
    label: str
    hint: str
    typed: str
    checked: bool
    choices: tuple[tuple[str, str], ...]  # (value, word)
    placeholder: str
    unit: str  # the unit a bare number takes
    bare: bool  # a number was typed without its unit
    most: int  # longest text
    note: str
    problem: str


@dataclass(frozen=True, kw_only=True)
class Lines:
    """A list of rows on the page: how many are shown and how many can be, and the entries of a row."""

    count: int
    most: int
    full: bool
    names: tuple[str, ...]


def all_lines(source: Mapping[str, Any]) -> dict[str, Lines]:
    """Return what the page shows of each list."""
    return {
        key: Lines(
            count=min(len(rows(source, key)), MOST[key]),
            most=MOST[key],
            full=len(rows(source, key)) >= MOST[key],
            names=tuple(key_of(name) for name in described(kind)),
        )
        for key, kind in LISTS.items()
    }


def _empty(kind: type) -> dict[str, str]:
    """Return the row that waits for the next one: how its mass is known nobody has said yet."""
    field = described(kind).get("known_by")
    return {"known_by": "guess"} if isinstance(field, ChoiceField) and "guess" in field.choices else {}


def all_controls(
    source: Mapping[str, Any], system: UnitSystem, problems: Mapping[str, str], notes: Mapping[str, str]
) -> dict[str, Control]:  # fmt: skip
    """Return every entry of the form by its path."""
    blocks: list[tuple[str, type, object]] = [("", Budget, source)]
    blocks += [(key, kind, source.get(key)) for key, kind in BLOCKS.items()]
    for key, kind in LISTS.items():
        lines = [*rows(source, key)[: MOST[key]], _empty(kind)]
        blocks += [(f"{key}.{index}", kind, row) for index, row in enumerate(lines)]
        blocks.append((f"{key}.{ANY_ROW}", kind, _empty(kind)))
    found = {}
    for path, kind, block in blocks:
        for name, field in described(kind).items():
            where = f"{path}.{key_of(name)}" if path else key_of(name)
            raw = block.get(key_of(name)) if isinstance(block, Mapping) else None
            found[where] = control(where, field, raw, system, problems.get(where, ""), notes.get(where, ""))
    return found


def control(path: str, field: Field, raw: object, system: UnitSystem, problem: str, note: str) -> Control:
    """Return one field of the form."""
    return Control(
        kind=field.control,
        path=path,
        id=path.replace(".", "-"),
        label=field.box_label if place(path).block == "box" else field.label,
        hint=field.hint,
        typed=shown_text(raw),
        checked=raw is True,
        choices=_choices(field),
        placeholder=_placeholder(field, system),
        unit=(field.bare or system.label(field.dimension)) if isinstance(field, QuantityField) else "",
        bare=isinstance(field, QuantityField) and is_bare_number(raw),
        most=field.most if isinstance(field, TextField) else units.LONGEST_TEXT,
        note=note,
        problem=problem,
    )


def _choices(field: Field) -> tuple[tuple[str, str], ...]:
    return tuple((each, field.word(each)) for each in field.choices) if isinstance(field, ChoiceField) else ()


def _placeholder(field: Field, system: UnitSystem) -> str:
    """Return what stands in for an empty field, as text: its default."""
    entry = field.default_entry()
    if entry is None or entry.value == "":
        return ""
    if isinstance(field, QuantityField):
        label, number = system.label(field.dimension), system.number(entry.value, field.dimension)
        return f"{number:.2g} {label}" if 0 < number < 0.01 else f"{number:.4g} {label}"
    return str(entry.value)


def shown_text(raw: object) -> str:
    """Return a typed value as the text of its field; a group or a list has no text."""
    if raw is None or isinstance(raw, bool) or not isinstance(raw, str | int | float):
        return ""
    return str(raw)
