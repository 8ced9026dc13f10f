"""The room on the page: views to scale, on the sheet as large as they are, bays in the form."""

from typing import Any

import pytest

from calc.assess import assess
from calc.document.budget import read
from calc.subjects.room.answer import RoomBlock
from site_src.app.answer import answer
from site_src.app.render import render
from site_src.app.sheetview import sheet_view
from site_src.app.view import view
from site_src.subjects.room.drawing import Dimension, Picture
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
    shown = answer(read(document("box")).budget)
    html = shown_html(shown)
    for picture in shown.bays:
        (servo,) = (part for part in picture.parts if part.title.startswith("servo, "))
        assert servo.label == "1"
        assert servo.x < servo.label_x < servo.x + servo.width
        assert servo.y < servo.label_y < servo.y + servo.height
        spots = {(part.label_x, part.label_y) for part in picture.parts}
        assert len(spots) == len(picture.parts)  # no number lies on another one
        across, up = (round(100 * at / whole, 2) for at, whole in
                      ((servo.label_x, picture.width), (servo.label_y, picture.height)))  # fmt: skip
        assert f'<text x="{across}%" y="{up}%" dy="0.35em">1</text>' in " ".join(html.split())
    assert "to scale, numbers as in the gear" in html.lower()
    assert answer(read({"gear": GEAR}).budget).bays == ()


def test_on_the_sheet_as_large_as_it_is() -> None:
    html = render("sheet.html", {"sheet": sheet_view(document("box"))})
    assert 'width="50.0mm" height="14.0mm"' in html
    assert 'viewBox="0 0 50.0 14.0"' in html
    assert "drawn smaller" not in " ".join(html.split())
    long = {"gear": GEAR, "bays": [{**BAYS["box"], "length": "300 mm"}]}
    assert "longer than the paper, so drawn smaller" in " ".join(
        render("sheet.html", {"sheet": sheet_view(long)}).split()
    )


def dimensions(picture: Picture) -> list[tuple[float, float, str]]:
    lines = (picture.across, picture.up, picture.up_front, picture.hatch)
    return [(each.start, each.end, each.text) for each in lines if each is not None]


def test_dimension_lines_are_as_long_as_what_they_measure() -> None:
    side, top = answer(read(document("box")).budget).bays
    assert dimensions(side) == [(0.0, 100.0, "50.0 mm"), (0.0, 100.0, "14.0 mm")]
    assert dimensions(side) == dimensions(top)
    side, top, behind = answer(read(document("tube")).budget).bays
    assert dimensions(side)[1:] == [(0.0, 100.0, "⌀ 16.0 mm")]
    assert dimensions(behind) == [(0.0, 100.0, "⌀ 16.0 mm")]
    side, top = answer(read(document("tapered")).budget).bays
    assert dimensions(side)[1:] == [(0.0, 100.0, "15.0 mm"), (26.67, 73.33, "7.0 mm")]
    assert dimensions(top)[1:] == [(0.0, 100.0, "20.0 mm"), (17.5, 82.5, "13.0 mm")]
    html = shown_html(answer(read(document("tapered")).budget))
    assert 'x1="5.6em" x2="5.6em" y1="26.67%" y2="73.33%"' in html


def test_a_hatch_is_drawn_where_it_is() -> None:
    bay = {**BAYS["box"], "hatch_from": "10 mm", "hatch_to": "40 mm", "hatch_width": "12 mm"}
    side, top = answer(read({"gear": GEAR, "bays": [bay]}).budget).bays
    assert side.hatch is not None
    assert (side.hatch.start, side.hatch.end, side.hatch.text) == (20.0, 80.0, "hatch 10.0 to 40.0 mm")
    assert (side.opening, top.opening) == ("M10 0H40V0H10Z", "M10 1H40V13H10Z")
    side, top = answer(read({"gear": GEAR, "bays": [{**bay, "hatch": "left", "hatch_to": ""}]}).budget).bays
    assert (side.opening, top.opening) == ("M10 1H50V13H10Z", "M10 0H50V0H10Z")
    side, _ = answer(read({"gear": GEAR, "bays": [{**bay, "hatch": "back"}]}).budget).bays
    assert (side.hatch, side.opening) == (None, "M50 0H50V14H50Z")
    assert answer(read(document("box")).budget).bays[0].opening == ""


def test_near_an_end_the_text_runs_inwards() -> None:
    ends = ((0.0, 10.0, "start"), (20.0, 80.0, "middle"), (90.0, 100.0, "end"))
    assert [Dimension(start=start, end=end, text="").anchor for start, end, _ in ends] == [each[2] for each in ends]


def test_the_parts_are_listed_beside_the_views() -> None:
    shown = answer(read({"gear": GEAR, "bays": [{**BAYS["box"], "station": "10 mm"}]}).budget)
    assert shown.bays[0].table == ()
    block = assess(read({"gear": GEAR, "bays": [BAYS["box"]]}).budget).of(RoomBlock)
    assert block is not None
    for listed in shown.bays[-1].table:
        (placed,) = (each for each in block.parts if each.item.path == f"gear.{int(listed.number) - 1}")
        assert listed.behind == f"{placed.spot.at[0] / 1e6:.1f} mm"
        assert listed.station == f"{placed.spot.at[0] / 1e6 + placed.spot.size[0] / 2e6 + 10.0:.1f} mm"
        assert listed.size == f"{' × '.join(f'{edge / 1e6:.1f}' for edge in placed.spot.size)} mm"
    assert "Middle from the nose" in shown_html(shown)
    assert "Middle from the nose" not in shown_html(answer(read(document("box")).budget))


def test_one_more_bay_waits_in_the_form() -> None:
    html = render("form.html", {"view": view(document("box"))})
    assert all(f'id="bays-{index}"' in html for index in (0, 1))
    assert 'id="bays-2"' not in html
    full = render("form.html", {"view": view({"bays": [BAYS["box"]] * 6})})
    assert 'id="bays-5"' in full
    assert 'id="bays-6"' not in full
    assert 'name="bays.1.length"' in html
