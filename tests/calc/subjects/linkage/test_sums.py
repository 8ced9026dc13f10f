"""Push rods and lines: mass, strength, stretch."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.linkage import sums as linkage
from calc.subjects.linkage.sums import KNOTS, MATERIALS, YARNS, Lines, Rod
from calc.vocabulary import Knot
from tests.support import reference, refused

TABLE = reference("linkage")
ROD = Rod(material=MATERIALS["carbon"], length_m=0.3, free_m=0.15, diameter_m=0.001)
LINES = Lines(yarn=YARNS["aramid"], length_m=0.6, tex=22.0, knot="knotted")
DIAMETER = st.floats(0.0003, 0.01)
FREE = st.floats(0.01, 1.0)


@pytest.mark.parametrize("name", ["aramid", "polyethylene"])
def test_yarns_are_the_published_ones(name: str) -> None:
    """Synthetic fibre yarn table; the strength of 22 tex follows."""
    yarn = YARNS[name]
    assert [yarn.tenacity_n_tex, yarn.modulus_n_tex, yarn.density_kg_m3] == TABLE["yarns"][name]
    assert yarn.source.startswith("read")
    strength = TABLE["yarn_strength"]
    found = linkage.line_strength(replace(LINES, yarn=yarn, tex=strength["tex"])) / KNOTS["knotted"]
    assert found == pytest.approx(strength[f"{name}_n"], abs=strength["tolerance_n"])


@pytest.mark.parametrize("knot", ["knotted", "looped"])
def test_knots_leave_the_published_share(knot: Knot) -> None:
    """One maker of aramid thread."""
    bare = LINES.yarn.tenacity_n_tex * LINES.tex
    assert linkage.line_strength(replace(LINES, knot=knot)) / bare == pytest.approx(TABLE["knots"][knot])


@pytest.mark.parametrize("name", ["carbon", "steel", "aluminium", "brass", "balsa"])
def test_densities_lie_in_the_published_ranges(name: str) -> None:
    low, high = TABLE["materials"][name]
    assert low <= MATERIALS[name].density_kg_m3 <= high


def test_moduli_and_bamboo() -> None:
    """Carbon, music wire and the typical balsa as read; bamboo from memory, and it says so."""
    assert MATERIALS["carbon"].modulus_pa == TABLE["materials"]["carbon_gpa"] * 1e9
    assert MATERIALS["balsa"].density_kg_m3 == TABLE["materials"]["balsa_typical"]
    assert MATERIALS["steel"].modulus_pa == TABLE["materials"]["steel_gpa"] * 1e9
    low, high = TABLE["bamboo"]["density"]
    assert low <= MATERIALS["bamboo"].density_kg_m3 <= high
    assert "from memory" in MATERIALS["bamboo"].source


def test_figures_from_memory_say_so() -> None:
    """No source: this only guards against change, and against a figure that claims more than it can."""
    table = TABLE["from_memory"]
    for name, gigapascals in table["modulus_gpa"].items():
        assert MATERIALS[name].modulus_pa == pytest.approx(gigapascals * 1e9)
        assert "from memory" in MATERIALS[name].source
    assert MATERIALS["bamboo"].density_kg_m3 == table["bamboo_kg_m3"]
    polyester = YARNS["polyester"]
    found = [polyester.tenacity_n_tex, polyester.modulus_n_tex, polyester.density_kg_m3]
    assert found == table["polyester"]
    assert "from memory" in polyester.source


def test_buckling_of_a_carbon_rod() -> None:
    """Euler's column, ends pinned."""
    table = TABLE["euler"]
    rod = replace(ROD, diameter_m=table["diameter_m"], free_m=table["free_m"])
    assert linkage.second_moment(rod) == pytest.approx(table["second_moment_m4"], rel=1.1e-4, abs=0.0)
    assert linkage.buckling_force(rod) == pytest.approx(table["force_n"], abs=table["tolerance_n"])


def second_moment_by_strips(half_width_at: list[float], height_m: float) -> float:
    """Return ∫ y² b(y) dy by thin strips across a section."""
    step = height_m / len(half_width_at)
    middles = [(n + 0.5) * step - height_m / 2 for n in range(len(half_width_at))]
    return sum(2 * half * y * y * step for half, y in zip(half_width_at, middles, strict=True))


