"""After one visit the site is on the device: it works without network, and a new version never mixes with the old."""

import json
import re
import shutil
import threading
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from site_src.tools import precache, serve
from tests.browser.actions import fill_in, headline, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser


def visited(open_page: OpenPage, address: str) -> Page:
    """Return a page whose site is kept on the device."""
    page = start(open_page(service_workers="allow"), address)
    expect(page.locator("html")).to_have_attribute("data-offline", "ready")
    return page


def test_with_the_network_cut_everything_works(open_page: OpenPage, site_url: str) -> None:
    page = visited(open_page, site_url)
    fill_in(page, {"name": "Dunlin", "model.airframe": "36 g"})
    expect(headline(page)).to_contain_text("Over by 0.86 g")
    address = page.input_value("#link")
    page.context.set_offline(True)
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-engine", "ready")
    expect(page.locator("[name='name']")).to_have_value("Dunlin")
    fill_in(page, {"model.airframe": "33 g"})
    expect(headline(page)).to_contain_text("Fits")
    expect(page.locator("#link")).to_have_value(re.compile("#b="))
    page.select_option("#examples", "gnat.json")
    expect(page.locator("[name='name']")).to_have_value("Gnat")
    for name in ("classes.html", "method.html", "cautions.html"):
        page.goto(site_url + name)
        expect(page.locator("h1")).to_be_visible()
    for name in ("box.html", "finder.html", "fits.html", "compare.html", "stock.html"):
        start(page, site_url + name)
    page.goto(address)
    expect(page.locator("#shared")).to_contain_text("Dunlin")
    expect(headline(page)).to_contain_text("Over by 0.86 g")
    page.emulate_media(media="print")
    expect(page.locator(".print-sheet .ps-verdict")).to_contain_text("Over by 0.86 g")
    expect(page.locator("#tools")).to_be_hidden()
    assert page.pdf()[:5] == b"%PDF-"


def test_the_list_names_every_file(built_site: Path) -> None:
    text = (built_site / "precache.js").read_text(encoding="utf-8")
    listed = json.loads(text[text.index("{") : text.rindex("}") + 1])
    names = {name for name, _ in listed["FILES"] + listed["SPARE"]}
    found = {path.relative_to(built_site).as_posix() for path in built_site.rglob("*") if path.is_file()}
    of_programs = {"budget.schema.json", "box.schema.json"}  # no page reads them
    assert names == found - {"sw.js", "precache.js", "preview.png"} - of_programs
    assert {name for name, _ in listed["SPARE"]} == set(precache.SPARE)


@pytest.fixture
def own_site(built_site: Path, tmp_path: Path) -> Iterator[tuple[Path, str]]:
    """Yield a copy of the site that a test may change, in a sub-folder, and its address."""
    folder = tmp_path / "clubs" / "planner"
    shutil.copytree(built_site, folder)
    httpd = serve.server(tmp_path, 0)
    thread = threading.Thread(target=httpd.serve_forever, daemon=True)
    thread.start()
    yield folder, f"http://127.0.0.1:{httpd.server_address[1]}/clubs/planner/"
    httpd.shutdown()
    httpd.server_close()
    thread.join(timeout=5)


def publish(folder: Path, words: str) -> None:
    """Change the site as a new build would: another heading, a new list."""
    page = folder / "index.html"
    page.write_text(page.read_text(encoding="utf-8").replace("Does this radio", words), encoding="utf-8")
    precache.write(folder)


def test_a_new_version_is_announced_and_used_when_asked_for(
    open_page: OpenPage, own_site: tuple[Path, str]
) -> None:  # fmt: skip
    folder, address = own_site
    page = visited(lambda **options: open_page(own=address, **options), address)
    fill_in(page, {"name": "Dunlin"})
    publish(folder, "Will this radio")
    page.reload()
    expect(page.locator("h1")).to_contain_text("Does this radio")  # the old one until it is asked for
    expect(page.locator("#new-version")).to_contain_text("A new version of this site is ready")
    page.click("#new-version button")
    expect(page.locator("h1")).to_contain_text("Will this radio")
    expect(page.locator("[name='name']")).to_have_value("Dunlin")
    assert len(page.evaluate("caches.keys()")) == 1


def test_a_version_that_is_only_half_there_is_not_used(open_page: OpenPage, own_site: tuple[Path, str]) -> None:
    """As in the middle of an upload: the list is new, a file is not yet."""
    folder, address = own_site
    page = visited(lambda **options: open_page(own=address, **options), address)
    old = (folder / "index.html").read_text(encoding="utf-8")
    publish(folder, "Will this radio")
    (folder / "index.html").write_text(old, encoding="utf-8")
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-engine", "ready")
    page.wait_for_timeout(1500)
    expect(page.locator("#new-version")).to_be_hidden()
    page.context.set_offline(True)
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-engine", "ready")
    expect(page.locator("h1")).to_contain_text("Does this radio")


