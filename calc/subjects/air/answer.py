"""What the gear costs in the air."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import exp
from typing import Literal

from calc.document.budget import Budget
from calc.subject import Answered, Answers, Needs, value
from calc.subjects.air import climb, sums
from calc.subjects.air.climb import ENERGY_LAUNCHES, Flight, Range
from calc.subjects.air.entries import Air
from calc.subjects.air.overgear import Filled, Launched, OverGear
from calc.subjects.flights.answer import FlightsBlock, unreadable
from calc.subjects.limits.allowance import TIE_KG
from calc.subjects.limits.answer import Limits
from calc.subjects.power.entries import Session
from calc.subjects.weights.answer import ClassMass, ModelMass, Weights, airframe_missing
from calc.vocabulary import Origin, Regime


@dataclass(frozen=True, kw_only=True)
class Conditions:
    """What does not change with the gear's mass: density [kg/m³], wing area [m²], glide factor, where it is from."""

    density_kg_m3: float
    area_m2: float
    glide_factor: float
    glide_factor_from: Origin
    lift_coefficient: float
    aside_glide_factor: float | None = None  # given, but a timed flight goes before it
    left: tuple[float, float, float] = (1.0, 1.0, 1.0)  # of Φ with the propeller in the glide: least, usual, most
    flown: FlightsBlock | None = None  # what flights taught, where Φ is theirs


@dataclass(frozen=True, kw_only=True)
class AirBlock:
    """Loading [kg/m²], speeds [m/s], still-air times [s]; times None where the launch is not given."""

    conditions: Conditions
    mass_kg: float  # in the glide, with rubber and ballast
    loading_kg_m2: float
    speed_m_s: float
    sink_m_s: float
    efficiency: float | None
    efficiency_from: Origin | Literal[""]  # "" where none is needed
    time_s: float | None
    times: Range | None  # the same with its low and high end
    height_m: Range | None  # above the launch; None where no motor run is told
    regime: Regime  # "free": ballast would take the gear's place; "part": some of it; "paid": every gram costs
    gear_kg: float
    lead_kg: float  # counted in the mass, and in the time with the gear
    kink_kg: float | None  # gear mass at which it begins to cost, where there is a class minimum to fill
    over_gear: OverGear | None  # the same with other masses of gear
    aside_efficiency: float | None = None  # given, but a timed flight goes before it
    overdrawn: float | None = None  # a timed flight needs so many times the energy there was, > 1: no time then
    launch: str = "rubber"
    before: "AirBlock | None" = None  # what it would be without what flights taught

    @cached_property
    def time_without_gear_s(self) -> float | None:
        """Time with nothing aboard."""
        return None if self.over_gear is None else self.over_gear.time_s(0.0)

    @cached_property
    def per_gram_s(self) -> float | None:
        """Time that the next gram of gear takes, ≤ 0."""
        return None if self.over_gear is None else self.over_gear.per_gram_s

    @cached_property
    def points(self) -> tuple[tuple[float, float], ...]:
        """The curve of the time over the gear: mass [kg], time [s]; none where no time is known."""
        return () if self.over_gear is None else tuple(self.over_gear.points())

    @property
    def time_kept(self) -> float | None:
        """Time with the gear ÷ time without it."""
        if self.time_s is None or self.time_without_gear_s is None:
            return None
        return self.time_s / self.time_without_gear_s


NEEDED = (
    "air", "air.field_height", "air.lift", "air.glide_factor", "air.timed_height", "air.timed_glide",
    "air.motor_run", "air.propeller",
    "model.rubber", "session", "session.temperature", "model.use", "model.minimum", "model.class",
)  # fmt: skip


def air(
    budget: Budget, model: ModelMass, gear_kg: float, class_: ClassMass, ballast_kg: float,
    flown: FlightsBlock | None = None,
) -> tuple[AirBlock | None, tuple[str, ...]]:  # fmt: skip
    """Return the air block, or None, and the paths of the fields that it or its times wait for."""
    needs = Needs(budget)
    needs.sound(*NEEDED)
    needs.note(*unreadable(budget))  # what they show may be worse than what is taken without them
    if model.airframe_kg is None:
        needs.note(*airframe_missing(budget))
    area_m2 = needs.must("model.wing_area", budget.model.wing_area)
    if needs.missing or model.airframe_kg is None or area_m2 is None:
        return None, needs.missing
    block = budget.air or Air()
    filled = Filled(
        airframe_kg=model.airframe_kg,
        rubber_kg=value(budget.model.rubber) or 0.0,
        minimum_kg=(class_.minimum_kg or 0.0) if budget.model.use.value == "contest" else 0.0,
    )
    mass_kg = filled.mass(gear_kg + ballast_kg)
    conditions = _conditions(block, budget.session or Session(), area_m2, mass_kg, flown)
    _half_timed(needs, block)
    return _worked_out(needs, block, filled, conditions, gear_kg, ballast_kg), needs.missing


