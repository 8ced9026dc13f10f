"""Figures from a real Chromium: starts, bytes, edits, memory. Measured when asked for, never asserted in tests."""

import gzip
import json
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache, partial
from http.server import ThreadingHTTPServer
from pathlib import Path
from statistics import median, quantiles
from typing import Any

from playwright.sync_api import Browser, Page, sync_playwright

from site_src.app.pages import demos
from site_src.tools import bench_log, chromium, serve

STARTS = 9
SETTLED = 0.5  # s before each start, so that nothing of the one before is still at work
LOOKED = 1.5  # s until the page of a repeat visit is asked: to be asked meanwhile takes up to a tenth of the visit
EDITS = 60
ROWS = 20
SLOW_BYTES_S = 500_000  # a line of 4 Mbit/s

BARE = """async () => {
  const code = `import { loadPyodide } from "${location.origin}/pyodide/pyodide.mjs";
    const began = performance.now();
    await loadPyodide({ indexURL: "${location.origin}/pyodide/" });
    postMessage(performance.now() - began);`;
  const worker = new Worker(URL.createObjectURL(new Blob([code], { type: "text/javascript" })), { type: "module" });
  return await new Promise((resolve, reject) => {
    worker.onmessage = (event) => { worker.terminate(); resolve(event.data); };
    worker.onerror = (event) => reject(new Error(event.message || "the bare worker did not start"));
  });
}"""
OWN_NAME = "Bench"
OWN_VERDICT = """(() => {
  const look = () => {
    if (!document.querySelector("#verdict .of")?.textContent.includes("OWN_NAME")) return requestAnimationFrame(look);
    const painted = new MessageChannel();
    painted.port1.onmessage = () => { window.ownVerdict ??= performance.now(); };
    requestAnimationFrame(() => painted.port2.postMessage(0));
  };
  if (location.pathname === "/") requestAnimationFrame(look);
})()""".replace("OWN_NAME", OWN_NAME)
ANSWERED = "() => performance.getEntriesByName('answer')[0]?.startTime ?? 0"
EDIT = """async (text) => {
  const field = document.getElementById("model-airframe");
  const place = document.getElementById("answer");
  window.longest ??= 0;
  window.watching ??= new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) window.longest = Math.max(window.longest, entry.duration);
  });
  window.watching.observe({ type: "longtask" });
  const began = performance.now();
  const done = new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error("no answer to an edit")), 10_000);
    new MutationObserver((_, observer) => { observer.disconnect(); resolve(performance.now() - began); })
      .observe(place, { subtree: true, childList: true, characterData: true, attributes: true });
  });
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  return await done;
}"""


class SlowHandler(serve.Handler):
    """Serves compressed, at a limited rate for all requests together: a first visit over a slow line."""

    line = threading.Lock()
    sent: dict[str, int]

    def do_GET(self) -> None:  # noqa: N802 - the base class names it so
        """Send a file compressed, in pieces that share the line."""
        path = Path(self.translate_path(self.path.split("?")[0]))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file():
            self.send_error(404)
            return
        body = _packed(path)
        self.sent[path.name] = self.sent.get(path.name, 0) + len(body)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(path)))
        if path.suffix != ".bin":
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        for start in range(0, len(body), 20_000):
            with self.line:
                time.sleep(len(body[start : start + 20_000]) / SLOW_BYTES_S)
            self.wfile.write(body[start : start + 20_000])


@lru_cache(maxsize=128)
def _packed(path: Path) -> bytes:
    return path.read_bytes() if path.suffix == ".bin" else gzip.compress(path.read_bytes(), 9)


@contextmanager
def _served(handler: Any) -> Iterator[str]:
    httpd = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=httpd.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{httpd.server_address[1]}/"
    httpd.shutdown()
    httpd.server_close()


