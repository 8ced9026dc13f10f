"""What would make a budget fit: budgets of our own, each over for one reason; each change assessed anew."""

import json
from typing import Any

import pytest

from calc.changes.change import Change
from calc.changes.edits import applied, backwards
from calc.changes.find import Found, find
from calc.changes.trials import Trials
from calc.changes.words import headline, lines, sentence
from calc.document.box import read_box, take
from tests.calc.changes.budgets import BOX, NOSE_LEAD, OVER, SHORT_RUN, SOUND, STRONG_BOX, WEAK, answered, with_
from tests.support import SITE_SRC, demo_documents


def found(document: Any, box: Any = None, most: int = 60) -> Found:
    """Return the changes, after each of them was applied and assessed anew."""
    listed = find(document, None if box is None else read_box(box), most)
    for change in listed.changes:
        if change.edits:
            after = applied(document, change.edits)
            assert answered(after).whole == change.assessment.whole
            assert applied(after, backwards(change.edits)) == document
            assert change.fits == (answered(after).whole.verdict == "fits" and not change.opens)
    return listed


def named(listed: Found, code: str, path: str = "") -> list[Change]:
    return [each for each in listed.changes if each.what.code == code and path in ("", each.what.path)]


def test_a_budget_that_fits_needs_no_change_and_takes_one_assessment() -> None:
    listed = found(SOUND, BOX)
    assert (listed.changes, listed.needed, listed.count, headline(listed)) == ((), False, 1, "")


def test_a_budget_that_fits_but_is_not_sure_is_told_what_to_weigh() -> None:
    listed = found(demo_documents()["sedge-wren.json"], BOX)
    (weigh,) = listed.changes
    assert (weigh.what.code, weigh.what.path, weigh.edits, weigh.fits) == ("weigh", "gear.2", (), False)
    assert headline(listed) == "It fits, but is not sure yet."


def test_over_by_grams_the_least_swap_comes_first() -> None:
    first, *others = found(OVER, BOX).changes
    assert (first.what.code, first.what.path, first.what.before, first.what.after) == (
        "swap",
        "gear.0",
        "2.0 g",
        "1.2 g",
    )
    assert sentence(first) == (
        "Use the bare receiver (1.2 g) from your box instead of the cased receiver (2.0 g): 0.30 g in hand."
    )
    assert first.fits
    assert "garbled receiver" not in str([each.what.facts for each in others])


def test_parts_that_do_not_say_enough_are_never_proposed() -> None:
    told = {each.what.facts.get("part") for each in found(OVER, BOX).changes}
    assert not told & {"secret receiver", "garbled receiver", "nameless charge", "heavy receiver"}


def test_a_guessed_part_comes_after_one_that_is_known() -> None:
    box = {"parts": [dict(BOX["parts"][0]), {**BOX["parts"][3], "mass": "0.8 g"}]}
    codes = [(each.what.facts.get("part"), each.fits, each.what.sure) for each in found(OVER, box).changes]
    assert codes.index(("bare receiver", True, True)) < codes.index(("guessed receiver", True, False))


def test_without_a_box_the_grams_of_the_airframe_and_what_can_stay_at_home() -> None:
    listed = found(OVER)
    airframe, logger = listed.changes
    assert (airframe.what.code, airframe.what.before, airframe.what.after) == ("airframe", "40 g", "39.3 g")
    assert (airframe.edits, airframe.fits) == ((), True)
    assert sentence(airframe) == "Save 0.70 g in the airframe (39.3 g instead of 40 g): 0.20 g in hand."
    assert (logger.what.code, logger.what.path) == ("leave_out", "gear.2")
    assert not applied(OVER, logger.edits)["gear"][2].keys() ^ {*OVER["gear"][2], "off"}


def test_the_airframe_figure_is_the_coarsest_that_does() -> None:
    """One step of 0.1 g more of airframe no longer fits."""
    assert answered(with_(OVER, model={"airframe": "39.3 g"})).whole.verdict == "fits"
    assert answered(with_(OVER, model={"airframe": "39.4 g"})).whole.verdict != "fits"


def test_under_the_share_rule_a_lighter_airframe_is_no_help() -> None:
    document = with_(SOUND, model={"target": "60 g"}, rule={"share": "18 %"})
    assert answered(document).governs.id == "share"  # type: ignore[union-attr]
    assert not named(found(document), "airframe")


