"""The program that is sent lacks what never ran: whatever needs more is answered all the same."""

import base64
import json
import lzma
from pathlib import Path
from typing import Any

import pytest

from site_src.app import bridge
from site_src.app.why import PARTS
from site_src.tools import editions, precache, wasm
from site_src.tools.corpus import CORPUS
from site_src.tools.warm_up import filled, rough_log
from tests.browser.actions import start
from tests.browser.conftest import OpenPage
from tests.browser.test_offline import own_site, visited
from tests.browser.test_start import ASK, fetched, requests
from tests.calc.subjects.flights.glides import AIRS, RECORDS, glide
from tests.calc.subjects.flights.made import table
from tests.support import SITE_SRC, demo_documents

__all__ = ["own_site"]  # a fixture

pytestmark = pytest.mark.browser
SIZES = """async () => {
  const found = [];
  for (const name of await caches.keys())
    for (const key of await (await caches.open(name)).keys())
      if (/(program|data|snapshot)-/.test(key.url)) found.push((await (await caches.match(key)).blob()).size);
  return found.sort((one, other) => one - other);
}"""
# Opens a log and puts it away, begins a search, asks for what the program does without, and goes on with the search.
GO_ON = """async ([site, document, box]) => {
  const worker = new Worker(site + "worker.mjs", { type: "module" });
  let id = 0;
  const ask = (method, params) => new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error(`no answer to ${method}`)), 60_000);
    const mine = ++id;
    worker.addEventListener("message", ({ data }) => {
      const message = JSON.parse(data);
      if (message.id === mine) resolve(message.result);
    });
    worker.postMessage(JSON.stringify({ v: 1, id: mine, method, params }));
  });
  const { log } = await ask("log_open", { text: "no log" });
  await ask("log_close", { log });
  const { search } = await ask("finder_start", { document, box });
  const assessed = await ask("assess", { document });
  let step = {};
  while (!("html" in step) && !("dropped" in step)) step = await ask("finder_step", { search });
  const away = await ask("log_read", { log, wish: "unit", typed: "ft" });
  worker.terminate();
  return [Object.keys(assessed), Object.keys(step), search, away];
}"""
# In a worker, garbage collected amid each line; returns how many were answered.
COLLECT = """(requests) => {
  const gc = pyodide.pyimport("gc");
  gc.freeze(); // what came with the snapshot is not walked through each time
  gc.set_threshold(10);
  const { handle } = pyodide.pyimport("site_src.app.bridge");
  return requests.filter((request) => JSON.parse(handle(JSON.stringify(request))).v === 1).length;
}"""
PACK_AGAIN = """async ([site, files]) => {
  const [cache] = await Promise.all((await caches.keys()).map((name) => caches.open(name)));
  for (const [name, bytes] of Object.entries(files)) {
    const [key] = await cache.keys(site + name, { ignoreSearch: true });
    await cache.put(key, new Response(Uint8Array.fromBase64(bytes)));
  }
}"""


def packed(site: Path) -> list[Path]:
    """Return what travels packed: the program, its data and the snapshot."""
    return [*site.glob("program-*.bin"), *site.glob("data-*.bin"), *site.glob("snapshot-*.bin")]


def without(site: Path, function: bytes) -> None:
    """Take one more function out of the program of a site, and write down the sums of the new one."""
    whole = dict(wasm.sections((site / "pyodide" / "pyodide.asm.wasm").read_bytes()))
    (number,) = (each.index for each in wasm.exports(whole[wasm.EXPORT]) if each.name == function)
    body = number - wasm.imported(whole[wasm.IMPORT], wasm.FUNCTION_KIND)
    (program,) = site.glob("program-*.bin")
    before = lzma.decompress(program.read_bytes())
    bodies = wasm.bodies(dict(wasm.sections(before))[wasm.CODE])
    assert len(bodies[body]) > len(wasm.STUB)  # it was there
    named = editions.unpacked_sums(program)
    program.write_bytes(lzma.compress(wasm.lean(before, set(range(len(bodies))) - {body}), check=lzma.CHECK_CRC32))
    text = (site / "worker.mjs").read_text(encoding="utf-8")
    for old, new in zip(named, editions.unpacked_sums(program), strict=True):
        text = text.replace(str(old), str(new))
    (site / "worker.mjs").write_text(text, encoding="utf-8")
    precache.write(site)


def test_a_function_that_was_left_out_is_answered_with_the_whole_program(
    open_page: OpenPage, own_site: tuple[Path, str]
) -> None:  # fmt: skip
    """All that wait meanwhile are answered, by one plain start, and as Python answers here."""
    site, address = own_site
    without(site, b"exp")
    page = open_page(own=address, may_complain=True)
    seen = fetched(page)
    page.goto(address + "stock.html")
    document = demo_documents()["sedge-wren.json"]
    asked = [{"v": 1, "id": number, "method": "assess", "params": {"document": document}} for number in range(3)]
    answers: Any = page.evaluate(ASK, [address, asked])
    assert seen.count("pyodide.asm.wasm") == 1
    assert answers == [json.loads(bridge.handle(json.dumps(each))) for each in asked]


