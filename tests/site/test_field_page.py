"""The field from above: to scale, and the same in words."""

import re

import pytest

from calc.assess import assess
from calc.document.budget import read
from calc.subjects.field.answer import FieldBlock
from calc.unit_system import UnitSystem
from site_src.app.render import render
from site_src.app.sheetview import sheet_view
from site_src.app.view import view
from site_src.subjects.field.drawing import PAGE, SHEET, FieldSketch, field_sketch
from tests.support import demo_documents

SLOW = {"wind": "1 m/s", "length": "300 m", "circle": "9 s"}
FAST = {"wind": "5 m/s"}


def sketch(field: dict[str, str], shape: float = PAGE) -> tuple[FieldSketch, FieldBlock]:
    document = {**demo_documents()["sedge-wren.json"], "field": field}
    block = assess(read(document).budget).of(FieldBlock)
    assert block is not None
    found = field_sketch(block, UnitSystem.METRIC, shape)
    assert found is not None
    return found, block


@pytest.mark.parametrize("shape", [PAGE, SHEET])
@pytest.mark.parametrize("field", [SLOW, FAST], ids=["slow", "fast"])
def test_it_is_to_scale(field: dict[str, str], shape: float) -> None:
    """One metre is as long along the wind as across it, and each place stands where the answer says."""
    found, block = sketch(field, shape)
    carried = block.carried
    assert carried is not None
    percent_a_metre = (found.usual.x - found.x0) / carried.drift_m
    assert found.reach.rx == pytest.approx(found.reach.ry / shape, abs=0.02)
    assert found.reach.rx == pytest.approx(carried.reach_m[1] * percent_a_metre, rel=0.01)
    downwind = (found.reach.x + found.reach.rx - found.x0) / percent_a_metre
    assert downwind == pytest.approx(carried.downwind_m, rel=0.01)
    upwind = (found.x0 - found.reach.x + found.reach.rx) / percent_a_metre
    assert max(0.0, upwind) == pytest.approx(carried.upwind_m, abs=0.01 * carried.downwind_m)
    length, text = found.bar
    assert length == pytest.approx(float(text.split()[0]) * percent_a_metre, rel=0.01)
    for x in (found.x0, found.usual.x, found.reach.x - found.reach.rx, found.reach.x + found.reach.rx):
        assert 0.0 <= x <= 100.0
    assert found.reach.ry <= 50.0


def test_the_way_back_is_told() -> None:
    slow, fast = sketch(SLOW)[0], sketch(FAST)[0]
    assert slow.turn_back is not None
    assert fast.turn_back is not None
    assert slow.turn_back.text.startswith("turn back by")
    assert fast.turn_back.text == "no way back"
    far, _ = sketch({"wind": "1.8 m/s", "length": "2000 m"})
    assert far.turn_back is not None
    assert far.turn_back.text == "too far to come back"
    assert (slow.end is None, fast.end is None) == (False, True)
    assert (slow.circle is None, fast.circle is None) == (False, True)


def test_it_is_told_in_words_too() -> None:
    found, _ = sketch(SLOW)
    assert found.alternative.startswith("The field from above, the wind from the left.")
    assert "the end of the field 300 m" in found.alternative
    assert "upwind of the launch" in found.alternative
    assert "nowhere upwind" in sketch(FAST)[0].alternative


def test_it_stands_on_page_and_sheet_and_not_without_wind() -> None:
    document = {**demo_documents()["sedge-wren.json"], "field": SLOW}
    page = render("form.html", {"view": view(document)})
    assert page.count('class="field-sketch page"') == 1
    sheet = render("sheet.html", {"sheet": sheet_view(document)})
    assert sheet.count('class="field-sketch paper"') == 1
    calm = {**document, "field": {"wind": "0 m/s", "circle": "9 s"}}
    assert "field-sketch" not in render("form.html", {"view": view(calm)})
    assert field_sketch(None, UnitSystem.METRIC) is None


def test_winds_of_the_flights_are_offered() -> None:
    document = {**demo_documents()["sedge-wren.json"], "flights": [{"wind": "3 m/s"}, {"wind": "1.5 m/s"}]}
    assert view(document).notes["field.wind"] == "Your log of flights has 1.5 m/s to 3.0 m/s; the last one 1.5 m/s."
    assert "field.wind" not in view({**document, "field": {"wind": "2 m/s"}}).notes


def test_a_bare_number_of_seconds_is_told_where_it_could_be_minutes() -> None:
    """Before there was a unit of their own these were read as minutes."""
    flights = [{"glide": "2", "motor_run": 35}, {"glide": "95"}, {"glide": "1:35", "circle": "9"}]
    found = view({"flights": flights}).notes
    told = {path: note for path, note in found.items() if path.startswith("flights")}
    assert told == {"flights.0.glide": "= 2 s; for minutes write 2 min", "flights.2.glide": "= 95 s"}
    form = render("form.html", {"view": view({"flights": [{"glide": "95"}]})})
    assert re.search(r'name="flights\.0\.glide"[^>]*data-unit="s"', form)
