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
from tests.support import HEADLINE, SITE_SRC, demo_documents

MARKUP = '<img src=x onerror="alert(1)">&amp;\'"`{{7*7}}{% raw %}'


def ask(method: str, **params: Any) -> dict[str, Any]:
    """Return the whole answer to a request."""
    answer = json.loads(bridge.handle(json.dumps({"v": 1, "id": 7, "method": method, "params": params})))
    assert answer["id"] == 7
    assert isinstance(answer, dict)
    return answer


def found_by(number: int) -> dict[str, Any]:
    """Return the end of a search, which a slow machine reaches in more steps than one."""
    step: dict[str, Any] = {"done": 0.0}
    while "html" not in step:
        step = ask("finder_step", search=number)["result"]
    return step


def test_an_answer_holds_html_sentences_and_the_link() -> None:
    result = ask("answer", document=demo_documents()["sedge-wren.json"])["result"]
    assert result["headline"] == HEADLINE
    wren = read(demo_documents()["sedge-wren.json"]).budget
    for part in headline_parts(assess(wren), UnitSystem.METRIC):
        assert tight(part) in result["answer"]
    assert "Fits, 0.60\u00a0g in hand" in result["bar"]
    assert result["link"].startswith("#b=")
    assert result["problems"] == {}


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
    document = {"model": {"class": "p30"}, "gear": [{"mass": ".04oz", "draw": "20"}], "session": {"on_time": "1:47"}}
    notes = ask("answer", document=document)["result"]["notes"]
    assert notes["gear.0.mass"] == "= 1.134 g"
    assert notes["session.on_time"] == "= 1.783 min"
    assert "gear.0.draw" not in notes
    assert notes["model.class"].startswith("at least 40 g without rubber; rubber up to 10 g; no part over 30 in")


def test_a_bad_field_has_a_sentence_and_the_rest_is_answered() -> None:
    document = demo_documents()["sedge-wren.json"]
    document["gear"][0]["mass"] = "1.4 gr"
    document["session"]["temperature"] = "-40"
    result = ask("form", document=document)["result"]
    assert set(result["problems"]) == {"gear.0.mass", "session.temperature"}
    assert 'value="1.4 gr"' in result["form"]
    assert "So far: fits" in result["headline"]
    assert "Not counted yet, for want of a mass: bare-board receiver." in result["answer"]
    assert 'The run time waits for</dt><dd><a href="#session-temperature"' in result["answer"]


def test_nothing_of_a_budget_is_ever_html() -> None:
    row = {"kind": MARKUP, "name": MARKUP, "mass": MARKUP, "count": MARKUP, "known_by": MARKUP}
    sound = {"kind": "servo", "name": MARKUP, "mass": "1 g"}
    document = {
        "name": MARKUP, "units": MARKUP, "model": {"class": MARKUP, "airframe": "40 g"},
        "gear": [row, sound, {MARKUP: MARKUP}],
        "cell": {"name": MARKUP, "mass": "1 g"}, MARKUP: 1,
    }  # fmt: skip
    result = ask("form", document=document)["result"]
    for key in ("form", "answer", "bar"):
        assert "<img" not in result[key]
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


def test_a_search_goes_in_steps_and_can_be_stopped() -> None:
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
    wren = demo_documents()["sedge-wren.json"]
    number = ask("finder_start", document=wren, box=box, charges="2")["result"]["search"]
    step = ask("finder_step", search=number)["result"]
    while step.get("done", 1.0) < 1.0:
        step = ask("finder_step", search=number)["result"]
    assert step["headline"].startswith("The lightest set that works weighs 4.21 g")
    assert len(step["documents"]) == step["html"].count('data-do="use"') == 10
    assert ask("finder_step", search=number)["result"] == {"dropped": True}
    again = ask("finder_start", document=wren, box=box, charges="no number")["result"]
    assert again["charges"] == 1
    assert ask("finder_step", search=number)["result"] == {"dropped": True}
    assert ask("finder_stop")["ok"]
    assert ask("finder_step", search=again["search"])["result"] == {"dropped": True}


