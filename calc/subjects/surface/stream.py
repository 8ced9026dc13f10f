"""The propeller's stream over the surface: its power out of the budget, its speed in the climb and at launch.

Symbols: E energy of the motor [J]; t motor run [s]; P mean power [W]; p exponent of the energy over the turns.

    mean power    P = E / t          all of it into the air: the most that it can be
    at launch     burst × P          burst of rubber 5, of an electric motor 1.3
    speed         V + 2 v            `worst.stream_speed`; V that of the glide, at launch also none, in the hand

Sources: with the energy as turns to the power p the torque goes with x^(p−1), a propeller's torque with its turns a
second squared (any text on propellers), and the power at first is 2 p / (3 − p) of the mean: 4 at p = 2, the steep
end for rubber. A drawn torque curve (U. Alvarez, El arte del peanut scale, part 40, figure 38: 2.70 at launch, 1.5
after 247.5 of 957 turns, then down to 0), taken straight between, gives 5.6, at most. 5 is our assumption between them.
Electric: the power goes with the volts cubed, 4.1 V fresh against 3.75 V in the mean; our assumption.
Leaves out: what propeller and gearbox lose, swirl, a surface that stands outside the stream.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.errors import require
from calc.subject import Needs, value
from calc.subjects.air.answer import AirBlock, motor_run
from calc.subjects.air.entries import Air
from calc.subjects.motor.answer import MotorBlock
from calc.subjects.surface import worst
from calc.vocabulary import Launch

BURST: Mapping[Launch, float] = {"rubber": 5.0, "motor": 1.3}  # power at launch ÷ mean power


def burst_of(turns_power: float) -> float:
    """Return power at the start ÷ mean power, 2 p / (3 − p), of rubber whose energy goes with turns^p, p from 1 to 2.

    Examples
    --------
    >>> round(burst_of(1.3), 2), round(burst_of(1.73), 2), burst_of(2.0)
    (1.53, 2.72, 4.0)
    """
    power = require("turns_power", turns_power, 1.0, 2.0)
    return 2.0 * power / (3.0 - power)


@dataclass(frozen=True, kw_only=True)
class Stream:
    """Energy [J], motor run [s], propeller diameter [m], and the speed [m/s] of flight and of the air behind it."""

    energy_j: float
    run_s: float
    diameter_m: float
    burst: float  # power at launch ÷ mean power
    flight_m_s: float  # of the glide, and taken for the climb
    start_m_s: float  # flight speed at launch at which the stream is faster: none, or that of the glide
    climb_m_s: float
    launch_m_s: float

    @property
    def power_w(self) -> float:
        """Mean power of the motor run."""
        return self.energy_j / self.run_s


def behind(
    flight_m_s: float, density_kg_m3: float, *, energy_j: float, run_s: float, diameter_m: float, factor: float
) -> Stream:
    """Return the stream of a propeller; flight speed ≥ 0, energy ≥ 0, run, diameter and density > 0, factor ≥ 1.

    The factor is power at launch ÷ mean power.

    Examples
    --------
    >>> found = behind(4.5, 1.225, energy_j=45.0, run_s=30.0, diameter_m=0.24, factor=4.0)
    >>> round(found.climb_m_s, 2), round(found.launch_m_s, 2), found.start_m_s
    (5.57, 7.57, 0.0)
    """
    power_w = require("energy_j", energy_j, 0.0) / require("run_s", run_s, 0.0, above=True)
    at_launch_w = power_w * require("factor", factor, 1.0)
    starts = {each: worst.stream_speed(each, at_launch_w, diameter_m, density_kg_m3) for each in (0.0, flight_m_s)}
    start_m_s = max(starts, key=lambda each: starts[each])  # between the two it is slower than at either
    return Stream(
        energy_j=energy_j,
        run_s=run_s,
        diameter_m=diameter_m,
        burst=factor,
        flight_m_s=flight_m_s,
        start_m_s=start_m_s,
        climb_m_s=worst.stream_speed(flight_m_s, power_w, diameter_m, density_kg_m3),
        launch_m_s=starts[start_m_s],
    )


def stream(needs: Needs, air: AirBlock | None, motor: MotorBlock | None) -> Stream | None:
    """Return the stream of a budget; None where no propeller is told, or what else it takes is not known and noted."""
    block = needs.budget.air
    if not needs.sound("air", "air.propeller_diameter") or block is None or block.propeller_diameter is None:
        return None
    if air is None or not needs.sound("air.launch") or block.launch.value not in BURST:
        return None
    run_s = motor_run(block) if needs.sound("air.motor_run", "air.timed_motor") else 0.0
    energy_j = _energy(needs, block, motor)
    if run_s <= 0.0:
        needs.note("air.motor_run")
    if run_s <= 0.0 or energy_j is None:
        return None
    return behind(
        air.speed_m_s,
        air.conditions.density_kg_m3,
        energy_j=energy_j,
        run_s=run_s,
        diameter_m=block.propeller_diameter.value,
        factor=BURST[block.launch.value],
    )


def _energy(needs: Needs, block: Air, motor: MotorBlock | None) -> float | None:
    """Return the energy of the motor run; of rubber the more of what is told with the air and with the rubber motor."""
    if block.launch.value == "motor":
        return needs.must("air.work", block.work)
    needs.sound("air.rubber_energy", "model.rubber")
    told = [] if motor is None or motor.energy_j is None else [motor.energy_high_j]
    rubber_kg, energy_j_kg = value(needs.budget.model.rubber), value(block.rubber_energy)
    if rubber_kg and energy_j_kg:
        told.append(rubber_kg * energy_j_kg)
    if not told:
        needs.note("model.rubber" if not rubber_kg else "air.rubber_energy")
    return max(told, default=None)
