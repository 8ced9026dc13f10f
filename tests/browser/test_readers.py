"""Every reader: axe in every state, the keyboard alone, a screen reader's line, zoom, forced colours."""

from typing import Literal

import pytest
from playwright.sync_api import Page, expect

from tests.browser.actions import UNFOLD, fill_in, headline, press, start
from tests.browser.conftest import OpenPage
from tests.support import SITE_SRC

pytestmark = pytest.mark.browser
WORKING = ["index", "box", "finder", "fits", "compare", "stock"]
PAGES = [*WORKING, "classes", "method", "cautions", "help"]
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"]


def opened(page: Page, site_url: str, name: str) -> Page:
    """Open a page, wait for its sums if it has any, unfold everything."""
    if name in WORKING:
        start(page, f"{site_url}{name}.html")
    else:
        page.goto(f"{site_url}{name}.html")
    unfold(page)
    return page


def unfold(page: Page) -> None:
    """Open everything that is folded."""
    page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")


def violations(page: Page) -> list[object]:
    """Return what axe finds."""
    page.add_script_tag(path=SITE_SRC / "node_modules" / "axe-core" / "axe.min.js")
    found = page.evaluate("tags => axe.run({ runOnly: tags, resultTypes: ['violations'] })", TAGS)
    return [(each["id"], [node["html"][:160] for node in each["nodes"]]) for each in found["violations"]]


def with_mistakes(page: Page, name: str) -> None:
    """Make what is shown only of a bad entry appear, where the page has one."""
    if name == "index":
        fill_in(page, {"gear.0.mass": "x"})
        expect(page.locator("#gear-0-mass-problem")).not_to_be_empty()
    if name == "box":
        page.click("[data-do='starter']")
        page.click("[data-do='edit'] >> nth=0")
        fill_in(page, {"box.mass": "x"})
        expect(page.locator("#part .problem").first).to_be_attached()
    unfold(page)


