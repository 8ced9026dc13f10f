"""What leaves the page and comes to it: QR code, share sheet, files; the sheet for the field box is in test_print."""

import io
import json
from pathlib import Path
from typing import Any

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.actions import ROWS, choose_budget, fill_in, press, start
from tests.browser.conftest import OpenPage
from tests.browser.test_readers import violations
from tests.support import HEADLINE, SITE_SRC

pytestmark = pytest.mark.browser


def read_code(page: Page) -> str:
    """Return what another program reads in a picture of the QR code on the screen."""
    expect(page.locator("#qr-panel")).to_have_attribute("aria-busy", "false")
    picture = Image.open(io.BytesIO(page.locator("#qr-panel svg").screenshot()))
    (read,) = zxingcpp.read_barcodes(picture)
    return str(read.text)


def test_the_qr_code_holds_the_link(open_page: OpenPage, site_url: str) -> None:
    """On a phone, in light and dark, after an edit; from the snapshot, which keeps the encoder packed."""
    page = open_page(390, 844, device_scale_factor=3, bypass_csp=True)
    plain: list[str] = []
    page.on("request", lambda request: plain.append(request.url) if "app.zip" in request.url else None)
    start(page, site_url)
    toggle = page.locator("#qr-toggle")
    press(page, "#qr-toggle")
    expect(toggle).to_have_attribute("aria-expanded", "true")
    assert read_code(page) == page.input_value("#link")
    assert violations(page) == []
    page.emulate_media(color_scheme="dark")
    before = page.input_value("#link")
    fill_in(page, {"name": "Kittiwake & Söhne"})
    expect(page.locator("#link")).not_to_have_value(before)
    assert read_code(page) == page.input_value("#link")
    assert violations(page) == []
    toggle.click()
    expect(page.locator("#qr-panel")).to_be_hidden()
    long = "".join(f"{(index * 7919 + 13) ** 3 % 10**9}" for index in range(500))
    page.evaluate("text => { document.getElementById('name').removeAttribute('maxlength'); }", long)
    fill_in(page, {"name": long})
    expect(page.locator("#name-problem")).not_to_be_empty()
    toggle.click()
    expect(page.locator("#qr-panel")).to_contain_text("a QR code holds at most 2953")
    assert plain == []


def test_the_device_s_share_sheet_gets_name_verdict_and_link(open_page: OpenPage, site_url: str) -> None:
    """Where there is none, there is no button; where it refuses, a sentence; where the visitor does, nothing."""
    page = open_page()
    page.add_init_script("delete Navigator.prototype.share;")
    start(page, site_url)
    expect(page.locator("#share-sheet")).to_be_hidden()
    page.add_init_script(
        "window.shared = []; Navigator.prototype.share = (data) => { window.shared.push(data);"
        " return window.refuse ? Promise.reject(new DOMException('no', window.refuse)) : Promise.resolve(); };"
    )
    start(page, site_url)
    press(page, "#share-sheet")
    assert page.evaluate("window.shared[0]") == {
        "title": "Sedge Wren: Thistledown",
        "text": HEADLINE,
        "url": page.input_value("#link"),
    }
    page.evaluate("window.refuse = 'AbortError'")
    press(page, "#share-sheet")
    expect(page.locator("#copied")).to_be_empty()
    page.evaluate("window.refuse = 'NotAllowedError'")
    press(page, "#share-sheet")
    expect(page.locator("#copied")).to_contain_text("did not open: copy the link instead")


def drop(page: Page, name: str, text: str) -> None:
    """Drag a file over the page, see the hint, and drop it."""
    transfer: Any = page.evaluate_handle(
        "([name, text]) => { const data = new DataTransfer(); data.items.add(new File([text], name)); return data; }",
        [name, text],
    )
    page.dispatch_event("#part-gear", "dragover", {"dataTransfer": transfer})
    expect(page.locator("#drop-hint")).to_be_visible()
    page.dispatch_event("#part-gear", "drop", {"dataTransfer": transfer})
    expect(page.locator("#drop-hint")).to_be_hidden()


def test_gear_as_csv_and_files_dropped_on_the_page(open_page: OpenPage, site_url: str, tmp_path: Path) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"gear.0.name": "=1+1"})
    expect(page.locator("#gear-0-told")).to_contain_text("=1+1")
    with page.expect_download() as caught:
        press(page, "#save-csv")
    assert caught.value.suggested_filename == "sedge-wren-gear.csv"
    caught.value.save_as(tmp_path / "gear.csv")
    text = (tmp_path / "gear.csv").read_text(encoding="utf-8")
    assert "\nreceiver,'=1+1,1.4,weighed," in text

    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    drop(page, "gear.csv", text)
    expect(page.locator(ROWS)).to_have_count(5)
    expect(page.locator("#undo")).to_contain_text("5 parts are added to the gear; the cell is in its place.")
    expect(page.locator("#gear-foot [data-why='gear']")).to_have_text("7.86 g")
    page.click("[data-do='undo']")
    expect(page.locator(ROWS)).to_have_count(2)
    expect(page.locator("[name='cell.mass']")).to_have_value("")

    fill_in(page, {"name": "Own work"})
    for name, wrong, said in (
        ("photo.jpg", "\x00\x01 no table", "names no column of a box"),
        ("broken.json", "{", "This is not JSON text."),
        ("box.json", '{"parts": []}', "This is a box of parts"),
    ):
        drop(page, name, wrong)
        expect(page.locator("#trouble")).to_contain_text(said)
        expect(page.locator("[name='name']")).to_have_value("Own work")
        expect(page.locator(ROWS)).to_have_count(2)
    gnat = (SITE_SRC / "demo" / "gnat.json").read_text(encoding="utf-8")
    drop(page, "gnat.json", gnat)
    expect(page.locator("[name='name']")).to_have_value(json.loads(gnat)["name"])
    choose_budget(page, "Own work")
    expect(page.locator("[name='name']")).to_have_value("Own work")
