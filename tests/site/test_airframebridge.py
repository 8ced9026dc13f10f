"""What the worker answers about the parts of an airframe."""

import json
from typing import Any

from calc.subjects.airframe.templates import templates
from site_src.app import bridge
from site_src.app.render import render
from site_src.app.view import view
from tests.calc.full import AIRFRAME
from tests.support import demo_documents


def asked(method: str, **params: Any) -> dict[str, Any]:
    """Return the result of a request."""
    answer = json.loads(bridge.handle(json.dumps({"v": 1, "id": 1, "method": method, "params": params})))
    assert answer["ok"], answer
    found = answer["result"]
    assert isinstance(found, dict)
    return found


def test_from_an_empty_page_to_whether_the_radio_fits() -> None:
    """Three steps: a model's parts, the gear, the answer."""
    document = asked("airframe_start", document={}, model="thirty-inch")["document"]
    document["gear"] = [{"kind": "receiver", "mass": "1.2 g"}, {"kind": "servo", "mass": "1.7 g"}]
    found = asked("answer", document=document)
    assert "in hand" in found["headline"]
    assert "wing ribs" in found["places"]["of-airframe"]
    assert found["problems"] == {}


def test_choices_come_with_the_edits_that_make_them() -> None:
    document = asked("airframe_start", document={}, model="indoor")["document"]
    found = asked("savings", document=document)
    assert "Do this" in found["html"]
    assert found["html"].count("<li>") == len(found["list"])
    changed = asked("change_take", document=document, edits=found["list"][0]["edits"])["document"]
    assert changed["airframe"] != document["airframe"]


def test_parts_go_out_and_come_in() -> None:
    document = {"airframe": AIRFRAME}
    text = asked("airframe_csv", document=document)["text"]
    back = asked("airframe_open", text=text.replace("Part,", "Part,Paint,").replace("\r\n", "\r\n"), document={})
    assert back["told"] == f"{len(AIRFRAME)} parts added to the airframe. Left aside: Paint."
    assert asked("airframe_open", text=text, document={})["told"] == f"{len(AIRFRAME)} parts added to the airframe."


def test_the_form_has_each_part_and_one_more() -> None:
    html = render("form.html", {"view": view({"airframe": AIRFRAME})})
    count = len(AIRFRAME)
    assert f'name="airframe.{count}.name"' in html
    assert f'name="airframe.{count + 1}.name"' not in html
    assert all(f'id="airframe-{index}"' in html for index in range(count + 1))
    full = render("form.html", {"view": view({"airframe": [{}] * 70})})
    assert 'id="airframe-59"' in full
    assert 'id="airframe-60"' not in full
    assert all(f'<option value="{key}">' in html for key in templates())


def test_only_what_belongs_to_the_shape_is_shown() -> None:
    html = render("form.html", {"view": view({"airframe": [{"shape": "thread", "tex": "22 tex"}]})})
    before = html.split('name="airframe.0.tex"')[0].rpartition('<div class="belongs"')[2]
    assert "hidden" not in before.split(">")[0]
    pitch = html.split('name="airframe.0.pitch"')[0].rpartition('<div class="belongs"')[2]
    assert "hidden" in pitch.split(">")[0]


def test_the_answer_shows_days_balance_and_what_is_at_least() -> None:
    parts = [{**part, "weighed": "2 g", "weighed_on": f"2026-03-{10 + at}"} for at, part in enumerate(AIRFRAME)]
    shown = asked("answer", document={"airframe": parts}, why=["airframe"])["places"]["of-airframe"]
    assert "2026-03-10" in shown
    assert "Its parts balance at" in shown
    lacking = asked("answer", document={"airframe": [*parts, {"shape": "rod"}]})["places"]["of-airframe"]
    assert "At least" in lacking


def test_a_part_without_a_mass_is_named_as_not_counted() -> None:
    wren = {**demo_documents()["sedge-wren.json"], "airframe": [{"mass": "30 g"}, {"shape": "rod"}]}
    wren["model"] = {key: item for key, item in wren["model"].items() if key != "airframe"}
    assert view(wren).answer.uncounted == ("Airframe part 2",)
