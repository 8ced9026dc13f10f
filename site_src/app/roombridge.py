"""The part of the worker's door that the search for room uses; see `bridge`. A search is done in short steps."""

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from calc.changes.edits import as_data
from calc.document.box import read_box
from calc.fitting.find import LONG, Steps, find
from calc.fitting.words import NOTHING, told
from site_src.app.given import mapping, number_after

STEP_S = 0.05


@dataclass
class Search:
    """The search under way: its number, its steps (None where there is none), and how many it took."""

    number: int = 0
    steps: Steps | None = None
    taken: int = 0


SEARCH = Search()  # the worker answers one page, and that one asks for one search at a time


def start(params: Mapping[str, Any]) -> dict[str, Any]:
    """Begin a search for a document, with the parts of a box where there is one; another one is dropped."""
    SEARCH.number, SEARCH.taken = number_after(SEARCH.number, params), 0
    SEARCH.steps = find(mapping(params["document"]), read_box(params["box"]) if params.get("box") else None)
    return {"search": SEARCH.number}


def step(params: Mapping[str, Any]) -> dict[str, Any]:
    """Go on with a search for a moment: steps taken and how many the places take at most, or what was found.

    Each line found is a sentence with the edits that take it, none where there is nothing to take.
    """
    if params["search"] != SEARCH.number or SEARCH.steps is None:
        return {"dropped": True}
    until = time.perf_counter() + STEP_S
    try:
        while time.perf_counter() < until:
            SEARCH.taken += next(SEARCH.steps)
    except StopIteration as ended:
        SEARCH.steps = None
        if ended.value is None:
            return {"done": 1.0, "list": [{"sentence": NOTHING, "edits": []}]}
        found = [{"sentence": said, "edits": as_data(edits)} for said, edits in told(ended.value)]
        return {"done": 1.0, "list": found}
    return {"taken": SEARCH.taken, "most": LONG}


def stop(params: Mapping[str, Any]) -> dict[str, Any]:  # noqa: ARG001 - every method takes them
    """Drop the search under way."""
    SEARCH.steps = None
    return {}


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "room_start": start,
    "room_step": step,
    "room_stop": stop,
}
