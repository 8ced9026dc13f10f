"""Own sheets of balsa: density from the scale, a part cut from one, by value; light ones and hard ones."""

from math import hypot
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import units
from calc.assess import assess
from calc.document import link
from calc.document.box import read_box
from calc.document.boxfile import box_from_text, is_own_csv, to_csv
from calc.document.budget import read
from calc.document.gearcsv import gear_from_csv
from calc.savings.find import find
from calc.search.finder import answer
from calc.subjects.airframe import sheet as sheets
from calc.subjects.airframe import words
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.airframe.entries import SHEET_SHAPES
from calc.subjects.airframe.materials import table
from calc.subjects.airframe.templates import started, templates
from calc.unit_system import UnitSystem
from tests.calc.subjects.airframe.test_templates import ADDRESS, LONGEST_CODE
from tests.support import demo_documents, read_part

SIZE = {"length": "915 mm", "width": "100 mm", "height": "1 mm"}
LIGHT = {"kind": "balsa sheet", "name": "A", "mass": "8.2 g", **SIZE}
HARD = {**LIGHT, "name": "B", "mass": "20.1 g"}
PLATE: dict[str, Any] = {"name": "fin", "shape": "plate", "material": "balsa", "span": "100 mm", "root": "80 mm",
                         "thickness": "1 mm", "known_by": "cut"}  # fmt: skip


def weighed(**entries: Any) -> sheets.Sheet | None:
    """Return a sheet of balsa with other entries."""
    return sheets.sheet_of(read_part({**LIGHT, **entries}, "box", "metric")[0], 0.0001)


def block(document: dict[str, Any]) -> AirframeBlock:
    """Return the airframe of a document."""
    found = assess(read(document).budget).of(AirframeBlock)
    assert found is not None
    return found


def test_a_sheet_of_known_density_the_other_way_round() -> None:
    """AB-1: 1/32 × 3 × 36 in at 6 lb/ft³ is 0.1875 oz, a printed figure; 6 lb/ft³ is 96.11 kg/m³."""
    found = weighed(mass="0.1875 oz", length="36 in", width="3 in", height="1/32 in")
    assert found is not None
    assert found.density_kg_m3 == pytest.approx(units.to_si(6.0, "lb/ft³", "density"), rel=1e-3)
    assert words.sheet_brief(found, UnitSystem.IMPERIAL).startswith("6.00 lb/ft³ (96 kg/m³), contest")


def test_how_far_off_by_hand() -> None:
    """A tenth, half a scale division of 0.1 g in 8.2 g, 0.05 mm in 1 mm; a guess grows by a fifth and is off by it."""
    found, guessed = weighed(), weighed(known_by="guess")
    assert found is not None
    assert guessed is not None
    assert found.either == pytest.approx(hypot(0.10, 0.05 / 8.2, 0.05), rel=1e-12)
    assert found.density_kg_m3 == pytest.approx(0.0082 / (0.915 * 0.1 * 0.001), rel=1e-12)
    assert guessed.density_kg_m3 == pytest.approx(1.2 * found.density_kg_m3, rel=1e-12)
    assert guessed.either == pytest.approx(hypot(0.10, 0.20, 0.05), rel=1e-12)
    thin = weighed(height="0.01 mm", mass="0.1 g")
    assert thin is not None
    assert thin.either == 1.0


@pytest.mark.parametrize(
    "entries", [{"mass": ""}, {"height": None}, {"mass": 0}, {"kind": "servo"}, {"mass": "2 kg", "height": "0.01 mm"},
                {"mass": "0.1 g", "width": "500 mm", "height": "400 mm"}],
)  # fmt: skip
def test_what_is_no_sheet_yet(entries: dict[str, Any]) -> None:
    """A mass of nothing is none, and no entry of a part takes 2000 tonnes a cubic metre."""
    assert weighed(**entries) is None


