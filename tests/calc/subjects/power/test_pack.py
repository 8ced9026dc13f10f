"""The cell as it is today, its age and leads, and cells in series."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.power import endurance
from calc.subjects.power.cell import open_circuit_voltage
from calc.subjects.power.endurance import Load, Pack, Supply

BOOST = Supply(volts=5.0, efficiency=0.8)


def test_the_cell_today() -> None:
    """A resistance not given is √(70 × 110) mohm Ah over the capacity, times that of the cold."""
    source = endurance.today(Pack(capacity_c=108.0, resistance_ohm=None, cutoff_v=3.3), 278.15)
    cold = math.exp(20000 / 8.314462618 * (1 / 278.15 - 1 / 298.15))
    assert source.capacity_c == pytest.approx(108.0)
    assert source.resistance_ohm == pytest.approx(math.sqrt(0.070 * 0.110) / 0.030 * cold)
    given_ohm = Pack(capacity_c=108.0, resistance_ohm=0.5, cutoff_v=3.3)
    assert endurance.today(given_ohm, 298.15).resistance_ohm == pytest.approx(0.5)


def test_age_and_leads_worked_by_hand() -> None:
    """108 C with 80 % left is 86.4 C; the cold raises the cells' 2 × 0.5 ohm, not the leads' 0.06 ohm."""
    pack = Pack(capacity_c=108.0, resistance_ohm=0.5, cutoff_v=3.3, series=2, left=0.8, wiring_ohm=0.06)
    source = endurance.today(pack, 278.15)
    cold = math.exp(20000 / 8.314462618 * (1 / 278.15 - 1 / 298.15))
    assert source.capacity_c == pytest.approx(86.4)
    assert source.resistance_ohm == pytest.approx(1.0 * cold + 0.06)
    assert source.cutoff_v == pytest.approx(6.6)
    assert open_circuit_voltage(1.0, source.table) == pytest.approx(8.4)


@pytest.mark.parametrize("series", [2, 3])
@pytest.mark.parametrize("min_volts", [None, 3.5])
def test_cells_in_series_share_the_work(series: int, min_volts: float | None) -> None:
    """The same current, or the same power for each cell, lasts as long; the voltages add."""
    one = Pack(capacity_c=108.0, resistance_ohm=0.8, cutoff_v=3.3)
    alone, together = endurance.today(one, 283.15), endurance.today(replace(one, series=series), 283.15)
    load = Load(mean_a=0.05, peak_a=0.2, min_volts=min_volts)
    direct = replace(load, min_volts=None if min_volts is None else series * min_volts)
    few, many = endurance.run(alone, load, 0.05), endurance.run(together, direct, 0.05)
    assert many.time_s == pytest.approx(few.time_s)
    assert many.ends_by == few.ends_by
    assert few.lowest_v is not None
    assert many.lowest_v == pytest.approx(series * few.lowest_v)
    small, large = replace(load, supply=BOOST), replace(load, supply=replace(BOOST, volts=series * BOOST.volts))
    assert endurance.run(together, large, 0.05).time_s == pytest.approx(endurance.run(alone, small, 0.05).time_s)


@given(st.floats(0.1, 1.0), st.floats(0.01, 0.2))
def test_a_run_that_ends_at_the_reserve_shrinks_with_age(left: float, draw_a: float) -> None:
    pack = Pack(capacity_c=108.0, resistance_ohm=0.0, cutoff_v=3.3)
    load = Load(mean_a=draw_a, peak_a=draw_a)
    fresh = endurance.run(endurance.today(pack, 293.15), load, 0.2)
    aged = endurance.run(endurance.today(replace(pack, left=left), 293.15), load, 0.2)
    assert aged.time_s == pytest.approx(left * fresh.time_s)


@pytest.mark.parametrize(
    "pack",
    [
        Pack(capacity_c=0.0, resistance_ohm=None, cutoff_v=3.3),
        Pack(capacity_c=0.0, resistance_ohm=0.5, cutoff_v=3.3),
        Pack(capacity_c=108.0, resistance_ohm=-0.1, cutoff_v=3.3),
        Pack(capacity_c=108.0, resistance_ohm=0.5, cutoff_v=3.3, left=0.0),
        Pack(capacity_c=108.0, resistance_ohm=0.5, cutoff_v=3.3, left=1.01),
        Pack(capacity_c=108.0, resistance_ohm=0.5, cutoff_v=3.3, wiring_ohm=-0.01),
    ],
)
def test_impossible_packs_are_refused(pack: Pack) -> None:
    with pytest.raises(OutOfRangeError):
        endurance.today(pack, 293.15)
