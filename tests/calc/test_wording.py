"""Sentences: what a person reads."""

from typing import Any

import pytest

from calc import headline, wording
from calc.assess import assess
from calc.document.budget import read
from calc.subjects.limits import words as limit_words
from calc.subjects.power import words as power_words
from calc.unit_system import UnitSystem
from tests.calc.budgets import assessed

MODEL = {"class": "own", "airframe": "40 g"}
GRAMS_ALONE = " Not asked yet: run time, balance and strength."


@pytest.mark.parametrize(
    ("document", "words"),
    [
        (
            {"model": MODEL, "gear": [{"mass": "4 g"}]},
            "Fits, with 6.00 g in hand, in every case you gave. The share rule decides.",
        ),
        (
            {"model": MODEL, "gear": [{"mass": "14 g"}]},
            "Over by 4.00 g, in every case you gave. The share rule decides.",
        ),
        (
            {"model": {**MODEL, "target": "49 g"}, "gear": [{"mass": "8 g", "known_by": "guess"}]},
            "Close: 0.6 g over; about 3 in 10 that it fits. Weigh the other first. "
            "The target flying weight comes first.",
        ),
        (
            {"model": MODEL, "gear": [{"mass": "8 g", "known_by": "guess"}]},
            "Close: 0.4 g in hand; about 6 in 10 that it fits. Weigh the other: that settles it. "
            "The share rule decides.",
        ),
        ({"gear": [{"mass": "4 g"}]}, "No limit can be worked out yet: that needs the airframe without gear."),
        (
            {"model": MODEL, "gear": [{"mass": "4 g"}, {}]},
            "So far: fits, with 6.00 g in hand, in every case you gave. The share rule decides.",
        ),
        (
            {"model": MODEL, "gear": [{"mass": "14 g"}, {}]},
            "Over by 4.00 g, in every case you gave. The share rule decides.",
        ),
        (
            {"units": "imperial", "model": MODEL, "gear": [{"mass": "4 g"}]},
            "Fits, with 0.212 oz in hand, in every case you gave. The share rule decides.",
        ),
        (
            {"model": {"airframe": "24 g", "airframe_known_by": "guess", "target": "36 g"}, "gear": [{"mass": "4 g"}]},
            "Close: 2.0 g in hand, but 3.2 g at the target flying weight is known only to ± 5.5 g; "
            "about 8 in 10 that it fits. Weigh the airframe: that settles it. The share rule comes first.",
        ),
        (
            {"model": {"target": "50 g"}, "rule": {"share": "20 %"}, "gear": [{"mass": "5.2 g"}]},
            "Fits, with 4.80 g in hand, if the model comes out at 50 g, in every case you gave. "
            "The share rule decides.",
        ),
        (
            {"model": {"airframe": "40 g", "target": "50 g"}, "gear": [{"mass": "9 g"}]},
            "Fits, with 1.00 g in hand, in every case you gave. "
            "The share rule and the target flying weight leave the same.",
        ),
        (
            {"model": MODEL, "gear": [{"mass": "9.96 g"}, {"mass": "0 g"}], "scale_division": "0.1 g"},
            "Close: 0.04 g in hand; about 8 in 10 that it fits. All is weighed: only a finer scale would tell. "
            "The share rule decides.",
        ),
    ],
)
def test_headline(document: dict[str, Any], words: str) -> None:
    found = assessed(**document)
    assert headline.headline(found, UnitSystem(document.get("units", "metric"))) == words + GRAMS_ALONE


