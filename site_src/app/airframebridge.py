"""The part of the worker's door for the parts of the airframe; see `bridge`."""

from collections.abc import Callable, Mapping
from typing import Any

from calc import wording
from calc.changes.edits import as_data
from calc.document.intake import opened
from calc.document.letters import plain
from calc.english import counted
from calc.savings import words
from calc.savings.find import find
from calc.subjects.airframe.table import from_table, is_headed, to_csv
from calc.subjects.airframe.templates import started
from site_src.app.given import mapping
from site_src.app.render import render
from site_src.app.tablebridge import source_in


def start(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a document with the parts of an invented model."""
    return {"document": started(dict(mapping(params["document"])), str(params["model"]))}


def savings(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a choice saves on each part, with the edits that make it.

    It takes some tens of assessments, so it is asked for by itself and never within an answer.
    """
    found = find(mapping(params["document"]))
    listed = [{"sentence": words.sentence(each, found), "edits": as_data(each.edits)} for each in found.list]
    said = [each["sentence"] for each in listed]
    lighter = sum(each.saved_kg > 0.0 for each in found.list)  # they come first
    told = {
        "headline": words.headline(found), "lighter": said[:lighter], "heavier": said[lighter:], "cut": found.cut,
        "caution": words.CAUTION,
    }  # fmt: skip
    return {"list": listed, "html": render("savings.html", told)}


def save_parts(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the parts of the airframe as CSV."""
    return {"text": to_csv(mapping(params["document"]))}


def open_parts(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a document with the parts of a table after its own, and what came of it in a sentence.

    `text` is that of a CSV, `data` the bytes of a CSV, ODS or XLSX in base64.
    """
    added = from_table(opened(source_in(params), headed=is_headed), mapping(params["document"]))
    told = [f"{counted(added.parts, 'part')} added to the airframe."]
    told += [f"Left aside: {', '.join(plain(name[:40]) for name in added.aside[:20])}."] if added.aside else []
    told += [wording.sentence(each.code, each.facts) for each in added.told]
    return {"document": added.document, "told": " ".join(told)}


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "airframe_start": start,
    "airframe_csv": save_parts,
    "airframe_open": open_parts,
    "savings": savings,
}
