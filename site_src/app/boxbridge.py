"""The part of the worker's door that the box, the finder and the places use; see `bridge`.

A search is done in steps of some hundredths of a second, so that other requests, and a wish to stop, come between.
"""

import time
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from calc import box, finder, wording
from calc.budget import block_with_units
from calc.fronts import Progress
from calc.parts import BoxPart
from site_src.app.boxview import box_view, finder_view, part_view, places_view
from site_src.app.given import mapping
from site_src.app.render import render

STEP_S = 0.05


class _Search:
    """The search under way, if there is one."""

    number = 0
    steps: Iterator[Progress | finder.Answer] | None = None


def _system(document: Mapping[str, Any]) -> str:
    return "imperial" if document.get("units") == "imperial" else "metric"


def show_box(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the box as a table; with `kind`, as a list to take a part of that kind from."""
    kind = str(params.get("kind") or "")
    found = box_view(params.get("box"), kind)
    template = "boxpick.html" if params.get("pick") else "boxtable.html"
    return {"html": render(template, {"box": found}), "count": found.count}


def show_part(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the form of one part."""
    return {"html": render("boxpart.html", {"part": part_view(params.get("part"), _system(params))})}


def open_box(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the parts in a file's text, JSON or CSV, with everything that was not understood.

    `units` is the system of the box that they go into: in another one bare numbers get the unit they were typed in.
    """
    document = box.box_from_text(str(params["text"]))
    found = box.read_box(document)
    ignored = document.get("ignored", []) if isinstance(document.get("ignored"), list) else []
    said = [wording.problem(problem) for problem in found.all_problems[:20]]
    parts = document["parts"][: box.MOST_PARTS] if isinstance(document["parts"], list) else []
    if params.get("units") not in (None, found.units):  # into a box of the other system
        parts = [block_with_units(BoxPart, part, found.units) for part in parts]
    return {
        "parts": parts, "units": found.units, "problems": said,
        "ignored": [str(heading)[:40] for heading in ignored[:20]],
    }  # fmt: skip


def save_csv(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the box as CSV."""
    return {"text": box.to_csv(mapping(params["box"]))}


def take(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a budget with a part of the box in a place."""
    found = box.take(mapping(params["document"]), mapping(params["part"]), str(params["path"]), _system(params))
    return {"document": found}


def put_back(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a row of a budget as a part for the box."""
    return {"part": box.put_back(mapping(params["document"]), str(params["path"]))}


def start_search(params: Mapping[str, Any]) -> dict[str, Any]:
    """Begin a search; one that is still under way is dropped."""
    charges = str(params.get("charges") or "1").strip()
    count = int(charges) if charges.isascii() and charges.isdigit() and len(charges) < 4 else 0
    _Search.number += 1
    _Search.steps = finder.find(mapping(params["document"]), box.read_box(params.get("box")), max(1, count))
    told = "" if count else f"“{charges[:20]}” is no number of cells: searched for one."
    return {"search": _Search.number, "charges": max(1, count), "told": told}


def step_search(params: Mapping[str, Any]) -> dict[str, Any]:
    """Go on with a search for a moment: how far it is, or the answer; nothing if it was dropped."""
    if params["search"] != _Search.number or _Search.steps is None:
        return {"dropped": True}
    until = time.perf_counter() + STEP_S
    for step in _Search.steps:
        if isinstance(step, finder.Answer):
            return _found(step)
        if time.perf_counter() >= until:
            return {"done": step.done}
    return {"dropped": True}


def _found(answer: finder.Answer) -> dict[str, Any]:
    _Search.steps = None
    view = finder_view(answer)
    return {
        "done": 1.0,
        "headline": view.headline,
        "html": render("finder.html", {"finder": view}),
        "documents": [each.document for each in answer.sets],
    }


def stop_search(params: Mapping[str, Any]) -> dict[str, Any]:  # noqa: ARG001 - every method takes them
    """Drop the search under way."""
    _Search.steps = None
    return {}


def show_places(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return where a budget's gear fits, and which saved set fits its model, as tables."""
    others = [(str(name), mapping(other)) for name, other in params.get("others") or []]
    return {"html": render("places.html", places_view(mapping(params["document"]), others))}


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "box": show_box,
    "box_part": show_part,
    "box_open": open_box,
    "box_csv": save_csv,
    "box_take": take,
    "box_put": put_back,
    "finder_start": start_search,
    "finder_step": step_search,
    "finder_stop": stop_search,
    "places": show_places,
}
