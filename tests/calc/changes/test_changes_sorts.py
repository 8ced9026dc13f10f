"""Changes of each sort: figures that would do, parts moved, stronger actuators, other linkages."""

import pytest

from calc.changes.edits import applied
from calc.changes.words import headline, sentence
from calc.unit_system import UnitSystem
from tests.calc.changes.budgets import (
    BOX,
    NOSE_LEAD,
    OVER,
    SHORT_RUN,
    SOUND,
    STRONG_BOX,
    WEAK,
    answered,
    found,
    named,
    with_,
)
from tests.support import demo_documents


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
    assert (draw.what.before, draw.what.after) == ("30 mA", "22 mA")
    assert applied(SHORT_RUN, draw.edits)["gear"][0]["draw_known_by"] == "guess"
    assert answered(with_(SHORT_RUN, row0={"draw": "23 mA"})).whole.verdict != "fits"
    assert sentence(draw, UnitSystem.METRIC).startswith(
        "Get the cased receiver down to 22 mA, from 30 mA: one cell lasts a flight, "
    )


def test_a_draw_at_work_stays_above_the_quiet_one() -> None:
    """A servo cannot draw less at work than at rest; where that would be needed, nothing is said."""
    document = with_(
        SHORT_RUN, row1={"draw": "0 mA", "busy_draw": "10 mA", "busy": "10 %"}, session={"on_time": "22 min"}
    )
    assert not named(found(document), "draw", "gear.1.busy_draw")
    tight = with_(SHORT_RUN, row1={"draw": "14 mA", "busy_draw": "15 mA", "busy": "100 %"})
    assert not named(found(tight), "draw", "gear.1.busy_draw")


def test_flights_are_shortened_to_whole_tens_of_seconds() -> None:
    document = with_(SOUND, cell={"capacity": "20 mAh"}, session={"on_time": "9:00"})
    (shorter,) = named(found(document), "flight_time")
    assert (shorter.what.before, shorter.what.after) == ("9:00", "8 min 10 s")
    assert answered(with_(document, session={"on_time": "8 min 20 s"})).whole.verdict != "fits"


NEARLY_LASTS = with_(SHORT_RUN, session={"on_time": "8 min", "reserve": "35"})


def test_less_reserve_is_told_last_and_as_what_it_is() -> None:
    for document in (NEARLY_LASTS, with_(SHORT_RUN, session={"on_time": "9 min"})):
        listed = found(document)
        (reserve,) = named(listed, "reserve")
        assert listed.changes[-1] is reserve
        assert "less for the unforeseen" in sentence(reserve, UnitSystem.METRIC)
    (reserve,) = named(found(NEARLY_LASTS), "reserve")
    percent = int(reserve.what.after.split()[0])
    assert (reserve.what.before, reserve.fits) == ("35 %", True)
    assert answered(with_(NEARLY_LASTS, session={"reserve": f"{percent + 1} %"})).whole.verdict != "fits"


def test_a_usual_reserve_is_told_with_its_figure() -> None:
    (reserve,) = named(found(with_(SHORT_RUN, session={"on_time": "9 min"})), "reserve")
    assert reserve.what.before == "20 %"


def test_less_reserve_comes_after_a_shorter_flight_that_does_as_much() -> None:
    """One draw, of which no smaller one will do: a shorter flight or less reserve is left."""
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
    assert (
        sentence(cell, UnitSystem.METRIC)
        == "Move the plain cell 78 mm forward, to 72 mm: no lead needed, 0.20 g in hand."
    )
    assert (len(cell.edits), cell.edits[0].keys) == (1, ("cell", "station"))
    measures = [each.what.measure for each in (cell, receiver, logger)]
    assert measures == sorted(measures)


def test_a_move_that_ends_at_the_nose_leaves_some_lead() -> None:
    document = with_(NOSE_LEAD, balance={"nose_at": "100 mm"}, model={"target": "50.4 g"})
    moves = named(found(document), "move")
    assert {each.what.after for each in moves} == {"100 mm", "103 mm"}
    ends = [each for each in moves if each.what.after == "100 mm"]
    assert all(0.0 < each.assessment.lead_kg < answered(document).lead_kg for each in ends)
    assert "of lead instead of" in sentence(ends[0], UnitSystem.METRIC)


def test_without_a_nose_the_part_moved_makes_it_balance() -> None:
    """Lead at a nose that lies behind the wanted point helps nothing, so the balance fails; a move does not need it."""
    balance = {"nose_at": "199 mm", "airframe_at": "194 mm"}
    document = with_(NOSE_LEAD, model={"target": "60 g"}, row2={"station": "650 mm"}, balance=balance)
    assert answered(document).whole.parts["balance"] == "bad"
    first, *others = found(document).changes
    assert (first.what.code, first.what.path, first.what.after, first.fits) == ("move", "gear.2", "240 mm", True)
    assert (
        sentence(first, UnitSystem.METRIC) == "Move the logger 410 mm forward, to 240 mm: it balances, 11.0 g in hand."
    )
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
    assert sentence(listed.changes[0], UnitSystem.METRIC).endswith("(5 mAh, 1 g): it runs.")


def test_a_rod_that_would_not_hold_is_not_mended_by_one_that_nobody_described() -> None:
    rod = {"length": "600 mm", "material": "steel", "diameter": "0.15 mm"}
    document = with_(
        WEAK, model={"target": "49 g"}, surface={"torque": "9 mN m"},
        row2={"kind": "linkage", "name": "thin rod"}, linkage=rod,
    )  # fmt: skip
    assert answered(document).whole.parts["strength"] == "bad"
    assert not named(found(document, {"parts": [{"kind": "linkage", "name": "lines", "mass": "0.3 g"}]}), "swap")


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


def test_another_linkage_leaves_its_strength_open() -> None:
    document = demo_documents()["reed-bunting.json"]
    box = {"parts": [{"kind": "linkage", "name": "lines", "mass": "0.3 g"}]}
    (lines_,) = named(found(document, box), "swap")
    assert (lines_.fits, lines_.opens) == (False, ("strength",))
    assert lines_.assessment.whole.open
    assert applied(document, lines_.edits)["linkage"] == {"length": "360 mm"}
    assert sentence(lines_, UnitSystem.METRIC).endswith("in hand, whether it is strong enough is then open.")


def test_two_actuators_cannot_both_bring_their_strength() -> None:
    """Each swap alone puts its torque into the surface; together the second would go over the first."""
    document = with_(WEAK, model={"target": "30 g"})
    document["gear"].append(dict(document["gear"][1]))
    listed = found(document, STRONG_BOX)
    assert {each.what.path for each in named(listed, "swap")} == {"gear.1", "gear.3"}
    assert not any({part.path for part in each.parts} == {"gear.1", "gear.3"} for each in listed.changes)
