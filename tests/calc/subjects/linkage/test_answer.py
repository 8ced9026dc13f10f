"""The linkage of a budget: worked by hand, what it waits for, which would do."""

import math
import re
from typing import Any

import pytest

from calc import wording
from calc.subjects.linkage import words as linkage_words
from calc.subjects.linkage.answer import holds
from calc.subjects.linkage.sums import MATERIALS, Lines, LinkageStrength, Rod
from calc.unit_system import UnitSystem
from tests.calc.budgets import (
    GEAR,
    ROD,
    SURFACE,
    missing,
    small,
    whole,
    whole_json,
)


def test_linkage_worked_by_hand() -> None:
    """Carbon 1.0 mm, 150 mm free: 2.885 N (Euler, pinned); 0.30 m weigh 0.353 g."""
    found = whole_json()["linkage"]
    assert found["mass_g"] == pytest.approx(0.3534, abs=1e-3)
    assert found["buckling_factor"] * found["force_N"] == pytest.approx(2.885, abs=2e-3)


@pytest.mark.parametrize(
    ("linkage", "paths"),
    [
        (None, ("linkage.length",)),
        ({"kind": "rod"}, ("linkage.length",)),
        ({**ROD, "free_length": "x"}, ("linkage.free_length",)),
        ({**ROD, "diameter": ""}, ("linkage.diameter",)),
        ({**ROD, "bore": "1 mm"}, ("linkage.bore",)),
        ({"kind": "lines", "length": "300 mm"}, ("linkage.tex",)),
        ({"kind": "lines", "length": "300 mm", "tex": "22", "knot": "x"}, ("linkage.knot",)),
    ],
)
def test_linkage_waits(linkage: dict[str, Any] | None, paths: tuple[str, ...]) -> None:
    assert missing("linkage", linkage=linkage) == paths


def test_linkage_waits_for_the_surface_and_its_horn() -> None:
    assert missing("linkage", surface={}) == ("surface.span",)
    assert missing("linkage", surface={**SURFACE, "horn": ""}) == ("surface.horn",)
    assert missing("linkage", surface={**SURFACE, "actuator": "coil actuator"}) == ()


def test_linkage_of_ones_own_material_and_section() -> None:
    square = whole_json(
        linkage={**ROD, "section": "square", "diameter": "3 mm", "density": "100 kg/m³", "modulus": "2 GPa"}
    )
    assert square["linkage"]["mass_g"] == pytest.approx(0.27)
    by_diameter = whole_json(
        linkage={"kind": "lines", "length": "300 mm", "yarn": "aramid", "line_diameter": "0.1395 mm"}
    )
    by_tex = whole_json(linkage={"kind": "lines", "length": "300 mm", "yarn": "aramid", "tex": "22 tex"})
    assert by_diameter["linkage"]["strength_factor"] == pytest.approx(by_tex["linkage"]["strength_factor"], rel=1e-3)


def test_the_lightest_choice_that_holds_is_named() -> None:
    found = whole().linkage
    assert found is not None
    assert found.lightest is not None
    assert found.lightest == min((c for c in found.choices if c.holds), key=lambda choice: choice.strength.mass_kg)
    assert f"Lightest usual choice that holds: {found.lightest.name}" in linkage_words.linkage_sentence(
        found, UnitSystem.METRIC
    )
    assert "The push rod weighs 0.35 g; the rod buckles at" in linkage_words.linkage_sentence(found, UnitSystem.METRIC)
    lines = whole(linkage={"kind": "lines", "length": "300 mm", "tex": "22 tex"}).linkage
    assert lines is not None
    assert "The pair of lines weighs" in linkage_words.linkage_sentence(lines, UnitSystem.METRIC)


def test_where_nothing_holds_it_says_so() -> None:
    surface = {**SURFACE, "speed": "60 m/s", "span": "1 m", "chord": "0.5 m", "flap_chord": "0.3 m", "horn": "3 mm"}
    found = whole(surface=surface, linkage={"kind": "rod", "length": "1.5 m"}).linkage
    assert found is not None
    assert found.strength is None
    assert "mass_g" not in whole_json(surface=surface, linkage={"kind": "rod", "length": "1.5 m"})["linkage"]
    assert linkage_words.linkage_sentence(found, UnitSystem.METRIC).startswith("None of the usual choices holds")


def test_what_no_row_counts_is_said() -> None:
    """A linkage or leads in a block of their own weigh nothing in the budget until a row of the gear says so."""
    wiring = {"gauge": 32, "length": "100 mm"}
    codes = {notice.code for notice in whole(wiring=wiring).notices}
    assert {"linkage_no_row", "leads_no_row"} <= codes
    rows = [*GEAR, {"kind": "linkage", "mass": "0.4 g"}, {"kind": "wiring", "mass": "0.2 g"}]
    assert not {"linkage_no_row", "leads_no_row"} & {n.code for n in whole(wiring=wiring, gear=rows).notices}
    lines = {"kind": "lines", "length": "300 mm", "tex": "22 tex"}
    notice = next(n for n in whole(linkage=lines).notices if n.code == "linkage_no_row")
    assert "The pair of lines described weighs" in wording.notice(notice, UnitSystem.METRIC)


