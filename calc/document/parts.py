"""The blocks of a budget document: frozen dataclasses whose fields carry their own kind, range (SI) and default."""

from dataclasses import dataclass
from typing import get_args

from calc.document import classes
from calc.document.fields import Entry, choice, flag, quantity, text, whole
from calc.subjects.linkage.sums import KNOTS, MATERIALS, YARNS
from calc.vocabulary import (
    Actuator,
    Between,
    ConverterKind,
    DrawKnownBy,
    Kind,
    Knot,
    KnownBy,
    Launch,
    LinkageKind,
    PartKind,
    Radio,
    Shape,
    SurfaceKind,
    Use,
)

KINDS = get_args(Kind)
KNOWN_BY = get_args(KnownBy)
DRAW_KNOWN_BY = get_args(DrawKnownBy)

HEAVIEST = 10.0  # kg; more is no small model


@dataclass(frozen=True, kw_only=True)
class Model:
    """The model without its gear."""

    class_: Entry[str] = choice(*classes.table(), default="own")
    use: Entry[Use] = choice("contest", "sport", default="contest")  # in contests ballast fills up to the minimum
    radio: Entry[Radio] = choice("steering", "dethermaliser", default="steering")
    airframe: Entry[float] | None = quantity("mass", 0.0, HEAVIEST, above=True)  # kg, without gear, rubber, ballast
    airframe_known_by: Entry[KnownBy] = choice(*KNOWN_BY, default="weighed")
    airframe_weighed: Entry[float] | None = quantity("mass", 0.0, HEAVIEST, above=True)  # kg, counts before the planned
    target: Entry[float] | None = quantity("mass", 0.0, HEAVIEST, above=True)  # kg, wished flying mass
    rubber: Entry[float] | None = quantity("mass", 0.0, 1.0)  # kg
    wing_area: Entry[float] | None = quantity("area", 0.0, 5.0, above=True)  # m²
    max_loading: Entry[float] | None = quantity("loading", 0.0, 20.0, above=True)  # kg/m², with rubber
    minimum: Entry[float] | None = quantity("mass", 0.0, HEAVIEST, above=True)  # kg, over the class table's
    maximum: Entry[float] | None = quantity("mass", 0.0, HEAVIEST, above=True)  # kg, over the class table's


@dataclass(frozen=True, kw_only=True)
class Rule:
    """The rule of thumb: gear as a share of flying mass."""

    share: Entry[float] = quantity("ratio", 0.01, 0.9, default=0.20)


@dataclass(frozen=True, kw_only=True)
class GearRow:
    """One line of gear: `count` equal parts."""

    kind: Entry[Kind] = choice(*KINDS, default="other")
    name: Entry[str] = text()
    count: Entry[int] = whole(1, 50, default=1)
    mass: Entry[float] | None = quantity("mass", 0.0, 2.0)  # kg, of one
    known_by: Entry[KnownBy] = choice(*KNOWN_BY, default="weighed")
    weighed: Entry[float] | None = quantity("mass", 0.0, 2.0)  # kg, of one, on the scale; counts before the planned
    station: Entry[float] | None = quantity("length", -2.0, 5.0)  # m, aft of the datum
    draw: Entry[float] | None = quantity("current", 0.0, 20.0)  # A, of one, quiet
    draw_known_by: Entry[DrawKnownBy] = choice(*DRAW_KNOWN_BY, default="maker")
    busy_draw: Entry[float] | None = quantity("current", 0.0, 20.0)  # A, of one, at work
    busy: Entry[float] | None = quantity("ratio", 0.0, 1.0)  # share of the time at work
    min_volts: Entry[float] | None = quantity("voltage", 0.0, 30.0)  # V, works down to
    off: Entry[bool] = flag()  # left out of every sum, kept in the document


@dataclass(frozen=True, kw_only=True)
class Cell:
    """The cell that feeds the gear; its mass counts as gear."""

    name: Entry[str] = text()
    mass: Entry[float] | None = quantity("mass", 0.0, 2.0)  # kg
    known_by: Entry[KnownBy] = choice(*KNOWN_BY, default="weighed")
    weighed: Entry[float] | None = quantity("mass", 0.0, 2.0)  # kg, on the scale; counts before the planned
    station: Entry[float] | None = quantity("length", -2.0, 5.0)  # m
    capacity: Entry[float] | None = quantity("charge", 0.36, 180_000.0)  # C; 0.1 mAh to 50 Ah
    resistance: Entry[float] | None = quantity("resistance", 0.0, 100.0)  # ohm at 25 °C
    cutoff: Entry[float] = quantity("voltage", 2.5, 4.1, default=3.3)  # V of one cell under the mean draw
    series: Entry[int] = whole(1, 6, default=1)  # mass is that of all, capacity and resistance of one
    capacity_left: Entry[float] = quantity("ratio", 0.1, 1.0, default=1.0)  # share that age has left
    charge_current: Entry[float] | None = quantity("current", 0.0, 50.0, above=True)  # A


