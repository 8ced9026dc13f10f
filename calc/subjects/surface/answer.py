"""The control surface, its actuator, and what leads from one to the other."""

from dataclasses import dataclass, replace
from math import pi, sin

from calc.document.budget import Budget
from calc.document.fields import Entry
from calc.errors import OutOfRangeError
from calc.subject import Answered, Answers, Needs, value
from calc.subjects.air import sums as atmosphere
from calc.subjects.air.answer import AirBlock
from calc.subjects.air.entries import Air
from calc.subjects.linkage import sums as rods
from calc.subjects.power.entries import Session
from calc.subjects.surface import sums, worst
from calc.subjects.surface.entries import Surface

FAR_STRONGER = 5.0  # our rule: from this factor on a far lighter actuator would still do


ENOUGH_RAD = 0.00872664626  # half a degree: throws are told to a degree


@dataclass(frozen=True, kw_only=True)
class SurfaceBlock:
    """Moment [N m], what it asks of the actuator, and the throw [rad] that the arms give each way.

    Where the throw falls short, `full_need` is what the actuator would have to give with the shorter horn `full_horn_m`
    that lets its travel or stroke reach the deflection wanted.
    """

    speed_m_s: float
    speed_from: str  # "given" or "glide"
    moment_nm: float  # the most that it may be
    least_nm: float | None  # of a hinged flap: the least that theory is out by; None for a whole surface
    force_n: float | None  # along the linkage; None for a coil or without a horn
    need: float | None  # N m of a rotary servo or coil, N of a linear servo
    rated: float | None
    throw_rad: tuple[float, float] | None  # pulling, pushing
    slack_m: float | None  # that pull-pull lines need
    wanted_rad: float
    full_horn_m: float | None = None
    full_need: float | None = None

    @property
    def factor(self) -> float | None:
        """Rated ÷ need."""
        return None if self.need is None or self.rated is None or self.need <= 0.0 else self.rated / self.need

    @property
    def full_factor(self) -> float | None:
        """Rated ÷ need with the whole throw: with the arms as they are, or the shorter horn where they fall short."""
        if self.enough_throw is not False:
            return self.factor
        if self.rated is None or self.full_need is None or self.full_need <= 0.0:
            return None
        return self.rated / self.full_need

    @property
    def enough_throw(self) -> bool | None:
        """Whether the arms give the deflection wanted both ways, to half a degree; None where it is not known."""
        if self.throw_rad is None:
            return None
        return min(self.throw_rad) >= self.wanted_rad - ENOUGH_RAD

    @property
    def far_stronger(self) -> bool:
        """Whether a far lighter actuator would still do: told only for a design speed that somebody gave."""
        strong = self.full_factor is not None and self.full_factor >= FAR_STRONGER
        return strong and self.speed_from == "given" and self.enough_throw is not False


def surface(budget: Budget, air: AirBlock | None) -> tuple[SurfaceBlock | None, tuple[str, ...]]:
    """Return the surface block, or None and the paths of the fields it waits for."""
    block = budget.surface
    if block is None:
        return None, ("surface.span",)
    needs = Needs(budget)
    _surface_lacks(needs, block, air)
    speed = value(block.speed) if block.speed is not None else (None if air is None else air.speed_m_s)
    if needs.lacks or speed is None:
        return None, needs.lacks
    moment_nm = _moment(block, _pressure(budget, speed))
    throw_rad = _throw(budget, block)
    full_horn_m = _full_horn(block)
    short = throw_rad is not None and full_horn_m is not None and min(throw_rad) < value(block.deflection) - ENOUGH_RAD
    found = SurfaceBlock(
        speed_m_s=speed,
        speed_from="glide" if block.speed is None else "given",
        moment_nm=moment_nm,
        least_nm=worst.flap_range(moment_nm)[0] if block.kind.value == "hinged" else None,
        force_n=_force(block, moment_nm),
        need=_need(block, moment_nm),
        rated=value(block.thrust if block.actuator.value == "linear servo" else block.torque),
        throw_rad=throw_rad,
        slack_m=_slack(budget, block),
        wanted_rad=value(block.deflection),
        full_horn_m=full_horn_m if short else None,
        full_need=_need(replace(block, horn=Entry(value=full_horn_m)), moment_nm) if short and full_horn_m else None,
    )
    _actuator_lacks(needs, block)
    return found, needs.lacks