def _half_timed(needs: Needs, block: Air) -> None:
    """Note what is missing of a timed flight of which only a part was entered."""
    if block.glide_factor is None and (block.timed_height is not None or block.timed_glide is not None):
        needs.must("air.timed_height", block.timed_height)
        needs.must("air.timed_glide", block.timed_glide)


def _conditions(
    block: Air, session: Session, area_m2: float, mass_kg: float, flown: FlightsBlock | None
) -> Conditions:  # fmt: skip
    density = sums.density(block.field_height.value, session.temperature.value)
    given = value(block.glide_factor)
    origin: Origin
    if flown is not None and flown.factor is not None:  # which holds what was timed or given
        factor, origin = flown.factor.value, "flown"
    elif block.timed_height is not None and block.timed_glide is not None:  # measured goes before given
        heights = (block.timed_height.value, block.timed_glide.value)
        factor, origin = sums.glide_factor_of(*heights, mass_kg, area_m2, density), "timed"
    else:
        factor, origin = (sums.GLIDE_FACTOR, "assumed") if given is None else (given, "given")
    return Conditions(
        density_kg_m3=density,
        area_m2=area_m2,
        glide_factor=factor,
        glide_factor_from=origin,
        lift_coefficient=block.lift.value,
        aside_glide_factor=given if origin == "timed" else None,
        left=climb.PROPELLER["in it" if origin in ("timed", "flown") else block.propeller.value],
        flown=flown if origin == "flown" else None,
    )


def _worked_out(
    needs: Needs, block: Air, filled: Filled, conditions: Conditions, gear_kg: float, ballast_kg: float
) -> AirBlock:  # fmt: skip
    mass_kg = filled.mass(gear_kg + ballast_kg)
    sink = sums.sink_speed(mass_kg, conditions.area_m2, conditions.density_kg_m3, conditions.glide_factor)
    sink /= conditions.left[1]
    speed = sums.glide_speed(mass_kg, conditions.area_m2, conditions.density_kg_m3, conditions.lift_coefficient)
    launched, (share, origin) = _launched(needs, block, mass_kg, conditions)
    now = None if launched is None else launched.now
    found = None if now is None else climb.ranges(now, _unsure(block, conditions, origin, now))
    room_kg, aboard_kg = filled.room_kg, gear_kg + ballast_kg
    over = None if launched is None else OverGear(launched=launched, filled=filled, aboard_kg=aboard_kg)
    overdrawn = share is not None and share > 1.0
    free = aboard_kg <= room_kg + TIE_KG
    return AirBlock(
        conditions=conditions, mass_kg=mass_kg, loading_kg_m2=mass_kg / conditions.area_m2, speed_m_s=speed,
        sink_m_s=sink, efficiency=None if overdrawn else share, efficiency_from="" if overdrawn else origin,
        time_s=None if found is None else found.time_s.middle, times=None if found is None else found.time_s,
        height_m=found.height_m if found is not None and _height_known(block) else None,
        regime="free" if free else "part" if room_kg > TIE_KG else "paid", gear_kg=aboard_kg, lead_kg=ballast_kg,
        kink_kg=room_kg if room_kg > TIE_KG else None, over_gear=over,
        aside_efficiency=value(block.efficiency) if origin == "timed" else None,
        overdrawn=share if overdrawn else None, launch=block.launch.value,
    )  # fmt: skip


