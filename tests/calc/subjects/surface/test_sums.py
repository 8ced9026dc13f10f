"""Hinge moments, lift slope, throw and slack, against tables and against sums done here another way."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.surface import sums as surface
from tests.support import reference, refused

TABLE = reference("surface")
HINGE = TABLE["hinge_moment"]


def simpson(curve: Callable[[float], float], low: float, high: float, pieces: int = 2000) -> float:
    """Return the integral of a curve by Simpson's rule."""
    step = (high - low) / pieces
    inner = sum((4 if n % 2 else 2) * curve(low + n * step) for n in range(1, pieces))
    return (curve(low) + inner + curve(high)) * step / 3


def hinge_moment(flap_share: float, incidence: float, deflection: float) -> float:
    """Return the hinge-moment coefficient of a flat plate with a flap, from its vortex sheet.

    Glauert, x = c (1 - cos θ)/2, hinge at θ = φ. The camber line's slope is -δ behind the hinge, so that
    A0 = α + δ(π - φ)/π and An = 2 δ sin(nφ)/(n π), and the loading is Δp/q = 4 [A0 (1 + cos θ)/sin θ + Σ An sin nθ].
    The series has the sum Σ sin(nφ) sin(nθ)/n = ½ ln |sin((θ + φ)/2) / sin((θ - φ)/2)|. The moment about the hinge,
    trailing edge down positive, over q and the flap chord squared, is -∫ Δp/q (x - x_hinge) dx / (E c)², which is
    -(1/E²) ∫ Δp/q (cos φ - cos θ) sin θ dθ / 4 from φ to π. θ = φ + (π - φ) u² takes the edge off the logarithm.
    """
    phi = math.acos(2 * flap_share - 1)
    a0 = incidence + deflection * (math.pi - phi) / math.pi

    def moment(u: float) -> float:
        theta = phi + (math.pi - phi) * u * u
        arm = math.cos(phi) - math.cos(theta)
        if arm == 0.0:
            return 0.0
        series = math.log(abs(math.sin((theta + phi) / 2) / math.sin((theta - phi) / 2)))
        loading_sine = a0 * (1 + math.cos(theta)) + deflection / math.pi * series * math.sin(theta)
        return loading_sine * arm * (math.pi - phi) * 2 * u

    return -simpson(moment, 0.0, 1.0) / flap_share**2


def test_the_vortex_sheet_of_this_test_is_glauerts_series() -> None:
    """The closed sum used above against the series itself, far from the hinge, where it converges."""
    phi, theta = 1.9, 2.7
    series = sum(math.sin(n * phi) * math.sin(n * theta) / n for n in range(1, 20_001))
    assert series == pytest.approx(
        0.5 * math.log(abs(math.sin((theta + phi) / 2) / math.sin((theta - phi) / 2))), abs=1e-4
    )


@pytest.mark.parametrize("row", range(len(HINGE["flap_share"])), ids=lambda row: f"E {HINGE['flap_share'][row]}")
def test_hinge_moments(row: int) -> None:
    """Aerodynamics for Engineering Students, section 4.5, and the vortex sheet integrated here."""
    share = HINGE["flap_share"][row]
    b2 = surface.hinge_moment_b2(share)
    assert b2 == pytest.approx(HINGE["b2"][row], abs=HINGE["tolerance"])
    assert b2 == pytest.approx(hinge_moment(share, 0.0, 1.0), abs=1e-7)


def test_a_flap_that_is_the_whole_chord_turns_as_the_plate_does() -> None:
    """Deflecting all of it is the same as incidence: b2 = -π/2, the lift 2π at a quarter chord."""
    assert surface.hinge_moment_b2(1.0) == pytest.approx(-math.pi / 2)