def test_the_site_can_be_installed(open_page: OpenPage, site_url: str) -> None:
    """What a browser asks of a web app: a manifest with names, a start, a display and icons of 192 and 512."""
    page = start(open_page(), site_url)
    manifest = page.evaluate("fetch(document.querySelector('link[rel=manifest]').href).then(a => a.json())")
    assert {"name", "short_name", "start_url", "display", "icons"} <= set(manifest)
    sizes = page.evaluate(
        """manifest => Promise.all(manifest.icons.filter(icon => icon.type === "image/png").map(async (icon) => {
          const image = new Image(); image.src = icon.src; await image.decode();
          return `${image.naturalWidth}x${image.naturalHeight}` === icon.sizes && image.naturalWidth; }))""",
        manifest,
    )
    assert sizes == [192, 512]


class Dropping(serve.Handler):
    """A host that sends whoever asks for `finder.html` to `finder`, and serves that; `index.html` to its folder."""

    def do_GET(self) -> None:  # noqa: N802 - the base class calls it so
        """Send to the bare name, or serve the file behind it."""
        path = self.path.split("?", maxsplit=1)[0]
        if path.endswith(".html"):
            self.send_response(301)
            self.send_header("Location", path.removesuffix("index.html" if path.endswith("/index.html") else ".html"))
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        if "." not in path.rsplit("/", 1)[-1] and not path.endswith("/"):
            self.path = f"{path}.html"
        super().do_GET()


@pytest.fixture
def dropping_site(built_site: Path, tmp_path: Path) -> Iterator[str]:
    """Yield the address of the site in a sub-folder of a host that drops `.html`."""
    (tmp_path / "clubs").mkdir()
    (tmp_path / "clubs" / "planner").symlink_to(built_site, target_is_directory=True)
    httpd = serve.Server(("127.0.0.1", 0), partial(Dropping, directory=str(tmp_path)))
    thread = threading.Thread(target=httpd.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{httpd.server_address[1]}/clubs/planner/"
    httpd.shutdown()
    httpd.server_close()
    thread.join(timeout=5)


@pytest.mark.parametrize("first", ["", "index.html", "index"])
def test_a_host_that_drops_html_serves_the_second_visit_too(
    first: str, open_page: OpenPage, dropping_site: str
) -> None:  # fmt: skip
    """A page may not be opened with an answer that came by a redirect: it is kept as if it had come straight."""
    page = visited(lambda **options: open_page(own=dropping_site, **options), dropping_site + first)
    for offline in (False, True):
        page.context.set_offline(offline)
        for name in ("", "index.html", "index", "cautions.html", "cautions", "stock", "stock.html"):
            answer = page.goto(dropping_site + name)
            assert answer
            assert answer.ok, name
            expect(page.locator("h1, #stock-form").first).to_be_visible()


def test_two_copies_on_one_host_leave_each_other_s_files_alone(
    open_page: OpenPage, built_site: Path, tmp_path: Path
) -> None:
    """One below the other's folder, of different versions; the older edition's caches go with their own copy."""
    shutil.copytree(built_site, tmp_path, dirs_exist_ok=True)
    shutil.copytree(built_site, tmp_path / "club")
    publish(tmp_path / "club", "Will this radio")
    httpd = serve.server(tmp_path, 0)
    threading.Thread(target=httpd.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{httpd.server_address[1]}/"
    page = open_page(own=address, service_workers="allow")
    page.goto(address + "method.html")
    page.evaluate("""async () => {
      for (const [letter, path] of [["a", "/"], ["b", "/club/"], ["c", "/other/"]]) {
        await (await caches.open(`thistledown-${letter.repeat(16)}`)).put(`${path}index.html?x`, new Response("old"));
      }
    }""")
    for each in (address, f"{address}club/"):
        start(page, each)
        expect(page.locator("html")).to_have_attribute("data-offline", "ready")
    names = page.evaluate("caches.keys()")
    assert sorted(re.sub("(?<=:)[0-9a-f]{16}$", "", name) for name in names) == [
        "thistledown-" + "c" * 16, "thistledown:/:", "thistledown:/club/:",
    ]  # fmt: skip
    httpd.shutdown()
    httpd.server_close()
    page.context.set_offline(True)
    for each, words in ((address, "Does this radio"), (f"{address}club/", "Will this radio")):
        start(page, each)
        expect(page.locator("h1")).to_contain_text(words)


def test_caches_that_were_deleted_are_filled_again(open_page: OpenPage, site_url: str) -> None:
    page = visited(open_page, site_url)
    (name,) = page.evaluate("caches.keys()")
    keys = "name => caches.open(name).then((cache) => cache.keys()).then((keys) => keys.map(({url}) => url))"
    before = set(page.evaluate(keys, name))
    page.evaluate("name => caches.delete(name)", name)
    page.reload()
    for _ in range(300):
        if before <= set(page.evaluate(keys, name)):  # not their number: what the plain start needs comes besides
            break
        page.wait_for_timeout(100)
    assert before <= set(page.evaluate(keys, name))
    page.context.set_offline(True)
    start(page, site_url + "stock.html")
