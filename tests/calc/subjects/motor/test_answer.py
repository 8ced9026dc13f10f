"""The rubber motor of a budget: its figures by hand and by the tables, what it waits for, its sentence."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.subjects.motor import words as motor_words
from calc.subjects.motor.answer import MotorBlock
from calc.unit_system import UnitSystem
from site_src.app.view import view
from tests.calc.budgets import reported, small
from tests.support import shown_html

STRIP = {"strands": 6, "width": "3.175 mm", "thickness": "1.07 mm"}
MOTOR = {**STRIP, "mass": "10 g"}
AIR = {"launch": "rubber", "rubber_energy": "4 kJ/kg", "efficiency": "50 %", "motor_run": "25 s"}


def told(**motor: Any) -> dict[str, Any]:
    found = reported(motor={**MOTOR, **motor})["motor"]
    assert isinstance(found, dict)
    return found


def block_of(motor: dict[str, Any], **more: Any) -> MotorBlock:
    found = small(motor=motor, **more).of(MotorBlock)
    assert found is not None
    return found


def test_the_motor_of_the_check() -> None:
    """RU-2 of the references: 10 g, 6 strands of 3.175 × 1.07 mm: 20.38 mm², 0.533 m, 1257 turns at break."""
    found = told()
    assert found["section_mm2"] == pytest.approx(20.38, abs=0.01)
    assert found["length_mm"] == pytest.approx(533, abs=0.5)
    assert found["turns_break"] == pytest.approx(1257, abs=1)
    assert found["turns"] == pytest.approx(0.8 * 1257, abs=1)
    by_length = told(mass="", length="533.3 mm")
    assert by_length["mass_g"] == pytest.approx(10.0, abs=0.01)
    weighed = told(strands="", width="", thickness="", length="533.3 mm")
    assert weighed["section_mm2"] == pytest.approx(20.38, abs=0.01)


def test_energy_and_torque_of_the_checks() -> None:
    """RU-4: 0.8 of the turns hold 0.64 to 0.75 of the energy. RU-6: 85 %, 5 kJ/kg gives 5.6 mN m."""
    found = told(energy="5 kJ/kg")
    assert [found["energy_low_J"], found["energy_high_J"]] == pytest.approx([50 * 0.64, 50 * 0.75], abs=0.3)
    assert told(energy="5 kJ/kg", share="85 %")["torque_mNm"] == pytest.approx(5.6, abs=0.05)
    unknown = told()
    assert "energy_J" not in unknown
    assert unknown["energy_low_J"] == pytest.approx(9.0 * 0.64)  # Langley's 0.9 kJ/kg
    assert unknown["energy_high_J"] == pytest.approx(74.7 * 0.8**1.3, rel=1e-5)  # McLean's 7.47


def test_a_braid_takes_some_turns() -> None:
    """RU-7: 60 braiding turns take 21.2."""
    assert told()["turns_break"] - told(braid=60)["turns_break"] == pytest.approx(21.2, abs=0.05)


@pytest.mark.parametrize(
    ("motor", "paths"),
    [
        ({**STRIP}, ("motor.length",)),
        ({"length": "500 mm"}, ("motor.strands", "motor.width", "motor.thickness")),
        ({**MOTOR, "strands": "x"}, ("motor.strands",)),
        ({}, ("motor.length", "motor.strands", "motor.width", "motor.thickness")),
    ],
)
def test_what_it_waits_for(motor: dict[str, Any], paths: tuple[str, ...]) -> None:
    found = small(motor=motor)
    assert found.of(MotorBlock) is None
    assert found.missing["motor"] == paths


def test_without_a_motor_nothing_is_said() -> None:
    assert "motor" not in small().missing
    assert 'id="motor"' not in shown_html(view({}).answer)


def test_the_turns_for_a_wished_height() -> None:
    """What they are for is worked out again: the energy of that share of the turns lifts the model so high."""
    wished = block_of({**MOTOR, "energy": "6 kJ/kg", "height": "30 m"}, air=AIR)
    assert wished.height_turns is not None
    fewest, most = wished.height_turns
    assert fewest is not None
    assert most is not None
    assert fewest < most
    assert "30 m takes" in motor_words.motor_sentence(wished, UnitSystem.METRIC)
    higher = block_of({**MOTOR, "energy": "6 kJ/kg", "height": "33 m"}, air=AIR).height_turns
    assert higher is not None
    assert higher[0] is not None
    assert higher[0] > fewest
    for height, beyond in (("30 m", False), ("37 m", True)):
        block = block_of({**MOTOR, "energy": "6 kJ/kg", "height": height}, air=AIR)
        assert block.height_turns is not None
        assert ((block.height_turns[0] or 0.0) > 0.8 * block.breaks[0]) is beyond
        said = motor_words.motor_sentence(block, UnitSystem.METRIC)
        assert (", more than the 80 % that it is wound to. A wound" in said) is beyond
    far = block_of({**MOTOR, "energy": "6 kJ/kg", "height": "300 m"}, air=AIR)
    assert "Not even all its turns" in motor_words.motor_sentence(far, UnitSystem.METRIC)


@pytest.mark.parametrize(
    ("motor", "air", "path"),
    [
        ({"energy": ""}, AIR, "motor.energy"),
        ({}, {**AIR, "motor_run": ""}, "air.motor_run"),
        ({}, {**AIR, "efficiency": ""}, "air.efficiency"),
    ],
)
def test_a_wished_height_tells_what_it_lacks(motor: dict[str, Any], air: dict[str, Any], path: str) -> None:
    found = small(motor={**MOTOR, "energy": "6 kJ/kg", "height": "30 m", **motor}, air=air)
    assert path in found.missing["motor"]
    block = found.of(MotorBlock)
    assert block is not None
    assert block.height_turns is None


def test_a_height_at_the_edge_of_the_turns() -> None:
    """Between the bands' two ends: the poor end has too few turns, the good one enough."""
    found = MotorBlock(
        section_m2=2e-5, length_m=0.5, mass_kg=0.01, share=0.8, breaks=(1000.0, 1200.0, 1500.0),
        turns=(800.0, 960.0, 1200.0), energy_j=None, energy_low_j=6.0, energy_high_j=56.0, torque_nm=None,
        height_m=30.0, height_turns=(900.0, None),
    )  # fmt: skip
    assert "30 m may take 900 turns, or more than it has." in motor_words.motor_sentence(found, UnitSystem.METRIC)