@pytest.mark.parametrize("entries", [{"airframe": "39 gg"}, {"airframe_known_by": "nobody"}])
def test_an_airframe_that_cannot_be_read_has_no_grams_to_save(entries: dict[str, str]) -> None:
    assert not named(found(with_(OVER, model=entries)), "airframe")


def test_a_planned_airframe_on_the_scale_is_counted_as_weighed() -> None:
    (airframe,) = named(found(with_(OVER, model={"airframe": "20 g", "airframe_weighed": "40 g"})), "airframe")
    assert airframe.what.path == "model.airframe_weighed"


def test_an_airframe_far_too_heavy_is_no_figure_to_save() -> None:
    assert not named(found(with_(OVER, model={"target": "20 g"})), "airframe")


def test_a_short_run_takes_a_cell_a_draw_or_a_shorter_flight() -> None:
    listed = found(SHORT_RUN, BOX)
    assert [(each.what.code, each.what.path) for each in listed.changes if each.fits] == [
        ("swap", "cell"), ("swap", "cell"), ("draw", "gear.0.draw"), ("draw", "gear.1.busy_draw"),
        ("flight_time", "session.on_time"),
    ]  # fmt: skip
    assert listed.changes[0].what.facts["capacity_after"] == "30 mAh"


def test_the_draw_that_would_do_is_the_largest_and_goes_in_as_a_guess() -> None:
    (draw,) = named(found(SHORT_RUN), "draw", "gear.0.draw")
    assert (draw.what.before, draw.what.after) == ("30 mA", "17 mA")
    assert applied(SHORT_RUN, draw.edits)["gear"][0]["draw_known_by"] == "guess"
    assert answered(with_(SHORT_RUN, row0={"draw": "18 mA"})).whole.verdict != "fits"
    assert sentence(draw).startswith("Get the cased receiver down to 17 mA, from 30 mA: one cell lasts a flight, ")


def test_a_draw_at_work_stays_above_the_quiet_one() -> None:
    """A servo cannot draw less at work than at rest; where that would be needed, nothing is said."""
    document = with_(
        SHORT_RUN, row1={"draw": "0 mA", "busy_draw": "10 mA", "busy": "10 %"}, session={"on_time": "40 min"}
    )
    assert not named(found(document), "draw", "gear.1.busy_draw")
    tight = with_(SHORT_RUN, row1={"draw": "14 mA", "busy_draw": "15 mA", "busy": "100 %"})
    assert not named(found(tight), "draw", "gear.1.busy_draw")


def test_flights_are_shortened_to_whole_tens_of_seconds() -> None:
    document = with_(SOUND, cell={"capacity": "8 mAh"}, session={"on_time": "7:00"})
    (shorter,) = named(found(document), "flight_time")
    assert (shorter.what.before, shorter.what.after) == ("7:00", "6 min 10 s")
    assert answered(with_(document, session={"on_time": "6 min 20 s"})).whole.verdict != "fits"


NEARLY_LASTS = with_(SHORT_RUN, session={"on_time": "18 min", "reserve": "35"})


def test_less_reserve_is_told_last_and_as_what_it_is() -> None:
    for document in (NEARLY_LASTS, with_(SHORT_RUN, session={"on_time": "17 min"})):
        listed = found(document)
        (reserve,) = named(listed, "reserve")
        assert listed.changes[-1] is reserve
        assert "less for the unforeseen" in sentence(reserve)
    (reserve,) = named(found(NEARLY_LASTS), "reserve")
    percent = int(reserve.what.after.split()[0])
    assert (reserve.what.before, reserve.fits) == ("35 %", True)
    assert answered(with_(NEARLY_LASTS, session={"reserve": f"{percent + 1} %"})).whole.verdict != "fits"


def test_a_usual_reserve_is_told_with_its_figure() -> None:
    (reserve,) = named(found(with_(SHORT_RUN, session={"on_time": "17 min"})), "reserve")
    assert reserve.what.before == "20 %"


def test_where_less_reserve_alone_would_do_it_is_not_called_what_makes_it_fit() -> None:
    """A run of one row whose draw cannot be told less, a flight that cannot be shorter: only the reserve is left."""
    document = {
        "model": {"airframe": "40 g", "target": "50 g"}, "rule": {"share": "50 %"},
        "gear": [{"kind": "receiver", "mass": "1 g", "draw": "30 mA", "min_volts": "3 V", "note": 1}],
        "cell": {"mass": "1 g", "capacity": "20 mAh", "resistance": "0.5 ohm"},
        "session": {"flights": 1, "on_time": "24 min", "reserve": "40 %"},
    }  # fmt: skip
    listed = found(document)
    assert [each.what.code for each in listed.changes] == ["flight_time", "reserve"]
    assert headline(listed) == "What would make it fit:"
    assert listed.changes[1].fits


