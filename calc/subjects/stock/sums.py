"""Mass from dimensions: rod, tube, strip, sheet, wire by gauge, thread by tex, film, cloth, filler.

Everything returns kilograms; lengths in m, areas in m², densities in kg/m³.

Sources: wire diameters ASTM B258, d = 0.127 mm × 92^((36 − n)/39). Copper 8890 kg/m³ from memory, backed by
published wire tables within 0.6 %; its resistivity is that of annealed copper, IEC 60028. A wire of 7 strands has them
eight gauges finer; their lay adds 3 to 5 %, of which 3 % is taken. Thread: 1 tex = 1 g/km (ISO 1144). Polyester film
1390 kg/m³ from memory.
"""

from math import pi

from calc.errors import require

COPPER_KG_M3 = 8890.0
COPPER_OHM_M = 1.7241e-8  # annealed copper at 20 °C, IEC 60028
FINER = 92.0 ** (8 / 39)  # a gauge's diameter over that of eight gauges finer
STRANDED = 7.0 / FINER**2 * 1.03  # mass of a 7-strand wire over the solid one
STRANDED_OHM = 1.03 * FINER**2 / 7.0  # resistance of a 7-strand wire over the solid one
STRANDED_WIDER = 3.0 / FINER  # its diameter over the solid one's: one strand with six around it
POLYESTER_KG_M3 = 1390.0


def _positive(name: str, value: float) -> float:
    return require(name, value, 0.0, above=True)


def tube(outer_m: float, inner_m: float, length_m: float, density_kg_m3: float) -> float:
    """Return the mass of a round tube, or of a rod with no bore (inner 0) [kg].

    Raises
    ------
    OutOfRangeError
        If a dimension or the density is not above zero, or the bore is not smaller than the tube.

    Examples
    --------
    >>> round(tube(0.001, 0.0, 1.0, 1500.0) * 1000, 3)
    1.178
    """
    _positive("outer_m", outer_m)
    require("inner_m", inner_m, 0.0, 0.999 * outer_m)
    return pi / 4.0 * (outer_m**2 - inner_m**2) * _positive("length_m", length_m) * _positive("density", density_kg_m3)


def strip(width_m: float, height_m: float, length_m: float, density_kg_m3: float) -> float:
    """Return the mass of a strip or sheet: width × height × length × density [kg].

    Raises
    ------
    OutOfRangeError
        If a measure or the density is not above zero.

    Examples
    --------
    >>> round(strip(0.003, 0.003, 0.9, 160.0) * 1000, 3)
    1.296
    """
    section_m2 = _positive("width_m", width_m) * _positive("height_m", height_m)
    return section_m2 * _positive("length_m", length_m) * _positive("density", density_kg_m3)


def wire_diameter(gauge: float) -> float:
    """Return the bare diameter [m] of American wire gauge n from 0 to 50.

    Examples
    --------
    >>> round(wire_diameter(30) * 1000, 4)
    0.2546
    """
    return float(0.127e-3 * 92.0 ** ((36.0 - require("gauge", gauge, 0.0, 50.0)) / 39.0))


def wire(gauge: float, length_m: float, *, stranded: bool = False) -> float:
    """Return the mass of bare copper wire [kg], solid or of 7 strands.

    Examples
    --------
    >>> round(wire(30, 1000.0), 2)
    0.45
    """
    solid_kg = tube(wire_diameter(gauge), 0.0, length_m, COPPER_KG_M3)
    return solid_kg * STRANDED if stranded else solid_kg


def insulation(core_m: float, over_all_m: float, length_m: float, density_kg_m3: float) -> float:
    """Return the mass of a sleeve around a conductor [kg].

    Examples
    --------
    >>> round(insulation(0.000381, 0.0012, 1.0, 1200.0) * 1000, 2)
    1.22
    """
    return tube(over_all_m, core_m, length_m, density_kg_m3)


def wire_resistance(gauge: float, length_m: float, *, stranded: bool = False) -> float:
    """Return the resistance of one conductor at 20 °C [ohm], solid or of 7 strands, which have 6 % less.

    Raises
    ------
    OutOfRangeError
        If the length is not above zero, or the gauge outside 0 to 50.

    Examples
    --------
    >>> round(wire_resistance(30, 1000.0), 0), round(wire_resistance(30, 1000.0, stranded=True), 0)
    (339.0, 318.0)
    """
    solid_ohm = COPPER_OHM_M * _positive("length_m", length_m) / (pi / 4.0 * wire_diameter(gauge) ** 2)
    return solid_ohm * STRANDED_OHM if stranded else solid_ohm


def thread(tex: float, length_m: float) -> float:
    """Return the mass of a thread [kg]: tex is grams for a kilometre.

    Raises
    ------
    OutOfRangeError
        If tex or length is not above zero.

    Examples
    --------
    >>> round(thread(25.0, 1.2) * 1000, 3)
    0.03
    """
    return _positive("tex", tex) * 1e-6 * _positive("length_m", length_m)


def tex_of(diameter_m: float, density_kg_m3: float) -> float:
    """Return the tex [g/km] of a solid thread of a diameter [m] and a density [kg/m³]: ρ π d²/4 × 10⁶.

    Raises
    ------
    OutOfRangeError
        If diameter or density is not above zero.

    Examples
    --------
    >>> round(tex_of(0.0001395, 1440.0), 1)
    22.0
    """
    return pi / 4.0 * _positive("diameter_m", diameter_m) ** 2 * _positive("density", density_kg_m3) * 1e6


def film(area_m2: float, thickness_m: float, density_kg_m3: float = POLYESTER_KG_M3) -> float:
    """Return the mass of a film [kg].

    Raises
    ------
    OutOfRangeError
        If area, thickness or density is not above zero.

    Examples
    --------
    >>> round(film(1.0, 6e-6) * 1000, 2)
    8.34
    """
    return _positive("area_m2", area_m2) * _positive("thickness_m", thickness_m) * _positive("density", density_kg_m3)


def cloth(area_m2: float, weight_kg_m2: float) -> float:
    """Return the mass of cloth, tissue or paper by its weight per area [kg].

    Raises
    ------
    OutOfRangeError
        If area or weight is not above zero.

    Examples
    --------
    >>> round(cloth(0.1, 0.012) * 1000, 3)
    1.2
    """
    return _positive("area_m2", area_m2) * _positive("weight_kg_m2", weight_kg_m2)


def filler(volume_m3: float, density_kg_m3: float) -> float:
    """Return the mass of filler or adhesive by volume [kg].

    Raises
    ------
    OutOfRangeError
        If volume or density is not above zero.

    Examples
    --------
    >>> round(filler(0.5e-6, 1100.0) * 1000, 3)
    0.55
    """
    return _positive("volume_m3", volume_m3) * _positive("density", density_kg_m3)
