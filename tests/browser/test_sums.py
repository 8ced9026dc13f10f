"""Balance, surface, linkage, air and stock, by hand in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.actions import fill_in, headline, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser


def test_lead_for_balance_reaches_the_verdict(open_page: OpenPage, site_url: str) -> None:
    """The example balances; with its airframe 12 mm further aft it needs lead and no longer surely fits."""
    page = start(open_page(390, 844), site_url)
    expect(page.locator("#balance .lead")).to_contain_text("as near to the wanted 165 mm as a fingertip feels")
    fill_in(page, {"balance.airframe_at": "173 mm"})
    expect(headline(page)).to_contain_text("Over by 2.12 g, 2.71 g of lead at the nose counted (without the lead 0.60")
    expect(page.locator("#verdict")).to_have_class("headline verdict-over")
    expect(page.locator("#limits thead")).to_contain_text("With lead")
    expect(page.locator("#bar")).to_contain_text("with lead")
    expect(page.locator("#balance .disc.lead")).to_have_count(1)  # the print sheet has a side view, too


def test_surface_linkage_and_air_from_ones_own_numbers(open_page: OpenPage, site_url: str) -> None:
    """From an empty budget. Air by hand: 40 g + 2 g gear + 10 g rubber = 52 g on 8 dm²: 6.50 g/dm²."""
    page = start(open_page(), site_url)
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    fill_in(page, {"model.airframe": "40", "model.rubber": "10", "model.wing_area": "8", "gear.0.mass": "1"})
    fill_in(page, {"gear.1.mass": "1", "air.rubber_energy": "4", "air.efficiency": "50", "model.class": "own"})
    expect(page.locator("#air .facts")).to_contain_text("6.50 g/dm²")
    expect(page.locator("#air .lead")).to_contain_text("Still-air time")
    fill_in(
        page, {"surface.span": "100", "surface.chord": "80", "surface.flap_chord": "24", "surface.deflection": "20"}
    )
    fill_in(page, {"surface.speed": "6", "surface.horn": "10", "surface.arm": "5", "surface.torque": "2"})
    expect(page.locator("#surface .lead")).to_contain_text("a far lighter one would still do")
    expect(page.locator("#waits")).to_contain_text("The linkage waits for")
    fill_in(page, {"linkage.length": "300", "linkage.diameter": "1"})
    expect(page.locator("#linkage .lead")).to_contain_text("The push rod weighs 0.75 g")
    expect(page.locator("#linkage tr.governs")).to_contain_text("yes, lightest")
    fill_in(page, {"surface.flap_chord": "90"})
    expect(page.locator("#surface-flap_chord-problem")).to_have_text("“90” is too large beside “Whole chord”.")


def test_mass_from_dimensions_goes_into_a_row(open_page: OpenPage, site_url: str) -> None:
    """A carbon rod of 1.2 mm × 400 mm at 1500 kg/m³ weighs 0.679 g, by hand."""
    page = start(open_page(390, 844), site_url)
    press(page, "#gear-2-stock")
    expect(page.locator("#stock-dialog")).to_be_visible()
    page.fill("[name='stock.diameter']", "1.2 mm")
    page.fill("[name='stock.length']", "400 mm")
    expect(page.locator("#stock-mass")).to_have_text("0.679 g")
    page.click("#stock-use")
    expect(page.locator("#stock-dialog")).to_be_hidden()
    expect(page.locator("[name='gear.2.mass']")).to_have_value("0.679 g")
    expect(page.locator("[name='gear.2.name']")).to_have_value("1 mm carbon push rod with ends")
    expect(page.locator("#gear-2-counts")).to_contain_text("0.71 g")  # 5 % for what was not weighed
    press(page, "#gear-2-stock")
    page.keyboard.press("Escape")
    expect(page.locator("#stock-dialog")).to_be_hidden()


def test_the_stock_page_weighs_each_shape(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url + "stock.html")
    expect(page.locator("#stock-mass")).to_have_text("0.353 g")
    page.select_option("[name='stock.shape']", "thread")
    expect(page.locator("#stock-fields .stock-answer")).to_contain_text("Waits for: thread")
    page.fill("[name='stock.tex']", "22 tex")
    page.fill("[name='stock.pieces']", "2")
    page.fill("[name='stock.length']", "60 cm")
    expect(page.locator("#stock-mass")).to_have_text("0.0264 g")
    expect(page.locator("#stock-fields .stock-answer")).to_contain_text("together; each 0.0132 g")
    page.fill("[name='stock.length']", "60 kg")
    expect(page.locator("#stock-length-problem")).to_contain_text("is a mass; this field needs a length")
    expect(page.locator("[name='stock.length']")).to_be_focused()
    expect(page.locator("#stock-form [role=status]")).to_have_text(
        re.compile("is a mass; this field needs a length.* Waits for: length"), use_inner_text=True
    )  # a screen reader hears what is wrong with the field it is in
    page.fill("[name='stock.length']", "60 cm")
    expect(page.locator("#stock-form [role=status]")).to_contain_text("0.0264 g")
