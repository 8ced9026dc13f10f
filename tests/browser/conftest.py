"""A real Chromium on the built site; a page that complains or calls elsewhere fails its test."""

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from site_src.tools import chromium, serve

OpenPage = Callable[..., Page]
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
            executable_path=str(chromium.ensure()), args=chromium.launch_arguments()
        )  # fmt: skip
        yield launched
        launched.close()


@pytest.fixture
def open_page(browser: Browser, site_url: str) -> Iterator[OpenPage]:
    """Yield a function of width, height and context options that opens a page in a context of its own."""
    complaints: list[str] = []
    contexts = []

    def open_one(width: int = 1280, height: int = 900, **options: Any) -> Page:
        context = browser.new_context(viewport={"width": width, "height": height}, **options)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(30_000)
        page.on(
            "console", lambda m: complaints.append(f"console: {m.text}") if m.type in ("error", "warning") else None
        )
        page.on("pageerror", lambda error: complaints.append(f"page: {error}"))
        page.on(
            "request",
            lambda r: (
                None if r.url.startswith((site_url, "blob:", "data:")) else complaints.append(f"elsewhere: {r.url}")
            ),
        )
        return page

    yield open_one
    for context in contexts:
        context.close()
    assert complaints == []
