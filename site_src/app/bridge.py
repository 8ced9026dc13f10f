"""The worker's door: one JSON text in, one JSON text out, whatever happens.

Request {v, id, method, params}; answer {v, id, ok: true, result} or {v, id, ok: false, errors: [{code, field,
message, facts}]}. What is ready before the rest goes ahead of it: {v, id, first: {places}}.
"""

import json
import re
from collections.abc import Callable, Mapping
from functools import partial
from math import isfinite
from typing import Any

from calc import wording
from calc.assess import assess
from calc.data import as_json
from calc.digits import percent
from calc.document import link
from calc.document.budget import read
from calc.document.conversion import converted
from calc.document.jsontext import loads
from calc.document.paths import block, place, rows
from calc.document.systems import with_units_written
from calc.errors import BudgetError, LinkError
from calc.subjects.listed import SUBJECTS
from calc.subjects.power.draws import with_usual
from calc.unit_system import UnitSystem
from site_src.app import (
    airframebridge,
    boxbridge,
    changebridge,
    logbridge,
    roombridge,
    sharebridge,
    sheetbridge,
    tablebridge,
)  # fmt: skip
from site_src.app.compareview import compared
from site_src.app.given import mapping
from site_src.app.places import answers_of, first_places, other_places
from site_src.app.render import render
from site_src.app.stockview import stock_view
from site_src.app.view import View, view
from site_src.app.why import PARTS

VERSION = 1
_VIEWS: dict[str, View] = {}  # of the document answered last
LEFT_OUT = "left_out"  # the code of a function that is not in the snapshot; see `site_src.tools.snapshot_inside`
LONGEST_REQUEST = 32_000_000  # characters: a box as text within a text
DEEPEST_REQUEST = 60  # brackets within brackets: past it Pyodide’s stack could end, and the sums with it
NUMBER = re.compile(r'\A\{"v":\s*\d+,\s*"id":\s*(\d{1,15})\b')
UNCHECKED = (
    "This link was made by an earlier edition and has no checksum: had a letter been changed on the way, nothing would "
    "show it."
)


def handle(text: str, tell: Callable[[str], object] | None = None) -> str:
    """Return the answer to a request; never raises.

    `tell` is given what goes ahead of it, which the answer then goes without.
    """
    number: Any = int(found[1]) if (found := NUMBER.match(text)) else None
    try:
        request = loads(text, LONGEST_REQUEST, DEEPEST_REQUEST)
        number = request["id"]
        method = METHODS.get(request["method"])
        if method is None:
            return _refusal(number, "unknown_method", "", {})
        if tell is not None and method is answer:
            ahead, method = _in_two(request["params"])
            tell(_text({"v": VERSION, "id": number, "first": ahead}))
        return _text({"v": VERSION, "id": number, "ok": True, "result": method(request["params"])})
    except LinkError as error:
        return _refusal(number, error.code, "", error.facts)
    except BudgetError as error:
        first = error.problems[0]
        return _refusal(number, first.code, first.field, first.facts)
    except Exception as error:  # noqa: BLE001 - a fault must reach the page as an answer, or it would wait for ever
        return _fault(number, error)


def _text(answer: Mapping[str, Any]) -> str:
    """Return an answer as JSON text; NaN or an infinity in it is a fault, since the page could not read it."""
    return json.dumps(answer, ensure_ascii=False, allow_nan=False, default=str)


def _refusal(number: Any, code: str, field: str, facts: Mapping[str, Any]) -> str:
    error = {"code": code, "field": field, "message": wording.sentence(code, facts), "facts": _finite(facts)}
    return _text({"v": VERSION, "id": number, "ok": False, "errors": [error]})


def _fault(number: Any, error: Exception) -> str:
    """Return a fault inside the program as an answer; the code says whether the snapshot lacks a function."""
    code = LEFT_OUT if error.args == (LEFT_OUT,) else "inside"
    return _refusal(number, code, "", {"what": f"{type(error).__name__}: {error}"[:300]})


def _finite(facts: Mapping[str, Any]) -> dict[str, Any]:
    return {key: str(item) if isinstance(item, float) and not isfinite(item) else item for key, item in facts.items()}


def _parts(found: View, document: Mapping[str, Any], params: Mapping[str, Any]) -> dict[str, Any]:
    """Return what every answer about a document holds, but the places of its verdict.

    `held` among the parameters is a document to compare it with, `shut` are the subjects whose answers nobody sees:
    `rest` brings them.
    """
    try:
        fragment, link_problem = link.encode(document), ""
    except LinkError as error:
        fragment, link_problem = "", wording.sentence(error.code, error.facts)
    return {
        "name": found.name,
        "headline": found.answer.headline,
        "wanting": found.answer.settled in ("close", "over", "fails"),
        "places": dict(other_places(found.answer, _against(document, params), _shut(params))),
        "problems": dict(found.problems),
        "notes": dict(found.notes),
        "bare": list(found.bare),
        "link": fragment,
        "link_problem": link_problem,
    }


def _why(params: Mapping[str, Any]) -> list[str]:
    """Return the parts of the answer that are to show their workings."""
    asked = params.get("why", ())
    return [part for part in PARTS if part in asked]


