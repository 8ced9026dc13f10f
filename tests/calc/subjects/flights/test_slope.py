"""Slopes against printed and certified figures, and how often their spread holds the truth."""

import math
import random
from statistics import fmean, median, stdev

import pytest

from calc.errors import OutOfRangeError
from calc.subjects.flights import moving, slope
from tests.calc.subjects.flights.glides import AIRS, Air, glide, held
from tests.support import reference

TABLE = reference("flights")
Points = list[tuple[float, float]]


def theil_sen(points: Points) -> float:
    """Return the median slope of all pairs, a yardstick."""
    pairs = [(a, b) for at, b in enumerate(points) for a in points[:at]]
    return median((b[1] - a[1]) / (b[0] - a[0]) for a, b in pairs)


def test_sens_own_example() -> None:
    """SL-1, for the yardstick; the repeated median lies within the printed interval of 93 %."""
    row = TABLE["sen"]
    points = list(zip(map(float, row["x"]), map(float, row["y"]), strict=True))
    assert theil_sen(points) == row["slope"]
    assert median(row["y"]) - row["slope"] * median(row["x"]) == row["intercept"]
    assert 26 / 7 <= slope.repeated_median(points) <= 35 / 8


def test_certified_line() -> None:
    """SL-2: NIST."""
    row = TABLE["norris"]
    found = slope.least_squares(list(zip(row["x"], row["y"], strict=True)))
    assert found.slope == pytest.approx(row["slope"], rel=1e-12)
    assert found.spread == pytest.approx(row["spread"], rel=1e-8)
    assert found.at_zero == pytest.approx(row["at_zero"], rel=1e-8)


@pytest.mark.parametrize("row", TABLE["least_squares"]["rows"], ids=lambda row: f"{row[0]} samples")
def test_spread_of_independent_errors(row: list[float]) -> None:
    """SL-3: residuals made to have the deviation."""
    rng, count = random.Random(1), int(row[0])
    rough = [(float(t), rng.gauss(0.0, 1.0)) for t in range(count)]
    line = slope.least_squares(rough)
    left = [h - line.at_zero - line.slope * t for t, h in rough]
    scale = TABLE["least_squares"]["sigma_m"] / math.sqrt(sum(each * each for each in left) / (count - 2))
    found = slope.least_squares([(t, 40.0 - 0.5 * t + scale * e) for (t, _), e in zip(rough, left, strict=True)])
    assert found.slope == pytest.approx(-0.5)
    assert found.spread == pytest.approx(row[1], rel=2e-3)


@pytest.mark.parametrize("row", TABLE["correlated"]["rows"], ids=lambda row: f"r {row[0]}")
def test_correlated_residuals(row: list[float]) -> None:
    """SL-4: noted is the true scatter against the spread that least squares tell, and √((1 + r)/(1 − r))."""
    r, factor, simulated = row
    assert math.sqrt((1.0 + r) / (1.0 - r)) == pytest.approx(factor, abs=0.005)
    count, rng = TABLE["correlated"]["samples"], random.Random(2)
    # Of differences of samples whose errors are r^k apart: 2 r^k − r^(k+1) − r^|k−1|.
    covered = [2.0 * r**k - r ** (k + 1) - r ** abs(k - 1) for k in range(count - 1)]
    exact = math.sqrt(moving.of_slope(covered, 1.0) / (12.0 / (count**3 - count)))
    slopes, told = [], []
    for _ in range(1500):
        error, points = rng.gauss(0.0, 1.0), []
        for t in range(count):
            points.append((float(t), error))
            error = r * error + math.sqrt(1.0 - r * r) * rng.gauss(0.0, 1.0)
        line = slope.least_squares(points)
        slopes.append(line.slope)
        told.append(line.spread)
    assert stdev(slopes) / fmean(told) == pytest.approx(simulated, rel=0.05)
    assert stdev(slopes) / math.sqrt(12.0 / (count**3 - count)) == pytest.approx(exact, rel=0.05)