def test_lift_slope() -> None:
    """Anderson's example, printed to two decimals, and the table that follows from the equation."""
    example, table = TABLE["helmbold_example"], TABLE["helmbold"]
    found = surface.lift_slope(example["aspect_ratio"], example["section_slope"])
    assert found == pytest.approx(example["slope"], abs=example["tolerance"])
    for ratio, slope in zip(table["aspect_ratio"], table["slope"], strict=True):
        assert surface.lift_slope(ratio) == pytest.approx(slope, abs=table["tolerance"])


def test_lift_slope_at_its_ends() -> None:
    """A very long wing has its section's slope; a very short one π AR/2, Jones's slender wing (from memory)."""
    assert surface.lift_slope(1e6) == pytest.approx(2 * math.pi, rel=1e-5)
    assert surface.lift_slope(1e6, 5.7) == pytest.approx(5.7, rel=1e-5)
    assert surface.lift_slope(1e-4) == pytest.approx(math.pi * 1e-4 / 2, rel=1e-3)


@given(st.floats(0.1, 20.0), st.floats(1.01, 3.0))
def test_longer_wings_lift_steeper(ratio: float, times: float) -> None:
    assert surface.lift_slope(ratio) < surface.lift_slope(ratio * times) < 2 * math.pi


def test_flap_moment_worked_out() -> None:
    table = TABLE["flap"]
    pressure = surface.dynamic_pressure(table["density_kg_m3"], table["speed_m_s"])
    assert pressure == pytest.approx(table["pressure_pa"])
    delta = math.radians(table["deflection_deg"])
    found = surface.flap_moment(pressure, table["span_m"], table["chord_m"], table["flap_chord_m"], delta)
    assert found * 1e3 == pytest.approx(table["moment_mNm"], abs=table["tolerance_mNm"])
    other_way = surface.flap_moment(pressure, table["span_m"], table["chord_m"], table["flap_chord_m"], -delta)
    assert other_way == found


def test_pivoted_moment_worked_out() -> None:
    table = TABLE["pivoted"]
    pressure = surface.dynamic_pressure(table["density_kg_m3"], table["speed_m_s"])
    delta = math.radians(table["deflection_deg"])
    assert surface.lift_slope(table["aspect_ratio"]) * delta == pytest.approx(
        table["lift_coefficient"], abs=table["tolerance"]
    )

    def at(pivot_share: float) -> float:
        sizes = (table["area_m2"], table["chord_m"], table["aspect_ratio"])
        return surface.pivoted_moment(pressure, *sizes, pivot_share, delta)

    assert at(0.0) * 1e3 == pytest.approx(table["moment_mNm"], abs=table["tolerance"])
    assert at(0.25) == 0.0
    assert at(0.5) == pytest.approx(at(0.0))


def test_the_whole_plate_as_flap_and_as_pivoted_surface_agree() -> None:
    """A flap of the whole chord, and a very long surface on a pivot at its leading edge, are the same plate."""
    flap = surface.flap_moment(22.05, 0.10, 0.05, 0.05, 0.1)
    assert surface.pivoted_moment(22.05, 0.005, 0.05, 1e6, 0.0, 0.1) == pytest.approx(flap, rel=1e-5)


def test_servo_need() -> None:
    """Worked by hand: the horn's force is moment ÷ horn, and its lever at the servo the arm."""
    assert surface.servo_need(0.428e-3, 0.006, 0.012) == pytest.approx(0.214e-3)
    assert surface.servo_need(0.0, 0.006, 0.012) == 0.0


@pytest.mark.parametrize("flap_share", [0.0, -0.1, 1.01, math.nan])
def test_impossible_flap_shares_are_refused(flap_share: float) -> None:
    with pytest.raises(OutOfRangeError):
        surface.hinge_moment_b2(flap_share)


