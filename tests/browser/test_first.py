"""The first minute: from a blank page to a verdict of one's own, on a phone."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.actions import fill_in, headline, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser


def test_a_class_and_three_parts_make_a_verdict(open_page: OpenPage, site_url: str) -> None:
    """By hand: 20 % of 40 g allows 8 g; the parts are guesses, 20 % on each.

    With a coil of 0.7 g: (1.4 + 0.7 + 0.4 leads + 1.0 cell) × 1.2 = 4.2 g, so 3.8 g in hand.
    """
    page = start(open_page(390, 844), site_url)
    page.click("#first")
    page.select_option("#first-class", "p30")
    page.select_option("#first-actuator", label="coil actuator, 0.7 g")
    page.select_option("#first-cell", label="one cell, 30 mAh, 1.0 g")
    page.click("#first-go")
    expect(headline(page)).to_have_text(
        "Fits, with 3.80 g in hand, if the model comes out at 40 g, in every case you gave. The share rule decides. "
        "It runs for the session. Not asked yet: balance and strength."
    )
    expect(headline(page)).to_be_in_viewport()
    expect(page.locator("#power .lead")).to_contain_text("flights of 5 min from one cell")
    expect(page.locator("#mine option:checked")).to_have_text(re.compile(r"My model \(today, \d\d:\d\d\)"))
    fill_in(page, {"model.airframe": "30 g", "model.airframe_known_by": "weighed"})
    expect(headline(page)).to_contain_text("Fits, with 3.30\u00a0g in hand,")  # 0.2 × 30 / 0.8 = 7.5 g


def test_a_first_budget_in_ounces_with_a_servo_brings_its_push_rod(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    page.click("#first")
    page.select_option("#first-class", "own")
    page.select_option("#first-units", "imperial")
    page.fill("#first-airframe", "1.2")
    page.click("#first-go")
    expect(page.locator("[name='gear.2.name']")).to_have_value("push rod with ends")
    expect(page.locator("#model-airframe")).to_have_value("1.2")
    # By hand: 1.2 oz × 0.2 / 0.8 allow 0.30 oz; 1.4 + 1.9 + 1 + 0.4 + 1.9 g, a fifth on top, are 0.279 oz.
    expect(headline(page)).to_have_text(
        "Close: 0.021 oz in hand; about 7 in 10 that it fits. Weigh the airframe first. The share rule decides. "
        "It runs for the session. Not asked yet: balance and strength."
    )
    expect(page.locator("#gear-foot")).to_contain_text("oz")


def test_a_guessed_airframe_is_a_guess_and_a_weighed_one_is_weighed(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    for choice, known_by in ((None, "guess"), ("weighed", "weighed")):
        press(page, "#new-model")
        page.fill("#first-airframe", "34 g")
        if choice:
            page.select_option("#first-known", choice)
        page.click("#first-go")
        expect(page.locator("[name='model.airframe_known_by']")).to_have_value(known_by)
        expect(page.locator("[name='model.airframe']")).to_have_value("34 g")


def test_an_airframe_that_cannot_be_read_is_asked_for_again(open_page: OpenPage, site_url: str) -> None:
    """Nothing is answered with the minimum of the class, and no budget is made."""
    page = start(open_page(390, 844), site_url)
    page.click("#first")
    page.fill("#first-airframe", "abc")
    page.click("#first-go")
    expect(page.locator("#first-airframe-problem")).to_contain_text("abc")
    expect(page.locator("#first-dialog")).to_be_visible()
    expect(page.locator("#first-airframe")).to_be_focused()
    assert page.evaluate("Object.keys(localStorage)") == []
    page.fill("#first-airframe", "34 g")
    expect(page.locator("#first-airframe-problem")).to_be_empty()
    page.click("#first-go")
    expect(page.locator("#first-dialog")).to_be_hidden()
    expect(page.locator("[name='model.airframe']")).to_have_value("34 g")


def test_steering_in_a_class_whose_contests_forbid_it_starts_as_a_sport_model(
    open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    page = start(open_page(), site_url)
    for chosen, actuator, use in (("f1g", 1, "sport"), ("f1g", 0, "contest"), ("own", 1, "contest")):
        press(page, "#new-model")
        page.select_option("#first-class", chosen)
        page.select_option("#first-actuator", index=actuator)
        expect(page.locator("#first-sport")).to_be_visible(visible=use == "sport")
        page.click("#first-go")
        expect(page.locator("[name='model.class']")).to_have_value(chosen)
        expect(page.locator("[name='model.use']")).to_have_value(use)
