"""The box: read and written, CSV of several spreadsheets, parts in and out of a budget."""

import csv
import io
import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import wording
from calc.document.blocks import BoxPart
from calc.document.box import put_back, read_box, take
from calc.document.boxfile import box_from_text, from_csv, to_csv
from calc.document.budget import read
from calc.document.fields import described
from calc.errors import BudgetError
from tests.support import SITE_SRC

STARTER = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
SERVO = {"kind": "servo", "name": "linear", "mass": "1.5 g", "known_by": "maker", "draw": "4 mA", "thrust": "20 gf"}


def test_the_starter_box_is_sound_and_says_that_it_is_invented() -> None:
    found = read_box(STARTER)
    assert found.all_problems == ()
    assert len(found.parts) > 20
    assert "invented" in STARTER["about"]
    assert {boxed.part.kind.value for boxed in found.parts} >= {"receiver", "servo", "coil actuator", "cell", "linkage"}


@pytest.mark.parametrize("raw", [[], 5, "box", {"parts": 5}, {"parts": {"a": 1}}])
def test_what_is_no_box(raw: object) -> None:
    assert [problem.code for problem in read_box(raw).all_problems] == ["not_a_box"]


def test_one_impossible_part_costs_no_other() -> None:
    found = read_box({"parts": [SERVO, {"kind": "anvil", "mass": "-4 g"}, "no part", SERVO]})
    assert [len(boxed.problems) for boxed in found.parts] == [0, 2, 1, 0]
    said = [wording.problem(problem) for problem in found.all_problems]
    assert said[0].startswith("Part 2, kind: “anvil” is none of the choices")
    assert said[2] == "Part 3: This should be a group of fields."


def test_five_thousand_parts_and_no_more() -> None:
    assert len(read_box({"parts": [SERVO] * 5000}).parts) == 5000
    over = read_box({"parts": [SERVO] * 5001})
    assert len(over.parts) == 5000
    assert "5001 parts are more than a box holds" in wording.problem(over.all_problems[0])


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_csv_out_and_in_is_the_same_box(system: str) -> None:
    """To a millionth: a number in another unit goes out with twelve figures."""
    text = to_csv({**STARTER, "units": system})
    assert text.startswith("Kind,Name,Mass [" + ("g" if system == "metric" else "oz") + "],")
    assert "\r\n" in text
    again = read_box(from_csv(text))
    assert again.all_problems == ()
    for before, after in zip(read_box(STARTER).parts, again.parts, strict=True):
        for name in described(BoxPart):
            one, two = getattr(before.part, name), getattr(after.part, name)
            if one is not None and isinstance(one.value, float):
                assert two.value == pytest.approx(one.value, rel=1e-6)
            else:
                assert (one and one.value) == (two and two.value)


SPREADSHEETS = [
    pytest.param("\ufeffKind;Name;Mass [g];Draws when quiet [mA]\r\nServo;klein, leicht;1,7;4,5\r\n", id="semicolons"),
    pytest.param("kind\tname\tmass [g]\tdraw [mA]\nSERVO\tklein, leicht\t1.7\t4.5\n", id="tabs"),
    pytest.param('kind,name,mass,draw\nservo,"klein, leicht",1.7 g,4.5 mA\n\n', id="units in the cells"),
    pytest.param('Name,Kind,Mass [mg],Draws when quiet [A]\n"klein, leicht",servo,1700,0.0045', id="other units"),
]


@pytest.mark.parametrize("text", SPREADSHEETS)
def test_csv_of_several_spreadsheets(text: str) -> None:
    found = read_box(box_from_text(text))
    assert found.all_problems == ()
    (boxed,) = found.parts
    assert boxed.part.kind.value == "servo"
    assert boxed.part.name.value == "klein, leicht"
    assert boxed.part.mass is not None
    assert boxed.part.draw is not None
    assert boxed.part.mass.value == pytest.approx(0.0017)
    assert boxed.part.draw.value == pytest.approx(0.0045)


def test_csv_keeps_what_it_can_and_tells_the_rest() -> None:
    document = from_csv("kind,colour,mass [g],name\nservo,red,abc,one\ncell,,2,two,three,four\nreceiver\n")
    assert document["ignored"] == ["colour"]
    found = read_box(document)
    assert [boxed.part.kind.value for boxed in found.parts] == ["servo", "cell", "receiver"]
    assert [wording.problem(problem) for problem in found.parts[0].problems] == [
        "Part 1, mass: “abc” cannot be read as a mass: write for example 1.2 g or 0.04 oz."
    ]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "no_header"), ("colour,price\nred,5\n", "no_header"), ("kind,name\n\"open", "not_csv"), ("{", "not_json"),
        ('{"gear": []}', "not_a_box"), ("[1]", "not_a_box"), ("x" * 4_000_001, "too_large"),
        ("{" + " " * 4_000_001, "too_large"),
    ],
)  # fmt: skip
def test_files_that_hold_no_box(text: str, code: str) -> None:
    with pytest.raises(BudgetError) as caught:
        box_from_text(text)
    assert [problem.code for problem in caught.value.problems] == [code]
    assert wording.problem(caught.value.problems[0])


