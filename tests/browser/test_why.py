"""The why of a number: by the button of its part, or by the number itself; it follows each edit."""

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.actions import fill_in, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser


def drawn(line: Locator) -> str:
    """Return the text of a line, a fraction's line as a slash."""
    text: str = line.locator("dd").evaluate(
        """(part) => {
            const copy = part.cloneNode(true);
            for (const fraction of copy.querySelectorAll("mfrac")) fraction.firstElementChild.after("/");
            for (const part of copy.querySelectorAll(".unseen")) part.remove();
            return copy.textContent;
        }"""
    )
    return text.replace("\u00a0", " ").strip()


def test_a_number_opens_its_formula_with_the_visitors_own_numbers(open_page: OpenPage, site_url: str) -> None:
    page = open_page(width=390)
    start(page, site_url)
    line = page.locator("#why-limits [data-line='share']")
    expect(line).to_have_count(0)
    press(page, "#limits [data-why='share']")
    expect(line).to_have_class("asked")
    assert drawn(line) == "pA0/1−p,A0without growth = 0.2×33.8 g/1−0.2 = 8.45 g"
    expect(line).to_be_in_viewport()
    fill_in(page, {"model.airframe": "40 g"})
    expect(line).to_contain_text("= 10 g")
    assert "0.2×40 g/1−0.2 =" in drawn(line)
    button = page.locator("#why-limits-open")
    expect(button).to_have_attribute("aria-expanded", "true")
    button.press("Enter")
    expect(line).to_have_count(0)
    expect(button).to_have_attribute("aria-expanded", "false")
    expect(button).to_be_focused()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_a_formula_is_drawn_and_leads_to_its_source(open_page: OpenPage, site_url: str) -> None:
    """A fraction stands higher than a line of text: it is drawn, not written out."""
    page = open_page()
    start(page, site_url)
    press(page, "#limits [data-why='share']")
    formula = page.locator("#why-limits [data-line='share'] .symbols")
    above, below = (formula.locator(f"mfrac > :{place}-child").bounding_box() for place in ("first", "last"))
    assert above is not None
    assert below is not None
    assert above["y"] + above["height"] <= below["y"] + 1
    line = page.locator("#why-limits [data-line='share'] dt").bounding_box()
    drawn_box = formula.locator("mfrac").bounding_box()
    assert line is not None
    assert drawn_box is not None
    assert drawn_box["height"] > 1.3 * line["height"]
    formula.click()
    expect(page).to_have_url(f"{site_url}method.html#limits-share")
    expect(page.locator("#limits-share mfrac")).to_be_in_viewport()


@pytest.mark.parametrize("width", [320, 390])
def test_no_formula_is_cut_on_a_phone(width: int, open_page: OpenPage, site_url: str) -> None:
    page = open_page(width=width)
    page.goto(f"{site_url}method.html")
    cut = """(parts) => parts.filter((part) => {
        const box = part.closest("p, dd, dt").getBoundingClientRect();
        return part.getBoundingClientRect().right > box.right + 1;
    }).map((part) => part.textContent)"""
    assert page.locator("main math").count() > 100
    assert page.locator("main math").evaluate_all(cut) == []
    start(page, site_url)
    page.evaluate("for (const each of document.querySelectorAll('[data-do=why]')) each.click()")
    expect(page.locator("#why-linkage math").first).to_be_attached()
    assert page.locator(".workings math").count() > 100
    assert page.locator(".workings math").evaluate_all(cut) == []
