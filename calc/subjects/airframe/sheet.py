"""Own sheets of balsa: what one weighs for its size, how far off that is for what is cut from it, its grade.

Symbols: m mass [kg], L length, b width, d thickness [m]; half-widths: a of the mass [kg], as of any part of the box.

    density        ρ = m / (L b d)
    either way     √(w² + (a/m)² + (t/d)²), at most all of it; w = 0.10, t = 0.05 mm

w: wood differs within a sheet (of a whole plank one end can weigh twice the other: 1957 interview, as in
`materials.toml`); that a tenth covers one sheet, and t for what a rule or a gauge shows of its thickness, are common
practice, no source. Each part errs by 5 % of its own besides (`forecast.OWN`).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import ceil, hypot, log
from typing import Any

from calc import units
from calc.document.blocks import BoxPart
from calc.document.box import SHEET
from calc.document.budget import Budget, read
from calc.document.fields import Entry, described
from calc.document.paths import place, rows
from calc.document.reading import read_block
from calc.document.systems import system_of
from calc.subjects.airframe import weigh
from calc.subjects.airframe.entries import SHEET_SHAPES, AirframePart
from calc.subjects.airframe.materials import table
from calc.subjects.airframe.shapes import sheet_density
from calc.subjects.weights import masses

ASKED = ("mass", "length", "width", "height")
WITHIN = 0.10
GAUGE_M = 0.05e-3
MEASURED_KG_M3 = 60.0, 380.0  # of balsa: Borrega and Gibson (2015), read second-hand
ALIKE_M = 0.06e-3  # our rule: a part this near to a sheet's thickness can be cut from it


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A sheet as it was weighed: density [kg/m³], how far off it may be as a share, thickness [m]."""

    name: str
    density_kg_m3: float
    either: float
    thickness_m: float

    @property
    def areal_kg_m2(self) -> float:
        """What an area of it weighs."""
        return self.density_kg_m3 * self.thickness_m

    @property
    def odd(self) -> bool:
        """Whether no balsa so dense or so light was measured: a size or the mass is wrong, or it is no balsa."""
        return not MEASURED_KG_M3[0] <= self.density_kg_m3 <= MEASURED_KG_M3[1]


def missing(part: BoxPart) -> tuple[str, ...]:
    """Return the entries that a sheet waits for."""
    entries = {name: getattr(part, name) for name in ASKED}
    return tuple(name for name, entry in entries.items() if entry is None or entry.value <= 0.0)


def sheet_of(part: BoxPart, division_kg: float) -> Sheet | None:
    """Return the sheet that a part of the box is, with the division of its scale; None for no sheet, or not yet one.

    Examples
    --------
    >>> part, _ = read_block(BoxPart, {"kind": "balsa sheet", "name": "A", "mass": "5.3155 g", "length": "36 in",
    ...     "width": "3 in", "height": "1/32 in"}, "", "metric")
    >>> sheet = sheet_of(part, 0.0001)
    >>> round(sheet.density_kg_m3, 1), round(sheet.either, 3)
    (96.1, 0.119)
    """
    if part.kind.value != SHEET or missing(part):
        return None
    mass_kg, *size_m = (getattr(part, name).value for name in ASKED)
    row = masses.Part(mass_kg=mass_kg, known_by=part.known_by.value)
    unsure = masses.half_width(row, division_kg) / mass_kg
    density = sheet_density(masses.expected_mass(row), *size_m)
    low, high = _range()
    if not low <= density <= high:  # no entry of a part takes it
        return None
    return Sheet(
        name=part.called, density_kg_m3=density, either=min(1.0, hypot(WITHIN, unsure, GAUGE_M / size_m[2])),
        thickness_m=size_m[2],
    )  # fmt: skip


def _range() -> tuple[float, float]:
    field = described(AirframePart)["density"]
    return getattr(field, "low"), getattr(field, "high")  # noqa: B009 - a quantity's, which its type does not tell


def graded(density_kg_m3: float) -> str:
    """Return the graded balsa of the table of materials that is nearest to a density above zero, as a share.

    Examples
    --------
    >>> graded(80.0), graded(110.0), graded(300.0)
    ('balsa-contest', 'balsa-light', 'balsa-hard')
    """
    listed = [each for each in table().values() if each.family == "balsa"]
    return min(listed, key=lambda each: abs(log(density_kg_m3 / (each.density_kg_m3 or 1.0)))).id


def of_balsa(part: AirframePart) -> bool:
    """Return whether a part is cut from a sheet of balsa, graded or not."""
    material = table()[part.material.value]
    return part.shape.value in SHEET_SHAPES and (material.family == "balsa" or material.id == "balsa")


def cut(document: Mapping[str, Any], part: Mapping[str, Any], path: str, system: str) -> dict[str, Any]:
    """Return a budget in which `airframe.N` is cut from a sheet of the box: by value, so that no link needs the box.

    It takes density, how far off that may be, the sheet's name, the grade as its material, and the thickness where it
    has none. `system` is the box's. What is no sheet yet, or as light or dense as no balsa is, changes nothing.

    Examples
    --------
    >>> sheet = {"kind": "balsa sheet", "name": "A", "mass": "9.4 g", "length": 915, "width": 100, "height": 1}
    >>> cut({"airframe": [{"shape": "plate", "thickness": "1.5 mm"}]}, sheet, "airframe.0", "metric")["airframe"]
    [{'shape': 'plate', 'thickness': '1.5 mm', 'material': 'balsa-light', 'density': '102.7 kg/m³', 'either': '12 %', \
'sheet': 'A'}]
    """
    boxed, _ = read_block(BoxPart, part, "", system)
    found = sheet_of(boxed, read(document).budget.scale_division.value)
    listed, at = rows(document, "airframe"), place(path).row
    if found is None or found.odd or at is None or at >= len(listed) or not isinstance(listed[at], Mapping):
        return dict(document)
    unit = units.default_unit("density", system_of(document) or "metric")
    density = units.from_si(found.density_kg_m3, unit, "density")
    thickness = str(part["height"])
    if units.is_bare(thickness):
        thickness = f"{thickness} {units.default_unit('length', system or 'metric')}"
    listed[at] = {
        **({"thickness": thickness} if listed[at].get("thickness") in (None, "") else {}), **listed[at],
        "material": graded(found.density_kg_m3), "density": f"{density:.4g} {unit}",
        "either": f"{ceil(100.0 * found.either - 1e-9)} %", "sheet": found.name[:80],
    }  # fmt: skip
    return {**document, "airframe": listed}


@dataclass(frozen=True, kw_only=True)
class Cut:
    """A part not built yet, as it is planned and as it would be from a sheet; all of its count, without glue [kg]."""

    name: str
    planned_kg: float
    kg: float


def cuts(budget: Budget, sheet: Sheet) -> Iterator[Cut]:
    """Yield the parts of a budget's airframe that could be cut from a sheet: of balsa, as thick, not weighed yet."""
    for part in budget.airframe:
        like = part.thickness is not None and abs(part.thickness.value - sheet.thickness_m) <= ALIKE_M
        planned_kg = weigh.one(part) if like and of_balsa(part) and part.weighed is None else None
        if planned_kg is None:
            continue
        kg = weigh.one(replace(part, density=Entry(value=sheet.density_kg_m3)))
        assert kg is not None  # nothing more is missing than before
        count = part.count.value
        yield Cut(name=part.called, planned_kg=count * planned_kg, kg=count * kg)