@pytest.mark.parametrize("name", PAGES)
def test_axe_in_print_in_light_and_in_dark_and_no_sideways_scroll(
    name: str, open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    """WCAG 2.2 A and AA as far as axe-core can tell, everything unfolded; on the screen with mistakes told.

    Then no page is wider than a phone, nor than a window of 1280 px at 200 %, which is one of 640.
    """
    page = opened(open_page(bypass_csp=True), site_url, name)
    page.emulate_media(media="print")
    found = {"print": violations(page)}
    page.emulate_media(media="screen")
    too_wide = _too_wide(page)
    with_mistakes(page, name)
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        found[scheme] = violations(page)
    assert (found, too_wide, _too_wide(page)) == ({"print": [], "light": [], "dark": []}, {}, {})


def _too_wide(page: Page) -> dict[int, int]:
    """Return the widths at which the page needs more, with what it needs; the window is then as wide as before."""
    before, too_wide = page.viewport_size, {}
    for width in (320, 360, 640):
        page.set_viewport_size({"width": width, "height": 800})
        needed = page.evaluate("document.documentElement.scrollWidth")
        if needed > width:
            too_wide[width] = needed
    assert before is not None
    page.set_viewport_size(before)
    return too_wide


@pytest.mark.parametrize("width", [390, 1280])
def test_axe_with_a_dialog_a_shared_budget_and_what_is_held(width: int, open_page: OpenPage, site_url: str) -> None:
    page = opened(open_page(width, 900, bypass_csp=True), site_url, "index")
    page.evaluate("document.querySelectorAll('.menu[open]').forEach((menu) => { menu.open = false; })")
    page.click("#first")
    assert violations(page) == []
    page.keyboard.press("Escape")
    page.click("[data-do='hold']")
    fill_in(page, {"gear.0.mass": "2 g", "gear.1.weighed": "1.8 g"})
    expect(page.locator("#growth table")).to_be_visible()
    page.evaluate("for (const each of document.querySelectorAll('[data-do=why]')) each.click()")
    expect(page.locator(".workings")).to_have_count(8)
    expect(page.locator("#held")).to_be_visible()
    assert violations(page) == []
    press(page, "#gear-1-take")
    expect(page.locator("#box-picks li").first).to_be_visible()
    assert violations(page) == []
    page.keyboard.press("Escape")
    address = page.input_value("#link")
    page.evaluate("hash => { location.hash = hash; }", address[address.index("#") :])
    expect(page.locator("#shared")).to_be_visible()
    assert violations(page) == []


def press_to(page: Page, selector: str, most: int = 200) -> None:
    """Press Tab until the focus is on an element."""
    for _ in range(most):
        if page.evaluate("selector => document.activeElement?.matches(selector) ?? false", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"the keyboard does not reach {selector}")


def test_the_three_uses_with_the_keyboard_alone(open_page: OpenPage, site_url: str) -> None:
    page = open_page(permissions=["clipboard-read", "clipboard-write"])
    start(page, site_url)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    press_to(page, "#more-tools > summary")
    page.keyboard.press("Enter")
    press_to(page, "#new")
    page.keyboard.press("Enter")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    press_to(page, "#gear-0-mass")
    page.keyboard.type("1.2 g")
    press_to(page, "#gear-0-draw")
    page.keyboard.type("60 mA")
    press_to(page, "#gear-1-mass")
    page.keyboard.type("2 g")
    press_to(page, "#cell-mass")
    page.keyboard.type("1.5 g")
    press_to(page, "#subject-limits > summary")
    page.keyboard.press("Enter")
    press_to(page, "#model-airframe")
    page.keyboard.type("36 g")
    press_to(page, "#subject-power > summary")
    page.keyboard.press("Enter")
    press_to(page, "#cell-capacity")
    page.keyboard.type("40 mAh")
    press_to(page, "#session-on_time")
    page.keyboard.type("6 min")
    expect(headline(page)).to_contain_text("Fits, with 4.30 g in hand,")
    expect(page.locator("#power .lead")).to_contain_text("5 flights")
    press_to(page, "#share > summary")
    page.keyboard.press("Enter")
    press_to(page, "#copy-link")
    page.keyboard.press("Enter")
    expect(page.locator("#copied")).to_have_text("The link is copied.")
    assert "#b=" in page.evaluate("navigator.clipboard.readText()")


def test_the_verdict_is_said_once_for_a_change_not_for_each_key(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    expect(page.locator("#said")).to_contain_text("Fits, with 0.60 g in hand")
    page.evaluate("""() => {
      window.times = [];
      new MutationObserver(() => window.times.push(document.getElementById("said").textContent))
        .observe(document.getElementById("said"), { childList: true, characterData: true, subtree: true });
    }""")
    page.locator("#model-airframe").evaluate(UNFOLD)
    page.locator("#model-airframe").fill("")
    page.locator("#model-airframe").press_sequentially("36.25 g", delay=60)
    expect(page.locator("#said")).to_contain_text("Over by")
    assert len(page.evaluate("window.times")) == 1
    page.locator("#model-airframe").fill("36 x")
    problem = page.locator("#model-airframe-problem")
    expect(problem).to_contain_text("x")
    expect(page.locator("#said")).to_have_text(f"{problem.inner_text()} {headline(page).inner_text()}")
    page.locator("#model-rubber").fill("9 g")  # of another field than the one in hand nothing is said again
    expect(page.locator("#said")).to_have_text(headline(page).inner_text())


@pytest.mark.parametrize("name", ["index", "finder"])
def test_forced_colours_and_less_motion(name: str, open_page: OpenPage, site_url: str) -> None:
    """Verdicts keep word and shape; nothing has a transition, where it has one without that wish."""
    moving = "[...document.querySelectorAll('*')].filter((e) => getComputedStyle(e).transitionDuration !== '0s').length"
    page = opened(open_page(forced_colors="active", reduced_motion="reduce"), site_url, name)
    assert page.evaluate(moving) == 0
    if name == "index":
        assert opened(open_page(), site_url, name).evaluate(moving) > 0
    mark = page.locator("svg.mark, .word svg, #verdict svg").first
    assert mark.evaluate("mark => getComputedStyle(mark).display") != "none"
    text = page.locator("#answer, #result").first.inner_text()
    assert "fits" in text.lower()
