"""Masses, growth and spread."""

import math

import pytest

from calc.errors import OutOfRangeError
from calc.subjects.weights import masses
from calc.subjects.weights.masses import Part
from calc.vocabulary import KnownBy
from tests.support import reference

TABLE = reference("masses")


@pytest.mark.parametrize(("key", "known_by"), [("off_the_shelf_g", "maker"), ("new_g", "guess")])
def test_growth_is_that_of_the_maturity_margins(key: str, known_by: KnownBy) -> None:
    """ECSS-E-ST-10-02C categories, as quoted in an ESA instrument interface document."""
    nominal_g, grown_g = TABLE["growth"][key]
    part = Part(mass_kg=nominal_g / 1e3, known_by=known_by)
    assert masses.expected_mass(part) == pytest.approx(grown_g / 1e3, rel=1e-12)


def test_resolution_gives_its_standard_uncertainty() -> None:
    """JCGM 100:2008 (GUM) F.2.2.1, from memory: u = 0.289 of the division."""
    found = masses.standard_uncertainty(Part(mass_kg=0.001), 0.0001)
    assert found / 0.0001 == pytest.approx(TABLE["resolution"]["u_per_division"], abs=0.0005)
    assert found == pytest.approx(0.0001 / math.sqrt(12), rel=1e-12)


def test_equal_weighed_parts_lie_on_the_scale_together() -> None:
    one, three = Part(mass_kg=0.001), Part(mass_kg=0.001, count=3)
    assert masses.half_width(one, 0.0001) == masses.half_width(three, 0.0001)


@pytest.mark.parametrize(("known_by", "growth"), [("maker", 0.05), ("guess", 0.20)])
def test_equal_unweighed_parts_err_together(known_by: KnownBy, growth: float) -> None:
    part = Part(mass_kg=0.002, count=4, known_by=known_by)
    assert masses.half_width(part, 0.0001) == pytest.approx(4 * 0.002 * growth)


def test_rows_add_in_squares_and_spread_is_twice_that() -> None:
    """Two rows of half-width 0.4 and 0.3 g: u = 0.5/√3 g, spread = 1/√3 g; worked by hand."""
    rows = [Part(mass_kg=0.002, known_by="guess"), Part(mass_kg=0.006, known_by="maker")]
    found = masses.total(rows, 0.0)
    assert found.uncertainty_kg == pytest.approx(0.0005 / math.sqrt(3), rel=1e-12)
    assert found.spread_kg == pytest.approx(0.001 / math.sqrt(3), rel=1e-12)
    assert found.nominal_kg == pytest.approx(0.008)
    assert found.expected_kg == pytest.approx(0.0024 + 0.0063)


@pytest.mark.parametrize(
    "part",
    [Part(mass_kg=-0.001), Part(mass_kg=math.nan), Part(mass_kg=math.inf), Part(mass_kg=0.001, count=0)],
)
def test_impossible_parts_are_refused(part: Part) -> None:
    with pytest.raises(OutOfRangeError):
        masses.expected_mass(part)


def test_impossible_scale_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"scale_division_kg is -0\.1"):
        masses.half_width(Part(mass_kg=0.001), -0.1)
