"""Throw and strength: what is absent is told, and what is told stands on what was given."""

import pytest

from calc import headline
from calc.subjects.surface import words as surface_words
from calc.unit_system import UnitSystem
from tests.calc.budgets import assessed
from tests.calc.full import full


def test_throw_and_strength_belong_together() -> None:
    """Stroke 1 mm on a horn of 9 mm: asin(1/9) = 6.4° of 20°; a horn of 1/sin 20° = 2.92 mm gives 20°: by hand."""
    surface = {**full()["surface"], "actuator": "linear servo", "stroke": "1 mm", "horn": "9 mm", "thrust": "2 N"}
    found = assessed(**{**full(), "surface": surface}).surface
    assert found is not None
    assert found.enough_throw is False
    assert found.factor is not None
    assert found.full_factor == pytest.approx(found.factor * 2.9238 / 9.0, rel=1e-4)
    assert "far lighter" not in surface_words.surface_sentence(found, UnitSystem.METRIC)
    assert "A horn of about 2.9 mm gives them, and with it the actuator is" in surface_words.throw_sentence(
        found, UnitSystem.METRIC
    )


def test_a_linkage_that_gives_the_throw_is_not_told_without_a_rated_strength() -> None:
    surface = {**full()["surface"], "actuator": "linear servo", "stroke": "1 mm", "horn": "9 mm"}
    found = assessed(**{**full(), "surface": surface}).surface
    assert found is not None
    assert found.full_factor is None
    assert surface_words.throw_sentence(found, UnitSystem.METRIC).endswith(
        "not enough. A horn of about 2.9 mm gives them."
    )


def test_strength_without_a_linkage_speaks_of_the_actuator_alone() -> None:
    """The rod would bend or the threads stretch first: without them only the actuator was looked at."""
    model = {"airframe": "60 g", "wing_area": "9 dm2"}
    bare = {key: item for key, item in full().items() if key != "linkage"}
    assert "has a strong enough actuator" in headline.headline(assessed(**{**bare, "model": model}), UnitSystem.METRIC)
    assert "is strong enough" in headline.headline(assessed(**{**full(), "model": model}), UnitSystem.METRIC)


def test_a_coil_needs_no_linkage() -> None:
    """It sits at the hinge, so what was looked at is all there is."""
    surface = {key: item for key, item in full()["surface"].items() if key not in ("horn", "arm", "travel")}
    bare = {key: item for key, item in full().items() if key != "linkage"}
    model = {"airframe": "60 g", "wing_area": "9 dm2"}
    coil = {**surface, "actuator": "coil actuator", "torque": "8 mN m"}
    said = headline.headline(assessed(**{**bare, "model": model, "surface": coil}), UnitSystem.METRIC)
    assert "is strong enough" in said
    assert "has a strong" not in said


def test_strength_at_the_gentlest_speed_alone_says_so() -> None:
    surface = {**full()["surface"], "speed": ""}
    model = {"airframe": "60 g", "wing_area": "9 dm2", "rubber": "9 g"}
    air = {key: item for key, item in full()["air"].items() if key != "propeller_diameter"}
    still = {**full(), "model": model, "surface": surface}
    assert "strong enough in the glide" in headline.headline(assessed(**{**still, "air": air}), UnitSystem.METRIC)
    assert "in the glide" not in headline.headline(assessed(**still), UnitSystem.METRIC)  # at launch, too
