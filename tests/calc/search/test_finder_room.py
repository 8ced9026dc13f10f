"""The finder leaves out sets that cannot go into the bays, and says where it does not know."""

import json
from typing import Any

import pytest

from calc.assess import assess
from calc.document.box import read_box
from calc.document.budget import read
from calc.search import finder, places
from calc.search.data import as_json
from calc.search.words import plain_text
from calc.unit_system import UnitSystem
from site_src.app import placesview
from tests.support import SITE_SRC

SIZE = {"length": "20 mm", "width": "12 mm", "height": "6 mm"}
SERVO = {"kind": "servo", "name": "servo", "mass": "2 g", "draw": "5 mA", "busy_draw": "90 mA", "busy": "8 %",
         "min_volts": "2.8 V", **SIZE}  # fmt: skip
BOARD = {"kind": "receiver", "name": "board", "mass": "1 g", "draw": "25 mA", "min_volts": "3 V", **SIZE}
LINK = {"kind": "linkage", "name": "rod", "mass": "0.5 g"}
CELL = {"kind": "cell", "name": "cell", "mass": "2 g", "capacity": "60 mAh", "resistance": "1 ohm", **SIZE}
BAY = {"length": "62 mm", "width": "13 mm", "height": "7 mm"}


def found(parts: list[dict[str, Any]], **document: Any) -> finder.Answer:
    return finder.answer({"model": {"airframe": "60 g"}, "bays": [BAY], **document}, read_box({"parts": parts}))


def test_a_set_that_goes_in() -> None:
    come = found([SERVO, BOARD, LINK, CELL])
    assert (len(come.sets), come.too_large) == (1, 0)
    assert come.sets[0].assessment.whole.parts["room"] == "good"
    assert "too_large" not in as_json(come)


def test_a_part_that_goes_into_no_bay_is_left_out() -> None:
    come = found([SERVO, {**SERVO, "name": "long one", "mass": "1 g", "length": "70 mm"}, BOARD, LINK, CELL])
    assert come.task.left_out == (("long one", "too_large"),)
    assert [name for _, name in come.sets[0].parts] == ["board", "servo", "rod", "cell"]
    assert "long one: it goes into none of the bays, even alone" in " ".join(plain_text(come, come.system).split())


def test_a_set_that_cannot_go_in_is_left_out() -> None:
    come = found([SERVO, BOARD, LINK, {**CELL, "length": "30 mm"}])
    assert (come.sets, come.too_large) == ((), 1)
    assert as_json(come)["too_large"] == 1
    said = plain_text(come, come.system)
    assert said.startswith("There are sets that work, but none of them goes into the bays.")
    assert "proved that the bays do not hold them: 1 set, and all with parts as large" in " ".join(said.split())


def test_what_is_not_known_is_told() -> None:
    come = found([SERVO, {**BOARD, "length": ""}, LINK, CELL])
    assert "whether it goes into the bays is open: sizes are missing" in " ".join(plain_text(come, come.system).split())
    taper = {**BAY, "kind": "tapered", "back_width": "30 mm", "back_height": "20 mm"}
    wide = {**CELL, "length": "58 mm", "width": "25 mm"}
    come = found([SERVO, BOARD, LINK, wide], bays=[taper])
    assert "whether it goes into the bays was not found" in " ".join(plain_text(come, come.system).split())


def test_where_it_fits_tells_room() -> None:
    gear = {"gear": [{**SERVO, "length": "70 mm"}]}
    model = {"model": {"airframe": "60 g"}, "bays": [BAY]}
    (place,) = places.in_models(gear, [("nose", model)])
    assert place.assessment.whole.parts["room"] == "bad"
    assert "does not go in" in str(placesview.places_view({**gear, "model": {"airframe": "60 g"}}, [("nose", model)]))


@pytest.mark.parametrize(
    ("changes", "standing"),
    [({}, "good"), ({"length": "70 mm"}, "bad"), ({"height": ""}, "open")],
)
def test_room_is_part_of_the_whole(changes: dict[str, str], standing: str) -> None:
    budget = read({"model": {"airframe": "60 g"}, "gear": [{**SERVO, **changes}, BOARD], "bays": [BAY]}).budget
    come = assess(budget)
    assert come.whole.parts["room"] == standing
    assert (come.whole.verdict == "fails") == (standing == "bad")
    assert "room" not in assess(read({"gear": [SERVO]}).budget).whole.parts


def test_the_parts_of_the_starter_box_have_sizes() -> None:
    box = read_box(json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8")))
    assert box.all_problems == ()
    bodies = [each.part for each in box.parts if each.part.kind.value not in ("linkage", "wiring", "mount")]
    assert [part.called for part in bodies if None in (part.length, part.width, part.height)] == []
    for part in bodies:
        assert part.mass is not None
        assert part.length is not None
        assert part.width is not None
        assert part.height is not None
        density = part.mass.value / (part.length.value * part.width.value * part.height.value)
        assert 200.0 < density < 2600.0, part.called  # kg/m³: between foam and a cell or bare copper
    assert UnitSystem(box.units) is UnitSystem.METRIC
