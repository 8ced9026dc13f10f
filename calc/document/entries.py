"""What every model has: its own figures, its rows of gear, its cell.

Each entry is one line: its label, kind, range (SI), default, and in the blocks of parts whose it is (`belongs`): the
part's own, which the box has too, that of its place in the model, or this budget's alone. Form, box, CSV, comparison,
labels and schema take it from here.
"""

from dataclasses import dataclass
from typing import Any, get_args

from calc.document import classes
from calc.document.fields import Entry, choice, flag, quantity, text, whole
from calc.english import row_name
from calc.vocabulary import DrawKnownBy, Kind, KnownBy, Lies, PartKind, PlugSide, Radio, Use

KINDS = get_args(Kind)
KNOWN_BY = get_args(KnownBy)
DRAW_KNOWN_BY = get_args(DrawKnownBy)

PLUG_SIDES = {"end": "an end", "side": "a side", "top": "top or bottom"}
LIES = {
    "any": "any way", "upright": "with its height up", "along": "with its length fore and aft",
    "as given": "only as its sizes are given", "outside": "in no bay",
}  # fmt: skip
HEAVIEST = 10.0  # kg; more is no small model


def size(label: str) -> Any:
    """Return a dataclass field for an edge of a part [m]."""
    return quantity(label, "length", 0.0, 0.5, above=True, belongs="part")


@dataclass(frozen=True, kw_only=True)
class Model:
    """The model without its gear."""

    class_: Entry[str] = choice("Class", {rule.id: rule.name for rule in classes.table().values()}, default="own")
    # in contests ballast fills up to the minimum
    use: Entry[Use] = choice("Flown as", {"contest": "a contest model", "sport": "a sport model"}, default="contest")
    radio: Entry[Radio] = choice(
        "Radio is for", {"steering": "steering", "dethermaliser": "the dethermaliser only"}, default="steering"
    )
    # kg, without gear, rubber, ballast
    airframe: Entry[float] | None = quantity("Airframe without gear", "mass", 0.0, HEAVIEST, above=True)
    airframe_known_by: Entry[KnownBy] = choice("Airframe known by", KNOWN_BY, default="weighed")
    # kg, counts before the planned
    airframe_weighed: Entry[float] | None = quantity("Airframe, weighed", "mass", 0.0, HEAVIEST, above=True)
    # kg, target flying weight
    target: Entry[float] | None = quantity("Target flying weight", "mass", 0.0, HEAVIEST, above=True)
    rubber: Entry[float] | None = quantity("Rubber", "mass", 0.0, 1.0)  # kg
    wing_area: Entry[float] | None = quantity("Wing area", "area", 0.0, 5.0, above=True)  # m²
    # kg/m², with rubber
    max_loading: Entry[float] | None = quantity("Greatest wing loading", "loading", 0.0, 20.0, above=True)
    # kg, over the class table's
    minimum: Entry[float] | None = quantity("Minimum in my rule book", "mass", 0.0, HEAVIEST, above=True)
    # kg, over the class table's
    maximum: Entry[float] | None = quantity("Maximum in my rule book", "mass", 0.0, HEAVIEST, above=True)


@dataclass(frozen=True, kw_only=True)
class GearRow:
    """One line of gear: `count` equal parts."""

    kind: Entry[PartKind] = choice("Kind", KINDS, default="other", belongs="part")
    name: Entry[str] = text("Name", belongs="part")
    count: Entry[int] = whole("Count", 1, 50, default=1, belongs="place")
    mass: Entry[float] | None = quantity("Mass of one", "mass", 0.0, 2.0, belongs="part", in_box="Mass")  # kg, of one
    known_by: Entry[KnownBy] = choice("Known by", KNOWN_BY, default="weighed", belongs="part")
    # kg, of one, on the scale; counts before the planned
    weighed: Entry[float] | None = quantity("Weighed, one", "mass", 0.0, 2.0, belongs="budget")
    # m, aft of the datum
    station: Entry[float] | None = quantity(
        "Distance from the nose", "length", -2.0, 5.0, belongs="place", in_box="From the nose"
    )
    draw: Entry[float] | None = quantity("Draws when quiet", "current", 0.0, 20.0, belongs="part")  # A, of one, quiet
    draw_known_by: Entry[DrawKnownBy] = choice("Draw known by", DRAW_KNOWN_BY, default="maker", belongs="part")
    # A, of one, at work
    busy_draw: Entry[float] | None = quantity("Draws at work", "current", 0.0, 20.0, belongs="part")
    # share of the time at work
    busy: Entry[float] | None = quantity("Share of time at work", "ratio", 0.0, 1.0, belongs="part")
    min_volts: Entry[float] | None = quantity("Works down to", "voltage", 0.0, 30.0, belongs="part")  # V, works down to
    # m, in the box that it fills, and how it may lie in a bay
    length: Entry[float] | None = size("Length")
    width: Entry[float] | None = size("Width")
    height: Entry[float] | None = size("Height")
    plug_side: Entry[PlugSide] = choice("Plug or leads at", PLUG_SIDES, default="end", belongs="part")
    plug_length: Entry[float] | None = quantity("Plug and leads take", "length", 0.0, 0.2, belongs="part")
    lies: Entry[Lies] = choice("May lie", LIES, default="any", belongs="part")
    off: Entry[bool] = flag("Left out", belongs="budget")  # left out of every sum, kept in the document

    @property
    def called(self) -> str:
        """What the row is called: its name, or its kind where that is left out or nothing but blanks."""
        return row_name(self.kind.value, self.name.value)


