"""An answer that is not of what was typed says so; a page whose program does not run says so and takes nothing."""

import io
import json
from typing import Any

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from tests.browser.actions import READY, SHIMS, Waiting, fill_in, headline, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser
SAYS = "This answer is not of what you typed yet."
SNAPSHOT = "**/snapshot-*.bin"


@pytest.mark.parametrize("width", [390, 1280])
def test_while_python_starts_the_example_s_verdict_is_not_of_what_was_typed(
    width: int, open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    page = open_page(width, 844)
    snapshot = Waiting(page, SNAPSHOT)
    page.goto(site_url)
    expect(page.locator("html.js")).to_have_count(1)
    place = page.locator("#bar" if width < 600 else "#answer")
    expect(place).not_to_have_class("stale")
    expect(headline(page)).to_contain_text("Fits")
    fill_in(page, {"model.airframe": "36 g"})
    expect(place).to_contain_text(SAYS)
    expect(place).to_have_attribute("aria-busy", "true")
    verdict = page.locator("#verdict" if width > 600 else "#bar .bar-word")
    assert float(verdict.evaluate("each => getComputedStyle(each).opacity")) < 0.6
    expect(page.locator("#copy-link")).to_be_disabled()
    text = " ".join(each.extract_text() for each in PdfReader(io.BytesIO(page.pdf())).pages)
    assert "nothing old stands here" in text
    snapshot.let_go()
    page.evaluate(READY)
    expect(headline(page)).to_contain_text("Over by 0.86 g")
    expect(page.locator(".stale-word")).to_have_count(0)
    expect(place).to_have_attribute("aria-busy", "false")
    assert verdict.evaluate("each => getComputedStyle(each).opacity") == "1"
    expect(page.locator("#copy-link")).to_be_enabled()


def test_an_edit_whose_answer_takes_long_says_so_and_a_quick_one_does_not(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.add_init_script(SHIMS)
    start(page, site_url)
    page.evaluate("""() => {
      window.marks = 0;
      new MutationObserver(() => { window.marks += document.getElementById("answer").classList.contains("stale"); })
        .observe(document.getElementById("answer"), { attributes: true });
    }""")
    fill_in(page, {"model.airframe": "36 g"})
    expect(headline(page)).to_contain_text("Over by 0.86 g")
    assert page.evaluate("window.marks") == 0
    page.evaluate("window.slow = true")
    fill_in(page, {"model.airframe": "33 g"})
    expect(page.locator("#answer .stale-word")).to_have_text(SAYS)
    page.evaluate("window.theWorker.goOn()")
    expect(headline(page)).to_contain_text("Fits")
    expect(page.locator(".stale-word")).to_have_count(0)


# Two edits of which the second is typed before the first is answered; what the page shows as each message about them is
# heard. They set no timers: where a slow machine takes half a second, the page says that its answer is an old one, and
# nothing goes ahead of the new one then.
TWO_EDITS = """() => new Promise((resolve) => {
  const heard = [], asked = new Set();
  const text = (place) => document.querySelector(place).textContent;
  const { theWorker } = window, post = theWorker.postMessage.bind(theWorker);
  theWorker.postMessage = (text) => {
    if (text.includes('"method":"answer"')) asked.add(JSON.parse(text).id);
    post(text);
  };
  theWorker.addEventListener("message", ({ data }) => {
    const message = JSON.parse(data);
    if (!asked.has(message.id)) return;
    heard.push(["first" in message, text("#verdict p"), text("#brief-limits")]);
    if (heard.length === 4) resolve(heard);
  });
  const { setTimeout } = window;
  window.setTimeout = () => 0;
  const field = document.getElementById("model-airframe");
  for (const typed of ["20 g", "36 g"]) {
    field.value = typed;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
  window.setTimeout = setTimeout;
})"""


def test_the_verdict_is_on_the_page_before_the_rest(open_page: OpenPage, site_url: str) -> None:
    """But not that of an edit that was overtaken."""
    page = open_page()
    page.add_init_script(SHIMS)
    start(page, site_url)
    before, limits = headline(page).text_content(), page.locator("#brief-limits").text_content()
    heard = page.evaluate(TWO_EDITS)
    assert heard[:2] == [[True, before, limits], [False, before, limits]]
    verdict, after = headline(page).text_content(), page.locator("#brief-limits").text_content()
    assert heard[2:] == [[True, verdict, limits], [False, verdict, after]]
    assert "Over by 0.86" in verdict
    assert after != limits


def test_while_a_budget_of_one_s_own_is_opened_the_example_s_answer_is_not_taken_for_its(
    open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    """Meanwhile the saved ones can be taken out as files: a download that stalls locks nobody's work up."""
    page = open_page()
    page.goto(site_url + "cautions.html")
    own = {"format": 1, "name": "Dunlin", "model": {"airframe": "36 g"}}
    page.evaluate("text => localStorage.setItem('thistledown.budget.a', text)", json.dumps(own))
    snapshot = Waiting(page, SNAPSHOT)
    page.goto(site_url)
    expect(page.locator("#answer")).to_contain_text("This answer is of an example, not of your budget")
    with page.expect_download() as caught:
        press(page, "#save-file")
    assert json.loads(caught.value.path().read_text(encoding="utf-8")) == own
    snapshot.let_go()
    expect(page.locator("#verdict h2")).to_have_text("Dunlin")
    expect(page.locator(".stale-word")).to_have_count(0)


def test_a_start_that_stalls_is_told(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.clock.install()
    snapshot = Waiting(page, SNAPSHOT)
    with page.expect_request(SNAPSHOT):
        page.goto(site_url)
    expect(page.locator("html.js")).to_have_count(1)
    page.clock.fast_forward(60_000)  # beside the time that the test itself takes
    expect(page.locator("[data-do='again']")).to_have_count(0)
    page.clock.fast_forward(61_000)
    expect(page.locator("#engine")).to_contain_text("far longer than")
    with page.expect_request(SNAPSHOT):
        page.click("text=Start again")
    snapshot.let_go()
    page.evaluate(READY)


AFTER_EIGHT_SECONDS = """() => {
  const waits = document.getAnimations().filter((each) => each.animationName === "no-program");
  for (const each of waits) each.finish();
  return waits.length;
}"""  # what the style waits for is over at once
BROKEN: dict[str, tuple[str, dict[str, Any]]] = {
    "of a wrong type": ("**/budget.mjs", {"content_type": "text/plain", "body": "1"}),
    "absent": ("**/budget.mjs", {"status": 404}),
    "cut": ("**/budget.mjs", {"content_type": "text/javascript", "body": "export const cut = (() => {"}),
    "without what comes first": ("**/begin.js", {"status": 404}),
}


@pytest.mark.parametrize("how", BROKEN)
def test_a_page_whose_program_does_not_run_says_so_and_takes_nothing(
    how: str, open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    """No script of ours tells it; the example stays readable."""
    page = open_page(may_complain=True)
    what, instead = BROKEN[how]
    page.route(what, lambda route: route.fulfill(**instead))
    page.goto(site_url)
    told = page.locator(".no-program")
    expect(told).to_be_hidden()
    expect(page.locator("[name='model.airframe']")).to_be_disabled()
    expect(told).to_be_visible()
    expect(told).to_contain_text("nothing can be typed")
    expect(headline(page)).to_contain_text("Fits")
    expect(page.locator("[name='model.airframe']")).to_be_disabled()


@pytest.mark.parametrize("name", ["box", "finder", "fits", "compare", "stock"])
def test_the_other_pages_say_so_too(name: str, open_page: OpenPage, site_url: str) -> None:
    page = open_page(may_complain=True)
    page.route("**/begin.js", lambda route: route.fulfill(status=404))
    page.goto(f"{site_url}{name}.html")
    expect(page.locator(".no-program")).to_be_hidden()
    assert page.evaluate(AFTER_EIGHT_SECONDS) == 1
    expect(page.locator(".no-program")).to_be_visible()


def test_a_page_that_runs_does_not_say_that_it_does_not(open_page: OpenPage, site_url: str) -> None:
    for name in ("index", "stock"):
        page = start(open_page(), f"{site_url}{name}.html")
        assert page.evaluate(AFTER_EIGHT_SECONDS) == 0  # what a page that runs does not show cannot move, either
        expect(page.locator(".no-program")).to_be_hidden()


def test_without_scripts_the_example_is_readable_and_nothing_can_be_typed(open_page: OpenPage, site_url: str) -> None:
    page = open_page(java_script_enabled=False)
    page.goto(site_url)
    expect(page.locator("noscript .banner, .banner >> text=needs JavaScript").first).to_be_visible()
    expect(headline(page)).to_contain_text("Fits")
    expect(page.locator("[name='model.airframe']")).to_be_disabled()
