"""The why of a number: by the button of its part, or by the number itself; it follows each edit."""

import pytest
from playwright.sync_api import expect

from tests.browser.actions import fill_in, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser


def test_a_number_opens_its_formula_with_the_visitors_own_numbers(open_page: OpenPage, site_url: str) -> None:
    page = open_page(width=390)
    start(page, site_url)
    line = page.locator("#why-limits [data-line='share']")
    expect(line).to_have_count(0)
    press(page, "#limits [data-why='share']")
    expect(line).to_have_class("asked")
    expect(line).to_contain_text("p A₀ / (1 − p), A₀ without growth = 0.2 × 33.8 g / (1 − 0.2) = 8.45 g")
    expect(line).to_be_in_viewport()
    fill_in(page, {"model.airframe": "40 g"})
    expect(line).to_contain_text("0.2 × 40 g / (1 − 0.2) = 10 g")
    button = page.locator("#why-limits-open")
    expect(button).to_have_attribute("aria-expanded", "true")
    button.press("Enter")
    expect(line).to_have_count(0)
    expect(button).to_have_attribute("aria-expanded", "false")
    expect(button).to_be_focused()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
