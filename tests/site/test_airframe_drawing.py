"""The line over the building days: geometry against hand figures, what is told beside it."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.assess import assess
from calc.document.budget import read
from calc.subjects.airframe.answer import AirframeBlock
from calc.unit_system import UnitSystem
from site_src.app.render import render
from site_src.app.sheetview import sheet_view
from site_src.app.view import view
from site_src.subjects.airframe.drawing import BuildGraph, build_graph

PLAN: list[dict[str, Any]] = [{"name": name, "mass": "10 g", "known_by": "cut"} for name in ("wing", "tail", "boom")]
DAYS = ("2026-03-01", "2026-03-11", "2026-03-21")


def built(*masses: str, days: tuple[str, ...] = DAYS) -> list[dict[str, Any]]:
    """Return the parts, the first ones weighed on their days."""
    return [{**part, "weighed": mass, "weighed_on": day} for part, mass, day in zip(PLAN, masses, days, strict=False)
        ] + PLAN[len(masses):]  # fmt: skip


def graph(parts: list[dict[str, Any]], system: str = "metric") -> BuildGraph | None:
    """Return the picture of an airframe."""
    budget = read({"units": system, "airframe": parts}).budget
    block = assess(budget).of(AirframeBlock)
    assert block is not None
    return build_graph(block, UnitSystem(system))


def test_the_plan_comes_first_and_days_stand_by_their_dates() -> None:
    """30 g drawn and cut are expected to grow by 8 % to 32.4 g; the second day is halfway between the others."""
    found = graph(built("10 g", "10 g", "10 g"))
    assert found is not None
    assert [step.x for step in found.steps] == [0.0, 12.0, 56.0, 100.0]
    assert [step.name for step in found.steps] == ["plan", *DAYS]
    assert found.steps[0].mass == "32.4 g"
    assert found.steps[0].beside == "+2.4 g"
    assert found.steps[-1].mass == "30.0 g"
    assert found.planned_text == "planned 30.0 g"
    assert [tick.text for tick in found.days] == ["plan", "03-11", "2026-03-21"]  # the first would run into the plan


def test_what_came_out_heavier_by_hand() -> None:
    """One of three at 12 g where 10 g were planned, by the formula of `forecast`: 12 + 20 (1 + γ).

    γ = u² (g/u_g² + x/u_o²) with u_g = 0.08/√3, and u_o of 0.05 and half of 0.1 g in 10 g.
    """
    found = graph(built("12 g"))
    assert found is not None
    before, sure = 3.0 / 0.08**2, 3.0 / (0.05**2 + 0.005**2)
    growth = (0.08 * before + 0.2 * sure) / (before + sure)
    assert found.steps[-1].mass == f"{12 + 20 * (1 + growth):.1f} g"
    assert found.steps[-1].x == 100.0  # a single day
    assert found.steps[-1].beside.startswith("+")
    assert found.above


def test_there_is_no_line_without_a_day() -> None:
    assert graph(PLAN) is None
    assert graph(built("10 g", days=("14 March",))) is None
    undated = graph(built("10 g", "10 g", days=("14 March", "2026-03-01")))
    assert undated is not None
    assert undated.undated == 1
    html = render("subjects/airframe/answer.html", {"answer": view({"airframe": built(
        "10 g", "10 g", days=("14 March", "2026-03-01"))}).answer})  # fmt: skip
    assert "1 weighed" in html
    assert "no day that can be read" in html


def test_a_part_without_a_plan_is_no_step_in_the_line() -> None:
    """It counts as weighed from the beginning: 32.4 g of plan and 5 g."""
    extra = {"name": "skid", "shape": "rod", "weighed": "5 g", "weighed_on": DAYS[2]}
    found = graph([*built("10 g", "10 g"), extra])
    assert found is not None
    assert found.steps[0].mass == "37.4 g"
    assert found.steps[2].mass == found.steps[3].mass


@given(st.lists(st.sampled_from(["6 g", "9.5 g", "10 g", "13 g", "19 g"]), min_size=1, max_size=3),
       st.sampled_from(["metric", "imperial"]))  # fmt: skip
def test_the_picture_stays_in_its_frame(masses: list[str], system: str) -> None:
    found = graph(built(*masses), system)
    assert found is not None
    points = [float(number) for pair in f"{found.line} {found.band}".split() for number in pair.split(",")]
    assert all(0.0 <= point <= 100.0 for point in points)
    assert 0.0 < found.planned < 100.0
    assert 2 <= len(found.masses) <= 6
    assert all(0.0 <= tick.at <= 100.0 for tick in (*found.masses, *found.days))
    widths = [float(step.spread.split()[0]) for step in found.steps]
    assert widths == sorted(widths, reverse=True)  # weighing never widens


@pytest.mark.parametrize("where", ["page", "sheet"])
def test_it_is_readable_as_text_too(where: str) -> None:
    document = {"name": "Wren", "airframe": [{**part, "sheet": "A"} for part in built("12 g", "11 g")]}
    if where == "page":
        html = render("subjects/airframe/answer.html", {"answer": view(document).answer})
        assert "<summary>Day by day</summary>" in html
        assert 'role="img" aria-label="Forecast of the finished airframe' in html
    else:
        html = render("sheet.html", {"sheet": sheet_view(document)})
        assert "Forecast by building days" in html
    assert "over what you planned" in html
    assert all(day in html for day in DAYS[:2])
    assert "from “A”" not in html  # a given mass is cut from nothing
