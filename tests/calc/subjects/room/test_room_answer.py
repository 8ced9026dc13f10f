"""The answer about the room for the gear: what is told, what is missing, what is refused."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.assess import assess
from calc.data import as_json
from calc.document.budget import read, to_document
from calc.subjects.listed import SUBJECTS
from calc.subjects.room.answer import RoomBlock
from calc.text import plain_text
from calc.unit_system import UnitSystem
from calc.wording import problem

SERVO = {"kind": "servo", "mass": "2 g", "length": "20 mm", "width": "12 mm", "height": "6 mm"}
CELL = {"mass": "1.6 g", "length": "22 mm", "width": "13 mm", "height": "6 mm"}
BAY = {"name": "pylon", "length": "40 mm", "width": "14 mm", "height": "13 mm", "station": "80 mm"}
BRIEF = next(each.brief for each in SUBJECTS if each.name == "room")


def document(**changes: Any) -> dict[str, Any]:
    return {"gear": [SERVO], "cell": CELL, "bays": [BAY], **changes}


def room(**changes: Any) -> RoomBlock:
    found = assess(read(document(**changes)).budget).of(RoomBlock)
    assert found is not None
    return found


def said(**changes: Any) -> str:
    budget = read(document(**changes)).budget
    return " ".join(plain_text(budget, assess(budget)).split())


def test_it_goes_in() -> None:
    found = room()
    assert (found.answer, found.complete) == ("fits", True)
    assert {part.item.path: part.bay for part in found.parts} == {"gear.0": 0, "cell": 0}
    assert [part.station_m for part in found.parts] == [pytest.approx(0.090), pytest.approx(0.091)]
    assert (
        "The gear goes in, with every side along a side of the bay. Into pylon goes in from the top, its whole "
        "side open, in this order:"
    ) in said()


def test_it_cannot() -> None:
    found = room(gear=[{**SERVO, "length": "41 mm", "name": "long one"}])
    assert found.answer == "cannot"
    assert [each.path for each in found.homeless] == ["gear.0"]
    assert "cannot go in, with every side along a side of the bay: that is proved. Not even alone: long one." in said(
        gear=[{**SERVO, "length": "41 mm", "name": "long one"}]
    )


def test_it_was_not_found() -> None:
    many = [{**SERVO, "count": 41, "length": "2 mm", "width": "2 mm", "height": "2 mm"}]
    assert room(gear=many).answer == "not_found"
    assert "was not found. A short look found no way" in said(gear=many)
    tapered = {**BAY, "kind": "tapered", "back_width": "20 mm", "back_height": "14 mm"}
    wide = [{**SERVO, "length": "39 mm", "width": "19 mm"}]
    assert "was not found" in said(gear=wide, bays=[tapered])
    assert "taken in slices" in said(gear=wide, bays=[tapered])


def test_no_straight_way_in() -> None:
    tapered = {**BAY, "kind": "tapered", "back_width": "30 mm", "back_height": "30 mm", "hatch": "front"}
    large = [{**SERVO, "length": "18 mm", "width": "20 mm", "height": "15 mm"}]
    assert "lies, but not in any straight order from its hatch" in said(gear=large, bays=[tapered], cell=None)
    found = as_json(assess(read(document(gear=large, bays=[tapered], cell=None)).budget))
    assert found["room"]["order"] == [[]]


def test_nothing_is_told_without_bays() -> None:
    budget = read(document(bays=None)).budget
    found = assess(budget)
    assert found.of(RoomBlock) is None
    assert "room" not in as_json(found)
    assert "room" not in found.missing
    assert BRIEF(found, UnitSystem.METRIC) == "not asked yet"
    assert "The gear" not in said(bays=None)


def test_in_one_line() -> None:
    for gear, brief in (
        ([SERVO], "the gear goes in"),
        ([{**SERVO, "length": "41 mm"}], "cannot go in"),
        ([{**SERVO, "count": 41}], "not found: try by hand"),
    ):
        assert BRIEF(assess(read(document(gear=gear)).budget), UnitSystem.METRIC) == brief


@pytest.mark.parametrize(
    ("changes", "missing"),
    [
        ({"gear": [{**SERVO, "height": ""}]}, ("gear.0.height",)),
        ({"gear": [{"kind": "receiver"}]}, ("gear.0.length", "gear.0.width", "gear.0.height")),
        ({"gear": [{"kind": "linkage"}]}, ()),
        ({"gear": [{"kind": "linkage", "length": "9 mm"}]}, ("gear.0.width", "gear.0.height")),
        ({"gear": [{**SERVO, "height": "0 mm"}]}, ("gear.0.height",)),
        ({"gear": [{"kind": "receiver", "lies": "outside"}]}, ()),
        ({"gear": [{"kind": "receiver", "off": True}]}, ()),
        ({"cell": {**CELL, "lies": "sideways"}}, ("cell.lies",)),
    ],
)
def test_parts_without_sizes_are_told(changes: Any, missing: tuple[str, ...]) -> None:
    found = assess(read(document(**changes)).budget)
    assert found.missing.get("room", ()) == missing
    block = found.of(RoomBlock)
    assert block is not None
    assert block.complete == (not missing)
    assert ("goes in so far" in BRIEF(found, UnitSystem.METRIC)) == bool(missing)


@pytest.mark.parametrize(
    ("bay", "missing"),
    [
        ({"length": "40 mm", "width": "14 mm"}, ("bays.0.height",)),
        ({"kind": "tube", "length": "40 mm"}, ("bays.0.width",)),
        ({**BAY, "kind": "tapered"}, ("bays.0.back_width", "bays.0.back_height")),
        ({**BAY, "wall": "7 mm"}, ("bays.0.wall",)),
        ([], ("bays.0",)),
    ],
)
def test_a_bay_that_is_not_told_whole(bay: Any, missing: tuple[str, ...]) -> None:
    found = assess(read(document(bays=[bay])).budget)
    assert found.of(RoomBlock) is None
    assert found.missing["room"][: len(missing)] == missing
    assert BRIEF(found, UnitSystem.METRIC).startswith("needs ")


def test_bad_input_is_refused_in_one_sentence() -> None:
    bad = document(gear=[{**SERVO, "height": "0 mm"}], bays=[{**BAY, "wall": "7 mm"}, {"width": "-1 mm"}])
    assert [problem(each) for each in read(bad).problems] == [
        "Gear row 1, height: “0 mm” is outside what makes sense here: above 0 mm, up to 500 mm.",
        "Bay 1, clear to the walls: “7 mm” is too large beside “Width inside, or bore”.",
        "Bay 2, width inside, or bore: “-1 mm” is outside what makes sense here: above 0 mm, up to 500 mm.",
    ]
    many = read(document(bays=[BAY] * 7))
    assert [each.code for each in many.problems] == ["too_many_rows"]
    assert [each.code for each in read(document(bays={})).problems] == ["not_a_list"]
    assert len(many.budget.bays) == 6


def test_the_document_comes_back_as_typed() -> None:
    typed = document(bays=[{**BAY, "gap": "1/32 in", "hatch": "front"}], gear=[{**SERVO, "lies": "upright"}])
    assert to_document(read(typed).budget) == typed


def test_how_a_part_may_lie() -> None:
    flat = {**BAY, "length": "20 mm", "width": "12 mm", "height": "6 mm"}
    for lies, turned, answer in (
        ("any", {"length": "6 mm", "width": "12 mm", "height": "20 mm"}, "fits"),
        ("upright", {"length": "12 mm", "width": "20 mm", "height": "6 mm"}, "fits"),
        ("upright", {"length": "6 mm", "width": "12 mm", "height": "20 mm"}, "cannot"),
        ("along", {"length": "20 mm", "width": "6 mm", "height": "12 mm"}, "fits"),
        ("as given", {"length": "20 mm", "width": "6 mm", "height": "12 mm"}, "cannot"),
        ("as given", {"length": "20 mm", "width": "12 mm", "height": "6 mm"}, "fits"),
    ):
        assert room(gear=[{**SERVO, **turned, "lies": lies}], cell=None, bays=[flat]).answer == answer


@pytest.mark.parametrize(("side", "edge"), [("end", "length"), ("side", "width"), ("top", "height")])
def test_a_plug_takes_room_on_its_side(side: str, edge: str) -> None:
    part = {**SERVO, "plug_side": side, "plug_length": "5 mm", "lies": "as given"}
    exact = {"length": "20 mm", "width": "12 mm", "height": "6 mm", "station": "0 mm"}
    assert room(gear=[part], cell=None, bays=[exact]).answer == "cannot"
    longer = {**exact, edge: f"{int(exact[edge][:-3]) + 5} mm"}
    found = room(gear=[part], cell=None, bays=[longer])
    assert found.answer == "fits"
    assert found.parts[0].station_m == pytest.approx(0.010)  # its body in front, its plug behind


@settings(deadline=None, max_examples=25)
@given(unit=st.sampled_from(["mm", "cm", "in"]), by=st.integers(-2, 2))
def test_in_any_unit(unit: str, by: int) -> None:
    """A part as large as the bay goes in, one larger by a micrometre does not, whatever the unit."""
    per = {"mm": 1.0, "cm": 10.0, "in": 25.4}[unit]
    edges = {key: f"{each / per + by * 0.001 / per:.9f} {unit}" for key, each in (("length", 25.4), ("width", 12.7))}
    bay = {"length": "1 in", "width": "1/2 in", "height": "6 mm"}
    part = {**SERVO, **edges, "height": "6 mm", "lies": "as given"}
    assert room(gear=[part], cell=None, bays=[bay]).answer == ("fits" if by <= 0 else "cannot")
