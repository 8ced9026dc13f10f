"""Push rods and pull-pull lines: mass, strength, what is lost in stretch.

Symbols: F force along the linkage [N]; E modulus [Pa]; A section [m²]; I second moment of area [m⁴]; L length [m];
tex linear density [g/km].

    force           F = moment ÷ horn
    rod, buckling   F_E = π² E I / L_free², pinned ends; factor F_E ÷ F
    rod, stretch    F L / (E A)
    lines, strength tenacity × tex × what the knot leaves; factor strength ÷ F
    lines, stretch  F L / (modulus per tex × tex)
    lost angle      stretch ÷ horn

Sources: Euler's column (any strength-of-materials text). Densities and moduli: pultruded carbon, music wire (ASTM
A228), brass, balsa, aramid and high-modulus polyethylene yarns as read in makers' tables; aluminium and brass moduli,
bamboo and polyester from memory. Knotted thread keeps about 25 %, looped about 40 % of its strength (one aramid maker).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees, pi

from calc.errors import require
from calc.subjects.stock import sums as stock
from calc.vocabulary import Knot

KNOTS: Mapping[Knot, float] = {"knotted": 0.25, "looped": 0.40}


@dataclass(frozen=True, kw_only=True)
class Material:
    """A rod's material: density [kg/m³], modulus [Pa], where the figures are from."""

    density_kg_m3: float
    modulus_pa: float
    source: str


@dataclass(frozen=True, kw_only=True)
class Yarn:
    """A line's fibre: tenacity and modulus [N/tex], density [kg/m³], where the figures are from."""

    tenacity_n_tex: float
    modulus_n_tex: float
    density_kg_m3: float
    source: str


MATERIALS = {
    "carbon": Material(density_kg_m3=1500.0, modulus_pa=134e9, source="read: pultruded carbon, maker's table"),
    "steel": Material(density_kg_m3=7850.0, modulus_pa=190e9, source="read: music wire, ASTM A228"),
    "aluminium": Material(density_kg_m3=2700.0, modulus_pa=69e9, source="density read; modulus from memory"),
    "brass": Material(density_kg_m3=8520.0, modulus_pa=100e9, source="density read; modulus from memory"),
    "balsa": Material(density_kg_m3=160.0, modulus_pa=3e9, source="density read, 40 to 340; modulus from memory"),
    "bamboo": Material(density_kg_m3=700.0, modulus_pa=15e9, source="from memory: dense culm 500 to 900"),
}
YARNS = {
    "aramid": Yarn(tenacity_n_tex=2.03, modulus_n_tex=49.0, density_kg_m3=1440.0, source="read: fibre yarn table"),
    "polyethylene": Yarn(
        tenacity_n_tex=2.65, modulus_n_tex=124.0, density_kg_m3=970.0, source="read: fibre yarn table"
    ),
    "polyester": Yarn(tenacity_n_tex=0.70, modulus_n_tex=9.0, density_kg_m3=1390.0, source="from memory"),
}


@dataclass(frozen=True, kw_only=True)
class Rod:
    """A push rod. Lengths and diameters [m]; `bore_m` 0 for a solid one; square sections have `square`."""

    material: Material
    length_m: float
    free_m: float  # between guides
    diameter_m: float
    bore_m: float = 0.0
    square: bool = False
    ends_kg: float = 0.0  # ends and guides together


@dataclass(frozen=True, kw_only=True)
class Lines:
    """A pair of pull-pull lines, each of `length_m` [m] and `tex` [g/km]."""

    yarn: Yarn
    length_m: float
    tex: float
    knot: Knot
    ends_kg: float = 0.0


@dataclass(frozen=True, kw_only=True)
class LinkageStrength:
    """What a linkage weighs [kg], its factor of strength, the angle lost in stretch [°]."""

    mass_kg: float
    factor: float
    lost_deg: float


def force(moment_nm: float, horn_m: float) -> float:
    """Return the force along the linkage [N].

    Raises
    ------
    OutOfRangeError
        If the moment is below zero, or the horn not above it.

    Examples
    --------
    >>> force(0.0004, 0.008)
    0.05
    """
    return require("moment_nm", moment_nm, 0.0) / require("horn_m", horn_m, 0.0, above=True)


def second_moment(rod: Rod) -> float:
    """Return I [m⁴] of the rod's section: π (d⁴ − b⁴)/64, or d⁴/12 for a square.

    Examples
    --------
    >>> rod = Rod(material=MATERIALS["carbon"], length_m=0.15, free_m=0.15, diameter_m=0.001)
    >>> round(second_moment(rod) * 1e14, 3)
    4.909
    """
    diameter_m, bore_m = _sizes(rod)
    return float(diameter_m**4) / 12.0 if rod.square else pi * (diameter_m**4 - bore_m**4) / 64.0


