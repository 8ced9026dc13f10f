"""The run: what is absent or unsure makes it a bound, is told, and never makes the answer better."""

from typing import Any

import pytest
from hypothesis import given

from calc import headline, text
from calc.subjects.power import words as power_words
from calc.subjects.weights import words as weight_words
from calc.unit_system import UnitSystem
from tests.calc.budgets import assessed, reported
from tests.calc.full import CELL, DRAWN, RECEIVER, SERVO, SESSION
from tests.calc.test_properties import DOCUMENT


@given(DOCUMENT)
def test_a_missing_draw_never_gives_a_plain_run_time(document: dict[str, Any]) -> None:
    found = reported(**{**document, "gear": [*document["gear"], SERVO]})
    assert "run_min" not in found.get("power", {})
    if "power" in found:
        assert found["power"]["draw_untold"]
        assert "flights" not in found["power"]


def test_a_servo_without_a_draw_makes_the_run_time_an_upper_bound() -> None:
    """Receiver 25 mA alone would run far longer than with the servo's draw: told as "at most", by name."""
    bound, known = (
        assessed(gear=[RECEIVER, row], cell=CELL, session=SESSION, model={"airframe": "60 g"}) for row in (SERVO, DRAWN)
    )
    assert bound.power is not None
    assert known.power is not None
    assert bound.power.run.time_s > known.power.run.time_s
    assert bound.missing["power"] == ("gear.1.draw",)
    assert "power" not in reported(gear=[RECEIVER, DRAWN], cell=CELL, session=SESSION)["missing"]
    said = power_words.power_sentence(bound.power, weight_words.names_of(bound))
    assert "at most 1 h" in said
    assert "nobody has said what the servo draws" in said
    assert "Still open: run time" in headline.headline(bound, UnitSystem.METRIC)
    assert "mean draw, at least" in text.plain_text(bound.budget, bound)


def test_a_share_of_time_at_work_without_its_draw_is_an_upper_bound_too() -> None:
    found = assessed(gear=[{**SERVO, "draw": "6 mA", "busy": "8 %"}], cell=CELL, session=SESSION)
    assert found.power is not None
    assert found.power.untold == ("gear.0.busy_draw",)


def test_a_draw_that_is_a_guess_is_told() -> None:
    found = assessed(gear=[{**DRAWN, "draw_known_by": "guess", "name": "tail servo"}], cell=CELL, session=SESSION)
    assert found.power is not None
    said = power_words.power_sentence(found.power, weight_words.names_of(found))
    assert said.endswith("The draw of the tail servo is a guess: measure it.")


def test_a_run_that_ten_percent_less_capacity_ends_is_told() -> None:
    """One flight of 290 min out of 300 min (300 mAh × 0.8 / 48 mA), by hand; 270 mAh give 270 min."""
    found = assessed(
        model={"airframe": "60 g"}, gear=[{**RECEIVER, "draw": "48 mA"}],
        cell={**CELL, "capacity": "300 mAh", "resistance": "0 ohm"}, session={"flights": 1, "on_time": "290 min"},
    )  # fmt: skip
    assert found.whole.parts["run"] == "close"
    assert "Just: with 10 % less capacity one cell does not last one flight." in headline.headline(
        found, UnitSystem.METRIC
    )
    assert found.power is not None
    assert power_words.plan_sentence(found.power).startswith("Too near the edge:")


def test_the_swap_to_be_safe() -> None:
    """360 mAh at 48 mA, no reserve: 450 min, nine flights of 50 min; 10 % less gives 405 min, eight: by hand."""
    found = assessed(
        gear=[{**RECEIVER, "draw": "48 mA", "min_volts": "2.9 V"}],
        cell={**CELL, "capacity": "360 mAh", "resistance": "0 ohm", "cutoff": "3 V"},
        session={"flights": 10, "on_time": "50 min", "reserve": "0 %"},
    )  # fmt: skip
    assert found.power is not None
    assert (found.power.flights, found.power.safe_flights, found.power.bring) == (9, 8, 3)
    said = power_words.plan_sentence(found.power)
    assert said.startswith("Swap the cell after flight 9. To be safe, swap it after flight 8: with 10 % less capacity")