@pytest.mark.parametrize(
    ("sum_", "arguments"),
    [
        (surface.lift_slope, (0.0,)),
        (surface.lift_slope, (4.0, 0.0)),
        (surface.dynamic_pressure, (-1.2, 6.0)),
        (surface.dynamic_pressure, (1.2, math.inf)),
        (surface.flap_moment, (-1.0, 0.1, 0.08, 0.024, 0.3)),
        (surface.flap_moment, (22.0, 0.0, 0.08, 0.024, 0.3)),
        (surface.flap_moment, (22.0, 0.1, 0.0, 0.024, 0.3)),
        (surface.flap_moment, (22.0, 0.1, 0.08, 0.081, 0.3)),
        (surface.flap_moment, (22.0, 0.1, 0.08, 0.0, 0.3)),
        (surface.flap_moment, (22.0, 0.1, 0.08, 0.024, 1.6)),
        (surface.pivoted_moment, (-1.0, 0.004, 0.05, 2.0, 0.0, 0.2)),
        (surface.pivoted_moment, (22.0, 0.0, 0.05, 2.0, 0.0, 0.2)),
        (surface.pivoted_moment, (22.0, 0.004, 0.0, 2.0, 0.0, 0.2)),
        (surface.pivoted_moment, (22.0, 0.004, 0.05, 0.0, 0.0, 0.2)),
        (surface.pivoted_moment, (22.0, 0.004, 0.05, 2.0, 1.1, 0.2)),
        (surface.pivoted_moment, (22.0, 0.004, 0.05, 2.0, 0.0, -1.6)),
        (surface.servo_need, (-1.0, 0.01, 0.01)),
        (surface.servo_need, (0.001, 0.0, 0.01)),
        (surface.servo_need, (0.001, 0.01, 0.0)),
        (surface.throw, (0.0, 0.01, 0.2, 0.5)),
        (surface.throw, (0.01, 0.0, 0.2, 0.5)),
        (surface.throw, (0.01, 0.01, 0.0, 0.5)),
        (surface.throw, (0.01, 0.01, 0.2, 1.6)),
        (surface.horn_throw, (0.013, 0.012)),
        (surface.horn_throw, (-0.001, 0.012)),
        (surface.horn_throw, (0.001, 0.0)),
        (surface.slack, (0.01, 0.0, 0.2, 0.5)),
    ],
)
def test_impossible_arguments_are_refused(sum_: Callable[..., float], arguments: tuple[float, ...]) -> None:
    with pytest.raises(OutOfRangeError):
        sum_(*arguments)


DEGREES_80, DEGREES_91 = math.radians(80), math.radians(91)


@pytest.mark.parametrize(
    ("sum_", "arguments"),
    [
        (surface.dynamic_pressure, (0.9, 6.0)),  # some 3000 m up
        (surface.flap_moment, (0.5, 0.1, 0.08, 0.08, DEGREES_80)),  # at 0.9 m/s, the flap being the whole chord
        (surface.pivoted_moment, (0.5, 0.004, 0.05, 2.0, 1.0, -DEGREES_80)),
    ],
)
def test_what_lies_just_inside_is_taken(sum_: Callable[..., float], arguments: tuple[object, ...]) -> None:
    """Found by mutation testing: nothing noticed when such an end was moved."""
    assert sum_(*arguments) > 0.0


@pytest.mark.parametrize(
    ("sum_", "arguments", "name"),
    [
        (surface.flap_moment, (22.0, 0.1, 0.08, 0.0, 0.3), "flap_chord_m"),
        (surface.flap_moment, (22.0, 0.1, 0.08, 0.02, DEGREES_91), "deflection_rad"),
        (surface.pivoted_moment, (22.0, 0.004, 0.05, 2.0, -0.1, 0.2), "pivot_share"),
        (surface.horn_throw, (0.0, 0.0), "horn_m"),
        (surface.horn_throw, (0.0, -0.5), "horn_m"),
    ],
)
def test_what_lies_just_outside_is_refused(
    sum_: Callable[..., float], arguments: tuple[object, ...], name: str
) -> None:  # fmt: skip
    assert refused(sum_, arguments) == name
