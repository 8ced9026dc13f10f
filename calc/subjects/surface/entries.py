"""What is entered for the subject surface: the control surface and what moves it."""

from dataclasses import dataclass
from typing import get_args

from calc.document.fields import Entry, choice, quantity
from calc.vocabulary import Actuator, SurfaceKind


@dataclass(frozen=True, kw_only=True)
class Surface:
    """The control surface and what moves it."""

    kind: Entry[SurfaceKind] = choice(
        "Surface", {"hinged": "a hinged flap", "whole": "a whole surface on a pivot"}, default="hinged"
    )
    span: Entry[float] | None = quantity("Span of what moves", "length", 0.001, 3.0)  # m, of what moves
    chord: Entry[float] | None = quantity("Whole chord", "length", 0.001, 1.0)  # m, whole chord, flap included
    # m, of the hinged part
    flap_chord: Entry[float] | None = quantity("Chord of the flap", "length", 0.0005, 1.0, smaller_than=("chord", 1.0))
    # of the chord, for a whole surface
    pivot: Entry[float] = quantity("Pivot, share of chord", "ratio", 0.0, 1.0, default=0.0)
    deflection: Entry[float] | None = quantity("Deflection wanted", "angle", 0.0, 1.0472, above=True)  # rad, to 60°
    speed: Entry[float] | None = quantity("Design speed", "speed", 0.1, 60.0)  # m/s; else the glide's
    actuator: Entry[Actuator] = choice("Moved by", get_args(Actuator), default="rotary servo")
    horn: Entry[float] | None = quantity("Horn", "length", 0.0005, 0.1)  # m, on the surface
    arm: Entry[float] | None = quantity("Servo arm", "length", 0.0005, 0.1)  # m, of a rotary servo
    # rad each way
    travel: Entry[float] = quantity("Servo turns each way", "angle", 0.0, 1.4, above=True, default=0.7853981633974483)
    stroke: Entry[float] | None = quantity("Stroke each way", "length", 0.0001, 0.1)  # m each way, of a linear servo
    # N m, rated
    torque: Entry[float] | None = quantity("Rated torque", "torque", 0.0, 10.0, above=True, belongs="part")
    # N, rated, of a linear servo
    thrust: Entry[float] | None = quantity("Rated thrust", "force", 0.0, 100.0, above=True, belongs="part")
