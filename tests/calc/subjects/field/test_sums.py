"""Wind, drift, coming back and circles against figures by hand and printed ones."""

from collections.abc import Callable
from math import cos, degrees, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.air.sums import glide_speed
from calc.subjects.field import sums
from tests.support import reference

TABLE = reference("field")
WIND = st.floats(0.0, 20.0)
HEIGHT = st.floats(2.0, 150.0)
ROUGHNESS = st.sampled_from(list(sums.ROUGHNESS_M.values()))


@pytest.mark.parametrize("row", TABLE["turn"]["rows"], ids=lambda row: f"{row[0]:.0f} deg")
def test_a_circle_by_its_bank(row: list[float]) -> None:
    """AR-1: radius, seconds and sink at 4 m/s; and the bank comes back from the seconds."""
    speed, bank = TABLE["turn"]["speed_m_s"], radians(row[0])
    radius = sums.turn_radius(speed, bank)
    seconds = 2.0 * pi * radius / speed
    assert radius == pytest.approx(row[1], abs=0.006)
    assert seconds == pytest.approx(row[2], abs=0.06)
    assert sums.sink_in_circle(1.0, bank) == pytest.approx(row[3], abs=6e-4)
    straight = speed * sqrt(cos(bank))
    assert degrees(sums.bank_of_circle(straight, seconds)) == pytest.approx(row[0])


@pytest.mark.parametrize("row", TABLE["printed_turns"]["rows"], ids=lambda row: f"{row[2]:.0f} ft")
def test_printed_radii(row: list[float]) -> None:
    """AR-2 and AR-3: the pages' constants differ by half a percent."""
    table = TABLE["printed_turns"]
    found = sums.turn_radius(row[0] * table["knot_m_s"], radians(row[1])) / table["foot_m"]
    assert found == pytest.approx(row[2], rel=row[3])


def test_light_and_slow_turns_tight() -> None:
    """AR-4: the radius from loading and lift alone, another way than by speed."""
    row = TABLE["light"]
    bank = radians(row["bank_deg"])
    straight = glide_speed(row["loading_kg_m2"], 1.0, row["density_kg_m3"], row["lift"])
    assert straight == pytest.approx(row["straight_m_s"], abs=0.006)
    found = sums.turn_radius(straight / sqrt(cos(bank)), bank)
    assert found == pytest.approx(row["radius_m"], abs=0.006)
    assert found == pytest.approx(2.0 * row["loading_kg_m2"] / (row["density_kg_m3"] * row["lift"] * sin(bank)))


@pytest.mark.parametrize("row", TABLE["drift"]["rows"], ids=str)
def test_drift(row: list[float]) -> None:
    """AR-5."""
    assert sums.drift(row[0], row[1]) == row[2]


def test_both_laws_of_wind_over_height() -> None:
    """AR-6 and AR-7."""
    for height, wind in TABLE["power_law"]["rows"]:
        assert sums.wind_power(3.0, 10.0, height, TABLE["power_law"]["exponent"]) == pytest.approx(wind, abs=0.006)
    for height, factor in TABLE["log_law"]["rows"]:
        assert sums.wind_log(1.0, 2.0, height, TABLE["log_law"]["roughness_m"]) == pytest.approx(factor, abs=6e-4)


def test_the_roughness_is_that_of_the_classes() -> None:
    table = TABLE["roughness"]
    assert {name: table[name.replace(" ", "_")] for name in sums.ROUGHNESS_M} == sums.ROUGHNESS_M


def test_coming_back() -> None:
    """AR-8."""
    row = TABLE["back"]
    flown = (row["speed_m_s"], row["wind_m_s"], row["sink_m_s"])
    assert sums.upwind(*flown, row["height_m"]) == pytest.approx(row["upwind_m"], abs=0.5)
    assert sums.across(*flown, row["height_m"]) == pytest.approx(row["across_m"], abs=0.5)
    assert sums.downwind(*flown, row["height_m"]) == pytest.approx(row["downwind_m"], abs=0.5)
    assert sums.turn_back_height(*flown, row["away_m"]) == pytest.approx(row["turn_back_m"], abs=0.05)


@given(WIND, HEIGHT, HEIGHT, ROUGHNESS)
def test_the_mean_wind_is_that_of_the_layers(wind: float, at_m: float, top_m: float, roughness_m: float) -> None:
    """Layer by layer, each law alone: the stronger one counts, and it is no stronger than the wind aloft."""
    steps = 2000
    layers = [top_m * (step + 0.5) / steps for step in range(steps)]
    by_log = sum(sums.wind_log(wind, at_m, z, roughness_m) for z in layers if z > roughness_m) / steps
    by_power = sum(sums.wind_power(wind, at_m, z) for z in layers) / steps
    mean = sums.wind_mean(wind, at_m, top_m, roughness_m)
    assert mean == pytest.approx(max(by_log, by_power), rel=5e-3, abs=1e-6)
    assert mean <= sums.wind_aloft(wind, at_m, top_m, roughness_m) + 1e-9


@given(st.floats(1.0, 15.0), st.floats(1.0, 120.0))
def test_a_circle_turns_in_its_seconds(speed: float, seconds: float) -> None:
    """Twice the same radius: from speed and bank, and from the way round."""
    bank = sums.bank_of_circle(speed, seconds)
    if bank < 1.55:
        in_circle = speed / sqrt(cos(bank))
        assert sums.turn_radius(in_circle, bank) == pytest.approx(in_circle * seconds / (2.0 * pi), rel=1e-6)
        assert 9.80665 * tan(bank) / in_circle == pytest.approx(2.0 * pi / seconds, rel=1e-6)


@given(st.floats(1.0, 15.0), WIND, st.floats(0.1, 3.0), HEIGHT)
def test_more_wind_never_helps_to_come_back(speed: float, wind: float, sink: float, height: float) -> None:
    for way in (sums.upwind, sums.across):
        assert way(speed, wind + 1.0, sink, height) <= way(speed, wind, sink, height)
    calm, windy = (sums.turn_back_height(speed, each, sink, 100.0) for each in (wind, wind + 1.0))
    assert windy is None or (calm is not None and windy > calm)


@pytest.mark.parametrize(
    ("law", "given_"),
    [
        (sums.wind_log, (1.0, 0.01, 10.0, 0.03)), (sums.drift, (-1.0, 3.0)), (sums.turn_radius, (4.0, 0.0)),
        (sums.bank_of_circle, (0.0, 3.0)), (sums.upwind, (4.0, 1.0, 0.0, 10.0)), (sums.wind_power, (1.0, 2.0, 0.0)),
        (sums.sink_in_circle, (1.0, 1.6)),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_refused(law: Callable[..., float], given_: tuple[float, ...]) -> None:
    with pytest.raises(OutOfRangeError):
        law(*given_)
