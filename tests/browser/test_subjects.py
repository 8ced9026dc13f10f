"""Subjects as they were left, the answer of last time, and what would make a budget fit."""

import json
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.actions import READY, Waiting, fill_in, headline, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser
LAST = "thistledown.last"
OPEN = "thistledown.open"


def open_subjects(page: Page) -> list[str]:
    """Return the subjects that are open."""
    return list(page.evaluate("[...document.querySelectorAll('.subject[open]')].map((each) => each.id)"))


def test_a_tile_opens_its_subject_and_what_is_open_is_kept(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    assert open_subjects(page) == ["subject-weights"]
    page.click(".tile >> text=Balance")
    expect(page.locator("#subject-balance .answered")).to_be_in_viewport()
    page.click("#subject-weights > summary")
    assert open_subjects(page) == ["subject-balance"]
    page.reload()
    page.evaluate(READY)
    assert open_subjects(page) == ["subject-balance"]


def test_what_is_shut_as_the_page_is_left_is_kept(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    # All in one go: the browser has had no time to tell of the toggle.
    kept = page.evaluate(
        """name => {
          const before = localStorage.getItem(name);
          dispatchEvent(new PageTransitionEvent("pagehide"));
          const untouched = localStorage.getItem(name);
          document.querySelector("#subject-balance").open = true;
          document.querySelector("#subject-weights").open = false;
          dispatchEvent(new PageTransitionEvent("pagehide"));
          return [before, untouched, localStorage.getItem(name)];
        }""",
        OPEN,
    )
    assert kept == [None, None, '["subject-balance"]']
    page.reload()
    page.evaluate(READY)
    assert open_subjects(page) == ["subject-balance"]


def test_only_what_belongs_to_a_choice_is_asked(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    page.click("#subject-surface > summary")
    expect(page.locator("[name='surface.stroke']")).to_be_visible()
    expect(page.locator("[name='surface.torque']")).to_be_hidden()
    page.fill("[name='surface.stroke']", "")
    page.fill("[name='surface.thrust']", "")
    page.select_option("[name='surface.actuator']", "rotary servo")
    expect(page.locator("[name='surface.torque']")).to_be_visible()
    expect(page.locator("[name='surface.stroke']")).to_be_hidden()


def test_the_own_answer_of_last_time_stands_until_the_sums_have_started(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"name": "Mine", "gear.0.mass": "2.4 g"})
    expect(page.locator("#verdict h2")).to_have_text("Mine")
    expect(headline(page)).to_contain_text("Over by 0.50 g")
    said, tile = headline(page).inner_text(), page.locator(".tile").first.inner_text()
    waiting = Waiting(page, "**/worker.mjs")  # the device may keep all else
    page.reload(wait_until="domcontentloaded")
    expect(page.locator("html")).to_have_attribute("data-last", "")
    expect(page.locator("#verdict h2")).to_have_text("Mine")
    assert " ".join(headline(page).inner_text().split()) == " ".join(said.split())
    assert " ".join(page.locator(".tile").first.inner_text().split()) == " ".join(tile.split())
    expect(page.locator("#answer .stale-word")).to_contain_text("last time")
    expect(page.locator("#power svg.curve")).to_be_hidden()  # an example's
    waiting.let_go()
    page.evaluate(READY)
    expect(page.locator("html")).not_to_have_attribute("data-last", "")
    expect(page.locator("#answer .stale-word")).to_have_count(0)
    expect(headline(page)).to_contain_text("Over by")


def test_a_last_answer_is_text_whatever_it_holds(open_page: OpenPage, site_url: str) -> None:
    """Somebody's hand in the store: markup is shown as it stands, and what has another shape is left alone."""
    page = start(open_page(), site_url)
    fill_in(page, {"name": "Mine"})
    expect(page.locator("#verdict h2")).to_have_text("Mine")
    page.wait_for_timeout(600)  # it is kept a moment after the answer
    last = json.loads(page.evaluate(f"localStorage['{LAST}']"))
    markup = "<img src=x onerror='document.title=1'>"
    waiting = Waiting(page, "**/worker.mjs")  # the device may keep all else
    marked = {**last, "first": markup, "is": "fits x"}
    kinds: list[Any] = [marked, {**last, "tiles": 7}, {**last, "id": "another"}, [], 3]
    for broken in kinds:
        page.evaluate("([key, text]) => { localStorage[key] = text; }", [LAST, json.dumps(broken)])
        page.reload(wait_until="domcontentloaded")
        expect(page.locator("html")).to_have_attribute("data-runs", "")
        assert page.locator("#answer img").count() == 0
        if broken is marked:
            expect(headline(page)).to_contain_text(markup)
        else:
            expect(page.locator("html")).not_to_have_attribute("data-last", "")
    waiting.let_go()
    page.evaluate(READY)
    expect(headline(page)).to_contain_text("Fits, with 0.60 g in hand")


@pytest.mark.parametrize("width", [390, 1280])
def test_a_change_that_makes_it_fit_is_one_press_and_can_be_undone(
    width: int, open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    """A servo of 3.2 g, weighed: by hand 7.86 − 2.00 + 3.20 = 9.06 g, 0.61 g over the 8.45 g of the share rule.

    With the starter box's 1.9 g servo there is as much in hand as the box tells of it.
    """
    page = start(open_page(width, 844), f"{site_url}box.html")
    page.click("[data-do='starter']")
    expect(page.locator("#parts tbody tr").first).to_be_visible()
    start(page, site_url)
    fill_in(page, {"gear.1.mass": "3.2 g", "gear.1.known_by": "weighed"})
    expect(headline(page)).to_contain_text("Over by 0.61 g")
    first = page.locator("#change-0")
    expect(first).to_contain_text("in hand")
    sentence = first.inner_text()
    page.click("#change-take-0")
    expect(headline(page)).to_contain_text("Fits")
    assert headline(page).inner_text().split("with ")[1].split(" in hand")[0] in sentence
    expect(page.locator("#changes")).to_be_hidden()
    press(page, "#undo [data-do='undo']")
    expect(headline(page)).to_contain_text("Over by 0.61 g")
    assert page.input_value("[name='gear.1.mass']") == "3.2 g"


def test_typed_values_come_back_by_ctrl_z_one_after_the_other(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"gear.0.mass": "2 g"})
    page.locator("[name='gear.0.mass']").blur()
    fill_in(page, {"gear.1.mass": "3 g"})
    page.locator("[name='gear.1.mass']").blur()
    expect(page.locator("#undo")).to_be_visible()
    page.keyboard.press("Control+z")
    expect(page.locator("[name='gear.1.mass']")).to_have_value("1.9 g")
    expect(page.locator("[name='gear.0.mass']")).to_have_value("2 g")
    page.keyboard.press("Control+z")
    expect(page.locator("[name='gear.0.mass']")).to_have_value("1.4 g")
    expect(headline(page)).to_contain_text("Fits, with 0.60 g in hand")


def test_a_shut_subject_is_marked_until_its_answer_comes(open_page: OpenPage, site_url: str) -> None:
    """What stands in it is of the budget before: here its answer never comes, then it does."""
    page = open_page()
    page.add_init_script("""{
      const { postMessage } = Worker.prototype;
      Worker.prototype.postMessage = function (text, ...more) {
        if (window.held && String(text).includes('"method":"rest"')) window.kept = () => postMessage.call(this, text);
        else postMessage.call(this, text, ...more);
      };
    }""")
    start(page, site_url)
    page.evaluate("window.held = true")
    fill_in(page, {"model.airframe": "36 g"})
    expect(headline(page)).to_contain_text("Over by 0.86 g")
    page.click("#subject-balance > summary")
    expect(page.locator("#of-balance")).to_have_attribute("aria-busy", "true")
    expect(page.locator("#of-weights")).to_have_attribute("aria-busy", "false")
    page.evaluate("window.kept()")
    expect(page.locator("#of-balance")).to_have_attribute("aria-busy", "false")


def test_a_name_that_is_typed_stands_in_its_shut_subject(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"name": "Reed Pipit"})
    expect(page.locator("#brief-budget")).to_have_text("Reed Pipit")
    fill_in(page, {"name": ""})
    expect(page.locator("#brief-budget")).to_have_text("without a name")
