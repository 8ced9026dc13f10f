"""What the address holds: it follows a shared budget that is edited, and what is no link is told; Back and Escape."""

import json
import re

import pytest
from playwright.sync_api import Page, expect

from calc.document import link
from site_src.tools.hostile import packed
from tests.browser.actions import SHIMS, fill_in, headline, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser
THEIRS = {"format": 1, "name": "Theirs", "model": {"airframe": "31 g"}, "gear": [{"kind": "servo", "mass": "1.9 g"}]}


def in_address(page: Page) -> dict[str, object]:
    """Return the budget that the address holds."""
    return link.decode(page.evaluate("location.hash"))


def test_the_address_follows_the_edits_of_a_shared_budget(open_page: OpenPage, site_url: str) -> None:
    """Who copies it from the address bar sends what stands in the form; reload, Back and Forward bring the same."""
    page = start(open_page(), site_url)
    page.evaluate("hash => { location.hash = hash; }", link.encode(THEIRS))
    expect(page.locator("[name='name']")).to_have_value("Theirs")
    fill_in(page, {"name": "Changed", "gear.0.mass": "2.5 g"})
    expect(page).to_have_url(
        re.compile(
            re.escape(link.encode({**THEIRS, "name": "Changed", "gear": [{"kind": "servo", "mass": "2.5 g"}]})) + "$"
        )
    )
    assert page.input_value("#link") == page.url
    page.go_back()
    expect(page.locator("#shared")).to_be_hidden()
    page.go_forward()
    expect(page.locator("[name='name']")).to_have_value("Changed")
    page.reload()
    expect(page.locator("#shared")).to_contain_text("“Changed” came by link.", timeout=60_000)
    expect(page.locator("[name='gear.0.mass']")).to_have_value("2.5 g")
    fill_in(page, {"name": "Changed again"})
    expect(page).to_have_url(
        re.compile(
            re.escape(link.encode({**THEIRS, "name": "Changed again", "gear": [{"kind": "servo", "mass": "2.5 g"}]}))
        )
    )
    keys = page.evaluate("Object.keys(sessionStorage).filter((key) => key.startsWith('thistledown.shared'))")
    assert keys == [f"thistledown.shared.{page.evaluate('location.hash')}"]
    assert page.evaluate("Object.keys(localStorage)") == ["thistledown.open"]  # which subjects are unfolded


def test_a_shared_budget_that_fits_into_no_link_any_more_leaves_the_address(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url + link.encode(THEIRS))
    page.evaluate("document.getElementById('name').removeAttribute('maxlength')")
    fill_in(page, {"name": "".join(chr(0x4E00 + (index * 7919) % 20_000) for index in range(9000))})
    expect(page.locator("#copied")).to_contain_text("too long")
    expect(page).to_have_url(re.compile("#b=$"))
    page.reload()
    expect(page.locator("#shared")).to_be_visible(timeout=60_000)
    assert len(page.input_value("[name='name']")) == 9000


def test_a_link_whose_signs_were_written_in_percent_opens(open_page: OpenPage, site_url: str) -> None:
    fragment = link.encode(THEIRS)
    for spelled in ("#b%3D", "#b%3d", "#%62%3D", "#b%253D"):
        page = start(open_page(), site_url + spelled + fragment.removeprefix("#b="))
        expect(page.locator("[name='name']"), spelled).to_have_value("Theirs")
        assert page.evaluate("location.hash") == fragment
        page.context.close()