def test_what_moving_air_does_to_a_slope() -> None:
    """The covariances and the recursion against simulated air and against a matrix solved the long way."""
    air, step_s, count = Air(moves_m_s=0.3, lasts_s=4.0), 5.0, 11
    covered = moving.covariances(0.3, 4.0, step_s, count)
    slopes, lagged = [], [0.0, 0.0, 0.0]
    for seed in range(3000):
        sink, points = glide(seed, air, 60, 0.0, 1e-9)
        found = moving.blocks(points)
        errors = [each + sink * found.step_s for each in found.differences]
        for lag in range(3):
            lagged[lag] += fmean(a * b for a, b in zip(errors, errors[lag:], strict=False)) / 3000
        slopes.append(slope.least_squares(points).slope + sink)
    assert lagged == pytest.approx(covered[:3], rel=0.12)
    assert stdev(slopes) == pytest.approx(math.sqrt(moving.of_slope(covered, step_s)), rel=0.06)


def test_the_recursion_against_a_matrix() -> None:
    covered, seen = [1.0, 0.4, -0.1, 0.05], [0.3, -1.2, 0.8, 2.0]
    matrix = [[covered[abs(i - j)] for j in range(4)] for i in range(4)]
    solved, determinant = [], 1.0
    rows = [[*line, difference, 1.0] for line, difference in zip(matrix, seen, strict=True)]
    for at in range(4):  # Gauss's elimination
        determinant *= rows[at][at]
        for below in range(at + 1, 4):
            share = rows[below][at] / rows[at][at]
            rows[below] = [b - share * a for a, b in zip(rows[at], rows[below], strict=True)]
    for column in (4, 5):
        found = [0.0] * 4
        for at in reversed(range(4)):
            rest = sum(rows[at][k] * found[k] for k in range(at + 1, 4))
            found[at] = (rows[at][column] - rest) / rows[at][at]
        solved.append(found)
    squares, crossed, ones = (
        sum(map(math.prod, zip(*each, strict=True)))
        for each in ((seen, solved[0]), (seen, solved[1]), ([1.0] * 4, solved[1]))
    )
    expected = -0.5 * (math.log(determinant) + math.log(ones) + squares - crossed**2 / ones)
    assert moving.likelihood(seen, covered) == pytest.approx(expected)


def test_rising_air_moves_the_repeated_median_least() -> None:
    """SL-5 decides the method; where the rise begins was not noted: the place that gives the noted least squares."""
    row = TABLE["thermal"]

    def glide(start: int) -> Points:
        return [(float(t), 70.0 - 0.5 * t + 1.2 * min(20, max(0, t - start))) for t in range(140)]

    at = min(range(120), key=lambda start: abs(slope.least_squares(glide(start)).slope - row["least_squares"]))
    points = glide(at)
    assert slope.least_squares(points).slope == pytest.approx(row["least_squares"], abs=0.002)
    assert (points[-1][1] - points[0][1]) / 139.0 == pytest.approx(row["end_to_end"], abs=5e-4)
    assert theil_sen(points) == pytest.approx(row["theil_sen"], abs=0.02)
    assert slope.repeated_median(points) == pytest.approx(row["siegel"], abs=5e-4)
    assert slope.robust(points).spread > 0.05  # and it is told that the air moved


@pytest.mark.parametrize("name", AIRS)
def test_how_often_the_spread_holds_the_truth(name: str) -> None:
    """60 seeds of one record; those of 500 seeds, each length and record are in tests/README.md."""
    found = held(AIRS[name], 120, (0.3, 0.1), 60)
    assert found.held >= 0.86
    if not AIRS[name].thermals:  # lift is sought, so that a bias is left
        assert abs(found.bias) < 0.05


def test_a_quiet_record_is_not_told_worse_than_it_is() -> None:
    found = held(AIRS["still"], 120, (0.3, 0.1), 60)
    textbook = 2.0 * math.sqrt(math.pi / 2.0 * 12.0 * 0.3**2 / 120**3)
    assert 0.95 * textbook < found.width < 1.5 * textbook


def test_many_samples_are_thinned() -> None:
    points = [(t / 10.0, 50.0 - 0.05 * t) for t in range(5000)]
    assert len(slope.thinned(points)) == 200
    assert slope.robust(points).slope == pytest.approx(-0.5)
    assert slope.thinned(points[:150]) == points[:150]
    assert slope.robust(points[:12]).slope == pytest.approx(-0.5)  # too few for pieces


def test_what_makes_no_sense_is_refused() -> None:
    for points in ([], [(1.0, 2.0)], [(1.0, 2.0), (1.0, 3.0)]):
        with pytest.raises(OutOfRangeError):
            slope.repeated_median(points)
    with pytest.raises(OutOfRangeError):
        slope.robust([(0.0, 1.0), (1.0, 2.0), (2.0, 3.0)])
