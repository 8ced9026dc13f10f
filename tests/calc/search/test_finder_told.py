"""The finder: what is absent or unsure is told, and never makes a set better."""

import json
from typing import Any

import pytest

from calc.document.box import read_box
from calc.search import data as finder_data
from calc.search import finder
from calc.search import words as finder_words
from calc.unit_system import UnitSystem
from tests.calc.search.parts import BOX, CELL, COIL, MODEL, NO_MORE, RECEIVER, ROD, SERVO, names, searched
from tests.support import SITE_SRC, demo_documents

WREN = demo_documents()["sedge-wren.json"]


@pytest.mark.parametrize("kind", ["receiver", "servo", "coil actuator", "altimeter", "tracker"])
def test_a_part_that_does_not_say_what_it_draws_is_left_out_by_name(kind: str) -> None:
    silent = {"kind": kind, "name": " ", "mass": "0.1 g", "torque": "5 mN m"}
    found = searched({"model": MODEL}, [silent, *BOX])
    assert found.task.left_out == ((kind, "no_draw_given"),)
    assert finder_words.left_out(found.task) == (f"{kind}: it does not say what it draws",)
    assert found.sets


@pytest.mark.parametrize(
    ("row", "waits"),
    [
        ({"kind": "altimeter", "mass": "1 g"}, "gear.0.draw"),
        ({"kind": "altimeter", "mass": "1 g", "draw": "x"}, "gear.0.draw"),
        ({"kind": "altimeter", "mass": "1 g", "draw": "1 mA", "busy_draw": "9 mA"}, "gear.0.busy"),
        ({"kind": "altimeter", "mass": "1 g", "draw": "1 mA", "busy_draw": "9 mA", "busy": "x"}, "gear.0.busy"),
        ({"kind": "altimeter", "mass": "1 g", "draw": "1 mA", "min_volts": "x"}, "gear.0.min_volts"),
        ({"kind": "mount", "mass": "1 g", "known_by": "x"}, "gear.0.known_by"),
        ({"kind": "mount", "mass": "1 g", "count": "x"}, "gear.0.count"),
        ({"kind": "servo", "mass": "1 g", "off": "x"}, "gear.0.off"),
        ({"kind": "anvil", "mass": "1 g", "draw": "1 mA"}, "gear.0.kind"),
        ({"kind": "mount", "mass": "1 g", "weighed": "x"}, "gear.0.mass"),
    ],
)
def test_a_row_that_stays_must_say_all_that_the_run_time_rests_on(row: dict[str, Any], waits: str) -> None:
    assert waits in searched({"model": MODEL, "gear": [row]}, BOX).task.waits


def test_a_row_that_is_replaced_need_not_say_what_it_draws() -> None:
    assert searched({"model": MODEL, "gear": [{"kind": "servo", "mass": "1 g", "draw": "x"}]}, BOX).task.waits == ()


@pytest.mark.parametrize(
    ("blocks", "waits"),
    [
        ({"gear": 5}, "gear"),
        ({"session": {"between": "on"}}, "session.pause"),
        ({"supply": {"min_input": "3 V"}}, "supply.volts"),
        ({"wiring": {"length": "1 m"}}, "wiring.gauge"),
    ],
)
def test_half_given_blocks_are_waited_for(blocks: dict[str, Any], waits: str) -> None:
    assert waits in searched({"model": MODEL, **blocks}, BOX).task.waits


def test_a_cell_of_the_budget_must_be_readable() -> None:
    cell = {"mass": "1 g", "capacity": "30 mAh", "capacity_left": "x"}
    assert searched({"model": MODEL, "cell": cell}, BOX[:-1]).task.waits == ("cell.capacity_left",)
    assert searched({"model": MODEL, "cell": cell}, BOX).task.waits == ()


def test_the_budget_s_own_actuator_is_held_against_the_surface() -> None:
    """25 gf rated are enough for the first example, 1 gf is not; without a rating it is told that nobody compared."""
    box = [RECEIVER, CELL]
    strong = searched(WREN, box, charges=8)
    assert strong.sets
    weak = searched({**WREN, "surface": {**WREN["surface"], "thrust": "1 gf"}}, box, charges=8)
    assert weak.sets == ()
    assert weak.counts.reasons["weak"] == weak.counts.total
    unrated = {key: item for key, item in WREN["surface"].items() if key != "thrust"}
    untold = searched({**WREN, "surface": unrated}, box, charges=8)
    assert untold.task.strength_untold == ("surface.thrust",)
    assert "surface, rated thrust is not known" in finder_words.need_sentence(untold.task)
    assert finder_data.as_json(untold)["strength_not_compared"] == ["surface.thrust"]
    turned = {**unrated, "actuator": "coil actuator", "torque": "1 mN m"}  # of a coil, but the row is a servo
    assert searched({**WREN, "surface": turned}, box, charges=8).task.strength_untold == ("surface.torque",)
    rotary = {**unrated, "actuator": "rotary servo", "torque": "5 mN m"}
    assert searched({**WREN, "surface": rotary}, box, charges=8).task.strength_untold == ("surface.horn",)