@pytest.mark.parametrize(
    ("gear", "target", "words"),
    [
        ([{"mass": "4 g"}], "", "Fits, 6.00 g in hand"),
        ([{"mass": "14 g"}], "", "Over by 4.00 g"),
        ([{"mass": "8 g", "known_by": "guess"}], "", "Close, 0.4 g in hand"),
        ([{"mass": "8 g", "known_by": "guess"}], "49 g", "Close, 0.6 g over"),
        ([{"mass": "4 g"}, {}], "", "So far fits, 6.00 g in hand; 1 mass missing"),
        ([{"mass": "14 g"}, {}], "", "Over by 4.00 g"),
    ],
)
def test_short_headline(gear: list[dict[str, str]], target: str, words: str) -> None:
    found = assessed(model={**MODEL, "target": target}, gear=gear)
    assert headline.short_headline(found, UnitSystem.METRIC) == words
    assert headline.short_headline(assessed(), UnitSystem.METRIC) == "No limit yet"


@pytest.mark.parametrize(
    ("airframe", "words"),
    [
        ("30 g", "Flying weight is 8.00 g below the class minimum of 40 g"),
        ("39 g", "In a contest 1.00 g of the gear costs nothing"),
        ("41 g", "The airframe alone reaches the class minimum of 40 g"),
    ],
)
def test_class_sentence(airframe: str, words: str) -> None:
    found = assessed(model={"class": "p30", "airframe": airframe}, gear=[{"mass": "2 g"}])
    assert words in limit_words.class_sentence(found, UnitSystem.METRIC)


def test_class_sentence_is_empty_without_a_minimum() -> None:
    assert limit_words.class_sentence(assessed(model=MODEL), UnitSystem.METRIC) == ""
    assert limit_words.class_sentence(assessed(model={"class": "cat"}), UnitSystem.METRIC) == ""


CELL = {"mass": "1 g", "capacity": "30 mAh", "resistance": "0.5 ohm"}
ROW = {"mass": "1 g", "draw": "60 mA", "min_volts": "3 V"}


@pytest.mark.parametrize(
    ("session", "draw", "words"),
    [
        ({}, "60 mA", "The cell runs 5 h 20 min, until the reserve is reached."),
        ({"on_time": "80 min"}, "60 mA", "That is 4 flights of 1 h 20 min from one cell."),
        ({"on_time": "170 min"}, "60 mA", "That is 1 flight of 2 h 50 min from one cell."),
        ({"on_time": "10 h"}, "60 mA", "That is not one flight of 10 h 0 min."),
        ({"on_time": "80 min", "flights": 3}, "60 mA", "3 flights take 1 charged cell."),
        ({"on_time": "80 min", "flights": 9}, "60 mA", "9 flights take 3 charged cells."),
        # 2C at 20 °C gives 0.778 to 0.930 of it (`cold_and_rate.toml`): 18.7, 20.5, 22.3 min of every 30 mAh.
        ({}, "800 mA", "The cell runs 20 min, at worst 18 min, at best 22 min, until the reserve is reached."),
        ({"on_time": "7 min", "flights": 4}, "800 mA", "2 flights of 7 min from one cell; 4 flights take 2"),
        ({"on_time": "10 min"}, "800 mA", "That is 2 flights, at worst 1 flight, of 10 min from one cell."),
        ({"on_time": "10 min", "flights": 4}, "800 mA", "4 flights take at worst 4 charged cells"),
        ({"on_time": "20 min"}, "800 mA", "That is 1 flight, at worst not one, of 20 min from one cell."),
        ({}, "2.4 A", "how much less, nobody knows: the draw would empty the cell 6.0 times an hour"),
        ({}, "19 A", "This cell cannot run the gear: when full already"),
    ],
)
def test_power_sentence(session: dict[str, Any], draw: str, words: str) -> None:
    """60 mA from four fifths of 400 mAh at 20 °C: 320 min, worked by hand."""
    cell = {**CELL, "capacity": "400 mAh", "resistance": "0.06 ohm"}
    found = assessed(gear=[{**ROW, "draw": draw}], cell=cell, session=session)
    assert found.power is not None
    assert words in power_words.power_sentence(found.power, {})


