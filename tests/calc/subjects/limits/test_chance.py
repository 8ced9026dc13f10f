"""Chances of being within limits: published and exact values, and two ways of the same sum against each other."""

from math import factorial, sqrt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import data, headline
from calc.assess import assess
from calc.document.budget import read
from calc.subjects.limits import chance
from calc.subjects.limits.chance import Bound, Deviation, within, within_all
from calc.unit_system import UnitSystem

GRAM = 1e-3
WIDTHS = st.lists(st.integers(1, 600).map(lambda n: n * 1e-6), min_size=1, max_size=7)


def test_four_rectangles_of_jcgm_101() -> None:
    """JCGM 101:2008, 9.2: four rectangular quantities of u = 1 lie within ± 3.88 in 95 % of cases (value from memory).

    Exact by the Irwin–Hall distribution: 3.8794.
    """
    four = Deviation(widths_kg=(sqrt(3.0) * GRAM,) * 4)
    assert four.chance_below(3.8794 * GRAM) == pytest.approx(0.975, abs=1e-5)
    assert four.chance_below(3.88 * GRAM) - four.chance_below(-3.88 * GRAM) == pytest.approx(0.95, abs=2e-4)


@pytest.mark.parametrize("number", [1, 2, 3, 5, 8])
def test_the_tail_of_equal_rectangles(number: int) -> None:
    """Irwin–Hall: the sum of n rectangles from 0 to 1 stays below 1 with the chance 1/n! (any text on probability)."""
    found = Deviation(widths_kg=(0.5 * GRAM,) * number)
    assert found.chance_below((1.0 - number / 2.0) * GRAM) == pytest.approx(1.0 / factorial(number), rel=1e-6)


@pytest.mark.parametrize(
    ("widths", "in_hand", "expected"),
    [
        pytest.param((0.6,), 0.3, 0.750, id="UN-6: one guess alone; the normal says 0.807"),
        pytest.param((0.6, 0.2), 0.3, 0.750, id="UN-7: a guess and a smaller one; the normal says 0.794"),
        pytest.param((0.6, 0.2), 0.81, 1.0, id="UN-8: beyond the sum of the half-widths"),
        pytest.param((0.6, 0.2), 0.8, 1.0, id="at the sum of the half-widths"),
        pytest.param((0.6, 0.2), -0.8, 0.0, id="as far on the other side"),
        pytest.param((), 0.0, 1.0, id="at the limit with no spread"),
        pytest.param((), -0.001, 0.0, id="past it with no spread"),
        pytest.param((0.0, 0.6), 0.0, 0.5, id="a mass known exactly adds nothing"),
    ],
)
def test_exact_chances(widths: tuple[float, ...], in_hand: float, expected: float) -> None:
    """Worked out by hand from areas of rectangles and trapezia."""
    found = Deviation(widths_kg=tuple(width * GRAM for width in widths))
    assert found.chance_below(in_hand * GRAM) == pytest.approx(expected, abs=1e-9)


@given(WIDTHS, st.floats(-1.0, 1.0))
def test_the_grid_agrees_with_the_exact_sum(widths: list[float], part: float) -> None:
    exact, gridded = Deviation(widths_kg=tuple(widths)), Deviation(widths_kg=tuple(widths))
    at_kg = part * exact.reach_kg
    known = exact.chance_below(at_kg), exact.area_below(at_kg)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(chance, "MOST_TERMS", 0)
        found = gridded.chance_below(at_kg), gridded.area_below(at_kg)
    assert found[0] == pytest.approx(known[0], abs=5e-4)
    assert found[1] == pytest.approx(known[1], abs=5e-4 * exact.reach_kg)


def test_many_unlike_rows_come_from_the_grid() -> None:
    """Fourteen unlike rows: the sum is close to normal; Φ(1) = 0.8413 (any table), to 0.003."""
    widths = tuple((50 + 7 * index) * 1e-6 for index in range(14))
    found = Deviation(widths_kg=widths)
    assert 2 ** len(widths) > chance.MOST_TERMS
    u_kg = sqrt(sum(width**2 / 3.0 for width in widths))
    assert found.chance_below(u_kg) == pytest.approx(0.8413, abs=3e-3)
    assert found.area_below(0.0) > 0.0


