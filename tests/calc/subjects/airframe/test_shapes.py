"""Shapes, areas and damp wood against figures from outside (NEXT 3, AB-1 to AB-7, HU-1 to HU-5)."""

from collections.abc import Callable
from math import cos, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import units
from calc.errors import OutOfRangeError
from calc.subjects.airframe import moisture, shapes
from calc.subjects.airframe.materials import table
from calc.subjects.airframe.shapes import Planform
from calc.subjects.stock import sums as stock
from tests.support import reference

TABLE = reference("airframe")
WING = Planform(span_m=0.8, root_m=0.12, tip_m=0.08)


def test_a_sheet_of_known_density() -> None:
    """AB-1, both ways: mass from density, and density and grade from the scale."""
    sheet = TABLE["sheet"]
    thick_m, wide_m, long_m = (units.to_si(each, "in", "length") for each in sheet["size_in"])
    density = units.to_si(sheet["density_lb_ft3"], "lb/ft³", "density")
    found = stock.strip(wide_m, thick_m, long_m, density)
    assert found * 1e3 == pytest.approx(sheet["mass_g"], abs=0.05)
    assert units.from_si(found, "oz", "mass") == pytest.approx(sheet["mass_oz"], abs=0.0005)
    assert shapes.sheet_density(found, long_m, wide_m, thick_m) == pytest.approx(density, rel=1e-12)
    assert shapes.grade(density) == "contest, the lightest"


def test_a_rolled_tube_and_a_boom() -> None:
    """AB-2 and AB-3."""
    assert shapes.shell(0.025, 0.025, 0.4, 0.0008, 110.0) * 1e3 == pytest.approx(TABLE["tube"]["mass_g"], abs=5e-4)
    assert shapes.wall(0.012, 0.005, 0.45) == pytest.approx(TABLE["cone"]["wall_m2"], abs=5e-7)
    assert shapes.shell(0.012, 0.005, 0.45, 0.0008, 110.0) * 1e3 == pytest.approx(TABLE["cone"]["mass_g"], abs=5e-4)


def test_areas_and_mean_chords() -> None:
    """AB-4 and AB-7; an ellipse's mean chord is the integral of the square of its chords."""
    assert shapes.area(WING) == pytest.approx(TABLE["trapezoid"]["area_m2"], abs=5e-5)
    assert shapes.mean_chord(WING) == pytest.approx(TABLE["trapezoid"]["chord_m"], abs=5e-6)
    ellipse = Planform(span_m=0.8, root_m=0.12, tip_m=0.0, ellipse=True)
    assert shapes.area(ellipse) == pytest.approx(TABLE["ellipse"]["area_m2"], abs=5e-6)
    steps = 2000
    squares = sum(0.12**2 * (1.0 - ((2 * at + 1) / steps - 1.0) ** 2) for at in range(steps))
    assert shapes.mean_chord(ellipse) == pytest.approx(squares * 0.8 / steps / shapes.area(ellipse), rel=1e-6)


def test_a_rib_is_the_integral_of_its_form() -> None:
    """AB-5, with the thickness form integrated here."""
    rib, steps = TABLE["rib"], 20_000
    powers = (0.5, 1.0, 2.0, 3.0, 4.0)
    total = 0.0
    for step in range(steps):
        x = (step + 0.5) / steps
        total += 2.0 * 5.0 * 0.08 * sum(factor * x**power for factor, power in zip(rib["form"], powers, strict=True))
    assert shapes.rib_area(0.12, 0.08) * 1e4 == pytest.approx(rib["area_cm2"], abs=0.005)
    assert shapes.rib_area(0.12, 0.08) == pytest.approx(total / steps * 0.12**2, rel=1e-4)


def test_ribs_by_pitch() -> None:
    """AB-6; a pitch that goes into the span adds no rib by rounding."""
    assert shapes.rib_count(0.76, 0.05) == TABLE["ribs"]["count"]
    assert shapes.rib_count(0.6, 0.2) == 4  # 0.6/0.2 is 2.9999999999999996 or above, by floats
    assert shapes.rib_count(0.02, 0.05) == 2
    straight = Planform(span_m=0.76, root_m=0.12, tip_m=0.12)
    one_kg = shapes.rib_area(0.12, 0.08) * 0.0008 * 110.0
    assert shapes.ribs(straight, 0.05, 0.08, 0.0008, 110.0) == pytest.approx(17 * one_kg, rel=1e-12)


