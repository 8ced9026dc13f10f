"""The visitor's box of parts: read, and its parts in and out of a budget.

A box is `{"format": 1, "name": …, "units": …, "parts": [{"kind": "servo", "name": …, "mass": "1.7 g", …}, …]}`;
quantities are texts as typed, as in a budget. Which entries go with a part is told by the entries (`belongs`).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from calc.document.blocks import BLOCKS, BoxPart
from calc.document.entries import Cell, GearRow
from calc.document.fields import described, keys_of
from calc.document.paths import block, place, rows
from calc.document.reading import read_block, shortened
from calc.document.systems import block_with_units, system_of
from calc.errors import Problem
from calc.vocabulary import Actuator

MOST_PARTS = 5000
ACTUATORS: tuple[Literal["servo"], Literal["coil actuator"]] = ("servo", "coil actuator")
STRENGTH = keys_of(BLOCKS["surface"], "part")  # what an actuator brings into the surface
CONVERSION = keys_of(BLOCKS["supply"], "part")  # what a converter brings into the supply
SHEET: Literal["balsa sheet"] = "balsa sheet"  # the kind that is no gear: parts of the airframe are cut from it
FULL_V = 4.2  # of one cell: a converter that gives more steps up


@dataclass(frozen=True, kw_only=True)
class Boxed:
    """A part with its document; `problems` are its own. A part with problems is kept, and left out of every search."""

    part: BoxPart
    document: Mapping[str, Any]
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Box:
    """The parts in their order, and what is wrong with the box as a whole."""

    parts: tuple[Boxed, ...] = ()
    units: str = "metric"
    problems: tuple[Problem, ...] = ()

    @property
    def all_problems(self) -> tuple[Problem, ...]:
        """Everything wrong, in order."""
        return (*self.problems, *(problem for boxed in self.parts for problem in boxed.problems))


def read_box(document: object, kind: type[BoxPart] = BoxPart) -> Box:
    """Return the box in a document of any shape; its parts are of `kind`.

    Examples
    --------
    >>> box = read_box({"parts": [{"kind": "servo", "mass": "1.7 g"}, {"kind": "anvil"}]})
    >>> len(box.parts), [problem.field for problem in box.all_problems]
    (2, ['parts.1.kind'])
    """
    if not isinstance(document, Mapping) or not isinstance(document.get("parts", []), list | tuple):
        return Box(problems=(Problem(field="", code="not_a_box"),))
    system = system_of(document)
    raw = document.get("parts", [])
    too_many = Problem(field="parts", code="too_many_parts", facts={"most": MOST_PARTS, "count": len(raw)})
    return Box(
        parts=tuple(_boxed(part, f"parts.{index}", system, kind) for index, part in enumerate(raw[:MOST_PARTS])),
        units=system or "metric",
        problems=(*_of_units(document, system), *((too_many,) if len(raw) > MOST_PARTS else ())),
    )


def _of_units(document: Mapping[str, Any], system: str) -> tuple[Problem, ...]:
    facts = {"typed": shortened(document.get("units")), "choices": ("metric", "imperial")}
    return () if system else (Problem(field="units", code="not_a_choice", facts=facts),)


def _boxed(raw: object, path: str, system: str, kind: type[BoxPart]) -> Boxed:
    part, problems = read_block(kind, raw, path, system)
    return Boxed(part=part, document=raw if isinstance(raw, Mapping) else {}, problems=problems)


def is_box(document: object) -> bool:
    """Return whether a document is that of a box, and not that of a budget.

    Examples
    --------
    >>> is_box({"parts": []}), is_box({"gear": []}), is_box([])
    (True, False, False)
    """
    return isinstance(document, Mapping) and "parts" in document and "gear" not in document


def take(document: Mapping[str, Any], part: Mapping[str, Any], path: str, system: str) -> dict[str, Any]:
    """Return a budget with a part of the box in a place: `gear.N` (N past the end: a new row) or `cell`.

    What the place itself says (station, count) stays. An actuator brings its strength into the surface, if there is
    one, a converter its figures into `supply`. `system` is the box's: its bare numbers get their units.
    """
    part = block_with_units(BoxPart, part, system)
    changed = dict(document)
    if path == "cell":
        changed["cell"] = _only({**_of_the_place(Cell, block(document, path)), **_own(Cell, part)})
        return changed
    index, listed = place(path).row, rows(document)
    assert index is not None, f"{path} is no row"
    listed[index : index + 1] = [_only({**_own(GearRow, part), **_of_the_place(GearRow, block(document, path))})]
    changed["gear"] = listed
    if part.get("kind") in ACTUATORS and document.get("surface"):
        changed["surface"] = _with_actuator(block(document, "surface"), part)
    if part.get("kind") == "supply":
        changed["supply"] = _supply(part, system)
    return changed


def _only(block: Mapping[str, Any]) -> dict[str, Any]:
    """Return what is there of a block."""
    return {key: item for key, item in block.items() if item not in (None, "")}


def _own(kind: type, part: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a row or a cell takes from a part of the box."""
    return {key: part.get(key) for key in keys_of(kind, "part")}


def _of_the_place(kind: type, old: Mapping[str, Any]) -> dict[str, Any]:
    """Return what stays of a row or a cell when another part comes into its place."""
    return {key: item for key, item in old.items() if key in keys_of(kind, "place")}


def _with_actuator(surface: Mapping[str, Any], part: Mapping[str, Any]) -> dict[str, Any]:
    word: str = actuator_of(str(part.get("kind")), thrust=part.get("thrust") not in (None, ""))
    old = surface.get("actuator", "rotary servo")
    if all(part.get(key) in (None, "") for key in STRENGTH):
        word = str(old) if part.get("kind") == "servo" and old != "coil actuator" else word
    kept = {key: item for key, item in surface.items() if key not in STRENGTH}
    return _only({**kept, "actuator": word, **{key: part.get(key) for key in STRENGTH}})


def actuator_of(kind: str, *, thrust: bool) -> Actuator:
    """Return which actuator of a surface a part is: a servo with a rated thrust is a linear one.

    Examples
    --------
    >>> actuator_of("servo", thrust=True), actuator_of("servo", thrust=False)
    ('linear servo', 'rotary servo')
    """
    if kind == "coil actuator":
        return "coil actuator"
    return "linear servo" if thrust else "rotary servo"


def _supply(part: Mapping[str, Any], system: str) -> dict[str, Any]:
    volts = read_block(BoxPart, part, "", system)[0].volts
    kind = "up" if volts is None or volts.value > FULL_V else "down"
    return _only({"kind": kind, **{key: part.get(key) for key in CONVERSION}})


def put_back(document: Mapping[str, Any], path: str) -> dict[str, Any]:
    """Return a gear row or the cell of a budget as a part for the box, with its weighed mass if it has one."""
    system = system_of(document)
    found = {**block(document, path), **({"kind": "cell"} if path == "cell" else {})}
    if found.get("weighed") not in (None, ""):
        found.update(mass=found["weighed"], known_by="weighed")
    if found.get("kind") in ACTUATORS:
        surface = block_with_units(BLOCKS["surface"], block(document, "surface"), system)
        found.update({key: surface[key] for key in STRENGTH if key in surface})
    if found.get("kind") == "supply":
        supply = block(document, "supply")
        found.update({key: item for key, item in supply.items() if key in CONVERSION})
    part = _only({key: found.get(key) for key in described(BoxPart)})
    written = block_with_units(BoxPart, part, system)
    assert isinstance(written, dict)
    return written