@pytest.mark.parametrize("own", [False, True], ids=["beside the example", "beside own work"])
def test_what_is_no_link_is_told(own: bool, open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    if own:
        fill_in(page, {"name": "Own work"})
        expect(page.locator("#verdict h2")).to_have_text("Own work")  # an answer under way would say that all is well
    name = page.input_value("[name='name']")
    for hash in ("#b", "#b-q1ZKSS1O", "#B=q1ZK", "#b%ZZ"):
        page.evaluate("() => { document.getElementById('trouble').textContent = ''; }")
        page.evaluate("hash => { location.hash = hash; }", hash)
        expect(page.locator("#trouble"), hash).to_contain_text("it is none")
        expect(page).to_have_url(site_url)
        page.goto("about:blank")
        start(page, site_url + hash)
        expect(page.locator("#trouble"), hash).to_contain_text("it is none")
        expect(page.locator("[name='name']")).to_have_value(name)


def test_that_it_is_no_link_stays_told_whatever_answer_was_under_way(open_page: OpenPage, site_url: str) -> None:
    """Until the visitor goes on."""
    page = open_page()
    page.add_init_script(SHIMS)
    start(page, site_url)
    page.evaluate("window.slow = true")
    fill_in(page, {"name": "Own work"})
    page.evaluate("() => { location.hash = '#b-q1ZKSS1O'; }")
    expect(page.locator("#trouble")).to_contain_text("it is none")
    page.evaluate("window.theWorker.goOn()")
    expect(page.locator("#verdict h2")).to_have_text("Own work")
    expect(page.locator("#trouble")).to_contain_text("it is none")
    fill_in(page, {"name": "Goes on"})
    expect(page.locator("#trouble")).to_be_hidden()


def test_a_step_within_the_page_does_not_leave_a_shared_budget(open_page: OpenPage, site_url: str) -> None:
    """The skip link, and places whose name begins as a link does."""
    page = start(open_page(), site_url + link.encode(THEIRS))
    for place in ("#main", "#bar"):
        page.evaluate("hash => { location.hash = hash; }", place)
        expect(page).to_have_url(re.compile(re.escape(link.encode(THEIRS))))
        expect(page.locator("#shared")).to_be_visible()
        expect(page.locator("#trouble")).to_be_hidden()


ODD = {
    "a list for the model": ({"format": 1, "model": []}, "model.airframe", "31 g", {"airframe": "31 g"}),
    "a list for a row": ({"format": 1, "gear": [[]]}, "gear.0.mass", "2 g", [{"mass": "2 g"}]),
    "a text for a row": ({"format": 1, "gear": ["x"]}, "gear.0.mass", "2 g", [{"mass": "2 g"}]),
    "a text for the cell": ({"format": 1, "cell": "small"}, "cell.mass", "1 g", {"mass": "1 g"}),
}


def test_what_is_to_be_said_of_a_link_stands_in_the_banner(open_page: OpenPage, site_url: str) -> None:
    """One without a checksum, as earlier editions made them, could have lost a letter unseen."""
    page = start(open_page(), site_url + packed(json.dumps(THEIRS)))
    expect(page.locator("#shared-told")).not_to_be_empty()
    page.evaluate("hash => { location.hash = hash; }", link.encode({**THEIRS, "name": "Checked"}))
    expect(page.locator("[name='name']")).to_have_value("Checked")
    expect(page.locator("#shared-told")).to_be_empty()


@pytest.mark.parametrize("name", ODD)
def test_what_stands_in_the_place_of_fields_is_told_and_gives_way(
    name: str, open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    """Until something is typed there it is told; then what was typed is counted and kept."""
    document, field, text, kept = ODD[name]
    page = start(open_page(), site_url + packed(json.dumps(document)))
    expect(page.locator("#trouble")).to_be_visible()
    fill_in(page, {field: text})
    expect(page.locator("#trouble")).to_be_hidden()
    expect(page).to_have_url(re.compile("#b="))
    page.click("#keep")
    expect(page.locator("#kept")).to_have_text("Kept on this device.")
    (budget,) = (
        json.loads(entry)
        for key, entry in page.evaluate("Object.entries(localStorage)")
        if key.startswith("thistledown.budget.")
    )
    assert budget[field.split(".", maxsplit=1)[0]] == kept


def test_what_stands_in_the_place_of_the_later_lists_gives_way_too(open_page: OpenPage, site_url: str) -> None:
    """One after the other: what is typed into each is counted and kept, and what nobody touches stays told."""
    odd = {"bays": {}, "flights": [[]], "charges": "x", "airframe": [5], "building": [], "field": "x", "radio": [[]]}
    typed = {
        "bays.0.length": "60 mm", "flights.0.sink": "0.4 m/s", "charges.0.put_back": "9 mAh", "airframe.0.mass": "2 g",
        "building.glue": "5 %", "field.wind": "2 m/s", "radio.power": "14 dBm",
    }  # fmt: skip
    page = start(open_page(), site_url + packed(json.dumps({"format": 1, "name": "Odd", **odd})))
    for path, text in typed.items():
        expect(page.locator("#trouble")).to_be_visible()
        fill_in(page, {path: text})
    expect(page.locator("#trouble")).to_be_hidden()
    page.click("#keep")
    expect(page.locator("#kept")).to_have_text("Kept on this device.")
    entries = page.evaluate("Object.entries(localStorage)")
    (budget,) = (json.loads(entry) for key, entry in entries if key.startswith("thistledown.budget."))
    for path, text in typed.items():
        block, *row, key = path.split(".")
        assert (budget[block][0] if row else budget[block])[key] == text


def test_whatever_opens_with_a_problem_says_so(open_page: OpenPage, site_url: str) -> None:
    """Problems that belong to no field of the form, by link and from the device."""
    page = start(open_page(), site_url + packed(json.dumps({"format": 1, "name": "Odd", "modle": {"airframe": "3 g"}})))
    expect(page.locator("#trouble")).to_contain_text("modle")
    page.click("#keep")
    expect(page.locator("#kept")).to_have_text("Kept on this device.")
    expect(page.locator("#trouble")).to_contain_text("modle")
    page.goto(site_url)
    expect(page.locator("[name='name']")).to_have_value("Odd", timeout=60_000)
    expect(page.locator("#trouble")).to_contain_text("modle")


def test_back_and_escape_close_the_answer_of_a_phone(open_page: OpenPage, site_url: str) -> None:
    page = open_page(390, 844)
    page.goto(site_url + "cautions.html")
    start(page, site_url)
    fill_in(page, {"name": "Dunlin"})
    bar = page.locator("#bar")
    for close in (page.go_back, lambda: page.keyboard.press("Escape"), lambda: page.click("#bar")):
        page.click("#bar")
        expect(bar).to_have_attribute("aria-expanded", "true")
        expect(headline(page)).to_be_in_viewport()
        close()
        expect(bar).to_have_attribute("aria-expanded", "false")
        expect(bar).to_be_focused()
        assert page.url == site_url
        expect(page.locator("[name='name']")).to_have_value("Dunlin")
    page.go_forward()
    expect(bar).to_have_attribute("aria-expanded", "true")
    page.go_back()
    page.go_back()
    expect(page).to_have_url(site_url + "cautions.html")


def test_a_shared_budget_stays_when_the_answer_of_a_phone_is_closed(open_page: OpenPage, site_url: str) -> None:
    """Also where it was changed while the answer stood open, so that the address is another one by then."""
    page = start(open_page(390, 844), site_url + link.encode(THEIRS))
    page.click("#bar")
    page.click("#hold")
    page.keyboard.press("Escape")
    expect(page.locator("#bar")).to_have_attribute("aria-expanded", "false")
    fill_in(page, {"name": "Changed"})
    expect(page).not_to_have_url(site_url + link.encode(THEIRS))
    page.click("#bar")
    page.click("#held-back")
    expect(page.locator("[name='name']")).to_have_value("Theirs")
    expect(page).to_have_url(site_url + link.encode(THEIRS))
    page.go_back()
    expect(page.locator("#bar")).to_have_attribute("aria-expanded", "false")
    expect(page).to_have_url(site_url + link.encode(THEIRS))
    expect(page.locator("[name='name']")).to_have_value("Theirs")
    expect(page.locator("#shared")).to_be_visible()
    assert in_address(page) == THEIRS
