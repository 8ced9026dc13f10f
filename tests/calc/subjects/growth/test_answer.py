"""Planned and weighed: the weighed mass counts, the planned one is kept, and the difference is told."""

from typing import Any

import pytest

from calc import headline
from calc.assess import Assessment, assess
from calc.data import as_json
from calc.document.box import read_box
from calc.document.budget import from_json, read, to_document
from calc.errors import BudgetError
from calc.search import finder
from calc.subjects.growth import words as growth_words
from calc.subjects.growth.answer import Growth
from calc.text import plain_text
from calc.unit_system import UnitSystem
from tests.support import demo_documents

MODEL = {"class": "own", "airframe": "40 g", "airframe_known_by": "guess"}
RECEIVER = {"kind": "receiver", "name": "receiver", "mass": "1.1 g", "known_by": "maker"}
SERVOS = {"kind": "servo", "count": 2, "mass": "1.7 g", "known_by": "maker"}
WIRING = {"kind": "wiring", "mass": "0.5 g", "known_by": "guess"}
CELL = {"mass": "2 g", "known_by": "maker"}


def assessed(**document: Any) -> Assessment:
    return assess(read({"scale_division": "0", **document}).budget)


def growth_of(**document: Any) -> Growth:
    found = assessed(**document).growth
    assert found is not None
    return found


def test_a_weighed_mass_counts_as_weighed_whatever_was_planned() -> None:
    """By hand: 1.4 + 2 × 1.75 + 0.5 × 1.2 (guess) + 1.9 = 7.4 g; a share of 20 % of 40.5 g allows 10.125 g."""
    gear = [{**RECEIVER, "weighed": "1.4 g"}, {**SERVOS, "weighed": "1.75 g"}, WIRING]
    model = {**MODEL, "airframe_weighed": "40.5 g"}
    found = assessed(model=model, gear=gear, cell={**CELL, "weighed": "1.9 g"})
    assert found.gear.expected_kg == pytest.approx(7.4e-3)
    assert found.model.flying_kg == pytest.approx(47.9e-3)
    assert found.limits[0].allows_kg == pytest.approx(10.125e-3)
    assert [row.known_by for row in found.rows] == ["weighed", "weighed", "guess", "weighed"]
    assert found.gear.uncertainty_kg == pytest.approx(0.1e-3 / 3**0.5)  # of the guess alone: 20 % of 0.5 g, a/√3


def test_planned_and_weighed_side_by_side() -> None:
    """By hand: airframe 40 → 40.5, receiver 1.1 → 1.4, two servos 3.4 → 3.5, cell 2 → 1.9: 46.5 → 47.3 g."""
    gear = [{**RECEIVER, "weighed": "1.4 g"}, {**SERVOS, "weighed": "1.75 g"}, WIRING]
    found = growth_of(
        model={**MODEL, "airframe_weighed": "40.5 g"}, gear=gear, cell={**CELL, "weighed": "1.9 g", "name": " "}
    )
    assert [(row.path, row.name) for row in found.rows] == [
        ("model.airframe", "airframe"), ("gear.0", "receiver"), ("gear.1", "servo"), ("cell", "cell")
    ]  # fmt: skip
    changes = [row.change_kg for row in found.rows]
    assert changes == pytest.approx([0.5e-3, 0.3e-3, 0.1e-3, -0.1e-3])
    assert [found.planned_kg, found.now_kg] == pytest.approx([46.5e-3, 47.3e-3])
    assert [guess.path for guess in found.guesses] == ["gear.2"]
    assert found.guesses[0].mass.expected_kg == pytest.approx(0.6e-3)
    assert growth_words.growth_sentence(found, UnitSystem.METRIC) == (
        "The weighed parts came out 0.80 g over the plan; the airframe grew most, by 0.50 g. "
        "Still a guess: wiring, 0.60 g."
    )


@pytest.mark.parametrize(
    ("gear", "words"),
    [
        ([{**RECEIVER, "weighed": "1.0 g"}], "The receiver came out 0.10 g under the plan."),
        ([{**RECEIVER, "weighed": "1.1 g"}], "The receiver came out as planned."),
        (
            [{**RECEIVER, "weighed": "1.2 g"}, {**SERVOS, "weighed": "1.65 g"}],
            "The weighed parts came out as planned together.",
        ),
        (
            [{**RECEIVER, "weighed": "1.2 g"}, {**SERVOS, "weighed": "1.5 g"}],
            "The weighed parts came out 0.30 g under the plan; the servo shrank most, by 0.40 g.",
        ),
        (
            [WIRING, {**WIRING, "kind": "mount"}, {**WIRING, "kind": "switch"}, WIRING, WIRING],
            "Still a guess: wiring, 0.60 g; mount, 0.60 g; switch, 0.60 g; and 2 more.",
        ),
    ],
)
def test_sentence(gear: list[dict[str, Any]], words: str) -> None:
    assert growth_words.growth_sentence(growth_of(model={"airframe": "40 g"}, gear=gear), UnitSystem.METRIC) == words


