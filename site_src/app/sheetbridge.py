"""The part of the worker's door for own sheets of balsa: one weighed, and a part of the airframe cut from one."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from calc.document.blocks import BoxPart
from calc.document.box import SHEET
from calc.document.budget import read
from calc.document.letters import plain
from calc.document.paths import block
from calc.document.reading import read_block
from calc.document.systems import block_with_units, system_of
from calc.english import the
from calc.subjects.airframe import words
from calc.subjects.airframe.entries import AirframePart
from calc.subjects.airframe.sheet import ALIKE_M, cut, cuts, sheet_of
from calc.unit_system import UnitSystem
from site_src.app.boxview import DIVISION_KG, part_view
from site_src.app.controls import shown_text
from site_src.app.given import mapping
from site_src.app.render import render

NAMED = ("name", "mass", "length", "width", "height")  # what is asked where a sheet is weighed


def weigh(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a sheet's form with its density and what the parts of `document` would weigh cut from it.

    `part` is the same as a part for the box, its units written; None while it has no density.
    """
    typed = {**mapping(params.get("fields")), "kind": SHEET, "known_by": "weighed"}
    shown = weighed(typed, params.get("document"))
    return {"html": render("balsa.html", shown), "part": shown["part"]}


def weighed(typed: Mapping[str, Any], document: object = None) -> dict[str, Any]:
    """Return what the template is given for a sheet from its fields as typed."""
    part, problems = read_block(BoxPart, typed, "box", "metric")
    sheet = None if problems else sheet_of(part, DIVISION_KG)
    budget = read(document).budget
    found = () if sheet is None else tuple(cuts(budget, sheet))
    return {
        "part": block_with_units(BoxPart, typed, "metric") if sheet else None,
        "view": part_view(typed, "metric"), "asked": NAMED, "cuts": found, "system": UnitSystem.METRIC,
        "of": plain(shown_text(budget.name.value)[:40]) if budget.airframe else "",
        "has_parts": bool(budget.airframe),
    }  # fmt: skip


def take(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a budget in which the part at `path` is cut from a sheet of the box, and what is to be said of it."""
    document, part, path = mapping(params["document"]), mapping(params["part"]), str(params["path"])
    changed = cut(document, part, path, system_of(params))
    before, after = (read_block(AirframePart, block(each, path), path, system_of(document) or "metric")[0]
                     for each in (document, changed))  # fmt: skip
    return {"document": changed, "told": " ".join(_told(before, after, part, params))}


def _told(
    before: AirframePart, after: AirframePart, part: Mapping[str, Any], params: Mapping[str, Any]
) -> Iterator[str]:
    sheet = sheet_of(read_block(BoxPart, part, "", system_of(params))[0], DIVISION_KG)
    if sheet is None or sheet.odd:
        yield "That sheet has no density yet." if sheet is None else words.ODD_SHEET
        return
    system = UnitSystem.of(read(params["document"]).budget)
    yield f"{the(after.called).capitalize()}: cut from “{sheet.name}”, {words.sheet_brief(sheet, system)}."
    thick = before.thickness
    if thick is not None and abs(thick.value - sheet.thickness_m) > ALIKE_M:
        yield f"The part is {system.length(thick.value)} thick."


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {"sheet_weigh": weigh, "sheet_cut": take}
