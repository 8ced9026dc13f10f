"""A piece of stock: its mass from the dimensions that its shape asks for."""

from collections.abc import Callable, Mapping

from calc.subject import present
from calc.subjects.linkage.sums import MATERIALS
from calc.subjects.stock import sums
from calc.subjects.stock.entries import Stock
from calc.vocabulary import Shape

SLEEVE_KG_M3 = 1200.0  # silicone or vinyl insulation, from memory

FIELDS: Mapping[Shape, tuple[str, ...]] = {  # what each shape asks for; those after "|" may stay empty
    "rod": ("material", "diameter", "length", "|", "density", "pieces"),
    "tube": ("material", "diameter", "bore", "length", "|", "density", "pieces"),
    "strip": ("material", "width", "thickness", "length", "|", "density", "pieces"),
    "wire": ("gauge", "strands", "length", "|", "over_all", "pieces"),
    "thread": ("tex", "length", "|", "pieces"),
    "film": ("area", "thickness", "|", "density", "pieces"),
    "cloth": ("area", "weight", "|", "pieces"),
    "filler": ("volume", "density", "|", "pieces"),
}


def asked(shape: Shape) -> tuple[str, ...]:
    """Return the names of the fields that a shape has.

    Examples
    --------
    >>> asked("thread")
    ('tex', 'length', 'pieces')
    """
    return tuple(name for name in FIELDS[shape] if name != "|")


def missing(piece: Stock) -> tuple[str, ...]:
    """Return the paths of the fields that the piece's mass waits for."""
    needed = FIELDS[piece.shape.value]
    return tuple(f"stock.{name}" for name in needed[: needed.index("|")] if getattr(piece, name) is None)


def weigh(piece: Stock) -> float | None:
    """Return the mass of all its pieces [kg], None while a dimension is missing."""
    if missing(piece):
        return None
    return SHAPES[piece.shape.value](piece) * piece.pieces.value


def density(piece: Stock) -> float:
    """Return the density that is taken [kg/m³]: given, or the material's, or a film's."""
    if piece.density is not None:
        return piece.density.value
    return sums.POLYESTER_KG_M3 if piece.shape.value == "film" else MATERIALS[piece.material.value].density_kg_m3


def _wire(piece: Stock) -> float:
    gauge, length_m = present(piece.gauge), present(piece.length)
    stranded = piece.strands.value == "stranded"
    bare_kg = sums.wire(gauge, length_m, stranded=stranded)
    core_m = sums.wire_diameter(gauge) * (sums.STRANDED_WIDER if stranded else 1.0)
    if piece.over_all is None or piece.over_all.value <= core_m:
        return bare_kg
    return bare_kg + sums.insulation(core_m, piece.over_all.value, length_m, SLEEVE_KG_M3)


SHAPES: Mapping[Shape, Callable[[Stock], float]] = {
    "rod": lambda p: sums.tube(present(p.diameter), 0.0, present(p.length), density(p)),
    "tube": lambda p: sums.tube(present(p.diameter), present(p.bore), present(p.length), density(p)),
    "strip": lambda p: sums.strip(present(p.width), present(p.thickness), present(p.length), density(p)),
    "wire": _wire,
    "thread": lambda p: sums.thread(present(p.tex) * 1e6, present(p.length)),
    "film": lambda p: sums.film(present(p.area), present(p.thickness), density(p)),
    "cloth": lambda p: sums.cloth(present(p.area), present(p.weight)),
    "filler": lambda p: sums.filler(present(p.volume), present(p.density)),
}
