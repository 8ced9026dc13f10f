"""Flights, cells, swaps and charging of a session."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.subjects.power import plan
from calc.subjects.power.plan import Plan


def test_flights_and_cells() -> None:
    assert plan.flights_per_cell(1440.0, Plan(on_s=360.0)) == 4
    assert plan.flights_per_cell(2.0, Plan(on_s=0.5)) == 4
    assert plan.flights_per_cell(1439.0, Plan(on_s=360.0)) == 3
    assert plan.flights_per_cell(3 * 0.1 * 60, Plan(on_s=0.1 * 60)) == 3  # short by a rounding error alone
    assert plan.cells_needed(8, 4) == 2
    assert plan.cells_needed(9, 4) == 3
    assert plan.cells_needed(8, 0) is None


def test_pauses_with_the_radio_on_take_their_share() -> None:
    """Worked by hand: flights of 6 min, pauses of 10 min at 30 % are 3 min; n flights take 9 n − 3 min."""
    left_on = Plan(on_s=360.0, pause_s=600.0, pause_share=0.3)
    assert left_on.pause_equal_s == pytest.approx(180.0)
    for minutes, flights in [(5.9, 0), (6.0, 1), (14.9, 1), (15.0, 2), (24.0, 3), (32.9, 3)]:
        assert plan.flights_per_cell(minutes * 60, left_on) == flights
    assert plan.flights_per_cell(24.0 * 60, replace(left_on, pause_share=0.0)) == 4


@given(st.integers(0, 60), st.integers(1, 20))
def test_swaps_part_the_flights_among_the_cells_needed(flights: int, each: int) -> None:
    after = plan.cell_swaps(flights, each)
    assert len(after) == max(0, (plan.cells_needed(flights, each) or 0) - 1)
    ends = [0, *after, flights]
    assert all(0 <= later - earlier <= each for earlier, later in pairwise(ends))


def test_no_swap_helps_a_cell_that_gives_no_flight() -> None:
    assert plan.cell_swaps(5, 0) == ()


def test_charge_time() -> None:
    """Worked by hand: 30 mAh at one hour's current is an hour, at half of it two."""
    assert plan.charge_time(108.0, 0.030) == pytest.approx(3600.0)
    assert plan.charge_time(108.0, 0.015) == pytest.approx(7200.0)
    assert plan.charge_time(0.0, 0.015) == 0.0
