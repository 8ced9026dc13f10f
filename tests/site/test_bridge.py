"""The worker's door: JSON in, JSON out, whatever comes."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.assess import assess
from calc.digits import tight
from calc.document.budget import read
from calc.headline import headline_parts
from calc.unit_system import UnitSystem
from site_src.app import bridge
from tests.support import HEADLINE, all_places, demo_documents, squeezed

MARKUP = '<img src=x onerror="alert(1)">&amp;\'"`{{7*7}}{% raw %}'


def ask(method: str, **params: Any) -> dict[str, Any]:
    """Return the whole answer to a request."""
    answer = json.loads(bridge.handle(json.dumps({"v": 1, "id": 7, "method": method, "params": params})))
    assert answer["id"] == 7
    assert isinstance(answer, dict)
    return answer


def test_an_answer_holds_html_sentences_and_the_link() -> None:
    result = ask("answer", document=demo_documents()["sedge-wren.json"])["result"]
    assert result["headline"] == HEADLINE
    wren = read(demo_documents()["sedge-wren.json"]).budget
    for part in headline_parts(assess(wren), UnitSystem.METRIC):
        assert tight(part) in all_places(result)
    assert "Fits, 0.60\u00a0g in hand" in result["places"]["bar"]
    assert result["link"].startswith("#b=")
    assert result["problems"] == {}


@pytest.mark.parametrize(
    "more", [{}, {"example": True, "why": ["gear"], "held": {"name": "Dunlin"}, "shut": ["power"]}]
)
def test_the_verdict_goes_ahead_of_the_rest(more: dict[str, Any]) -> None:
    """What goes ahead and what comes after make the whole answer, and nothing is sent twice."""
    document = demo_documents()["sedge-wren.json"]
    whole = ask("answer", document=document, **more)["result"]
    ahead: list[str] = []
    request = {"v": 1, "id": 7, "method": "answer", "params": {"document": document, **more}}
    after = json.loads(bridge.handle(json.dumps(request), ahead.append))["result"]
    (first,) = map(json.loads, ahead)
    assert first == {"v": 1, "id": 7, "first": {"places": {key: whole["places"][key] for key in ("answer", "bar")}}}
    assert not first["first"]["places"].keys() & after["places"].keys()
    assert {**after, "places": {**first["first"]["places"], **after["places"]}} == whole


@pytest.mark.parametrize(("method", "params"), [("rest", {"document": {}}), ("answer", {}), ("nothing", {})])
def test_nothing_else_goes_ahead(method: str, params: dict[str, Any]) -> None:
    ahead: list[str] = []
    request = json.dumps({"v": 1, "id": 7, "method": method, "params": params})
    assert bridge.handle(request, ahead.append) == bridge.handle(request)
    assert ahead == []


def test_a_link_made_is_a_link_opened() -> None:
    for document in demo_documents().values():
        fragment = ask("answer", document=document)["result"]["link"]
        assert ask("open_link", fragment=fragment)["result"]["document"] == document


def test_files_come_in() -> None:
    document = demo_documents()["gnat.json"]
    text = json.dumps(document)
    assert ask("open_any", text="\ufeff" + text, document={})["result"]["document"] == document
    for broken in ("[1]", "{", "", "x" * 300_000):
        refused = ask("open_any", text=broken, document={})
        assert refused["ok"] is False
        assert refused["errors"][0]["message"]


def test_notes_tell_what_was_read() -> None:
    gear = [{"mass": ".04oz", "draw": "20"}, {"mass": "1.4 gr"}]
    document = {"model": {"class": "p30"}, "gear": gear, "session": {"on_time": "1:47"}}
    notes = ask("answer", document=document)["result"]["notes"]
    assert notes["gear.0.mass"] == "= 1.134 g"
    assert notes["gear.1.mass"] == "= 1.4 g; gr read as grams, not grains"
    assert notes["session.on_time"] == "= 1.783 min"
    assert "gear.0.draw" not in notes
    assert notes["model.class"].startswith("at least 40 g without rubber; rubber up to 10 g; no part over 30 in")


def test_a_bad_field_has_a_sentence_and_the_rest_is_answered() -> None:
    document = demo_documents()["sedge-wren.json"]
    document["gear"][0]["mass"] = "1.4 grn"
    document["session"]["temperature"] = "-40"
    result = ask("form", document=document)["result"]
    assert set(result["problems"]) == {"gear.0.mass", "session.temperature"}
    assert 'value="1.4 grn"' in result["form"]
    assert "So far: fits" in result["headline"]
    assert "Not counted yet, for want of a mass: bare-board receiver." in all_places(result)
    assert 'The run time waits for</dt><dd><a href="#session-temperature"' in all_places(result)


def test_nothing_of_a_budget_is_ever_html() -> None:
    row = {"kind": MARKUP, "name": MARKUP, "mass": MARKUP, "count": MARKUP, "known_by": MARKUP}
    sound = {"kind": "servo", "name": MARKUP, "mass": "1 g"}
    document = {
        "name": MARKUP, "units": MARKUP, "model": {"class": MARKUP, "airframe": "40 g"},
        "gear": [row, sound, {MARKUP: MARKUP}],
        "cell": {"name": MARKUP, "mass": "1 g"}, MARKUP: 1,
    }  # fmt: skip
    result = ask("form", document=document)["result"]
    for html in (result["form"], all_places(result)):
        assert "<img" not in html
    assert "<img" not in ask("sheet", document=document)["result"]["html"]
    assert result["form"].count("&lt;img src=x") >= 8
    assert "{{7*7}}" in result["form"]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "not_json"),
        ("[]", "inside"),
        ('{"id": 7}', "inside"),
        ('{"id": 7, "method": "unheard of", "params": {}}', "unknown_method"),
        ('{"id": 7, "method": "answer", "params": {}}', "inside"),
        ('{"id": 7, "method": "open_link", "params": {"fragment": "#b=AAAA"}}', "link_damaged"),
    ],
)
def test_whatever_goes_wrong_is_an_answer(text: str, code: str) -> None:
    answer = json.loads(bridge.handle(text))
    assert answer["ok"] is False
    assert answer["errors"][0]["code"] == code
    assert answer["errors"][0]["message"].endswith(".")


SCALARS = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=40))
ANYTHING = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=6), inner, max_size=3)),
)


@given(
    st.dictionaries(
        st.sampled_from(["name", "units", "model", "rule", "gear", "cell", "session", "scale_division", "format"]),
        ANYTHING,
    )
)
def test_any_document_gets_a_form_and_an_answer(document: dict[str, Any]) -> None:
    for method in ("form", "sheet", "gear_csv"):
        assert ask(method, document=document)["ok"] is True


@given(
    st.lists(st.dictionaries(st.sampled_from(["mass", "name", "kind", "draw", "busy", "count"]), SCALARS), max_size=3)
)
def test_any_rows_get_a_form_and_an_answer(rows: list[dict[str, Any]]) -> None:
    assert ask("form", document={"model": {"airframe": "40 g"}, "gear": rows})["ok"] is True


def test_too_long_for_a_link_is_told_and_the_answer_stays() -> None:
    digits = "".join(f"{(index * 7919 + 13) ** 3 % 10**9}" for index in range(5000))
    result = ask("answer", document={"name": digits})["result"]
    assert result["link"] == ""
    assert "too long" in result["link_problem"]


def test_another_system_of_units_leaves_what_was_typed_its_meaning() -> None:
    """A bare number gets the unit it was typed in; what follows does not change by a microgram."""
    document = {
        "units": "imperial", "rule": {"share": "20"}, "model": {"airframe": "1,5", "wing_area": "2 dm^2"},
        "gear": [{"kind": "servo", "mass": 0.06}, "no row"], "cell": {"capacity": 30}, "session": {"temperature": "46"},
    }  # fmt: skip
    before = ask("form", document={**document, "units": "metric"}, from_units="imperial")["result"]
    assert before["document"] == {
        **document, "units": "metric", "model": {"airframe": "1,5 oz", "wing_area": "2 dm^2"},
        "gear": [{"kind": "servo", "mass": "0.06 oz"}, "no row"], "session": {"temperature": "46 °F"},
    }  # fmt: skip
    assert before["bare"] == ["rule.share", "cell.capacity"]
    kept = ask("form", document=document)["result"]
    assert kept["document"] == document
    assert kept["bare"] == ["model.airframe", "rule.share", "cell.capacity", "session.temperature", "gear.0.mass"]
    now, then = (ask("assess", document=each["document"])["result"]["assessment"] for each in (before, kept))
    assert now["gear"] == then["gear"]


def test_an_answer_against_what_was_held() -> None:
    """Nothing differs, then a lighter linkage: 1.2 g guessed (1.44 g expected) against 0.5 g (0.60 g)."""
    held = demo_documents()["sedge-wren.json"]
    plain = all_places(ask("answer", document=held)["result"])
    assert 'id="held"' not in plain
    assert 'data-do="hold"' in plain
    same = all_places(ask("answer", document=held, held=held)["result"])
    assert "Nothing differs from it yet." in same
    assert 'data-do="hold"' not in same
    changed = demo_documents()["sedge-wren.json"]
    changed["gear"][2] = {**changed["gear"][2], "name": "thread lines", "mass": "0.5 g"}
    for method in ("answer", "form"):
        html = all_places(ask(method, document=changed, held=held)["result"])
        assert 'id="held"' in html
        assert "Thread lines instead of 1\u00a0mm carbon push rod with ends: 0.84\u00a0g lighter" in html
        assert ">−0.84\u00a0g <span" in html
    for nothing in (None, "text", [1]):
        assert all_places(ask("answer", document=held, held=nothing)["result"]) == plain


def test_two_documents_side_by_side() -> None:
    documents = demo_documents()
    result = ask("compare", before=documents["reed-bunting.json"], after=documents["sedge-wren.json"])["result"]
    assert result["headline"] == "Fits, 0.60 g in hand; before: over by 1.05 g."
    assert "Before: Reed Bunting" in result["html"]
    assert "Now: Sedge Wren" in result["html"]
    assert 'id="strip-title-1"' in result["html"]
    assert result["html"].count('id="hatch"') == 1
    assert '<span class="judged better">better</span>' in squeezed(result["html"])


def test_nothing_of_a_comparison_is_ever_html() -> None:
    row = {"kind": "servo", "name": MARKUP, "mass": "1 g"}
    for before, after in (({}, {"name": MARKUP, "gear": [row]}), ({"gear": [row], "units": MARKUP}, {})):
        assert "<img" not in ask("compare", before=before, after=after)["result"]["html"]
        assert "<img" not in all_places(ask("answer", document=after, held=before)["result"])


@given(
    st.dictionaries(st.sampled_from(["name", "units", "model", "gear", "cell", "session", "air"]), ANYTHING),
    st.dictionaries(st.sampled_from(["name", "units", "model", "gear", "cell", "session", "air"]), ANYTHING),
)
def test_any_two_documents_can_be_compared(before: dict[str, Any], after: dict[str, Any]) -> None:
    assert ask("compare", before=before, after=after)["ok"] is True


def test_the_usual_draw_is_taken_as_a_guess() -> None:
    document = {"gear": [{"kind": "servo", "mass": "2 g"}, {"kind": "mount"}, "no row"]}
    row = ask("usual_draw", document=document, path="gear.0")["result"]["document"]["gear"][0]
    assert row["draw_known_by"] == "guess"
    assert row["draw"]
    assert row["mass"] == "2 g"
    for path in ("gear.1", "gear.2", "gear.9"):
        assert ask("usual_draw", document=document, path=path)["result"]["document"] == document


def test_a_draw_nobody_told_is_offered_on_the_page() -> None:
    gear = [{"kind": "receiver", "mass": "1 g"}, {"kind": "servo", "mass": "2 g"}, {"draw": "9 mA", "busy": "9 %"}]
    result = ask("answer", document={"gear": gear, "cell": {"mass": "1 g", "capacity": "30 mAh"}})["result"]
    assert all_places(result).count('data-do="usual-draw"') == 2  # nothing draws yet: the run time waits for both
    told = [{**gear[0], "draw": "20 mA"}, *gear[1:]]
    result = ask("answer", document={"gear": told, "cell": {"mass": "1 g", "capacity": "30 mAh"}})["result"]
    assert all_places(result).count('data-do="usual-draw"') == 1
    assert 'data-path="gear.1"' in all_places(result)
    assert "runs at most" in result["places"]["bar"]


def test_a_function_that_the_snapshot_lacks_is_told_by_its_code(monkeypatch: pytest.MonkeyPatch) -> None:
    """The worker reads the code and starts the plain way; any other fault is told to the visitor."""
    for told, code in (("left_out", "left_out"), ("left_out of something", "inside")):

        def failing(params: Any, told: str = told) -> dict[str, Any]:
            raise LookupError(told, *params)

        monkeypatch.setitem(bridge.METHODS, "answer", failing)
        answer = json.loads(bridge.handle(json.dumps({"v": 1, "id": 1, "method": "answer", "params": {}})))
        assert [error["code"] for error in answer["errors"]] == [code]


def test_the_answers_of_shut_subjects_come_with_the_rest() -> None:
    document = demo_documents()["sedge-wren.json"]
    whole = ask("answer", document=document)["result"]["places"]
    first = ask("answer", document=document, shut=["air", "balance", "nonsense"])["result"]["places"]
    rest = ask("rest", document=document, shut=["air", "balance", "nonsense"])["result"]["places"]
    assert set(rest) == {"of-air", "of-balance"}
    assert {**first, **rest} == whole
    assert not set(first) & set(rest)


def test_the_rest_is_of_the_document_that_is_asked_for() -> None:
    """Also where another one was answered last, and where workings are open."""
    wren, gnat = (demo_documents()[name] for name in ("sedge-wren.json", "gnat.json"))
    whole = ask("answer", document=wren, why=["air"])["result"]["places"]
    ask("answer", document=gnat)
    assert ask("rest", document=wren, why=["air"], shut=["air"])["result"]["places"] == {"of-air": whole["of-air"]}


@pytest.mark.parametrize(
    ("method", "key", "params"),
    [
        ("finder_start", "search", {"document": {}, "box": {}}),
        ("room_start", "search", {"document": {}}),
        ("log_open", "log", {"text": "no log"}),
    ],
)
def test_what_is_begun_anew_keeps_its_number(method: str, key: str, params: dict[str, Any]) -> None:
    before = ask(method, **params)["result"][key]
    assert ask(method, **params, number=before + 40)["result"][key] == before + 40
    assert ask(method, **params)["result"][key] == before + 41
    assert ask(method, **params, number=1)["result"][key] == before + 42
    assert ask(method, **params, number="x")["result"][key] == before + 43
