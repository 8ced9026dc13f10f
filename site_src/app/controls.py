"""The controls of a form, each made of its entry: label, unit, kind of control, choices, what stands in."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc import units
from calc.document.blocks import BLOCKS, Budget
from calc.document.budget import MOST_ROWS
from calc.document.entries import GearRow
from calc.document.fields import ChoiceField, Field, QuantityField, TextField, described, key_of
from calc.document.paths import place, rows
from calc.document.systems import is_bare_number
from calc.subjects.airframe.entries import FIELDS, AirframePart
from calc.unit_system import UnitSystem

# What a line of the gear shows, and what has its place elsewhere; every other entry of a row opens under its line.
FACE = ("name", "kind", "mass", "known_by", "weighed", "draw")
ELSEWHERE = ("off", "station")  # among the line's tools; with the balance
EMPTY_ROW = {"known_by": "guess"}  # the line that waits for the next part: nobody has said yet
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


def in_panel() -> tuple[str, ...]:
    """Return the entries that open under a line of the gear."""
    return tuple(name for name in described(GearRow) if name not in (*FACE, *ELSEWHERE))


WITH_PLANFORM = ("plate", "ribs", "frame", "cover", "finish")


def part_fields() -> tuple[tuple[tuple[str, ...], str], ...]:
    """Return the entries of a part of the airframe that belong to its shape: names, and their shapes in a row."""
    found: dict[tuple[str, ...], list[str]] = {}
    for name in described(AirframePart):
        shapes = WITH_PLANFORM if name == "area" else tuple(shape for shape, names in FIELDS.items() if name in names)
        if shapes:
            found.setdefault(shapes, []).append(name)
    return tuple((tuple(names), ",".join(shapes)) for shapes, names in found.items())


def all_controls(
    source: Mapping[str, Any], system: UnitSystem, problems: Mapping[str, str], notes: Mapping[str, str]
) -> dict[str, Control]:  # fmt: skip
    """Return every entry of the form by its path."""
    blocks: list[tuple[str, type, object]] = [("", Budget, source)]
    blocks += [(key, kind, source.get(key)) for key, kind in BLOCKS.items()]
    lines = [*rows(source)[:MOST_ROWS], EMPTY_ROW]
    blocks += [(f"gear.{index}", GearRow, row) for index, row in enumerate(lines)]
    blocks.append((f"gear.{ANY_ROW}", GearRow, EMPTY_ROW))
    parts = [*rows(source, "airframe.parts")[:MOST_ROWS], {}]
    blocks += [(f"airframe.parts.{index}", AirframePart, part) for index, part in enumerate(parts)]
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
        unit=system.label(field.dimension) if isinstance(field, QuantityField) else "",
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
