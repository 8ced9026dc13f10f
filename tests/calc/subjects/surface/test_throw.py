"""The throw and the slack of lines, against a linkage solved by halving."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.surface import sums as surface

LENGTH = st.floats(0.003, 0.03)
TRAVEL = st.floats(-1.2, 1.2)


def four_bar(arm_m: float, horn_m: float, rod_m: float, travel_rad: float) -> float:
    """Return the deflection at which the rod has its length again, by halving.

    Pivots at (0, 0) and (rod, 0); arm's end (a sin θ, a cos θ), horn's end (rod + h sin δ, h cos δ).
    """

    def too_long(delta: float) -> float:
        x = rod_m + horn_m * math.sin(delta) - arm_m * math.sin(travel_rad)
        y = horn_m * math.cos(delta) - arm_m * math.cos(travel_rad)
        return math.hypot(x, y) - math.hypot(rod_m, horn_m - arm_m)

    low, high = -1.5, 1.5
    assert too_long(low) < 0 < too_long(high)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if too_long(middle) < 0 else (low, middle)
    return (low + high) / 2


@given(LENGTH, LENGTH, st.floats(4.0, 40.0), TRAVEL)
def test_throw_keeps_the_rods_length(arm_m: float, horn_m: float, times: float, travel_rad: float) -> None:
    """Against the rod-length equation solved by halving."""
    assume(abs(arm_m * math.sin(travel_rad)) < 0.75 * horn_m)
    rod_m = times * (arm_m + horn_m)
    found = surface.throw(arm_m, horn_m, rod_m, travel_rad)
    assert found == pytest.approx(four_bar(arm_m, horn_m, rod_m, travel_rad), abs=1e-9)


@given(LENGTH, st.floats(0.04, 1.0), TRAVEL)
def test_equal_arms_turn_alike(arm_m: float, rod_m: float, travel_rad: float) -> None:
    assert surface.throw(arm_m, arm_m, rod_m, travel_rad) == pytest.approx(travel_rad, abs=1e-9)


def test_a_long_rod_gives_the_sine_ratio() -> None:
    for travel_rad in (-1.0, -0.3, 0.0, 0.5, 1.0):
        expected = math.asin(0.6 * math.sin(travel_rad))
        assert surface.throw(0.006, 0.010, 1e3, travel_rad) == pytest.approx(expected, abs=1e-5)


def test_a_short_rod_gives_more_one_way() -> None:
    """The side follows from the geometry solved by halving."""
    push, pull = surface.throw(0.006, 0.010, 0.05, 0.8), -surface.throw(0.006, 0.010, 0.05, -0.8)
    assert push - pull == pytest.approx(four_bar(0.006, 0.010, 0.05, 0.8) + four_bar(0.006, 0.010, 0.05, -0.8))
    assert abs(push - pull) > 0.01


@given(LENGTH, LENGTH, st.floats(0.15, 1.0), st.floats(-1.2, 1.15))
def test_more_travel_gives_more_throw(arm_m: float, horn_m: float, rod_m: float, travel_rad: float) -> None:
    assume(arm_m < 0.9 * horn_m)
    assert surface.throw(arm_m, horn_m, rod_m, travel_rad + 0.05) > surface.throw(arm_m, horn_m, rod_m, travel_rad)


@pytest.mark.parametrize("travel_rad", [-1.2, 1.2])
def test_a_horn_that_cannot_follow_is_refused(travel_rad: float) -> None:
    with pytest.raises(OutOfRangeError, match=f"travel_rad is {travel_rad}"):
        surface.throw(0.020, 0.010, 0.2, travel_rad)


def test_horn_throw() -> None:
    """A stroke of half the horn is 30°, of the whole horn 90°."""
    assert math.degrees(surface.horn_throw(0.006, 0.012)) == pytest.approx(30.0)
    assert math.degrees(surface.horn_throw(0.012, 0.012)) == pytest.approx(90.0)
    assert surface.horn_throw(0.0, 0.012) == 0.0


@given(LENGTH, LENGTH, st.floats(0.1, 1.0), st.floats(0.05, 1.2))
def test_slack_is_enough_all_the_way(arm_m: float, horn_m: float, rod_m: float, travel_rad: float) -> None:
    """Both lines of a linkage, solved by halving: the pulled one at its length, the idle one never longer."""
    assume(arm_m * math.sin(travel_rad) < 0.75 * horn_m)
    given_m = surface.slack(arm_m, horn_m, rod_m, travel_rad)
    assert given_m >= 0.0
    for step in range(1, 9):
        turned = -travel_rad * step / 8
        delta = four_bar(arm_m, horn_m, rod_m, turned)
        x = rod_m - horn_m * math.sin(delta) + arm_m * math.sin(turned)
        y = arm_m * math.cos(turned) - horn_m * math.cos(delta)
        assert math.hypot(x, y) - math.hypot(rod_m, horn_m - arm_m) <= given_m + 1e-8


@given(LENGTH, st.floats(0.1, 1.0), TRAVEL)
def test_equal_arms_need_no_slack(arm_m: float, rod_m: float, travel_rad: float) -> None:
    assert surface.slack(arm_m, arm_m, rod_m, travel_rad) == 0.0


def test_unequal_arms_can_need_slack() -> None:
    """A horn longer than the arm by half, on lines of 0.15 m: which way they bind is seen in the scan above."""
    assert max(surface.slack(0.008, 0.012, 0.15, 0.9), surface.slack(0.012, 0.008, 0.15, 0.5)) > 1e-5


def test_an_arm_that_the_horn_cannot_follow_says_what_would_do() -> None:
    with pytest.raises(OutOfRangeError) as refused:
        surface.throw(0.012, 0.004, 0.2, 1.2)
    assert (refused.value.low, refused.value.high) == (-math.pi / 2, math.pi / 2)


SHORT = st.floats(0.004, 0.02)


@given(SHORT, SHORT, st.floats(0.1, 1.0), st.floats(0.05, 1.2))
def test_slack_is_no_more_than_the_idle_line_lacks(
    arm_m: float, horn_m: float, rod_m: float, travel_rad: float
) -> None:  # fmt: skip
    """The end of the travel, the pulled line at its length, solved by halving: the idle one lacks the slack."""
    assume(arm_m * math.sin(travel_rad) < 0.75 * horn_m)
    delta = four_bar(arm_m, horn_m, rod_m, -travel_rad)
    x = rod_m - horn_m * math.sin(delta) - arm_m * math.sin(travel_rad)
    y = arm_m * math.cos(travel_rad) - horn_m * math.cos(delta)
    lacks_m = max(0.0, math.hypot(x, y) - math.hypot(rod_m, horn_m - arm_m))
    assert surface.slack(arm_m, horn_m, rod_m, travel_rad) == pytest.approx(lacks_m, abs=2e-8)
    assert surface.slack(arm_m, horn_m, rod_m, -travel_rad) == surface.slack(arm_m, horn_m, rod_m, travel_rad)
