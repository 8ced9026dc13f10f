"""What counts as a change, what it is worth and how it is judged: found by mutation testing."""

from dataclasses import replace
from typing import Any

import pytest

from calc.assess import assess
from calc.compare import sides as compare
from calc.document.budget import read

ROW: dict[str, Any] = {"kind": "servo", "name": "a", "mass": "2 g"}


@pytest.mark.parametrize(("before", "after"), [({**ROW, "draw": "x"}, ROW), (ROW, {**ROW, "draw": "x"})])
def test_an_entry_that_cannot_be_read_is_a_change(before: dict[str, str], after: dict[str, str]) -> None:
    found = compare.compare(read({"gear": [before]}).budget, read({"gear": [after]}).budget)
    assert [swap.act for swap in found.swaps] == ["change"]


def test_rows_of_other_kinds_become_each_other_only_one_for_one() -> None:
    timer, tracker = {"kind": "timer", "mass": "1 g"}, {"kind": "tracker", "mass": "1 g"}
    one, two = read({"gear": [ROW]}).budget, read({"gear": [timer, tracker]}).budget
    assert [swap.act for swap in compare.compare(one, two).swaps] == ["leave out", "add", "add"]
    assert [swap.act for swap in compare.compare(two, one).swaps] == ["leave out", "leave out", "add"]


def test_a_cell_takes_along_what_cannot_be_read_of_it_and_nothing_else() -> None:
    """Half a cell more runs half as long again; what cannot be read besides the cell belongs to other swaps."""
    one = {"gear": [{"mass": "1 g", "draw": "20 mA"}], "cell": {"mass": "1 g", "capacity": "30 mAh"}}
    larger = {"mass": "1 g", "capacity": "45 mAh"}
    unread = {**one, "gear": [{"mass": "1 g", "draw": "x"}], "cell": larger, "wiring": 1, "supply": 1}

    def longer_s(before: dict[str, Any], after: dict[str, Any]) -> float | None:
        found = compare.compare(read(before).budget, read(after).budget)
        return next(swap.run_s for swap in found.swaps if swap.path == "cell")

    alone = longer_s(one, {**one, "cell": larger})
    assert alone is not None
    assert alone > 0.0
    assert longer_s(one, unread) == alone
    assert longer_s(one, {**one, "cell": {**larger, "cutoff": "x"}}) is None
    assert longer_s({**one, "gear": unread["gear"]}, {**one, "cell": larger}) is None


def test_a_still_air_time_that_is_not_known_has_no_change() -> None:
    """A lighter servo flies longer; without the wing's area nobody knows for how long."""

    def longer_s(**model: str) -> float | None:
        air = {"launch": "rubber", "rubber_energy": "4 kJ/kg", "efficiency": "50 %"}
        whole: dict[str, Any] = {"model": {"airframe": "40 g", "rubber": "10 g", **model}, "air": air}
        one, other = (read({**whole, "gear": [{"mass": mass}]}).budget for mass in ("3 g", "2 g"))
        (swap,) = compare.compare(one, other).swaps
        return swap.still_air_s

    assert (longer_s(wing_area="8 dm²") or 0.0) > 0.0
    assert longer_s() is None


@pytest.mark.parametrize(
    ("name", "was", "now", "judged"),
    [
        ("gear_share", 0.2000, 0.2004, "same"), ("gear_share", 0.2000, 0.2006, "worse"),
        ("run", 100.0, 100.4, "same"), ("run", 100.0, 101.0, "better"), ("still_air", 100.0, 99.9, "same"),
        ("still_air", 100.0, 94.0, "worse"), ("cg", 0.1, 0.10004, "same"), ("cg", 0.1, 0.10006, ""),
        ("lowest", 3.5, 3.504, "same"), ("linkage_lost", 0.01, 0.0103, "same"), ("linkage_lost", 0.01, 0.0110, "worse"),
        ("servo_factor", 3.30, 3.34, "same"), ("servo_factor", 3.30, 3.41, "better"),
        ("servo_factor", 3.4, 3.3, "worse"), ("servo_factor", 4.9, 5.2, "better"), ("servo_factor", 8.3, 120.0, ""),
        ("servo_factor", 120.0, 8.3, ""), ("servo_factor", 300.0, 120.0, "same"),
        ("servo_factor", 4.0, 150.0, "better"),
        ("servo_factor", 150.0, 4.0, "worse"), ("linkage_factor", 2.1, 9.0, ""), ("linkage_factor", 1.9, 9.0, "better"),
        ("linkage_lost", 0.02, 0.001, "better"), ("linkage_lost", 0.001, 0.02, "worse"),
        ("spread", 0.001, 0.002, ""), ("flights", 100, 150, "better"), ("mean", 0.3, 0.2, "better"),
    ],
)  # fmt: skip
def test_when_a_change_is_seen(
    name: str, was: float, now: float, judged: str, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    """Judged by what is shown; from five times as strong as needed on, twice for a linkage, more is no better."""
    figure = next(each for each in compare.FIGURES if each.id == name)
    given = replace(figure, take=lambda found: was if found.budget.name.value == "before" else now)
    monkeypatch.setattr(compare, "FIGURES", (given,))
    (row,) = compare.compare(*(read({"name": each}).budget for each in ("before", "after"))).rows
    assert row.judged == judged


def test_each_limit_has_its_own_row() -> None:
    model = {"airframe": "40 g", "target": "47 g", "maximum": "60 g", "max_loading": "9 g/dm²", "wing_area": "8 dm²",
             "rubber": "0 g"}  # fmt: skip
    one, other = ({"model": model, "gear": [{"mass": mass}]} for mass in ("1 g", "2 g"))
    found = compare.compare(read(one).budget, read(other).budget)
    rows = {row.id.removeprefix("in_hand_"): row.after for row in found.rows if row.id.startswith("in_hand_")}
    assert rows == {limit.id: limit.in_hand_kg for limit in assess(read(other).budget).limits_with_lead}
    assert len(rows) == 4


@pytest.mark.parametrize(("target", "judged"), [("48.05 g", "better"), ("52 g", "better"), ("44 g", "same")])
def test_a_verdict_gets_better_by_one_step_or_two(target: str, judged: str) -> None:
    one, other = (
        {"model": {"airframe": "40 g", "target": each}, "gear": [{"mass": "8 g"}]} for each in ("44 g", target)
    )
    found = compare.compare(read(one).budget, read(other).budget)
    assert [row.judged for row in found.rows if row.id == "verdict"] == [judged]


def test_masses_of_a_comparison_end_where_their_spread_does() -> None:
    guess = {"model": {"airframe": "60 g", "airframe_known_by": "guess"}, "gear": [{"mass": "9 g"}]}
    found = compare.compare(read(guess).budget, read({**guess, "gear": [{"mass": "8 g"}]}).budget)
    said = {row.id: (*row.shown, row.told) for row in found.rows}
    assert said["flying"] == ("81 g", "80 g", "−1 g")
    assert said["gear"] == ("9.00 g", "8.00 g", "−1.00 g")
    assert said["in_hand_share"] == said["in_hand"] == ("6.0 g", "7.0 g", "+1.0 g")
