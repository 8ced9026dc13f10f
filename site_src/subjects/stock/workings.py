"""How the numbers of the subject stock come about."""

from collections.abc import Callable, Mapping

from calc.document.fields import Entry
from calc.subject import present, value
from calc.subjects.stock.answer import SLEEVE_KG_M3
from calc.subjects.stock.answer import density as density_taken
from calc.subjects.stock.entries import Stock
from calc.subjects.stock.sums import COPPER_KG_M3, STRANDED, STRANDED_WIDER, wire_diameter
from site_src.app.sums import Working, num, working


def stock_working(piece: Stock, mass_kg: float) -> Working:
    """Return how the mass of a piece of stock comes about; all its dimensions are there."""
    formula, numbers = _STOCK[piece.shape.value](piece)
    if piece.pieces.value != 1:
        formula, numbers = f"pieces × ({formula})", f"{piece.pieces.value} × ({numbers})"
    entry = _ENTRIES.get(piece.shape.value, "stock-volume")
    return working("stock", entry, "mass", formula, numbers, f"{num(mass_kg * 1e3)} g")


def _mm(entry: Entry[float] | None) -> str:
    return f"{num((value(entry) or 0.0) * 1e3)} mm"


def _rho(piece: Stock) -> str:
    return f"{num(density_taken(piece) / 1e3)} g/cm³"


def _round(piece: Stock) -> tuple[str, str]:
    wide = f"({_mm(piece.diameter)})²"
    if piece.shape.value == "tube":
        formula, section = "π/4 (d² − b²)", f"π / 4 × ({wide} − ({_mm(piece.bore)})²)"
    else:
        formula, section = "π/4 d²", f"π / 4 × {wide}"
    return f"{formula} × length × density", f"{section} × {_mm(piece.length)} × {_rho(piece)} / 1000"


def _wire(piece: Stock) -> tuple[str, str]:
    core_m, stranded = wire_diameter(present(piece.gauge)), piece.strands.value == "stranded"
    copper = f"π / 4 × ({num(core_m * 1e3)} mm)² × {_mm(piece.length)} × {num(COPPER_KG_M3 / 1e3)} g/cm³ / 1000"
    formula, numbers = ("π/4 d² × length × density", copper)
    if stranded:
        formula, numbers = f"{formula} × lay", f"{numbers} × {num(STRANDED)}"
    wide_m = core_m * (STRANDED_WIDER if stranded else 1.0)
    if piece.over_all is None or piece.over_all.value <= wide_m:
        return formula, numbers
    sleeve = f"π / 4 × (({_mm(piece.over_all)})² − ({num(wide_m * 1e3)} mm)²) × {_mm(piece.length)}"
    return f"{formula} + sleeve", f"{numbers} + {sleeve} × {num(SLEEVE_KG_M3 / 1e3)} g/cm³ / 1000"


def _area(piece: Stock) -> str:
    return f"{num(value(piece.area) or 0.0)} m²"


_ENTRIES = {"wire": "stock-wire", "thread": "stock-thread", "cloth": "stock-cloth"}
_STOCK: Mapping[str, Callable[[Stock], tuple[str, str]]] = {
    "rod": _round,
    "tube": _round,
    "strip": lambda p: (
        "width × thickness × length × density",
        f"{_mm(p.width)} × {_mm(p.thickness)} × {_mm(p.length)} × {_rho(p)} / 1000",
    ),
    "wire": _wire,
    "thread": lambda p: (
        "tex × length",
        f"{num((value(p.tex) or 0.0) * 1e6)} tex × {num(value(p.length) or 0.0)} m / 1000",
    ),
    "film": lambda p: (
        "area × thickness × density",
        f"{_area(p)} × {num((value(p.thickness) or 0.0) * 1e6)} µm × {_rho(p)}",
    ),
    "cloth": lambda p: ("area × weight", f"{_area(p)} × {num((value(p.weight) or 0.0) * 1e3)} g/m²"),
    "filler": lambda p: ("volume × density", f"{num((value(p.volume) or 0.0) * 1e6)} ml × {_rho(p)}"),
}
