"""What is entered for the subject air: the air and the launch."""

from dataclasses import dataclass

from calc.document.fields import Entry, choice, quantity
from calc.vocabulary import Launch, Propeller

LAUNCHES = {
    "rubber": "rubber", "motor": "motor run", "catapult": "catapult", "towline": "towline",
    "thrown": "thrown to a height",
}  # fmt: skip


PROPELLERS = {
    "in it": "is in the glide factor", "none": "there is none", "folded": "folded", "stopped": "stopped",
    "free-wheeling": "free-wheeling",
}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Air:
    """The air and the launch."""

    # m above the sea
    field_height: Entry[float] = quantity("Field above the sea", "height", -400.0, 5000.0, default=0.0)
    lift: Entry[float] = quantity("Lift coefficient", "number", 0.05, 3.0, default=0.7)  # lift coefficient in the glide
    glide_factor: Entry[float] | None = quantity("Glide factor Φ", "number", 0.5, 60.0)  # CL^1.5/CD
    launch: Entry[Launch] = choice("Launch", LAUNCHES, default="rubber")
    rubber_energy: Entry[float] | None = quantity("Energy of the rubber", "specific energy", 10.0, 12_000.0)  # J/kg
    # J, of a motor run or a catapult
    work: Entry[float] | None = quantity("Work of motor or catapult", "energy", 0.001, 100_000.0)
    efficiency: Entry[float] | None = quantity("Share that becomes height", "ratio", 0.01, 1.0)
    # s of climb under power
    motor_run: Entry[float] | None = quantity("Motor run", "time", 0.0, 3600.0)
    propeller: Entry[Propeller] = choice("Propeller in the glide", PROPELLERS, default="in it")
    # m; with motor run and energy it tells how fast the air is at the tail
    propeller_diameter: Entry[float] | None = quantity("Propeller diameter", "length", 0.02, 2.0)
    height: Entry[float] | None = quantity("Height of the launch", "height", 0.5, 500.0)  # m, of a towline or a throw
    timed_height: Entry[float] | None = quantity("Timed: height", "height", 0.5, 500.0)  # m reached in a timed flight
    timed_glide: Entry[float] | None = quantity("Timed: glide", "time", 1.0, 3600.0)  # s gliding from there
    timed_motor: Entry[float] | None = quantity("Timed: motor run", "time", 0.0, 3600.0)  # s of climb before
