"""The air against standard tables, and what the grams cost in it."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import units
from calc.errors import OutOfRangeError
from calc.subjects.air import sums as air
from tests.support import reference, refused

TABLE = reference("air")
MASS = st.floats(0.002, 2.0)
AREA = st.floats(0.005, 1.0)
FACTOR = st.floats(2.0, 20.0)


def geometric(geopotential_m: float) -> float:
    """Return the geometric height of a geopotential one, z = r H / (r - H), which follows from H = r z / (r + z)."""
    return air.EARTH_M * geopotential_m / (air.EARTH_M - geopotential_m)


@given(st.floats(-400.0, 10_000.0))
def test_geopotential_height_is_the_inverse_of_geometric(metres: float) -> None:
    assert air.geopotential(geometric(metres)) == pytest.approx(metres, abs=1e-6)


def test_density_at_geopotential_heights() -> None:
    """Two libraries, ambiance 1.3.1 and fluids 1.3.1."""
    table = TABLE["geopotential"]
    for metres, density in zip(table["metres"], table["density"], strict=True):
        assert air.density(geometric(metres)) == pytest.approx(density, abs=table["tolerance"])


def test_density_on_a_warm_day() -> None:
    """The same libraries, ten kelvin warmer."""
    table = TABLE["warm"]
    for metres, density in zip(table["metres"], table["density"], strict=True):
        warm_k = air.standard_temperature(metres) + table["warmer_k"]
        assert air.density(geometric(metres), warm_k) == pytest.approx(density, abs=table["tolerance"])


def test_density_at_geometric_heights() -> None:
    """Mechanical Engineers' Handbook, volume 4, table 6."""
    table = TABLE["geometric"]
    for metres, density in zip(table["metres"], table["density"], strict=True):
        assert air.density(metres) == pytest.approx(density, abs=table["tolerance"])


def test_the_ends_of_the_range_belong_to_it() -> None:
    assert air.density(11_000.0) < air.density(-500.0)
    assert air.density(0.0, 340.0) < air.density(0.0, 200.0)


@given(st.floats(-500.0, 9_000.0), st.floats(1.0, 1000.0), st.floats(220.0, 320.0), st.floats(0.1, 19.0))
def test_higher_and_warmer_air_is_thinner(metres: float, up_m: float, kelvin: float, warmer_k: float) -> None:
    assert air.density(metres + up_m) < air.density(metres)
    assert air.density(metres, kelvin + warmer_k) < air.density(metres, kelvin)


def test_glide_worked_out() -> None:
    """Loading, speed and sink of a glider of 100 g, and its sink at 110 g."""
    table = TABLE["glide"]
    lift, area, density = table["lift_coefficient"], table["area_m2"], table["density"]
    factor = lift**1.5 / table["drag_coefficient"]
    loading = units.from_si(table["mass_kg"] / area, "g/dm²", "loading")
    assert loading == pytest.approx(table["loading_g_dm2"], abs=5e-4)
    speed = air.glide_speed(table["mass_kg"], area, density, lift)
    assert speed == pytest.approx(table["speed"], abs=5e-4)
    sink = air.sink_speed(table["mass_kg"], area, density, factor)
    assert sink == pytest.approx(table["sink"], abs=5e-5)
    assert air.sink_speed(table["heavier_kg"], area, density, factor) == pytest.approx(table["heavier_sink"], abs=5e-5)


@given(MASS, AREA, st.floats(0.7, 1.4), st.floats(0.2, 1.5), st.floats(0.02, 0.3))
def test_sink_is_speed_over_glide_ratio(mass: float, area: float, density: float, lift: float, drag: float) -> None:
    """In a shallow steady glide the sink is the speed times CD ÷ CL."""
    speed = air.glide_speed(mass, area, density, lift)
    assert air.sink_speed(mass, area, density, lift**1.5 / drag) == pytest.approx(speed * drag / lift, rel=1e-9)


def test_what_ten_grams_more_cost() -> None:
    table = TABLE["growth"]
    before_kg, after_kg = table["from_kg"], table["to_kg"]

    def sink(mass_kg: float) -> float:
        return air.sink_speed(mass_kg, 0.12, 1.225, 8.0)

    def seconds(mass_kg: float) -> float:
        return air.energy_time(50.0, 0.5, mass_kg, sink(mass_kg))

    assert (sink(after_kg) / sink(before_kg) - 1) * 100 == pytest.approx(table["sink_percent"], abs=0.005)
    assert (seconds(after_kg) / seconds(before_kg) - 1) * 100 == pytest.approx(table["motor_time_percent"], abs=0.05)


@given(MASS, st.floats(1.01, 3.0), AREA, FACTOR)
def test_time_falls_with_the_mass(mass_kg: float, times: float, area_m2: float, factor: float) -> None:
    """Energy-limited with the power −1.5, height-limited with −0.5."""
    light = air.sink_speed(mass_kg, area_m2, 1.225, factor)
    heavy = air.sink_speed(times * mass_kg, area_m2, 1.225, factor)
    spent = air.energy_time(30.0, 0.5, times * mass_kg, heavy) / air.energy_time(30.0, 0.5, mass_kg, light)
    assert spent == pytest.approx(times**-1.5, rel=1e-9)
    assert air.height_time(50.0, heavy) / air.height_time(50.0, light) == pytest.approx(times**-0.5, rel=1e-9)


