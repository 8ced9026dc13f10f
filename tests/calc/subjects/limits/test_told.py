"""The limits: what is absent or unsure keeps them open and never makes the answer better."""

import pytest

from calc import headline, text
from calc.unit_system import UnitSystem
from tests.calc.budgets import assessed, reported


def test_under_the_share_rule_an_estimated_airframe_does_not_grow() -> None:
    """0.2 × 34 / 0.8 = 8.50 g by hand, whatever the growth; under the wished mass it counts with its growth: 40.8 g."""
    model = {"airframe": "34 g", "airframe_known_by": "guess", "target": "50 g"}
    found = {limit["id"]: limit for limit in reported(model=model, gear=[{"mass": "9 g"}])["limits"]}
    assert found["share"]["allows_g"] == pytest.approx(8.5)
    assert found["target"]["allows_g"] == pytest.approx(50.0 - 40.8)
    assert found["share"]["verdict"] == "close"
    assert found["share"]["spread_g"] == pytest.approx(2 * (0.25 * 6.8**2 * 0.25 / 3 + 0.05**2 / 3) ** 0.5, abs=1e-6)


def test_half_given_limits_are_open() -> None:
    found = assessed(model={"airframe": "60 g", "max_loading": "9 g/dm2"}, gear=[{"mass": "5 g"}])
    assert found.missing["limits"] == ("model.wing_area",)
    assert headline.headline(found, UnitSystem.METRIC).startswith("So far:")
    assert assessed(gear={"a": 1}, model={"airframe": "60 g"}).uncounted == ("gear",)
    assert assessed(scale_division="fine", model={"airframe": "60 g"}, gear=[{"mass": "5 g"}]).limits == ()


def test_a_limit_that_the_airframe_alone_breaks_allows_nothing() -> None:
    found = assessed(model={"airframe": "55 g", "target": "50 g"}, gear=[{"mass": "2 g"}])
    said = text.plain_text(found.budget, found)
    assert "The target flying weight allows nothing: the airframe alone is 5.00 g over." in said


def test_rubber_that_nobody_gave_counts_as_the_most_that_the_class_allows() -> None:
    """f1b: at most 30 g; 215 + 5 g are 220 g, with them 250 g: by hand. An electric class adds nothing."""
    found = reported(model={"class": "f1b", "airframe": "215 g"}, gear=[{"mass": "5 g"}])
    assert found["model"]["all_up_g"] == pytest.approx(250.0)
    assert {"rubber_unknown", "eu_uk_250"} <= set(found["notices"])
    none = reported(model={"class": "f1b", "airframe": "215 g", "rubber": "0 g"}, gear=[{"mass": "5 g"}])
    assert none["model"]["all_up_g"] == pytest.approx(220.0)


ROD = {"kind": "linkage", "name": "push rod", "mass": "1.5 g", "known_by": "guess", "station": "400 mm"}
LED = {
    "model": {"airframe": "40 g"},
    "balance": {"airframe_at": "150 mm", "target": "150 mm", "nose_at": "10 mm", "tail_at": "500 mm"},
}


def test_lead_is_no_surer_than_the_masses_that_ask_for_it() -> None:
    """By hand: a rod 250 mm behind the wanted point takes 250/140 of its mass in lead, so 1 g of it takes 2.79 g.

    The guess of 1.8 ± 0.3 g moves what is in hand by ± 0.84 g; planned there are 0.50 g in hand.
    """
    rows = [{"kind": "receiver", "mass": "4.49 g", "station": "150 mm"}, ROD]
    found = reported(**LED, gear=rows)
    share = found["limits_with_lead"][0]
    assert share["in_hand_g"] == pytest.approx(10.0 - 4.49 - 1.8 * (1 + 250 / 140), abs=1e-5)
    half = 0.3 * (1 + 250 / 140)
    # The receiver's ± 0.05 g and the airframe's ± 0.05 g (a quarter of it under the rule) hardly count beside it.
    assert found["chance"]["all"] == pytest.approx(0.5 + share["in_hand_g"] / (2 * half), abs=0.02)
    assert share["spread_g"] == pytest.approx(2 * half / 3**0.5, abs=0.01)
    assert found["whole"]["verdict"] == "close"
    heavy = reported(**LED, gear=[rows[0], {**ROD, "weighed": "2.1 g"}])
    assert heavy["verdict"] == "over"


