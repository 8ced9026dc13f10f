"""Where a set of gear fits, and the three pages of the box without JavaScript."""

import pytest
from playwright.sync_api import expect

from tests.browser.actions import start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser


def test_where_it_fits(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(390, 844), site_url + "fits.html")
    first = page.locator("#in-models tbody tr").first
    expect(first).to_contain_text("Shelduck")
    expect(page.locator("#in-classes tbody tr")).to_have_count(13)
    page.select_option("#which", "demo:gnat.json")
    expect(page.locator("#in-model tbody")).to_contain_text("Sedge Wren")
    expect(page.locator("#in-models tbody tr")).to_have_count(5)
    fitting = page.locator("#in-models td.fits").count()
    expect(page.locator("#in-models .lead")).to_have_text(f"It fits {fitting} of 5 models.")
    expect(page.locator("#said")).to_have_text(f"It fits {fitting} of 5 models.")  # by a screen reader
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_without_javascript_each_page_is_readable(open_page: OpenPage, site_url: str) -> None:
    page = open_page(java_script_enabled=False)
    for name, words in (
        ("box", "linear servo, 1.9 g"),
        ("finder", "The lightest set that works"),
        ("fits", "Shelduck"),
    ):
        page.goto(f"{site_url}{name}.html")
        expect(page.locator("main")).to_contain_text(words)
        expect(page.locator("noscript .banner")).to_be_visible()