def test_a_coil_must_hold_the_hinge_moment() -> None:
    weak = {**COIL, "name": "weak coil", "mass": "0.2 g", "torque": "0.001 mN m"}
    found = searched(WREN, [*BOX, weak], charges=8)
    assert found.sets
    assert not any("weak coil" in names(each) for each in found.sets)
    assert found.counts.reasons["weak"] == 1


def test_a_surface_that_asks_nothing_yet_says_what_it_waits_for() -> None:
    found = searched({**WREN, "surface": {"span": "90 mm"}}, BOX, charges=8)
    assert not found.task.strength_asked
    assert "Missing: surface, whole chord; surface, deflection wanted" in finder_words.need_sentence(found.task)


def test_steering_needs_an_actuator_though_there_is_a_timer() -> None:
    timer = {"kind": "timer", "mass": "0.5 g"}
    steered = searched({"model": MODEL, "gear": [timer]}, BOX)
    assert all({"servo", "coil"} & set(names(each)) for each in steered.sets)
    tripped = searched({"model": {**MODEL, "radio": "dethermaliser"}, "gear": [timer]}, BOX)
    assert not any({"servo", "coil"} & set(names(each)) for each in tripped.sets)
    by_timer = searched({"model": {**MODEL, "radio": "dethermaliser"}}, [RECEIVER, CELL, {**timer, "name": "dt"}])
    assert names(by_timer.sets[0]) == ["rx", "dt", "cell"]
    nobody = searched({"model": MODEL}, [RECEIVER, CELL])
    assert nobody.task.not_counted == ("actuator",)
    assert "No servo, coil actuator or timer is counted" in finder_words.plain_text(nobody, UnitSystem.METRIC)
    left_out = searched({"model": MODEL}, [RECEIVER, CELL, {**SERVO, "draw": ""}])
    assert left_out.task.waits == ("all_left_out",)
    assert searched({"model": MODEL}, [SERVO, ROD, CELL]).task.not_counted == ("receiver",)


def test_a_servo_brings_its_linkage_though_the_budget_has_no_row_for_it() -> None:
    """By hand: 1 + 2 + 0.5 + 1 g with the servo and its rod, 1 + 1 + 1 g with the coil at the hinge."""
    box = [RECEIVER, SERVO, ROD, CELL]
    (only,) = searched({"model": MODEL}, box).sets
    assert names(only) == ["rx", "servo", "rod", "cell"]
    assert only.mass_kg == pytest.approx(0.0045)
    (coil,) = searched({"model": MODEL}, BOX).sets
    assert coil.mass_kg == pytest.approx(0.003)
    bare = searched({"model": MODEL}, [RECEIVER, SERVO, CELL])
    assert bare.task.not_counted == ("linkage",)
    assert "Servos are counted without a linkage" in finder_words.plain_text(bare, UnitSystem.METRIC)
    assert finder_data.as_json(bare)["not_counted"] == ["linkage"]
    twins = searched({"model": MODEL, "gear": [{"kind": "servo", "count": 2, "mass": "1 g"}]}, box).sets[0]
    assert names(twins) == ["2 × servo", "rx", "2 × rod", "cell"]
    assert twins.mass_kg == pytest.approx(0.001 + 2 * 0.0025 + 0.001)
    assert twins.document["gear"][2]["count"] == 2


def test_where_no_set_fits_the_headline_says_so() -> None:
    """Share rule: 20 % of 10 g airframe allows 2.5 g; the lightest set is 3.0 g, 0.5 g over."""
    over = searched({"model": {"airframe": "10 g"}, "scale_division": "0.01 g"}, BOX)
    said = "The sets run, but none fits: the lightest weighs 3.00 g, is 0.50 g over and runs at worst 55 min"
    assert finder_words.headline(over, UnitSystem.METRIC).startswith(said)
    assert finder_data.as_json(over)["fits"] == 0
    assert finder_data.as_json(searched({"model": MODEL}, BOX))["fits"] == 1
    assert finder_words.works(searched({"model": MODEL}, BOX)) == "2 of 2 sets work"
    assert finder_words.works(searched({"model": MODEL}, BOX, actuator="coil")) == "the only set works"


