"""What would make a budget fit, as the page asks for it."""

import json
from typing import Any

import pytest
from markupsafe import Markup

from site_src.app.bridge import handle
from tests.support import SITE_SRC, PyodideBridge, demo_documents

OVER = demo_documents()["reed-bunting.json"]
BOX = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))


def ask(method: str, **params: Any) -> dict[str, Any]:
    """Return the whole answer to a request."""
    answer: dict[str, Any] = json.loads(handle(json.dumps({"v": 1, "id": 1, "method": method, "params": params})))
    return answer


def test_one_press_makes_it_fit_and_the_edits_backwards_undo_it() -> None:
    found = ask("changes", document=OVER, box=BOX)["result"]
    first = found["list"][0]
    assert (first["fits"], first["verdict"], first["code"]) == (True, "fits", "swap")
    taken = ask("change_take", document=OVER, edits=first["edits"])["result"]["document"]
    assert ask("assess", document=taken)["result"]["assessment"]["whole"]["verdict"] == "fits"
    turned = [
        {"keys": each["keys"]}
        | {other: each[name] for name, other in (("before", "after"), ("after", "before")) if name in each}
        for each in reversed(first["edits"])
    ]
    assert ask("change_take", document=taken, edits=turned)["result"]["document"] == OVER


def test_a_list_that_is_older_than_the_budget_is_refused_in_words() -> None:
    first = ask("changes", document=OVER, box=BOX)["result"]["list"][0]
    changed = {**OVER, "gear": OVER["gear"][1:]}
    answer = ask("change_take", document=changed, edits=first["edits"])
    assert answer["errors"][0]["code"] == "change_stale"
    assert ask("change_take", document=OVER, edits=None)["errors"][0]["code"] == "change_stale"


def test_the_template_has_a_button_for_what_can_be_pressed() -> None:
    document = demo_documents()["pipit.json"]
    found = ask("changes", document=document, box=BOX)["result"]
    presses = [bool(each["edits"]) for each in found["list"]]
    assert not all(presses)
    for index, able in enumerate(presses):
        assert (f'data-do="change-take" data-index="{index}"' in found["html"]) == able
    assert found["html"].count("<li>") == len(presses)


def test_names_are_escaped_and_a_budget_that_fits_has_no_list() -> None:
    gear = [{**OVER["gear"][0], "name": "<b>x</b>"}, *OVER["gear"][1:]]
    html = ask("changes", document={**OVER, "gear": gear}, box=BOX)["result"]["html"]
    assert str(Markup.escape("<b>x</b>")) in html
    assert "<b>" not in html
    for document in (demo_documents()["goldcrest.json"], {}, None):
        result = ask("changes", document=document)["result"]
        assert (result["html"].strip(), result["list"], result["assessments"]) == ("", [], 1)


@pytest.mark.node
@pytest.mark.parametrize("name", demo_documents())
def test_cpython_and_pyodide_find_the_same_changes(name: str, pyodide_bridge: PyodideBridge) -> None:
    params = {"document": demo_documents()[name], "box": BOX}
    request = json.dumps({"v": 1, "id": 1, "method": "changes", "params": params})
    assert json.loads(pyodide_bridge.ask(request)) == json.loads(handle(request))