def test_every_notice_can_be_worded_in_both_systems() -> None:
    cold = assessed(
        model={"class": "p30", "airframe": "260 g", "rubber": "12 g"}, gear=[ROW],
        cell={"mass": "1 g", "capacity": "30 mAh"}, session={"temperature": "-5 °C"},
    )  # fmt: skip
    indoor = assessed(model={"class": "f1d", "airframe": "4 g"})
    low = assessed(gear=[ROW], cell={**CELL, "charge_current": "90 mA"}, supply={"volts": "2 V"})
    silent = assessed(model={"class": "p30", "airframe": "40 g"}, gear=[{"kind": "servo", "draw": "9 mA"}], cell=CELL)
    loose = assessed(
        gear=[ROW], surface={"span": "60 mm", "chord": "40 mm", "flap_chord": "15 mm", "deflection": "20°",
                             "speed": "4 m/s", "horn": "8 mm"},
        linkage={"length": "300 mm", "diameter": "0.8 mm"}, wiring={"gauge": 32, "length": "100 mm"},
    )  # fmt: skip
    heavy = assessed(model={"class": "p30", "airframe": "30 g", "target": "38 g"}, gear=[ROW])
    metered = assessed(gear=[ROW], cell={"mass": "1 g", "capacity": "30 mAh", "meter": "1 ohm"})
    found = [
        *metered.notices,
        *heavy.notices,
        *cold.notices,
        *indoor.notices,
        *low.notices,
        *loose.notices,
        *silent.notices,
    ]
    assert {notice.code for notice in found} == set(wording.NOTICES)
    for notice in found:
        assert "{" not in wording.notice(notice, UnitSystem.METRIC)
        assert " g" not in wording.notice(notice, UnitSystem.IMPERIAL).replace(" gear", "").replace(" get", "").replace(
            " gives", ""
        )


@pytest.mark.parametrize(
    ("kg", "system", "text"),
    [
        (0.0, UnitSystem.METRIC, "0.00 g"),
        (0.0000041, UnitSystem.METRIC, "0.004 g"),
        (0.00003, UnitSystem.METRIC, "0.03 g"),
        (0.009996, UnitSystem.METRIC, "10.0 g"),
        (-0.00128, UnitSystem.METRIC, "−1.28 g"),
        (0.4, UnitSystem.IMPERIAL, "14.1 oz"),
        (0.028349523125, UnitSystem.IMPERIAL, "1.000 oz"),
    ],
)
def test_masses_as_shown(kg: float, system: UnitSystem, text: str) -> None:
    assert system.mass(kg) == text


def test_field_names() -> None:
    assert wording.field_name("") == "The budget"
    assert wording.field_name("gear.0") == "Gear row 1"
    assert wording.field_name("gear") == "Gear"
    assert wording.field_name("model.clas") == "Model, “clas”"
    assert wording.field_name("scale_division") == "Scale division"
    assert wording.field_name("gear.draw") == "Gear, the current that at least one part draws"


def test_lead_beyond_the_class_minimum_is_not_told_to_cost_nothing() -> None:
    """By hand: 61.5 + 2 g are 6.5 g short of 70 g; lead 100 mm ahead of the wanted point: 63.5 × 20 / 100 = 12.7 g."""
    document: dict[str, Any] = {
        "model": {"class": "f1g", "use": "contest", "airframe": "61.5 g"},
        "gear": [{"mass": "2 g", "station": "200 mm"}],
        "balance": {"airframe_at": "200 mm", "target": "180 mm", "nose_at": "80 mm"},
    }
    told = limit_words.class_sentence(assess(read(document).budget), UnitSystem.METRIC)
    assert told.startswith("In a contest 8.50 g of gear and lead cost nothing")
    document["balance"]["nose_at"] = "-200 mm"  # 63.5 × 20 / 380 = 3.3 g: within what ballast would fill
    assert "all the gear costs nothing" in limit_words.class_sentence(assess(read(document).budget), UnitSystem.METRIC)