def test_grades_are_those_of_the_table() -> None:
    """Each graded balsa is its own grade; between two of them the nearer by its share."""
    for each in table().values():
        if each.family == "balsa":
            assert each.density_kg_m3 is not None
            assert sheets.graded(each.density_kg_m3) == each.id
    assert sheets.graded((96.0 * 128.0) ** 0.5 + 0.1) == "balsa-medium"
    assert sheets.graded((96.0 * 128.0) ** 0.5 - 0.1) == "balsa-light"


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_a_part_takes_density_and_spread_by_value(system: str) -> None:
    """8 cm³ of 89.62 kg/m³ with 5 % of glue: 0.753 g; nothing of the box is asked any more."""
    document = {"units": system, "airframe": [PLATE]}
    cut = sheets.cut(document, LIGHT, "airframe.0", "metric")
    assert document["airframe"] == [PLATE]
    (part,) = block(cut).parts
    assert part.plan.planned_kg == pytest.approx(8e-6 * 89.6175 * 1.05, rel=6e-4)  # four digits of density
    assert part.plan.own == pytest.approx(hypot(0.05, 0.12, 0.03), rel=1e-9)
    assert part.sheet == "A"
    assert cut["airframe"][0]["material"] == "balsa-light"
    assert link.decode(link.encode(cut))["airframe"] == cut["airframe"]
    assert read(cut).problems == ()
    back = sheets.cut(cut, HARD, "airframe.0", "metric")
    assert block(back).parts[0].sheet == "B"
    assert block(back).planned_kg > block(cut).planned_kg


def test_a_thickness_is_taken_where_there_is_none() -> None:
    bare = {key: item for key, item in PLATE.items() if key != "thickness"}
    imperial = {**LIGHT, "length": 36, "width": 4, "height": "0.04", "mass": 0.29}
    cut = sheets.cut({"airframe": [bare]}, imperial, "airframe.0", "imperial")
    assert cut["airframe"][0]["thickness"] == "0.04 in"
    assert sheets.cut({"airframe": [PLATE]}, {**LIGHT, "height": "1.5 mm"}, "airframe.0", "")["airframe"][0][
        "thickness"
    ] == PLATE["thickness"]  # fmt: skip


@pytest.mark.parametrize("path", ["airframe.1", "airframe.9", "airframe", "cell"])
def test_nothing_changes_where_there_is_no_such_part(path: str) -> None:
    document = {"airframe": [PLATE, 7]}
    assert sheets.cut(document, LIGHT, path, "metric") == document


@pytest.mark.parametrize("mass", ["", "0.9 g", "90 g", "heavy"])
def test_what_no_balsa_weighs_is_not_taken(mass: str) -> None:
    """9.8 and 984 kg/m³: a slip on the scale must not make a model lighter."""
    document = {"airframe": [PLATE]}
    assert sheets.cut(document, {**LIGHT, "mass": mass}, "airframe.0", "metric") == document


def test_an_odd_sheet_says_so() -> None:
    odd, sound_one = weighed(mass="0.9 g"), weighed()
    assert odd is not None
    assert sound_one is not None
    assert words.sheet_more(odd, UnitSystem.METRIC).startswith(words.ODD_SHEET)
    assert words.sheet_density(sound_one, UnitSystem.METRIC) == "89.6 kg/m³ (5.6 lb/ft³), contest, the lightest"
    assert words.sheet_more(sound_one, UnitSystem.METRIC) == (
        "Either way 11 %: wood differs within a sheet, and a gauge shows no more. A square decimetre of it weighs "
        "0.90 g."
    )
    imperial = words.sheet_more(sound_one, UnitSystem.IMPERIAL)
    assert imperial.endswith("A square foot of it weighs 0.294 oz.")  # 89.62 g/m² × 0.0929 m² = 8.326 g


def test_what_can_be_cut_from_it() -> None:
    """Of balsa, as thick, not weighed: two fins together 2 × 8 cm³ × 89.62 kg/m³."""
    parts = [
        {**PLATE, "count": 2}, {**PLATE, "name": "weighed", "weighed": "1 g"}, {**PLATE, "thickness": "1.5 mm"},
        {**PLATE, "material": "spruce"}, {"shape": "rod", "diameter": "2 mm", "length": "1 m"}, {"mass": "1 g"},
        {**PLATE, "span": ""},
    ]  # fmt: skip
    sheet = weighed()
    assert sheet is not None
    (found,) = sheets.cuts(read({"airframe": parts}).budget, sheet)
    assert found.kg * 1e3 == pytest.approx(2 * 8e-3 * 89.6175, rel=1e-5)
    assert found.planned_kg * 1e3 == pytest.approx(2 * 8e-3 * 150.0, rel=1e-9)


