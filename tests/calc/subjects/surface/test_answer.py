"""The surface of a budget: worked by hand, what it waits for, its sentence."""

import math
from typing import Any

import pytest

from calc.subjects.surface import words as surface_words
from calc.subjects.surface.answer import Effort, SurfaceBlock
from calc.unit_system import UnitSystem
from calc.vocabulary import SpeedOrigin
from tests.calc.budgets import (
    ROD,
    SESSION,
    SURFACE,
    missing,
    small,
    whole,
    whole_json,
)


def test_surface_is_the_worked_example() -> None:
    """REFERENCE by arithmetic: q 22.05 Pa at ρ 1.225; here the day is 15 °C, so the density is the standard one."""
    found = whole_json(session={**SESSION, "temperature": "15 °C"})["surface"]
    assert found["moment_mNm"] == pytest.approx(0.428, abs=0.0006)
    assert found["servo_need_mNm"] == pytest.approx(0.214, abs=0.0003)
    assert found["servo_factor"] == pytest.approx(2.0 / 0.2139, rel=2e-3)


def test_whole_surface_and_coil() -> None:
    coil = {"kind": "whole", "span": "80 mm", "chord": "50 mm", "deflection": "10°", "speed": "6 m/s",
            "actuator": "coil actuator", "torque": "1 mN m"}  # fmt: skip
    found = whole(surface=coil).surface
    assert found is not None
    assert found.need.torque_nm == found.moment_nm
    assert found.force_n is None
    at_quarter = whole(surface={**coil, "pivot": "25 %"}).surface
    assert at_quarter is not None
    # The force lies up to 0.40 of the chord: 0.15 from the quarter, 0.40 from the leading edge.
    assert at_quarter.moment_nm == pytest.approx(found.moment_nm * 0.15 / 0.40)
    assert at_quarter.factor == pytest.approx(1e-3 / at_quarter.moment_nm)


def test_linear_servo() -> None:
    linear = {**SURFACE, "actuator": "linear servo", "thrust": "0.5 N", "stroke": "5 mm"}
    found = whole_json(surface=linear)["surface"]
    assert found["throw_pull_deg"] == pytest.approx(30.0)
    assert found["servo_factor"] == pytest.approx(0.5 / found["servo_need_N"], rel=1e-4)
    assert "servo_need_mNm" not in found
    assert "throw_pull_deg" not in whole_json(surface={**linear, "stroke": "12 mm"})["surface"]
    assert "throw_pull_deg" not in whole_json(surface={**linear, "stroke": ""})["surface"]
    assert "throw_pull_deg" not in whole_json(surface={**SURFACE, "arm": ""})["surface"]


@pytest.mark.parametrize(
    ("changes", "paths"),
    [
        ({"surface": None}, ("surface.span",)),
        ({"surface": {}}, ("surface.span", "surface.chord", "surface.deflection", "surface.flap_chord")),
        ({"surface": {**SURFACE, "speed": ""}, "model": {"airframe": "40 g"}}, ("surface.speed",)),
        ({"surface": {**SURFACE, "speed": "x"}}, ("surface.speed",)),
        ({"surface": {**SURFACE, "flap_chord": "90 mm"}}, ("surface.flap_chord",)),
        ({"surface": {**SURFACE, "horn": "", "arm": "", "torque": ""}},
         ("surface.horn", "surface.arm", "surface.torque")),
        ({"surface": {**SURFACE, "actuator": "linear servo"}}, ("surface.stroke", "surface.thrust")),
        ({"surface": {**SURFACE, "kind": "whole", "pivot": "x"}}, ("surface.pivot",)),
    ],
)  # fmt: skip
def test_surface_waits(changes: dict[str, Any], paths: tuple[str, ...]) -> None:
    assert missing("surface", **changes) == paths


def test_arms_that_cannot_follow_give_no_throw() -> None:
    long_arm = whole(surface={**SURFACE, "arm": "20 mm", "travel": "60°"}).surface
    assert long_arm is not None
    assert long_arm.throw_rad is None
    assert long_arm.slack_m is None
    assert surface_words.throw_sentence(long_arm, UnitSystem.METRIC) == ""


@pytest.mark.parametrize(
    ("surface", "words"),
    [
        ({**SURFACE, "torque": ""}, "mN·m."),
        ({**SURFACE, "torque": "0.1 mN m"}, "too weak."),
        ({**SURFACE, "torque": "0.5 mN m"}, "times as strong as needed."),
        ({**SURFACE, "torque": "9 mN m"}, "a far lighter one would still do."),
        ({**SURFACE, "speed": ""}, "m/s (in the glide)"),
    ],
)
def test_surface_sentence(surface: dict[str, Any], words: str) -> None:
    found = whole(surface=surface).surface
    assert found is not None
    assert words in surface_words.surface_sentence(found, UnitSystem.METRIC)