@dataclass(frozen=True, kw_only=True)
class Session:
    """One outing."""

    flights: Entry[int] | None = whole(1, 500)
    on_time: Entry[float] | None = quantity("time", 1.0, 86_400.0)  # s with the radio on, each flight
    temperature: Entry[float] = quantity("temperature", 253.15, 333.15, default=293.15)  # K
    reserve: Entry[float] = quantity("ratio", 0.0, 0.9, default=0.20)  # share of the charge kept
    between: Entry[Between] = choice("off", "on", default="off")  # the radio between flights
    pause: Entry[float] | None = quantity("time", 0.0, 86_400.0)  # s between flights


@dataclass(frozen=True, kw_only=True)
class Supply:
    """A converter between the cells and the gear."""

    kind: Entry[ConverterKind] = choice("up", "down", default="up")
    volts: Entry[float] | None = quantity("voltage", 0.5, 30.0)  # V at the gear
    efficiency: Entry[float] = quantity("ratio", 0.3, 1.0, default=0.85)
    min_input: Entry[float] | None = quantity("voltage", 0.0, 30.0)  # V it works down to


@dataclass(frozen=True, kw_only=True)
class Wiring:
    """The leads from the cells to the gear, there and back."""

    gauge: Entry[int] | None = whole(10, 44)  # American wire gauge
    length: Entry[float] | None = quantity("length", 0.001, 5.0)  # m, one way


@dataclass(frozen=True, kw_only=True)
class Balance:
    """Stations, from the datum at the nose, aft positive [m]; or the wanted point as a share of a chord."""

    airframe_at: Entry[float] | None = quantity("length", -2.0, 5.0)
    rubber_at: Entry[float] | None = quantity("length", -2.0, 5.0)
    target: Entry[float] | None = quantity("length", -2.0, 5.0)
    leading_edge: Entry[float] | None = quantity("length", -2.0, 5.0)
    chord: Entry[float] | None = quantity("length", 0.001, 2.0)
    target_chord: Entry[float] | None = quantity("ratio", -0.5, 2.0)
    nose_at: Entry[float] | None = quantity("length", -2.0, 5.0)
    tail_at: Entry[float] | None = quantity("length", -2.0, 5.0)


@dataclass(frozen=True, kw_only=True)
class Surface:
    """The control surface and what moves it."""

    kind: Entry[SurfaceKind] = choice("hinged", "whole", default="hinged")
    span: Entry[float] | None = quantity("length", 0.001, 3.0)  # m, of what moves
    chord: Entry[float] | None = quantity("length", 0.001, 1.0)  # m, whole chord, flap included
    flap_chord: Entry[float] | None = quantity("length", 0.0005, 1.0)  # m, of the hinged part
    pivot: Entry[float] = quantity("ratio", 0.0, 1.0, default=0.0)  # of the chord, for a whole surface
    deflection: Entry[float] | None = quantity("angle", 0.0, 1.0472, above=True)  # rad, to 60°
    speed: Entry[float] | None = quantity("speed", 0.1, 60.0)  # m/s; else the glide's
    actuator: Entry[Actuator] = choice("rotary servo", "linear servo", "coil actuator", default="rotary servo")
    horn: Entry[float] | None = quantity("length", 0.0005, 0.1)  # m, on the surface
    arm: Entry[float] | None = quantity("length", 0.0005, 0.1)  # m, of a rotary servo
    travel: Entry[float] = quantity("angle", 0.0, 1.4, above=True, default=0.7853981633974483)  # rad each way
    stroke: Entry[float] | None = quantity("length", 0.0001, 0.1)  # m each way, of a linear servo
    torque: Entry[float] | None = quantity("torque", 0.0, 10.0, above=True)  # N m, rated
    thrust: Entry[float] | None = quantity("force", 0.0, 100.0, above=True)  # N, rated, of a linear servo


@dataclass(frozen=True, kw_only=True)
class Linkage:
    """What leads from the actuator to the surface."""

    kind: Entry[LinkageKind] = choice("rod", "lines", default="rod")
    length: Entry[float] | None = quantity("length", 0.005, 5.0)  # m
    free_length: Entry[float] | None = quantity("length", 0.005, 5.0)  # m between guides; else the whole length
    material: Entry[str] = choice(*MATERIALS, default="carbon")
    section: Entry[str] = choice("round", "square", default="round")
    diameter: Entry[float] | None = quantity("length", 0.0001, 0.02)  # m, or the side of a square
    bore: Entry[float] | None = quantity("length", 0.0, 0.02)  # m, of a tube
    density: Entry[float] | None = quantity("density", 20.0, 20_000.0)  # kg/m³, over the table's
    modulus: Entry[float] | None = quantity("modulus", 1e7, 1e12)  # Pa, over the table's
    yarn: Entry[str] = choice(*YARNS, default="polyethylene")
    tex: Entry[float] | None = quantity("linear density", 1e-7, 1e-3)  # kg/m, of one line
    line_diameter: Entry[float] | None = quantity("length", 0.00002, 0.002)  # m, where tex is not known
    knot: Entry[Knot] = choice(*KNOTS, default="knotted")
    ends: Entry[float] | None = quantity("mass", 0.0, 0.1)  # kg, ends and guides together


