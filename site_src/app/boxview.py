"""What the page of the box is given: its parts as a table, and the form of one part."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from calc import wording
from calc.document.blocks import BOX_KINDS, BoxPart
from calc.document.box import ACTUATORS, SHEET, Boxed, read_box
from calc.document.fields import Entry, Field, QuantityField, described
from calc.document.reading import read_block
from calc.subjects.airframe import words as airframe_words
from calc.subjects.airframe.sheet import missing, sheet_of
from calc.unit_system import UnitSystem
from site_src.app.controls import Control, control

MOST_LISTED = 300  # rows of the table; the rest is told as a number
BENCH = ("light_draw", "light_volts", "heavy_draw", "heavy_volts")
EATS = ("draw", "busy_draw", "busy", "min_volts")
ASKED = {
    "servo": (*EATS, "torque", "thrust"), "coil actuator": (*EATS, "torque"),
    "cell": ("capacity", "resistance", "meter", *BENCH, "cutoff", "series"),
    "supply": ("volts", "efficiency", "min_input", *EATS),
    "linkage": (), "mount": (), "wiring": (), SHEET: ("length", "width", "height"),
}  # fmt: skip
ALWAYS = ("name", "kind", "mass", "known_by")
# Entries that are asked of some kinds or not here at all; what is not among them is asked of every part.
NOT_OF_ALL = {*(name for kind, asked in ASKED.items() for name in asked if kind != SHEET), "draw_known_by"}
THICKNESS = "Thickness"  # of a sheet: the height that it lies with
DIVISION_KG = 0.0001  # of the scale: a box names none, and a budget's stands in at this
# What stands before a figure in the list of parts; other entries stand there with their label.
BEFORE = {
    "capacity": "", "resistance": "", "volts": "gives ", "draw": "", "busy_draw": "at work ", "busy": "for ",
    "min_volts": "from ", "torque": "", "thrust": "",
}  # fmt: skip
UNLISTED = (*ALWAYS, "draw_known_by", "cutoff", "series", "efficiency", "min_input")  # not in the list, or in columns


@dataclass(frozen=True, kw_only=True)
class PartRow:
    """A line of the box: its number in the document, its figures as text, what is wrong with it."""

    index: int
    name: str
    kind: str
    mass: str
    known_by: str
    figures: str
    problem: str
    density: float | None = None  # of a sheet, by which sheets stand [kg/m³]


@dataclass(frozen=True, kw_only=True)
class BoxView:
    """The box as a table, one group for each kind."""

    about: str
    count: int
    groups: tuple[tuple[str, tuple[PartRow, ...]], ...]
    unlisted: int
    problems: tuple[str, ...]
    kinds: tuple[str, ...]
    sheets: bool  # of balsa alone: sorted by density


def box_view(document: object, kind: str = "") -> BoxView:
    """Return the view of a box of any shape; `kind` keeps only the parts of one kind (an actuator's row takes both)."""
    box = read_box(document)
    source = document if isinstance(document, Mapping) else {}
    wanted = ACTUATORS if kind in ACTUATORS else (kind,)
    rows = [
        _row(index, boxed, UnitSystem(box.units))
        for index, boxed in enumerate(box.parts)
        if not kind or boxed.part.kind.value in wanted
    ]
    listed = rows[:MOST_LISTED]
    groups = [(each, tuple(row for row in listed if row.kind == each)) for each in BOX_KINDS]
    groups[-1] = (SHEET, tuple(sorted(groups[-1][1], key=lambda row: (row.density is None, row.density or 0.0))))
    return BoxView(
        about=_text(source.get("about")),
        count=len(box.parts),
        groups=tuple((each, found) for each, found in groups if found),
        unlisted=len(rows) - len(listed),
        problems=tuple(wording.problem(problem) for problem in box.problems),
        kinds=BOX_KINDS,
        sheets=kind == SHEET,
    )


def _text(raw: object) -> str:
    return raw if isinstance(raw, str) else ""


def _row(index: int, boxed: Boxed, system: UnitSystem) -> PartRow:
    part = boxed.part
    sheet = None if boxed.problems else sheet_of(part, DIVISION_KG)
    problems = [wording.problem(problem).partition(", ")[2] for problem in boxed.problems]
    problems += _sheet_lacks(part) if part.kind.value == SHEET and not problems and sheet is None else []
    problems += [airframe_words.ODD_SHEET] if sheet and sheet.odd else []
    figures = [airframe_words.sheet_brief(sheet, system)] if sheet else _figures(part, system)
    return PartRow(
        index=index,
        name=part.called,
        kind=part.kind.value,
        mass="" if part.mass is None else system.mass(part.mass.value),
        known_by=part.known_by.value,
        figures=", ".join(figures),
        problem="; ".join(problems),
        density=None if sheet is None else sheet.density_kg_m3,
    )


def _sheet_lacks(part: BoxPart) -> list[str]:
    """Return what keeps a sheet from having a density."""
    lacks = [THICKNESS if name == "height" else described(BoxPart)[name].box_label for name in missing(part)]
    return [f"waits for: {', '.join(map(wording.lowered, lacks))}"] if lacks else ["no wood is of this density"]


def _figures(part: BoxPart, system: UnitSystem) -> list[str]:
    """Return a part's figures as short texts."""
    fields = described(BoxPart)
    found = []
    for name in (*BEFORE, *(name for name in fields if name not in (*BEFORE, *UNLISTED))):
        field, entry = fields[name], getattr(part, name)
        if entry is None or (name not in BEFORE and entry.typed in (None, "", False)):
            continue
        before = BEFORE.get(name, f"{wording.lowered(field.box_label)} ")
        found.append(f"{before}{_figure(field, entry, system)}".strip())
    return found


def _figure(field: Field, entry: Entry[Any], system: UnitSystem) -> str:
    """Return an entry as it stands in the list of parts: a quantity in the unit of the box."""
    if isinstance(field, QuantityField):
        return system.given(entry.value, field.dimension)
    return "" if entry.value is True else str(entry.value)


@dataclass(frozen=True, kw_only=True)
class PartView:
    """The form of one part: the fields that its kind has."""

    controls: Mapping[str, Control]
    fields: tuple[str, ...]
    kind: str
    told: str = ""  # of a sheet: its density and grade
    more: str = ""  # how far off that may be, what an area weighs
    waits: str = ""


def part_view(typed: object, named: str) -> PartView:
    """Return the form of a part from its fields as typed, of any shape; `named` is the system of units as `system_of`.

    In a system that cannot be read ("") a bare number is refused, and the form shows metric units.
    """
    fields = typed if isinstance(typed, Mapping) else {}
    system = UnitSystem(named or "metric")
    part, problems = read_block(BoxPart, fields, "box", named)
    told = {problem.field: wording.sentence(problem.code, problem.facts) for problem in problems}
    kind = part.kind.value
    of_all = [name for name in described(BoxPart) if name not in (*ALWAYS, *NOT_OF_ALL)] if kind != SHEET else []
    asked = (*ALWAYS, *ASKED.get(kind, EATS), *of_all)
    controls = {
        f"box.{name}": control(f"box.{name}", each, fields.get(name), system, told.get(f"box.{name}", ""), "")
        for name, each in described(BoxPart).items()
    }
    if kind != SHEET:
        return PartView(controls=controls, fields=asked, kind=kind)
    sheet = None if problems else sheet_of(part, DIVISION_KG)
    controls["box.height"] = replace(controls["box.height"], label=THICKNESS)
    waits = "" if sheet or problems else "; ".join(_sheet_lacks(part))
    said = ("", "")
    if sheet is not None:
        said = airframe_words.sheet_density(sheet, system), airframe_words.sheet_more(sheet, system)
    return PartView(controls=controls, fields=asked, kind=kind, told=said[0], more=said[1], waits=waits)