def section(rod: Rod) -> float:
    """Return the area of the rod's section [m²]."""
    diameter_m, bore_m = _sizes(rod)
    return diameter_m**2 if rod.square else pi * (diameter_m**2 - bore_m**2) / 4.0


def _sizes(rod: Rod) -> tuple[float, float]:
    """Return diameter and bore [m], if a rod can have them; a square one has no bore."""
    diameter_m = require("diameter_m", rod.diameter_m, 0.0, above=True)
    return diameter_m, 0.0 if rod.square else require("bore_m", rod.bore_m, 0.0, 0.999 * diameter_m)


def buckling_force(rod: Rod) -> float:
    """Return Euler's buckling force between the guides [N], ends pinned.

    Raises
    ------
    OutOfRangeError
        If a length or the modulus is not above zero, or the bore is not smaller than the rod.

    Examples
    --------
    >>> rod = Rod(material=MATERIALS["carbon"], length_m=0.15, free_m=0.15, diameter_m=0.001)
    >>> round(buckling_force(rod), 3)
    2.885
    """
    free_m = require("free_m", rod.free_m, 0.0, above=True)
    modulus_pa = require("modulus_pa", rod.material.modulus_pa, 0.0, above=True)
    return pi**2 * modulus_pa * second_moment(rod) / free_m**2


def rod_mass(rod: Rod) -> float:
    """Return the rod's mass with its ends and guides [kg].

    Raises
    ------
    OutOfRangeError
        If diameter, length or density is not above zero, the bore not below the diameter, or the mass of the ends below
        zero.
    """
    if rod.square:
        bare_kg = stock.strip(rod.diameter_m, rod.diameter_m, rod.length_m, rod.material.density_kg_m3)
    else:
        bare_kg = stock.tube(rod.diameter_m, rod.bore_m, rod.length_m, rod.material.density_kg_m3)
    return bare_kg + require("ends_kg", rod.ends_kg, 0.0)


def rod_strength(rod: Rod, force_n: float, horn_m: float) -> LinkageStrength:
    """Return what the rod weighs and how it holds a force; with no force the factor is infinite.

    Raises
    ------
    OutOfRangeError
        If the force or the mass of the ends is below zero, the horn or a measure of the rod not above it, or the bore
        not below the diameter.

    Examples
    --------
    >>> rod = Rod(material=MATERIALS["carbon"], length_m=0.3, free_m=0.15, diameter_m=0.001)
    >>> found = rod_strength(rod, 0.1, 0.010)
    >>> round(found.factor, 2), round(found.mass_kg * 1000, 3)
    (28.85, 0.353)
    """
    require("force_n", force_n, 0.0)
    mass_kg, strength_n = rod_mass(rod), buckling_force(rod)
    stretch_m = force_n * rod.length_m / (rod.material.modulus_pa * section(rod))
    return _strength(mass_kg, strength_n, force_n, stretch_m, horn_m)


def line_strength(lines: Lines) -> float:
    """Return the strength of one line with its knots [N].

    Raises
    ------
    OutOfRangeError
        If tex is not above zero.

    Examples
    --------
    >>> round(line_strength(Lines(yarn=YARNS["aramid"], length_m=0.6, tex=22.0, knot="knotted")), 3)
    11.165
    """
    return lines.yarn.tenacity_n_tex * require("tex", lines.tex, 0.0, above=True) * KNOTS[lines.knot]


def lines_mass(lines: Lines) -> float:
    """Return the mass of both lines with their ends [kg].

    Raises
    ------
    OutOfRangeError
        If tex or length is not above zero, or the mass of the ends below it.

    Examples
    --------
    >>> round(lines_mass(Lines(yarn=YARNS["polyester"], length_m=0.60, tex=25.0, knot="looped")) * 1000, 6)
    0.03
    """
    return 2.0 * stock.thread(lines.tex, lines.length_m) + require("ends_kg", lines.ends_kg, 0.0)


def lines_strength(lines: Lines, force_n: float, horn_m: float) -> LinkageStrength:
    """Return what the lines weigh and how they hold a force.

    Raises
    ------
    OutOfRangeError
        If the force or the mass of the ends is below zero, or tex, length or the horn not above it.
    """
    require("force_n", force_n, 0.0)
    mass_kg, strength_n = lines_mass(lines), line_strength(lines)
    stretch_m = force_n * lines.length_m / (lines.yarn.modulus_n_tex * lines.tex)
    return _strength(mass_kg, strength_n, force_n, stretch_m, horn_m)


def _strength(mass_kg: float, strength_n: float, force_n: float, stretch_m: float, horn_m: float) -> LinkageStrength:
    lost = degrees(stretch_m / require("horn_m", horn_m, 0.0, above=True))
    return LinkageStrength(mass_kg=mass_kg, factor=strength_n / force_n if force_n > 0 else float("inf"), lost_deg=lost)
