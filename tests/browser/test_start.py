"""The start from the snapshot, and the plain start wherever that fails."""

import base64
import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from site_src.tools import chromium
from tests.browser.actions import fill_in, headline, start
from tests.browser.conftest import OpenPage
from tests.support import HEADLINE, SITE_SRC, demo_documents
from tests.workbooks import ods, ods_row, ods_table

pytestmark = pytest.mark.browser


def fetched(page: Page) -> list[str]:
    """Return a list that fills with the last part of every address the page and its worker ask for."""
    seen: list[str] = []
    page.on("request", lambda request: seen.append(request.url.rsplit("/", 1)[-1]))
    return seen


IPHONE = "Mozilla/5.0 (iPhone; CPU iPhone OS 26_0 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Safari/604.1"
# What comes out of a table is not the very function that is exported, unless a script has put it there: so it is in
# WebKitGTK 2.50 (tried by hand: tests/README.md).
AS_IN_WEBKIT = """{
  const { get, set } = WebAssembly.Table.prototype;
  const put = new Set(), given = new Map();
  WebAssembly.Table.prototype.set = function (at, ...what) { put.add(at); return set.call(this, at, ...what); };
  WebAssembly.Table.prototype.get = function (at) {
    const found = get.call(this, at);
    if (typeof found !== "function" || put.has(at)) return found;
    if (!given.has(at)) given.set(at, Object.defineProperty((...all) => found(...all), "name", { value: found.name }));
    return given.get(at);
  };
}
"""