@pytest.mark.parametrize(
    ("session", "words"),
    [
        ({"temperature": "-15 °C"}, "5 °C colder or 10 °C warmer (to the coldest that these sums know)"),
        ({"temperature": "55 °C"}, "10 °C colder or 5 °C warmer (to the warmest that these sums know)"),
        ({"temperature": "20 °C"}, "10 °C colder or warmer"),
    ],
)
def test_a_sway_that_stops_at_the_end_of_its_range_says_so(session: dict[str, str], words: str) -> None:
    found = assessed(gear=[{**DRAWN, "busy": "80 %"}], cell=CELL, session=session)
    assert found.power is not None
    said = {
        sensitivity.id: power_words.sensitivity_sentence(sensitivity, UnitSystem.METRIC)
        for sensitivity in found.power.sensitivities
    }
    assert said["temperature"].startswith(words)
    assert said["busy"].startswith("at work twice (at most all the time) or half as often")
    imperial = {
        sensitivity.id: power_words.sensitivity_sentence(sensitivity, UnitSystem.IMPERIAL)
        for sensitivity in found.power.sensitivities
    }
    assert "°F" in imperial["temperature"]


def test_nothing_is_moved_by_a_cell_that_cannot_run_the_gear() -> None:
    found = assessed(gear=[{**RECEIVER, "min_volts": "5.5 V"}], cell=CELL, supply={"volts": "5 V"}, session=SESSION)
    assert found.power is not None
    said = power_words.power_sentence(found.power, {})
    assert said == "The converter gives 5 V, but the gear needs 5.5 V: it never runs."
    assert "Moves the run time" not in text.plain_text(found.budget, found)


def test_a_run_that_is_at_most_has_no_swap_plan() -> None:
    found = assessed(gear=[RECEIVER, SERVO], cell=CELL, session={"flights": 30, "on_time": "6 min"})
    assert found.power is not None
    assert found.power.cell_swaps
    assert "wap" not in power_words.plan_sentence(found.power)


def test_a_servo_that_tells_its_quiet_draw_alone_is_named() -> None:
    found = assessed(
        model={"airframe": "60 g"}, gear=[RECEIVER, {**SERVO, "draw": "6 mA"}], cell=CELL, session=SESSION
    )  # fmt: skip
    assert found.missing["power"] == ("gear.1.busy_draw",)
    assert found.whole.parts["run"] == "open"
    assert "quiet_only" in [notice.code for notice in found.notices]


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"session": {"flights": 8, "on_time": "50 minn"}}, "session.on_time"),
        ({"session": {"flights": "eight", "on_time": "5 min"}}, "session.flights"),
        ({"session": {"flights": 8}}, "session.on_time"),
        ({"gear": [RECEIVER, {"kind": "supply", "mass": "0.5 g"}]}, "supply.volts"),
    ],
)
def test_a_session_or_converter_told_in_part_leaves_the_run_open(changes: dict[str, Any], path: str) -> None:
    found = assessed(**{"model": {"airframe": "60 g"}, "gear": [RECEIVER], "cell": CELL, "session": SESSION, **changes})
    assert path in found.missing["power"]
    assert found.whole.parts["run"] == "open"


def test_the_line_of_the_run_tells_flights_at_worst_where_they_differ() -> None:
    """The low end stands in the line of the subject, and on its tile; a run that is only a bound has none."""
    found = assessed(gear=[RECEIVER, DRAWN], cell=CELL, session={**SESSION, "on_time": "3 min"})
    assert found.power is not None
    low, usual = found.power.flights, found.power.flights_usual
    assert low is not None
    assert usual is not None
    assert low < usual
    assert power_words.brief(found, UnitSystem.METRIC).endswith(f": {usual} flights, at worst {low}")
