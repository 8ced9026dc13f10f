"""Other units, and what was typed written anew in them, with a way back."""

import pytest
from playwright.sync_api import expect

from tests.browser.actions import fill_in, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser


def test_what_was_typed_is_converted_and_comes_back(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"model.airframe": "30.0", "gear.0.mass": "1.4"})
    fill_in(page, {"units": "imperial"})
    expect(page.locator("[name='gear.0.mass']")).to_have_value("1.4 g")
    press(page, "#convert")
    expect(page.locator("[name='gear.0.mass']")).to_have_value("0.050 oz")
    expect(page.locator("#undo")).to_contain_text("entries are converted; rounding moved none by more than")
    expect(page.locator("#convert")).to_be_focused()
    page.click("#undo [data-do='undo']")
    expect(page.locator("[name='gear.0.mass']")).to_have_value("1.4 g")
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    press(page, "#convert")
    expect(page.locator("#kept")).to_contain_text("Nothing to convert")
