"""The long search for room: what would make the gear go in, the smallest bay, places that balance best."""

import json
from collections.abc import Generator
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest

from calc.__main__ import main
from calc.changes.edits import applied
from calc.document.box import read_box
from calc.document.budget import read
from calc.fitting.data import as_json
from calc.fitting.find import RoomFound, find, in_one_go
from calc.fitting.words import lines, told
from calc.subjects.room.boxes import Spot, apart
from calc.subjects.room.slides import ends, moment, nearest
from calc.subjects.room.spaces import EDGES, Space
from calc.subjects.room.widen import _shrunk, least
from site_src.app import roombridge
from tests.calc.subjects.room.test_bays import any_way, mm

SERVO = {"kind": "servo", "name": "servo", "mass": "2 g", "length": "20 mm", "width": "12 mm", "height": "6 mm"}
BOARD = {"kind": "receiver", "name": "board", "mass": "1 g", "length": "24 mm", "width": "11 mm", "height": "5 mm"}
CELL = {"mass": "2 g", "length": "22 mm", "width": "12 mm", "height": "6 mm"}
BAY = {"name": "pylon", "length": "50 mm", "width": "13 mm", "height": "7 mm"}
BALANCE = {"airframe_at": "150 mm", "target": "140 mm", "nose_at": "10 mm", "tail_at": "520 mm"}


def found(box: Any = None, **document: Any) -> RoomFound:
    come = in_one_go(find(document, None if box is None else read_box(box)))
    assert come is not None
    return come


def test_nothing_asked() -> None:
    assert in_one_go(find({})) is None
    assert in_one_go(find("nonsense")) is None
    assert as_json(None) == {}
    assert lines(None) == ["No room is asked for yet: a bay is needed, and the length, width and height of", "a part."]


def test_the_least_widening_is_found_and_proved() -> None:
    """Two parts 20 × 12 × 6 mm in 30 × 13 × 7 mm: 12 mm high, or 40 mm long, or across: 20 mm wide."""
    come = found(gear=[SERVO, {**SERVO, "name": "other"}], bays=[{**BAY, "length": "30 mm"}])
    assert come.block.answer == "cannot"
    wide = {each.edge: (each.by / 1e6, each.proved) for each in come.least}
    assert wide == {"height": (5.0, True), "length": (10.0, True), "width": (7.0, True)}
    for each in come.least:
        length, width, height = (f"{size / 1e6} mm" for size in each.space.size)
        bay = {"length": length, "width": width, "height": height}
        less = {**bay, each.edge: f"{float(bay[each.edge][:-3]) - 0.1} mm"}
        for edges, answer in ((bay, "fits"), (less, "cannot")):
            assert found(gear=[SERVO, {**SERVO, "name": "other"}], bays=[edges]).block.answer == answer
    assert [each.path for each in come.in_the_way] == ["gear.0", "gear.1"]
    assert "pylon takes it" in " ".join(lines(come))


def test_a_part_of_the_box_goes_in_instead() -> None:
    small = {"kind": "servo", "name": "small one", "mass": "1 g", "length": "8 mm", "width": "10 mm", "height": "6 mm"}
    parts = [{**small, "name": "no mass", "mass": ""}, small, {**SERVO, "name": "as large"},
             {**small, "height": "0 mm"}, {"kind": "servo", "name": "no size", "mass": "1 g"},
             {**BOARD, "name": "another kind"},
             *({**small, "name": f"like it {number}"} for number in range(4))]  # fmt: skip
    come = found({"parts": parts}, gear=[SERVO, {**BOARD, "name": "board"}], bays=[{**BAY, "length": "34 mm"}])
    assert [each.name for each in come.instead if each.item.path == "gear.0"] == ["small one", "like it 0", "like it 1"]
    assert "In the place of the servo “small one” of my parts goes in." in " ".join(lines(come))
    cell = {"kind": "cell", "name": "flat", "mass": "1 g", "length": "8 mm", "width": "10 mm", "height": "6 mm"}
    come = found({"parts": [cell]}, cell={**CELL, "length": "22 mm"}, gear=[SERVO], bays=[{**BAY, "length": "30 mm"}])
    assert [(each.item.path, each.name) for each in come.instead] == [("cell", "flat")]


