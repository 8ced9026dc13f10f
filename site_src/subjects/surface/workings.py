"""How the numbers of the subject surface come about."""

from collections.abc import Iterator
from math import degrees, pi

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subject import value
from calc.subjects.air.entries import Air
from calc.subjects.air.sums import density
from calc.subjects.power.entries import Session
from calc.subjects.surface import sums as surfaces
from calc.subjects.surface import worst
from calc.subjects.surface.answer import Effort, SurfaceBlock
from calc.subjects.surface.entries import Surface
from calc.subjects.surface.stream import Stream
from site_src.app.sums import Working, num, working


def _moment(asked: Surface, block: SurfaceBlock, pressure: float) -> Working:
    """Return the moment of the air on the surface."""
    span, chord, delta = (value(each) or 0.0 for each in (asked.span, asked.chord, asked.deflection))
    if asked.kind.value == "hinged":
        flap = value(asked.flap_chord) or 0.0
        slope = abs(surfaces.hinge_moment_b2(min(1.0, flap / chord)))
        return working("moment", "surface-hinged", "moment of the air", "|b₂(E)| δ q × span × flap chord²",
                       f"{num(slope)} × {num(delta)} × {num(pressure)} Pa × {num(span)} m × ({num(flap)} m)² × 1000",
                       f"{num(block.moment_nm * 1e3)} mN·m", f"E, the flap’s share of the chord: {num(flap / chord)}; "
                       "δ in radians")  # fmt: skip
    arm = worst.farthest_arm(asked.pivot.value)
    return working("moment", "surface-whole", "moment of the air",
                   "q × span × chord × a(AR) δ |x_pivot − x| × chord",
                   f"{num(pressure)} Pa × {num(span)} m × {num(chord)} m × "
                   f"{num(surfaces.lift_slope(span / chord))} × "
                   f"{num(delta)} × {num(arm)} × {num(chord)} m × 1000",
                   f"{num(block.moment_nm * 1e3)} mN·m", "δ in radians; x, where the force lies, at the worse "
                   "end of 0.20 to 0.40 of the chord")  # fmt: skip


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the surface."""
    block, asked = found.surface, budget.surface
    if block is None or asked is None:
        return
    air, session = budget.air or Air(), budget.session or Session()
    rho = density(air.field_height.value, session.temperature.value)
    pressure = surfaces.dynamic_pressure(rho, block.speed_m_s)
    if block.stream is not None:
        yield from _stream(block.stream, rho)
    yield working(
        "pressure",
        "surface-pressure",
        "dynamic pressure q",
        "½ ρ V²",
        f"0.5 × {num(rho)} kg/m³ × ({num(block.speed_m_s)} m/s)²",
        f"{num(pressure)} Pa",
    )
    yield _moment(asked, block, pressure)
    yield from _actuator(budget, found)


def _stream(driven: Stream, rho: float) -> Iterator[Working]:
    """Yield power and speeds behind the propeller; what it adds was solved by halving, so its power is shown."""
    yield working("power", "surface-power", "mean power of the motor run", "E / t",
                   f"{num(driven.energy_j)} J / {num(driven.run_s)} s", f"{num(driven.power_w)} W")  # fmt: skip
    area = pi / 4.0 * driven.diameter_m**2
    ends = (
        ("climb", "in the climb", driven.flight_m_s, driven.climb_m_s),
        ("launch", f"at launch, {num(driven.burst)} times the mean", driven.start_m_s, driven.launch_m_s),
    )
    for id_, when, flight, behind in ends:
        added = (behind - flight) / 2.0
        yield working(f"disc_{id_}", "surface-disc", f"power into the air {when}", "2 ρ A v (V + v)²",
                       f"2 × {num(rho)} kg/m³ × {num(area)} m² × {num(added)} m/s × "
                       f"({num(flight)} m/s + {num(added)} m/s)²",
                       f"{num(2.0 * rho * area * added * (flight + added) ** 2)} W", "v solved by halving")  # fmt: skip
        yield working(f"stream_{id_}", "surface-stream", "speed of the air behind the propeller", "V + 2 v",
                       f"{num(flight)} m/s + 2 × {num(added)} m/s", f"{num(behind)} m/s")  # fmt: skip


def _throw(asked: Surface, block: SurfaceBlock) -> Iterator[Working]:
    """Yield how far the surface is moved."""
    linear = asked.actuator.value == "linear servo"
    if block.throw_rad is not None and linear and asked.stroke is not None and asked.horn is not None:
        yield working("throw", "surface-throw", "throw each way", "asin(stroke / horn)",
                       f"asin({num(asked.stroke.value * 1e3)} mm / {num(asked.horn.value * 1e3)} mm)",
                       f"{num(degrees(block.throw_rad[0]))}°")  # fmt: skip
    elif block.throw_rad is not None:
        pull, push = (f"{num(degrees(each))}°" for each in block.throw_rad)
        yield Working(
            id="throw",
            entry="surface-throw-rod",
            what="throw",
            formula="the rod keeps its length between arm and horn",
            numbers="",
            result=pull if pull == push else f"{pull} and {push}",
            remark="solved exactly",
        )


def _actuator(budget: Budget, found: Assessment) -> Iterator[Working]:
    block, asked = found.surface, budget.surface
    if block is None or asked is None:
        return
    linear = asked.actuator.value == "linear servo"
    moment = f"{num(block.moment_nm * 1e3)} mN·m"
    if block.need.known and asked.horn is not None and asked.actuator.value != "coil actuator":
        horn = f"{num(asked.horn.value * 1e3)} mm"
        arm = f" × {num((value(asked.arm) or 0.0) * 1e3)} mm" if not linear else ""
        yield working(
            "need",
            "surface-need",
            "asked of the actuator",
            "moment / horn" if linear else "moment × arm / horn",
            f"{moment}{arm} / {horn}",
            _effort(block.need),
        )
    if block.factor is not None:
        yield working("factor", "surface-factor", "times as strong as needed", "rated / need",
                       f"{_effort(block.rated)} / {_effort(block.need)}",
                       num(block.factor))  # fmt: skip
    yield from _throw(asked, block)


def _effort(effort: Effort) -> str:
    if effort.thrust_n is not None:
        return f"{num(effort.thrust_n)} N"
    return "" if effort.torque_nm is None else f"{num(effort.torque_nm * 1e3)} mN·m"
