"""The forecast by the plan and as measured: each figure against the answers it is taken from."""

from typing import Any

from calc.assess import assess
from calc.document.budget import read
from calc.forecasts import Forecast, forecasts
from calc.unit_system import UnitSystem
from tests.support import demo_documents

FLOWN: list[dict[str, Any]] = [
    {"turns": 600, "height": "38 m", "motor_run": "35 s", "glide": "95 s"},
    {"turns": 620, "height": "41 m", "motor_run": "36 s", "glide": "100 s",
     "sink": "0.40 m/s", "sink_spread": "0.03 m/s"},
]  # fmt: skip
CHARGES = [{"put_back": "18 mAh", "flights": 8}] * 2


def document(**more: Any) -> dict[str, Any]:
    return {**demo_documents()["sedge-wren.json"], **more}


def rows(**more: Any) -> dict[str, Forecast]:
    found = assess(read(document(**more)).budget)
    return {each.name: each for each in forecasts(found, UnitSystem.of(found.budget))}


def test_without_flights_there_is_nothing_to_compare() -> None:
    assert rows() == {}
    assert rows(flights=[{"remarks": "rain"}]) == {}


def test_before_is_what_the_plan_says_alone() -> None:
    found, plain = rows(flights=FLOWN), assess(read(document()).budget).air
    assert plain is not None
    assert plain.times is not None
    assert found["Still-air time"].before == "120 (80 to 170) s"
    assert round(plain.times.middle, -1) == 120.0
    assert found["Sink"].before.startswith(f"{plain.sink_m_s:.2f} (")
    assert found["Glide factor Φ"].before.startswith("8.0 (")
    assert {each.source for each in found.values()} == {"2 flights"}
    assert found["Height from 100 turns"].planned is False
    assert found["Sink"].planned is True


def test_after_is_the_answer_with_the_flights() -> None:
    found, flown = rows(flights=FLOWN), assess(read(document(flights=FLOWN)).budget).air
    assert flown is not None
    assert flown.before is not None
    assert found["Sink"].after.startswith(f"{flown.sink_m_s:.2f} (")
    assert found["Still-air time"].after.startswith(f"{round(flown.time_s or 0.0, -1):.0f} (")
    assert flown.before.before is None


def test_the_cell_log_has_its_own_line() -> None:
    found = rows(charges=CHARGES)
    assert set(found) == {"Run time"}
    assert found["Run time"].source == "2 sessions"
    assert found["Run time"].before == "50 min to 53 min"
    assert found["Run time"].after != found["Run time"].before
    untold = document(charges=CHARGES)
    untold["gear"] = [{key: each for key, each in row.items() if key != "draw"} for row in untold["gear"]]
    bound = {each.name: each.before for each in forecasts(assess(read(untold).budget), UnitSystem.METRIC)}
    assert bound.get("Run time", "at most").startswith("at most")


def test_a_launch_that_nobody_told_has_no_time() -> None:
    bare = {key: each for key, each in document(flights=FLOWN).items() if key != "air"}
    found = {each.name for each in forecasts(assess(read(bare).budget), UnitSystem.IMPERIAL)}
    assert found == {"Glide factor Φ", "Sink", "Height from 100 turns"}
