"""The control surface, its actuator, and what leads from one to the other."""

from dataclasses import dataclass, replace
from math import pi, sin

from calc.document.budget import Budget
from calc.document.fields import Entry
from calc.errors import OutOfRangeError
from calc.subject import Answered, Answers, Needs, present, value
from calc.subjects.air import sums as atmosphere
from calc.subjects.air.answer import AirBlock
from calc.subjects.air.entries import Air
from calc.subjects.linkage import sums as rods
from calc.subjects.motor.answer import MotorBlock
from calc.subjects.power.entries import Session
from calc.subjects.surface import sums, worst
from calc.subjects.surface.entries import Surface
from calc.subjects.surface.stream import Stream, stream
from calc.vocabulary import Actuator, SpeedOrigin

FAR_STRONGER = 5.0  # our rule: from this factor on a far lighter actuator would still do

VISIBLE_SLACK_M = 0.00013  # the least that does not show as 0.00 in
ENOUGH_RAD = 0.00872664626  # half a degree: throws are told to a degree


@dataclass(frozen=True, kw_only=True)
class Effort:
    """What is asked of an actuator, or what it can give: a torque [N m], or the thrust of a linear servo [N].

    The other one is None; both are None where it is not known.
    """

    torque_nm: float | None = None
    thrust_n: float | None = None

    def times(self, need: "Effort") -> float | None:
        """Return how many times a need this is; None where that cannot be said.

        Examples
        --------
        >>> Effort(torque_nm=0.03).times(Effort(torque_nm=0.01)), Effort(torque_nm=0.03).times(Effort(thrust_n=1.0))
        (3.0, None)
        """
        pairs = ((self.torque_nm, need.torque_nm), (self.thrust_n, need.thrust_n))
        known = ((given, asked) for given, asked in pairs if given is not None and asked is not None)
        return next((given / asked for given, asked in known if asked > 0.0), None)

    def meets(self, need: "Effort") -> bool:
        """Return whether this is enough for a need; what is not known never is.

        Examples
        --------
        >>> Effort(thrust_n=0.3).meets(Effort(thrust_n=0.3)), Effort(torque_nm=0.3).meets(Effort(thrust_n=0.3))
        (True, False)
        """
        pairs = ((self.torque_nm, need.torque_nm), (self.thrust_n, need.thrust_n))
        return any(given is not None and asked is not None and given >= asked for given, asked in pairs)

    @property
    def known(self) -> bool:
        """Whether one of them is known."""
        return self.torque_nm is not None or self.thrust_n is not None


UNKNOWN = Effort()


@dataclass(frozen=True, kw_only=True)
class SurfaceBlock:
    """Moment [N m], what it asks of the actuator, and the throw [rad] that the arms give each way.

    Where the throw falls short, `full_need` is what the actuator would have to give with the shorter horn `full_horn_m`
    that lets its travel or stroke reach the deflection wanted.
    """

    speed_m_s: float
    speed_from: SpeedOrigin
    moment_nm: float  # the most that it may be
    least_nm: float | None  # of a hinged flap: the least that theory is out by; None for a whole surface
    force_n: float | None  # along the linkage; None for a coil or without a horn
    need: Effort
    rated: Effort
    throw_rad: tuple[float, float] | None  # pulling, pushing
    slack_m: float | None  # that pull-pull lines need
    wanted_rad: float
    full_horn_m: float | None = None
    full_need: Effort = UNKNOWN
    stream: Stream | None = None  # of the propeller, where it is known

    @property
    def factor(self) -> float | None:
        """Rated ÷ need."""
        return self.rated.times(self.need)

    @property
    def full_factor(self) -> float | None:
        """Rated ÷ need with the whole throw: with the arms as they are, or the shorter horn where they fall short."""
        if self.enough_throw is not False:
            return self.factor
        return self.rated.times(self.full_need)

    @property
    def enough_throw(self) -> bool | None:
        """Whether the arms give the deflection wanted both ways, to half a degree; None where it is not known."""
        if self.throw_rad is None:
            return None
        return min(self.throw_rad) >= self.wanted_rad - ENOUGH_RAD

    @property
    def rigs_with_slack(self) -> bool:
        """Whether lines need so much slack that somebody who rigs them can see it."""
        return self.slack_m is not None and self.slack_m >= VISIBLE_SLACK_M

    @property
    def far_stronger(self) -> bool:
        """Whether a far lighter actuator would still do, at launch, too: never told by the glide's speed alone."""
        if self.full_factor is None or self.speed_from == "glide" or self.enough_throw is False:
            return False
        fastest = self.speed_m_s if self.stream is None else max(self.speed_m_s, self.stream.launch_m_s)
        return self.full_factor * (self.speed_m_s / fastest) ** 2 >= FAR_STRONGER

    def factor_at(self, speed_m_s: float) -> float | None:
        """Return rated ÷ need in air of another speed, > 0: the need goes with its square."""
        return None if self.factor is None else self.factor * (self.speed_m_s / speed_m_s) ** 2


