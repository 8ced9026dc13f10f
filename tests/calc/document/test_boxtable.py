"""A list of parts into the box: what comes in, what is left aside and said."""

import pytest

from calc.document import intake
from calc.document.box import MOST_PARTS
from calc.document.boxtable import for_box, with_parts
from calc.document.tablewords import told
from calc.errors import BudgetError

LIST = (
    "Part\tType\tWeight (g)\tOn the scale (g)\tPcs\tFrom the nose\n"
    "left\tservo\t1,3\t1,5\t2\t30\nhook\twinch\t\t\t1\t\ncell\tlipo\t1,1\t\t\t\n\t\t5,2\t\t\t\n"
)


def found(text: str) -> intake.Preview:
    return intake.preview(intake.opened(text))


def test_parts_come_in_without_their_place_and_with_their_weighed_mass() -> None:
    ready = for_box({"parts": []}, found(LIST))
    assert ready.parts == (
        {"kind": "servo", "name": "left", "mass": "1,5 g", "known_by": "weighed"},
        {"kind": "other", "name": "hook"},
        {"kind": "cell", "name": "cell", "mass": "1,1 g", "known_by": "guess"},
        {"mass": "5,2 g", "known_by": "guess"},
    )
    said = [told(each) for each in (*ready.found.taken.aside, *ready.found.taken.doubts)]
    assert said == [
        "Weighed as well as planned: 1. The box keeps the weighed mass alone.",
        "“Count” belongs to a model, not to a part in the box.",
        "“Distance from the nose” belongs to a model, not to a part in the box.",
        "Nobody says how 3 of the masses are known; they come in as: guess.",
        "Row 3: “winch” is no kind that is known here; it comes in as other.",
        "Row 3: “hook” has no mass: the finder leaves it out until it has one.",
    ]
    assert [column.field for column in ready.found.layout.columns] == ["name", "kind", "mass", "weighed", "", ""]


def test_bare_masses_are_told_in_the_units_of_the_box() -> None:
    doubts = for_box({"units": "imperial"}, found("Part\tWeight\tFrom the nose\nleft\t1,5\t30\n")).found.taken.doubts
    assert told(doubts[0]) == "Numbers without a unit (1) take the units of the box: masses count as oz."


def test_a_sum_below_the_counts_is_still_no_part() -> None:
    listed = "Part\tWeight (g)\tPcs\nleft\t1,5\t2\nhook\t0,5\t1\n\t3,5\t\n"
    assert [part["name"] for part in for_box({}, found(listed)).parts] == ["left", "hook"]


def test_a_count_of_one_and_no_column_of_the_model_are_nothing_to_tell() -> None:
    assert for_box({}, found("Part\tWeight (g)\tPcs\nleft\t1,5\t1\n")).found.taken.aside == ()


@pytest.mark.parametrize(
    ("units", "mass"), [("imperial", "1,5 oz"), ("metric", "1,5 g"), (None, "1,5 g"), ("stone", "1,5 ?")]
)
def test_bare_numbers_take_the_units_of_the_box(units: str | None, mass: str) -> None:
    assert for_box({"units": units}, found("Part\tWeight\nleft\t1,5\n")).parts[0]["mass"] == mass


def test_what_is_there_is_not_put_in_again() -> None:
    box = with_parts({"units": "metric"}, for_box({}, found(LIST)).parts)
    assert (box["units"], len(box["parts"])) == ("metric", 4)
    again = for_box(box, found(LIST))
    assert again.parts == ()
    assert told(again.found.taken.aside[0]) == "In the box already, and not put in again: 4."


def test_a_box_that_is_full_takes_no_more() -> None:
    there = [{"name": str(number)} for number in range(MOST_PARTS - 3)]
    with pytest.raises(BudgetError) as refused:
        for_box({"parts": there}, found(LIST))
    (problem,) = refused.value.problems
    assert (problem.code, problem.facts) == ("no_room_in_box", {"count": 4, "most": MOST_PARTS, "there": 4997})
    assert len(for_box({"parts": there[1:]}, found(LIST)).parts) == 4