def _launched(
    needs: Needs, block: Air, mass_kg: float, conditions: Conditions
) -> tuple[Launched | None, tuple[float | None, Origin | Literal[""]]]:  # fmt: skip
    """Return the launch, and the efficiency with where it is from; what they lack is noted."""
    air = {
        "mass_kg": mass_kg, "area_m2": conditions.area_m2, "density_kg_m3": conditions.density_kg_m3,
        "glide_factor": conditions.glide_factor, "left": conditions.left[1],
    }  # fmt: skip
    if not needs.sound("air.launch"):
        return None, (None, "")
    if block.launch.value not in ENERGY_LAUNCHES:
        height_m = needs.must("air.height", block.height)
        if height_m is None:
            return None, (None, "")
        lifted = sums.GRAVITY * height_m  # J/kg: all of it is height
        return Launched(now=Flight(energy_j=lifted * mass_kg, efficiency=1.0, **air), energy_j_kg=lifted), (None, "")
    energy_j = _energy(needs, block)
    if energy_j is None:
        return None, (None, "")
    share, _ = efficiency = _efficiency(needs, block, mass_kg, energy_j, conditions.flown)
    if share is None:
        needs.note("air.efficiency")
    if share is None or share > 1.0:  # a timed flight that used more than there was
        return None, efficiency
    return Launched(now=Flight(energy_j=energy_j, efficiency=share, motor_s=motor_run(block), **air)), efficiency


def motor_run(block: Air) -> float:
    """Return the motor run [s]: timed before told, none of a catapult; 0 where nobody says, so that all is glide."""
    if block.launch.value == "catapult":
        return 0.0
    return (value(block.timed_motor) if _timed(block) else value(block.motor_run)) or 0.0


def _timed(block: Air) -> bool:
    return None not in (block.timed_height, block.timed_glide, block.timed_motor)


def _height_known(block: Air) -> bool:
    """Return whether the height at the end of the motor run can be told."""
    powered = block.launch.value in ("rubber", "motor")
    return not powered or _timed(block) or block.motor_run is not None


def _unsure(block: Air, conditions: Conditions, efficiency_from: str, flight: Flight) -> dict[str, tuple[float, float]]:
    """Return the low and high end of what no flight was timed for."""
    found = {"left": (conditions.left[0], conditions.left[2])}
    if conditions.flown is not None and conditions.flown.factor is not None:
        found["glide_factor"] = climb.either_way(conditions.glide_factor, exp(2.0 * conditions.flown.factor.u))
    elif conditions.glide_factor_from != "timed":
        found["glide_factor"] = climb.either_way(conditions.glide_factor)
    if block.launch.value not in ENERGY_LAUNCHES or efficiency_from == "timed":
        return found
    flown = None if conditions.flown is None else conditions.flown.efficiency
    if efficiency_from == "flown" and flown is not None:  # what was flown holds the energy and the motor run, too
        found["efficiency"] = climb.either_way(flight.efficiency, exp(2.0 * flown.u), most=1.0)
        return found
    found["efficiency"] = climb.either_way(flight.efficiency, most=1.0)
    found["energy_j"] = climb.either_way(flight.energy_j)
    found["motor_s"] = climb.either_way(flight.motor_s)
    return found


def _energy(needs: Needs, block: Air) -> float | None:
    if block.launch.value != "rubber":
        return needs.must("air.work", block.work)
    rubber_kg = needs.must("model.rubber", needs.budget.model.rubber)
    if rubber_kg == 0.0:
        needs.note("model.rubber")
    energy_j_kg = needs.must("air.rubber_energy", block.rubber_energy)
    return rubber_kg * energy_j_kg if rubber_kg and energy_j_kg is not None else None


def _efficiency(
    needs: Needs, block: Air, mass_kg: float, energy_j: float, flown: FlightsBlock | None
) -> tuple[float | None, Origin | Literal[""]]:  # fmt: skip
    if not needs.sound("air.efficiency", "air.timed_motor"):
        return None, ""
    if flown is not None and flown.efficiency is not None:
        return flown.efficiency.value, "flown"
    if block.timed_height is None or block.timed_glide is None or block.timed_motor is None:
        return (None, "") if block.efficiency is None else (block.efficiency.value, "given")
    timed = (block.timed_height.value, block.timed_glide.value, block.timed_motor.value)
    return sums.efficiency_of(energy_j, mass_kg, *timed), "timed"


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return what the gear costs in the air, the lead for balance aboard."""
    weights, limits = answers.must(Weights), answers.must(Limits)
    flown = answers.of(FlightsBlock)
    given = (budget, limits.model, weights.gear.expected_kg, limits.class_, limits.model.lead_kg)
    found, missing = air(*given, flown)
    if found is not None and found.conditions.flown is not None:
        found = replace(found, before=air(*given)[0])
    return Answered(answer=found, missing={"air": missing})
