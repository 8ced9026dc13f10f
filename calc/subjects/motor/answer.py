"""The rubber motor: its section and length, turns, energy, and the turns for a height aimed for."""

from dataclasses import dataclass

from calc.document.budget import Budget
from calc.document.fields import described, key_of
from calc.subject import Answered, Answers, Needs, value
from calc.subjects.air.answer import AirBlock
from calc.subjects.air.entries import Air
from calc.subjects.motor import sums
from calc.subjects.motor.entries import Motor
from calc.subjects.motor.sums import Band

Shares = tuple[float | None, float | None, float | None]


@dataclass(frozen=True, kw_only=True)
class MotorBlock:
    """Section [m²], length [m], mass [kg], turns and energy [J] as bands: low, usual, high."""

    section_m2: float
    length_m: float
    mass_kg: float
    share: float
    breaks: Band
    turns: Band
    energy_j: float | None  # None where the rubber's energy at break is not told
    energy_low_j: float
    energy_high_j: float
    torque_nm: float | None  # mean over the run
    height_m: float | None  # wished
    height_turns: tuple[float | None, float | None] | None  # fewest and most for it; None in it: not even all turns


def motor(budget: Budget, air: AirBlock | None) -> tuple[MotorBlock | None, tuple[str, ...]]:
    """Return the motor block, or None, and the paths of the fields that it or a part of it waits for."""
    block = budget.motor
    needs = Needs(budget)
    needs.sound("motor", *(f"motor.{key_of(name)}" for name in described(Motor)))
    if block is None or needs.missing:
        return None, needs.missing
    sized = _sized(needs, block)
    if sized is None:
        return None, needs.missing
    section_m2, length_m, mass_kg = sized
    share = block.share.value
    breaks = sums.turns_at_break(length_m, section_m2, float(block.braid.value))
    least, most = (value(block.energy) or each for each in sums.ENERGY_J_KG)
    known = None if block.energy is None else sums.energy(mass_kg, block.energy.value, share)[1]
    low, usual, high = (each * share for each in breaks)
    return MotorBlock(
        section_m2=section_m2,
        length_m=length_m,
        mass_kg=mass_kg,
        share=share,
        breaks=breaks,
        turns=(low, usual, high),
        energy_j=known,
        energy_low_j=sums.energy(mass_kg, least, share)[0],
        energy_high_j=sums.energy(mass_kg, most, share)[2],
        torque_nm=None if known is None or usual <= 0.0 else sums.mean_torque(known, usual),
        height_m=value(block.height),
        height_turns=_for_height(needs, block, air, mass_kg, breaks),
    ), needs.missing


def _sized(needs: Needs, block: Motor) -> tuple[float, float, float] | None:
    """Return section, length and mass; with mass and length both told the scale goes before what was measured."""
    length_m, mass_kg = value(block.length), value(block.mass)
    if length_m is not None and mass_kg is not None:
        return sums.section_weighed(mass_kg, length_m), length_m, mass_kg
    if length_m is None and mass_kg is None:
        needs.note("motor.length")
    strands = needs.must("motor.strands", block.strands)
    width_m = needs.must("motor.width", block.width)
    thickness_m = needs.must("motor.thickness", block.thickness)
    if strands is None or width_m is None or thickness_m is None:
        return None
    section_m2 = sums.section(strands, width_m, thickness_m)
    if length_m is not None:
        return section_m2, length_m, sums.mass(section_m2, length_m)
    return None if mass_kg is None else (section_m2, sums.length_of(mass_kg, section_m2), mass_kg)


def _for_height(
    needs: Needs, block: Motor, air: AirBlock | None, mass_kg: float, breaks: Band
) -> tuple[float | None, float | None] | None:
    """Return the fewest turns for that height with good strip and the most with poor; None where all are too few.

    The model's mass, sink and share that becomes height are those of the air; without them nothing is told.
    """
    if block.height is None:
        return None
    energy_j_kg = needs.must("motor.energy", block.energy)
    if air is None or air.efficiency is None:
        needs.note("air.efficiency")
        return None
    if energy_j_kg is None:
        return None
    flown = needs.budget.air or Air()
    run_s = needs.must("air.motor_run", flown.motor_run or flown.timed_motor)
    if run_s is None:
        return None
    sink_m_s = air.sink_m_s * air.conditions.left[1]  # in the climb the propeller pulls
    fewest, _, most = sums.share_for_height(
        block.height.value, mass_kg * energy_j_kg, air.mass_kg, air.efficiency, sink_m_s, run_s / block.share.value
    )
    return (None if fewest is None else fewest * breaks[0]), (None if most is None else most * breaks[2])


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return the rubber motor, with the air's mass and sink for a height aimed for."""
    found, missing = motor(budget, answers.of(AirBlock))
    return Answered(answer=found, missing={"motor": missing})