def test_second_moments_against_the_sum_over_strips() -> None:
    """A tube of 2 mm with 1.2 mm of bore and a square of 2 mm, each cut into 20 000 strips."""
    pieces, size = 20_000, 0.002

    def chords(diameter: float) -> list[float]:
        middles = [(n + 0.5) * size / pieces - size / 2 for n in range(pieces)]
        return [math.sqrt(max(0.0, diameter**2 / 4 - y * y)) for y in middles]

    outer, bore = chords(size), chords(0.0012)
    ring = [out - inner for out, inner in zip(outer, bore, strict=True)]
    tube, square = replace(ROD, diameter_m=size, bore_m=0.0012), replace(ROD, diameter_m=size, square=True)
    by_strips = second_moment_by_strips(ring, size), second_moment_by_strips([size / 2] * pieces, size)
    found = linkage.second_moment(tube), linkage.second_moment(square)
    assert found == pytest.approx(by_strips, rel=1e-4, abs=0.0)  # metres to the fourth are small numbers


def test_section_and_mass_go_together() -> None:
    for rod in (ROD, replace(ROD, bore_m=0.0005), replace(ROD, square=True)):
        bare = linkage.section(rod) * rod.length_m * rod.material.density_kg_m3
        assert linkage.rod_mass(rod) == pytest.approx(bare, rel=1e-12)
        assert linkage.rod_mass(replace(rod, ends_kg=0.0004)) == pytest.approx(bare + 0.0004, rel=1e-12)


def test_a_held_rod_worked_by_hand() -> None:
    """0.1 N on 0.3 m of 1 mm carbon: 0.1·0.3/(134e9·7.854e-7) = 0.285 µm, at a horn of 10 mm 28.5 µrad."""
    held = linkage.rod_strength(ROD, 0.1, 0.010)
    assert held.factor == pytest.approx(TABLE["euler"]["force_n"] / 0.1, rel=2e-4)
    assert math.radians(held.lost_deg) == pytest.approx(28.506e-6, rel=1e-4)
    assert held.mass_kg == linkage.rod_mass(ROD)
    assert linkage.rod_strength(ROD, 0.0, 0.010).factor == math.inf
    assert linkage.rod_strength(ROD, 0.0, 0.010).lost_deg == 0.0


def test_held_lines_worked_by_hand() -> None:
    """0.5 N on 0.6 m of 22 tex aramid: 0.5·0.6/(49·22) = 0.2783 mm; strength 2.03·22·¼ = 11.165 N, so 22.33 fold."""
    held = linkage.lines_strength(LINES, 0.5, 0.010)
    assert held.factor == pytest.approx(22.33, abs=0.005)
    assert math.radians(held.lost_deg) == pytest.approx(0.02783, abs=5e-6)
    assert held.mass_kg == linkage.lines_mass(LINES)


def test_lines_weigh_their_tex() -> None:
    """ISO 1144."""
    table = TABLE["lines"]
    lines = replace(LINES, tex=table["tex"], length_m=table["length_m"])
    assert linkage.lines_mass(lines) * 1e3 == pytest.approx(table["mass_g"], rel=1e-12)
    assert linkage.lines_mass(replace(lines, ends_kg=0.0001)) * 1e3 == pytest.approx(table["mass_g"] + 0.1, rel=1e-12)


def test_lines_are_lighter_than_a_push_rod() -> None:
    """Common practice, no source; the dimensions are assumed, see the table."""
    table = TABLE["push_rod"]
    rod = replace(ROD, diameter_m=table["diameter_m"], length_m=table["length_m"], ends_kg=table["ends_g"] / 1e3)
    mass_g = linkage.rod_mass(rod) * 1e3
    assert mass_g == pytest.approx(table["mass_g"], abs=table["tolerance_g"])
    lines = replace(LINES, length_m=table["length_m"], ends_kg=0.0001)
    assert linkage.lines_mass(lines) * 1e3 < 0.25 * mass_g


@given(DIAMETER, st.floats(0.2, 1.0), FREE, st.booleans())
def test_a_thinner_rod_is_never_stiffer(diameter_m: float, share: float, free_m: float, square: bool) -> None:
    thick = replace(ROD, diameter_m=diameter_m, free_m=free_m, square=square)
    thin = replace(thick, diameter_m=share * diameter_m)
    thick_held, thin_held = linkage.rod_strength(thick, 0.2, 0.01), linkage.rod_strength(thin, 0.2, 0.01)
    assert thin_held.factor <= thick_held.factor
    assert thin_held.lost_deg >= thick_held.lost_deg
    assert thin_held.mass_kg <= thick_held.mass_kg


