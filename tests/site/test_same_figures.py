"""The same document gives the same figures, to the digit, on page, print sheet, command and in a comparison."""

import html
import re
from typing import Any

import pytest
from hypothesis import given, settings

from calc import digits, text
from calc.assess import assess
from calc.compare import sides as compare
from calc.compare import words as compare_words
from calc.document.budget import read
from calc.unit_system import UnitSystem
from site_src.app.render import render
from site_src.app.sheetview import sheet_view
from site_src.app.view import view
from tests.calc.test_properties import DOCUMENT
from tests.support import demo_documents, shown_html


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
