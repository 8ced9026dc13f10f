"""Where a set fits: in the classes and in saved models."""

from typing import Any

import pytest

from calc.assess import assess
from calc.document import classes
from calc.document.budget import read
from calc.search import places
from tests.support import demo_documents

DEMOS = demo_documents()
WREN = DEMOS["sedge-wren.json"]
GEAR_G = 7.855  # of the first example, as its own page says


def test_in_each_class_the_share_rule_goes_by_the_minimum() -> None:
    """20 % of the class minimum, less the gear: the table of the class page, worked by hand for two classes."""
    found = {place.rule.id: place for place in places.in_classes(WREN) if place.rule}
    assert set(found) == {rule.id for rule in classes.table().values() if rule.minimum_kg and rule.id != "own"}
    for rule_id, place in found.items():
        minimum_kg = classes.table()[rule_id].minimum_kg
        assert minimum_kg is not None
        assert place.in_hand_kg == pytest.approx(0.2 * minimum_kg - GEAR_G / 1000)
    ten = {place.rule.id: place for place in places.in_classes({**WREN, "rule": {"share": "10 %"}}) if place.rule}
    assert ten["f1g"].in_hand_kg == pytest.approx(0.1 * 0.070 - GEAR_G / 1000)


def test_in_its_own_model_it_is_its_own_budget_without_lead() -> None:
    (place,) = places.in_models(WREN, [("Sedge Wren", WREN)])
    own = assess(read(WREN).budget)
    assert place.in_hand_kg == pytest.approx(own.limits[0].in_hand_kg)
    assert place.assessment.model.share == own.model.share
    assert place.assessment.lead_kg == 0.0


def test_bare_numbers_keep_their_unit_in_another_model() -> None:
    gear = {"units": "imperial", "gear": [{"mass": "0.1"}, "no row"], "cell": {"mass": 0.05, "station": 3}}
    placed = places.with_set(WREN, gear)
    assert placed["units"] == "metric"
    assert placed["gear"] == [{"mass": "0.1 oz"}, "no row"]
    assert placed["cell"] == {"mass": "0.05 oz"}
    assert placed["model"] == WREN["model"]
    assert "balance" not in placed
    assert places.with_set(WREN, {"gear": 5})["gear"] == []


def test_sorted_by_what_is_left() -> None:
    models: list[tuple[str, dict[str, Any]]] = [(name, document) for name, document in DEMOS.items()]
    models.append(("nothing known", {}))
    found = places.by_what_is_left(places.in_models(WREN, models))
    assert found[-1].name == "nothing known"
    assert found[-1].in_hand_kg is None
    left = [place.in_hand_kg for place in found[:-1] if place.in_hand_kg is not None]
    assert left == sorted(left, reverse=True)
    assert len(left) == len(DEMOS)


def test_every_set_in_one_model_is_the_other_way_round() -> None:
    sets = list(DEMOS.items())
    one_way = {place.name: place.in_hand_kg for place in places.sets_for(WREN, sets)}
    for name, document in sets:
        (other,) = places.in_models(document, [("x", WREN)])
        assert other.in_hand_kg == one_way[name]


def test_all_of_a_row_but_its_station_goes_along() -> None:
    row = {"kind": "servo", "mass": "2 g", "weighed": "1.9 g", "station": "100 mm", "known_by": "maker"}
    placed = places.with_set({}, {"gear": [row], "cell": {"mass": "1 g", "weighed": "1.1 g", "station": "50 mm"}})
    assert placed["gear"] == [{name: text for name, text in row.items() if name != "station"}]
    assert placed["cell"] == {"mass": "1 g", "weighed": "1.1 g"}


def test_a_place_with_nothing_in_hand_stands_between_more_and_less() -> None:
    """10 g of gear at 20 %: in airframes of 44, 40 and 36 g that is 1 g in hand, nothing, and 1 g over."""
    gear = {"gear": [{"mass": "10 g"}], "scale_division": "0 g"}
    models = [(text, {"model": {"airframe": text}}) for text in ("36 g", "44 g", "40 g")]
    assert [place.name for place in places.by_what_is_left(places.in_models(gear, models))] == ["44 g", "40 g", "36 g"]


def test_the_scale_is_that_of_the_gear_s_owner() -> None:
    """A part weighed to 0.01 g, put into a model whose own scale has 1 g: ± 0.01 g / √3, not a hundredfold."""
    gear = {"gear": [{"mass": "2 g"}], "scale_division": "0.01 g"}
    (place,) = places.in_models(gear, [("x", {"model": {"airframe": "40 g"}, "scale_division": "1 g"})])
    assert place.assessment.gear.spread_kg == pytest.approx(0.01e-3 / 3**0.5)
    untold = places.with_set({"scale_division": "1 g"}, {"gear": []})
    assert "scale_division" not in untold  # then the usual 0.1 g, never the other model's
    ounces = places.with_set({}, {"units": "imperial", "scale_division": 0.001})
    assert ounces["scale_division"] == "0.001 oz"


def test_the_actuator_s_strength_goes_along_and_the_other_model_s_stays_behind() -> None:
    """The surface keeps its shape and horn; what moves it, and how strong that is, comes with the gear."""
    model = {
        "surface": {"span": "90 mm", "horn": "6 mm", "actuator": "linear servo", "thrust": "25 gf", "stroke": "3 mm"}
    }
    gear = {"units": "imperial", "surface": {"actuator": "rotary servo", "torque": "0.5", "arm": "0.25", "span": "9"}}
    assert places.with_set(model, gear)["surface"] == {
        "span": "90 mm", "horn": "6 mm", "actuator": "rotary servo", "torque": "0.5 ozf·in", "arm": "0.25 in"
    }  # fmt: skip
    assert places.with_set(model, {})["surface"] == {"span": "90 mm", "horn": "6 mm"}
    assert "surface" not in places.with_set({}, gear)


def test_classes_without_a_minimum_are_named() -> None:
    silent = places.without_minimum()
    shown = {place.name for place in places.in_classes(WREN)}
    assert shown.isdisjoint(silent)
    assert shown | {*silent} == {rule.name for rule in classes.table().values() if rule.id != "own"}
    assert silent
