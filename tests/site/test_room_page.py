"""The room on the page: views to scale, on the sheet as large as they are, bays in the form."""

import re
from typing import Any

import pytest

from calc.assess import assess
from calc.document.budget import read
from calc.subjects.room.answer import RoomBlock
from site_src.app.render import render
from site_src.app.sheetview import sheet_view
from site_src.app.view import answer, view
from tests.support import shown_html

SIZE = {"length": "20 mm", "width": "12 mm", "height": "6 mm"}
GEAR = [{"kind": "servo", "name": "servo", "mass": "2 g", **SIZE}, {"kind": "receiver", "mass": "1 g", **SIZE}]
BAYS: dict[str, dict[str, str]] = {
    "box": {"length": "50 mm", "width": "14 mm", "height": "14 mm"},
    "tube": {"kind": "tube", "length": "50 mm", "width": "16 mm"},
    "tapered": {"kind": "tapered", "length": "60 mm", "width": "13 mm", "height": "7 mm", "back_width": "20 mm",
                "back_height": "15 mm"},
}  # fmt: skip


def document(kind: str) -> dict[str, Any]:
    return {"gear": GEAR, "bays": [BAYS[kind]]}


@pytest.mark.parametrize("kind", BAYS)
def test_views_are_to_scale_and_inside(kind: str) -> None:
    budget = read(document(kind)).budget
    block, shown = assess(budget).of(RoomBlock), answer(budget)
    assert block is not None
    assert block.answer == "fits"
    assert [each.title for each in shown.bays] == [
        f"bay 1, from {way}" for way in ("the side", "above", *(["behind"] if kind == "tube" else []))
    ]
    for picture, axes in zip(shown.bays, ((0, 2), (0, 1), (1, 2)), strict=False):
        assert picture.round == (axes == (1, 2))
        for part, placed in zip(picture.parts, block.parts, strict=True):
            assert (part.width, part.height) == tuple(placed.spot.size[axis] / 1e6 for axis in axes)
            assert 0.0 <= part.x <= part.x + part.width <= picture.width
            assert 0.0 <= part.y <= part.y + part.height <= picture.height
    top = [shown.bays[0].height - (each.spot.at[2] + each.spot.size[2]) / 1e6 for each in block.parts]
    assert [part.y for part in shown.bays[0].parts] == pytest.approx(top, abs=1e-3)


def test_the_outline_of_a_tapered_bay_narrows() -> None:
    side = answer(read(document("tapered")).budget).bays[0]
    assert side.outline == "0,4 60,0 60,15 0,11"


def test_numbers_are_those_of_the_gear() -> None:
    html = shown_html(answer(read(document("box")).budget))
    assert re.search(r"<title>servo, [^<]*</title><rect[^>]*><text[^>]*>1</text>", html)
    assert "to scale, numbers as in the gear" in html.lower()
    assert answer(read({"gear": GEAR}).budget).bays == ()


def test_on_the_sheet_as_large_as_it_is() -> None:
    html = render("sheet.html", {"sheet": sheet_view(document("box"))})
    assert 'width="52.0mm" height="16.0mm"' in html  # 50 × 14 mm with a millimetre all around
    assert 'viewBox="-1 -1 52.0 16.0"' in html


def test_one_more_bay_waits_in_the_form() -> None:
    html = render("form.html", {"view": view(document("box"))})
    assert all(f'id="bays-{index}"' in html for index in (0, 1))
    assert 'id="bays-2"' not in html
    full = render("form.html", {"view": view({"bays": [BAYS["box"]] * 6})})
    assert 'id="bays-5"' in full
    assert 'id="bays-6"' not in full
    assert 'name="bays.1.length"' in html
