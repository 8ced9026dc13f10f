"""The sheet for the field box, as Chromium prints it: one page, all that the assessment says, never an old one."""

import io
import json
import re
import unicodedata
from collections.abc import Callable
from typing import Any

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from calc.assess import assess
from calc.data import as_json
from calc.document.budget import read
from tests.browser.actions import fill_in, press, start
from tests.browser.conftest import OpenPage
from tests.support import HEADLINE, demo_documents

pytestmark = pytest.mark.browser
PAPERS = ("A4", "Letter")
STALE = "nothing old stands here"


def printed(page: Page, paper: str = "A4") -> tuple[str, int]:
    """Return the text that is printed, in one line, and how many pages it takes."""
    pdf = PdfReader(io.BytesIO(page.pdf(format=paper)))
    text = unicodedata.normalize("NFKC", " ".join(each.extract_text() for each in pdf.pages))  # no ligatures
    return re.sub(r"\s+", " ", text), len(pdf.pages)


def with_rows(count: int) -> dict[str, Any]:
    """Return an example with everything in it and so many rows of gear, names as long as the examples' own."""
    document = demo_documents()["sedge-wren.json"]
    kinds = ("altimeter", "tracker", "timer", "switch", "wiring", "mount")
    for number in range(len(document["gear"]) + 1, count + 1):
        kind = kinds[number % 6]
        row = {"kind": kind, "name": f"{kind} {number}, from the drawer", "mass": f"0.{number % 9 + 1} g"}
        document["gear"].append({**row, "known_by": ("maker", "guess")[number % 2], "station": f"{60 + 7 * number} mm"})
    document["balance"]["target"] = "150 mm"
    document["session"]["flights"] = 30
    document["cell"]["charge_current"] = "50 mA"
    return document


def opened(page: Page, document: dict[str, Any]) -> Page:
    """Open a budget as a file and have its sheet drawn, with its code, without the print dialogue."""
    page.set_input_files(
        "#file", {"name": "b.json", "mimeType": "application/json", "buffer": json.dumps(document).encode()}
    )
    expect(page.locator("[name='name']")).to_have_value(document["name"])
    asked_to_print(page, lambda: page.click("#print"))
    return page


def asked_to_print(page: Page, ask: Callable[[], None]) -> None:
    """Ask for print in some way, and wait until the browser is asked for it."""
    page.evaluate("() => { window.prints = 0; window.print = () => { window.prints += 1; }; }")
    ask()
    page.wait_for_function("window.prints === 1")


def test_on_narrow_paper_every_name_stays_whole(open_page: OpenPage, site_url: str) -> None:
    """A5, which many a field box takes: one column, no name broken into letters."""
    page = start(open_page(bypass_csp=True), site_url)
    asked_to_print(page, lambda: page.click("#print"))
    text, pages = printed(page, "A5")
    assert pages <= 3
    for row in demo_documents()["sedge-wren.json"]["gear"]:
        assert row["name"] in text


def test_one_page_says_what_the_assessment_says(open_page: OpenPage, site_url: str) -> None:
    """On A4 and Letter, up to twelve rows; another program reads the code on it; forty rows lose no row."""
    page = start(open_page(bypass_csp=True, color_scheme="dark"), site_url)
    wren = demo_documents()["sedge-wren.json"]
    asked_to_print(page, lambda: page.click("#print"))
    found = as_json(assess(read(wren).budget))
    for paper in PAPERS:
        text, pages = printed(page, paper)
        assert pages == 1
        for words in ("Sedge Wren", HEADLINE, "Scan for this budget"):
            assert words in text
        for row in wren["gear"]:
            assert row["name"] in text
        gear, power = found["gear"], found["power"]
        for words in (f"{gear['expected_g']:.2f} g", f"{found['model']['all_up_g']:.1f} g", "share rule fits 8.45 g"):
            assert words in text
        assert f"{int(power['run_low_min'])} min to {int(power['run_high_min'])} min" in text
        assert f"{power['flights']} × 6 min" in text
        assert f"{power['bring']} cells" in text
        for station in ("118 mm", "145 mm", "330 mm", "95 mm", "120 mm", "72 mm"):
            assert station in text
        for check in ("Range checked at low power", "moves the right way", "Volts before flight", "Winds counted",
                      "Dethermaliser", "Name and phone number", "clear of people", "rule book"):  # fmt: skip
            assert check in text
    page.emulate_media(media="print")
    (read_code,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(page.locator("#sheet-code svg").screenshot())))
    assert read_code.text == page.input_value("#link")
    page.emulate_media(media="null")  # as it was

    opened(page, {**with_rows(12), "name": "Twelve"})
    for paper in PAPERS:
        text, pages = printed(page, paper)
        assert (pages, "wiring 10, from the drawer" in text, "Thistledown" in text) == (1, True, True)
    forty = with_rows(40)
    opened(page, {**forty, "name": "Forty"})
    text, pages = printed(page, "Letter")
    assert pages == 2
    assert [row["name"] for row in forty["gear"] if row["name"] not in text] == []


def test_what_is_printed_is_never_an_old_budget(open_page: OpenPage, site_url: str) -> None:
    """By the button, by the keys, by the browser's menu; a budget without numbers has a sheet without headings."""
    page = start(open_page(bypass_csp=True), site_url)
    fill_in(page, {"gear.0.name": "first receiver"})
    text, _ = printed(page)  # by the menu, before the pause: the new one or none
    assert "first receiver" in text or STALE in text

    def edit_and_press() -> None:
        fill_in(page, {"gear.0.name": "second one"})
        page.keyboard.press("Control+p")

    asked_to_print(page, edit_and_press)
    text, pages = printed(page)
    assert ("second one" in text, "first receiver" in text, pages) == (True, False, 1)
    page.emulate_media(media="print")
    (read_code,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(page.locator("#sheet-code svg").screenshot())))
    assert read_code.text == page.input_value("#link")
    page.emulate_media(media="null")  # as it was
    fill_in(page, {"gear.0.name": "third one"})
    expect(page.locator("#sheet")).to_contain_text("third one")  # drawn by itself in the pause
    text, _ = printed(page)
    assert "third one" in text
    assert "Scan" not in text  # the code of the one before is gone

    press(page, "#new")
    expect(page.locator("#sheet h2")).to_have_text("New budget")
    text, pages = printed(page)
    assert pages == 1
    assert "receiver not yet" in text
    for heading in ("Power", "Limits", "Balance", "Air ", "Rubber"):
        assert heading not in text


def test_the_example_prints_as_a_sheet_without_javascript(open_page: OpenPage, site_url: str) -> None:
    page = open_page(java_script_enabled=False)
    page.goto(site_url)
    text, pages = printed(page)
    assert ("Sedge Wren" in text, "Before the first flight" in text, "Scan" in text, pages) == (True, True, False, 1)
