"""Limits and the verdict."""

import math

import pytest

from calc.errors import OutOfRangeError
from calc.subjects.limits import allowance
from calc.subjects.limits.allowance import Bounds, Limit
from calc.subjects.weights.masses import Total
from tests.support import reference

SHARE = reference("masses")["share"]


def total(grams: float, uncertainty_g: float = 0.0) -> Total:
    """Return a mass in grams."""
    return Total(nominal_kg=grams / 1e3, expected_kg=grams / 1e3, uncertainty_kg=uncertainty_g / 1e3)


@pytest.mark.parametrize(("flying", "gear", "share"), [*SHARE["rows"], *SHARE["ounce_rows"]])
def test_share_rule(flying: float, gear: float, share: float) -> None:
    """Common practice, no source: the gear that is a share of the flying weight (grams; the last two in ounces)."""
    assert allowance.share_allows(flying - gear, share) == pytest.approx(gear, rel=1e-3)


def test_share_allows_exactly_that_share_of_the_flying_mass() -> None:
    allowed = allowance.share_allows(0.0337, 0.23)
    assert allowed / (0.0337 + allowed) == pytest.approx(0.23, rel=1e-12)


@pytest.mark.parametrize(("airframe_kg", "share"), [(0.0, 0.2), (-1.0, 0.2), (math.nan, 0.2), (0.03, 0.0), (0.03, 1.0)])
def test_share_refuses_what_makes_no_sense(airframe_kg: float, share: float) -> None:
    with pytest.raises(OutOfRangeError):
        allowance.share_allows(airframe_kg, share)


def test_all_four_limits() -> None:
    """Worked by hand: A 40 g, gear 8 g, share 20 %, wished 50 g, maximum 47 g, 7 g/dm² on 8.5 dm² with 10 g rubber."""
    bounds = Bounds(
        share=0.2, target_kg=0.050, maximum_kg=0.047, loading_most_kg_m2=0.7, wing_area_m2=0.085, rubber_kg=0.010
    )  # fmt: skip
    found = {limit.id: limit for limit in allowance.limits(bounds, total(40.0), total(8.0))}
    assert list(found) == ["share", "target", "class_max", "loading"]
    assert found["share"].allows_kg == pytest.approx(0.010)
    assert found["target"].in_hand_kg == pytest.approx(0.002)
    assert found["class_max"].in_hand_kg == pytest.approx(-0.001)
    assert found["loading"].allows_kg == pytest.approx(0.0095)
    governs = allowance.governing(tuple(found.values()))
    assert governs is not None
    assert governs.id == "class_max"
    assert governs.verdict == "over"


def test_airframe_uncertainty_counts_as_far_as_it_moves_the_limit() -> None:
    """Share: p/(1−p) of it; every other limit: all of it; combined in squares with the gear's."""
    bounds = Bounds(
        share=0.2, target_kg=0.05, maximum_kg=0.05, loading_most_kg_m2=0.7, wing_area_m2=0.085, rubber_kg=0.0
    )  # fmt: skip
    found = allowance.limits(bounds, total(40.0, 0.4), total(8.0, 0.3))
    assert found[0].spread_kg == pytest.approx(2 * math.hypot(0.0003, 0.25 * 0.0004))
    assert [limit.spread_kg for limit in found[1:]] == [pytest.approx(2 * 0.0005)] * 3


@pytest.mark.parametrize(("minimum_kg", "mass_kg"), [(-0.5, 0.1), (0.1, -0.5), (math.nan, 0.1)])
def test_no_mass_is_below_nothing(minimum_kg: float, mass_kg: float) -> None:
    with pytest.raises(OutOfRangeError):
        allowance.short_of_minimum(minimum_kg, mass_kg)


@pytest.mark.parametrize("lead_kg", [-0.5, -1e-9, math.nan])
def test_lead_is_never_less_than_none(lead_kg: float) -> None:
    with pytest.raises(OutOfRangeError):
        allowance.with_lead((), allowance.Lead(mass_kg=lead_kg, per_airframe=0.0, gear_uncertainty_kg=0.0), 0.0)


def test_without_the_airframe_the_share_is_of_the_wished_mass_else_of_the_class_minimum() -> None:
    bounds = Bounds(share=0.2, target_kg=0.050, minimum_kg=0.040)
    assert allowance.limits(bounds, None, total(3.0))[0].allows_kg == pytest.approx(0.010)
    bounds = Bounds(share=0.2, minimum_kg=0.040)
    assert allowance.limits(bounds, None, total(3.0))[0].allows_kg == pytest.approx(0.008)
    assert allowance.limits(Bounds(share=0.2), None, total(3.0)) == ()
    assert allowance.limits(Bounds(minimum_kg=0.04), None, total(3.0)) == ()
    assert allowance.governing(()) is None


def test_loading_waits_for_area_and_rubber() -> None:
    assert allowance.limits(Bounds(loading_most_kg_m2=0.9), total(40.0), total(8.0)) == ()
    with_area = Bounds(loading_most_kg_m2=0.9, wing_area_m2=0.08)
    assert allowance.limits(with_area, total(40.0), total(8.0)) == ()


@pytest.mark.parametrize(
    ("in_hand", "spread", "verdict"),
    [
        (0.0, 0.0, "fits"),
        (-1e-10, 0.0, "fits"),
        (-1e-6, 0.0, "over"),
        (0.0005, 0.0005, "fits"),
        (0.0004, 0.0005, "close"),
        (-0.0004, 0.0005, "close"),
        (-0.0005, 0.0005, "over"),
        (-0.0006, 0.0005, "over"),
    ],
)
def test_verdict(in_hand: float, spread: float, verdict: str) -> None:
    """Exactly at the limit with no spread fits; a microgram of rounding does not decide."""
    assert Limit(id="share", allows_kg=0.01, in_hand_kg=in_hand, spread_kg=spread).verdict == verdict


def test_short_of_the_minimum() -> None:
    assert allowance.short_of_minimum(0.040, 0.0365) == pytest.approx(0.0035)
    assert allowance.short_of_minimum(0.040, 0.041) == 0.0
    with pytest.raises(OutOfRangeError):
        allowance.short_of_minimum(0.040, math.nan)