def surface(
    budget: Budget, air: AirBlock | None, motor: MotorBlock | None = None
) -> tuple[SurfaceBlock | None, tuple[str, ...]]:
    """Return the surface block, or None and the paths of the fields it waits for."""
    block = budget.surface
    if block is None:
        return None, ("surface.span",)
    needs = Needs(budget)
    _note_surface(needs, block, air)
    if needs.missing:
        return None, needs.missing
    driven = stream(needs, air, motor)
    speed, origin = _speed(block, air, driven)
    moment_nm = _moment(block, _pressure(budget, speed))
    throw_rad = _throw(budget, block)
    wanted_rad = present(block.deflection)
    short = throw_rad is not None and min(throw_rad) < wanted_rad - ENOUGH_RAD
    full_horn_m = _full_horn(block) if short else None
    found = SurfaceBlock(
        speed_m_s=speed, speed_from=origin, moment_nm=moment_nm,
        least_nm=worst.flap_range(moment_nm)[0] if block.kind.value == "hinged" else None,
        force_n=_force(block, moment_nm), need=_need(block, moment_nm),
        rated=rated_effort(block.actuator.value, block.torque, block.thrust), throw_rad=throw_rad,
        slack_m=_slack(budget, block), wanted_rad=wanted_rad, full_horn_m=full_horn_m,
        full_need=_need(replace(block, horn=Entry(value=full_horn_m)), moment_nm) if full_horn_m else UNKNOWN,
        stream=driven,
    )  # fmt: skip
    _note_actuator(needs, block)
    return found, needs.missing


def _speed(block: Surface, air: AirBlock | None, driven: Stream | None) -> tuple[float, SpeedOrigin]:
    """Return the speed [m/s] that strength is judged by: the one typed, else the propeller's stream, else the glide."""
    if block.speed is not None:
        return block.speed.value, "given"
    if driven is not None:
        return driven.launch_m_s, "launch"
    assert air is not None  # else the speed is missing
    return air.speed_m_s, "glide"


def _full_horn(block: Surface) -> float | None:
    """Return the horn [m] at which stroke or travel just gives the deflection wanted; None where that is not known.

    A rotary servo's rod is taken as long, so that it stays parallel.
    """
    wanted = present(block.deflection)
    if block.actuator.value == "linear servo":
        reach_m = value(block.stroke)
    else:
        reach_m = None if block.arm is None else block.arm.value * sin(min(block.travel.value, pi / 2.0))
    return None if reach_m is None or block.actuator.value == "coil actuator" else reach_m / sin(wanted)


SOUND = (
    "surface", "surface.kind", "surface.pivot", "surface.speed", "surface.actuator", "surface.travel",
    "air.field_height", "session.temperature",
)  # fmt: skip


def _note_surface(needs: Needs, block: Surface, air: AirBlock | None) -> None:
    needs.sound(*SOUND)
    needs.must("surface.span", block.span)
    needs.must("surface.chord", block.chord)
    needs.must("surface.deflection", block.deflection)
    if block.kind.value == "hinged":
        needs.must("surface.flap_chord", block.flap_chord)
    if block.speed is None and air is None:
        needs.note("surface.speed")


def _note_actuator(needs: Needs, block: Surface) -> None:
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
    span, chord, delta = present(block.span), present(block.chord), present(block.deflection)
    if block.kind.value == "hinged":
        return sums.flap_moment(pressure_pa, span, chord, present(block.flap_chord), delta)
    return worst.pivoted_moment(pressure_pa, span * chord, chord, span / chord, block.pivot.value, delta)


def _force(block: Surface, moment_nm: float) -> float | None:
    if block.actuator.value == "coil actuator" or block.horn is None:
        return None
    return rods.force(moment_nm, block.horn.value)


def rated_effort(actuator: Actuator, torque: Entry[float] | None, thrust: Entry[float] | None) -> Effort:
    """Return what an actuator is rated for, as far as somebody said."""
    if actuator == "linear servo":
        return Effort(thrust_n=value(thrust))
    return Effort(torque_nm=value(torque))


def _need(block: Surface, moment_nm: float) -> Effort:
    """Return what the moment asks of the actuator; unknown where the arms are not given."""
    if block.actuator.value == "coil actuator":
        return Effort(torque_nm=moment_nm)
    if block.actuator.value == "linear servo":
        return Effort(thrust_n=_force(block, moment_nm))
    if block.arm is None or block.horn is None:
        return UNKNOWN
    return Effort(torque_nm=sums.servo_need(moment_nm, block.arm.value, block.horn.value))


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
    """Return what the surface asks of its actuator; without a design speed, behind the propeller or at the glide's."""
    found, missing = surface(budget, answers.of(AirBlock), answers.of(MotorBlock))
    return Answered(answer=found, missing={"surface": missing})
