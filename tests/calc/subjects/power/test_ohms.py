"""The cell's resistance: measured at the bench, given, metered or usual; the low end of the run in what is told."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import headline
from calc.assess import Assessment, assess
from calc.document.box import put_back, take
from calc.document.budget import read
from calc.subjects.power import words as power_words
from calc.unit_system import UnitSystem
from tests.calc.budgets import assessed, reported

ROW = {"kind": "receiver", "mass": "1 g", "draw": "60 mA", "min_volts": "3 V"}
CELL = {"mass": "1 g", "capacity": "400 mAh"}
BENCH = {"light_draw": "20 mA", "light_volts": "3.90 V", "heavy_draw": "70 mA", "heavy_volts": "3.75 V"}


def power_of(cell: dict[str, Any], **session: str) -> dict[str, Any]:
    found = reported(gear=[ROW], cell={**CELL, **cell}, session={"temperature": "25 °C", **session})["power"]
    assert isinstance(found, dict)
    return found


def ohms(cell: dict[str, Any]) -> tuple[float, float, float, str]:
    found = power_of(cell)
    low, middle, high = (found[f"resistance{end}_ohm"] for end in ("_low", "", "_high"))
    return low, middle, high, found["resistance_from"]


@pytest.mark.parametrize(
    ("cell", "expected", "how"),
    [
        (BENCH, (2.8, 3.0, 3.2), "bench"),  # 0.15 V and 0.05 A by Ohm's law; a digit of 0.01 V either way
        ({**BENCH, "resistance": "1 ohm", "meter": "1 ohm"}, (2.8, 3.0, 3.2), "bench"),
        ({"resistance": "0.5 ohm", "meter": "1 ohm"}, (0.5, 0.5, 0.5), "given"),
        ({"meter": "0.34 ohm"}, (0.70, (0.70 * 1.10) ** 0.5, 1.10), "meter"),  # 34 stands to 70 and 110
        ({}, (0.175, (0.070 * 0.110) ** 0.5 / 0.4, 0.275), "usual"),  # 70 and 110 mohm Ah
    ],
)
def test_how_the_resistance_is_known(cell: dict[str, str], expected: tuple[float, float, float], how: str) -> None:
    """At 25 °C, where it is as measured; the best that is known goes first."""
    assert ohms(cell) == (*(pytest.approx(each, abs=1e-6) for each in expected), how)


@pytest.mark.parametrize("gone", BENCH)
def test_a_measurement_of_which_a_reading_is_missing_is_told(gone: str) -> None:
    """The run goes on with the range; whether it is enough stays open."""
    rest = {key: text for key, text in BENCH.items() if key != gone}
    found = assessed(gear=[ROW], cell={**CELL, **rest}, session={"flights": 1, "on_time": "5 min"})
    assert found.power is not None
    assert found.power.resistance_from == "usual"
    assert found.missing["power"] == (f"cell.{gone}",)
    assert found.whole.parts["run"] == "open"


@pytest.mark.parametrize(
    ("bad", "field"),
    [({"heavy_volts": "3.95 V"}, "heavy_volts"), ({"light_draw": "80 mA"}, "light_draw"), ({"meter": "x"}, "meter"),
     ({"heavy_volts": "x"}, "heavy_volts")],
)  # fmt: skip
def test_readings_that_make_no_sense_keep_the_run_back(bad: dict[str, str], field: str) -> None:
    found = assessed(gear=[ROW], cell={**CELL, **BENCH, **bad})
    assert found.power is None
    assert found.missing["power"][0] == f"cell.{field}"


def test_a_cell_takes_its_measurement_into_the_box_and_out() -> None:
    part = put_back({"cell": {**CELL, **BENCH}}, "cell")
    assert {key: part[key] for key in BENCH} == BENCH
    taken = take({"cell": {"station": "10 mm", "meter": "9 ohm"}}, part, "cell", "metric")["cell"]
    assert {key: taken[key] for key in BENCH} == BENCH
    assert "meter" not in taken  # that of the cell before


def test_so_fast_a_draw_is_a_bound_and_never_good() -> None:
    """60 mA out of 10 mAh is 6C; the table ends at 5C."""
    found = assessed(gear=[ROW], cell={**CELL, "capacity": "10 mAh", "resistance": "0.1 ohm"},
                     session={"flights": 1, "on_time": "1 min"})  # fmt: skip
    assert found.power is not None
    assert found.power.at_most
    assert found.whole.parts["run"] == "open"
    data = reported(gear=[ROW], cell={**CELL, "capacity": "10 mAh", "resistance": "0.1 ohm"})["power"]
    assert data["too_fast"] is True
    assert not {"run_min", "run_low_min", "run_high_min", "sag_V", "flights"} & set(data)
    assert "the draw would empty the cell 6.0 times an hour" in power_words.power_sentence(found.power, {})


def at_the_edge(on_time: str) -> Assessment:
    """2C at 20 °C of 30 mAh, a fifth kept: 18.7, 20.5 and 22.3 min by `cold_and_rate.toml`."""
    return assessed(
        model={"airframe": "60 g"}, gear=[ROW], cell={**CELL, "capacity": "30 mAh", "resistance": "0.5 ohm"},
        session={"flights": 1, "on_time": on_time},
    )  # fmt: skip


@pytest.mark.parametrize(
    ("on_time", "stands", "words"),
    [("15 min", "good", "runs for the session"),
     ("18 min", "close", "Just: at worst and with 10 % less capacity one cell does not last one flight."),
     ("20 min", "bad", "at worst one cell does not last one flight"),
     ("21 min", "bad", "one cell does not last one flight")],
)  # fmt: skip
def test_the_low_end_decides(on_time: str, stands: str, words: str) -> None:
    found = at_the_edge(on_time)
    assert found.whole.parts["run"] == stands
    assert words.lower() in headline.headline(found, UnitSystem.METRIC).lower()
    assert ("at worst one cell" in headline.headline(found, UnitSystem.METRIC)) == (on_time == "20 min")


def test_a_low_end_that_does_not_start_is_told() -> None:
    """After 1 s of 0.34 A, by hand: 4.2 V less that through 3.34 ohm is 3.07 V, through 2.69 ohm 3.28 V."""
    row = {**ROW, "draw": "5 mA", "busy_draw": "340 mA", "busy": "1 %", "min_volts": "3.2 V"}
    found = assessed(gear=[row], cell={**CELL, "capacity": "30 mAh"}, session={"temperature": "25 °C"})
    assert found.power is not None
    assert found.power.low.time_s == 0.0 < found.power.high.time_s
    said = power_words.power_sentence(found.power, {})
    assert said.startswith("At worst this cell cannot run the gear: when full already the gear browns out")
    assert found.whole.parts["run"] == "bad"


def runs(**changes: Any) -> list[float]:
    """Return both ends and the middle of a run [min]."""
    document = {
        "gear": [{**ROW, "draw": f"{changes.pop('draw_ma', 30.0)} mA"}], "session": {"temperature": "15 °C"},
        "cell": {**CELL, "capacity": "40 mAh"},
    }  # fmt: skip
    for block, entries in changes.items():
        document[block] = {**document[block], **entries}  # type: ignore[dict-item]
    found = assess(read(document).budget).power
    assert found is not None
    return [found.low.time_s, found.run.time_s, found.high.time_s]


@given(st.floats(-20.0, 60.0), st.floats(0.0, 20.0), st.floats(5.0, 90.0), st.floats(1.0, 2.0), st.floats(0.3, 1.0))
def test_colder_faster_drawn_older_never_longer(
    celsius: float, colder: float, draw_ma: float, faster: float, left: float
) -> None:  # fmt: skip
    """Each end of the run of a budget; ends that are bounds alone are in order, too."""
    here = {"session": {"temperature": f"{celsius} °C"}, "draw_ma": draw_ma}
    now = runs(**here)
    assert now == sorted(now)
    for harder in (
        {**here, "session": {"temperature": f"{max(-20.0, celsius - colder)} °C"}},
        {**here, "draw_ma": min(190.0, draw_ma * faster)},
        {**here, "cell": {"capacity_left": f"{100 * left} %"}},
    ):
        low, _, high = runs(**harder)
        assert low <= now[0] + 1e-6
        assert high <= now[2] + 1e-6