@given(WIDTHS, st.integers(-900, 900), st.integers(-900, 900), st.integers(0, 900))
def test_all_limits_at_once(widths: list[float], share_mg: int, target_mg: int, half_mg: int) -> None:
    """Against the mean over 400 airframes of the chance of the narrower limit: the plain integral, by midpoints."""
    gear, half_kg = Deviation(widths_kg=tuple(widths)), half_mg * 1e-6
    bounds = [Bound(in_hand_kg=share_mg * 1e-6, per_airframe=0.25), Bound(in_hand_kg=target_mg * 1e-6, per_airframe=-1)]
    found = within_all(bounds, gear, half_kg)
    steps = [half_kg * ((index + 0.5) / 200.0 - 1.0) for index in range(400)]
    plain = sum(gear.chance_below(min(b.in_hand_kg + b.per_airframe * d for b in bounds)) for d in steps) / 400.0
    assert found == pytest.approx(plain, abs=6e-3)
    singles = [within(bound, gear, half_kg) for bound in bounds]
    assert found <= min(singles) + 1e-12
    assert found >= sum(singles) - 1.0 - 1e-9


def test_one_limit_twice_is_one_limit() -> None:
    gear, bound = Deviation(widths_kg=(0.0004,)), Bound(in_hand_kg=0.0002, per_airframe=-1.0)
    assert within_all([bound, bound], gear, 0.0005) == pytest.approx(within(bound, gear, 0.0005))
    assert within_all([], gear, 0.0005) == 1.0


def reported(**document: Any) -> dict[str, Any]:
    budget = read(document).budget
    return data.as_json(assess(budget))


MODEL = {"airframe": "40 g"}  # the share rule allows 10 g; weighed to ± 0.05 g, which is 0.0125 g under that rule


def test_chances_in_the_answer() -> None:
    """A guess of 2.5 g: 3.0 ± 0.5 g beside 6.85 g weighed to ± 0.05: 0.15 g in hand. By hand: ½ + 0.15/1.0 = 0.65."""
    found = reported(model=MODEL, gear=[{"mass": "6.85 g"}, {"mass": "2.5 g", "known_by": "guess"}])
    assert found["limits"][0]["chance"] == pytest.approx(0.65, abs=1e-6)
    assert found["chance"] == {"all": pytest.approx(0.65, abs=1e-6), "settle": "gear.1"}


def test_what_would_settle_it() -> None:
    """The airframe's half-width counts under the share rule by p / (1 − p) alone, under the wished mass in full."""
    model = {"airframe": "40 g", "airframe_known_by": "maker", "target": "50 g"}
    gear = [{"mass": "6.5 g"}, {"mass": "1 g", "known_by": "guess"}]
    assert reported(model=model, gear=gear)["chance"]["settle"] == "model.airframe"
    weighed = reported(model=MODEL, gear=[{"mass": "9.98 g"}])
    assert 0.5 < weighed["chance"]["all"] < 1.0
    assert "settle" not in weighed["chance"]  # all is weighed: only a finer scale would tell
    assert reported(model=MODEL, gear=[{"mass": "9 g"}])["chance"]["all"] == 1.0
    assert reported(gear=[{"mass": "9 g"}]).get("chance") is None


def test_a_weighing_that_cannot_settle_is_not_said_to() -> None:
    """Two guesses of 4 g each: whichever is weighed, the other still decides."""
    two = [
        {"kind": "servo", "mass": "4 g", "known_by": "guess"},
        {"kind": "mount", "mass": "4.1 g", "known_by": "guess"},
    ]
    said = headline.headline(assess(read({"model": MODEL, "gear": two}).budget), UnitSystem.METRIC)
    assert "Weigh the mount first." in said


@pytest.mark.parametrize("half_kg", [0.0, 0.002])
def test_a_heavier_set_is_never_likelier_to_fit(half_kg: float) -> None:
    gear = Deviation(widths_kg=(0.0005, 0.0003))
    chances = [within(Bound(in_hand_kg=mg * 1e-6, per_airframe=-1.0), gear, half_kg) for mg in range(-900, 901, 60)]
    assert chances == sorted(chances)


def test_the_resistor_of_jcgm_106_by_twelve_rectangles() -> None:
    """JCGM 106: u = 0.12 Ω, tolerance ± 0.20 Ω, p_c = 0.9044 for a normal distribution (UN-2).

    Ours are rectangles; twelve equal ones of the same u together are nearly normal, to 0.003.
    """
    half = 0.12 * sqrt(3.0) / sqrt(12.0)
    twelve = Deviation(widths_kg=(half * GRAM,) * 12)
    assert twelve.chance_below(0.2 * GRAM) - twelve.chance_below(-0.2 * GRAM) == pytest.approx(0.9044, abs=3e-3)
