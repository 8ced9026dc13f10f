"""The gear as a table: keys, the line that waits, moving, the sheet of a phone, and the scale."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.actions import ROWS, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser


def focused(page: Page) -> str:
    """Return the name of the entry in hand."""
    return str(page.evaluate("document.activeElement.name"))


def names(page: Page) -> list[str]:
    """Return the names of the parts, in their order."""
    fields = page.locator(f"{ROWS} td.name input")
    return [fields.nth(index).input_value() for index in range(fields.count())]


def test_enter_goes_down_and_a_line_always_waits(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    page.click("[name='gear.3.mass']")
    page.keyboard.press("Enter")
    assert focused(page) == "gear.4.mass"
    page.keyboard.press("Enter")
    assert focused(page) == "gear.5.mass"  # the line that waits
    page.keyboard.type("0.3 g")
    expect(page.locator(ROWS)).to_have_count(6)
    expect(page.locator(".gear .blank")).to_have_attribute("data-row", "6")
    expect(page.locator("#gear-5-counts")).to_contain_text("0.36 g")  # nobody weighed it: a guess, a fifth on top
    assert page.input_value("[name='gear.5.known_by']") == "guess"
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    assert focused(page) == "cell.mass"
    page.keyboard.press("Shift+Enter")
    assert focused(page) == "gear.6.mass"


def test_a_line_is_moved_by_keys_and_by_dragging_its_number(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    first, second, third, *rest = names(page)
    page.focus("[name='gear.1.mass']")
    page.keyboard.press("Alt+ArrowUp")
    expect(page.locator("[name='gear.0.name']")).to_have_value(second)
    assert names(page) == [second, first, third, *rest]
    expect(page.locator("#first-step")).to_be_hidden()  # it is the visitor's own now
    page.locator("#gear-0 .no").drag_to(page.locator("#gear-2 .no"))
    expect(page.locator("[name='gear.2.name']")).to_have_value(second)
    assert names(page) == [first, third, second, *rest]
    assert page.input_value("[name='gear.2.draw']") == "5 mA"  # the whole line went with it


def test_on_a_phone_a_line_is_two_rows_of_text_and_opens_as_a_sheet(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(390, 844), site_url)
    told = page.locator("#gear-0-told")
    box = told.bounding_box()
    assert box is not None
    assert 44 <= box["height"] <= 64
    told.click()
    assert focused(page) == "gear.0.mass"
    assert page.get_attribute("[name='gear.0.mass']", "inputmode") == "decimal"
    page.keyboard.type("2.5 g")  # what stood there was marked
    page.keyboard.press("Enter")
    assert focused(page) == "gear.1.mass"
    page.click("#gear-1 [data-do='line-step'] >> text=Next")
    assert focused(page) == "gear.2.mass"
    page.click("#gear-2 [data-do='line-step'] >> text=Previous")
    assert focused(page) == "gear.1.mass"
    page.keyboard.press("Escape")
    expect(page.locator("#gear-1-told")).to_be_focused()
    expect(told).to_contain_text("2.50 g")
    expect(page.locator(".gear [data-editing]")).to_have_count(0)
    page.click(".gear .blank .line-told")
    assert focused(page) == "gear.5.name"


@pytest.mark.parametrize("width", [390, 1280])
def test_at_the_scale_one_part_comes_after_another(width: int, open_page: OpenPage, site_url: str) -> None:
    """By hand: 1.5 + 2.1 + 0.4 + 0.6 + 2.0 g are 6.6 g; the push rod is left out, and not asked for."""
    page = start(open_page(width, 844), site_url)
    press(page, "[name='gear.2.off']")
    expect(page.locator("#gear-2")).to_have_class("line out")
    page.click("#weigh")
    expect(page.locator("#weigh-part")).to_have_text("bare-board receiver (1 of 5)")
    expect(page.locator("#weigh-back")).to_be_disabled()
    page.keyboard.type("1.5 q")
    expect(page.locator("#weigh-problem")).to_contain_text("“q” is not a unit of a mass")
    page.fill("#weigh-mass", "1.5")
    expect(page.locator("#weigh-problem")).to_be_empty()
    for mass in ("2.1", "0.4", "0.6", "2.0"):
        page.keyboard.press("Enter")
        page.keyboard.type(mass)
    expect(page.locator("#weigh-part")).to_have_text("one cell, 50 mAh (5 of 5)")
    expect(page.locator("#weigh-sum")).to_contain_text("6.60 g")
    page.keyboard.press("Enter")
    expect(page.locator("#weigh-dialog")).to_be_hidden()
    expect(page.locator("#weigh")).to_be_focused()
    expect(page.locator("#gear-foot [data-why='gear']")).to_have_text("6.60 g")
    assert page.input_value("[name='gear.0.mass']") == "1.4 g"  # what was planned stands beside it
    assert page.input_value("[name='gear.2.weighed']") == ""
