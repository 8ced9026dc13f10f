"""What is entered for the subject linkage: the push rod or the lines."""

from dataclasses import dataclass

from calc.document.fields import Entry, choice, quantity
from calc.subjects.linkage.sums import KNOTS, MATERIALS, YARNS
from calc.vocabulary import Knot, LinkageKind


@dataclass(frozen=True, kw_only=True)
class Linkage:
    """What leads from the actuator to the surface."""

    kind: Entry[LinkageKind] = choice("Linkage", {"rod": "push rod", "lines": "pull-pull lines"}, default="rod")
    length: Entry[float] | None = quantity("Length", "length", 0.005, 5.0)  # m
    # m between guides; else the whole length
    free_length: Entry[float] | None = quantity("Free between guides", "length", 0.005, 5.0)
    material: Entry[str] = choice("Rod of", tuple(MATERIALS), default="carbon")
    section: Entry[str] = choice("Section", ("round", "square"), default="round")
    diameter: Entry[float] | None = quantity("Diameter or side", "length", 0.0001, 0.02)  # m, or the side of a square
    # m, of a tube
    bore: Entry[float] | None = quantity("Bore of a tube", "length", 0.0, 0.02, smaller_than=("diameter", 0.99))
    density: Entry[float] | None = quantity("Density, if other", "density", 20.0, 20_000.0)  # kg/m³, over the table's
    modulus: Entry[float] | None = quantity("Modulus, if other", "modulus", 1e7, 1e12)  # Pa, over the table's
    yarn: Entry[str] = choice("Lines of", tuple(YARNS), default="polyethylene")
    tex: Entry[float] | None = quantity("Each line", "linear density", 1e-7, 1e-3)  # kg/m, of one line
    # m, where tex is not known
    line_diameter: Entry[float] | None = quantity("or its diameter", "length", 0.00002, 0.002)
    knot: Entry[Knot] = choice("Ends are", tuple(KNOTS), default="knotted")
    ends: Entry[float] | None = quantity("Ends and guides", "mass", 0.0, 0.1)  # kg, ends and guides together
