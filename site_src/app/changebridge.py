"""The part of the worker's door that tells what would make a budget fit, and makes such a change; see `bridge`."""

from collections.abc import Callable, Mapping
from typing import Any

from calc.changes import words
from calc.changes.data import as_json
from calc.changes.edits import applied, from_data
from calc.changes.find import find
from calc.document.box import read_box
from site_src.app.given import mapping
from site_src.app.render import render


def changes(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return what would make a budget fit, with the parts of `box` if it is given: data, sentences and HTML.

    It takes some tens of assessments, so it is asked for by itself and never within an answer.
    """
    box = params.get("box")
    found = find(mapping(params["document"]), None if box is None else read_box(box))
    data = as_json(found)
    rows = [
        {
            "sentence": words.sentence(each, found.system),
            "fits": each.fits,
            "presses": bool(each.edits),
            "code": each.what.code,
            "path": each.what.path,
        }
        for each in found.changes
    ]
    return {**data, "html": render("changes.html", {"headline": data["headline"], "changes": rows})}


def take(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a budget with a change's `edits` made; refused where the budget was changed there since."""
    return {"document": applied(mapping(params["document"]), from_data(params.get("edits")))}


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {"changes": changes, "change_take": take}
