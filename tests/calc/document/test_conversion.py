"""What was typed in the other system's units: how many digits it has afterwards, and on which side it is rounded."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import units
from calc.assess import assess
from calc.document.budget import read
from calc.document.conversion import converted
from calc.subjects.airframe.answer import AirframeBlock


def one(system: str, path: str, typed: str, **beside: Any) -> Any:
    """Return an entry as it is written once it is converted."""
    block, key = path.split(".")
    document = {"units": system, block: {key: typed, **beside}}
    return converted(document).document[block][key]


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("36 in", "910 mm"),  # NIST LC 1137: 36 in to 91 cm, not 91.44 cm
        ("40.1 in", "1019 mm"),  # the same: 40.1 in to 101.9 cm, not 101.854 cm
        ("4 3/4 in", "121 mm"), ("7/8 in", "22 mm"), ("2 ft 6 in", "760 mm"), ("-1.2 in", "-30 mm"), ("0 in", "0 mm"),
    ],
)  # fmt: skip
def test_lengths_have_the_digits_of_the_rule(typed: str, written: str) -> None:
    assert one("metric", "balance.target", typed) == written


@pytest.mark.parametrize(
    ("system", "path", "typed", "written"),
    [
        ("imperial", "session.temperature", "8 °C", "46 °F"), ("metric", "session.temperature", "32 °F", "0 °C"),
        ("metric", "session.temperature", "50.5 °F", "10.3 °C"), ("imperial", "air.work", "3 J", "2.2 ft·lbf"),
        ("imperial", "model.wing_area", "8.6 dm²", "133 in²"), ("metric", "surface.speed", "20 ft/s", "6.1 m/s"),
        ("imperial", "air.rubber_energy", "4 kJ/kg", "1300 ft·lb/lb"), ("metric", "surface.arm", "5e-1 in", "13 mm"),
    ],
)  # fmt: skip
def test_each_kind_of_quantity(system: str, path: str, typed: str, written: str) -> None:
    """By hand with the exact factors of NIST SP 811, then rounded by the rule."""
    assert one(system, path, typed) == written


@pytest.mark.parametrize(
    ("typed", "known_by", "written"),
    [
        ("1.3 g", "weighed", "0.045 oz"),  # 0.04586 in steps of 0.005 oz (0.14 g), for those of 0.1 g
        ("1.37 g", "weighed", "0.0485 oz"),  # 0.04832 in steps of 0.0005 oz (0.014 g), for those of 0.01 g
        ("2 g", "", "0.070 oz"),  # nobody says otherwise: weighed, to the scale's 0.1 g
        ("0.04 g", "weighed", "0.0015 oz"), ("0.1 g", "weighed", "0.005 oz"), ("0 g", "weighed", "0 oz"),
        ("1.3 g", "maker", "0.046 oz"), ("2 g", "guess", "0.08 oz"), ("0 g", "guess", "0 oz"),  # never lighter
    ],
)  # fmt: skip
def test_masses_follow_the_scale_or_are_rounded_up(typed: str, known_by: str, written: str) -> None:
    assert one("imperial", "cell.mass", typed, known_by=known_by) == written


def test_the_scale_is_never_finer_than_it_was() -> None:
    weighed = {"gear": [{"kind": "servo", "weighed": "1.4 g", "mass": "1 g", "known_by": "guess"}]}
    assert converted({"units": "imperial", **weighed}).document["scale_division"] == "0.005 oz"  # 0.1 g stood in
    told = converted({"units": "imperial", "scale_division": "0.02 g", **weighed})
    assert told.document["scale_division"] == "0.001 oz"  # 0.028 g
    assert told.document["gear"][0] == {"kind": "servo", "weighed": "0.049 oz", "mass": "0.04 oz", "known_by": "guess"}
    assert converted({"units": "metric", "scale_division": "0.01 oz"}).document["scale_division"] == "0.5 g"
    assert converted({"units": "imperial", "scale_division": "0 g", **weighed}).document["gear"][0]["weighed"] == (
        "0.0493835 oz"
    )
    guessed = converted({"units": "imperial", "cell": {"mass": "1 g", "known_by": "guess"}})
    assert "scale_division" not in guessed.document


@pytest.mark.parametrize(
    ("path", "typed", "written"),
    [
        ("model.maximum", "42 g", "1.48 oz"), ("model.target", "42 g", "1.48 oz"), ("model.minimum", "42 g", "1.49 oz"),
        ("model.max_loading", "12 g/dm²", "3.9 oz/ft²"), ("surface.torque", "50 g cm", "0.69 ozf·in"),
        ("surface.thrust", "30 gf", "1.05 ozf"), ("motor.mass", "10 g", "0.35 oz"),
    ],
)  # fmt: skip
def test_limits_and_strengths_are_rounded_to_the_safe_side(path: str, typed: str, written: str) -> None:
    """1.4815 oz, 3.932 oz/ft², 0.6944 ozf·in, 1.0582 ozf, 0.3527 oz: factors of NIST SP 811."""
    assert one("imperial", path, typed) == written


def test_what_is_in_its_own_units_or_makes_no_sense_stays() -> None:
    document = {
        "units": "metric", "name": "2 oz", "gear": [{"mass": "0.002 kg"}, {"mass": 1.2}, {"mass": "2 furlongs"}, 5],
        "cell": [], "model": {"airframe": "40", "wing_area": "9 dm²"}, "session": {"on_time": "6 min"},
    }  # fmt: skip
    found = converted(document)
    assert (found.document, found.count, found.most) == (document, 0, 0.0)
    stone = {"units": "stone", "cell": {"mass": "2 oz"}}
    assert converted(stone).document == stone
    assert converted({"gear": {}}).document == {"gear": {}}


def test_an_entry_that_would_not_be_taken_any_more_stays_with_its_block() -> None:
    """A flap as deep as its wing, in two ways to write it: 25 mm is 0.98 in, 25.0 mm is 0.984 in."""
    surface = {"chord": "25 mm", "flap_chord": "25.0 mm"}
    found = converted({"units": "imperial", "surface": surface, "balance": {"chord": "25 mm"}})
    assert found.document["surface"] == surface
    assert found.document["balance"] == {"chord": "0.98 in"}
    assert found.count == 1


def test_what_was_given_is_not_changed() -> None:
    document = {"units": "imperial", "gear": [{"mass": "1 g"}], "cell": {"mass": "1 g"}}
    converted(document)
    assert document == {"units": "imperial", "gear": [{"mass": "1 g"}], "cell": {"mass": "1 g"}}


GRAMS = st.decimals("0.01", "90", places=2).map(lambda number: f"{number} g")


@given(st.lists(st.tuples(GRAMS, st.sampled_from(["weighed", "maker", "guess"])), min_size=1, max_size=6))
def test_no_planned_mass_becomes_lighter_and_no_scale_finer(parts: list[tuple[str, str]]) -> None:
    gear = [{"kind": "other", "mass": mass, "known_by": known} for mass, known in parts]
    document = {"units": "imperial", "gear": gear}
    found = converted(document)
    before, after = read(document).budget, read(found.document).budget
    for old, new in zip(before.gear, after.gear, strict=True):
        assert old.mass
        assert new.mass
        step = units.last_place(str(new.mass.typed), "mass") * units.to_si(1.0, "oz", "mass")
        if old.known_by.value == "weighed":
            assert abs(new.mass.value - old.mass.value) <= 2.5 * after.scale_division.value
        else:
            assert old.mass.value * (1 - 1e-9) <= new.mass.value <= old.mass.value + step * (1 + 1e-6)
    assert after.scale_division.value >= before.scale_division.value
    assert found.count == len(parts)
    assess(after)


@pytest.mark.parametrize(
    ("system", "block", "row", "key", "written"),
    [
        ("metric", "airframe", {"thickness": "0.09 in"}, "thickness", "2.29 mm"),  # 2.286
        ("metric", "airframe", {"thickness": "1/32 in"}, "thickness", "0.794 mm"),  # 0.79375
        ("metric", "airframe", {"root": "4.3 in"}, "root", "110 mm"),  # 109.22: no lighter
        ("metric", "airframe", {"root": "4.3 in", "area": True}, "root", "109 mm"),  # the wing's: to the nearest
        ("metric", "airframe", {"pitch": "1.52 in"}, "pitch", "38.6 mm"),  # 38.608: no fewer ribs
        ("metric", "airframe", {"bore": "0.04 in", "diameter": "2 mm"}, "bore", "1.01 mm"),  # 1.016: no thinner wall
        ("imperial", "airframe", {"density": "104 kg/m³"}, "density", "6.50 lb/ft³"),  # 6.4925
        ("imperial", "airframe", {"mass": "1.3 g"}, "mass", "0.0459 oz"),  # no scale showed it: 0.04586
        ("imperial", "airframe", {"weighed": "1.3 g"}, "weighed", "0.045 oz"),  # in steps of the scale
        ("metric", "bays", {"length": "2.17 in"}, "length", "55.1 mm"),  # 55.118: a bay never grows
        ("metric", "bays", {"gap": "0.03 in"}, "gap", "0.8 mm"),  # 0.762
        ("metric", "gear", {"height": "0.24 in"}, "height", "6.1 mm"),  # 6.096: a part never shrinks
        ("imperial", "flights", {"mass": "75 g"}, "mass", "2.65 oz"),  # 2.6455, to the nearest
        ("metric", "flights", {"height": "130 ft"}, "height", "39.6 m"),  # 39.624
        ("imperial", "charges", {"temperature": "18 °C"}, "temperature", "64 °F"),
    ],
)  # fmt: skip
def test_rows_of_every_list_are_converted(system: str, block: str, row: dict[str, Any], key: str, written: str) -> None:
    """Factors of NIST SP 811 (1 in = 25.4 mm, 1 lb/ft³ = 16.01846 kg/m³, 1 oz = 28.34952 g), rounded by hand."""
    document = {"units": system, block: [{}, row]}
    found = converted(document)
    assert found.document[block][1][key] == written
    assert found.count == 1
    assert document[block][1] is row
    assert "oz" not in str(row)
    assert converted(found.document).count == 0


LENGTHS = st.decimals("0.05", "9", places=2).map(lambda number: f"{number} in")


@given(st.tuples(LENGTHS, LENGTHS, LENGTHS), st.sampled_from(["strip", "ribs", "frame", "plate"]))
def test_no_planned_part_of_the_airframe_becomes_lighter(sizes: tuple[str, str, str], shape: str) -> None:
    length, width, thickness = sizes
    part = {
        "shape": shape, "length": length, "span": length, "root": width, "width": "0.2 in", "thickness": thickness,
        "pitch": width, "depth": "8 %",
    }  # fmt: skip
    document = {"units": "metric", "airframe": [part]}
    before, after = (assess(read(each).budget).of(AirframeBlock) for each in (document, converted(document).document))
    if before is not None and after is not None:
        assert after.planned_kg >= before.planned_kg * (1.0 - 1e-9)
    assert (before is None) == (after is None)
