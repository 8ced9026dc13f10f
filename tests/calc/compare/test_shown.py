"""A change agrees with what is shown: what stood there before and the change make what stands there now."""

import re
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.compare import data as compare_data
from calc.compare import shown as compare_shown
from calc.compare import words as compare_words
from calc.compare.shown import MINUS
from calc.compare.sides import FIGURES, Comparison, compare
from calc.document.budget import read
from calc.unit_system import UnitSystem
from tests.support import demo_documents

DEMOS = list(demo_documents().values())
SIZES = st.floats(1e-6, 2.0) | st.floats(-0.05, 0.05)


def number(text: str) -> Fraction | None:
    """Return a figure as shown as a number of its unit, a run time in seconds; None where it is none."""
    times = re.findall(r"(?<![0-9.])([0-9]+) (h|min|s)", text)
    if times:
        size = Fraction(sum(int(each) * {"h": 3600, "min": 60, "s": 1}[unit] for each, unit in times))
        return -size if text.startswith(MINUS) else size
    found = re.fullmatch(rf"[+]?({MINUS}?)([0-9.]+)(?: ?[^0-9 ].*)?", text)
    return None if found is None else Fraction(found[2]) * (-1 if found[1] else 1)


def decimals(text: str) -> int:
    return len((re.findall(r"[.]([0-9]+)", text) or [""])[0])


def rounded(size: Fraction, places: int) -> Fraction:
    whole = (abs(size) * 10**places + Fraction(1, 2)).__floor__()
    return Fraction(whole, 10**places) * (-1 if size < 0 else 1)


def holds(before: str, after: str, told: str) -> bool:
    """Return whether before + change = now; without a change both show the same in the digits that both have."""
    was, now, more = number(before), number(after), number(told)
    if was is None or now is None:
        return told == ""
    if more is None:
        places = min(decimals(before), decimals(after))
        return rounded(was, places) == rounded(now, places)
    return was + more == now


@settings(max_examples=400)
@given(figure=st.sampled_from(FIGURES), was=SIZES, now=SIZES, spreads=st.tuples(st.sampled_from([0, 1e-4, 3e-3])),
       system=st.sampled_from(UnitSystem))  # fmt: skip
def test_before_and_change_make_now(
    figure: Any, was: float, now: float, spreads: tuple[float], system: UnitSystem
) -> None:
    scale = {"run": 5000.0, "time": 200.0, "count": 50.0, "number": 60.0}.get(figure.dimension, 1.0)
    if figure.dimension in scale_above_zero:
        was, now = abs(was) + 1e-6, abs(now) + 1e-6
    was, now = was * scale, now * scale
    shown = [compare_shown.figure(each, figure.dimension, system, *spreads) for each in (was, now)]
    way, told = compare_shown.change(*shown)
    assert holds(shown[0], shown[1], told)
    size = number(told)
    assert way == 0 or (now - was) * way > 0.0
    assert size is None or size * way > 0


scale_above_zero = ("run", "time", "count", "number", "angle", "current", "loading", "speed")


@given(one=st.sampled_from(DEMOS), other=st.sampled_from(DEMOS), system=st.sampled_from(UnitSystem))
def test_each_row_of_two_budgets(one: dict[str, Any], other: dict[str, Any], system: str) -> None:
    found = compare(read(one).budget, read({**other, "units": system}).budget)
    for row in found.rows:
        assert holds(*row.shown, row.told)
        assert row.judged != "same" or row.told == ""


def compared(before: dict[str, Any], after: dict[str, Any]) -> Comparison:
    return compare(read(before).budget, read(after).budget)


def test_a_time_shown_as_83_and_120_seconds_has_37_more() -> None:
    assert [compare_shown.figure(each, "time", UnitSystem.METRIC) for each in (83.0, 118.0)] == ["83 s", "120 s"]
    assert compare_shown.change("83 s", "120 s") == (1, "+37 s")


def test_a_wider_spread_alone_is_no_change_of_the_mass() -> None:
    weighed = {"gear": [{"mass": "5.93 g", "known_by": "weighed"}], "scale_division": "0.01 g"}
    found = compared(weighed, {**weighed, "scale_division": "5 g"})
    (row,) = [row for row in found.rows if row.id == "gear"]
    assert row.shown == ("5.93 g", "5.9 g")
    assert (row.told, row.judged) == ("", "same")


def test_what_is_over_or_under_something_has_a_way_and_no_size() -> None:
    assert compare_shown.change("under 0.1°", "2.1°") == (1, "")
    assert compare_shown.change("2.1°", "under 0.1°") == (-1, "")
    assert compare_shown.change("over 100", "over 100") == (0, "")


def test_gear_that_costs_nothing_is_a_matter_of_contests() -> None:
    contest = {"model": {"class": "p30", "airframe": "30 g"}, "gear": [{"mass": "2 g"}]}
    sport = {**contest, "model": {**contest["model"], "use": "sport"}}  # type: ignore[dict-item]
    ids = {row.id for row in compared(contest, contest).rows}
    assert {"class_free", "class_short"} <= ids
    assert not {"class_free", "class_short"} & {row.id for row in compared(sport, sport).rows}


@pytest.mark.parametrize(
    ("block", "words"),
    [
        ({"model": {"class": "p30"}}, "Model, class: 30 in rubber (USA, Sweden), before not given"),
        ({"model": {"use": "sport"}}, "Model, flown as: a sport model, before not given"),
        ({"surface": {"kind": "whole"}}, "Surface, surface: a whole surface on a pivot, before not given"),
        ({"model": {"class": "p99"}}, ""),
    ],
)
def test_choices_differ_in_words(block: dict[str, Any], words: str) -> None:
    said = [compare_words.difference_sentence(each) for each in compared({}, block).differences]
    assert said == ([words] if words else [])


def test_a_draw_that_nobody_told_makes_no_figure_better() -> None:
    """Without the servo's draw the run is longer only on paper: at most so long, and neither better nor a change."""
    servo = {"kind": "servo", "name": "s", "mass": "1 g", "draw": "20 mA", "busy_draw": "60 mA", "busy": "5 %"}
    known = {
        "gear": [{"kind": "receiver", "mass": "1 g", "draw": "25 mA"}, servo],
        "cell": {"mass": "1 g", "capacity": "45 mAh"}, "session": {"on_time": "5 min", "flights": 10},
    }  # fmt: skip
    untold = {**known, "gear": [known["gear"][0], {"kind": "servo", "name": "s", "mass": "1 g"}]}  # type: ignore[index]
    found = compared(known, untold)
    rows = {row.id: row for row in found.rows}
    for name, bound in (("run", "at most"), ("flights", "at most"), ("cells", "at least"), ("mean", "at least")):
        assert rows[name].shown[1].startswith(f"{bound} ")
        assert not rows[name].shown[0].startswith("at ")
        assert (rows[name].told, rows[name].judged, rows[name].change) == ("", "", None)
    run = next(row for row in compare_data.compared_json(found)["rows"] if row["id"] == "run")
    assert run["after_is"] == "at most"
    assert "before_is" not in run
    assert [swap.run_s for swap in found.swaps] == [None]
