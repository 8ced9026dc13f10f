"""Mass from dimensions as the page shows it: the fields of the shape, the mass, where the figures are from."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc import wording
from calc.document.fields import described
from calc.document.reading import read_block
from calc.subjects.linkage.sums import MATERIALS
from calc.subjects.stock import answer as stock
from calc.subjects.stock.entries import Stock
from calc.unit_system import UnitSystem
from calc.vocabulary import Shape
from site_src.app.controls import Control, control, shown_text
from site_src.app.sums import Working
from site_src.subjects.stock.workings import stock_working

SOURCES = {
    "wire": "Diameters ASTM B258; copper 8890 kg/m³ and a sleeve of 1200 kg/m³ from memory; 7 strands with 3 % of lay.",
    "thread": "1 tex is 1 g/km, 10 dtex, 9 denier (ISO 1144).",
    "film": "Polyester, 1390 kg/m³ from memory, unless you give a density.",
    "cloth": "Your figure for the weight of an area.",
    "filler": "Your figure for the density, as it is when cured.",
}


@dataclass(frozen=True, kw_only=True)
class StockView:
    """What the stock form shows; `mass` is empty while something is missing."""

    controls: Mapping[str, Control]
    fields: tuple[str, ...]
    mass: str  # as text for a mass field
    told: str
    working: Working | None  # how the mass comes about
    name: str  # what a gear row of it could be called
    missing: tuple[str, ...]
    source: str


def stock_view(fields: object, system: UnitSystem) -> StockView:
    """Return the view of a piece of stock from its fields as typed, of any shape."""
    typed = fields if isinstance(fields, Mapping) else {}
    piece, problems = read_block(Stock, typed, "stock", system)
    told = {problem.field: wording.sentence(problem.code, problem.facts) for problem in problems}
    shape = piece.shape.value
    asked = stock.asked(shape)
    controls = {
        f"stock.{name}": control(f"stock.{name}", field, typed.get(name), system, told.get(f"stock.{name}", ""), "")
        for name, field in described(Stock).items()
    }
    broken = any(f"stock.{name}" in told for name in asked)
    mass_kg = None if broken else stock.weigh(piece)
    missing = stock.missing(piece)
    return StockView(
        controls=controls,
        fields=asked,
        mass="" if mass_kg is None else system.mass_entry(mass_kg),
        told="" if mass_kg is None else _told(piece, mass_kg, system),
        working=None if mass_kg is None else stock_working(piece, mass_kg),
        name=_name(typed, shape),
        missing=tuple(wording.lowered(wording.LABELS[path]) for path in missing) or ("what is marked",),
        source=SOURCES.get(shape, _material(piece)),
    )


def _material(piece: Stock) -> str:
    if piece.density is not None:
        return "Your figure for the density."
    material = MATERIALS[piece.material.value]
    return f"{piece.material.value}: {material.density_kg_m3:g} kg/m³ ({material.source})."


def _told(piece: Stock, mass_kg: float, system: UnitSystem) -> str:
    pieces = piece.pieces.value
    return "" if pieces == 1 else f"together; each {system.mass_entry(mass_kg / pieces)}"


def _name(typed: Mapping[str, object], shape: Shape) -> str:
    """Return a name made of what was typed, such as `carbon rod 1 mm, 300 mm`."""
    material = shown_text(typed.get("material")) if shape in ("rod", "tube", "strip") else ""
    sizes = [
        shown_text(typed.get(name)) for name in stock.asked(shape) if name not in ("material", "strands", "pieces")
    ]
    return " ".join([material, shape, ", ".join(size for size in sizes if size)]).strip()[:80]
