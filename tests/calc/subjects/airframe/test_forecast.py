"""The forecast against hand sums; and weighing a part never widens the spread."""

from math import hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.airframe.forecast import GROWTH, OWN, Planned, builder, forecast, growth_after
from tests.support import reference

TABLE = reference("airframe")


def test_margins_are_those_of_the_source() -> None:
    assert GROWTH["sketch"] == TABLE["maturity"]["sketch"]
    assert GROWTH["cut"] == TABLE["maturity"]["cut"]


def test_nothing_weighed_yet() -> None:
    """20 g sketched and 10 g cut: 23.6 + 10.8 = 34.4 g; growth adds straight, (3.6 + 0.8)/√3, the rest in squares."""
    plan = [Planned(planned_kg=0.020, growth=0.18, own=0.25), Planned(planned_kg=0.010, growth=0.08, own=0.05)]
    found = forecast(plan, 0.0)
    assert found.expected_kg == pytest.approx(0.0344, rel=1e-12)
    assert found.nominal_kg == pytest.approx(0.030, rel=1e-12)
    assert found.uncertainty_kg == pytest.approx(hypot(0.0044, 0.005, 0.0005) / sqrt(3), rel=1e-12)
    assert forecast(plan, 0.0, learn=False) == found


def test_the_growth_of_what_is_weighed_goes_for_the_rest() -> None:
    """10 g came to 12 g, o 5 %: 1/u² = 3/0.05² = 1200; a sketch's 3/0.18² = 92.59; γ = (16.667 + 240)/1292.59."""
    plan = [
        Planned(planned_kg=0.010, growth=0.08, own=0.05, weighed_kg=0.012),
        Planned(planned_kg=0.020, growth=0.18, own=0.05),
    ]
    gamma = (0.18 * 3 / 0.18**2 + 0.2 * 1200) / (3 / 0.18**2 + 1200)
    assert gamma == pytest.approx(0.19857, abs=1e-5)
    found = forecast(plan, 0.0)
    assert found.expected_kg == pytest.approx(0.012 + 0.020 * (1 + gamma), rel=1e-12)
    common_kg = 0.020 / sqrt(3 / 0.18**2 + 1200)
    assert found.uncertainty_kg == pytest.approx(hypot(common_kg, 0.020 * 0.05 / sqrt(3)), rel=1e-12)


def test_where_everything_came_out_alike_the_forecast_is_the_plain_rule() -> None:
    """Ten parts of 2 g, each 10 % over, and 20 g to come: 22 + 22 g, less what the 8 % before still weighs."""
    done = [Planned(planned_kg=0.002, growth=0.08, own=0.001, weighed_kg=0.0022)] * 10
    found = forecast([*done, Planned(planned_kg=0.020, growth=0.08, own=0.001)], 0.0)
    assert found.expected_kg == pytest.approx(0.044, abs=1e-7)


def test_all_weighed_is_the_sum_of_the_scale() -> None:
    """Three readings on a scale of 0.1 g: each ± 0.05 g, a rectangle."""
    plan = [Planned(planned_kg=0.01, growth=0.18, weighed_kg=each) for each in (0.0101, 0.0122, 0.0083)]
    found = forecast(plan, 0.0001)
    assert found.expected_kg == found.nominal_kg == pytest.approx(0.0306, rel=1e-12)
    assert found.spread_kg == pytest.approx(2 * sqrt(3) * 0.00005 / sqrt(3), rel=1e-12)


def test_the_nominal_mass_is_never_more_than_what_is_expected() -> None:
    """A builder who builds light: the share rule must not allow for grams that will not be there."""
    plan = [
        Planned(planned_kg=0.010, growth=0.08, own=0.05, weighed_kg=0.007),
        Planned(planned_kg=0.020, growth=0.08, own=0.05),
    ]
    found = forecast(plan, 0.0)
    assert found.nominal_kg == found.expected_kg < 0.027


def test_a_part_weighed_without_a_plan_counts_and_teaches_nothing() -> None:
    plan = [Planned(planned_kg=None, weighed_kg=0.003), Planned(planned_kg=0.010, growth=0.18)]
    assert builder(plan, 0.0) == (0.0, 0.0)
    assert forecast(plan, 0.0).expected_kg == pytest.approx(0.003 + 0.0118, rel=1e-12)


PART = st.builds(
    Planned,
    planned_kg=st.floats(0.0005, 0.05),
    growth=st.sampled_from(sorted(GROWTH.values())),
    own=st.floats(OWN, 0.6),
    weighed_kg=st.none() | st.floats(0.0001, 0.08),
)


@given(st.lists(PART, max_size=8), PART, st.floats(0.0001, 0.08))
def test_weighing_a_part_never_widens_the_spread(rest: list[Planned], part: Planned, weighed_kg: float) -> None:
    """On any scale finer than what the part was known to: here its half division is at most 5 % of the smallest."""
    division_kg = 2.0 * OWN * 0.0005
    bare = Planned(planned_kg=part.planned_kg, growth=part.growth, own=part.own)
    built = Planned(planned_kg=part.planned_kg, growth=part.growth, own=part.own, weighed_kg=weighed_kg)
    before, after = forecast([*rest, bare], division_kg), forecast([*rest, built], division_kg)
    assert after.spread_kg <= before.spread_kg * (1 + 1e-12)


@given(st.lists(PART, min_size=1, max_size=8))
def test_a_heavier_reading_never_makes_the_forecast_lighter(parts: list[Planned]) -> None:
    heavier = [
        Planned(planned_kg=each.planned_kg, growth=each.growth, own=each.own,
                weighed_kg=None if each.weighed_kg is None else 1.1 * each.weighed_kg)
        for each in parts
    ]  # fmt: skip
    assert forecast(heavier, 0.0001).expected_kg >= forecast(parts, 0.0001).expected_kg - 1e-15


def test_what_is_out_of_range_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        forecast([], -0.1)
    with pytest.raises(OutOfRangeError):
        growth_after(0.0, (0.0, 0.0))


def test_a_part_of_which_nothing_is_known_counts_nothing() -> None:
    """As one does before the day on which it was weighed without any plan."""
    assert forecast([Planned(planned_kg=None), Planned(planned_kg=0.01, growth=0.08)], 0.0).expected_kg == (
        pytest.approx(0.0108, rel=1e-12)
    )
