"""The run of a budget, and what moves it: each worked by hand, or the run with that changed."""

from typing import Any

import pytest

from tests.calc.budgets import small

ROWS: list[dict[str, Any]] = [
    {"mass": "1 g", "draw": "20 mA", "min_volts": "3.65 V", "count": 2},
    {"mass": "2 g", "draw": "5 mA", "busy_draw": "150 mA", "busy": "30 %"},
]
CELL = {"mass": "2 g", "capacity": "60 mAh", "resistance": "0.8 ohm", "charge_current": "90 mA"}
SESSION = {"temperature": "10 °C", "reserve": "5 %", "flights": 7, "on_time": "4 min"}


def run_s(cell: dict[str, Any], rows: list[dict[str, Any]], **session: str) -> float:
    found = small(gear=rows, cell=cell, session={**SESSION, **session}).power
    assert found is not None
    return found.run.time_s


@pytest.mark.parametrize("known", [{"resistance": "0.8 ohm"}, {"resistance": ""}])
def test_what_moves_the_run_time_is_the_run_with_that_changed(known: dict[str, str]) -> None:
    """Each thing changed in the budget itself, and the run worked out anew; 34 mΩ·Ah at 1 kHz in 60 mAh."""
    key, ohm = ("resistance", 0.8) if known["resistance"] else ("meter", 34 / 60)
    cell = {**CELL, **known}
    kept = {**cell, key: f"{ohm} ohm"}
    power = small(gear=ROWS, cell=cell, session=SESSION).power
    assert power is not None
    assert power.run.ends_by == "brownout"  # so that the resistance counts
    found = {sensitivity.id: (sensitivity.worse_s, sensitivity.better_s) for sensitivity in power.sensitivities}
    expected = {
        "capacity": [run_s({**kept, "capacity": text}, ROWS) for text in ("54 mAh", "66 mAh")],
        "temperature": [run_s(cell, ROWS, temperature=text) for text in ("0 °C", "20 °C")],
        "resistance": [run_s({**cell, key: f"{ohm * factor} ohm"}, ROWS) for factor in (2, 0.5)],
        "busy": [run_s(cell, [ROWS[0], {**ROWS[1], "busy": text}]) for text in ("60 %", "15 %")],
    }
    assert found == {name: pytest.approx(tuple(times)) for name, times in expected.items()}
    spans = [worse_s - better_s for worse_s, better_s in found.values()]
    assert spans == sorted(spans)
    assert [sensitivity.span_s for sensitivity in power.sensitivities] == pytest.approx([-span for span in spans])


def test_twice_as_busy_is_busy_all_the_time_at_most_and_warmer_sixty_degrees() -> None:
    busy = [ROWS[0], {**ROWS[1], "busy": "80 %"}]
    power = small(gear=busy, cell=CELL, session={**SESSION, "temperature": "55 °C"}).power
    assert power is not None
    found = {sensitivity.id: sensitivity for sensitivity in power.sensitivities}
    always = run_s(CELL, [ROWS[0], {**ROWS[1], "busy": "100 %"}], temperature="55 °C")
    assert found["busy"].worse_s == pytest.approx(always)
    assert found["temperature"].better_s == pytest.approx(run_s(CELL, busy, temperature="60 °C"))
    cold = small(gear=ROWS, cell=CELL, session={**SESSION, "temperature": "-15 °C"}).power
    assert cold is not None
    coldest = run_s(CELL, ROWS, temperature="-20 °C")
    assert {sensitivity.id: sensitivity for sensitivity in cold.sensitivities}["temperature"].worse_s == pytest.approx(
        coldest
    )


def test_the_session_worked_by_hand() -> None:
    """Two parts of 20 mA and one of 5 mA rest at 45 mA; 1800 mA are 1.5 times 1200 mAh in an hour.

    From 10 % of half a capacity of 1200 mAh, 540 mAh take 18 min at 1800 mA.
    """
    easy = [{**ROWS[0], "min_volts": ""}, ROWS[1]]
    cell = {**CELL, "capacity": "1200 mAh", "charge_current": "1800 mA", "capacity_left": "50 %"}
    session = {**SESSION, "reserve": "10 %", "temperature": "20 °C"}
    power = small(gear=easy, cell=cell, session=session).power
    assert power is not None
    assert power.quiet_a == pytest.approx(0.045)
    assert power.charge_rate == pytest.approx(1.5)
    assert power.run.ends_by == "reserve"
    assert power.charge_s == pytest.approx(0.9 * 600 / 1800 * 3600)


@pytest.mark.parametrize("missing", ["flights", "on_time"])
def test_without_both_flights_and_time_nothing_is_planned(missing: str) -> None:
    session = {name: text for name, text in SESSION.items() if name != missing}
    power = small(gear=ROWS, cell=CELL, session=session).power
    assert power is not None
    assert (power.cells_needed, power.cell_swaps) == (None, ())


def test_a_cell_that_does_no_flight_needs_no_count_of_cells() -> None:
    power = small(gear=ROWS, cell=CELL, session={**SESSION, "on_time": "3 h"}).power
    assert power is not None
    assert (power.flights, power.cells_needed, power.cell_swaps) == (0, None, ())


@pytest.mark.parametrize(
    ("between", "pause", "pause_s"), [("on", "10 min", 600.0), ("off", "10 min", 0.0), ("on", "0 min", 0.0)]
)
def test_a_pause_counts_only_with_the_radio_on(between: str, pause: str, pause_s: float) -> None:
    power = small(gear=ROWS, cell=CELL, session={**SESSION, "between": between, "pause": pause}).power
    assert power is not None
    assert power.plan is not None
    assert power.plan.pause_s == pause_s
