"""What is entered for the subject airframe: its parts, and what is asked of all of them once."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.document.fields import Entry, choice, flag, quantity, text, whole
from calc.english import row_name
from calc.subjects.airframe.materials import table
from calc.vocabulary import AirframeGroup, AirframeShape, Maturity

GROUPS: Mapping[AirframeGroup, str] = {
    "wing": "wing", "tail": "tail", "fin": "fin", "fuselage": "fuselage or boom", "pylon": "pylon",
    "propeller": "propeller and nose", "covering": "covering", "finish": "finish", "small": "small parts",
}  # fmt: skip
SHAPES: Mapping[AirframeShape, str] = {
    "given": "a given mass", "rod": "round rod", "tube": "tube", "strip": "strip or sheet", "rolled": "rolled tube",
    "cone": "cone or tapered boom", "plate": "sheet cut to a planform", "ribs": "ribs from sheet, by pitch",
    "frame": "flat frame of strip, ribs by pitch", "cover": "covering of a planform", "finish": "coats of finish",
    "thread": "thread", "filler": "filler or adhesive",
}  # fmt: skip
KNOWN: Mapping[Maturity, str] = {"sketch": "a sketch", "cut": "drawn and cut", "maker": "the maker’s figure"}
OF_A_SHEET = ("density", "either", "sheet")
# What each shape asks for; those after "|" may stay empty.
FIELDS: Mapping[AirframeShape, tuple[str, ...]] = {
    "given": ("mass", "|"),
    "rod": ("material", "diameter", "length", "|", "density", "either"),
    "tube": ("material", "diameter", "bore", "length", "|", "density", "either"),
    "strip": ("material", "width", "thickness", "length", "|", *OF_A_SHEET),
    "rolled": ("material", "diameter", "thickness", "length", "|", *OF_A_SHEET),
    "cone": ("material", "diameter", "end_diameter", "thickness", "length", "|", *OF_A_SHEET),
    "plate": ("material", "span", "root", "thickness", "|", "tip", "planform", *OF_A_SHEET),
    "ribs": ("material", "span", "root", "pitch", "depth", "thickness", "|", "tip", "planform", *OF_A_SHEET),
    "frame": ("material", "span", "root", "pitch", "width", "thickness", "|", "tip", "planform", *OF_A_SHEET),
    "cover": ("material", "span", "root", "|", "tip", "planform", "dihedral", "sides", "thickness", "weight"),
    "finish": ("material", "span", "root", "|", "tip", "planform", "dihedral", "sides", "coats", "weight"),
    "thread": ("tex", "length", "|"),
    "filler": ("volume", "density", "|"),
}
BY_AREA = ("cover", "finish")
OF_MATERIAL = tuple(shape for shape, names in FIELDS.items() if "material" in names and shape not in BY_AREA)
SHEET_SHAPES = tuple(shape for shape in OF_MATERIAL if "sheet" in FIELDS[shape])  # may be cut from an own sheet
MATERIALS = {key: each.name for key, each in table().items()}


@dataclass(frozen=True, kw_only=True)
class AirframePart:
    """One part of the airframe, or `count` equal ones; stations from the datum at the nose, aft positive [m]."""

    name: Entry[str] = text("Part")
    group: Entry[AirframeGroup] = choice("Belongs to", GROUPS, default="small")
    shape: Entry[AirframeShape] = choice("Shape", SHAPES, default="given")
    material: Entry[str] = choice("Material", MATERIALS, default="balsa")
    count: Entry[int] = whole("How many", 1, 200, default=1)
    known_by: Entry[Maturity] = choice("Known from", KNOWN, default="sketch")
    mass: Entry[float] | None = quantity("Mass of one", "mass", 0.0, 2.0, above=True)
    # kg, of all of them, built
    weighed: Entry[float] | None = quantity("On the scale, all together", "mass", 0.0, 5.0, above=True)
    weighed_on: Entry[str] = text("Weighed on", 10, hint="The day as 2026-03-14.")
    length: Entry[float] | None = quantity("Length", "length", 0.0005, 5.0)
    width: Entry[float] | None = quantity("Width", "length", 0.0001, 1.0)
    thickness: Entry[float] | None = quantity("Thickness", "length", 0.0000003, 0.1)
    diameter: Entry[float] | None = quantity(
        "Diameter", "length", 0.00005, 0.3, hint="Of a rolled tube or a cone: midway in the wall."
    )
    end_diameter: Entry[float] | None = quantity(
        "Diameter at the small end", "length", 0.0, 0.3, smaller_than=("diameter", 1.0)
    )
    bore: Entry[float] | None = quantity("Bore", "length", 0.00005, 0.3, smaller_than=("diameter", 0.99))
    # as seen from above
    span: Entry[float] | None = quantity("Span", "length", 0.002, 5.0, hint="Of this panel, as seen from above.")
    root: Entry[float] | None = quantity("Chord", "length", 0.002, 2.0, hint="At the root or in the middle.")
    tip: Entry[float] | None = quantity("Chord at the tip", "length", 0.0, 2.0, hint="If it is another one.")
    planform: Entry[str] = choice(
        "Planform", {"trapezoid": "rectangle or trapezoid", "ellipse": "ellipse, whole"}, default="trapezoid"
    )
    dihedral: Entry[float] = quantity("Dihedral of the panel", "angle", 0.0, 1.4, default=0.0)
    sides: Entry[int] = whole("Sides", 1, 2, default=1)
    coats: Entry[int] = whole("Coats", 1, 20, default=1)
    pitch: Entry[float] | None = quantity("Ribs every", "length", 0.002, 1.0)
    depth: Entry[float] | None = quantity("Depth of the ribs, share of chord", "ratio", 0.005, 0.5)
    density: Entry[float] | None = quantity("Density, if other", "density", 5.0, 20_000.0)
    # of the density, as a share: that of an own sheet comes with it
    either: Entry[float] | None = quantity("Density off by", "ratio", 0.0, 1.0)
    sheet: Entry[str] = text("Cut from sheet")
    # of covering, or of one coat
    weight: Entry[float] | None = quantity("Mass per area, if other", "loading", 0.0001, 1.0)
    tex: Entry[float] | None = quantity("Thread", "linear density", 1e-7, 1e-3)
    volume: Entry[float] | None = quantity("Volume", "volume", 1e-10, 0.001)
    area: Entry[bool] = flag("Is the wing’s planform", hint="The wing area is that of the parts with this mark.")
    station: Entry[float] | None = quantity("Begins at, from the nose", "length", -2.0, 5.0)
    along: Entry[float] | None = quantity("Length along the fuselage", "length", 0.0, 5.0)

    @property
    def called(self) -> str:
        """What the part is called: its name, else what it belongs to."""
        return row_name(GROUPS[self.group.value], self.name.value)

    @property
    def lacks(self) -> tuple[str, ...]:
        """The names of the entries that the planned mass waits for."""
        shape, material = self.shape.value, table()[self.material.value]
        needed = FIELDS[shape]
        found = [name for name in needed[: needed.index("|")] if getattr(self, name) is None]
        if shape in OF_MATERIAL and self.density is None and material.density_kg_m3 is None:
            found.append("density")
        if shape in BY_AREA and self.weight is None and material.areal_kg_m2 is None:
            found += ["weight"] if shape == "finish" else ["thickness"] if self.thickness is None else []
        return tuple(found)


@dataclass(frozen=True, kw_only=True)
class Building:
    """What is asked of all parts together: their glue, and the air where they are weighed and where they fly."""

    # of the wood that is not weighed yet
    glue: Entry[float] = quantity("Glue, share of the wood", "ratio", 0.0, 0.5, default=0.05)
    room_humidity: Entry[float] | None = quantity("Humidity where it is weighed", "ratio", 0.05, 0.98)
    room_temperature: Entry[float] = quantity("Temperature there", "temperature", 273.15, 323.15, default=293.15)
    field_humidity: Entry[float] | None = quantity("Humidity where it flies", "ratio", 0.05, 0.98)
    field_temperature: Entry[float] = quantity("Temperature there", "temperature", 273.15, 323.15, default=285.15)
