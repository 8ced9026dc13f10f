"""The airframe on the page: from an empty budget to whether the radio fits the model that is not built."""

import json
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.actions import fill_in, headline, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser

OPEN = """() => {
  document.getElementById("subject-airframe").open = true;
  for (const panel of document.querySelectorAll(".airframe .panel")) panel.hidden = false;
}"""


def begun(page: Page, model: str = "thirty-inch") -> Page:
    """Put the parts of a model into an empty budget: three presses and one choice."""
    press(page, "#new")
    expect(page.locator("#verdict h2")).not_to_have_text("Sedge Wren")
    page.click("#subject-airframe > summary")
    page.select_option("#airframe-model", model)
    press(page, "#airframe-start")
    expect(page.locator("#airframe .shares")).to_be_attached()
    return page


def parts_of(page: Page) -> int:
    """Return how many parts there are, without the line that waits for the next."""
    return page.locator(".airframe tbody .line:not(.blank)").count()


def test_does_my_radio_fit_the_model_i_have_not_built(open_page: OpenPage, site_url: str) -> None:
    """Three presses, two choices and one mass typed: a model's parts, a part of gear, the answer."""
    page = begun(start(open_page(), site_url))
    fill_in(page, {"gear.0.kind": "receiver", "gear.0.mass": "1.2 g"})
    expect(headline(page)).to_contain_text("in hand")
    expect(page.locator("#brief-airframe")).to_contain_text("19 parts")
    expect(page.locator("#airframe .lead")).to_contain_text("The parts come to 36.4 g ± 5.9 g")


def test_a_part_is_weighed_added_removed_and_brought_back(open_page: OpenPage, site_url: str) -> None:
    page = begun(start(open_page(), site_url), "indoor")
    count = parts_of(page)
    fill_in(page, {"airframe.0.weighed": "0.5 g"})
    expect(page.locator("#airframe .lead")).to_contain_text("At this rate it comes out at")
    fill_in(page, {f"airframe.{count}.name": "skid", f"airframe.{count}.mass": "0.1 g"})
    expect(page.locator("#brief-airframe")).to_contain_text(f"{count + 1} parts")
    expect(page.locator(f"#airframe-{count + 1}.blank")).to_be_attached()
    assert parts_of(page) == count + 1
    expect(page.locator(f"#airframe-{count}-counts")).to_contain_text("0.12 g ±")
    press(page, "#airframe-0-remove")
    expect(page.locator("#brief-airframe")).to_contain_text(f"{count} parts")
    press(page, "[data-do='undo']")
    expect(page.locator("#brief-airframe")).to_contain_text(f"{count + 1} parts")


def test_what_a_choice_saves_is_one_press(open_page: OpenPage, site_url: str) -> None:
    page = begun(start(open_page(), site_url), "indoor")
    press(page, "#savings-ask")
    first = page.locator("#saving-0")
    expect(first).to_contain_text("wing frame: thickness 1.5 mm instead of 2 mm saves 0.13 g")
    press(page, "#saving-take-0")
    expect(page.locator("[name='airframe.0.thickness']")).to_have_value("1.5 mm")
    expect(page.locator("#savings")).to_be_hidden()


def test_only_what_a_shape_asks_for_is_shown(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"airframe.0.shape": "rod"})
    page.evaluate("document.getElementById('subject-airframe').open = true")
    page.click("#airframe-0-more")
    expect(page.locator("[name='airframe.0.diameter']")).to_be_visible()
    expect(page.locator("[name='airframe.0.pitch']")).to_be_hidden()


def test_the_parts_go_out_and_come_in_as_csv(open_page: OpenPage, site_url: str, tmp_path: Path) -> None:
    page = begun(start(open_page(), site_url), "indoor")
    count = parts_of(page)
    with page.expect_download() as download:
        press(page, "#airframe-csv")
    file = tmp_path / "parts.csv"
    download.value.save_as(file)
    assert file.read_text(encoding="utf-8").startswith("Part,Belongs to,Shape")
    with page.expect_file_chooser() as chooser:
        press(page, "#airframe-csv-open")
    chooser.value.set_files(file)
    expect(page.locator("#brief-airframe")).to_contain_text(f"{2 * count} parts")


def test_a_sheet_is_weighed_kept_and_cut_and_the_days_are_drawn(open_page: OpenPage, site_url: str) -> None:
    """A sheet weighed and kept, picked for a part of an empty budget's airframe, undone; then parts on the scale."""
    page = start(open_page(390, 844), site_url + "stock.html")
    fill_in(page, {"box.name": "plank A", "box.mass": "8.2 g"})
    page.click("#sheet-keep")
    expect(page.locator("#told")).to_have_text("“plank A” is in the box.")
    begun(start(page, site_url))
    press(page, "#airframe-0-take")
    page.locator("#box-picks button", has_text="plank A").click()
    expect(page.locator("[name='airframe.0.density']")).to_have_value("89.62 kg/m³")
    expect(page.locator("#undo-text")).to_contain_text("cut from “plank A”")
    page.click("[data-do='undo']")
    expect(page.locator("[name='airframe.0.density']")).to_have_value("")
    for row, (mass, day) in enumerate([("1.4 g", "2026-03-01"), ("2 g", "2026-03-09")]):
        fill_in(page, {f"airframe.{row}.weighed": mass, f"airframe.{row}.weighed_on": day})
    expect(page.locator("#airframe svg.days")).to_be_attached()
    expect(page.locator("#airframe-days")).to_contain_text("2026-03-09")
    expect(page.locator("#airframe .lead")).to_contain_text("over what you planned")


@pytest.mark.parametrize("width", [360, 768])
def test_it_fits_a_narrow_window(open_page: OpenPage, site_url: str, width: int) -> None:
    page = begun(start(open_page(width=width), site_url))
    page.evaluate(OPEN)
    wide = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
    assert wide[0] <= wide[1], json.dumps(wide)