@pytest.mark.parametrize(
    ("bay", "units"),
    [(BAY, "metric"), (BAY, "imperial"), ({"kind": "tube", "width": "15 mm"}, "metric"),
     ({"kind": "tapered", "width": "13 mm", "height": "7 mm", "back_width": "15 mm", "back_height": "8 mm"}, "metric")],
)  # fmt: skip
def test_each_widening_is_taken_with_one_press(bay: dict[str, str], units: str) -> None:
    document = {"units": units, "gear": [SERVO, {**SERVO, "name": "other"}], "bays": [{**bay, "length": "30 mm"}]}
    come = found(**document)
    assert come.least
    presses = [edits for said, edits in told(come) if "takes it" in said]
    assert len(presses) == len(come.least)
    for edits, each in zip(presses, come.least, strict=True):
        (space,) = found(**applied(document, edits)).block.spaces
        assert all(0 <= a - b < 254_001 for a, b in zip(space.size, each.space.size, strict=True))  # rounded up
        assert found(**applied(document, edits)).block.answer == "fits"


def test_a_part_of_the_box_is_put_in_with_one_press() -> None:
    small = {"kind": "servo", "name": "small one", "mass": "1 g", "length": "8 mm", "width": "10 mm", "height": "6 mm"}
    document = {"gear": [SERVO, {**BOARD, "count": 1}], "bays": [{**BAY, "length": "34 mm"}]}
    come = found({"parts": [small]}, **document)
    (edits,) = (edits for said, edits in told(come) if "In the place of" in said)
    assert found(**applied(document, edits)).block.answer == "fits"
    two = {"gear": [{**SERVO, "count": 2}], "bays": [{**BAY, "length": "34 mm"}]}
    (edits,) = (edits for said, edits in told(found({"parts": [small]}, **two)) if "In the place of" in said)
    assert edits == ()  # only one of the two was tried


def test_the_smallest_bay_is_the_least_over_the_orders_of_its_edges() -> None:
    """Two parts 20 × 12 × 6 mm in a bay of 45 × 25 × 13 mm: their own volume, whichever edge comes first."""
    bay = {"length": "45 mm", "width": "25 mm", "height": "13 mm"}
    ((_, space),) = found(gear=[SERVO, {**SERVO, "name": "other"}], bays=[bay]).smallest
    assert space.volume() == 2 * 20 * 12 * 6 * 1e18
    odd = {**BOARD, "length": "24 mm", "width": "11 mm", "height": "5 mm"}
    ((_, space),) = found(gear=[SERVO, odd], bays=[bay]).smallest
    volumes = []
    for order in permutations(EDGES):
        steps = _shrunk(Space(size=mm(45, 25, 13)), order, [any_way(20, 12, 6), any_way(24, 11, 5)])
        while True:
            try:
                next(steps)
            except StopIteration as ended:
                volumes.append(ended.value.volume())
                break
    assert space.volume() == min(volumes) < max(volumes)


def test_the_smallest_bay() -> None:
    come = found(gear=[SERVO], bays=[{**BAY, "name": ""}])
    assert [(bay, space.size) for bay, space in come.smallest] == [(0, mm(20, 12, 6))]
    assert "Inside 20.0 × 12.0 × 6.0 mm (length × width × height) bay 1 is the smallest found" in " ".join(lines(come))
    tube = {"kind": "tube", "length": "60 mm", "width": "20 mm"}
    said = " ".join(lines(found(gear=[SERVO], bays=[tube])))
    # √(12² + 6²) mm is 13.42 mm, rounded up to a tenth
    assert "Inside bore 13.5 mm, length 20.0 mm bay 1" in said
    taper = {**BAY, "kind": "tapered", "back_width": "20 mm", "back_height": "9 mm"}
    assert " in front, " in " ".join(lines(found(gear=[SERVO], bays=[taper])))


