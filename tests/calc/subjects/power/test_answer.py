"""The power of a budget: what reaches the sums, what it waits for, the plan of the session."""

from typing import Any

import pytest

from calc import text
from calc.document.budget import read
from calc.subjects.power import words as power_words
from tests.calc.budgets import CELL, SESSION, WHOLE, missing, whole, whole_json


def test_supply_wiring_series_and_age_reach_the_sums() -> None:
    """Series and age: twice the cells give the same charge, half the capacity half the time (both by hand)."""
    large = {**CELL, "capacity": "600 mAh"}  # drawn so slowly that the rate costs nothing
    plain = whole_json(cell=large)["power"]["run_min"]
    assert whole_json(cell={**large, "series": 2, "cutoff": "3.3"})["power"]["run_min"] == pytest.approx(plain)
    assert whole_json(cell={**large, "capacity_left": "50 %"})["power"]["run_min"] == pytest.approx(plain / 2)
    plain = whole_json()["power"]["run_min"]
    lowest = whole_json()["power"]["lowest_V"]
    leads = whole_json(wiring={"gauge": 30, "length": "500 mm"})["power"]["lowest_V"]
    # Published 339 ohm/km for a solid wire, 1 m there and back; seven strands eight gauges finer have 6 % less.
    assert lowest - leads == pytest.approx(0.188 * 0.339 * 0.9406, abs=2e-4)
    supply = {"volts": "5 V", "efficiency": "80 %"}
    assert whole_json(supply=supply)["power"]["run_min"] < plain
    assert whole_json(supply={**supply, "kind": "down"})["power"]["run_min"] == 0.0
    low = whole(supply={**supply, "volts": "3 V"})
    assert low.power is not None
    assert (low.power.run.time_s, low.power.run.ends_by) == (0.0, "brownout")
    assert "supply_low" in [notice.code for notice in low.notices]


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"supply": {"efficiency": "80 %"}}, "supply.volts"),
        ({"supply": {"min_input": "3 V"}}, "supply.volts"),
        ({"supply": {"volts": "x"}}, "supply.volts"),
        ({"wiring": {"gauge": 30}}, "wiring.length"),
        ({"wiring": {"length": "1 m"}}, "wiring.gauge"),
        ({"wiring": {"gauge": "x"}}, "wiring.gauge"),
        ({"wiring": {"length": "x"}}, "wiring.length"),
        ({"session": {"between": "on"}}, "session.pause"),
    ],
)
def test_power_waits_for_the_other_half(changes: dict[str, Any], path: str) -> None:
    assert missing("power", **changes) == (path,)


def test_a_collapsed_converter_has_no_lowest_voltage() -> None:
    """12 V of 188 mA at 85 % are 2.7 W; through 5 ohm and more 4.2 V gives 0.9 W at most."""
    weak = {"cell": {**CELL, "resistance": "5 ohm"}, "supply": {"volts": "12 V", "efficiency": "85 %"}}
    found = whole(**weak)
    assert found.power is not None
    assert (found.power.run.time_s, found.power.run.lowest_v) == (0.0, None)
    assert "lowest_V" not in whole_json(**weak)["power"]
    assert "lowest voltage" not in text.plain_text(read({**WHOLE, **weak}).budget, found)
    assert "lowest voltage" in text.plain_text(read(WHOLE).budget, whole())


def test_a_pause_that_nobody_told_keeps_back_the_flights_alone() -> None:
    """The run does not rest on the pause; flights, cells and swaps do, and the run is open until it is told."""
    plain = whole_json()["power"]
    found = whole_json(session={**SESSION, "between": "on"})
    assert found["power"]["run_min"] == plain["run_min"]
    assert not {"flights", "cells_needed", "swap_after", "bring"} & set(found["power"])
    assert found["missing"]["power"] == ["session.pause"]
    assert found["whole"]["run"] == "open"
    unread = whole_json(session={**SESSION, "between": "on", "pause": "x"})
    assert unread["power"]["run_min"] == plain["run_min"]
    assert "flights" not in unread["power"]
    assert unread["missing"]["power"] == ["session.pause"]


def test_what_only_names_a_kind_of_converter_changes_nothing() -> None:
    assert whole_json(supply={"kind": "down"}, wiring={})["power"] == whole_json()["power"]


def test_plan_with_the_radio_left_on() -> None:
    """Quiet 34 of 46.32 mA: a pause of 100 min takes as much as 73.4 min of flight; 311 min hold 2 flights, by hand."""
    session = {**SESSION, "on_time": "60 min", "between": "on", "pause": "100 min"}
    cell = {**CELL, "capacity": "300 mAh", "charge_current": "30 mA"}
    found = whole(session=session, cell=cell)
    assert found.power is not None
    assert (found.power.flights, found.power.cells_needed, found.power.cell_swaps) == (2, 4, (2, 4, 6))
    assert "the radio left on between them" in power_words.power_sentence(found.power, {})
    said = power_words.plan_sentence(found.power)
    assert said.startswith(
        "Swap the cell after flights 2, 4 and 6. Bring 5: one of them is the spare. Charging one again takes"
    )
    assert "8 h 0 min" in said  # four fifths of 300 mAh at 30 mA
    report = whole_json(session=session, cell=cell)["power"]
    assert report["swap_after"] == [2, 4, 6]
    assert report["charge_min"] == pytest.approx(480.0)


def test_fast_charging_is_noticed() -> None:
    fast = whole(cell={**CELL, "charge_current": "60 mA"})
    assert "charge_fast" in [notice.code for notice in fast.notices]
    assert power_words.plan_sentence(whole(session={}).power) == ""  # type: ignore[arg-type]


def test_what_moves_the_run_time_most_comes_first() -> None:
    found = whole().power
    assert found is not None
    spans = [sensitivity.span_s for sensitivity in found.sensitivities]
    assert spans == sorted(spans, reverse=True)
    assert {sensitivity.id for sensitivity in found.sensitivities} == {"capacity", "temperature", "resistance", "busy"}
    assert all(sensitivity.worse_s <= found.run.time_s <= sensitivity.better_s for sensitivity in found.sensitivities)
    assert whole(cell={"mass": "1 g", "capacity": "30 mAh"}).power is not None
