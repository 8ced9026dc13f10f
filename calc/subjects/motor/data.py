"""What the JSON tells of the rubber motor."""

from typing import Any

from calc.plain import rounded
from calc.subjects.motor.answer import MotorBlock


def data(block: MotorBlock) -> dict[str, Any]:
    """Return the JSON of the motor."""
    fewest, most = block.height_turns or (None, None)
    return {
        "mass_g": rounded(block.mass_kg, 1e3),
        "length_mm": rounded(block.length_m, 1e3),
        "section_mm2": rounded(block.section_m2, 1e6),
        "turns_break": rounded(block.breaks[1]),
        "turns_break_low": rounded(block.breaks[0]),
        "turns_break_high": rounded(block.breaks[2]),
        "turns": rounded(block.turns[1]),
        "turns_low": rounded(block.turns[0]),
        "turns_high": rounded(block.turns[2]),
        "energy_J": rounded(block.energy_j),
        "energy_low_J": rounded(block.energy_low_j),
        "energy_high_J": rounded(block.energy_high_j),
        "torque_mNm": rounded(block.torque_nm, 1e3),
        "height_turns_fewest": rounded(fewest),
        "height_turns_most": rounded(most),
    }