def test_the_best_rubber_is_twice_the_airframe() -> None:
    """Contest-rubber literature; found by a scan of the still-air time over rubber in steps of 0.1 g."""
    table, airframe_kg, energy_j_kg = TABLE["best_rubber"], 0.040, 5000.0

    def seconds(rubber_kg: float) -> float:
        mass_kg = airframe_kg + rubber_kg
        sink = air.sink_speed(mass_kg, 0.12, 1.225, 8.0)
        return air.energy_time(energy_j_kg * rubber_kg, 0.5, mass_kg, sink)

    best_kg = max((step / 1e4 for step in range(1, 3000)), key=seconds)
    assert best_kg == pytest.approx(table["times_airframe"] * airframe_kg, abs=0.5e-4)
    # time ÷ (η e / (g w of the bare airframe)) is m_r √m_a / (m_a + m_r)^1.5
    bare = 0.5 * energy_j_kg / (air.GRAVITY * air.sink_speed(airframe_kg, 0.12, 1.225, 8.0))
    assert seconds(best_kg) / bare == pytest.approx(table["maximum"], abs=table["tolerance"])


def test_energy_of_contest_rubber() -> None:
    """2500 ft lb/lb as read, by NIST SP 811's units."""
    table = TABLE["rubber_energy"]
    found = units.parse(table["text"], "specific energy", "metric").si / 1e3
    assert found == pytest.approx(table["kj_kg"], abs=table["tolerance_kj_kg"])


def test_a_sport_flight_lies_in_the_band() -> None:
    """Common practice, no source: energy, efficiency, area and glide factor are assumed, see the table."""
    table = TABLE["sport_rubber"]
    mass_kg = table["mass_kg"] + table["rubber_kg"]
    sink = air.sink_speed(mass_kg, table["area_m2"], table["density"], table["glide_factor"])
    spent = air.energy_time(table["energy_j_kg"] * table["rubber_kg"], table["efficiency"], mass_kg, sink)
    glided = air.height_time(table["height_m"], sink)
    for seconds in (spent, glided):
        assert table["seconds"] / table["band"] <= seconds <= table["seconds"] * table["band"]


@given(MASS, AREA, st.floats(0.7, 1.4), FACTOR, st.floats(5.0, 100.0))
def test_a_timed_glide_shows_the_glide_factor(
    mass_kg: float, area_m2: float, density: float, factor: float, height_m: float
) -> None:  # fmt: skip
    glide_s = air.height_time(height_m, air.sink_speed(mass_kg, area_m2, density, factor))
    assert air.glide_factor_of(height_m, glide_s, mass_kg, area_m2, density) == pytest.approx(factor, rel=1e-9)


@given(MASS, st.floats(0.1, 1.5), st.floats(0.05, 1.0), st.floats(0.05, 0.95))
def test_a_timed_flight_shows_the_efficiency(
    mass_kg: float, sink: float, efficiency: float, glide_share: float
) -> None:
    """The time that an efficiency gives, flown as motor run and glide, shows the efficiency again."""
    whole_s = air.energy_time(50.0, efficiency, mass_kg, sink)
    glide_s = glide_share * whole_s
    found = air.efficiency_of(50.0, mass_kg, sink * glide_s, glide_s, whole_s - glide_s)
    assert found == pytest.approx(efficiency, rel=1e-9)


@pytest.mark.parametrize(
    ("sum_", "sound"),
    [
        (air.glide_speed, (0.1, 0.12, 1.225, 0.7)),
        (air.sink_speed, (0.1, 0.12, 1.225, 8.0)),
        (air.energy_time, (50.0, 0.5, 0.065, 0.4)),
        (air.height_time, (50.0, 0.4)),
        (air.glide_factor_of, (43.66, 100.0, 0.1, 0.12, 1.225)),
        (air.efficiency_of, (50.0, 0.065, 37.0, 85.0)),
    ],
)
def test_zero_and_no_number_are_refused(sum_: Callable[..., float], sound: tuple[float, ...]) -> None:
    """Every argument in turn; `efficiency_of` takes a motor run of nothing, a catapult has none."""
    last = (0.0,) if sum_ is air.efficiency_of else ()
    assert sum_(*sound, *last) > 0.0
    for index in range(len(sound)):
        for bad in (0.0, -1.0, math.nan):
            with pytest.raises(OutOfRangeError, match=f"is {bad}"):
                sum_(*sound[:index], bad, *sound[index + 1 :], *last)


@pytest.mark.parametrize(
    ("sum_", "arguments"),
    [
        (air.density, (-501.0,)),
        (air.density, (11_001.0,)),
        (air.density, (math.nan,)),
        (air.density, (0.0, 199.0)),
        (air.density, (0.0, 341.0)),
        (air.pressure, (11_001.0,)),
        (air.energy_time, (50.0, 1.01, 0.065, 0.4)),
        (air.efficiency_of, (50.0, 0.065, 37.0, 85.0, -1.0)),
    ],
)
def test_impossible_arguments_are_refused(sum_: Callable[..., float], arguments: tuple[float, ...]) -> None:
    with pytest.raises(OutOfRangeError):
        sum_(*arguments)


@pytest.mark.parametrize(
    ("sum_", "arguments"),
    [
        (air.geopotential, (11_000.0,)),
        (air.standard_temperature, (10_999.5,)),
    ],
)
def test_what_lies_just_inside_is_taken(sum_: Callable[..., float], arguments: tuple[object, ...]) -> None:
    """Found by mutation testing: nothing noticed when such an end was moved."""
    assert sum_(*arguments) > 0.0


@pytest.mark.parametrize(
    ("sum_", "arguments", "name"),
    [
        (air.geopotential, (-500.5,), "height_m"),
        (air.standard_temperature, (-501.0,), "geopotential_m"),
    ],
)
def test_what_lies_just_outside_is_refused(
    sum_: Callable[..., float], arguments: tuple[object, ...], name: str
) -> None:  # fmt: skip
    assert refused(sum_, arguments) == name