def test_a_part_moved_does_without_the_lead() -> None:
    listed = found(NOSE_LEAD)
    cell, receiver, logger, *_ = listed.changes
    assert [each.what.path for each in (cell, receiver, logger)] == ["cell", "gear.0", "gear.2"]  # the servo is tied
    assert (cell.what.before, cell.what.after, cell.assessment.lead_kg) == ("150 mm", "72 mm", 0.0)
    assert sentence(cell) == "Move the plain cell 78 mm forward, to 72 mm: no lead needed, 0.20 g in hand."
    assert (len(cell.edits), cell.edits[0].keys) == (1, ("cell", "station"))
    measures = [each.what.measure for each in (cell, receiver, logger)]
    assert measures == sorted(measures)


def test_a_move_that_ends_at_the_nose_leaves_some_lead() -> None:
    document = with_(NOSE_LEAD, balance={"nose_at": "100 mm"}, model={"target": "50.4 g"})
    moves = named(found(document), "move")
    assert {each.what.after for each in moves} == {"100 mm", "103 mm"}
    ends = [each for each in moves if each.what.after == "100 mm"]
    assert all(0.0 < each.assessment.lead_kg < answered(document).lead_kg for each in ends)
    assert "of lead instead of" in sentence(ends[0])


def test_without_a_nose_the_part_moved_makes_it_balance() -> None:
    """Lead at a nose that lies behind the wanted point helps nothing, so the balance fails; a move does not need it."""
    balance = {"nose_at": "199 mm", "airframe_at": "194 mm"}
    document = with_(NOSE_LEAD, model={"target": "60 g"}, row2={"station": "650 mm"}, balance=balance)
    assert answered(document).whole.parts["balance"] == "bad"
    first, *others = found(document).changes
    assert (first.what.code, first.what.path, first.what.after, first.fits) == ("move", "gear.2", "240 mm", True)
    assert sentence(first) == "Move the logger 410 mm forward, to 240 mm: it balances, 11.0 g in hand."
    assert not named(found(with_(document, balance={"tail_at": ""})), "move")
    assert others


def test_a_part_that_sits_at_the_nose_is_not_moved() -> None:
    document = with_(NOSE_LEAD, model={"target": "46 g"}, cell={"station": "20 mm"}, balance={"airframe_at": "260 mm"})
    assert answered(document).lead_kg > 0.0
    assert not named(found(document), "move", "cell")
    assert named(found(document), "move", "gear.0")


def test_a_cell_that_cannot_run_the_gear_without_a_session() -> None:
    document = {"gear": SOUND["gear"], "cell": {"mass": "1 g", "capacity": "5 mAh", "resistance": "9 ohm"}}
    assert answered(document).whole.verdict == "fails"
    listed = found(document, BOX)
    assert listed.changes[0].what.facts["part"] in ("smaller cell", "larger cell")
    assert listed.changes[0].assessment.whole.parts["run"] == "not asked"
    assert sentence(listed.changes[0]).endswith("(5 mAh, 1 g): it runs.")


def test_a_rod_that_would_not_hold_is_not_mended_by_one_that_nobody_described() -> None:
    rod = {"length": "600 mm", "material": "steel", "diameter": "0.15 mm"}
    document = with_(
        WEAK, model={"target": "49 g"}, surface={"torque": "9 mN m"},
        row2={"kind": "linkage", "name": "thin rod"}, linkage=rod,
    )  # fmt: skip
    assert answered(document).whole.parts["strength"] == "bad"
    assert not named(found(document, {"parts": [{"kind": "linkage", "name": "lines", "mass": "0.3 g"}]}), "swap")


def test_a_change_that_cannot_be_read_is_none() -> None:
    trials = Trials(SOUND)
    assert trials.answer({**SOUND, "model": {"airframe": "4 gg"}}) is None
    assert (trials.count, trials.cut) == (2, False)


def test_moves_in_inches_are_told_in_inches() -> None:
    document = with_(NOSE_LEAD, cell={"station": "5 29/32 in"})
    (move,) = named(found(document), "move", "cell")
    assert move.what.after.endswith(" in")
    assert move.what.before == "5 29/32 in"