@dataclass(frozen=True, kw_only=True)
class Air:
    """The air and the launch."""

    field_height: Entry[float] = quantity("height", -400.0, 5000.0, default=0.0)  # m above the sea
    lift: Entry[float] = quantity("number", 0.05, 3.0, default=0.7)  # lift coefficient in the glide
    glide_factor: Entry[float] | None = quantity("number", 0.5, 60.0)  # CL^1.5/CD
    launch: Entry[Launch] = choice("rubber", "motor", "catapult", "towline", "thrown", default="rubber")
    rubber_energy: Entry[float] | None = quantity("specific energy", 10.0, 12_000.0)  # J/kg
    work: Entry[float] | None = quantity("energy", 0.001, 100_000.0)  # J, of a motor run or a catapult
    efficiency: Entry[float] | None = quantity("ratio", 0.01, 1.0)
    height: Entry[float] | None = quantity("height", 0.5, 500.0)  # m, of a towline or a throw
    timed_height: Entry[float] | None = quantity("height", 0.5, 500.0)  # m reached in a timed flight
    timed_glide: Entry[float] | None = quantity("time", 1.0, 3600.0)  # s gliding from there
    timed_motor: Entry[float] | None = quantity("time", 0.0, 3600.0)  # s of climb before


SHAPES = get_args(Shape)


@dataclass(frozen=True, kw_only=True)
class Stock:
    """A piece of stock of which the mass is wanted; not part of a budget, which holds the mass it comes to."""

    shape: Entry[Shape] = choice(*SHAPES, default="rod")
    pieces: Entry[int] = whole(1, 200, default=1)
    material: Entry[str] = choice(*MATERIALS, default="carbon")
    density: Entry[float] | None = quantity("density", 5.0, 20_000.0)  # kg/m³, over the table's
    diameter: Entry[float] | None = quantity("length", 0.00005, 0.2)
    bore: Entry[float] | None = quantity("length", 0.00005, 0.2)
    width: Entry[float] | None = quantity("length", 0.0001, 2.0)
    thickness: Entry[float] | None = quantity("length", 0.000001, 0.2)
    length: Entry[float] | None = quantity("length", 0.0005, 20.0)
    gauge: Entry[int] | None = whole(10, 44)
    strands: Entry[str] = choice("solid", "stranded", default="stranded")
    over_all: Entry[float] | None = quantity("length", 0.00005, 0.02)  # diameter with its sleeve
    tex: Entry[float] | None = quantity("linear density", 1e-7, 1e-3)
    area: Entry[float] | None = quantity("area", 0.000001, 5.0)
    weight: Entry[float] | None = quantity("loading", 0.0005, 5.0)  # of cloth, per area
    volume: Entry[float] | None = quantity("volume", 1e-10, 0.001)


BOX_KINDS = ("receiver", "servo", "coil actuator", "cell", *(kind for kind in KINDS[3:]))


@dataclass(frozen=True, kw_only=True)
class BoxPart:
    """A part in the visitor's box: what a gear row, a cell or a converter takes, and what an actuator can do."""

    kind: Entry[PartKind] = choice(*BOX_KINDS, default="other")
    name: Entry[str] = text()
    mass: Entry[float] | None = quantity("mass", 0.0, 2.0)  # kg, of one
    known_by: Entry[KnownBy] = choice(*KNOWN_BY, default="weighed")
    draw: Entry[float] | None = quantity("current", 0.0, 20.0)  # A, quiet
    draw_known_by: Entry[DrawKnownBy] = choice(*DRAW_KNOWN_BY, default="maker")
    busy_draw: Entry[float] | None = quantity("current", 0.0, 20.0)  # A, at work
    busy: Entry[float] | None = quantity("ratio", 0.0, 1.0)  # share of the time at work
    min_volts: Entry[float] | None = quantity("voltage", 0.0, 30.0)  # V, works down to
    torque: Entry[float] | None = quantity("torque", 0.0, 10.0, above=True)  # N m, of a rotary servo or a coil
    thrust: Entry[float] | None = quantity("force", 0.0, 100.0, above=True)  # N, of a linear servo
    capacity: Entry[float] | None = quantity("charge", 0.36, 180_000.0)  # C, of a cell
    resistance: Entry[float] | None = quantity("resistance", 0.0, 100.0)  # ohm at 25 °C, of a cell
    cutoff: Entry[float] = quantity("voltage", 2.5, 4.1, default=3.3)  # V, of a cell
    series: Entry[int] = whole(1, 6, default=1)  # cells in series
    volts: Entry[float] | None = quantity("voltage", 0.5, 30.0)  # V that a converter gives
    efficiency: Entry[float] = quantity("ratio", 0.3, 1.0, default=0.85)  # of a converter
    min_input: Entry[float] | None = quantity("voltage", 0.0, 30.0)  # V a converter works down to


@dataclass(frozen=True, kw_only=True)
class GearPart(BoxPart):
    """A part with its place in a model: what a budget's gear is as CSV."""

    count: Entry[int] = whole(1, 50, default=1)
    station: Entry[float] | None = quantity("length", -2.0, 5.0)  # m, aft of the datum
