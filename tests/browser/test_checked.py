"""Each part of the program is checked by its hash: damaged copies on the device, and parts of another version."""

import zipfile
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.actions import fill_in, headline, start
from tests.browser.conftest import OpenPage
from tests.browser.test_offline import visited

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


@pytest.mark.parametrize(
    ("part", "how"),
    [
        pytest.param("/snapshot-", "bit", id="a bit of the snapshot"),
        pytest.param("/pyodide.asm.wasm", "bit", id="a bit of the program"),
        pytest.param("/pyodide.asm.wasm", "other", id="another sound program"),
    ],
)
def test_what_is_damaged_on_the_device_is_fetched_anew(
    part: str, how: str, open_page: OpenPage, site_url: str
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
    seen.clear()
    start(page, site_url)
    assert "app.zip" not in seen


def test_a_snapshot_that_stays_damaged_goes_the_plain_way(open_page: OpenPage, site_url: str) -> None:
    page = open_page(may_complain=True)
    asked: list[Route] = []

    def damaged(route: Route) -> None:
        asked.append(route)
        answer = route.fetch()
        body = bytearray(answer.body())
        body[100] ^= 1
        route.fulfill(response=answer, body=bytes(body))

    page.route("**/snapshot-*.bin", damaged)
    start(page, site_url)
    expect(headline(page)).to_contain_text("Fits")
    assert len(asked) == 2


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
    expect(page.locator("#engine")).to_contain_text("app.zip is damaged, or of another version of this site")


def test_where_the_browser_counts_no_hashes_it_starts_all_the_same(open_page: OpenPage, site_url: str) -> None:
    """As on http without a secure context: nothing is checked there, as before."""
    page = open_page()
    page.add_init_script("Object.defineProperty(Crypto.prototype, 'subtle', { get: () => undefined });")
    page.route(
        "**/restore.mjs",
        lambda route: route.fulfill(
            content_type="text/javascript",
            body="Object.defineProperty(Crypto.prototype, 'subtle', { get: () => undefined });" + route.fetch().text(),
        ),
    )
    start(page, site_url)
    expect(headline(page)).to_contain_text("Fits")