def test_the_sentence_and_the_page() -> None:
    said = motor_words.motor_sentence(block_of({**MOTOR, "energy": "5 kJ/kg"}), UnitSystem.METRIC)
    assert said.startswith("The motor weighs 10")
    assert "It breaks at about 1300 turns" in said
    assert "eye protection" in said
    shown = view({"motor": {**MOTOR, "braid": 30}}, why=["motor"]).answer
    page = shown_html(shown)
    assert 'id="motor"' in page
    assert "turns at break" in page


@given(st.floats(2.0, 40.0), st.floats(1.0, 2.0), st.floats(0.1, 1.0), st.floats(0.0, 0.5))
def test_more_turns_never_lower_and_more_rubber_never_less(
    grams: float, more: float, share: float, further: float
) -> None:
    """Energy by turns and mass, at both ends."""
    base = told(mass=f"{grams} g", share=f"{100 * share} %", energy="5 kJ/kg")
    wound = told(mass=f"{grams} g", share=f"{100 * min(1.0, share + further)} %", energy="5 kJ/kg")
    heavy = told(mass=f"{grams * more} g", share=f"{100 * share} %", energy="5 kJ/kg")
    for key in ("energy_low_J", "energy_J", "energy_high_J"):
        assert base[key] <= wound[key] + 1e-6
        assert base[key] <= heavy[key] + 1e-6


def test_its_line_tells_the_turns_of_poor_strip_first() -> None:
    """An untested motor is wound no further than poor strip holds: our rule, on the safe side."""
    block = block_of(MOTOR)
    fewest, usual, _ = block.turns
    said = motor_words.brief(block, UnitSystem.METRIC)
    assert fewest < usual
    assert said == "10.0 g, 850 turns; 1000 turns once a test motor has held them"
    shown = view({"motor": MOTOR}).answer
    assert shown.briefs["motor"] == said
    assert "Untested no further than" in shown_html(shown)
