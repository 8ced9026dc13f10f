"""The part of the worker's door for the parts of the airframe; see `bridge`."""

from collections.abc import Callable, Mapping
from typing import Any

from calc.changes.edits import as_data
from calc.document.letters import plain
from calc.savings import words
from calc.savings.find import find
from calc.subjects.airframe.table import from_csv, to_csv
from calc.subjects.airframe.templates import started
from site_src.app.given import mapping
from site_src.app.render import render


def start(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a document with the parts of an invented model."""
    return {"document": started(dict(mapping(params["document"])), str(params["model"]))}


def savings(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a choice saves on each part, with the edits that make it.

    It takes some tens of assessments, so it is asked for by itself and never within an answer.
    """
    found = find(mapping(params["document"]))
    lighter = [each for each in found.list if each.saved_kg > 0.0]
    rows = [words.sentence(each, found) for each in lighter]
    told = {"headline": words.headline(found), "rows": rows, "cut": found.cut, "caution": words.CAUTION}
    listed = [
        {"sentence": said, "edits": as_data(each.edits)} for said, each in zip(rows, lighter, strict=True)
    ]  # fmt: skip
    return {"list": listed, "html": render("savings.html", told)}


def save_parts(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the parts of the airframe as CSV."""
    return {"text": to_csv(mapping(params["document"]))}


def open_parts(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a document with the parts of a CSV after its own, and what came of it in a sentence."""
    document, ignored = from_csv(str(params["text"]), mapping(params["document"]))
    told = "The parts are added to the airframe."
    if ignored:
        told += f" Columns left aside: {', '.join(plain(name[:40]) for name in ignored[:20])}."
    return {"document": document, "told": told}


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "airframe_start": start,
    "airframe_csv": save_parts,
    "airframe_open": open_parts,
    "savings": savings,
}