@given(name=st.text(max_size=40), raw=st.sampled_from(["=1+1", "+5", "-5 g", "@x", "\tx", "1.5 g"]))
def test_no_cell_of_the_csv_is_a_formula(name: str, raw: str) -> None:
    text = to_csv({"parts": [{"kind": "servo", "name": name, "mass": raw, "known_by": raw}]})
    for row in csv.reader(io.StringIO(text, newline="")):
        for cell in row:
            assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))


def test_a_neutralised_text_comes_back_as_it_was() -> None:
    (boxed,) = read_box(from_csv(to_csv({"parts": [{"kind": "servo", "name": "=SUM(A1)"}]}))).parts
    assert boxed.part.name.value == "=SUM(A1)"


BUDGET: dict[str, Any] = {
    "units": "metric",
    "gear": [{"kind": "receiver", "mass": "2 g", "station": "10 mm", "count": 2, "min_volts": "3 V"}, "no row"],
    "cell": {"mass": "1 g", "capacity": "30 mAh", "station": "70 mm", "capacity_left": "80 %"},
    "surface": {"actuator": "rotary servo", "torque": "5 mN m", "span": "60 mm"},
}


def test_a_part_takes_a_place_and_the_place_keeps_its_own() -> None:
    taken = take(BUDGET, SERVO, "gear.0", "metric")
    assert taken["gear"][0] == {
        "kind": "servo", "name": "linear", "mass": "1.5 g", "known_by": "maker", "draw": "4 mA", "station": "10 mm",
        "count": 2,
    }  # fmt: skip
    assert taken["surface"] == {"actuator": "linear servo", "thrust": "20 gf", "span": "60 mm"}
    assert BUDGET["gear"][0]["kind"] == "receiver"
    cell = take(BUDGET, {"kind": "cell", "name": "new", "mass": "2", "capacity": "50"}, "cell", "imperial")
    assert cell["cell"] == {"station": "70 mm", "name": "new", "mass": "2 oz", "capacity": "50"}
    added = take({}, {"kind": "switch", "mass": "0.1 g"}, "gear.0", "metric")
    assert added == {"gear": [{"kind": "switch", "mass": "0.1 g"}]}


@pytest.mark.parametrize(
    ("before", "part", "after"),
    [
        ({"actuator": "linear servo", "thrust": "9 gf"}, {"kind": "servo"}, {"actuator": "linear servo"}),
        ({"span": "1 cm"}, {"kind": "servo"}, {"actuator": "rotary servo", "span": "1 cm"}),
        ({"actuator": "coil actuator"}, {"kind": "servo"}, {"actuator": "rotary servo"}),
        ({"torque": "9 mN m"}, {"kind": "coil actuator", "torque": "1 mN m"},
         {"actuator": "coil actuator", "torque": "1 mN m"}),
    ],
)  # fmt: skip
def test_an_actuator_brings_its_strength(before: dict[str, Any], part: dict[str, Any], after: dict[str, Any]) -> None:
    assert take({"surface": before, "gear": []}, part, "gear.0", "metric")["surface"] == after


def test_a_converter_brings_its_figures() -> None:
    part = {"kind": "supply", "mass": "0.8 g", "volts": "5 V", "efficiency": "85 %", "min_input": "2.5 V"}
    taken = take({}, part, "gear.0", "metric")
    assert taken["supply"] == {"kind": "up", "volts": "5 V", "efficiency": "85 %", "min_input": "2.5 V"}
    assert take({}, {"kind": "supply", "volts": "3 V"}, "gear.0", "metric")["supply"]["kind"] == "down"
    assert take({}, {"kind": "supply"}, "gear.0", "metric")["supply"] == {"kind": "up"}
    assert put_back(taken, "gear.0") == part


def test_a_row_goes_back_with_its_weighed_mass() -> None:
    row = {"kind": "servo", "mass": "1.5", "weighed": "1.62", "known_by": "maker", "station": "3 in"}
    document = {"units": "imperial", "gear": [row], "surface": {"thrust": "1", "span": "3"}}
    assert put_back(document, "gear.0") == {
        "kind": "servo", "mass": "1.62 oz", "known_by": "weighed", "thrust": "1 ozf",
    }  # fmt: skip
    assert put_back(BUDGET, "cell") == {"kind": "cell", "mass": "1 g", "capacity": "30 mAh"}
    assert put_back(BUDGET, "gear.7") == {}
    assert put_back({"gear": 5}, "gear.0") == {}


@given(part=st.sampled_from([p for p in STARTER["parts"] if p["kind"] != "cell"]))
def test_what_was_taken_can_be_put_back(part: dict[str, Any]) -> None:
    taken = take({"surface": {"span": "60 mm"}}, part, "gear.0", "metric")
    assert put_back(taken, "gear.0") == part
    assert read(taken).problems == ()