def test_another_material_leaves_the_sheet_behind() -> None:
    cut = sheets.cut({"airframe": [PLATE]}, HARD, "airframe.0", "metric")
    saving = next(each for each in find(cut).list if each.choice.name == "material" and each.saved_kg > 0)
    assert (saving.choice.before, saving.choice.after) == ("B", "balsa, medium hard")
    changed = {edit.keys[-1] for edit in saving.edits}
    assert {"density", "either", "sheet", "material"} <= changed


@given(st.floats(60.0, 380.0), st.floats(60.0, 380.0))
def test_a_denser_sheet_never_makes_a_lighter_part(one: float, other: float) -> None:
    masses = []
    for density in sorted([one, other]):
        sheet = {**LIGHT, "mass": f"{density * 0.915 * 0.1 * 0.001 * 1e3} g"}
        masses.append(block(sheets.cut({"airframe": [PLATE]}, sheet, "airframe.0", "metric")).forecast.expected_kg)
    assert masses[0] <= masses[1]


@pytest.mark.parametrize("key", templates())
def test_an_airframe_cut_from_named_sheets_still_fits_a_code(key: str) -> None:
    """Each part of wood from a sheet of its own name, half of them weighed."""
    document = started(
        {"name": "A name of thirty letters or so", "gear": [{"kind": "servo", "mass": "1.7 g"}] * 6}, key
    )
    for at, part in enumerate(document["airframe"]):
        if part.get("shape") in SHEET_SHAPES:
            named = {**LIGHT, "name": f"plank {at}, soft", "mass": f"{7 + 0.37 * at:.2f} g"}
            document = sheets.cut(document, named, f"airframe.{at}", "metric")
            document["airframe"][at] |= {"weighed": f"{1 + at * 0.37:.2f} g", "weighed_on": f"2026-03-{10 + at}"}
    assert read(document).problems == ()
    assert len(link.encode(document)) + ADDRESS < LONGEST_CODE


def test_sheets_in_the_box_and_its_files() -> None:
    """JSON and CSV take them; a box of before these is its own CSV still; a metre of sheet is no refused length."""
    box: dict[str, Any] = {"format": 1, "parts": [LIGHT, HARD, {"kind": "servo", "name": "s", "mass": "1.7 g"}]}
    assert read_box(box).all_problems == ()
    text = to_csv(box)
    assert is_own_csv(text)
    again = box_from_text(text)
    assert [(part["kind"], part["name"]) for part in again["parts"]] == [
        ("balsa sheet", "A"), ("balsa sheet", "B"), ("servo", "s")
    ]  # fmt: skip
    for old, new in zip(box["parts"][:2], again["parts"], strict=False):
        before, after = (sheets.sheet_of(read_part(each, "", "metric")[0], 0.0001) for each in (old, new))
        assert before == after
    row = read({"gear": [LIGHT]})
    assert {problem.field for problem in row.problems} == {"gear.0.kind", "gear.0.length"}


def test_sheets_are_no_gear() -> None:
    """Neither in a search nor among parts that come in."""
    wren = demo_documents()["sedge-wren.json"]
    added = gear_from_csv("kind;name;mass [g]\nbalsa sheet;A;9\nservo;s;1,7\n", wren)
    assert (added.parts, added.sheets_left) == (1, 1)
    assert len(added.document["gear"]) == len(wren["gear"]) + 1
    found = answer(wren, read_box({"parts": [LIGHT, {**HARD, "mass": ""}]}))
    assert found.task.left_out == ()


def test_the_name_of_a_sheet_that_cannot_be_read_takes_no_part_away() -> None:
    document = {"airframe": [{**PLATE, "sheet": "x" * 81}]}
    found = assess(read(document).budget)
    assert found.uncounted == ()
    assert "airframe.0.sheet" in found.missing["airframe"]