def test_a_weak_actuator_takes_a_stronger_one_of_the_same_sort() -> None:
    listed = found(WEAK, STRONG_BOX)
    assert [each.what.facts["part"] for each in listed.changes] == ["strong servo", "stronger servo"]
    assert applied(WEAK, listed.changes[0].edits)["surface"]["torque"] == "20 mN m"
    assert headline(found(WEAK)) == "No single change that could be tried makes it fit."


def test_a_throw_that_falls_short_takes_no_stronger_actuator() -> None:
    document = with_(WEAK, surface={"horn": "30 mm", "torque": "9 mN m"})
    assert answered(document).whole.parts["strength"] == "bad"
    assert found(document, STRONG_BOX).changes == ()


def test_a_part_of_the_same_name_is_told_by_its_mass() -> None:
    box = {"parts": [{**BOX["parts"][0], "name": "cased receiver"}]}
    assert sentence(found(OVER, box).changes[0]) == (
        "Use the cased receiver of 1.2 g from your box instead of the one of 2.0 g: 0.30 g in hand."
    )


def test_several_equal_parts_are_swapped_and_left_out_together() -> None:
    document = with_(OVER, row0={"count": 2, "mass": "1.0 g"}, row2={"count": "2", "mass": "0.75"})
    swap, *_, logger = found(document, {"parts": [{**BOX["parts"][0], "mass": "0.6 g"}]}).changes
    assert sentence(swap) == (
        "Use 2 × bare receiver (0.6 g) from your box instead of the cased receiver (1.0 g): 0.30 g in hand."
    )
    assert sentence(logger).startswith("Leave the logger out (2 × 0.75 g), if you can do without: ")


def test_ounces_stay_ounces() -> None:
    """0.3 g is 0.0106 oz; a bare 0.07 of an imperial budget is told with its unit, a part of the box in its own."""
    document = {**with_(OVER, row0={"mass": 0.07}), "units": "imperial"}
    first = found(document, {"parts": [{**BOX["parts"][0], "mass": "1.2"}]}).changes[0]
    assert (first.what.before, first.what.after) == ("0.07 oz", "1.2 g")
    assert sentence(first, "imperial").endswith(": 0.011 oz in hand.")


def test_another_linkage_leaves_its_strength_open() -> None:
    document = demo_documents()["reed-bunting.json"]
    box = {"parts": [{"kind": "linkage", "name": "lines", "mass": "0.3 g"}]}
    (lines_,) = named(found(document, box), "swap")
    assert (lines_.fits, lines_.opens) == (False, ("strength",))
    assert lines_.assessment.whole.open
    assert applied(document, lines_.edits)["linkage"] == {"length": "360 mm"}
    assert sentence(lines_).endswith("in hand, whether it is strong enough is then open.")


def test_over_and_too_short_takes_two_changes() -> None:
    document = with_(SHORT_RUN, model={"target": "48.5 g"})
    listed = found(document)
    first = listed.changes[0]
    assert (first.what.code, first.fits) == ("pair", True)
    assert {part.code for part in first.parts} == {"flight_time", "leave_out"}
    assert not any(each.fits for each in listed.changes[1:])
    assert headline(listed) == "Two changes together make it fit:"
    assert ", and " in sentence(first)


def test_two_actuators_cannot_both_bring_their_strength() -> None:
    """Each swap alone puts its torque into the surface; together the second would go over the first."""
    document = with_(WEAK, model={"target": "30 g"})
    document["gear"].append(dict(document["gear"][1]))
    listed = found(document, STRONG_BOX)
    assert {each.what.path for each in named(listed, "swap")} == {"gear.1", "gear.3"}
    assert not any({part.path for part in each.parts} == {"gear.1", "gear.3"} for each in listed.changes)


def test_pairs_that_come_no_nearer_than_one_change_are_not_told() -> None:
    document = with_(SHORT_RUN, model={"target": "30 g"})
    listed = found(document)
    assert not any(each.fits for each in listed.changes)
    assert headline(listed) == "No single change makes it fit. What comes nearest:"


def test_a_close_budget_may_be_settled_by_weighing() -> None:
    document = with_(SOUND, model={"target": "49.4 g"}, row1={"known_by": "guess", "mass": "3.2 g"})
    document["scale_division"] = "0.01 g"
    (weigh,) = named(found(document, BOX), "weigh")
    assert weigh.what.facts["settles"]
    assert sentence(weigh) == "Weigh the small servo: that settles it; if it is 3.2 g as planned, 0.20 g in hand."
    assert not named(found(with_(document, session={"on_time": "3 h"})), "weigh")