def test_a_set_that_is_over_with_its_lead_and_one_that_is_not() -> None:
    """The coil, 200 mm aft of the wanted point, is balanced by 1 g of cell as far ahead of it; half a gram is not.

    By hand: 0.1 g·m over a lever of 90 mm asks for 1.11 g of lead; 8 % of the flying weight allow 3.48 g.
    """
    stations = {"airframe_at": "100 mm", "target": "100 mm", "nose_at": "10 mm", "tail_at": "500 mm"}
    rows = [{**RECEIVER, "station": "100 mm"}, {**COIL, "station": "300 mm"}]
    document = {
        "model": {"airframe": "40 g"}, "gear": rows, "balance": stations, "cell": {"station": "-100 mm"},
        "rule": {"share": "8 %"}, "scale_division": "0.01 g",
    }  # fmt: skip
    heavy = {**CELL, "name": "heavy", "capacity": "60 mAh"}
    found = searched(document, [{**CELL, "mass": "0.5 g"}, heavy])
    assert [each.by_weight for each in found.sets] == ["over", "fits"]
    assert finder_words.headline(found, UnitSystem.METRIC).startswith(
        "The lightest set that runs weighs 2.50 g, but is 0.13 g over with its lead; it runs at worst 55 min; the "
        "lightest that is not over weighs 3.00 g"
    )


def test_one_part_of_the_box_in_two_places_is_asked_after() -> None:
    rows = [{"kind": "servo", "mass": "2 g"}, {"kind": "servo", "mass": "2 g"}, ROD]
    (only,) = searched({"model": MODEL, "gear": rows}, [RECEIVER, SERVO, CELL]).sets
    assert only.twice == ("servo",)
    assert "“servo” of the box stands in more than one place: have you got as many?" in finder_words.why(
        only, UnitSystem.METRIC
    )
    assert "have you got as many?" in finder_words.plain_text(
        searched({"model": MODEL, "gear": rows}, [RECEIVER, SERVO, CELL]), UnitSystem.METRIC
    )


def test_the_present_set_is_no_point_where_its_draw_is_not_told() -> None:
    row = {"kind": "servo", "name": "mine", "mass": "1 g"}
    found = searched({"model": MODEL, "gear": [row, RECEIVER], "cell": {"mass": "1 g", "capacity": "30 mAh"}}, BOX)
    assert found.sets
    assert found.present is None
    assert finder_data.as_json(found)["present"] is None


def test_a_set_that_fails_beside_the_grams_says_so() -> None:
    """Tail-heavy with no place for lead: the budget page fails it, so the finder must not say that it fits."""
    document = demo_documents()["sedge-wren.json"]
    balance = {key: item for key, item in document["balance"].items() if key != "nose_at"}
    document = {**document, "balance": {**balance, "target": "150 mm"}}
    box = read_box(json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8")))
    found = finder.answer(document, box)
    failing = [each for each in found.sets if each.fails]
    assert failing
    assert all(each.verdict in ("fails", "over") for each in failing)
    assert found.fitting == sum(each.verdict == "fits" for each in found.sets)
    assert "fails in balance" in finder_words.plain_text(found, UnitSystem.METRIC)
    assert finder_data.as_json(found)["best"][0]["fails"] == list(found.sets[0].fails)


def test_what_a_run_stands_on_is_told_beside_the_set() -> None:
    """A servo with its quiet draw alone, parts without a lowest voltage, a cell without a resistance."""
    bare = {key: item for key, item in CELL.items() if key != "resistance"}
    quiet = {key: item for key, item in SERVO.items() if key not in NO_MORE}
    (found,) = searched({"model": MODEL}, [RECEIVER, quiet, ROD, bare]).sets
    assert finder_words.runs(found).startswith("at most ")
    assert "run_min" not in finder_data.as_json(searched({"model": MODEL}, [RECEIVER, quiet, ROD, bare]))["best"][0]
    said = " ".join(finder_words.asides(found))
    assert "at work “servo” draws more than the quiet draw given" in said
    assert "brown-out not looked at for “rx” and “servo”" in said
    assert "the cell’s resistance is assumed" in said
    (metered,) = searched({"model": MODEL}, [RECEIVER, SERVO, ROD, {**bare, "meter": "1 ohm"}]).sets
    assert "the cell’s resistance is known at 1 kHz alone" in finder_words.asides(metered)
    (low,) = searched({"model": MODEL}, [RECEIVER, SERVO, ROD, CELL]).sets  # 0.5 Ω of 30 mAh: 15 mΩ·Ah
    assert "it will run shorter: the cell’s resistance" in " ".join(finder_words.asides(low))
    told = {**SERVO, "busy_draw": "90 mA", "busy": "8 %", "min_volts": "3 V"}
    (full,) = searched(
        {"model": MODEL}, [{**RECEIVER, "min_volts": "3 V"}, told, ROD, {**bare, "resistance": "2.5 ohm"}]
    ).sets
    assert finder_words.asides(full) == ()
