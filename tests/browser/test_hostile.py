"""Hostile links and files in the browser: one plain sentence, nothing executed, the visitor's work as it was."""

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from site_src.tools.corpus import WHOLE
from site_src.tools.hostile import DOCUMENTS, EVIL, REFUSED, packed
from tests.browser.actions import fill_in, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser
AFTER_AN_ANSWER = 600  # ms; as `last.mjs` has it, and some
PAGES = ["index", "box", "finder", "fits", "compare", "stock", "classes", "method", "cautions"]


def at_work(page: Page, site_url: str) -> Page:
    """Start with work of the visitor's own, and let nothing that a link brings be executed unseen."""
    page.add_init_script("window.alert = () => { throw new Error('executed'); };")
    start(page, site_url)
    fill_in(page, {"name": "Own work"})
    expect(page.locator("#verdict h2")).to_have_text("Own work")
    page.wait_for_timeout(AFTER_AN_ANSWER)  # until it is kept for the next visit
    return page


def test_no_hostile_link_costs_anything(open_page: OpenPage, site_url: str) -> None:
    page = at_work(open_page(), site_url)
    before = page.evaluate("JSON.stringify({ ...localStorage })")
    for name, fragment in REFUSED.items():
        page.evaluate("() => { document.getElementById('trouble').textContent = ''; }")
        page.evaluate("hash => { location.hash = ''; location.hash = hash; }", fragment)
        expect(page.locator("#trouble"), name).not_to_be_empty()
        said = page.locator("#trouble").inner_text()
        assert said.count(".") <= 3, said
        expect(page.locator("[name='name']")).to_have_value("Own work")
    assert page.evaluate("JSON.stringify({ ...localStorage })") == before


def test_odd_documents_by_link_are_shown_as_text(open_page: OpenPage, site_url: str) -> None:
    page = at_work(open_page(), site_url)
    before = page.evaluate("({ ...localStorage })")
    for name, document in DOCUMENTS.items():
        text = json.dumps({"format": 1, **{key: item for key, item in document.items() if key != "format"}})
        if len(text) > 200_000:
            continue  # the link refuses it: tested above
        page.evaluate("hash => { location.hash = hash; }", packed(text))
        expect(page.locator("#shared"), name).to_be_visible()
        if name == "markup":
            expect(page.locator("#answer")).not_to_contain_text("49")
        page.click("#leave")
        expect(page.locator("#shared"), name).to_be_hidden()
        expect(page.locator("[name='name']"), name).to_have_value("Own work")
    assert page.evaluate("({ ...localStorage })") == before  # the answer of last time is of one's own budget, too
    assert page.locator("img").count() == 0


def test_hostile_files_leave_the_work_as_it_was(open_page: OpenPage, site_url: str, tmp_path: Path) -> None:
    page = at_work(open_page(), site_url)
    for number, text in enumerate(["{", "[" * 90_000, "x" * 300_000, "null", '{"a": 1e999', "\x00\x00"]):
        file = tmp_path / f"{number}.json"
        file.write_text(text, encoding="utf-8")
        page.set_input_files("#file", file)
        expect(page.locator("#trouble")).not_to_be_empty()
        expect(page.locator("[name='name']")).to_have_value("Own work")
    evil = tmp_path / "evil.json"
    evil.write_text(json.dumps({"name": EVIL, "gear": [{"name": EVIL, "mass": EVIL}]}), encoding="utf-8")
    page.set_input_files("#file", evil)
    expect(page.locator("#gear-0-mass-problem")).not_to_be_empty()
    assert page.locator("main img").count() == 0


@pytest.mark.parametrize("name", PAGES)
def test_each_page_has_a_policy_that_holds(name: str, open_page: OpenPage, site_url: str) -> None:
    """No inline script or style, no other host, no script or HTML past the one place that lets them in."""
    page = open_page(may_complain=True)
    page.goto(f"{site_url}{name}.html")
    done = page.evaluate("""async () => {
      const refused = [];
      addEventListener("securitypolicyviolation", (event) => refused.push(event.effectiveDirective));
      const script = document.createElement("script");
      try {
        script.textContent = "window.ran = 1";
        document.body.append(script);
      } catch { refused.push("script-src-elem"); }
      await fetch("https://example.org/").catch(() => {});
      try { new Worker("https://example.org/worker.mjs"); } catch { refused.push("worker"); }
      await new Promise((resolve) => setTimeout(resolve, 200));
      return [window.ran ?? 0, refused];
    }""")
    assert done[0] == 0
    assert {"script-src-elem", "connect-src", "worker"} <= set(done[1])
    assert page.locator("meta[name='referrer']").get_attribute("content") == "no-referrer"
    # Later than the debugger's own call, which may evaluate what the page may not.
    page.evaluate("""() => {
      setTimeout(() => { try { window.tried = String(eval("1 + 1")); } catch { window.tried = "refused"; } }, 0);
    }""")
    page.wait_for_timeout(100)
    assert page.evaluate("window.tried") == "refused"


def test_no_field_of_another_edition_costs_a_plain_start(open_page: OpenPage, site_url: str, tmp_path: Path) -> None:
    """What the sums need for it is in the snapshot: else it would be fetched now, which offline may not come."""
    page = at_work(open_page(), site_url)
    seen: list[str] = []
    page.on("request", lambda request: seen.append(request.url))
    odd: list[dict[str, Any]] = [
        {"nonsense": 1},
        {"untis": "metric"},
        {"__proto__x": 1, "gear": [{"mas": "1 g"}] * 60},
        {f"nonsense{number}": 1 for number in range(3000)},
        {"units": "metricc"},
        {"gear": [{"name": "\u05e9\x1b"}]},
    ]
    for number, document in enumerate(odd):
        text = json.dumps({"format": 1, "name": f"odd {number}", **document})
        page.evaluate("hash => { location.hash = hash; }", packed(text))
        expect(page.locator("#shared")).to_be_visible()
        expect(page.locator("#verdict h2")).to_have_text(f"odd {number}")
        page.click("#leave")
        expect(page.locator("#shared")).to_be_hidden()
    for number, source in enumerate([*WHOLE.values(), json.dumps({"format": 1, "name": "the last of them"})]):
        file = tmp_path / f"{number}.json"
        file.write_text(source, encoding="utf-8")
        page.set_input_files("#file", file)
    expect(page.locator("#verdict h2")).to_have_text("the last of them")  # files are opened in their order
    fill_in(page, {"name": "Goes on"})
    expect(page.locator("#verdict h2")).to_have_text("Goes on")
    assert not [url for url in seen if url.endswith((".zip", ".wasm", ".whl"))]
