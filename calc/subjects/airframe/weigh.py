"""What one part of the airframe weighs by its entries, how far off that may be, and the planform that it has."""

from collections.abc import Callable, Mapping
from math import hypot

from calc.subject import present, value
from calc.subjects.airframe import shapes
from calc.subjects.airframe.entries import BY_AREA, OF_MATERIAL, AirframePart
from calc.subjects.airframe.forecast import OWN
from calc.subjects.airframe.materials import Material, table
from calc.subjects.airframe.shapes import Planform
from calc.subjects.stock import sums as stock
from calc.vocabulary import AirframeShape

GLUE_EITHER = 0.03  # of the wood: common practice, no source


def material(part: AirframePart) -> Material | None:
    """Return the material of a part; None for a shape that has none of the table."""
    return table()[part.material.value] if part.shape.value in (*OF_MATERIAL, *BY_AREA) else None


def is_wood(part: AirframePart) -> bool:
    """Return whether a part is of wood: it is glued, and takes up damp."""
    found = material(part)
    return part.shape.value in OF_MATERIAL and found is not None and found.wood


def either(part: AirframePart) -> float:
    """Return how far off the material may be, as a share: as told; nothing where its figure was typed without."""
    found = material(part)
    if part.either is not None and part.shape.value in OF_MATERIAL:
        return part.either.value
    typed = part.weight if part.shape.value in BY_AREA else part.density
    return 0.0 if found is None or typed is not None else found.either


def own(part: AirframePart, glue: float) -> float:
    """Return the half-width of a part of its own, as a share: material, sanding and fit, glue."""
    return hypot(OWN, either(part), min(GLUE_EITHER, glue) if is_wood(part) else 0.0)


def planform(part: AirframePart) -> Planform | None:
    """Return the planform of a part; None for one that has none, or not yet."""
    if part.span is None or part.root is None:
        return None
    return Planform(
        span_m=part.span.value,
        root_m=part.root.value,
        tip_m=part.root.value if part.tip is None else part.tip.value,
        ellipse=part.planform.value == "ellipse",
        dihedral_rad=part.dihedral.value,
    )


def density(part: AirframePart) -> float:
    """Return the density that is taken [kg/m³]: given, or the material's."""
    if part.density is not None:
        return part.density.value
    found = table()[part.material.value].density_kg_m3
    assert found is not None  # else it lacks one
    return found


def areal(part: AirframePart) -> float:
    """Return the mass per area that is taken [kg/m²]: given, the material's, or by its thickness."""
    found = table()[part.material.value]
    if part.weight is not None:
        return part.weight.value
    if found.areal_kg_m2 is not None:
        return found.areal_kg_m2
    assert found.density_kg_m3 is not None
    return found.density_kg_m3 * present(part.thickness)


def one(part: AirframePart) -> float | None:
    """Return the planned mass of one part, without glue [kg]; None while an entry is missing."""
    return None if part.lacks else SHAPES[part.shape.value](part)


def _plan(part: AirframePart) -> Planform:
    found = planform(part)
    assert found is not None
    return found


def _cover(part: AirframePart) -> float:
    return stock.cloth(shapes.covered(_plan(part), part.sides.value), areal(part))


def _cone(part: AirframePart) -> float:
    ends = present(part.diameter), present(part.end_diameter)
    return shapes.shell(*ends, present(part.length), present(part.thickness), density(part))


def _tube(part: AirframePart, bore_m: float) -> float:
    return stock.tube(present(part.diameter), bore_m, present(part.length), density(part))


def _ribs(part: AirframePart) -> float:
    by = present(part.pitch), present(part.depth), present(part.thickness)
    return shapes.ribs(_plan(part), *by, density(part))


def _frame(part: AirframePart) -> float:
    return shapes.flat_frame(
        _plan(part), present(part.pitch), present(part.width), present(part.thickness), density(part)
    )


SHAPES: Mapping[AirframeShape, Callable[[AirframePart], float]] = {
    "given": lambda p: present(p.mass),
    "rod": lambda p: _tube(p, 0.0),
    "tube": lambda p: _tube(p, present(p.bore)),
    "strip": lambda p: stock.strip(present(p.width), present(p.thickness), present(p.length), density(p)),
    "rolled": lambda p: shapes.shell(
        present(p.diameter), present(p.diameter), present(p.length), present(p.thickness), density(p)
    ),
    "cone": _cone,
    "plate": lambda p: shapes.area(_plan(p)) * present(p.thickness) * density(p),
    "ribs": _ribs,
    "frame": _frame,
    "cover": _cover,
    "finish": lambda p: p.coats.value * _cover(p),
    "thread": lambda p: stock.thread(present(p.tex) * 1e6, present(p.length)),
    "filler": lambda p: stock.filler(present(p.volume), present(p.density)),
}


def centre(part: AirframePart) -> float | None:
    """Return the station where a part balances [m]: halfway along, a cone nearer to its thick end; None if not told."""
    begins_m = value(part.station)
    if begins_m is None:
        return None
    along_m = value(part.along)
    if part.shape.value == "cone" and part.diameter is not None and part.end_diameter is not None:
        share = shapes.shell_centre(part.diameter.value, part.end_diameter.value)
        return begins_m + share * (along_m if along_m is not None else value(part.length) or 0.0)
    return begins_m + 0.5 * (along_m or 0.0)
