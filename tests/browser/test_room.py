"""The long search for room: a bay that is too small, the least widening taken and taken back, and a search stopped."""

import json
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.actions import press, start
from tests.browser.conftest import OpenPage
from tests.calc.subjects.room.test_bays import TEN

pytestmark = pytest.mark.browser

SIZE = {"length": "20 mm", "width": "12 mm", "height": "6 mm"}
TIGHT: dict[str, Any] = {
    "name": "Hen Harrier",
    "model": {"airframe": "60 g"},
    "gear": [{"kind": "servo", "name": name, "mass": "2 g", **SIZE} for name in ("rudder", "elevator")],
    "bays": [{"name": "pylon", "length": "35.5 mm", "width": "13 mm", "height": "7 mm"}],
}
# Fifteen parts and a millimetre too little: neither found nor proved before somebody has pressed Stop.
LONG: dict[str, Any] = {
    **TIGHT,
    "gear": [{"kind": "other", "name": f"part {number}", "mass": "1 g", "length": f"{a} mm", "width": f"{b} mm",
              "height": f"{c} mm"} for number, (a, b, c) in enumerate([*TEN, *TEN[:5]])],
    "bays": [{"name": "nose", "length": "35 mm", "width": "17 mm", "height": "9 mm"}],
}  # fmt: skip


def with_budget(document: dict[str, Any]) -> str:
    """Return a script that has the page open with a budget of the visitor's."""
    text = json.dumps(json.dumps(document))
    current = "localStorage.setItem('thistledown.current', '\"own\"');"
    return f"localStorage.setItem('thistledown.budget.own', {text});{current}"


def test_what_would_make_it_fit_is_taken_and_taken_back(open_page: OpenPage, site_url: str) -> None:
    page = open_page(390, 844)
    page.add_init_script(with_budget(TIGHT))
    start(page, site_url)
    expect(page.locator("#room .lead")).to_contain_text("cannot go in")
    press(page, "#room-search")
    least = page.locator("#room-found li", has_text="longer pylon takes it")
    expect(least).to_contain_text("4.5 mm longer pylon takes it: 40.0 × 13.0 × 7.0 mm")
    least.get_by_role("button").click()
    expect(page.locator("#room .lead")).to_contain_text("The gear goes in")
    expect(page.locator("[name='bays.0.length']")).to_have_value("40.0 mm")
    expect(page.locator("#room-found li")).to_have_count(0)  # it was of another budget
    view = page.locator("#room .bay-view").first
    expect(view.locator(".under text")).to_have_text("40.0 mm")
    letters = view.locator("text").evaluate_all(
        "all => all.map((text) => [parseFloat(getComputedStyle(text).fontSize), text.getBoundingClientRect().right])"
    )
    assert min(size for size, _ in letters) >= 13.0
    assert max(right for _, right in letters) <= 390
    press(page, "#undo [data-do='undo']")
    expect(page.locator("[name='bays.0.length']")).to_have_value("35.5 mm")
    expect(page.locator("#room .lead")).to_contain_text("cannot go in")


def test_a_long_search_is_stopped(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.add_init_script(with_budget(LONG))
    start(page, site_url)
    press(page, "#room-search")
    expect(page.locator("#room-told")).to_have_text("Searching …")
    page.locator("#room-stop").click()
    expect(page.locator("#room-told")).to_have_text("The search was stopped.")
    expect(page.locator("#room-stop")).to_be_hidden()
    expect(page.locator("#room-found li")).to_have_count(0)
