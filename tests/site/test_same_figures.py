"""The same document gives the same figures, to the digit, on page, print sheet, command, finder and in a comparison."""

import html
import json
import re
from typing import Any

import pytest
from hypothesis import given, settings

from calc import digits, text
from calc.assess import assess
from calc.compare import sides as compare
from calc.compare import words as compare_words
from calc.document.box import read_box
from calc.document.budget import read
from calc.search import finder
from calc.search import words as finder_words
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.field.answer import FieldBlock
from calc.subjects.flights.answer import FlightsBlock
from calc.subjects.limits.allowance import Limit
from calc.subjects.reach.answer import ReachBlock
from calc.subjects.room import words as room_words
from calc.subjects.room.answer import RoomBlock
from calc.unit_system import UnitSystem
from site_src.app.render import render
from site_src.app.sheetview import sheet_view
from site_src.app.view import view
from tests.calc.test_properties import DOCUMENT
from tests.calc.test_told import VARIANTS
from tests.support import SITE_SRC, demo_documents, shown_html


def plain(text: str) -> str:
    """Return a page's text without its tags, each run of spaces as one."""
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", text))).replace("\u00a0", " ")


def everywhere(document: dict[str, Any]) -> dict[str, str]:
    budget = read(document).budget
    twice = compare.compare(budget, budget)
    return {
        "page": plain(shown_html(view(document).answer)),
        "print sheet": plain(render("sheet.html", {"sheet": sheet_view(document)})),
        "command": plain(text.plain_text(budget, assess(budget))),
        "comparison": plain(compare_words.plain_text(twice, UnitSystem.of(budget))),
    }


def told(document: dict[str, Any]) -> dict[str, str]:
    """Return figures that each of them tells, as shown."""
    found, system = assess(read(document).budget), UnitSystem(document.get("units", "metric"))
    figures = {"gear": system.mass(found.gear.expected_kg, found.gear.spread_kg)}
    if found.model.flying_kg is not None:
        figures["flying"] = system.mass(found.model.flying_kg, found.model.spread_kg)
    for limit in found.limits_with_lead:
        figures[limit.id] = system.mass(limit.in_hand_kg, limit.spread_kg)
    if found.power is not None and not found.power.at_most and found.power.low.time_s > 0.0:
        figures["run at worst"] = digits.duration(found.power.low.time_s)
        assert found.power.lowest_v is not None
        figures["lowest"] = digits.volts(found.power.lowest_v)
    return figures


def told_later(document: dict[str, Any]) -> dict[str, tuple[str, tuple[str, ...]]]:
    """Return figures of the later subjects, as shown, each with the places that tell of it."""
    found, system = assess(read(document).budget), UnitSystem(document.get("units", "metric"))
    figures: dict[str, tuple[str, tuple[str, ...]]] = {}
    page, sheet, air = ("page", "command"), ("page", "command", "print sheet"), found.air
    if (airframe := found.of(AirframeBlock)) is not None:
        total = airframe.forecast
        figures["airframe"] = (system.mass(total.expected_kg, total.spread_kg), sheet)
    if (flown := found.of(FlightsBlock)) is not None and flown.sink_m_s is not None:
        figures["flown"] = (f"sinks {system.speed(flown.sink_m_s)}", page)
    if air is not None and air.time_s is not None:
        figures["time"] = (f"{digits.figures(air.time_s)} s", ("page", "command", "print sheet", "comparison"))
    if (field := found.of(FieldBlock)) is not None and field.carried is not None and field.circle is not None:
        figures["wind"] = (f"The wind is about {system.speed(field.carried.aloft_m_s)}", page)
        figures["drift"] = (f"about {system.rounded(field.carried.drift_m, 'height')} downwind", page)
        figures["circle"] = (f"has a radius of {system.rounded(field.circle.radius_m, 'height')}", page)
    if (reach := found.of(ReachBlock)) is not None and reach.link is not None and reach.check is not None:
        figures["reach"] = (f"it reaches about {system.rounded(reach.link.air_m, 'height')}", page)
        figures["ground"] = (f"is reached to about {system.rounded(reach.link.ground_m, 'height')}", page)
        figures["check"] = (f"{system.rounded(reach.check.ground_m, 'height')}. Count on the shorter one", page)
    if (room := found.of(RoomBlock)) is not None and room.parts:
        at = room_words.lengths([room.parts[0].spot.at[0]], system)
        figures["room"] = (f"{room.parts[0].item.name} ({at} behind its front)", page)
    return figures


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("name", VARIANTS)
def test_the_later_subjects_have_the_same_figures_wherever_they_are_told(name: str, units: str) -> None:
    document = {**VARIANTS[name], "units": units}
    said, figures = everywhere(document), told_later(document)
    assert len(figures) >= 9
    assert ("airframe" in figures) is (name == "parts")
    for figure, places in figures.values():
        assert [place for place in places if figure not in said[place]] == []
    same_everywhere(document)


@pytest.mark.parametrize("log", [[], [{"put_back": "25 mAh", "flights": 2, "on_time": "6 min"}]])
def test_a_set_of_the_finder_has_the_figures_of_the_budget_that_it_is_taken_as(log: list[dict[str, Any]]) -> None:
    box = read_box(json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8")))
    answer = finder.answer({**demo_documents()["sedge-wren.json"], "charges": log}, box)
    said = plain(finder_words.plain_text(answer, answer.system))
    for found in answer.sets:
        figures = told(dict(found.document))
        for name in ("gear", "run at worst", min(found.assessment.limits_with_lead, key=in_hand).id):
            assert figures[name] in said
        same_everywhere(dict(found.document))


def in_hand(limit: Limit) -> float:
    return limit.in_hand_kg


def same_everywhere(document: dict[str, Any]) -> None:
    for figure in told(document).values():
        for place, told_there in everywhere(document).items():
            assert figure in told_there, (place, figure)


@pytest.mark.parametrize("name", demo_documents())
def test_an_example_has_the_same_figures_everywhere(name: str) -> None:
    same_everywhere(demo_documents()[name])


@given(DOCUMENT)
@settings(max_examples=30)
def test_any_budget_has_the_same_figures_everywhere(document: dict[str, Any]) -> None:
    same_everywhere({**document, "gear": [{**row, "off": False} for row in document["gear"]]})
