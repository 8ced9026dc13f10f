"""The masses of a budget."""

import math

import pytest

from tests.calc.budgets import SMALL_MODEL, small


def test_masses_worked_by_hand() -> None:
    """4 g of gear with 1 g of half-width in 44 g; a guessed 30 g airframe grows to 36 g, half-width 6 g (GUM)."""
    gear = [{"mass": "3 g"}, {"mass": "1 g"}]
    found = small(gear=gear, scale_division="2 g")
    assert found.model.share == pytest.approx(4 / 44)
    assert found.class_.free_kg == found.class_.short_kg == 0.0
    guessed = small(gear=gear, model={**SMALL_MODEL, "airframe": "30 g", "airframe_known_by": "guess"})
    assert guessed.model.spread_kg == pytest.approx(2 * 0.006 / math.sqrt(3))
    both = small(gear=[{"mass": "4 g"}], scale_division="2 g")
    assert both.model.spread_kg == pytest.approx(2 * math.hypot(0.001, 0.001) / math.sqrt(3))
    assert small(gear=gear, model={}).model.spread_kg == 0.0