def test_nothing_to_tell() -> None:
    """Neither a plan with a weighed mass beside it, nor a guess: a row that was only weighed has not grown."""
    only_weighed = {"kind": "servo", "weighed": "1.8 g"}
    found = assessed(model={"airframe_weighed": "40 g"}, gear=[RECEIVER, only_weighed], cell={"weighed": "2 g"})
    assert found.growth is None
    assert found.uncounted == ()
    assert found.gear.expected_kg == pytest.approx((1.1 * 1.05 + 1.8 + 2.0) * 1e-3)
    assert found.model.airframe_kg == pytest.approx(0.040)
    assert assessed(gear=[{**WIRING, "off": True}]).growth is None


def test_an_airframe_may_be_a_guess_too() -> None:
    found = growth_of(model=MODEL, gear=[])
    assert [(guess.path, guess.name) for guess in found.guesses] == [("model.airframe", "airframe")]


def test_a_weighed_mass_that_makes_no_sense_is_not_passed_over() -> None:
    """The row is not counted, the airframe not known: the planned mass must not stand in unnoticed."""
    found = assessed(
        model={**MODEL, "airframe_weighed": "x"}, gear=[{**RECEIVER, "weighed": "x"}], cell={"weighed": "1 m"}
    )
    assert found.uncounted == ("gear.0", "cell")
    assert found.missing["model"] == ("model.airframe_weighed",)
    assert "model.airframe_weighed" in found.missing["air"]
    assert "airframe, weighed" in headline.headline(found, UnitSystem.METRIC)


def test_known_by_does_not_matter_once_weighed() -> None:
    model = {"airframe": "x", "airframe_known_by": "y", "airframe_weighed": "40 g", "wing_area": "9 dm²"}
    found = assessed(model=model, gear=[{**RECEIVER, "known_by": "z", "weighed": "1 g"}])
    assert found.uncounted == ()
    assert found.model.flying_kg == pytest.approx(0.041)
    assert found.air is not None


def test_strict_reading_takes_a_weighed_mass_for_the_mass() -> None:
    text = '{"gear": [{"weighed": "1.2 g"}], "cell": {"weighed": "2 g"}, "model": {"airframe_weighed": "30 g"}}'
    assert to_document(from_json(text))["gear"] == [{"weighed": "1.2 g"}]
    with pytest.raises(BudgetError) as caught:
        from_json('{"gear": [{"weighed": "1.2 m"}, {}]}')
    assert [problem.field for problem in caught.value.problems] == ["gear.0.weighed", "gear.1.mass"]


def test_the_keys_other_programs_rely_on_and_the_sheet() -> None:
    document = {"model": MODEL, "gear": [{**RECEIVER, "weighed": "1.4 g"}, WIRING]}
    budget = read(document).budget
    report = as_json(assess(budget))["growth"]
    assert report["rows"] == [
        {"row": "gear.0", "name": "receiver", "planned_g": 1.1, "weighed_g": 1.4, "change_g": 0.3}
    ]
    assert (report["planned_g"], report["now_g"], report["change_g"]) == (1.1, 1.4, 0.3)
    assert [(guess["row"], guess["expected_g"]) for guess in report["guesses"]] == [
        ("model.airframe", 48.0), ("gear.1", 0.6)
    ]  # fmt: skip
    assert report["guesses"][1]["spread_g"] == pytest.approx(2 * 0.1 / 3**0.5, abs=1e-6)
    assert "The receiver came out 0.30 g over the plan. Still a guess:" in plain_text(budget, assess(budget))


@pytest.mark.parametrize("name", demo_documents())
def test_weighing_a_part_at_its_weighed_mass_changes_no_figure(name: str) -> None:
    """What was known by weighing, written as weighed beside itself: the same budget."""
    document = demo_documents()[name]
    before = assess(read(document).budget)
    for row in [*document["gear"], document["cell"]]:
        if row.get("known_by", "weighed") == "weighed":
            row["weighed"] = row["mass"]
    after = assess(read(document).budget)
    assert (after.gear, after.limits, after.balance, after.air) == (
        before.gear, before.limits, before.balance, before.air
    )  # fmt: skip


def test_a_change_has_its_sign() -> None:
    assert [UnitSystem.METRIC.mass_change(kg) for kg in (2e-3, -2e-3, 0.0)] == ["+2.00 g", "−2.00 g", "0.00 g"]


def test_the_finder_takes_what_stays_in_the_model_as_weighed() -> None:
    """By hand: servo 2 × 1.75 + cell 1.9 + receiver of the box 1.0 = 6.4 g; what is not to be read is waited for."""
    servos = {**SERVOS, "weighed": "1.75 g", "draw": "10 mA"}
    document: dict[str, Any] = {
        "gear": [{**RECEIVER, "weighed": "1.4 g"}, servos], "cell": {**CELL, "weighed": "1.9 g", "capacity": "40 mAh"},
    }  # fmt: skip
    box = read_box({"parts": [{"kind": "receiver", "mass": "1 g", "draw": "20 mA"}]})
    found = finder.answer(document, box)
    assert found.sets[0].mass_kg == pytest.approx(6.4e-3)
    assert found.sets[0].assessment.gear.expected_kg == pytest.approx(6.4e-3)
    waiting = finder.answer({**document, "gear": [document["gear"][0], {**servos, "weighed": "x"}]}, box)
    assert waiting.task.waits == ("gear.1.mass",)
    without_a_cell = finder.answer({"gear": document["gear"]}, box)
    assert without_a_cell.task.waits == ("no_cell",)
