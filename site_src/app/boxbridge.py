"""The part of the worker's door that the box, the finder and the places use; see `bridge`.

A search is done in steps of some hundredths of a second, so that other requests, and a wish to stop, come between.
"""

import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from calc import wording
from calc.document import box, boxfile
from calc.document.blocks import BoxPart
from calc.document.letters import plain
from calc.document.systems import block_with_units, system_of
from calc.search import finder, wishes
from calc.search.sets import Progress
from calc.taking import taken
from site_src.app.boxview import box_view, part_view
from site_src.app.finderview import WishRow, finder_view, wish_rows
from site_src.app.given import letters_lost, mapping, number_after
from site_src.app.placesview import places_view
from site_src.app.render import render

STEP_S = 0.05


@dataclass
class Search:
    """The search under way: its number, the document it is for, and its steps; no steps where there is none."""

    number: int = 0
    steps: Iterator[Progress | finder.Answer] | None = None
    document: Mapping[str, Any] = field(default_factory=dict)

    def begin(self, number: int, document: Mapping[str, Any], steps: Iterator[Progress | finder.Answer]) -> None:
        """Put another search in the place of this one."""
        self.number, self.document, self.steps = number, document, steps


SEARCH = Search()  # the worker answers one page, and that one asks for one search at a time


def show_box(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the box as a table; with `kind`, as a list to take a part of that kind from."""
    kind = str(params.get("kind") or "")
    found = box_view(params.get("box"), kind)
    template = "boxpick.html" if params.get("pick") else "boxtable.html"
    return {"html": render(template, {"box": found}), "count": found.count}


def show_part(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the form of one part."""
    return {"html": render("boxpart.html", {"part": part_view(params.get("part"), system_of(params))})}


def open_box(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the parts in a file's text, JSON or CSV, with everything that was not understood.

    `units` is the system of the box that they go into: in another one bare numbers get the unit they were typed in.
    `plain` says that nothing is to be shown before they are taken: a box, or its own CSV, all of it understood.
    """
    text = str(params["text"])
    document = boxfile.box_from_text(text)
    found = box.read_box(document)
    ignored = document.get("ignored", []) if isinstance(document.get("ignored"), list) else []
    said = [wording.problem(problem) for problem in found.all_problems[:20]]
    said += [lost] if (lost := letters_lost(text)) else []
    parts = document["parts"][: box.MOST_PARTS] if isinstance(document["parts"], list) else []
    system = system_of(document)
    if params.get("units") not in (None, system):  # into a box of the other system
        parts = [block_with_units(BoxPart, part, system) for part in parts]
    return {
        "parts": parts, "units": found.units, "problems": said,
        "plain": boxfile.is_json(text) or (boxfile.is_own_csv(text) and not (ignored or said)),
        "ignored": [plain(str(heading)[:40]) for heading in ignored[:20]],
    }  # fmt: skip


def save_csv(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the box as CSV."""
    return {"text": boxfile.to_csv(mapping(params["box"]))}


def take(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a budget with a part of the box in a place."""
    found = taken(mapping(params["document"]), mapping(params["part"]), str(params["path"]), system_of(params))
    return {"document": found}


def put_back(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a row of a budget as a part for the box."""
    return {"part": box.put_back(mapping(params["document"]), str(params["path"]))}


def start_search(params: Mapping[str, Any]) -> dict[str, Any]:
    """Begin a search; one that is still under way is dropped.

    `keep` and `bar` list names, `actuator` is "servo", "coil" or ""; names that neither box nor budget has are dropped.
    """
    charges = str(params.get("charges") or "1").strip()
    count = wishes.charges_of(charges)
    document, found = mapping(params["document"]), box.read_box(params.get("box"))
    asked = wishes.Wishes(
        keep=_names(params, "keep"), bar=_names(params, "bar"), actuator=str(params.get("actuator", ""))
    )
    rows = wish_rows(document, found, asked)
    number = number_after(SEARCH.number, params)
    SEARCH.begin(number, document, finder.find(document, found, count or 1, _known(asked, rows)))
    told = "" if count else f"“{charges[:20]}” is no number of cells: searched for one."
    return {
        "search": SEARCH.number, "charges": count or 1, "told": told, "wrong": count is None,
        "wishes": render("wishes.html", {"wishes": rows}),
    }  # fmt: skip


def _names(params: Mapping[str, Any], key: str) -> tuple[str, ...]:
    names = params.get(key)
    return tuple(str(name) for name in names) if isinstance(names, list) else ()


def _known(asked: wishes.Wishes, rows: tuple[WishRow, ...]) -> wishes.Wishes:
    """Return wishes without the names that the page no longer lists."""
    keep, bar = (tuple(row.name for row in rows if row.wish == word) for word in ("keep", "bar"))
    return wishes.Wishes(keep=keep, bar=bar, actuator=asked.actuator)


def step_search(params: Mapping[str, Any]) -> dict[str, Any]:
    """Go on with a search for a moment: how far it is, or the answer; nothing if it was dropped."""
    if params["search"] != SEARCH.number or SEARCH.steps is None:
        return {"dropped": True}
    until = time.perf_counter() + STEP_S
    for step in SEARCH.steps:
        if isinstance(step, finder.Answer):
            return _found(step)
        if time.perf_counter() >= until:
            return {"done": step.done}
    return {"dropped": True}


def _found(answer: finder.Answer) -> dict[str, Any]:
    SEARCH.steps = None
    view, as_copy = finder_view(answer), _weighed(SEARCH.document)
    documents = [each.document for each in answer.sets]
    return {
        "done": 1.0,
        "headline": view.headline,
        "html": render("finder.html", {"finder": view}),
        "documents": [_as_copy(each) for each in documents] if as_copy else documents,
        "copy": as_copy,
    }


def _weighed(document: Mapping[str, Any]) -> bool:
    """Return whether gear of a budget was on the scale beside its plan: a set must not go over that."""
    rows = document.get("gear")
    blocks = [*(rows if isinstance(rows, list) else []), document.get("cell")]
    return any(block.get("weighed") not in (None, "") for block in blocks if isinstance(block, Mapping))


def _as_copy(document: Mapping[str, Any]) -> dict[str, Any]:
    """Return a budget under a name of its own."""
    name = document.get("name")
    called = name.strip()[:60] if isinstance(name, str) else ""
    return {**document, "name": f"{called} (set from the box)" if called else "Set from the box"}


def stop_search(params: Mapping[str, Any]) -> dict[str, Any]:  # noqa: ARG001 - every method takes them
    """Drop the search under way."""
    SEARCH.steps = None
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