def test_a_search_goes_on_in_the_whole_program(open_page: OpenPage, own_site: tuple[Path, str]) -> None:
    """It is begun anew there, under the number that the page knows; a log that was put away is not opened again."""
    site, address = own_site
    without(site, b"exp")
    page = open_page(own=address, may_complain=True)
    seen = fetched(page)
    page.goto(address + "stock.html")
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
    assessed, found, search, away = page.evaluate(GO_ON, [address, demo_documents()["sedge-wren.json"], box])
    assert seen.count("pyodide.asm.wasm") == 1
    assert "assessment" in assessed
    assert "html" in found
    assert away == {"dropped": True}
    assert search > 1  # the number that the warm-up left, which Python alone would not have begun with


def test_no_field_needs_the_whole_program(open_page: OpenPage, site_url: str) -> None:
    """The seconds of a circle did, which no example tells; with values that the warm-up does not try."""
    page = open_page()
    seen = fetched(page)
    page.goto(site_url + "stock.html")
    told = list(filled(demo_documents()["gnat.json"], [0.05, 0.3]))
    asked = [
        {"v": 1, "id": number, "method": "answer", "params": {"document": document, "why": list(PARTS)}}
        for number, document in enumerate(told)
    ]
    answers: Any = page.evaluate(ASK, [site_url, asked])
    assert sum(each["ok"] for each in answers) == len(told) > 30
    assert "pyodide.asm.wasm" not in seen


def test_no_log_needs_the_whole_program(open_page: OpenPage, site_url: str) -> None:
    """Noise that sorts otherwise than a smooth flight did; other air than the warm-up's, flights with a known truth."""
    page = open_page()
    seen = fetched(page)
    page.goto(site_url + "stock.html")
    glides_told = [table(glide(seed, air, 120, *RECORDS[seed % 4])[1]) for seed, air in enumerate(AIRS.values(), 50)]
    logs = [*glides_told, *(rough_log(seed, 0.1 * (seed % 9)) for seed in range(100, 118))]
    asked = [{"v": 1, "id": number, "method": "log_open", "params": {"text": log}} for number, log in enumerate(logs)]
    answers: Any = page.evaluate(ASK, [site_url, asked])
    assert sum(each["result"]["flights"] for each in answers) >= len(logs) == 33
    assert "pyodide.asm.wasm" not in seen


def test_nothing_hostile_needs_the_whole_program(open_page: OpenPage, site_url: str) -> None:
    """A sample of the corpus; more of it was asked by hand (tests/README.md)."""
    page = open_page()
    seen = fetched(page)
    page.goto(site_url + "stock.html")
    texts = list(CORPUS.values())[::40]
    asked = [
        {"v": 1, "id": number, "method": "open_any", "params": {"text": text, "document": {}}}
        for number, text in enumerate(texts)
    ]
    answers: Any = page.evaluate(ASK, [site_url, asked])
    assert len(answers) == len(texts) > 10
    assert "pyodide.asm.wasm" not in seen


def test_garbage_may_be_collected_at_any_moment(open_page: OpenPage, site_url: str) -> None:
    """What is there for a moment only is walked through then: such a function was left out, and an edit trapped."""
    page = open_page()
    start(page, site_url)
    sound = demo_documents()["sedge-wren.json"]
    heavy = {**sound, "gear": [{**sound["gear"][0], "mass": "3.9 g"}, *sound["gear"][1:]]}
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
    asked = [
        *({"v": 1, "id": 0, "method": method, "params": {"document": heavy}} for method in ("answer", "sheet")),
        {"v": 1, "id": 0, "method": "changes", "params": {"document": heavy, "box": box}},
        *requests()[::3],
    ]
    assert page.workers[0].evaluate(COLLECT, asked) == len(asked) > 40


def test_the_device_keeps_what_was_unpacked(open_page: OpenPage, own_site: tuple[Path, str]) -> None:
    """Also where it was kept packed, as by a service worker that came first."""
    site, address = own_site
    unpacked = sorted(len(lzma.decompress(path.read_bytes())) for path in packed(site))
    page = visited(lambda **options: open_page(own=address, **options), address)
    assert page.evaluate(SIZES) == unpacked
    files = {path.name: base64.b64encode(path.read_bytes()).decode() for path in packed(site)}
    page.evaluate(PACK_AGAIN, [address, files])
    assert page.evaluate(SIZES) == sorted(path.stat().st_size for path in packed(site))
    page.context.set_offline(True)
    start(page, address)
    for _ in range(100):
        if page.evaluate(SIZES) == unpacked:
            return
        page.wait_for_timeout(100)
    pytest.fail(f"still kept packed: {page.evaluate(SIZES)}")
