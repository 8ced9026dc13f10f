"""The bridge's answers about the box of parts: finder, places, parts."""

import json
from typing import Any

import pytest

from site_src.app import bridge
from tests.support import SITE_SRC, demo_documents, squeezed


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


def test_a_search_goes_in_steps_and_can_be_stopped() -> None:
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
    wren = demo_documents()["sedge-wren.json"]
    number = ask("finder_start", document=wren, box=box, charges="2")["result"]["search"]
    step = ask("finder_step", search=number)["result"]
    while step.get("done", 1.0) < 1.0:
        step = ask("finder_step", search=number)["result"]
    assert step["headline"].startswith("The lightest set that works weighs 4.52 g")
    assert len(step["documents"]) == step["html"].count('data-do="use"') == 9
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
    html = squeezed(ask("places", document=whole, others=[["  ", model]])["result"]["html"])
    assert "It fits 1 of 1 model." in html
    assert "without a name" in html
    assert "No minimum in the table, so the share rule cannot say: " in html
    lacking = {"gear": [*whole["gear"], {"kind": "servo"}]}
    html = squeezed(ask("places", document=lacking, others=[["x", model]])["result"]["html"])
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
