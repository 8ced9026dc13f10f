"""Straight pieces of series whose borders are known."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.subjects.flights import slope
from calc.subjects.flights.pieces import pieces
from tests.calc.subjects.flights.made import flight


@pytest.mark.parametrize(("step", "within"), [(1.0, 2.0), (0.1, 1.0), (0.3, 1.0)])
def test_the_borders_of_a_flight(step: float, within: float) -> None:
    """SG-1 and SG-2: rounded to 1 m, 0.1 m and 0.3 m."""
    points = flight(step_m=step)
    found = pieces(points, 4)
    assert [each.start_s for each in found[1:]] == pytest.approx([20.0, 45.0, 145.0], abs=within)
    assert [each.slope for each in found] == pytest.approx([0.0, 2.0, -0.5, 0.0], abs=0.01)
    assert len(pieces(points, step_m=step)) == 4


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_borders_under_noise(seed: int) -> None:
    """SG-2b: white noise of 0.5 m."""
    points = flight(noise_m=0.5, seed=seed)
    found = pieces(points, 4)
    assert [each.start_s for each in found[1:]] == pytest.approx([20.0, 45.0, 145.0], abs=3.0)
    glide = slope.repeated_median(points[50:140])
    assert glide == pytest.approx(-0.5, abs=0.008)


@settings(max_examples=25)
@given(st.lists(st.floats(-5.0, 5.0), min_size=15, max_size=18))
def test_no_other_borders_fit_better(heights: list[float]) -> None:
    """Against all ways to part a short series in three."""
    points = [(float(t), height) for t, height in enumerate(heights)]

    def squares(first: int, end: int) -> float:
        line = slope.least_squares(points[first:end])
        return sum((h - line.at_zero - line.slope * t) ** 2 for t, h in points[first:end])

    size = len(points)
    ways = [(0, a, b, size) for a, b in combinations(range(5, size - 4), 2) if b - a >= 5]
    best = min(sum(squares(a, b) for a, b in pairwise(way)) for way in ways)
    found = pieces(points, 3)
    assert sum(squares(each.first, each.end) for each in found) == pytest.approx(best, abs=1e-6)