def _against(document: Mapping[str, Any], params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the comparison with the document that is held, if one is."""
    baseline = params.get("held")
    return {"baseline": compared(baseline, document)} if isinstance(baseline, dict) else {}


def _shut(params: Mapping[str, Any]) -> list[str]:
    """Return the subjects that are shut on the page."""
    asked = params.get("shut", ())
    return [each.name for each in SUBJECTS if each.name in asked]


def answer(params: Mapping[str, Any]) -> dict[str, Any]:
    """Answer an edit: the answer's HTML (against `held`, if given), what to say beside each field, the link."""
    ahead, rest_of_it = _in_two(params)
    return _joined(ahead, rest_of_it(params))


def _in_two(params: Mapping[str, Any]) -> tuple[dict[str, Any], Callable[[Mapping[str, Any]], dict[str, Any]]]:
    """Return what goes ahead, and what gives the rest."""
    document = mapping(params["document"])
    found = _viewed(document, _why(params))
    return _verdict(found, params), partial(_parts, found, document)


def _verdict(found: View, params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the places that go ahead: the verdict; `example` says that the document is nobody's own."""
    return {"places": dict(first_places(found.answer, {"example": params.get("example") is True}))}


def _joined(first: Mapping[str, Any], rest: Mapping[str, Any]) -> dict[str, Any]:
    return {**rest, "places": {**first["places"], **rest["places"]}}


def rest(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the places that an answer to the same parameters did not bring: those of the subjects that are shut."""
    document = mapping(params["document"])
    context = {"answer": _viewed(document, _why(params)).answer, **_against(document, params)}
    return {"places": dict(answers_of(_shut(params), context))}


def _viewed(document: Mapping[str, Any], why: list[str]) -> View:
    """Return the view of a document; that of the last one is kept, for `rest`."""
    text = json.dumps([document, why])
    if text not in _VIEWS:
        _VIEWS.clear()
        _VIEWS[text] = view(document, why)
    return _VIEWS[text]


def form(params: Mapping[str, Any]) -> dict[str, Any]:
    """Show another document: the form's HTML as well.

    Where the document's system of units was just changed, `from_units` tells the one its bare numbers were typed in.
    """
    document = mapping(params["document"])
    if params.get("from_units") in ("metric", "imperial"):
        document = with_units_written(document, params["from_units"])
    found = view(document, _why(params))
    return {
        **_joined(_verdict(found, params), _parts(found, document, params)),
        "form": render("form.html", {"view": found}),
        "document": document,
    }


def convert(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return a document with what was typed in the other system's units in its own, and what became of it."""
    found = converted(mapping(params["document"]))
    if not found.count:
        return {"document": found.document, "count": 0, "told": "Nothing to convert: all is in this budget’s units."}
    entries = "1 entry is" if found.count == 1 else f"{found.count} entries are"
    told = f"{entries} converted; rounding moved none by more than {percent(found.most)}."
    return {"document": found.document, "count": found.count, "told": told}


def assessment(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the assessment as data, with every problem of the document as a sentence."""
    reading = read(params["document"])
    problems = [wording.problem(problem) for problem in reading.problems]
    return {"assessment": as_json(assess(reading.budget)), "problems": problems}


def usual_draw(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the document with the usual draw of its kind in the row at `path`, marked as a guess."""
    document = mapping(params["document"])
    path = str(params["path"])
    index, row = place(path).row, block(document, path)
    if index is None or not row:
        return {"document": document}
    gear = rows(document)
    return {"document": {**document, "gear": [*gear[:index], with_usual(row), *gear[index + 1 :]]}}


def stock(params: Mapping[str, Any]) -> dict[str, Any]:
    """Weigh a piece of stock: the form's HTML for its shape, and the mass as text for a mass field."""
    system = UnitSystem.IMPERIAL if params.get("units") == "imperial" else UnitSystem.METRIC
    found = stock_view(params.get("fields"), system)
    return {"html": render("stock.html", {"stock": found}), "mass": found.mass, "name": found.name}


def compare(params: Mapping[str, Any]) -> dict[str, Any]:
    """Put two documents side by side: the HTML, and both answers in a few words."""
    found = compared(params["before"], params["after"], whole=True)
    return {"html": render("compare.html", {"compared": found}), "headline": found.headline}


def open_link(params: Mapping[str, Any]) -> dict[str, Any]:
    """Return the document of an address fragment; `told` says if nothing could have shown a letter that was changed."""
    fragment = str(params["fragment"])
    document = link.decode(fragment)
    return {"document": document, "told": "" if link.is_checked(fragment) else UNCHECKED}


METHODS: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "answer": answer,
    "rest": rest,
    "assess": assessment,
    "compare": compare,
    "convert": convert,
    "form": form,
    "stock": stock,
    "open_link": open_link,
    "usual_draw": usual_draw,
    **airframebridge.METHODS,
    **boxbridge.METHODS,
    **changebridge.METHODS,
    **logbridge.METHODS,
    **roombridge.METHODS,
    **sharebridge.METHODS,
    **sheetbridge.METHODS,
    **tablebridge.METHODS,
}
