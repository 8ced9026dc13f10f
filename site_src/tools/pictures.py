"""The pictures of the README and the preview that a link shows, taken from the built site by a real Chromium."""

import io
import threading
from collections.abc import Callable
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from site_src.tools import chromium, serve
from site_src.tools.environment import ROOT, SITE_SRC

FOLDER = SITE_SRC / "pictures"
PREVIEW = SITE_SRC / "static" / "preview.png"
COLOURS = 96  # of a picture: few are enough for a drawing, and the file stays small
A4_PX = (794, 1123)  # at 96 px to the inch
ONLY_THE_VERDICT = """
  html { font-size: 25px; }
  body { min-height: 630px; display: grid; align-content: center; }
  .top { border: 0; padding-block: 0; }
  .top nav, .foot, .bar, figcaption { display: none !important; }
  .brand { font-size: 1.5rem; }
  .seed { width: 2.2rem; height: 2.2rem; }
  main > *:not(.desk):not(.first-step), .first-step > *:not(.job) { display: none !important; }
  #answer > *:not(#verdict), #changes, #more { display: none !important; }
  .subject:not(#subject-weights), .subject > summary, .asked, #weights > *:not(figure) { display: none !important; }
  .first-step { display: block; }
  .job { font-size: 1.7rem; margin: 0.3rem 0 1rem; }
  #answer { display: block; position: static; }
  .subject { border: 0; background: none; }
  .subject > .pair { padding: 0; }
  main { max-width: none; padding-bottom: 0; }
  .headline { position: static; }
  .sheet { margin: 0; padding-bottom: 0.4rem; }
  svg text { font-size: 0.8rem; }
  .strip text.scale { font-size: 0.7rem; }
"""


def main(_: list[str]) -> int:
    """Take every picture anew from `_site/`; returns 0."""
    httpd = serve.server(ROOT / "_site", 0)
    threading.Thread(target=httpd.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{httpd.server_address[1]}/"
    FOLDER.mkdir(exist_ok=True)
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=str(chromium.ensure()), args=chromium.launch_arguments()
            )  # fmt: skip
            for path, (size, take) in PICTURES.items():
                _save(path, _taken(browser, address, size, take))
            browser.close()
    finally:
        httpd.shutdown()
        httpd.server_close()
    return 0


def _taken(browser: Browser, address: str, size: tuple[int, int], take: Callable[[Page, str], None]) -> bytes:
    """Return a picture of a page that was brought into a state."""
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, color_scheme="light", service_workers="block", bypass_csp=True
    )  # fmt: skip
    page = context.new_page()
    take(page, address)
    page.wait_for_timeout(300)
    picture = page.screenshot()
    context.close()
    return picture


def _save(path: Path, picture: bytes) -> None:
    image = Image.open(io.BytesIO(picture)).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
    image.save(path, optimize=True)
    print(f"{path.relative_to(ROOT)}: {image.width} × {image.height}, {path.stat().st_size / 1000:.0f} kB", flush=True)


def _started(page: Page, address: str) -> None:
    page.goto(address)
    page.wait_for_selector("html[data-engine=ready]", timeout=60_000)


def _phone(page: Page, address: str) -> None:
    _started(page, address)
    page.select_option("#examples", "reed-bunting.json")
    page.wait_for_selector("#verdict.verdict-over")
    page.click("#bar")


def _why(page: Page, address: str) -> None:
    _started(page, address)
    page.click("#subject-power > summary")
    page.click("#power [data-why='mean']")
    page.wait_for_selector("#why-power .asked")
    page.locator("#why-power").evaluate("each => each.scrollIntoView({ block: 'start' })")


def _finder(page: Page, address: str) -> None:
    _started(page, f"{address}finder.html")


def _sheet(page: Page, address: str) -> None:
    _started(page, address)
    page.emulate_media(media="print")
    page.wait_for_timeout(1500)  # the sheet is written once the typing pauses
    page.add_style_tag(content="@media print { html { padding: 8mm 10mm; background: #fff; } }")


def _preview(page: Page, address: str) -> None:
    _started(page, address)
    page.add_style_tag(content=ONLY_THE_VERDICT)


PICTURES: dict[Path, tuple[tuple[int, int], Callable[[Page, str], None]]] = {
    FOLDER / "budget.png": ((1280, 860), _started),
    FOLDER / "phone.png": ((390, 800), _phone),
    FOLDER / "why.png": ((390, 800), _why),
    FOLDER / "finder.png": ((1000, 760), _finder),
    FOLDER / "sheet.png": (A4_PX, _sheet),
    PREVIEW: ((1200, 630), _preview),
}
