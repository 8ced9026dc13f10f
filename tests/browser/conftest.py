"""A real Chromium on the built site; a page that complains or calls elsewhere fails its test."""

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, expect, sync_playwright

from site_src.tools import chromium, serve

OpenPage = Callable[..., Page]
SHORT_LIVED = (  # pages here are gone before wasm compiled better would repay the work, and nobody looks at them
    "--js-flags=--liftoff-only,--wasm-lazy-compilation,--wasm-lazy-validation",
    "--disable-gpu", "--disable-software-rasterizer",
)  # fmt: skip
expect.set_options(timeout=30_000)  # a busy machine may take that long to start Python


@pytest.fixture(scope="session")
def site_url(built_site: Path) -> Iterator[str]:
    """Yield the address of the served site."""
    httpd = serve.server(built_site, 0)
    thread = threading.Thread(target=httpd.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{httpd.server_address[1]}/"
    httpd.shutdown()
    httpd.server_close()
    thread.join(timeout=5)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Yield Chromium."""
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(
            executable_path=str(chromium.ensure()), args=[*chromium.launch_arguments(), *SHORT_LIVED]
        )  # fmt: skip
        yield launched
        launched.close()


def _complains(message: ConsoleMessage) -> bool:
    """Return whether a message of the console is a complaint of the page, not of the test's own blocking."""
    return message.type in ("error", "warning") and "registration blocked by Playwright" not in message.text


@pytest.fixture
def open_page(browser: Browser, site_url: str) -> Iterator[OpenPage]:
    """Yield a function of width, height and context options that opens a page in a context of its own."""
    complaints: list[str] = []
    contexts = []

    def open_one(width: int = 1280, height: int = 900, **options: Any) -> Page:
        home = options.pop("own", site_url)  # a site of the test's own
        into = [] if options.pop("may_complain", False) else complaints
        options.setdefault("service_workers", "block")  # what is kept on the device has tests of its own
        context = browser.new_context(viewport={"width": width, "height": height}, **options)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(30_000)
        page.on("console", lambda m: into.append(f"console: {m.text}") if _complains(m) else None)
        page.on("pageerror", lambda error: into.append(f"page: {error}"))
        at_home = (home, "blob:", "data:")
        page.on("request", lambda r: None if r.url.startswith(at_home) else complaints.append(f"elsewhere: {r.url}"))
        return page

    yield open_one
    for context in contexts:
        for page in context.pages:
            page.unroute_all(behavior="ignoreErrors")  # a request that comes as the page goes is nobody's fault
        context.close()
    assert complaints == []
