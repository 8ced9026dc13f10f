"""The radio link against figures by hand and published ones."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.reach import sums
from tests.support import reference

TABLE = reference("reach")
HZ = st.floats(26e6, 6e9)
HEIGHT = st.floats(0.02, 10.0)


@pytest.mark.parametrize("row", TABLE["link"]["rows"], ids=lambda row: f"{row[0]:.0f} dB")
def test_the_way_that_a_loss_allows(row: list[float]) -> None:
    """RL-1: P.525 prints a constant rounded to 0.1 dB, so that its distances are 0.6 % longer."""
    table = TABLE["link"]
    found = sums.free_space_reach(row[0], table["frequency"])
    assert found == pytest.approx(row[1], rel=table["tolerance"])
    assert sums.free_space(found, table["frequency"]) == pytest.approx(row[0])


@pytest.mark.parametrize("row", TABLE["two_rays"]["rows"], ids=lambda row: f"{row[1]} m, {row[2]:.0f} m off")
def test_two_rays(row: list[float]) -> None:
    """RL-2 to RL-4; in the air the two rays ripple, and free space counts."""
    frequency = TABLE["two_rays"]["frequency"]
    assert sums.two_rays(row[2], frequency, row[0], row[1]) == pytest.approx(row[3], abs=0.06)
    assert sums.free_space(row[2], frequency) == pytest.approx(row[4], abs=0.06)
    high = row[1] > 10.0
    assert sums.over_ground(row[2], frequency, row[0], row[1]) == pytest.approx(row[4] if high else row[3], abs=0.06)


def test_trees() -> None:
    """RL-5 and RL-6; the larger one counts."""
    for metres, lost in TABLE["p833"]["rows"]:
        assert sums.p833(metres) == pytest.approx(lost, abs=0.006)
    for ghz, metres, lost in TABLE["weissberger"]["rows"]:
        assert sums.weissberger(metres, ghz * 1e9) == pytest.approx(lost, abs=0.006)
        assert sums.trees(metres, ghz * 1e9) == pytest.approx(max(lost, sums.p833(metres)), abs=0.006)
    assert sums.trees(300.0, 35e6) == max(sums.p833(300.0), sums.weissberger(300.0, 35e6))


def test_a_range_check() -> None:
    row = TABLE["check"]
    assert sums.check_in_air(row["held_m"], row["less"]) == pytest.approx(row["air_m"], rel=0.005)
    assert sums.check_near_ground(row["held_m"], row["less"]) == pytest.approx(row["ground_m"], rel=0.01)


@given(st.floats(1.0, 20_000.0), st.floats(1.01, 3.0), HZ, HEIGHT, HEIGHT)
def test_over_ground_it_only_grows(metres: float, more: float, frequency: float, one: float, other: float) -> None:
    near, far = (sums.over_ground(each, frequency, one, other) for each in (metres, more * metres))
    assert near < far
    assert near >= sums.free_space(metres, frequency)


@given(st.floats(40.0, 140.0), HZ, HEIGHT, HEIGHT)
def test_the_reach_over_ground_is_its_inverse(loss: float, frequency: float, one: float, other: float) -> None:
    found = sums.over_ground_reach(loss, frequency, one, other)
    assert found <= sums.free_space_reach(loss, frequency) * (1.0 + 1e-9)
    assert sums.over_ground(found, frequency, one, other) <= loss + 1e-6
    assert sums.over_ground(found * 1.001, frequency, one, other) > loss


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        sums.free_space(0.0, 2.4e9)
    with pytest.raises(OutOfRangeError):
        sums.weissberger(401.0, 2.4e9)
    with pytest.raises(OutOfRangeError):
        sums.free_space(10.0, 2400.0)