def test_a_linkage_that_is_too_weak_by_our_rule_is_told_so() -> None:
    weak, strong = (whole(linkage={**ROD, "diameter": size}).linkage for size in ("0.3 mm", "1.5 mm"))
    assert weak is not None
    assert strong is not None
    assert "it does not hold" in linkage_words.linkage_sentence(weak, UnitSystem.METRIC)
    assert "it holds" in linkage_words.linkage_sentence(strong, UnitSystem.METRIC)


def test_a_pivot_at_the_quarter_chord_loads_the_linkage_too() -> None:
    """The force lies up to 0.40 of the chord: 0.15 from there, 0.40 from the leading edge."""
    whole = {**SURFACE, "kind": "whole", "pivot": "25 %"}
    found = whole_json(surface=whole)["linkage"]
    ahead = whole_json(surface={**whole, "pivot": "0 %"})["linkage"]
    assert found["force_N"] == pytest.approx(ahead["force_N"] * 0.15 / 0.40, rel=1e-5)


HINGED = {
    "span": "100 mm", "chord": "80 mm", "flap_chord": "24 mm", "deflection": "20°", "speed": "6 m/s", "horn": "10 mm",
    "arm": "5 mm", "torque": "2 mN m",
}  # fmt: skip
PUSH_ROD = {"kind": "rod", "length": "300 mm", "diameter": "1 mm"}


@pytest.mark.parametrize(
    ("factor", "lost_deg", "held"), [(2.0, 2.0, True), (1.999, 0.0, False), (9.0, 2.001, False), (9.0, 1.999, True)]
)
def test_our_rule_of_what_holds(factor: float, lost_deg: float, held: bool) -> None:
    assert holds(LinkageStrength(mass_kg=0.001, factor=factor, lost_deg=lost_deg)) is held


def bare_g(name: str) -> float:
    """Return the mass of 300 mm of a usual linkage without ends [g], from its name and the list of materials."""
    sizes = [float(size) for size in re.findall(r"[0-9.]+", name)]
    if "tex" in name:
        return 2 * 0.3 * sizes[0] / 1e3  # tex is g/km
    diameter, bore = (*sizes, 0.0)[:2]
    area_mm2 = diameter**2 if "square" in name else math.pi / 4 * (diameter**2 - bore**2)
    return area_mm2 * 300 * MATERIALS[name.split()[0]].density_kg_m3 / 1e6


def test_the_usual_linkages_are_what_their_names_say() -> None:
    """With ends of 0.4 g for rods and 0.1 g for lines (common practice, no source)."""
    found = small(surface=HINGED, linkage=PUSH_ROD).linkage
    assert found is not None
    assert len(found.choices) == 13
    for choice in found.choices:
        ends_g = 0.4 if isinstance(choice.made_of, Rod) else 0.1
        assert choice.strength.mass_kg * 1e3 == pytest.approx(bare_g(choice.name) + ends_g), choice.name
        assert isinstance(choice.made_of, Lines) == ("tex" in choice.name)


@pytest.mark.parametrize(
    ("linkage", "grams"),
    [
        (PUSH_ROD, 1.5 * math.pi / 4 * 0.3 + 0.4),
        ({**PUSH_ROD, "bore": "0.5 mm"}, 1.5 * math.pi / 4 * 0.75 * 0.3 + 0.4),
        ({**PUSH_ROD, "section": "square", "bore": "0.5 mm"}, 1.5 * 0.3 + 0.4),
        ({"kind": "lines", "length": "300 mm", "tex": "50 tex"}, 0.03 + 0.1),
        ({"kind": "lines", "length": "300 mm", "tex": "50 tex", "ends": "0.3 g"}, 0.03 + 0.3),
    ],
)
def test_the_linkage_described_worked_by_hand(linkage: dict[str, str], grams: float) -> None:
    """Carbon of 1500 kg/m³, 300 mm long."""
    found = small(surface=HINGED, linkage=linkage).linkage
    assert found is not None
    assert found.strength is not None
    assert found.strength.mass_kg * 1e3 == pytest.approx(grams)


def test_the_line_says_where_none_of_the_usual_choices_holds() -> None:
    """A flap of 2 m × 0.8 m at 60 m/s: its moment is some hundreds of N m, far beyond any rod of a model."""
    surface = {**SURFACE, "span": "2 m", "chord": "0.9 m", "flap_chord": "0.8 m", "speed": "60 m/s"}
    found = whole(surface=surface, linkage={"length": "1.5 m"})
    assert found.linkage is not None
    assert found.linkage.strength is None
    assert linkage_words.brief(found.linkage, UnitSystem.METRIC) == "none of the usual choices holds"
