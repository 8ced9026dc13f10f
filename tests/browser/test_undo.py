"""Steps that can be taken back: in sight on a phone, many deep, and each in the budget it was made in."""

import json
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.actions import ROWS, budget_names, choose_budget, fill_in, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser
UNDO = "#undo [data-do='undo']"
PRESSED = """async ([button, counts]) => {
  const look = () => document.querySelectorAll(".gear .line:not(.blank):not(.cell)").length;
  for (const count of counts) {
    await new Promise((there, gone) => {
      const seen = new MutationObserver(() => { if (look() === count) there(); });
      seen.observe(document.body, { childList: true, subtree: true });
      setTimeout(() => gone(new Error(`${look()} rows instead of ${count}`)), 30_000);
      document.querySelector(button).click();
      if (look() === count) there();
    });
  }
}"""  # presses a button until the rows are as many as each time they should be; one step of Playwright instead of fifty


def rows(page: Page) -> list[str]:
    """Return the names of the rows of gear."""
    found: list[str] = page.locator(f"{ROWS} input[name$='.name']").evaluate_all("all => all.map((each) => each.value)")
    return found


def test_removed_rows_come_back_one_after_the_other(open_page: OpenPage, site_url: str) -> None:
    """On a phone, far down the page; Escape does not lose them, and what was typed meanwhile stays."""
    page = start(open_page(390, 844), site_url)
    before = rows(page)
    for number in range(3):
        press(page, "#gear-1-remove")
        expect(page.locator(ROWS)).to_have_count(len(before) - 1 - number)
        expect(page.locator("#undo")).to_be_in_viewport(ratio=1)
        page.keyboard.press("Escape")
    expect(page.locator("#bar .stale-word")).to_have_count(0)
    bar = page.locator("#bar").bounding_box()
    undo = page.locator("#undo").bounding_box()
    assert bar
    assert undo
    assert undo["y"] + undo["height"] <= bar["y"]
    expect(page.locator("#undo")).to_contain_text("and 2 steps before it")
    fill_in(page, {"gear.0.name": "typed since"})
    page.click(UNDO)
    expect(page.locator("[name='gear.0.name']")).to_have_value(before[0])
    for number in range(3):
        page.click(UNDO)
        expect(page.locator(ROWS)).to_have_count(len(before) - 2 + number)
    assert rows(page) == before
    expect(page.locator("#undo")).to_be_hidden()


def test_twenty_steps_and_more(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    gear = [{"kind": "other", "name": f"part {number}", "mass": "0.1 g"} for number in range(25)]
    page.set_input_files(
        "#file", {"name": "b.json", "mimeType": "application/json", "buffer": json.dumps({"gear": gear}).encode()}
    )
    expect(page.locator(ROWS)).to_have_count(25)
    page.evaluate(PRESSED, ["#gear-0-remove", list(reversed(range(25)))])
    page.evaluate(PRESSED, [UNDO, list(range(1, 26))])
    assert rows(page) == [f"part {number}" for number in range(25)]


def test_a_part_of_the_box_and_a_dropped_file_can_be_taken_back(open_page: OpenPage, site_url: str) -> None:
    """Only what the step changed: the name that was typed since stays."""
    page = start(open_page(), site_url)
    before = rows(page)
    press(page, "#gear-1-take")
    page.locator("#box-picks button").first.click()
    expect(page.locator("#undo")).to_contain_text("was taken from the box")
    assert rows(page) != before
    csv = b"kind;name;mass [g]\nother;from a file;1\n"
    page.set_input_files("#file", {"name": "gear.csv", "mimeType": "text/csv", "buffer": csv})
    page.click("#table-take")
    expect(page.locator(ROWS)).to_have_count(len(before) + 1)
    fill_in(page, {"name": "Typed since"})
    page.click(UNDO)
    expect(page.locator("[name='name']")).not_to_have_value("Typed since")
    page.click(UNDO)
    expect(page.locator(ROWS)).to_have_count(len(before))
    page.click(UNDO)
    expect(page.locator("#undo")).to_be_hidden()
    assert rows(page) == before


def test_a_step_waits_for_its_own_budget(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"name": "First"})
    count = page.locator(ROWS).count()
    press(page, "#gear-1-remove")
    expect(page.locator("#undo")).to_be_visible()
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    expect(page.locator("#undo")).to_be_hidden()
    choose_budget(page, "First")
    expect(page.locator("[name='name']")).to_have_value("First")
    page.click(UNDO)
    expect(page.locator(ROWS)).to_have_count(count)


def test_two_deleted_budgets_come_back_and_the_bar_can_be_put_away(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    for name in ("One", "Two", "Three"):
        press(page, "#new")
        expect(page.locator("[name='name']")).to_have_value("New budget")
        fill_in(page, {"name": name})
    for name in ("Three", "Two"):
        expect(page.locator("[name='name']")).to_have_value(name)
        press(page, "#delete")
        expect(page.locator("#undo")).to_contain_text(f"“{name}” is deleted.")
    page.click("#undo >> text=Dismiss")
    expect(page.locator("#undo")).to_be_hidden()
    press(page, "#delete")
    for name in ("One", "Two", "Three"):
        page.click(UNDO)
        expect(page.locator("[name='name']")).to_have_value(name)
    assert budget_names(page) == ["choose…", "One", "Two", "Three"]


def stored(page: Page) -> dict[str, Any]:
    """Return the names of the budgets on the device by id."""
    entries: dict[str, str] = page.evaluate("({ ...localStorage })")
    prefix = "thistledown.budget."
    return {
        key.removeprefix(prefix): json.loads(text)["name"] for key, text in entries.items() if key.startswith(prefix)
    }


def test_bringing_back_never_writes_over_another_tab(open_page: OpenPage, site_url: str) -> None:
    """Deleted here, gone on with there: both stay."""
    page = start(open_page(), site_url)
    fill_in(page, {"name": "Deleted here"})
    expect(page.locator("#verdict h2")).to_have_text("Deleted here")
    other = start(page.context.new_page(), site_url)
    expect(other.locator("[name='name']")).to_have_value("Deleted here")
    press(page, "#delete")
    expect(page.locator("#undo")).to_be_visible()
    expect(other.locator("#kept")).to_contain_text("Deleted in another tab")
    fill_in(other, {"name": "Gone on with there"})
    page.click(UNDO)
    expect(page.locator("[name='name']")).to_have_value("Deleted here")
    assert sorted(stored(page).values()) == ["Deleted here", "Gone on with there"]
