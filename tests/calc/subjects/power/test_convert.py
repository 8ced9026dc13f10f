"""A run through a converter: when it ends, and what it is against small steps."""

import math
from dataclasses import replace

import pytest

from calc.errors import OutOfRangeError
from calc.subjects.power import endurance
from calc.subjects.power.cell import open_circuit_voltage
from calc.subjects.power.endurance import Consumer, Load, Source, Supply

FRESH = Source(capacity_c=108.0, resistance_ohm=1.0, cutoff_v=3.3)
BOOST = Supply(volts=5.0, efficiency=0.8)


def test_a_converter_that_gives_too_little_runs_no_time() -> None:
    load = Load(mean_a=0.05, peak_a=0.05, min_volts=5.0, supply=Supply(volts=4.5, efficiency=0.9))
    found = endurance.run(FRESH, load, 0.2)
    assert (found.time_s, found.ends_by, found.end_state) == (0.0, "brownout", 1.0)
    enough = replace(load, min_volts=4.5)
    assert endurance.run(FRESH, enough, 0.2).time_s > 0.0


def test_a_converter_gives_up_at_its_least_input() -> None:
    """2 V 0.1 A at 80 % is 0.25 W; at 3.5 V that is 1/14 A, so 3.5 + 1/14 V at rest."""
    load = Load(mean_a=0.01, peak_a=0.1, supply=Supply(volts=2.0, efficiency=0.8, min_input_v=3.5))
    found = endurance.run(FRESH, load, 0.0)
    assert found.ends_by == "brownout"
    assert open_circuit_voltage(found.end_state) == pytest.approx(3.5 + 1 / 14)
    assert found.lowest_v == pytest.approx(3.5)


def test_a_cell_that_cannot_give_the_power_collapses() -> None:
    """At s = 0.7 the table has 3.909 V: 3.909²/4 W through 1 ohm is the most there, at half the voltage."""
    most_w = 3.909**2 / 4
    source = replace(FRESH, cutoff_v=2.5)
    load = Load(mean_a=0.02, peak_a=most_w / 5, supply=Supply(volts=5.0, efficiency=1.0))
    found = endurance.run(source, load, 0.2)
    assert found.ends_by == "brownout"
    assert found.end_state == pytest.approx(0.7, abs=1e-9)
    assert found.lowest_v == pytest.approx(3.909 / 2, abs=1e-6)
    assert load.volts_under(source, 0.2, load.peak_a) is None  # 3.695²/4 W is less than it asks
    full = endurance.run(source, replace(load, peak_a=4.3**2 / 4 / 5), 0.2)
    assert (full.time_s, full.ends_by, full.lowest_v) == (0.0, "brownout", None)


@pytest.mark.parametrize(
    "supply", [Supply(volts=0.0, efficiency=0.8), Supply(volts=5.0, efficiency=0.0), Supply(volts=5.0, efficiency=1.01)]
)
def test_impossible_converters_are_refused(supply: Supply) -> None:
    with pytest.raises(OutOfRangeError):
        endurance.run(FRESH, Load(mean_a=0.05, peak_a=0.05, supply=supply), 0.2)


WITH_BOOST = Load(mean_a=0.06, peak_a=0.06, supply=BOOST)


def test_a_converter_of_less_than_a_volt_is_taken() -> None:
    assert Supply(volts=0.9, efficiency=1.0).power(0.1) > 0.0


def test_what_a_row_or_converter_says_nothing_of_draws_nothing() -> None:
    assert endurance.mean_draw([Consumer()]) == endurance.mean_draw([Consumer(busy_a=0.1)]) == 0.0
    assert endurance.peak_draw([Consumer()]) == 0.0
    collapse_v = math.sqrt(5.0 * 0.06 / 0.8 * 1.0)  # OCV² = 4 P R, and half of the OCV is left
    assert WITH_BOOST.least_volts(FRESH) == pytest.approx(collapse_v)


def test_a_converter_that_gives_more_than_the_gear_needs_serves_it() -> None:
    assert replace(WITH_BOOST, min_volts=3.1).least_volts(FRESH) == WITH_BOOST.least_volts(FRESH)
    assert replace(WITH_BOOST, min_volts=5.0).least_volts(FRESH) == WITH_BOOST.least_volts(FRESH)
    assert replace(WITH_BOOST, min_volts=5.1).least_volts(FRESH) == math.inf


def test_without_a_cut_off_the_reserve_ends_the_run_through_a_converter() -> None:
    found = endurance.run(replace(FRESH, cutoff_v=0.0), WITH_BOOST, 0.2)
    assert (found.ends_by, found.end_state) == ("reserve", 0.2)
