"""Gear out as CSV and parts in CSV into the gear."""

import csv
import io
import time
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import wording
from calc.assess import assess
from calc.document.box import read_box
from calc.document.boxfile import box_from_text, escaped, from_csv, to_csv, unescaped
from calc.document.budget import read
from calc.document.gearcsv import gear_from_csv, gear_to_csv
from calc.errors import BudgetError
from tests.support import demo_documents

TWO = "Kind,Name,Mass [g],Count,Station [mm]\r\nservo,linear,1.5,2,140\r\ncell,30 mAh,1.0,1,60\r\n"


@pytest.mark.parametrize("name", demo_documents())
def test_gear_out_and_in_is_the_same_gear(name: str) -> None:
    """As far as mass, balance and power go; a row that is switched off stays at home."""
    document = demo_documents()[name]
    again = gear_from_csv(gear_to_csv(document), {**document, "gear": [], "cell": {}})
    assert again.cell
    assert again.ignored == ()
    before, after = assess(read(document).budget), assess(read(again.document).budget)
    assert after.gear.expected_kg == pytest.approx(before.gear.expected_kg, rel=1e-9)
    assert after.gear.uncertainty_kg == pytest.approx(before.gear.uncertainty_kg, rel=1e-9)
    assert [row.name for row in after.rows] == [row.name for row in before.rows]
    if before.power is not None:
        assert after.power is not None
        assert after.power.run.time_s == pytest.approx(before.power.run.time_s, rel=1e-9)
    if before.balance is not None:
        assert after.balance is not None
        assert after.balance.cg_m == pytest.approx(before.balance.cg_m, rel=1e-9)


def test_no_cell_of_a_spreadsheet_becomes_a_formula() -> None:
    names = ["=1+1", "+1", "-1", "@x", "\tx", "\rx", "\n=1", "\uff1d1", "\uff0b1", "\uff0d1", "\uff20x", " =1"]
    text = gear_to_csv({"gear": [{"kind": "servo", "name": name, "mass": "=1 g"} for name in names]})
    rows = list(csv.reader(io.StringIO(text, newline="")))[1:]
    assert [row[1] for row in rows] == [f"'{name}".replace("\n=", "\n'=") for name in names]
    assert {row[2] for row in rows} == {"'=1 g"}
    again = gear_from_csv(text, {}).document["gear"]
    assert [row["name"] for row in again] == names


def test_no_cell_becomes_a_formula_where_it_is_parted_at_another_sign() -> None:
    """A spreadsheet set to semicolons parts `a;=1` in two, and takes the second for a formula; so with a line end."""
    names = ["a;=1", "a\t+1", "b,@x", "c\n=1", "d|-1", "e;'=1", "f;\uff1d1"]
    text = gear_to_csv({"gear": [{"kind": "servo", "name": name} for name in names]})
    for sign in (",", ";", "\t", "|", "\n"):
        for cell in text.replace("\r\n", sign).split(sign):
            assert not cell.strip(' "').startswith(("=", "+", "-", "@", "\uff1d")), (sign, cell)
    assert [row["name"] for row in gear_from_csv(text, {}).document["gear"]] == names


CSV_TEXTS = st.text(alphabet=st.one_of(st.sampled_from("'\"=+-@;,|\t\r\n \uff1d a1\x00"), st.characters()), max_size=14)


@settings(max_examples=200)
@given(st.lists(CSV_TEXTS, min_size=1, max_size=4), st.booleans())
def test_any_name_goes_out_and_comes_in_the_same(names: list[str], as_box: bool) -> None:
    """But for blanks around it, which spreadsheets lose."""
    parts = [{"kind": "servo", "name": name, "mass": "1 g"} for name in names]
    if as_box:
        again = from_csv(to_csv({"parts": parts}))["parts"]
    else:
        again = gear_from_csv(gear_to_csv({"gear": parts}), {}).document["gear"]
    assert [row.get("name", "").strip() for row in again] == [name.strip() for name in names]


def test_apostrophes_put_in_are_the_ones_taken_off() -> None:
    for text in ("'=1", "''=1", "=1", "';=", "a;'=1", "'", "it's", "'a", " '=1"):
        assert unescaped(escaped(text)) == text
        assert escaped(text) != text or not text.strip("' ").startswith("=")


