"""What is entered for the subject stock: a piece of stock."""

from dataclasses import dataclass

from calc.document.fields import Entry, choice, quantity, whole
from calc.subjects.linkage.sums import MATERIALS
from calc.vocabulary import Shape

SHAPES = {
    "rod": "round rod", "tube": "tube", "strip": "strip or sheet", "wire": "copper wire", "thread": "thread",
    "film": "film", "cloth": "cloth, tissue or paper", "filler": "filler or adhesive",
}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Stock:
    """A piece of stock of which the mass is wanted; not part of a budget, which holds the mass it comes to."""

    shape: Entry[Shape] = choice("Shape", SHAPES, default="rod")
    pieces: Entry[int] = whole("Pieces", 1, 200, default=1)
    material: Entry[str] = choice("Material", tuple(MATERIALS), default="carbon")
    density: Entry[float] | None = quantity("Density, if other", "density", 5.0, 20_000.0)  # kg/m³, over the table's
    diameter: Entry[float] | None = quantity("Diameter", "length", 0.00005, 0.2)
    bore: Entry[float] | None = quantity("Bore", "length", 0.00005, 0.2, smaller_than=("diameter", 0.99))
    width: Entry[float] | None = quantity("Width", "length", 0.0001, 2.0)
    thickness: Entry[float] | None = quantity("Thickness", "length", 0.000001, 0.2)
    length: Entry[float] | None = quantity("Length", "length", 0.0005, 20.0)
    gauge: Entry[int] | None = whole("Wire gauge (AWG)", 10, 44)
    strands: Entry[str] = choice("Conductor", {"solid": "solid", "stranded": "7 strands"}, default="stranded")
    # diameter with its sleeve
    over_all: Entry[float] | None = quantity("Diameter with sleeve", "length", 0.00005, 0.02)
    tex: Entry[float] | None = quantity("Thread", "linear density", 1e-7, 1e-3)
    area: Entry[float] | None = quantity("Area", "area", 0.000001, 5.0)
    weight: Entry[float] | None = quantity("Weight per area", "loading", 0.0005, 5.0)  # of cloth, per area
    volume: Entry[float] | None = quantity("Volume", "volume", 1e-10, 0.001)