def test_throw_sentence() -> None:
    """Long rod, arm 5 on horn 10 at 45°: asin(0.5 sin 45°) = 20.7°, worked by hand."""
    found = whole(linkage=None).surface
    assert found is not None
    assert surface_words.throw_sentence(found, UnitSystem.METRIC) == "The arms give 21°; 20° are wanted."
    more = whole(linkage=None, surface={**SURFACE, "deflection": "25°"}).surface
    assert more is not None
    assert more.full_horn_m == pytest.approx(0.005 * math.sin(math.radians(45)) / math.sin(math.radians(25)))
    assert surface_words.throw_sentence(more, UnitSystem.METRIC).startswith(
        "The arms give 21°; 25° are wanted: not enough. A horn of about 8.4"
    )
    short = whole(linkage={**ROD, "length": "30 mm"}).surface
    assert short is not None
    assert "one way and" in surface_words.throw_sentence(short, UnitSystem.METRIC)


HINGED = {
    "span": "100 mm", "chord": "80 mm", "flap_chord": "24 mm", "deflection": "20°", "speed": "6 m/s", "horn": "10 mm",
    "arm": "5 mm", "torque": "2 mN m",
}  # fmt: skip


def test_a_whole_surface_goes_by_its_aspect_ratio() -> None:
    """Helmbold's slope for an aspect ratio of 2 is 2.6026 (REFERENCE, by arithmetic); q 22.05 Pa at 15 °C; x 0.40."""
    pivoted = {
        "kind": "whole",
        "span": "100 mm",
        "chord": "50 mm",
        "pivot": "0 %",
        "deflection": "10°",
        "speed": "6 m/s",
    }
    found = small(surface=pivoted, session={"temperature": "15 °C"}).surface
    assert found is not None
    by_hand = 22.05 * 0.005 * 2.6026 * math.radians(10) * 0.40 * 0.05
    assert found.moment_nm == pytest.approx(by_hand, rel=1e-4)


def test_a_coil_waits_for_no_horn() -> None:
    found = small(surface={**HINGED, "horn": "", "arm": "", "actuator": "coil actuator"})
    assert "surface" not in found.missing
    assert found.surface is not None
    assert found.surface.slack_m is None


def test_lines_of_a_rotary_servo_have_a_slack() -> None:
    """A horn twice the arm: the idle line would bind (solved by halving in the tests of the sums)."""
    found = small(surface={**HINGED, "arm": "8 mm", "horn": "12 mm", "travel": "50°"}, linkage={"length": "150 mm"})
    assert found.surface is not None
    assert found.surface.slack_m is not None
    assert found.surface.slack_m > 1e-5


@pytest.mark.parametrize(
    ("rated", "speed_from", "far"), [(5.0, "given", True), (4.999, "given", False), (5.0, "glide", False)]
)
def test_from_five_times_the_need_on_it_is_far_stronger(rated: float, speed_from: SpeedOrigin, far: bool) -> None:
    """Told only where a design speed was given: the glide is the slowest that the model flies."""
    block = SurfaceBlock(
        speed_m_s=6.0, speed_from=speed_from, moment_nm=1.0, least_nm=None, force_n=None, need=Effort(torque_nm=1.0),
        rated=Effort(torque_nm=rated), throw_rad=None, slack_m=None, wanted_rad=0.3,
    )  # fmt: skip
    assert block.far_stronger is far


def test_pull_pull_lines_throw_the_same_both_ways() -> None:
    """80 mm between the pivots, arm 4 mm, horn 9 mm, 45° of travel: 18.6° and 0.093 mm, worked out independently."""
    arms = {**SURFACE, "arm": "4 mm", "horn": "9 mm", "travel": "45°", "deflection": "18.4°"}
    lines = {"kind": "lines", "length": "80 mm", "tex": "22 tex"}
    found = whole_json(surface=arms, linkage=lines)["surface"]
    assert found["throw_pull_deg"] == found["throw_push_deg"] == pytest.approx(18.6, abs=0.05)
    assert found["slack_mm"] == pytest.approx(0.093, abs=0.0005)
    assert "full_horn_mm" not in found  # a rod would fall short: 18.0° pushing
    rod = whole_json(surface=arms, linkage={**lines, "kind": "rod", "diameter": "1 mm"})["surface"]
    assert rod["throw_push_deg"] == pytest.approx(18.0, abs=0.05)


def test_how_far_the_moment_may_be_off_is_told() -> None:
    """A hinged flap: 2.1 × 2 times too high at most; a whole surface: the force at the worse place."""
    found = small(surface=SURFACE).surface
    assert found is not None
    assert found.least_nm == pytest.approx(found.moment_nm / 4.2)
    assert "the safe side: on so small a flap it may be no more than" in surface_words.surface_sentence(
        found, UnitSystem.METRIC
    )
    assert "moment_low_mNm" in whole_json()["surface"]
    pivoted = small(surface={**SURFACE, "kind": "whole", "pivot": "25 %"}).surface
    assert pivoted is not None
    assert pivoted.least_nm is None
    assert "between 20 % and 40 % of the chord" in surface_words.surface_sentence(pivoted, UnitSystem.METRIC)
