"""Holding a budget to compare with, planned beside weighed, and the page of two, in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.actions import budget_names, fill_in, headline, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser
LINES = {"gear.2.name": "thread lines", "gear.2.mass": "0.5 g"}
WORTH = re.compile(r"Thread lines instead of 1.mm carbon push rod with ends: 0.84.g lighter")


@pytest.mark.parametrize(("width", "height"), [(390, 844), (1280, 900)])
def test_hold_change_and_let_go(width: int, height: int, open_page: OpenPage, site_url: str) -> None:
    """By hand: 1.2 → 0.5 g guessed, 1.44 → 0.60 g expected: 0.84 g lighter."""
    page = start(open_page(width, height), site_url)
    if width < 600:
        page.click("#bar")
    page.click("#hold")
    expect(page.locator("#held")).to_contain_text("Nothing differs from it yet.")
    expect(page.locator("#held-title")).to_be_focused()
    if width < 600:
        page.click("#bar")
    fill_in(page, LINES)
    expect(page.locator("#held li").first).to_have_text(WORTH)
    gear = page.locator("#held tbody tr", has_text="All the gear")
    expect(gear.locator("td").last).to_have_text(re.compile(r"−0.84.g\s+better"))
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    page.reload()
    expect(page.locator("#held li").first).to_have_text(WORTH, timeout=60_000)  # held as long as the tab
    if width < 600:
        page.click("#bar")
    page.click("#let-go")
    expect(page.locator("#held")).to_have_count(0)
    expect(page.locator("#hold")).to_be_focused()
    assert page.evaluate("sessionStorage.length") == 0


def test_going_back_is_an_edit_that_is_kept_and_can_be_undone(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    page.click("#hold")
    expect(page.locator("#held")).to_be_visible()
    fill_in(page, LINES)
    expect(page.locator("#held li").first).to_have_text(WORTH)
    page.click("#held-back")
    expect(page.locator("[name='gear.2.mass']")).to_have_value("1.2 g")
    expect(page.locator("#held")).to_contain_text("Nothing differs from it yet.")
    expect(page.locator("#mine option")).to_have_count(2)  # the same budget, not a second one
    page.click("[data-do='undo']")
    expect(page.locator("[name='gear.2.mass']")).to_have_value("0.5 g")
    page.reload()
    expect(page.locator("[name='gear.2.mass']")).to_have_value("0.5 g", timeout=60_000)


def test_going_back_never_writes_over_another_budget(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"name": "First"})
    page.click("#hold")
    expect(page.locator("#held")).to_be_visible()
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    page.click("#held-back")
    expect(page.locator("[name='name']")).to_have_value("First copy")
    assert budget_names(page) == ["choose…", "First", "New budget", "First copy"]


def test_planned_and_weighed(open_page: OpenPage, site_url: str) -> None:
    """The receiver planned at 1.4 g comes out at 1.7 g, the airframe at 33.5 instead of 33.8 g: 35.2 g both."""
    page = start(open_page(), site_url)
    expect(page.locator("#growth .lead")).to_contain_text("Still a guess: 1 mm carbon push rod with ends, 1.44 g")
    fill_in(page, {"gear.0.weighed": "1.7 g"})
    expect(page.locator("#growth .lead")).to_contain_text("The bare-board receiver came out 0.30 g over the plan.")
    fill_in(page, {"model.airframe_weighed": "33.5"})
    expect(page.locator("#growth .lead")).to_contain_text("The weighed parts came out as planned together.")
    expect(page.locator("#growth tfoot td")).to_have_text(["35.2 g", "35.2 g", "0.00 g"])
    page.reload()
    expect(page.locator("[name='gear.0.weighed']")).to_have_value("1.7 g", timeout=60_000)


def test_the_page_of_two(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"name": "Mine", **LINES})
    expect(page.locator("#verdict h2")).to_have_text("Mine")
    press(page, "#copy")
    expect(page.locator("[name='name']")).to_have_value("Mine copy")
    start(page, site_url + "compare.html")
    expect(page.locator(".side-1 h2")).to_have_text("Before: Mine")
    expect(page.locator(".side-2 h2")).to_have_text("Now: Mine copy")
    page.select_option("#before", "demo:sedge-wren.json")
    expect(page.locator("#changes li").first).to_have_text(WORTH)
    page.click("#turn")
    expect(page.locator(".side-2 h2")).to_have_text("Now: Sedge Wren")
    expect(page.locator("#side-by-side tr", has_text="All the gear")).to_contain_text("worse")
    verdicts = " ".join(page.locator(f".side-{side} .headline > div").inner_text() for side in (1, 2))
    expect(page.locator("#said")).to_have_text(verdicts)  # by a screen reader


def test_the_page_of_two_reads_without_javascript_and_prints_on_one_page(
    open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    page = open_page(java_script_enabled=False)
    page.goto(site_url + "compare.html")
    expect(page.locator(".both .headline p").first).to_have_text(
        "Over by 1.05 g, in every case you gave. The share rule decides. "
        "It runs for the session and is strong enough in the glide. Not asked yet: balance."
    )
    expect(page.locator("#side-by-side tbody tr").first).to_contain_text("better")
    printed = page.pdf(format="A4", margin={"top": "10mm", "bottom": "10mm", "left": "10mm", "right": "10mm"})
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) == 1


def test_a_held_thing_that_is_no_budget_is_passed_over(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.goto(site_url + "cautions.html")
    for text in ("{", "[]", '{"place": 1, "budget": {}}', '{"place": "a", "budget": []}'):
        page.evaluate("text => sessionStorage.setItem('thistledown.held', text)", text)
        start(page, site_url)
        expect(page.locator("#held")).to_have_count(0)
        expect(headline(page)).to_contain_text("Fits, with 0.60 g in hand")
