"""What would make a budget fit: budgets of our own, each over for one reason; each change assessed anew."""

import json
from typing import Any

import pytest

from calc.changes.edits import applied
from calc.changes.find import find
from calc.changes.trials import Trials
from calc.changes.words import headline, lines, sentence
from calc.document.box import read_box, take
from calc.unit_system import UnitSystem
from tests.calc.changes.budgets import (
    BOX,
    NOSE_LEAD,
    OVER,
    SHORT_RUN,
    SOUND,
    WEAK,
    answered,
    found,
    named,
    with_,
)
from tests.support import SITE_SRC, demo_documents


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
    assert sentence(first, UnitSystem.METRIC) == (
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
    assert (
        sentence(airframe, UnitSystem.METRIC) == "Save 0.70 g in the airframe (39.3 g instead of 40 g): 0.20 g in hand."
    )
    assert (logger.what.code, logger.what.path) == ("leave_out", "gear.2")
    assert not applied(OVER, logger.edits)["gear"][2].keys() ^ {*OVER["gear"][2], "off"}


def test_a_change_that_cannot_be_read_is_none() -> None:
    trials = Trials(SOUND)
    assert trials.answer({**SOUND, "model": {"airframe": "4 gg"}}) is None
    assert (trials.count, trials.cut) == (2, False)


def test_a_part_of_the_same_name_is_told_by_its_mass() -> None:
    box = {"parts": [{**BOX["parts"][0], "name": "cased receiver"}]}
    assert sentence(found(OVER, box).changes[0], UnitSystem.METRIC) == (
        "Use the cased receiver of 1.2 g from your box instead of the one of 2.0 g: 0.30 g in hand."
    )


def test_several_equal_parts_are_swapped_and_left_out_together() -> None:
    document = with_(OVER, row0={"count": 2, "mass": "1.0 g"}, row2={"count": "2", "mass": "0.75"})
    swap, *_, logger = found(document, {"parts": [{**BOX["parts"][0], "mass": "0.6 g"}]}).changes
    assert sentence(swap, UnitSystem.METRIC) == (
        "Use 2 × bare receiver (0.6 g) from your box instead of the cased receiver (1.0 g): 0.30 g in hand."
    )
    assert sentence(logger, UnitSystem.METRIC).startswith("Leave the logger out (2 × 0.75 g), if you can do without: ")


def test_ounces_stay_ounces() -> None:
    """0.07 oz is 1.98 g; a bare 0.07 of an imperial budget is told with its unit, a part of the box in its own."""
    document = {**with_(OVER, row0={"mass": 0.07}), "units": "imperial"}
    first = found(document, {"parts": [{**BOX["parts"][0], "mass": "1.2"}]}).changes[0]
    assert (first.what.before, first.what.after) == ("0.07 oz", "1.2 g")
    assert sentence(first, UnitSystem.IMPERIAL).endswith(": 0.011 oz in hand.")  # 0.3 g


def test_over_and_too_short_takes_two_changes() -> None:
    document = with_(SHORT_RUN, model={"target": "48.5 g"})
    listed = found(document)
    first = listed.changes[0]
    assert (first.what.code, first.fits) == ("pair", True)
    assert {part.code for part in first.parts} == {"flight_time", "leave_out"}
    assert not any(each.fits for each in listed.changes[1:])
    assert headline(listed) == "Two changes together make it fit:"
    assert ", and " in sentence(first, UnitSystem.METRIC)


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
    assert (
        sentence(weigh, UnitSystem.METRIC)
        == "Weigh the small servo: that settles it; if it is 3.2 g as planned, 0.20 g in hand."
    )
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


@pytest.mark.parametrize(
    ("known", "offered"),
    [
        ({"resistance": "1.1 ohm"}, True),
        ({"resistance": "0.4 ohm"}, False),
        ({"meter": "0.4 ohm"}, False),
    ],
)
def test_a_cell_whose_resistance_is_known_less_well_is_no_change_to_offer(
    known: dict[str, str], offered: bool
) -> None:  # fmt: skip
    """With 70 mAh 0.4 Ω is what a meter at 1 kHz shows (28 mΩ·Ah); under a load no cell looked at has less than 1 Ω."""
    box = {"parts": [{"kind": "cell", "name": "light cell", "mass": "1.5 g", "capacity": "70 mAh", **known}]}
    assert bool(named(found(with_(OVER, cell={"resistance": "1.2 ohm"}), box), "swap", "cell")) is offered


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
            [sentence(each, UnitSystem.METRIC) for each in find(document, read_box(box)).changes]
            for box in (BOX, turned)
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