def test_parts_are_kept_and_barred_and_names_that_are_gone_dropped() -> None:
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
    wren = demo_documents()["sedge-wren.json"]
    wishes = {"keep": ["bare-board receiver", "gone"], "bar": ["pull-pull lines with ends"], "actuator": "servo"}
    started = ask("finder_start", document=wren, box=box, charges="0", **wishes)["result"]
    assert (started["charges"], started["wrong"]) == (1, True)
    assert started["wishes"].count('<option value="keep" selected>') == 1
    assert started["wishes"].count('<option value="bar" selected>') == 1
    assert "gone" not in started["wishes"]
    html = found_by(started["search"])["html"]
    assert "pull-pull lines with ends: barred, as you asked" in html
    assert "coil actuator, 1.3 g ·" not in html
    assert ask("finder_start", document=wren, box=box, keep="no list")["ok"]


def test_a_set_is_a_copy_where_gear_was_on_the_scale() -> None:
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
    wren = demo_documents()["sedge-wren.json"]
    plain = found_by(ask("finder_start", document=wren, box=box, charges="2")["result"]["search"])
    assert plain["copy"] is False
    assert plain["documents"][0]["name"] == "Sedge Wren"
    for changed, name in (
        ({"gear": [{**wren["gear"][0], "weighed": "1.4 g"}, *wren["gear"][1:]]}, "Sedge Wren (set from the box)"),
        ({"cell": {**wren["cell"], "weighed": "1.9 g"}, "name": "  "}, "Set from the box"),
    ):
        found = found_by(ask("finder_start", document={**wren, **changed}, box=box, charges="2")["result"]["search"])
        assert found["copy"] is True
        assert found["documents"][0]["name"] == name


@pytest.mark.parametrize("raw", [None, [], 5, {"parts": 5}, {"parts": [5, {"name": {"a": 1}}]}, {"parts": []}])
def test_a_box_of_any_shape_is_answered(raw: object) -> None:
    for method, params in (
        ("box", {"box": raw}),
        ("box_csv", {"box": raw}),
        ("box", {"box": raw, "kind": "cell", "pick": 1}),
    ):
        assert ask(method, **params)["ok"] is True
    number = ask("finder_start", document=raw, box=raw, charges=None)["result"]["search"]
    assert "Nothing can be searched yet" in found_by(number)["html"]
    assert ask("places", document=raw, others=[["a", raw]])["ok"] is True
    assert ask("box_part", part=raw)["ok"] is True
    assert ask("box_take", document=raw, part={"kind": "servo"}, path="gear.0")["result"]["document"]["gear"]


def test_a_place_for_gear_that_is_not_all_counted_fits_only_so_far() -> None:
    model = {"name": "  ", "model": {"airframe": "60 g"}}
    whole = {"gear": [{"kind": "receiver", "mass": "1 g"}]}
    html = ask("places", document=whole, others=[["  ", model]])["result"]["html"]
    assert "It fits 1 of 1 model." in html
    assert "without a name" in html
    assert "No minimum in the table, so the share rule cannot say: " in html
    lacking = {"gear": [*whole["gear"], {"kind": "servo"}]}
    html = ask("places", document=lacking, others=[["x", model]])["result"]["html"]
    assert "It fits 0 of 1 model." in html
    assert "fits so far" in html


def test_a_place_where_the_actuator_is_too_weak_does_not_fit() -> None:
    gnat, wren = demo_documents()["gnat.json"], demo_documents()["sedge-wren.json"]
    weak = {**wren, "surface": {**wren["surface"], "thrust": "0.1 gf"}}
    html = ask("places", document=weak, others=[["Gnat", gnat], ["Wren", wren]])["result"]["html"]
    assert "not strong enough" in html