@pytest.mark.parametrize("like", ["Chromium", "an iPhone", "WebKit"])
def test_the_good_start_needs_neither_the_standard_library_nor_the_archive(
    like: str, open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    """Also where Pyodide does without its trampoline (iOS), and where that has another number (WebKit)."""
    page = open_page(**({"user_agent": IPHONE} if like == "an iPhone" else {}))

    def changed(route: Route) -> None:
        answer = route.fetch()
        route.fulfill(response=answer, body=AS_IN_WEBKIT + answer.text())

    if like == "WebKit":
        page.route("**/worker.mjs", changed)
    seen = fetched(page)
    start(page, site_url)
    assert any(name.startswith("snapshot-") for name in seen)
    assert not {"python_stdlib.zip", "app.zip", "pyodide-lock.json"} & set(seen)
    assert [name[:8] for name in seen if "asm.wasm" in name or "program-" in name] == ["program-"]
    fill_in(page, {"model.airframe": "36 g"})
    expect(headline(page)).to_contain_text("Over by 0.86 g")


BROKEN: list[Any] = [
    pytest.param("**/snapshot-*.bin", {"status": 404}, id="absent"),
    pytest.param("**/glue.mjs", {"status": 404}, id="without its glue"),
]  # fmt: skip


@pytest.mark.parametrize(("what", "instead"), BROKEN)
def test_a_start_that_cannot_restore_goes_the_plain_way(
    what: str, instead: dict[str, Any], open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    page = open_page(may_complain=True)
    page.route(what, lambda route: route.fulfill(**instead))
    seen = fetched(page)
    start(page, site_url)
    assert "python_stdlib.zip" in seen
    assert seen.count("pyodide.asm.wasm") == 1
    expect(headline(page)).to_have_text(HEADLINE)
    fill_in(page, {"model.airframe": "36 g"})
    expect(headline(page)).to_contain_text("Over by 0.86 g")


@pytest.mark.parametrize(
    ("what", "instead"),
    [
        pytest.param("**/snapshot-*.bin", {"status": 200, "body": b"nothing packed"}, id="garbage"),
        pytest.param("**/data-*.bin", {"status": 404}, id="without its data"),
    ],
)
def test_other_ways_in_which_it_cannot_restore(
    what: str, instead: dict[str, Any], open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    """Only that the plain start begins: how it goes on is tested above."""
    page = open_page(may_complain=True)
    page.route(what, lambda route: route.fulfill(**instead))
    with page.expect_request("**/app.zip"):
        page.goto(site_url)


NO_MEMORY_ONCE = """
const { grow } = WebAssembly.Memory.prototype;
WebAssembly.Memory.prototype.grow = () => {
  WebAssembly.Memory.prototype.grow = grow;
  throw new RangeError("no memory");
};
"""


def test_no_memory_for_the_snapshot_goes_the_plain_way(open_page: OpenPage, site_url: str) -> None:
    """Once: what the plain start needs is there."""
    page = open_page(may_complain=True)

    def refused(route: Route) -> None:
        answer = route.fetch()
        route.fulfill(response=answer, body=NO_MEMORY_ONCE + answer.text())

    page.route("**/worker.mjs", refused)
    start(page, site_url)
    expect(headline(page)).to_have_text(HEADLINE)


ASK = """async ([site, requests]) => {
  const worker = new Worker(site + "worker.mjs", { type: "module" });
  const answers = [];
  return await new Promise((resolve) => {
    worker.onerror = (event) => resolve(String(event.message));
    worker.onmessage = ({ data }) => {
      const message = JSON.parse(data);
      if ("ok" in message) answers.push(message);
      if (answers.length < requests.length) return;
      worker.terminate();
      resolve(answers.sort((a, b) => a.id - b.id));
    };
    for (const request of requests) worker.postMessage(JSON.stringify(request));
  });
}"""


def requests() -> list[dict[str, Any]]:
    """Return a request of each method for each example, sound and with mistakes."""
    asked: list[tuple[str, dict[str, Any]]] = []
    for number, document in enumerate(demo_documents().values()):
        wrong = {**document, "gear": [{"mass": "1,234 g", "kind": 5}], "session": {"temperature": "hot"}, "new": {}}
        for each in (document, {**document, "units": "imperial"} if number % 2 else wrong):
            asked += [(method, {"document": each}) for method in ("form", "assess")]
            asked.append(("open_any", {"text": json.dumps(each), "document": {}}))
            asked += [
                ("compare", {"before": document, "after": each}),
                ("box_put", {"document": each, "path": "gear.0"}),
            ]
            asked.append(("places", {"document": each, "others": [["one", document], ["none", {}]]}))
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
    for each in (box, {"parts": [{"kind": "cell", "mass": "heavy"}, 5]}, {**box, "units": "imperial"}):
        asked += [
            ("box", {"box": each}),
            ("box_csv", {"box": each}),
            ("box", {"box": each, "kind": "servo", "pick": 1}),
        ]
        asked.append(("box_open", {"text": json.dumps(each)}))
    asked += [("box_part", {"part": part}) for part in box["parts"]]
    fields = {"length": "1 ft", "diameter": "1/32 in", "gauge": "30", "area": "1 sq in", "thickness": "9 µm"}
    asked += [("stock", {"fields": {"shape": shape, **fields}}) for shape in ("rod", "tube", "wire", "film", "cloth")]
    asked += [("open_link", {"fragment": "#b=AAAA"}), ("open_link", {"fragment": "#b=q1ZKSS1OLsosKMnPAwA"})]
    return [{"v": 1, "id": number, "method": method, "params": params} for number, (method, params) in enumerate(asked)]


def test_both_starts_give_the_same_answers(open_page: OpenPage, site_url: str) -> None:
    """Every method, also where it needs something that the snapshot leaves out; then Python starts just once more."""
    quick = open_page()
    seen = fetched(quick)
    quick.goto(site_url + "stock.html")
    restored = quick.evaluate(ASK, [site_url, requests()])
    plain = open_page(may_complain=True)
    plain.route("**/snapshot-*.bin", lambda route: route.fulfill(status=404))
    plain.goto(site_url + "stock.html")
    started = plain.evaluate(ASK, [site_url, requests()])
    assert restored == started
    assert seen.count("python_stdlib.zip") <= 1
    assert [answer["ok"] for answer in restored].count(False) == 2


def test_what_the_snapshot_leaves_out_is_answered_after_a_plain_start(open_page: OpenPage, site_url: str) -> None:
    """A budget whose link is too long to be made: an error path that no warm-up runs through must still answer."""
    page = open_page()
    seen = fetched(page)
    page.goto(site_url + "stock.html")
    name = "".join(chr(0x4E00 + (index * 7919) % 20_000) for index in range(9000))
    request = {"v": 1, "id": 1, "method": "answer", "params": {"document": {"name": name}}}
    answer = page.evaluate(ASK, [site_url, [request]])[0]
    assert answer["ok"] is True
    assert "too long" in answer["result"]["link_problem"]
    assert seen


def test_a_workbook_is_read_after_a_plain_start(open_page: OpenPage, site_url: str) -> None:
    """The snapshot has neither the zip reader nor expat; a pasted block is read without another start."""
    page = open_page()
    seen = fetched(page)
    page.goto(site_url + "stock.html")
    rows = ods_table(ods_row("Name", "Mass (g)") + ods_row("Servo", "1.7"))
    text, book = {"text": "Name;Mass (g)\nServo;1,7\n"}, {"data": base64.b64encode(ods(rows)).decode()}
    asked = [
        {"v": 1, "id": number, "method": "table_preview", "params": {"table": table, "document": {}}}
        for number, table in enumerate((text, book))
    ]
    (answer,) = page.evaluate(ASK, [site_url, asked[:1]])
    assert answer["result"]["rows"][0]["cells"] == ["Servo", "1,7"]
    assert "python_stdlib.zip" not in seen
    letters = "Name;Mass (g)\nMöwe;1,7\n"
    for coding in ("utf-8-sig", "utf-16", "cp1252"):
        table = {"data": base64.b64encode(letters.encode(coding)).decode()}
        request = {"v": 1, "id": 9, "method": "table_preview", "params": {"table": table, "document": {}}}
        assert page.evaluate(ASK, [site_url, [request]])[0]["result"]["rows"][0]["cells"] == ["Möwe", "1,7"]
    assert "python_stdlib.zip" not in seen
    answers = page.evaluate(ASK, [site_url, asked])
    assert answers[1]["result"]["rows"][0]["cells"] == ["Servo", "1.7"]
    assert seen.count("python_stdlib.zip") == 1


@pytest.mark.parametrize("pages", [100, 500], ids=["not even for Python", "for Python, not for the sums"])
def test_a_browser_with_too_little_memory_says_so(pages: int, browser: Browser, site_url: str) -> None:
    """A real shortage: Chromium is told to give a wasm memory so many pages of 64 KiB and no more."""
    arguments = [*chromium.launch_arguments(), f"--js-flags=--wasm-max-mem-pages={pages}"]
    small = browser.browser_type.launch(executable_path=str(chromium.ensure()), args=arguments)
    try:
        page = small.new_context(service_workers="block").new_page()
        page.goto(site_url)
        expect(page.locator("html")).to_have_attribute("data-engine", "failed", timeout=60_000)
        expect(page.locator("#engine")).to_contain_text("emory")
        expect(page.locator("[data-do='again']")).to_be_visible()
        expect(headline(page)).to_have_text(HEADLINE)
    finally:
        small.close()


def test_a_browser_that_refuses_wasm_says_so(open_page: OpenPage, site_url: str, built_site: Path) -> None:
    """A real refusal: page and worker come with a policy that does not let WebAssembly be compiled."""
    page = open_page(may_complain=True)

    def refusing(route: Route) -> None:
        name = route.request.url.rsplit("/", 1)[-1] or "index.html"
        kind = "text/html" if name.endswith(".html") else "text/javascript"
        headers = {"content-type": kind, "content-security-policy": "script-src 'self'"}
        route.fulfill(path=built_site / name, headers=headers)

    page.route(re.compile(r"/(worker\.mjs)?$"), refusing)
    page.goto(site_url)
    expect(page.locator("html")).to_have_attribute("data-engine", "failed", timeout=60_000)
    expect(page.locator("[data-do='again']")).to_be_visible()
    expect(headline(page)).to_have_text(HEADLINE)