def _full_horn(block: Surface) -> float | None:
    """Return the horn [m] at which stroke or travel just gives the deflection wanted; None where that is not known.

    A rotary servo's rod is taken as long, so that it stays parallel.
    """
    wanted = value(block.deflection)
    if block.actuator.value == "linear servo":
        reach_m = value(block.stroke)
    else:
        reach_m = None if block.arm is None else block.arm.value * sin(min(block.travel.value, pi / 2.0))
    return None if reach_m is None or block.actuator.value == "coil actuator" else float(reach_m / sin(wanted))


SOUND = (
    "surface", "surface.kind", "surface.pivot", "surface.speed", "surface.actuator", "surface.travel",
    "air.field_height", "session.temperature",
)  # fmt: skip


def _surface_lacks(needs: Needs, block: Surface, air: AirBlock | None) -> None:
    needs.sound(*SOUND)
    needs.must("surface.span", block.span)
    needs.must("surface.chord", block.chord)
    needs.must("surface.deflection", block.deflection)
    if block.kind.value == "hinged":
        needs.must("surface.flap_chord", block.flap_chord)
    if block.speed is None and air is None:
        needs.note("surface.speed")


def _actuator_lacks(needs: Needs, block: Surface) -> None:
    """Note what the comparison with the actuator waits for."""
    word = block.actuator.value
    if word != "coil actuator":
        needs.must("surface.horn", block.horn)
    if word == "rotary servo":
        needs.must("surface.arm", block.arm)
    if word == "linear servo":
        needs.must("surface.stroke", block.stroke)
        needs.must("surface.thrust", block.thrust)
    else:
        needs.must("surface.torque", block.torque)
    needs.sound("linkage.length", "surface.horn", "surface.arm", "surface.stroke")


def _pressure(budget: Budget, speed_m_s: float) -> float:
    place, session = budget.air or Air(), budget.session or Session()
    density = atmosphere.density(place.field_height.value, session.temperature.value)
    return sums.dynamic_pressure(density, speed_m_s)


def _moment(block: Surface, pressure_pa: float) -> float:
    span, chord, delta = value(block.span), value(block.chord), value(block.deflection)
    if block.kind.value == "hinged":
        return sums.flap_moment(pressure_pa, span, chord, value(block.flap_chord), delta)
    return worst.pivoted_moment(pressure_pa, span * chord, chord, span / chord, block.pivot.value, delta)


def _force(block: Surface, moment_nm: float) -> float | None:
    if block.actuator.value == "coil actuator" or block.horn is None:
        return None
    return rods.force(moment_nm, block.horn.value)


def _need(block: Surface, moment_nm: float) -> float | None:
    """Return the torque of a coil or rotary servo [N m], or the thrust of a linear one [N]."""
    if block.actuator.value == "coil actuator":
        return moment_nm
    if block.actuator.value == "linear servo":
        return _force(block, moment_nm)
    if block.arm is None or block.horn is None:
        return None
    return sums.servo_need(moment_nm, block.arm.value, block.horn.value)


def _rod_length(budget: Budget) -> float:
    """Return the linkage's length [m]; where it is not given, so long that it does not matter."""
    length = None if budget.linkage is None else value(budget.linkage.length)
    return 100.0 if length is None else float(length)


def _throw(budget: Budget, block: Surface) -> tuple[float, float] | None:
    """Return the throw pulling and pushing [rad], ≥ 0; None where the arms are not given or cannot follow."""
    if block.horn is None or block.actuator.value == "coil actuator":
        return None
    horn_m = block.horn.value
    try:
        if block.actuator.value == "linear servo":
            if block.stroke is None:
                return None
            delta = sums.horn_throw(block.stroke.value, horn_m)
            return delta, delta
        if block.arm is None:
            return None
        arms = (block.arm.value, horn_m, _rod_length(budget))
        pulled = -sums.throw(*arms, -block.travel.value)
        if budget.linkage is not None and budget.linkage.kind.value == "lines":
            return pulled, pulled  # lines only pull, one each way
        return pulled, sums.throw(*arms, block.travel.value)
    except OutOfRangeError:
        return None


def _slack(budget: Budget, block: Surface) -> float | None:
    if block.actuator.value != "rotary servo" or block.arm is None or block.horn is None:
        return None
    try:
        return sums.slack(block.arm.value, block.horn.value, _rod_length(budget), block.travel.value)
    except OutOfRangeError:
        return None


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return what the surface asks of its actuator; without a design speed, at the glide's."""
    found, lacks = surface(budget, answers.of(AirBlock))
    return Answered(answer=found, lacks={"surface": lacks})