def test_a_bay_that_one_step_less_closes_keeps_its_size() -> None:
    exact = {"length": "20 mm", "width": "12 mm", "height": "6 mm"}
    assert found(gear=[SERVO], bays=[exact]).smallest[0][1].size == mm(20, 12, 6)


def test_too_many_parts_are_not_found_at_once() -> None:
    many = [{**SERVO, "count": 41, "length": "2 mm", "width": "2 mm", "height": "2 mm"}]
    come = found(gear=many, bays=[BAY])
    assert come.least == ()
    assert " ".join(lines(come)).startswith(
        "Whether the gear goes in was not found. The search came to its end without a way in"
    )


def test_what_is_not_found_at_first_is_searched_for() -> None:
    sizes = [(12, 9, 4), (11, 8, 4), (10, 8, 5), (13, 7, 4), (9, 9, 4), (12, 6, 5), (10, 7, 4), (8, 8, 5), (11, 6, 4)]
    gear = [{"length": f"{a} mm", "width": f"{b} mm", "height": f"{c} mm"} for a, b, c in [*sizes, (9, 7, 5)]]
    come = found(gear=gear, bays=[{"length": "26 mm", "width": "17 mm", "height": "9 mm"}])
    assert come.block.answer in ("fits", "not_found")


def placed(**more: Any) -> dict[str, Any]:
    gear = [{**SERVO, "station": "60 mm"}, {**BOARD, "station": "65 mm"}]
    bay = {**BAY, "length": "120 mm", "station": "40 mm"}
    return {"model": {"airframe": "30 g"}, "gear": gear, "bays": [bay], "balance": BALANCE, **more}


def test_the_places_that_need_the_least_lead() -> None:
    document = placed()
    come = found(**document)
    assert come.lead_kg is not None
    assert come.lead_kg[1] < come.lead_kg[0]
    assert applied(document, come.edits) == come.document
    assert read(come.document).problems == ()
    said = " ".join(lines(come))
    assert " moves " in said
    assert "less lead" in said


def test_stations_that_were_not_there_are_put_in() -> None:
    gear = [{key: item for key, item in row.items() if key != "station"} for row in placed()["gear"]]
    come = found(**placed(gear=gear, cell={**CELL, "station": "70 mm"}))
    assert come.lead_kg is None
    assert all("station" in row for row in come.document["gear"])
    assert come.document["cell"]["station"].endswith(" mm")
    assert "from the nose" in " ".join(lines(come))
    alone = found(cell=CELL, bays=[{**BAY, "station": "1 in"}], units="imperial")
    assert alone.document["cell"]["station"].endswith(" in")


def test_a_bay_without_a_place_moves_nothing() -> None:
    come = found(**placed(bays=[{**BAY, "length": "120 mm"}]))
    assert (come.edits, come.moved) == ((), ())


def test_what_lies_well_is_not_moved() -> None:
    come = found(**placed())
    again = found(**come.document)
    assert again.lead_kg is not None
    assert again.lead_kg[1] <= again.lead_kg[0] + 1e-9


@pytest.mark.parametrize("kind", ["box", "tube", "tapered"])
def test_slid_parts_keep_clear(kind: Any) -> None:
    space = Space(kind=kind, size=mm(100, 30, 30), back=mm(30, 30), gap=1_000_000, wall=1_000_000)
    spots = (Spot(mm(10, 8, 8), mm(20, 10, 6)), Spot(mm(40, 8, 8), mm(20, 10, 6)))
    parts = [any_way(20, 10, 6)] * 2
    for wanted in range(0, 400, 25):
        come = nearest(space, parts, spots, (2.0, 1.0), wanted * 1e6)
        assert abs(moment(come, (2.0, 1.0)) - wanted * 1e6) <= abs(moment(spots, (2.0, 1.0)) - wanted * 1e6)
        wide = [Spot(each.at, (each.size[0] + 1_000_000, each.size[1], each.size[2])) for each in come]
        assert apart(wide[0], wide[1])
        assert all(1_000_000 <= each.at[0] <= 99_000_000 - each.size[0] for each in come)
    front, back = ends(space, spots)
    assert (front == spots) == (kind == "tapered")
    assert front[0].at[0] <= back[0].at[0]


