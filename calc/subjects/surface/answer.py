"""The control surface, its actuator, and what leads from one to the other."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import pi, sin

from calc.document.budget import Budget
from calc.document.fields import Entry
from calc.document.parts import Air, Linkage, Session, Surface
from calc.errors import OutOfRangeError
from calc.subject import Needs, unread, value
from calc.subjects.air import sums as atmosphere
from calc.subjects.air.answer import AirBlock
from calc.subjects.linkage import sums as rods
from calc.subjects.linkage.sums import MATERIALS, YARNS, Held, Lines, Material, Rod
from calc.subjects.stock import sums as stock
from calc.subjects.surface import sums

FAR_STRONGER = 5.0  # our rule: from this factor on a far lighter actuator would still do
ENOUGH_RAD = 0.00872664626  # half a degree: throws are told to a degree
HOLDS_FACTOR = 2.0  # our rule: a linkage holds with this factor of strength …
HOLDS_LOST_DEG = 2.0  # … and if stretch loses no more than this
ROD_ENDS_KG, LINE_ENDS_KG = 0.0004, 0.0001  # ends taken where none are given: common practice, no source


@dataclass(frozen=True, kw_only=True)
class SurfaceBlock:
    """Moment [N m], what it asks of the actuator, and the throw [rad] that the arms give each way.

    Where the throw falls short, `full_need` is what the actuator would have to give with the shorter horn `full_horn_m`
    that lets its travel or stroke reach the deflection wanted.
    """

    speed_m_s: float
    speed_from: str  # "given" or "glide"
    moment_nm: float
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


def holds(held: Held) -> bool:
    """Return whether a linkage is strong and stiff enough by our rule."""
    return held.factor >= HOLDS_FACTOR and held.lost_deg <= HOLDS_LOST_DEG


@dataclass(frozen=True, kw_only=True)
class Choice:
    """A way to lead the force there: what it is, how it holds, whether it holds by our rule."""

    name: str
    made_of: Rod | Lines
    held: Held

    @property
    def holds(self) -> bool:
        """Whether it is strong and stiff enough by our rule."""
        return holds(self.held)


@dataclass(frozen=True, kw_only=True)
class LinkageBlock:
    """The linkage as given, and the usual choices beside it for this surface; lightest first."""

    force_n: float
    kind: str
    made_of: Rod | Lines | None
    held: Held | None
    choices: tuple[Choice, ...]

    @property
    def lightest(self) -> Choice | None:
        """The lightest of the choices that holds."""
        return next((choice for choice in self.choices if choice.holds), None)


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
    return sums.pivoted_moment(pressure_pa, span * chord, chord, span / chord, block.pivot.value, delta)


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
        return -sums.throw(*arms, -block.travel.value), sums.throw(*arms, block.travel.value)
    except OutOfRangeError:
        return None


def _slack(budget: Budget, block: Surface) -> float | None:
    if block.actuator.value != "rotary servo" or block.arm is None or block.horn is None:
        return None
    try:
        return sums.slack(block.arm.value, block.horn.value, _rod_length(budget), block.travel.value)
    except OutOfRangeError:
        return None


def linkage(budget: Budget, found: SurfaceBlock | None) -> tuple[LinkageBlock | None, tuple[str, ...]]:
    """Return the linkage block, or None, and the paths of the fields that it or the given linkage waits for."""
    block = budget.linkage
    if block is None or found is None or budget.surface is None:
        return None, ("linkage.length",) if block is None else ("surface.span",)
    horn = budget.surface.horn
    if found.force_n is None or horn is None:
        return None, ("surface.horn",) if budget.surface.actuator.value != "coil actuator" else ()
    needs = Needs(budget)
    needs.must("linkage.length", block.length)
    needs.sound("linkage", "linkage.free_length", "linkage.kind", "surface.horn")
    if block.length is None or needs.lacks:
        return None, needs.lacks
    made_of, lacks = _as_given(budget, block, block.length.value)
    choices = _choices(block, block.length.value, found.force_n, horn.value)
    return LinkageBlock(
        force_n=found.force_n,
        kind=block.kind.value,
        made_of=made_of,
        held=None if made_of is None else _held(made_of, found.force_n, horn.value),
        choices=tuple(sorted(choices, key=lambda choice: choice.held.mass_kg)),
    ), lacks


def _held(made_of: Rod | Lines, force_n: float, horn_m: float) -> Held:
    if isinstance(made_of, Rod):
        return rods.hold_rod(made_of, force_n, horn_m)
    return rods.hold_lines(made_of, force_n, horn_m)


def _as_given(budget: Budget, block: Linkage, length_m: float) -> tuple[Rod | Lines | None, tuple[str, ...]]:
    """Return the linkage of the budget, or None and what is missing of it."""
    names = (
        "material",
        "section",
        "bore",
        "density",
        "modulus",
        "ends",
        "yarn",
        "knot",
        "tex",
        "line_diameter",
        "diameter",
    )
    broken = tuple(f"linkage.{name}" for name in names if unread(budget, f"linkage.{name}"))
    if block.kind.value == "rod":
        if broken or block.diameter is None:
            return None, broken or ("linkage.diameter",)
        return _rod(block, length_m, block.diameter.value), ()
    tex = _tex(block)
    if broken or tex is None:
        return None, broken or ("linkage.tex",)
    ends_kg = LINE_ENDS_KG if block.ends is None else block.ends.value
    return Lines(yarn=YARNS[block.yarn.value], length_m=length_m, tex=tex, knot=block.knot.value, ends_kg=ends_kg), ()


def _rod(block: Linkage, length_m: float, diameter_m: float) -> Rod:
    usual = MATERIALS[block.material.value]
    material = Material(
        density_kg_m3=usual.density_kg_m3 if block.density is None else block.density.value,
        modulus_pa=usual.modulus_pa if block.modulus is None else block.modulus.value,
        source=usual.source,
    )
    return Rod(
        material=material,
        length_m=length_m,
        free_m=min(length_m, value(block.free_length) or length_m),
        diameter_m=diameter_m,
        bore_m=0.0 if block.section.value == "square" else (value(block.bore) or 0.0),
        square=block.section.value == "square",
        ends_kg=ROD_ENDS_KG if block.ends is None else block.ends.value,
    )


def _tex(block: Linkage) -> float | None:
    """Return the tex of one line, given or from its diameter."""
    if block.tex is not None:
        return float(block.tex.value) * 1e6
    if block.line_diameter is None:
        return None
    return stock.tex_of(block.line_diameter.value, YARNS[block.yarn.value].density_kg_m3)


USUAL_RODS = (
    ("carbon 0.5 mm", "carbon", 0.0005, 0.0, False), ("carbon 0.8 mm", "carbon", 0.0008, 0.0, False),
    ("carbon 1.0 mm", "carbon", 0.0010, 0.0, False), ("carbon tube 1.5 / 0.7 mm", "carbon", 0.0015, 0.0007, False),
    ("steel wire 0.5 mm", "steel", 0.0005, 0.0, False), ("steel wire 0.8 mm", "steel", 0.0008, 0.0, False),
    ("aluminium tube 1.6 / 0.9 mm", "aluminium", 0.0016, 0.0009, False),
    ("brass tube 1.6 / 1.1 mm", "brass", 0.0016, 0.0011, False),
    ("balsa strip 3 mm square", "balsa", 0.003, 0.0, True), ("bamboo 1.5 mm", "bamboo", 0.0015, 0.0, False),
)  # fmt: skip
USUAL_LINES = (
    ("aramid lines 22 tex", "aramid", 22.0), ("polyethylene lines 22 tex", "polyethylene", 22.0),
    ("polyester lines 25 tex", "polyester", 25.0),
)  # fmt: skip


def _choices(block: Linkage, length_m: float, force_n: float, horn_m: float) -> Iterable[Choice]:
    free_m = min(length_m, value(block.free_length) or length_m)
    for name, material, diameter_m, bore_m, square in USUAL_RODS:
        rod = Rod(
            material=MATERIALS[material], length_m=length_m, free_m=free_m, diameter_m=diameter_m, bore_m=bore_m,
            square=square, ends_kg=ROD_ENDS_KG,
        )  # fmt: skip
        yield Choice(name=name, made_of=rod, held=_held(rod, force_n, horn_m))
    for name, yarn, tex in USUAL_LINES:
        lines = Lines(yarn=YARNS[yarn], length_m=length_m, tex=tex, knot="knotted", ends_kg=LINE_ENDS_KG)
        yield Choice(name=name, made_of=lines, held=_held(lines, force_n, horn_m))
