"""What is noticed beside the verdict."""

from typing import Any

import pytest

from calc import wording
from calc.unit_system import UnitSystem
from tests.calc.budgets import SMALL_MODEL, reported, small

ROWS: list[dict[str, Any]] = [
    {"mass": "1 g", "draw": "20 mA", "min_volts": "3.65 V", "count": 2},
    {"mass": "2 g", "draw": "5 mA", "busy_draw": "150 mA", "busy": "30 %"},
]
CELL = {"mass": "2 g", "capacity": "60 mAh", "resistance": "0.8 ohm", "charge_current": "90 mA"}
HINGED = {
    "span": "100 mm", "chord": "80 mm", "flap_chord": "24 mm", "deflection": "20°", "speed": "6 m/s", "horn": "10 mm",
    "arm": "5 mm", "torque": "2 mN m",
}  # fmt: skip


def codes(**document: Any) -> set[str]:
    return {notice.code for notice in small(**document).notices}


@pytest.mark.parametrize(("kind", "what"), [("rod", "push rod"), ("lines", "pair of lines")])
def test_a_linkage_without_a_row_is_called_what_it_is(kind: str, what: str) -> None:
    linkage = {"kind": kind, "length": "300 mm", "diameter": "1 mm", "tex": "22 tex"}
    found = small(surface=HINGED, linkage=linkage).notices
    assert [notice.facts["what"] for notice in found if notice.code == "linkage_no_row"] == [what]


def test_a_sport_model_may_be_steered_in_any_class() -> None:
    model = {**SMALL_MODEL, "class": "p30"}
    assert "radio_sport" in codes(model=model)
    assert "radio_sport" not in codes(model={**model, "use": "sport"})
    assert "radio_sport" not in codes(model={**model, "radio": "dethermaliser"})


@pytest.mark.parametrize(
    ("airframe", "code", "told"),
    [
        ("100 g", "uk_flyer", True), ("99.9 g", "uk_flyer", False), ("250 g", "eu_uk_250", True),
        ("249.9 g", "eu_uk_250", False), ("249.5 g", "us_055", True), ("249.4 g", "us_055", False),
    ],
)  # fmt: skip
def test_the_law_begins_at_its_threshold(airframe: str, code: str, told: bool) -> None:
    """100 g (one secondary source), 250 g, 0.55 lb = 249.48 g (14 CFR 48.15)."""
    assert (code in codes(model={"airframe": airframe})) is told


@pytest.mark.parametrize(("celsius", "told"), [("-0.1 °C", True), ("0 °C", False), ("0.5 °C", False)])
def test_freezing_begins_below_nought(celsius: str, told: bool) -> None:
    assert ("below_freezing" in codes(gear=ROWS, cell=CELL, session={"temperature": celsius})) is told


@pytest.mark.parametrize(("current", "told"), [("61 mA", True), ("60 mA", False), ("30 mA", False)])
def test_more_than_once_the_capacity_is_a_fast_charge(current: str, told: bool) -> None:
    assert ("charge_fast" in codes(gear=ROWS, cell={**CELL, "charge_current": current})) is told


@pytest.mark.parametrize(("volts", "told"), [("5 V", False), ("3.65 V", False), ("3.6 V", True)])
def test_a_converter_that_gives_too_little_is_told(volts: str, told: bool) -> None:
    assert ("supply_low" in codes(gear=ROWS, cell=CELL, supply={"volts": volts})) is told


def test_notices_of_the_law_count_lead_and_ballast() -> None:
    """By hand: 236 + 5.2 g, lead 241.2 × 20 / 145.3 = 33.2 g: 274.4 g, above 250 g."""
    lead = reported(
        model={"airframe": "236 g"}, gear=[{"mass": "5.2 g", "station": "200 mm"}],
        balance={"airframe_at": "200 mm", "target": "180 mm", "nose_at": "34.7 mm"},
    )  # fmt: skip
    assert lead["balance"]["nose_ballast_g"] == pytest.approx(33.2, abs=0.01)
    assert lead["model"]["all_up_g"] == pytest.approx(274.4, abs=0.01)
    assert lead["model"]["flying_g"] == lead["model"]["all_up_g"]
    assert "eu_uk_250" in lead["notices"]
    contest = reported(model={"class": "f1p", "airframe": "200 g"}, gear=[{"mass": "5 g"}])
    assert contest["model"]["ballast_g"] == pytest.approx(45.0)
    assert "eu_uk_250" in contest["notices"]


@pytest.mark.parametrize(
    ("known", "told"),
    [
        ({"resistance": "0 ohm"}, True), ({"resistance": "0.8 ohm"}, True), ({"resistance": "1.2 ohm"}, False),
        ({"meter": "0.0001 ohm"}, True), ({"meter": "0.8 ohm"}, False), ({}, False),
        ({"light_draw": "20 mA", "light_volts": "3.90 V", "heavy_draw": "220 mA", "heavy_volts": "3.87 V"}, True),
    ],
)  # fmt: skip
def test_a_resistance_below_that_of_any_cell_looked_at_is_told(known: dict[str, str], told: bool) -> None:
    """70 mΩ·Ah, the least of PyBaMM's cells under a load (see `sag`), are 1.17 Ω of 60 mAh; 0.8 Ω are 48 mΩ·Ah."""
    cell = {"mass": "2 g", "capacity": "60 mAh", **known}
    assert ("resistance_low" in codes(gear=ROWS, cell=cell)) is told


def test_what_is_told_of_a_low_resistance_has_its_units() -> None:
    cell = {"mass": "2 g", "capacity": "60 mAh", "resistance": "0.8 ohm"}
    (found,) = (each for each in small(gear=ROWS, cell=cell).notices if each.code == "resistance_low")
    said = wording.notice(found, UnitSystem.METRIC)
    assert said.startswith(
        "A resistance of 0.80 Ω is less than any cell of this size that was looked at has under a load"
    )
    assert "(1.2 Ω)" in said
