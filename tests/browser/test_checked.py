"""Each part of the program is checked by its hash: damaged copies on the device, and parts of another version."""

import lzma
import re
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from site_src.tools import chromium, editions, precache
from tests.browser.actions import fill_in, headline, start
from tests.browser.conftest import OpenPage
from tests.browser.test_offline import own_site, visited

__all__ = ["own_site"]  # a fixture

pytestmark = pytest.mark.browser
# One bit of a kept part is turned over, or it is another sound program.
DAMAGE = """async ([part, how]) => {
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      if (!new URL(request.url).pathname.includes(part)) continue;
      const answer = await cache.match(request);
      let bytes = new Uint8Array(await answer.arrayBuffer());
      if (how === "bit") bytes[Math.floor(bytes.length * 0.7)] ^= 4;
      else bytes = new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0]);
      await cache.put(request, new Response(bytes, { headers: answer.headers }));
    }
  }
}"""

DIGEST = "new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))"
HEX = f"{DIGEST}.reduce((text, byte) => text + byte.toString(16).padStart(2, 0), '')"
KEPT = f"""async (part) => {{
  const found = [];
  for (const name of await caches.keys()) {{
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {{
      if (!new URL(request.url).pathname.includes(part)) continue;
      const bytes = await (await cache.match(request)).arrayBuffer();
      found.push({HEX});
    }}
  }}
  return found;
}}"""
TINY = b"\0asm\1\0\0\0"  # the least sound program: a module with nothing in it
ANOTHER = "is damaged, or of another edition of this site: load the page anew"