def test_halving() -> None:
    def fits_from(number: int, below: str) -> Any:
        def trial(steps: int) -> Generator[int, None, str]:
            yield 1
            return "fits" if steps >= number else below

        return trial

    def come(number: int, below: str, most: int) -> Any:
        steps = least(fits_from(number, below), most)
        while True:
            try:
                next(steps)
            except StopIteration as ended:
                return ended.value

    assert come(7, "cannot", 100) == (7, True)
    assert come(7, "not_found", 100) == (7, False)
    assert come(1, "not_found", 100) == (1, True)
    assert come(101, "cannot", 100) is None
    assert come(1, "cannot", 0) is None


def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, box = tmp_path / "budget.json", tmp_path / "box.json"
    file.write_text(json.dumps(placed()), encoding="utf-8")
    box.write_text(json.dumps({"parts": []}), encoding="utf-8")
    assert main(["room", str(file)]) == 0
    assert capsys.readouterr().out.startswith("The gear goes in")
    assert main(["room", str(file), "--box", str(box), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["room"]["answer"] == "fits"
    assert main(["room", str(tmp_path / "none.json"), "--json"]) == 2


def test_in_steps_through_the_door(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(roombridge, "STEP_S", 0.0)
    first = roombridge.start({"document": placed()})
    second = roombridge.start({"document": placed(), "box": {"parts": []}})
    assert roombridge.step(first) == {"dropped": True}
    assert roombridge.step(second)["most"] > 0
    monkeypatch.setattr(roombridge, "STEP_S", 60.0)
    done = roombridge.step(second)
    assert done["done"] == 1.0
    assert done["list"][-1]["edits"]
    assert roombridge.step(second) == {"dropped": True}
    assert roombridge.step(roombridge.start({"document": {}}))["list"][0]["sentence"].startswith("No room is asked")
    third = roombridge.start({"document": placed()})
    assert roombridge.stop({}) == {}
    assert roombridge.step(third) == {"dropped": True}


def test_no_edge_alone_is_enough() -> None:
    """A part that is too long and too high, and three of which one goes in: nothing single helps."""
    come = found(gear=[{**SERVO, "length": "90 mm", "height": "12 mm", "lies": "as given"}], bays=[BAY])
    assert (come.block.answer, come.least, come.in_the_way) == ("cannot", (), ())
    three = [{**SERVO, "name": str(number)} for number in range(3)]
    come = found(gear=three, bays=[{**BAY, "length": "22 mm"}])
    assert (come.block.answer, come.in_the_way) == ("cannot", ())
    assert [each.edge for each in come.least]


def test_a_bay_that_stays_empty_is_not_measured() -> None:
    come = found(gear=[SERVO], bays=[{**BAY, "name": "nose"}, BAY])
    assert [bay for bay, _ in come.smallest] == [0]
    assert "Into pylon" not in " ".join(lines(come))


def test_a_tight_box_is_slid_only_as_found() -> None:
    space = Space(size=mm(33, 33, 1))
    sides = (18, 15, 14, 10, 9, 8, 7, 4, 1)
    parts = [any_way(side, side, 1) for side in sides]
    rows = tuple(Spot(mm(0, 0, 0), mm(side, side, 1)) for side in sides)
    assert nearest(space, parts, rows, (1.0,) * 9, moment(rows, (1.0,) * 9)) == rows