@dataclass(frozen=True, kw_only=True)
class Cell:
    """The cell that feeds the gear; its mass counts as gear."""

    name: Entry[str] = text("Name", belongs="part")
    mass: Entry[float] | None = quantity("Mass", "mass", 0.0, 2.0, belongs="part")  # kg
    known_by: Entry[KnownBy] = choice("Known by", KNOWN_BY, default="weighed", belongs="part")
    # kg, on the scale; counts before the planned
    weighed: Entry[float] | None = quantity("Weighed", "mass", 0.0, 2.0, belongs="budget")
    station: Entry[float] | None = quantity("Distance from the nose", "length", -2.0, 5.0, belongs="place")  # m
    # C; 0.1 mAh to 50 Ah
    capacity: Entry[float] | None = quantity("Capacity", "charge", 0.36, 180_000.0, belongs="part")
    # ohm at 25 °C, under a load for a second or more
    resistance: Entry[float] | None = quantity(
        "Resistance at 25 °C", "resistance", 0.0, 100.0, belongs="part",
        hint="Of one cell under a load; a meter at 1 kHz shows less than half of it.",
    )  # fmt: skip
    # ohm at 1 kHz
    meter: Entry[float] | None = quantity("Meter reading at 1 kHz", "resistance", 0.0, 100.0, belongs="part")
    # the bench: A and V of one cell under two loads
    light_draw: Entry[float] | None = quantity(
        "Light load draws", "current", 0.0, 20.0, smaller_than=("heavy_draw", 0.9), belongs="part",
        hint="Measure it: at room temperature and about half full, put a light load on one cell for ten seconds, then "
        "a heavy one, about what everything at work draws. Read the volts at the cell's own leads to 0.01 V or finer.",
    )  # fmt: skip
    light_volts: Entry[float] | None = quantity("Volts under it", "voltage", 2.0, 5.0, belongs="part")
    heavy_draw: Entry[float] | None = quantity("Heavy load draws", "current", 0.0, 20.0, above=True, belongs="part")
    heavy_volts: Entry[float] | None = quantity(
        "Volts under the heavy one", "voltage", 2.0, 5.0, smaller_than=("light_volts", 1.0), belongs="part"
    )
    # V of one cell under the mean draw
    cutoff: Entry[float] = quantity("Cut-off voltage", "voltage", 2.5, 4.1, default=3.3, belongs="part")
    # mass is that of all, capacity and resistance of one
    series: Entry[int] = whole("Cells in series", 1, 6, default=1, belongs="part")
    # m, in the box that it fills, and how it may lie in a bay
    length: Entry[float] | None = size("Length")
    width: Entry[float] | None = size("Width")
    height: Entry[float] | None = size("Height")
    plug_side: Entry[PlugSide] = choice("Plug or leads at", PLUG_SIDES, default="end", belongs="part")
    plug_length: Entry[float] | None = quantity("Plug and leads take", "length", 0.0, 0.2, belongs="part")
    lies: Entry[Lies] = choice("May lie", LIES, default="any", belongs="part")
    # share that age has left
    capacity_left: Entry[float] = quantity("Capacity left by age", "ratio", 0.1, 1.0, default=1.0, belongs="budget")
    # A, while it is charged
    charge_current: Entry[float] | None = quantity(
        "Charging current", "current", 0.0, 50.0, above=True, belongs="budget"
    )

    @property
    def called(self) -> str:
        """What the cell is called: its name, else `cell`."""
        return row_name("cell", self.name.value)