def test_a_flat_frame_is_its_strips() -> None:
    """Edges 2 × 300 mm and 7 ribs of 80 mm are 1160 mm of strip, whose mass stock has."""
    plan = Planform(span_m=0.3, root_m=0.08, tip_m=0.08)
    assert shapes.flat_frame(plan, 0.05, 0.002, 0.002, 120.0) == pytest.approx(
        stock.strip(0.002, 0.002, 1.16, 120.0), rel=1e-12
    )


@given(st.floats(0.0, 60.0), st.integers(1, 2))
def test_dihedral_is_covered_along_the_slope(degrees: float, sides: int) -> None:
    plan = Planform(span_m=0.2, root_m=0.1, tip_m=0.06, dihedral_rad=radians(degrees))
    assert shapes.covered(plan, sides) == pytest.approx(sides * 0.016 / cos(radians(degrees)), rel=1e-12)


@pytest.mark.parametrize(("celsius", "humidity", "percent", "allowed"), TABLE["moisture"]["rows"])
def test_moisture_against_read_values(celsius: float, humidity: float, percent: float, allowed: float) -> None:
    """HU-1 and HU-2."""
    assert moisture.moisture(celsius, humidity) * 100 == pytest.approx(percent, abs=allowed)


def test_moisture_against_the_table() -> None:
    """HU-1 as printed, HU-3."""
    assert moisture.moisture(60.0, 0.55) * 100 == pytest.approx(TABLE["moisture"]["handbook_60"], abs=0.1)
    rows = TABLE["moisture_table"]
    for humidity, percent in zip(rows["humidity"], rows["percent"], strict=True):
        assert moisture.moisture(21.1, humidity) * 100 == pytest.approx(percent, abs=0.05)


def test_from_the_warm_room_to_the_damp_field() -> None:
    """HU-4 and HU-5."""
    damp, room, field = TABLE["damp"], (20.0, 0.40), (12.0, 0.85)
    assert moisture.moisture(*room) * 100 == pytest.approx(damp["from_percent"], abs=0.005)
    assert moisture.moisture(*field) * 100 == pytest.approx(damp["to_percent"], abs=0.005)
    assert moisture.gain(room, field) == pytest.approx(damp["gain"], abs=5e-4)
    assert 20.0 * moisture.gain(room, field) == pytest.approx(damp["mass_g"], abs=0.005)
    assert moisture.gain(field, field) == 1.0


def test_densities_of_wood_are_within_what_was_read() -> None:
    wood = TABLE["wood"]
    for key, pounds in wood["balsa_lb_ft3"].items():
        assert table()[key].density_kg_m3 == pytest.approx(units.to_si(pounds, "lb/ft³", "density"), rel=0.01)
    for gravity, density in zip(wood["spruce_gravity"], wood["spruce_kg_m3"], strict=True):
        assert 1000.0 * gravity * 1.12 == pytest.approx(density, rel=0.005)
    assert wood["spruce_kg_m3"][0] < (table()["spruce"].density_kg_m3 or 0.0) < wood["spruce_kg_m3"][1]


def test_every_material_says_where_it_is_from() -> None:
    marks = {"read", "follows", "common practice, no source", "from memory"}
    for each in table().values():
        assert each.source
        assert each.mark in marks
        assert (each.density_kg_m3 is None) != (each.areal_kg_m2 is None)
        assert 0.0 < each.either <= 0.5


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: shapes.area(Planform(span_m=0.0, root_m=0.1, tip_m=0.1)),
        lambda: shapes.area(Planform(span_m=0.1, root_m=0.1, tip_m=-0.1)),
        lambda: shapes.covered(WING, 3),
        lambda: shapes.rib_count(0.5, 0.0),
        lambda: shapes.chords(WING, 1),
        lambda: shapes.rib_area(0.1, 0.6),
        lambda: shapes.wall(0.0, 0.01, 0.1),
        lambda: shapes.shell_centre(0.0, 0.01),
        lambda: shapes.sheet_density(0.0, 1.0, 0.1, 0.001),
        lambda: shapes.grade(0.0),
        lambda: moisture.moisture(20.0, 1.1),
        lambda: moisture.moisture(90.0, 0.5),
    ],
)
def test_what_is_out_of_range_is_refused(wrong: Callable[[], object]) -> None:
    with pytest.raises(OutOfRangeError):
        wrong()