def test_a_hundred_thousand_rows_are_refused_before_the_work() -> None:
    """Counted before anything is made of them: the quickest that a row could be worked on was 4 ms."""
    text = "kind,name\n" + "servo,x\n" * 100_000
    for work in (lambda: gear_from_csv(text, {}), lambda: from_csv(text), lambda: box_from_text(text)):
        began = time.monotonic()
        with pytest.raises(BudgetError, match="too_many_in_file") as caught:
            work()
        assert time.monotonic() - began < 20.0  # it took minutes before; no bound on how quick it is
        assert "rows of parts" in wording.problem(caught.value.problems[0])
    with pytest.raises(BudgetError, match="too_large"):
        gear_from_csv("kind,name\n" + "x" * 4_000_001, {})
    assert len(gear_from_csv("kind,name\n" + "cell,x\n" * 240, {}).document["cell"]) == 1


def test_units_that_cannot_be_read_do_not_become_grams_on_the_way() -> None:
    """Neither as a budget's gear nor as a box; a unit that is written, or the same in both systems, stays."""
    part = {"kind": "servo", "name": "x", "mass": "0.06", "draw": "8"}
    for text in (gear_to_csv({"units": "imperail", "gear": [part]}), to_csv({"units": 5, "parts": [part]})):
        (row,) = gear_from_csv(text, {}).document["gear"]
        assert row["mass"] == "0.06 ?"
        assert row["draw"] == "8 mA"
        assert [problem.field for problem in read({"gear": [row]}).problems] == ["gear.0.mass"]
    assert [problem.field for problem in read_box({"units": "imperail", "parts": [part]}).all_problems] == [
        "units", "parts.0.mass"
    ]  # fmt: skip
    assert to_csv({"units": "imperail", "parts": 5}).count("\n") == 1


def test_parts_take_the_empty_rows_of_their_kind_first() -> None:
    before: dict[str, Any] = {"gear": [{"kind": "receiver"}, {"kind": "servo"}, "no row"], "units": "metric"}
    added = gear_from_csv(TWO, before)
    assert added.document["gear"] == [
        {"kind": "receiver"},
        {"kind": "servo", "name": "linear", "mass": "1.5 g", "count": "2", "station": "140 mm"},
        "no row",
    ]
    assert added.document["cell"] == {"name": "30 mAh", "mass": "1.0 g", "station": "60 mm"}
    assert (added.parts, added.cell, added.cells_left) == (1, True, 0)
    assert before["gear"][1] == {"kind": "servo"}


def test_a_cell_a_surface_and_a_converter_that_are_there_stay() -> None:
    document = {
        "cell": {"capacity": "50 mAh"},
        "surface": {"actuator": "linear servo", "thrust": "30 gf"},
        "supply": {"kind": "up", "volts": "5 V"},
    }
    text = "kind,name,torque [mN m],volts,colour\nservo,strong,12,,red\nsupply,new,,6 V,\ncell,big,,,\ncell,small,,,\n"
    added = gear_from_csv(text, document)
    assert {key: added.document[key] for key in document} == document
    assert [row["name"] for row in added.document["gear"]] == ["strong", "new"]
    assert (added.parts, added.cell, added.cells_left, added.ignored) == (2, False, 2, ("colour",))
    fresh = gear_from_csv(text, {"surface": {"kind": "whole"}}).document
    assert fresh["surface"] == {"kind": "whole", "actuator": "rotary servo", "torque": "12 mN m"}
    assert fresh["supply"] == {"kind": "up", "volts": "6 V"}


def test_bare_numbers_take_the_unit_of_the_budget() -> None:
    added = gear_from_csv("kind,name,mass\nservo,x,0.05\n", {"units": "imperial"})
    assert added.document["gear"] == [{"kind": "servo", "name": "x", "mass": "0.05 oz"}]


def test_more_than_a_budget_holds_is_refused_and_so_is_what_is_no_list() -> None:
    text = "kind,name\n" + "servo,x\n" * 3
    with pytest.raises(BudgetError) as caught:
        gear_from_csv(text, {"gear": [{"kind": "servo", "name": "y"}] * 58})
    assert wording.problem(caught.value.problems[0]).endswith(
        "The file has 3 parts for the gear, but a budget takes 60 rows and has 58."
    )
    assert len(gear_from_csv(text, {"gear": [{"name": "y"}] * 57}).document["gear"]) == 60
    with pytest.raises(BudgetError, match="no_header"):
        gear_from_csv("Dear all,\nfine weather.\n", {})
    assert gear_to_csv({"gear": 5, "cell": []}).count("\r\n") == 1
