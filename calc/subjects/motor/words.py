"""What is said of the rubber motor."""

from calc import digits
from calc.subjects.motor.answer import MotorBlock
from calc.unit_system import UnitSystem

CAUTION = "A wound motor can break: eye protection, a winding tube, nobody in line with it."


def motor_sentence(block: MotorBlock, system: UnitSystem) -> str:
    """Return what the motor weighs, holds, and how far it is to be wound."""
    low, usual, high = (_turns(each) for each in block.breaks)
    to = digits.given(100.0 * block.share)
    mass, length = system.mass_entry(block.mass_kg), system.length(block.length_m, fine=False)
    said = f"The motor weighs {mass} and is {length} long."
    said += f" It breaks at about {usual} turns ({low} turns with poor strip, {high} turns with good)."
    fewest, turns, most = (_turns(each) for each in block.turns)
    said += f" Wound to {to} % of that it has {turns} turns ({fewest} turns to {most} turns; unless a test motor of the"
    said += f" same batch says more, wind no further than {fewest} turns)."
    ends = (system.rounded(each, "energy") for each in (block.energy_low_j, block.energy_high_j))
    said += f" It then holds {' to '.join(ends)}."
    if block.torque_nm is not None:
        torque = system.torque(block.torque_nm)
        said += f" Its torque is {torque} in the mean; winding takes more, and the end is steep."
    return f"{said}{_height(block, system)} {CAUTION}"


def _turns(number: float) -> str:
    return digits.figures(number)


def _height(block: MotorBlock, system: UnitSystem) -> str:
    """Return the turns for the height aimed for; empty where none was asked for, or they are not known."""
    if block.height_m is None or block.height_turns is None:
        return ""
    fewest, most = block.height_turns
    height = system.rounded(block.height_m, "height")
    if fewest is None:
        return f" Not even all its turns would take the model to {height}."
    if most is None:
        return f" {height} may take {_turns(fewest)} turns, or more than it has."
    share = digits.given(100.0 * block.share)
    beyond = f", more than the {share} % that it is wound to" if fewest > block.share * block.breaks[0] else ""
    return f" {height} takes {_turns(fewest)} turns to {_turns(most)} turns{beyond}."


def brief(block: MotorBlock, system: UnitSystem) -> str:
    """Return in one line what the motor weighs, and how far to wind it: poor strip holds the fewest turns."""
    fewest, turns, _ = (_turns(each) for each in block.turns)
    return f"{system.mass_entry(block.mass_kg)}, {fewest} turns; {turns} turns once a test motor has held them"