def test_lead_that_is_not_known_is_not_counted_and_told() -> None:
    balance = {"airframe_at": "200 mm", "target": "160 mm"}
    found = assessed(model={"airframe": "236 g"}, gear=[{"mass": "5.2 g", "station": "160 mm"}], balance=balance)
    said = headline.headline(found, UnitSystem.METRIC)
    assert said.startswith("So far: by weight it fits")
    assert "the lead for balance not counted, for it is not known" in said
    assert found.whole.open
    assert ", for it is not known." in said  # no chance of what is not counted
    rubber = {"airframe": "236 g", "rubber": "20 g"}
    wound = assessed(model=rubber, gear=[{"mass": "5.2 g", "station": "160 mm"}], balance=balance)
    assert "All-up weight, so far" in text.plain_text(wound.budget, wound)


def test_no_chance_is_told_while_the_lead_is_not_known() -> None:
    balance = {"airframe_at": "200 mm", "target": "160 mm"}
    found = assessed(model={"airframe": "40 g", "airframe_known_by": "guess"}, gear=[{"mass": "9 g"}], balance=balance)
    assert found.lead_open
    said = headline.headline(found, UnitSystem.METRIC)
    assert "in 10" not in said
    assert "sure" not in said
    heavy = assessed(model={"airframe": "40 g"}, gear=[{"mass": "19 g"}], balance=balance)
    assert "in every case you gave" in headline.headline(heavy, UnitSystem.METRIC)  # lead makes it no lighter


def test_a_class_that_weighs_ready_to_fly_counts_the_rubber_in_its_maximum() -> None:
    """Catapult glider, at most 42.5 g (1.5 oz): 42.52 − 36 − 6 = 0.52 g of gear."""
    found = reported(model={"class": "cat", "airframe": "36 g", "rubber": "6 g"}, gear=[{"mass": "0.4 g"}])
    most = next(limit for limit in found["limits"] if limit["id"] == "class_max")
    assert most["allows_g"] == pytest.approx(42.524 - 42.0, abs=1e-3)


def test_limits_that_wait_for_the_airframe_or_the_rubber_keep_the_answer_open() -> None:
    model = {"target": "610 g", "wing_area": "20 dm2", "max_loading": "29 g/dm2"}
    found = assessed(model=model, gear=[{"mass": "20 g"}])
    assert found.missing["limits"] == ("model.airframe",)
    assert headline.headline(found, UnitSystem.METRIC).startswith("So far:")
    loading = {"class": "p30", "airframe": "34 g", "wing_area": "8 dm2", "max_loading": "6 g/dm2"}
    assert assessed(model=loading, gear=[{"mass": "5 g"}]).missing["limits"] == ("model.rubber",)
    assert assessed(model={"airframe": "40 g"}).whole.open  # no gear yet: nothing is settled


def test_the_word_follows_what_is_so_in_every_case() -> None:
    """One guess of 3.5 g, 4.2 ± 0.7 g: its spread, 0.81 g, reaches beyond its own ends."""
    model, bed = {"airframe": "40 g"}, {"kind": "mount", "mass": "3.5 g", "known_by": "guess"}
    over, fits = (
        assessed(model=model, gear=[{"mass": mass}, bed], scale_division="0.001 g") for mass in ("6.55 g", "5.05 g")
    )
    assert (over.verdict, over.whole.verdict) == ("close", "over")
    assert headline.headline(over, UnitSystem.METRIC).startswith("Over by 0.75 g, in every case you gave.")
    assert (fits.verdict, fits.by_weight) == ("close", "fits")
    assert headline.headline(fits, UnitSystem.METRIC).startswith("Fits, with 0.75 g in hand, in every case you gave.")
