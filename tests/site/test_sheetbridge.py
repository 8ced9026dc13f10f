"""What the worker answers about own sheets of balsa, and what the pages show of them."""

from typing import Any

import pytest

from calc.subjects.airframe.words import ODD_SHEET
from site_src.app.boxview import box_view, part_view
from site_src.app.render import render
from site_src.app.view import view
from tests.site.test_airframebridge import asked

SIZE = {"length": "915 mm", "width": "100 mm", "height": "1 mm"}
LIGHT = {"kind": "balsa sheet", "name": "A", "mass": "8.2 g", **SIZE}
FIN: dict[str, Any] = {"name": "fin", "shape": "plate", "span": "100 mm", "root": "80 mm", "thickness": "1 mm"}
DOCUMENT = {"name": "Wren", "airframe": [FIN, {**FIN, "name": "pylon", "thickness": "4 mm"}, {"mass": "1 g"}]}


def test_a_sheet_is_weighed_with_what_is_cut_from_it() -> None:
    """8 cm³ at 150 kg/m³ as planned, at 89.62 from this sheet."""
    fields = {"name": "A", "mass": "8.2", "length": "915", "width": "100", "height": "1"}
    found = asked("sheet_weigh", fields=fields, document=DOCUMENT)
    assert found["part"] == {
        "kind": "balsa sheet", "name": "A", "known_by": "weighed", "mass": "8.2 g", "length": "915 mm",
        "width": "100 mm", "height": "1 mm",
    }  # fmt: skip
    text = " ".join(found["html"].split())
    assert "89.6 kg/m³ (5.6 lb/ft³), contest, the lightest" in text
    assert "Cut from it, of “Wren”, without glue" in text
    assert "1.20 g" in text
    assert "0.72 g" in text
    assert "pylon" not in text
    other = asked("sheet_weigh", fields={**fields, "height": "2 mm"}, document=DOCUMENT)
    assert "No part of “Wren” is of balsa as thick as this" in " ".join(other["html"].split())
    assert "No part" not in asked("sheet_weigh", fields=fields, document={})["html"]


@pytest.mark.parametrize(("entry", "said"), [("", "It waits for: mass."), ("heavy", "“heavy” cannot be read")])
def test_a_sheet_that_has_no_density_yet(entry: str, said: str) -> None:
    found = asked("sheet_weigh", fields={**SIZE, "name": "A", "mass": entry}, document=None)
    assert found["part"] is None
    assert said in found["html"]


def test_a_part_is_cut_from_a_sheet_and_what_differs_is_told() -> None:
    found = asked("sheet_cut", document=DOCUMENT, part=LIGHT, path="airframe.1", units="metric")
    assert found["document"]["airframe"][1]["sheet"] == "A"
    assert found["document"]["airframe"][0] == FIN
    assert found["told"] == (
        "The pylon: cut from “A”, 89.6 kg/m³ (5.6 lb/ft³), contest, the lightest; 1.0 mm thick. "
        "The part is 4.0 mm thick."
    )
    alike = asked("sheet_cut", document=DOCUMENT, part=LIGHT, path="airframe.0", units="metric")
    assert "The part is" not in alike["told"]
    shown = asked("answer", document=alike["document"])["places"]["of-airframe"]
    assert "fin, from “A”" in shown
    assert "fin, from “A”" in asked("sheet", document=alike["document"])["html"]


@pytest.mark.parametrize(("mass", "said"), [("", "That sheet has no density yet."), ("0.5 g", ODD_SHEET)])
def test_what_is_no_sheet_is_not_taken(mass: str, said: str) -> None:
    found = asked("sheet_cut", document=DOCUMENT, part={**LIGHT, "mass": mass}, path="airframe.0", units="metric")
    assert (found["document"], found["told"]) == (DOCUMENT, said)


def test_sheets_in_the_box_stand_by_their_density() -> None:
    parts = [{**LIGHT, "name": name, "mass": mass} for name, mass in (("hard", "20 g"), ("odd", "0.5 g"), ("bare", ""))]
    box = {"parts": [*parts, LIGHT, {"kind": "servo", "name": "s", "mass": "1.7 g"}]}
    groups = dict(box_view(box).groups)
    assert [row.name for row in groups["balsa sheet"]] == ["odd", "A", "hard", "bare"]
    assert [bool(row.problem) for row in groups["balsa sheet"]] == [True, False, False, True]
    picks = asked("box", box=box, kind="balsa sheet", pick=True)["html"]
    assert picks.index("<strong>A</strong>") < picks.index("<strong>hard</strong>")
    assert picks.count("disabled") == 2
    assert "light for tips and tail, hard for spars and edges" in picks
    assert "light for tips" not in asked("box", box=box, kind="servo", pick=True)["html"]
    assert "219" in asked("box", box=box)["html"]


def test_the_form_of_a_sheet() -> None:
    found = part_view(LIGHT, "imperial")
    assert found.fields == ("name", "kind", "mass", "known_by", "length", "width", "height")
    assert found.controls["box.height"].label == "Thickness"
    assert found.told == "5.59 lb/ft³ (90 kg/m³), contest, the lightest"
    assert part_view({"kind": "servo"}, "metric").controls["box.height"].label == "Height"
    assert "waits for: mass" in part_view({**LIGHT, "mass": ""}, "metric").waits
    assert "no wood is of this density" in part_view({**LIGHT, "mass": "2 kg", "height": "0.01 mm"}, "metric").waits


def test_only_parts_of_sheet_are_cut_from_one() -> None:
    html = render("form.html", {"view": view(DOCUMENT)})
    before = {at: html.split(f'id="airframe-{at}-take"')[0].rpartition("<span")[2] for at in (0, 2)}
    assert "hidden" not in before[0]
    assert "hidden" in before[2]


def test_sheets_among_gear_are_left_aside_and_told() -> None:
    text = "kind;name;mass [g]\nbalsa sheet;A;9\nservo;s;1,7\n"
    found = asked("open_any", text=text, document={})
    assert "1 sheet of balsa left aside" in found["told"]
    assert not found["plain"]
    shown = asked("table_preview", table={"text": text}, document={})
    assert shown["adds"] == 1
    assert any("1 sheet of balsa left aside" in each for each in shown["aside"])
    boxed = asked("box_table_preview", table={"text": text}, document={"parts": []})
    assert boxed["adds"] == 2
