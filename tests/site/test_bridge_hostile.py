"""What hostile input comes to at the worker's door: JSON that a browser can read, and a sentence."""

import json
from typing import Any

import pytest

from calc.document import link
from calc.document.blocks import LISTS
from site_src.app import bridge
from tests.site.test_bridge import ask
from tests.support import all_places, demo_documents


@pytest.mark.parametrize("number", ["1e999", "-1e999", "1e400", "9" * 4300, "9" * 400, "-" + "9" * 5000])
def test_a_number_that_no_float_holds_never_leaves_as_infinity(number: str) -> None:
    """Not in a request, not in a file: the page could not read the answer, and would wait for ever."""
    document = (
        f'{{"format":1,"name":{number},"x":{number},"model":{{"airframe":{number}}},"gear":[{{"name":{number},'
        f'"mass":{number},"count":{number},"off":{number}}}],"units":{number}}}'
    )
    for method in ("answer", "form", "assess", "sheet", "gear_csv"):
        asked = f'{{"v":1,"id":3,"method":"{method}","params":{{"document":{document}}}}}'
        answer = json.loads(bridge.handle(asked), parse_constant=pytest.fail)
        assert (answer["id"], answer["ok"]) == (3, True)
        if method == "form":
            assert {"model.airframe", "gear.0.mass", "gear.0.count", "x"} <= set(answer["result"]["problems"])
    opened = ask("open_any", text=document, document={})["result"]["document"]
    assert opened["model"]["airframe"] == number
    assert link.decode(link.encode(opened)) == opened


@pytest.mark.parametrize("number", ["Infinity", "NaN", "-Infinity"])
def test_words_for_no_number_are_texts(number: str) -> None:
    asked = f'{{"v":1,"id":3,"method":"form","params":{{"document":{{"gear":[{{"mass":{number}}}]}}}}}}'
    answer = json.loads(bridge.handle(asked), parse_constant=pytest.fail)
    assert "cannot be read as a mass" in answer["result"]["problems"]["gear.0.mass"]


def test_an_answer_that_would_hold_an_infinity_is_a_fault_that_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(bridge.METHODS, "stock", lambda _: {"mass": float("inf")})
    assert ask("stock")["errors"][0]["code"] == "inside"


def test_a_request_nested_too_deeply_is_refused_by_its_number() -> None:
    """50 000 brackets in a stored budget: Pyodide's own stack would end before Python's count does."""
    asked = '{"v":1,"id":9,"method":"form","params":{"document":{"a":' + "[" * 50_000 + "]" * 50_000 + "}}}"
    answer = json.loads(bridge.handle(asked))
    assert (answer["id"], answer["errors"][0]["code"]) == (9, "too_deep")
    assert ask("form", document={"a": [[[[[[[[1]]]]]]]]})["ok"] is True


def test_links_say_whether_they_were_checked() -> None:
    fragment = ask("answer", document={"name": "Moth"})["result"]["link"]
    assert ask("open_link", fragment=fragment)["result"]["told"] == ""
    assert "earlier edition" in ask("open_link", fragment=f"#b={fragment.split('.')[1]}")["result"]["told"]


def test_letters_lost_in_a_file_are_told() -> None:
    """A file in Windows-1252, as the browser hands it over."""
    for text in ('{"name": "M\ufffdwe"}', "kind,name\nservo,M\ufffdwe\n"):
        found = ask("open_any", text=text, document={})["result"]
        assert "not UTF-8" in found["warned"]
        assert found["told"] == "" if text.startswith("{") else found["told"].endswith(found["warned"])
    assert "not UTF-8" in ask("box_open", text="kind,name\nservo,M\ufffdwe\n")["result"]["problems"][-1]
    assert ask("open_any", text="{}", document={})["result"]["warned"] == ""


NAMES = ("a\u202eb", "\u05e9\u05dc\u05d5\u05dd 9 g")
ROWS: dict[str, dict[str, Any]] = {
    "bays": {"length": "90 mm", "width": "60 mm", "height": "60 mm"},
    "airframe": {"shape": "given", "mass": "2 g", "weighed": "9 g"},
    "flights": {"sink": "0.4 m/s"},
    "charges": {"put_back": "5 mAh", "flights": 3},
}
TEXTS = {"bays": ("name",), "airframe": ("name",), "flights": ("date", "remarks"), "charges": ("date", "remarks")}


def room_told(document: dict[str, Any]) -> str:
    """Return what the search of the bays says in the end."""
    sized = {"length": "20 mm", "width": "12 mm", "height": "6 mm"}
    given = {**document, "gear": [{**row, **sized} for row in document["gear"]], "cell": {**document["cell"], **sized}}
    number = ask("room_start", document=given)["result"]["search"]
    told: dict[str, Any] = {}
    while "done" not in told:
        told = ask("room_step", search=number)["result"]
    return " ".join(each["sentence"] for each in told["list"])


def test_a_name_never_turns_the_figures_beside_it() -> None:
    """An override is written out; a name that runs from right to left is set apart, in texts, pictures and sheet."""
    document = demo_documents()["sedge-wren.json"]
    document["name"] = document["cell"]["name"] = document["gear"][0]["name"] = "a\u202eb"
    document["gear"][1]["name"] = "\u05e9\u05dc\u05d5\u05dd 9 g"
    document |= {key: [{**row, **dict.fromkeys(TEXTS[key], name)} for name in NAMES] for key, row in ROWS.items()}
    for html in (
        all_places(ask("answer", document=document, why=["gear"])["result"]),
        ask("sheet", document=document)["result"]["html"],
        ask("compare", before=document, after={**document, **{key: [] for key in LISTS}})["result"]["html"],
        ask("savings", document=document)["result"]["html"],
        room_told(document),
        ask("places", document=document, others=[["x", document]])["result"]["html"],
    ):
        assert "\u202e" not in html
        for before in html.split("\u05e9\u05dc\u05d5\u05dd")[:-1]:
            assert before.endswith("\u2068")


def test_a_box_in_units_that_cannot_be_read_gives_no_grams() -> None:
    text = '{"units": "metricc", "parts": [{"kind": "servo", "mass": "0.06", "draw": "8"}]}'
    for system in ("metric", "imperial", None):
        found = ask("box_open", text=text, units=system)["result"]
        assert found["parts"][0]["mass"] == ("0.06" if system is None else "0.06 ?")
        assert len(found["problems"]) == 2
