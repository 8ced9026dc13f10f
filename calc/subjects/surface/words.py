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
        launch = " at launch" if block.speed_from == "launch" else ""
        return f"the actuator has only {digits.times(block.factor)} times the strength it needs{launch}"
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
    moment = system.torque(block.moment_nm)
    said = f"At {speed} ({_origin(block, system)}) the air turns the surface back with {moment}."
    said = f"{said} {_how_sure(block, system)}"
    if block.factor is None:
        return f"{said}{_faster(block, system)}"
    said += f" The actuator is {digits.times(block.factor)} times as strong as needed{_at_launch(block)}"
    if block.factor < 1.0:
        return f"{said}: too weak.{_faster(block, system)}"
    if block.far_stronger:
        return f"{said}: a far lighter one would still do.{_faster(block, system)}"
    if block.speed_from == "glide":
        return f"{said} in the glide; a climb or a dive is faster: give a design speed."
    return f"{said}.{_faster(block, system)}"


def _when(block: SurfaceBlock) -> str:
    """Return when the strength is told for; empty for a design speed."""
    return {"glide": " in the glide", "launch": " at launch", "given": ""}[block.speed_from]


def _origin(block: SurfaceBlock, system: UnitSystem) -> str:
    """Return what the speed is, with the slower ones beside that of a launch."""
    if block.speed_from != "launch":
        return "in the glide" if block.speed_from == "glide" else "design speed"
    driven = block.stream
    assert driven is not None  # it is where the speed is from
    climb, glide = system.speed(driven.climb_m_s), system.speed(driven.flight_m_s)
    return f"behind the propeller at launch, at most; {climb} in the climb, {glide} in the glide"


def _at_launch(block: SurfaceBlock) -> str:
    """Return that the strength is that at launch, with the strength in climb and glide; empty for other speeds."""
    driven = block.stream
    if block.speed_from != "launch" or driven is None:
        return ""
    climb, glide = (digits.times(block.factor_at(each) or 0.0) for each in (driven.climb_m_s, driven.flight_m_s))
    return f" at launch ({climb} times in the climb, {glide} times in the glide)"


def _faster(block: SurfaceBlock, system: UnitSystem) -> str:
    """Return that the propeller's stream is faster than the design speed; empty where it is not, or not known."""
    driven = block.stream
    if driven is None or driven.launch_m_s <= block.speed_m_s:
        return ""
    said = f" Behind the propeller the air may come with {system.speed(driven.launch_m_s)} at launch"
    factor = block.factor_at(driven.launch_m_s)
    strong = "" if factor is None else f": there the actuator is {digits.times(factor)} times as strong as needed"
    return f"{said}, more than the design speed{strong}."


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
    said = f"{digits.times(block.factor)} times as strong as needed{_when(block)}"
    return said if block.enough_throw is not False else f"{said}, but too little throw"
