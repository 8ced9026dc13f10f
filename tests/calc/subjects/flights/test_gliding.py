"""Glides whose rising pieces are cut out: what is left, how it is joined, and what a join may turn."""

import random
from math import sqrt
from statistics import fmean, stdev

import pytest

from calc.subjects.flights import pieces
from calc.subjects.flights.gliding import Sinking, cuts, joined, sink_between
from calc.subjects.flights.pieces import Piece
from calc.subjects.flights.slope import least_squares
from tests.calc.subjects.flights import glides as made

Points = list[tuple[float, float]]


def glide(rises: list[tuple[float, float, float]], seconds: int = 120, noise_m: float = 0.0, seed: int = 1) -> Points:
    """Return a glide of 0.5 m/s a sample a second, with rises from, to [s] and so strong [m/s]."""
    rng = random.Random(seed)
    lifted = [sum(m_s * min(end - start, max(0.0, t - start)) for start, end, m_s in rises) for t in range(seconds)]
    return [(float(t), 80.0 - 0.5 * t + up + rng.gauss(0.0, noise_m)) for t, up in enumerate(lifted)]


def test_what_a_step_does_to_a_line() -> None:
    """6 x (1 − x)/T of the step, against least squares through many points: the textbook's sums."""
    count = 2001
    for share in (0.1, 0.5, 0.7):
        points = [(t / 20.0, 0.3 if t / (count - 1) > share else 0.0) for t in range(count)]
        assert least_squares(points).slope == pytest.approx(0.3 * 6.0 * share * (1.0 - share) / 100.0, rel=5e-3)


def test_how_well_the_end_of_a_line_is_known() -> None:
    """U √(4/n), against simulated lines."""
    rng, count = random.Random(3), 40
    ends = []
    for _ in range(2000):
        found = least_squares([(float(t), rng.gauss(0.0, 0.3)) for t in range(count)])
        ends.append(found.at_zero)
    assert stdev(ends) == pytest.approx(0.3 * sqrt(4.0 / count), rel=0.06)


def test_a_rise_is_cut_out_and_the_ends_meet() -> None:
    points = glide([(30.0, 50.0, 1.3), (80.0, 90.0, 2.0)])
    found = joined(points, pieces.pieces(points), 0.0, 119.0)
    assert found.cut_s == pytest.approx(30.0, abs=3.0)
    assert len(found.joins) == 2
    assert all(h == pytest.approx(80.0 - 0.5 * t, abs=0.01) for t, h in found.points)
    assert found.lasts_s == pytest.approx(119.0 - found.cut_s, abs=0.01)


def test_a_rise_at_the_beginning_or_the_end_is_cut_without_a_join() -> None:
    points = glide([(0.0, 20.0, 1.0), (100.0, 120.0, 1.0)])
    found = joined(points, pieces.pieces(points), 0.0, 119.0)
    assert found.joins == []
    assert 19.0 <= found.points[0][0] <= 22.0
    assert 98.0 <= found.points[-1][0] <= 101.0
    assert found.cut_s == pytest.approx(39.0, abs=3.0)
    told = sink_between(points, pieces.pieces(points), (0.0, 119.0), 0.0)
    assert told.slope is not None
    assert told.slope.slope == pytest.approx(-0.5, abs=0.002)
    assert told.from_s == found.lasts_s
    assert told.moving_s == pytest.approx(found.cut_s, abs=1.0)
    assert not told.all_of_it


def test_strong_air_that_moves_all_the_time_is_not_cut() -> None:
    """What rises is then of the same air as what sinks: without it the sink would be told too large.

    The mean of twenty glides in air of 0.8 m/s that keeps its direction for 5 s: ± 0.07 m/s is twice what the wander
    2 s² τ t leaves of it in 240 s.
    """
    found = []
    for seed in range(20):
        sink, points = made.glide(seed, made.AIRS["0.8 m/s for 5 s"], 240, 0.1, 0.1)
        told = sink_between(points, pieces.pieces(points, step_m=0.1), (0.0, 240.0), 0.1)
        assert told.slope is not None
        assert told.from_s == 239.0
        assert told.all_of_it or not cuts(points, pieces.pieces(points, step_m=0.1))
        assert told.moving_s > 60.0
        found.append(told.slope.slope + sink)
    assert fmean(found) == pytest.approx(0.0, abs=2.0 * sqrt(2.0 * 0.8**2 * 5.0 / 240.0 / 20.0))


def test_a_glide_that_strong_air_carries_upward_still_has_a_sink_from_what_falls() -> None:
    """As much air as carries it up through the whole: a glide that rises has no sink, so what rises is left out."""
    found = []
    for seed in range(40):
        _, points = made.glide(seed, made.AIRS["0.8 m/s for 5 s"], 60, 0.1, 0.1)
        told = sink_between(points, pieces.pieces(points, step_m=0.1), (0.0, 60.0), 0.1).slope
        if told is not None and points[-1][1] > points[0][1]:
            found.append(told.slope)
    assert found
    assert max(found) < 0.0


def test_nothing_but_a_rise_has_no_sink() -> None:
    rising = [(float(t), 0.5 * t) for t in range(60)]
    whole = [Piece(first=0, end=60, start_s=0.0, end_s=59.0, slope=0.5, start_m=0.0)]
    assert cuts(rising, whole)[0].rose_m == 0.0
    assert joined(rising, whole, 0.0, 59.0).points == []
    assert joined(rising, whole, 70.0, 90.0).points == []
    assert sink_between(rising, whole, (0.0, 59.0), 0.0) == Sinking(slope=None, from_s=0.0)


def test_a_join_that_is_badly_known_widens_the_sink() -> None:
    points = glide([(50.0, 70.0, 1.5)], noise_m=0.3)
    parts = pieces.pieces(points)
    found = joined(points, parts, 0.0, 119.0)
    (second, wide), *more = found.joins
    assert not more
    assert wide == pytest.approx(4.0 / 50.0 + 4.0 / 49.0, rel=0.1)
    sink = sink_between(points, parts, (0.0, 119.0), 0.0).slope
    assert sink is not None
    alone = sink_between(found.points, [], (0.0, 119.0), 0.0).slope
    assert alone is not None
    share = second / found.lasts_s
    turned = 0.3 * sqrt(wide) * 6.0 * share * (1.0 - share) / found.lasts_s
    assert sqrt(sink.spread**2 - alone.spread**2) == pytest.approx(turned, rel=0.25)  # its own noise, not 0.3


def test_moving_air_is_told_in_a_long_glide_and_in_a_sparse_one() -> None:
    """An hour with three minutes of lift that no piece shows; a sample in 12 s, so that windows are three points."""
    hour = [(float(t), 2000.0 - 0.5 * t + 0.45 * min(180.0, max(0.0, t - 1800.0))) for t in range(3600)]
    moving_s = sink_between(hour, [], (0.0, 3600.0), 0.0).moving_s
    assert moving_s == pytest.approx(180.0, abs=20.0)
    sparse = glide([(480.0, 840.0, 0.45)], seconds=1200)[::12]
    moving_s = sink_between(sparse, [], (0.0, 1200.0), 0.0).moving_s
    assert moving_s == pytest.approx(360.0, abs=48.0)