def test_markup_in_a_part_stays_text() -> None:
    evil = "<img src=x onerror=alert(1)>{{ 7 * 7 }}"
    box = {"name": evil, "about": evil, "parts": [{"kind": "receiver", "name": evil, "mass": evil, "known_by": evil}]}
    for params in ({"box": box}, {"box": box, "pick": 1}):
        assert "<img" not in ask("box", **params)["result"]["html"]
    assert "<img" not in ask("box_part", part=box["parts"][0])["result"]["html"]
    number = ask("finder_start", document=demo_documents()["gnat.json"], box=box)["result"]["search"]
    html = found_by(number)["html"]
    assert "<img" not in html
    assert "49" not in html.replace("{{ 7 * 7 }}", "")


def test_an_answer_against_what_was_held() -> None:
    """Nothing differs, then a lighter linkage: 1.2 g guessed (1.44 g expected) against 0.5 g (0.60 g)."""
    held = demo_documents()["sedge-wren.json"]
    plain = ask("answer", document=held)["result"]["answer"]
    assert 'id="held"' not in plain
    assert 'data-do="hold"' in plain
    same = ask("answer", document=held, held=held)["result"]["answer"]
    assert "Nothing differs from it yet." in same
    assert 'data-do="hold"' not in same
    changed = demo_documents()["sedge-wren.json"]
    changed["gear"][2] = {**changed["gear"][2], "name": "thread lines", "mass": "0.5 g"}
    for method in ("answer", "form"):
        html = ask(method, document=changed, held=held)["result"]["answer"]
        assert 'id="held"' in html
        assert "Thread lines instead of 1\u00a0mm carbon push rod with ends: 0.84\u00a0g lighter" in html
        assert ">−0.84\u00a0g <span" in html
    for nothing in (None, "text", [1]):
        assert ask("answer", document=held, held=nothing)["result"]["answer"] == plain


def test_two_documents_side_by_side() -> None:
    documents = demo_documents()
    result = ask("compare", before=documents["reed-bunting.json"], after=documents["sedge-wren.json"])["result"]
    assert result["headline"] == "Fits, 0.60 g in hand; before: over by 1.05 g."
    assert "Before: Reed Bunting" in result["html"]
    assert "Now: Sedge Wren" in result["html"]
    assert 'id="strip-title-1"' in result["html"]
    assert result["html"].count('id="hatch"') == 1
    assert '<span class="judged better">better</span>' in result["html"]


def test_nothing_of_a_comparison_is_ever_html() -> None:
    row = {"kind": "servo", "name": MARKUP, "mass": "1 g"}
    for before, after in (({}, {"name": MARKUP, "gear": [row]}), ({"gear": [row], "units": MARKUP}, {})):
        assert "<img" not in ask("compare", before=before, after=after)["result"]["html"]
        assert "<img" not in ask("answer", document=after, held=before)["result"]["answer"]


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
    assert result["answer"].count('data-do="usual-draw"') == 2  # nothing draws yet: the run time waits for both
    told = [{**gear[0], "draw": "20 mA"}, *gear[1:]]
    result = ask("answer", document={"gear": told, "cell": {"mass": "1 g", "capacity": "30 mAh"}})["result"]
    assert result["answer"].count('data-do="usual-draw"') == 1
    assert 'data-path="gear.1"' in result["answer"]
    assert "runs at most" in result["bar"]


def test_a_function_that_the_snapshot_lacks_is_told_by_its_code(monkeypatch: pytest.MonkeyPatch) -> None:
    """The worker reads the code and starts the plain way; any other fault is told to the visitor."""
    for told, code in (("left_out", "left_out"), ("left_out of something", "inside")):

        def failing(params: Any, told: str = told) -> dict[str, Any]:
            raise LookupError(told, *params)

        monkeypatch.setitem(bridge.METHODS, "answer", failing)
        answer = json.loads(bridge.handle(json.dumps({"v": 1, "id": 1, "method": "answer", "params": {}})))
        assert [error["code"] for error in answer["errors"]] == [code]