def turned_over(packed: bytes) -> bytes:
    """Return a snapshot of which one bit is turned over, packed anew: the checks of xz find it in order."""
    words = bytearray(lzma.decompress(packed))
    words[len(words) * 7 // 10] ^= 4
    return lzma.compress(bytes(words), check=lzma.CHECK_CRC32, preset=0)


def flipped(route: Route) -> None:
    answer = route.fetch()
    route.fulfill(response=answer, body=turned_over(answer.body()))


def seen_by(page: Page) -> list[str]:
    """Return a list that fills with the names of the files that page and worker ask for."""
    seen: list[str] = []
    page.on("request", lambda request: seen.append(request.url.rsplit("/", 1)[-1]))
    return seen


@pytest.mark.parametrize(
    ("part", "how"),
    [
        pytest.param("/snapshot-", "bit", id="a bit of the snapshot"),
        pytest.param("/program-", "bit", id="a bit of the program"),
        pytest.param("/data-", "bit", id="a bit of its data"),
        pytest.param("/program-", "other", id="another sound program"),
    ],
)
def test_what_is_damaged_on_the_device_is_fetched_anew(
    part: str, how: str, open_page: OpenPage, site_url: str, built_site: Path
) -> None:  # fmt: skip
    """The good start goes on with it, and the device keeps the right one from then on."""
    page = visited(lambda **options: open_page(may_complain=True, **options), site_url)
    page.evaluate(DAMAGE, [part, how])
    seen: list[str] = []
    by_page = lambda request: None if request.service_worker else seen.append(request.url.rsplit("/", 1)[-1])  # noqa: E731
    page.context.on("request", by_page)
    start(page, site_url)
    fill_in(page, {"model.airframe": "36 g"})
    expect(headline(page)).to_contain_text("Over by 0.86 g")
    assert any(part.strip("/") in name for name in seen)
    assert "app.zip" not in seen
    right = [sound(built_site, part)]
    for _ in range(50):  # it is put there beside the answers
        if page.evaluate(KEPT, part) == right:
            break
        page.wait_for_timeout(100)
    assert page.evaluate(KEPT, part) == right
    page.context.set_offline(True)
    start(page, site_url)


def sound(built_site: Path, part: str) -> str:
    """Return the SHA-256 of what a part holds: so it is kept."""
    (path,) = built_site.glob(f"{part.strip('/')}*.bin")
    return editions.unpacked_sums(path)[0]


def test_a_snapshot_with_a_bit_turned_over_is_not_used(open_page: OpenPage, site_url: str) -> None:
    """Asked for again past the caches; as it stays so, Python starts the plain way."""
    page = open_page(may_complain=True)
    page.route("**/snapshot-*.bin", flipped)
    seen = seen_by(page)
    start(page, site_url)
    fill_in(page, {"model.airframe": "36 g"})
    expect(headline(page)).to_contain_text("Over by 0.86 g")
    assert sum(name.startswith("snapshot-") for name in seen) == 2
    assert "app.zip" in seen


def test_a_snapshot_damaged_once_is_asked_for_again(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.route("**/snapshot-*.bin", flipped, times=1)
    seen = seen_by(page)
    start(page, site_url)
    assert sum(name.startswith("snapshot-") for name in seen) == 2
    assert "app.zip" not in seen


def test_a_program_that_stays_another_one_is_told(open_page: OpenPage, site_url: str) -> None:
    """Sound, but not the program: Pyodide would wait for ever."""
    page = open_page(may_complain=True)
    page.route("**/program-*.bin", lambda route: route.fulfill(body=lzma.compress(TINY)))
    page.route("**/pyodide.asm.wasm", lambda route: route.fulfill(body=TINY, content_type="application/wasm"))
    page.goto(site_url)
    expect(page.locator("#engine")).to_contain_text(f"pyodide/pyodide.asm.wasm {ANOTHER}")
    expect(page.locator("html")).to_have_attribute("data-engine", "failed")


@pytest.mark.parametrize("part", [part for part in editions.PARTS if not part.endswith(".wasm")])
def test_the_plain_start_takes_no_part_that_is_damaged(part: str, open_page: OpenPage, site_url: str) -> None:
    page = open_page(may_complain=True)
    page.route("**/snapshot-*.bin", lambda route: route.fulfill(status=404))

    def damaged(route: Route) -> None:
        answer = route.fetch()
        route.fulfill(response=answer, body=answer.body() + b" ")  # still sound as JSON, and as an archive

    page.route(f"**/{part}", damaged)
    page.goto(site_url)
    expect(page.locator("#engine")).to_contain_text(f"{part} {ANOTHER}")


def program_of(built_site: Path) -> str:
    (program,) = built_site.glob("program-*.bin")
    return program.name


def other_version(page: Page, built_site: Path, folder: Path) -> None:
    """Let the host hold another version's archive, which would answer otherwise, and no snapshot."""
    with zipfile.ZipFile(built_site / "app.zip") as archive, zipfile.ZipFile(folder / "app.zip", "w") as changed:
        for name in archive.namelist():
            changed.writestr(name, archive.read(name))
    page.route("**/snapshot-*.bin", lambda route: route.fulfill(status=404))
    page.route("**/app.zip", lambda route: route.fulfill(path=folder / "app.zip"))


def test_the_sums_of_another_version_are_not_taken(
    open_page: OpenPage, site_url: str, built_site: Path, tmp_path: Path
) -> None:
    page = open_page(may_complain=True)
    other_version(page, built_site, tmp_path)
    page.goto(site_url)
    expect(page.locator("html")).to_have_attribute("data-engine", "failed", timeout=60_000)
    expect(page.locator("#engine")).to_contain_text(f"app.zip {ANOTHER}")


@pytest.fixture
def unsafe(browser: Browser, site_url: str) -> Iterator[tuple[Callable[[], Page], str]]:
    """Yield a function that opens a page of a host that is no secure context, and the site's address there."""
    rule = "--host-resolver-rules=MAP club.test 127.0.0.1"
    arguments = [*chromium.launch_arguments(), "--js-flags=--liftoff-only", rule]
    other = browser.browser_type.launch(executable_path=str(chromium.ensure()), args=arguments)
    yield other.new_page, f"http://club.test:{urlsplit(site_url).port}/"
    other.close()


def test_on_plain_http_a_sum_of_all_bytes_finds_damage(
    unsafe: tuple[Callable[[], Page], str], built_site: Path
) -> None:  # fmt: skip
    opened, address = unsafe
    page = opened()
    seen = seen_by(page)
    start(page, address)
    assert page.evaluate("[isSecureContext, 'caches' in self, typeof crypto.subtle]") == [False, False, "undefined"]
    assert "app.zip" not in seen
    assert [name for name in seen if "asm.wasm" in name or "program-" in name] == [program_of(built_site)]
    (snapshot,) = built_site.glob("snapshot-*.bin")
    body = turned_over(snapshot.read_bytes())
    page.route("**/snapshot-*.bin", lambda route: route.fulfill(body=body))
    start(page, address)
    assert "app.zip" in seen
    page.route("**/pyodide.asm.wasm", lambda route: route.fulfill(body=TINY, content_type="application/wasm"))
    page.goto(address)
    expect(page.locator("#engine")).to_contain_text(f"pyodide/pyodide.asm.wasm {ANOTHER}")


@pytest.mark.parametrize("what", ["page", "worker"])
def test_a_page_and_sums_of_different_editions_do_not_go_together(
    what: str, open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    page = open_page(may_complain=True)

    def changed(route: Route) -> None:
        answer = route.fetch()
        edition = re.search(r'data-edition="(\w+)"', page.request.get(site_url).text())
        assert edition
        assert edition[1] in answer.text()
        route.fulfill(response=answer, body=answer.text().replace(edition[1], "another"))

    page.route(site_url if what == "page" else "**/worker.mjs", changed, times=1)
    page.goto(site_url)
    expect(page.locator("#engine")).to_contain_text("this page and its sums are of different editions of this site")
    expect(page.locator("html")).to_have_attribute("data-engine", "failed")
    start(page, site_url)


def test_a_page_whose_sums_are_gone_from_the_host_is_offered_the_newer_edition(
    open_page: OpenPage, own_site: tuple[Path, str]
) -> None:  # fmt: skip
    """Kept after one visit, without what only the plain start needs; then another edition, and a damaged snapshot."""
    folder, address = own_site
    page = visited(lambda **options: open_page(own=address, may_complain=True, **options), address)
    old = re.search(r'data-edition="(\w+)"', (folder / "index.html").read_text(encoding="utf-8"))
    assert old
    for path in (*folder.glob("*.html"), *folder.glob("*.mjs")):
        path.write_text(path.read_text(encoding="utf-8").replace(old[1], "another"), encoding="utf-8")
    other_version_of(folder)
    precache.write(folder)
    page.evaluate(DAMAGE, ["/snapshot-", "bit"])
    page.goto(address)
    expect(page.locator("#engine")).to_contain_text(f"app.zip {ANOTHER}")
    page.click("#new-version button")
    expect(page.locator("html[data-edition=another]")).to_have_attribute("data-engine", "ready")


def other_version_of(folder: Path) -> None:
    """Change the archive and the name of the snapshot, as another edition would."""
    before = editions.sums(folder / "app.zip")
    with zipfile.ZipFile(folder / "app.zip", "a") as archive:
        archive.writestr("newer.txt", "")
    after = editions.sums(folder / "app.zip")
    for path in folder.glob("*.mjs"):
        text = path.read_text(encoding="utf-8").replace(before[0], after[0]).replace(str(before[1]), str(after[1]))
        path.write_text(text.replace("snapshot-", "snapshot-0"), encoding="utf-8")
    (snapshot,) = folder.glob("snapshot-*.bin")
    snapshot.rename(folder / snapshot.name.replace("snapshot-", "snapshot-0"))
