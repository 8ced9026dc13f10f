"""What is said of the surface and its actuator."""

from math import degrees
from typing import TYPE_CHECKING

from calc import digits
from calc.subject import not_yet
from calc.subjects.surface.answer import SurfaceBlock
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment


def fails(assessment: "Assessment", system: UnitSystem) -> str:  # noqa: ARG001
    """Return what of strength and throw keeps the installation from fitting."""
    block = assessment.surface
    assert block is not None  # else it would be open, or not asked
    if block.factor is not None and block.factor < 1.0:
        return f"the actuator has only {digits.times(block.factor)} times the strength it needs"
    if block.enough_throw is False and block.throw_rad is not None:
        return f"the surface moves only {digits.measured(degrees(min(block.throw_rad)))}° of the {_wanted(block)}°"
    return f"the {'push rod' if assessment.linkage and assessment.linkage.kind == 'rod' else 'lines'} would not hold"


def _wanted(block: SurfaceBlock) -> str:
    return digits.given(degrees(block.wanted_rad))


def surface_sentence(block: SurfaceBlock, system: UnitSystem) -> str:
    """Return what the surface asks, and how the actuator stands to it."""
    speed = system.speed(block.speed_m_s)
    if block.speed_from == "given":
        speed = system.given(block.speed_m_s, "speed", 2)
    origin = "in the glide" if block.speed_from == "glide" else "design speed"
    said = f"At {speed} ({origin}) the air turns the surface back with {system.torque(block.moment_nm)}."
    said = f"{said} {_how_sure(block, system)}"
    if block.factor is None:
        return said
    said += f" The actuator is {digits.times(block.factor)} times as strong as needed"
    if block.factor < 1.0:
        return f"{said}: too weak."
    if block.far_stronger:
        return f"{said}: a far lighter one would still do."
    glide = block.speed_from == "glide"
    return f"{said} in the glide; a climb or a dive is faster: give a design speed." if glide else f"{said}."


def _how_sure(block: SurfaceBlock, system: UnitSystem) -> str:
    """Return by how much the moment may be too high."""
    if block.least_nm is None:
        return "The force is taken where it is worst, between 20 % and 40 % of the chord."
    least = system.torque(block.least_nm)
    return f"That is thin-aerofoil theory, the safe side: on so small a flap it may be no more than {least}."


def throw_sentence(block: SurfaceBlock, system: UnitSystem) -> str:
    """Return the throw that the arms give, beside the one wanted; empty where it is not known."""
    if block.throw_rad is None:
        return ""
    pull, push = (digits.measured(degrees(each)) for each in block.throw_rad)
    given = f"{pull}°" if pull == push else f"{pull}° one way and {push}° the other"
    said = f"The arms give {given}; {_wanted(block)}° are wanted"
    if block.enough_throw:
        return f"{said}."
    assert block.full_horn_m is not None  # known wherever the throw is
    horn = system.length(block.full_horn_m)
    strong = block.full_factor
    then = "" if strong is None else f", and with it the actuator is {digits.times(strong)} times as strong as needed"
    return f"{said}: not enough. A horn of about {horn} gives them{then}."


def brief(assessment: "Assessment", system: UnitSystem) -> str:
    """Return in one line how strong the actuator is, and whether it moves the surface far enough."""
    block = assessment.surface
    if block is None:
        return not_yet(assessment, "surface", assessment.budget.surface)
    if block.factor is None:
        return f"the air turns it back with {system.torque(block.moment_nm)}"
    glide = " in the glide" if block.speed_from == "glide" else ""
    said = f"{digits.times(block.factor)} times as strong as needed{glide}"
    return said if block.enough_throw is not False else f"{said}, but too little throw"