@given(DIAMETER, FREE, st.floats(1.0, 10.0))
def test_a_longer_free_length_is_never_stronger(diameter_m: float, free_m: float, times: float) -> None:
    short = replace(ROD, diameter_m=diameter_m, free_m=free_m)
    assert linkage.buckling_force(replace(short, free_m=times * free_m)) <= linkage.buckling_force(short)


@given(DIAMETER, st.floats(0.05, 0.95))
def test_a_bore_saves_more_mass_than_strength(diameter_m: float, share: float) -> None:
    solid = replace(ROD, diameter_m=diameter_m)
    bored = replace(solid, bore_m=share * diameter_m)
    strength = linkage.buckling_force(bored) / linkage.buckling_force(solid)
    mass = linkage.rod_mass(bored) / linkage.rod_mass(solid)
    assert mass < strength < 1.0


def test_force() -> None:
    """Worked by hand."""
    assert linkage.force(0.428e-3, 0.008) == pytest.approx(0.0535)
    assert linkage.force(0.0, 0.008) == 0.0


def test_an_impossible_section_is_refused() -> None:
    for rod in [replace(ROD, diameter_m=math.nan), replace(ROD, bore_m=0.001)]:
        with pytest.raises(OutOfRangeError):
            linkage.section(rod)


def test_impossible_linkages_are_refused() -> None:
    for rod in [
        replace(ROD, diameter_m=0.0),
        replace(ROD, diameter_m=0.0, square=True),
        replace(ROD, bore_m=0.001),
        replace(ROD, bore_m=-0.0001),
        replace(ROD, free_m=0.0),
        replace(ROD, length_m=0.0),
        replace(ROD, ends_kg=-0.001),
        replace(ROD, length_m=math.nan),
        replace(ROD, material=replace(ROD.material, modulus_pa=0.0)),
        replace(ROD, material=replace(ROD.material, density_kg_m3=0.0)),
    ]:
        with pytest.raises(OutOfRangeError):
            linkage.rod_strength(rod, 0.1, 0.01)
    for lines in [
        replace(LINES, tex=0.0),
        replace(LINES, length_m=0.0),
        replace(LINES, ends_kg=-0.001),
        replace(LINES, tex=math.nan),
    ]:
        with pytest.raises(OutOfRangeError):
            linkage.lines_strength(lines, 0.1, 0.01)
    for force_n, horn_m in [(-0.1, 0.01), (math.nan, 0.01), (0.1, 0.0)]:
        with pytest.raises(OutOfRangeError):
            linkage.rod_strength(ROD, force_n, horn_m)
        with pytest.raises(OutOfRangeError):
            linkage.lines_strength(LINES, force_n, horn_m)
        with pytest.raises(OutOfRangeError):
            linkage.force(force_n, horn_m)


@pytest.mark.parametrize(
    ("sum_", "arguments"),
    [
        (linkage.buckling_force, (replace(ROD, material=replace(ROD.material, modulus_pa=0.9)),)),
    ],
)
def test_what_lies_just_inside_is_taken(sum_: Callable[..., float], arguments: tuple[object, ...]) -> None:
    """Found by mutation testing: nothing noticed when such an end was moved."""
    assert sum_(*arguments) > 0.0


@pytest.mark.parametrize(
    ("sum_", "arguments", "name"),
    [
        (linkage.section, (replace(ROD, diameter_m=0.0, square=True),), "diameter_m"),
        (linkage.section, (replace(ROD, diameter_m=-0.5, square=True),), "diameter_m"),
        (linkage.section, (replace(ROD, bore_m=-0.5),), "bore_m"),
        (linkage.line_strength, (replace(LINES, tex=0.0),), "tex"),
    ],
)
def test_what_lies_just_outside_is_refused(
    sum_: Callable[..., float], arguments: tuple[object, ...], name: str
) -> None:  # fmt: skip
    assert refused(sum_, arguments) == name


def test_figures_taken_where_none_are_given_are_those_of_the_list() -> None:
    """All densities but bamboo's and the moduli of carbon and steel as read.

    The others are from memory: for those this only says that nobody changed them unnoticed.
    """
    figures = {name: (each.density_kg_m3, each.modulus_pa / 1e9) for name, each in MATERIALS.items()}
    assert figures == {
        "carbon": (1500.0, 134.0), "steel": (7850.0, 190.0), "aluminium": (2700.0, 69.0), "brass": (8520.0, 100.0),
        "balsa": (160.0, 3.0), "bamboo": (700.0, 15.0),
    }  # fmt: skip