def test_an_airframe_that_is_a_guess_may_be_weighed() -> None:
    document = with_(SOUND, model={"airframe": "35 g", "airframe_known_by": "guess", "target": "51 g"})
    (weigh,) = named(found(document), "weigh")
    assert weigh.what.path == "model.airframe"


def test_what_cannot_be_read_is_no_change_to_offer() -> None:
    """Rows that hold something unreadable are neither swapped nor left out, whatever that would do to the answer."""
    document = with_(OVER, row0={"draw": "nonsense"}, row2={"min_volts": "much"})
    paths = {each.what.path for each in found(document, BOX).changes}
    assert not paths & {"gear.0", "gear.2"}


def test_a_swap_that_tells_less_is_no_change_to_offer() -> None:
    """A receiver without its least voltage, a cell without its resistance: both would look better than is known."""
    box = {
        "parts": [
            {"kind": "receiver", "name": "untold", "mass": "0.5 g", "draw": "20 mA"},
            {"kind": "cell", "name": "cell without resistance", "mass": "1 g", "capacity": "90 mAh"},
            {"kind": "servo", "name": "quiet servo", "mass": "1 g", "draw": "5 mA", "min_volts": "3 V"},
        ]
    }
    assert not named(found(OVER, box), "swap")


def test_a_swap_that_spoils_something_else_is_no_change_to_offer() -> None:
    box = {"parts": [{"kind": "cell", "name": "tiny", "mass": "0.3 g", "capacity": "5 mAh", "resistance": "1 ohm"}]}
    assert not named(found(OVER, box), "swap")


def test_the_cap_is_kept_and_told() -> None:
    for most in (1, 2, 3, 7, 20):
        listed = found(with_(SHORT_RUN, model={"target": "48.5 g"}), BOX, most)
        assert listed.count <= most
        assert listed.cut
        assert "Not everything could be tried" in headline(listed)
    assert found(with_(OVER, row1={"known_by": "guess", "mass": "2.4 g"}), BOX, 1).count == 1
    assert find(demo_documents()["sedge-wren.json"], most=1).changes == ()


def test_the_order_does_not_hang_on_the_order_of_the_box() -> None:
    turned = {"parts": list(reversed(BOX["parts"]))}
    for document in (OVER, SHORT_RUN, NOSE_LEAD):
        first, second = (
            [sentence(each) for each in find(document, read_box(box)).changes] for box in (BOX, turned)
        )  # fmt: skip
        assert first == second


def test_the_measure_grows_with_the_change() -> None:
    for document in (OVER, SHORT_RUN, NOSE_LEAD):
        for code, fact in (("leave_out", "lighter_kg"), ("move", "moved_m"), ("airframe", "saved_kg")):
            same = named(found(document, BOX), code)
            sizes = [abs(each.what.facts[fact]) for each in same]
            ranked = sorted(same, key=lambda each: each.what.measure)
            assert [abs(each.what.facts[fact]) for each in ranked] == sorted(sizes)
            assert all(each.what.measure > 0.0 for each in same)


def test_no_part_of_the_box_that_would_be_less_of_a_change_is_left_out() -> None:
    """Every part of the starter box in every place of its kind, one by one: none that fits changes less mass."""
    document = demo_documents()["reed-bunting.json"]
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text("utf-8"))
    was, listed = answered(document), found(document, box)
    for row in was.rows:
        changes: list[float] = []
        for part in box["parts"]:
            if part["kind"] != row.kind or row.kind == "linkage":
                continue
            after = answered(take(document, part, row.path, "metric"))
            if after.whole.verdict == "fits":
                changes.append(was.gear.expected_kg - after.gear.expected_kg)
        told = [each for each in named(listed, "swap", row.path) if each.fits]
        assert [bool(changes)] == [bool(told)]
        if told:
            assert told[0].what.facts["lighter_kg"] == pytest.approx(min(changes))


def test_what_is_told_goes_onto_a_sheet() -> None:
    for document in (OVER, SHORT_RUN, NOSE_LEAD, WEAK, SOUND):
        assert all(len(line) <= 78 for line in lines(find(document, read_box(BOX))))


@pytest.mark.parametrize("document", [None, [], "x", 5, {}, {"gear": 5}, {"gear": [1, None, {}]}, {"units": "metricc"}])
def test_documents_that_are_none_need_no_change(document: Any) -> None:
    assert find(document, read_box(BOX)).changes == ()
