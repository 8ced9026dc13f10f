"""Run time against an outside model, and what ends the run."""

import math

import pytest

from calc import endurance
from calc.cell import OPEN_CIRCUIT
from calc.endurance import Consumer, Source
from calc.errors import OutOfRangeError
from tests.support import reference

TABLE = reference("cell")
FRESH = Source(capacity_c=108.0, resistance_ohm=1.0, cutoff_v=3.3)


def test_constant_resistance_run() -> None:
    """PyBaMM 26.10.1.1 Thevenin model: the run ends at 2253.1 s."""
    run = TABLE["constant_resistance_run"]
    source = Source(
        capacity_c=run["mAh"] * 3.6,
        resistance_ohm=run["ohm"],
        cutoff_v=run["cutoff_V"],
        table=tuple(zip(run["state"], run["volts"], strict=True)),
    )
    current = run["mA"] / 1e3
    found = endurance.run(source, current, current, None, 0.0, start=run["start"])
    assert found.time_s == pytest.approx(run["seconds"], abs=run["tolerance_s"])
    assert found.ends_by == "cutoff"


def test_sag_under_load() -> None:
    """A data sheet's cell by Ohm's law, and the first instant of PyBaMM's example circuit."""
    sag, circuit = TABLE["sag"], TABLE["thevenin_sag"]
    flat = ((0.0, 3.0), (1.0, sag["rest_V"]))
    cell = Source(capacity_c=288.0, resistance_ohm=sag["ohm"], cutoff_v=3.0, table=flat)
    assert endurance.loaded_voltage(cell, sag["A"], sag["A"], 0.0) == pytest.approx(sag["volts"], abs=1e-9)
    cell = Source(capacity_c=360.0, resistance_ohm=circuit["ohm"], cutoff_v=3.0)
    found = OPEN_CIRCUIT[-1][1] - endurance.loaded_voltage(cell, circuit["A"], circuit["A"], 0.0)
    assert found == pytest.approx(circuit["sag_V"], abs=circuit["tolerance_V"])


def test_draws_worked_by_hand() -> None:
    """28 mA all the time; 6 mA, and 160 mA for 8 % of it: 46.32 mA; all at work 188 mA."""
    gear = [Consumer(quiet_a=0.028, min_volts=3.1), Consumer(quiet_a=0.006, busy_a=0.160, busy_share=0.08)]
    assert endurance.mean_draw(gear) == pytest.approx(0.04632)
    assert endurance.peak_draw(gear) == pytest.approx(0.188)
    assert endurance.needed_volts(gear) == 3.1
    assert endurance.needed_volts([Consumer()]) is None


@pytest.mark.parametrize(
    ("reserve", "min_volts", "peak_a", "resistance", "ends_by"),
    [
        (0.2, None, 0.05, 1.0, "reserve"),
        (0.05, None, 0.05, 1.0, "cutoff"),
        (0.05, 3.4, 0.4, 1.0, "brownout"),
        (0.0, 3.3, 0.05, 0.0, "cutoff"),
    ],
)
def test_the_first_end_is_named(
    reserve: float, min_volts: float | None, peak_a: float, resistance: float, ends_by: str
) -> None:  # fmt: skip
    """The last case is a tie of cut-off and brown-out: the cut-off is named."""
    source = Source(capacity_c=108.0, resistance_ohm=resistance, cutoff_v=3.3)
    assert endurance.run(source, 0.05, peak_a, min_volts, reserve).ends_by == ends_by


def test_reserve_wins_a_tie_with_the_cutoff() -> None:
    """At s = 0.1 the table has 3.640 V; with no resistance a cut-off of 3.640 V and a reserve of 10 % meet there."""
    source = Source(capacity_c=108.0, resistance_ohm=0.0, cutoff_v=3.640)
    assert endurance.run(source, 0.05, 0.05, None, 0.1).ends_by == "reserve"


def test_a_cell_that_browns_out_when_full_runs_no_time() -> None:
    found = endurance.run(FRESH, 0.05, 1.0, 3.5, 0.2)
    assert found.time_s == 0.0
    assert found.ends_by == "brownout"
    assert found.lowest_v == pytest.approx(3.2)


def test_lowest_voltage_is_at_the_end_with_everything_at_work() -> None:
    """OCV(0.2) = 3.695 V, less 0.188 A through 1 ohm."""
    assert endurance.run(FRESH, 0.05, 0.188, None, 0.2).lowest_v == pytest.approx(3.695 - 0.188)


def test_flights_and_cells() -> None:
    assert endurance.flights_in(1440.0, 360.0) == 4
    assert endurance.flights_in(1439.0, 360.0) == 3
    assert endurance.flights_in(3 * 0.1 * 60, 0.1 * 60) == 3  # falls short by a rounding error alone
    assert endurance.cells_needed(8, 4) == 2
    assert endurance.cells_needed(9, 4) == 3
    assert endurance.cells_needed(8, 0) is None


def test_the_cell_today() -> None:
    """K = 0.925 at 5 °C; a resistance not given is 34 mohm Ah over the capacity, times that of the cold."""
    source = endurance.today(108.0, None, 3.3, 278.15)
    assert source.capacity_c == pytest.approx(99.9)
    assert source.resistance_ohm == pytest.approx(
        0.034 / 0.030 * math.exp(20000 / 8.314462618 * (1 / 278.15 - 1 / 298.15))
    )
    assert endurance.today(108.0, 0.5, 3.3, 298.15).resistance_ohm == pytest.approx(0.5)


def test_impossible_arguments_are_refused() -> None:
    for mean_a, peak_a, reserve in [(0.0, 0.1, 0.2), (math.nan, 0.1, 0.2), (0.2, 0.1, 0.2), (0.05, 0.1, 1.2)]:
        with pytest.raises(OutOfRangeError):
            endurance.run(FRESH, mean_a, peak_a, None, reserve)
    with pytest.raises(OutOfRangeError):
        endurance.mean_draw([Consumer(quiet_a=-0.1)])
    with pytest.raises(OutOfRangeError):
        endurance.mean_draw([Consumer(quiet_a=0.1, busy_a=0.2, busy_share=1.5)])
    with pytest.raises(OutOfRangeError):
        endurance.today(0.0, None, 3.3, 293.15)
    with pytest.raises(OutOfRangeError):
        endurance.flights_in(100.0, 0.0)
    with pytest.raises(OutOfRangeError):
        endurance.loaded_voltage(FRESH, 0.1, 0.1, 1e6)