def measure(site: Path) -> dict[str, float]:
    """Return the figures of a built site, from one run of Chromium."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=str(chromium.ensure()), args=[*chromium.launch_arguments(), "--enable-precise-memory-info"]
        )  # fmt: skip
        try:
            with _served(partial(serve.Handler, directory=str(site))) as address:
                return {**_starts(browser, address), **_edits(browser, address), **_first_visits(browser, site)}
        finally:
            browser.close()


def _starts(browser: Browser, address: str) -> dict[str, float]:
    """Return repeat visits beside bare loadPyodide(), alternating, files from the HTTP cache or the device.

    One visitor comes back to the example that the page was made with, one to a budget of their own.
    """
    guest, owner = _returning(browser, address), _returning(browser, address)
    owner.evaluate("document.getElementById('subject-budget').open = true")
    owner.fill("[name=name]", OWN_NAME)
    owner.wait_for_function(f"localStorage.getItem('thistledown.last')?.includes('{OWN_NAME}')")
    owner.evaluate("document.getElementById('subject-budget').open = false")
    owner.add_init_script(OWN_VERDICT)
    bare, ours, own, painted = [], [], [], []
    for _ in range(STARTS):
        owner.goto(address + "cautions.html")
        time.sleep(SETTLED)
        bare.append(float(owner.evaluate(BARE)))
        ours.append(_repeat_visit(guest, address))
        own.append(_repeat_visit(owner, address))
        painted.append(float(owner.evaluate("window.ownVerdict")))
        guest.goto(address + "cautions.html")
    guest.context.close()
    owner.context.close()
    return {
        "bare_loadPyodide_ms": median(bare),
        "repeat_visit_to_answer_ms": median(ours),
        "start_ratio": median(ours) / median(bare),
        "own_budget_to_answer_ms": median(own),
        "own_budget_ratio": median(own) / median(bare),
        "own_verdict_painted_ms": median(painted),
        "own_verdict_ratio": median(painted) / median(bare),
    }


def _returning(browser: Browser, address: str) -> Page:
    """Return a page of a visitor whose device keeps the site."""
    page = browser.new_context(bypass_csp=True).new_page()  # the bare worker is made of a text
    _visit(page, address)
    page.wait_for_selector("html[data-offline=ready]", timeout=120_000)
    return page


def _repeat_visit(page: Page, address: str) -> float:
    """Open the page and leave it alone until its answer is there; return when that was [ms after the visit began]."""
    time.sleep(SETTLED)
    page.goto(address, wait_until="commit")
    time.sleep(LOOKED)
    page.wait_for_selector("html[data-engine=ready]", timeout=180_000)
    return float(page.evaluate(ANSWERED))


def _visit(page: Page, address: str) -> float:
    """Open the page; return when its first computed answer stood there [ms after the visit began]."""
    page.goto(address)
    page.wait_for_selector("html[data-engine=ready]", timeout=180_000)
    return float(page.evaluate(ANSWERED))


def _edits(browser: Browser, address: str) -> dict[str, float]:
    """Return how long an edit takes to its answer with many rows, and the longest task of the main thread."""
    return {
        **_edited(browser, address, "edit_to_answer", ROWS),
        **_edited(browser, address, "edit_with_all_open", ROWS, all_open=True),
        **_edited(browser, address, "edit_with_60_rows", 60),
        **_edited(browser, address, "edit_beside_500_budgets", ROWS, beside=500),
    }


def _edited(
    browser: Browser, address: str, name: str, rows: int, *, all_open: bool = False, beside: int = 0
) -> dict[str, float]:  # fmt: skip
    """Return median and 95th percentile of edits; of the first kind what else is measured in that page."""
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    document = dict(demos()[0].document)
    document["gear"] = [dict(document["gear"][index % 5], name=f"part {index}") for index in range(rows)]
    page.add_init_script(
        f"const text = JSON.stringify({json.dumps(document)});"
        "localStorage.setItem('thistledown.budget.bench', text);"
        f"for (let n = 0; n < {beside}; n++) localStorage.setItem(`thistledown.budget.b${{n}}`, text);"
        "localStorage.setItem('thistledown.current', '\"bench\"');"
    )
    _visit(page, address)
    page.wait_for_selector(f"#gear-{rows - 1}-mass")
    if all_open:
        page.evaluate("document.querySelectorAll('details.subject').forEach((each) => { each.open = true; })")
    times = [float(page.evaluate(EDIT, f"{30 + index / 10} g")) for index in range(EDITS)]
    longest = float(page.evaluate("new Promise(done => setTimeout(() => done(window.longest), 300))"))
    memory = _worker_memory(page)
    logs = bench_log.measure(page) if name == "edit_to_answer" else {}
    context.close()
    found = {f"{name}_median_ms": median(times), f"{name}_p95_ms": quantiles(times, n=20)[-1]}
    if name != "edit_to_answer":
        return found
    # The longest is 0 where none was over 50 ms, the least that the browser reports.
    return {**found, "longest_main_task_ms": longest, "worker_memory_MB": memory, **logs}


def _worker_memory(page: Page) -> float:
    """Return the memory that the worker's wasm holds [MB], by its own account."""
    worker = page.workers[0]
    heap = worker.evaluate("() => pyodide._module.HEAPU8.length")
    return float(heap) / 1e6


def _first_visits(browser: Browser, site: Path) -> dict[str, float]:
    """Return first visits over a slow line, from the snapshot and the plain way, and what they fetch."""
    found: dict[str, float] = {}
    for name in ("snapshot", "plain"):
        sent: dict[str, int] = {}
        handler = type("Handler", (SlowHandler,), {"sent": sent})
        with _served(partial(handler, directory=str(site))) as address:
            context = browser.new_context(service_workers="block")
            page = context.new_page()
            if name == "plain":  # from the beginning: a snapshot that fails late would have been fetched in part
                page.route("**/*.bin", lambda route: route.fulfill(status=404))
            found[f"slow_first_visit_{name}_ms"] = _visit(page, address)
            if name == "snapshot":
                painted = "new Promise(d => new PerformanceObserver(l => d(l.getEntries().at(-1).startTime))"
                script = f"{painted}.observe({{type: 'largest-contentful-paint', buffered: true}}))"
                found["slow_first_visit_painted_ms"] = float(page.evaluate(script))
            context.close()
        found[f"first_visit_{name}_bytes"] = float(sum(sent.values()))
    bare = sum(len(_packed(path)) for path in [*(site / "pyodide").iterdir(), site / "app.zip"])
    found["bare_pyodide_and_packages_bytes"] = float(bare)
    found["first_visit_ratio"] = found["first_visit_snapshot_bytes"] / bare
    return found
