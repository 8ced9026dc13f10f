"""The three uses, end to end, in a real browser at phone and desktop width."""

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.actions import ROWS, budget_names, choose_budget, fill_in, headline, press, start
from tests.browser.conftest import OpenPage
from tests.support import HEADLINE, SITE_SRC, demo_documents

pytestmark = pytest.mark.browser
SIZES = [(390, 844), (1280, 900)]  # phone and desktop


def test_does_it_fit(open_page: OpenPage, site_url: str) -> None:
    """A builder's own numbers from an empty budget. Worked by hand: airframe 36 g allows 9 g at 20 %.

    Gear: 1.2 + 2 × 1.05 (maker) + 0.08 oz (2.268 g) + 1.5 g cell = 7.068 g; in hand 1.932 g.
    """
    page = start(open_page(), site_url)
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        _does_it_fit(page, phone=width < 600)


def _does_it_fit(page: Page, phone: bool) -> None:
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    entries = {
        "name": "Dunlin", "model.class": "own", "model.airframe": "36", "gear.0.mass": "1,2 g", "gear.1.mass": "2 g",
        "gear.1.known_by": "maker", "cell.mass": "1.5",
    }  # fmt: skip
    fill_in(page, entries)
    fill_in(
        page,
        {"gear.2.kind": "linkage", "gear.2.name": "push rod", "gear.2.mass": ".08oz", "gear.2.known_by": "weighed"},
    )
    expect(headline(page)).to_have_text(
        "Fits, with 1.93 g in hand, in every case you gave. The share rule decides. "
        "Not asked yet: run time, balance and strength."
    )
    expect(page.locator("#gear-2-mass-note")).to_have_text("= 2.268 g")
    if phone:
        expect(page.locator("#bar")).to_be_in_viewport()
        page.click("#bar")
        expect(headline(page)).to_be_in_viewport()
        page.click("#bar")
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_run_time_for_a_session(open_page: OpenPage, site_url: str) -> None:
    """60 mA from 80 % of 40 mAh, worked by hand: at 1.5C and 20 °C the cell gives 0.893 to 0.954, at −10 °C 0.116.

    28.6 to 30.5 min; 4 flights of 6 min; 12 flights take 3 cells.
    """
    page = start(open_page(), site_url)
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        _run_time(page)


def _run_time(page: Page) -> None:
    press(page, "#new")
    expect(page.locator("[name='gear.0.mass']")).to_have_value("")
    fill_in(
        page,
        {
            "gear.0.mass": "1",
            "gear.0.draw": "60",
            "gear.1.draw": "0",
            "gear.1.busy_draw": "0",
            "gear.1.busy": "0",
            "gear.1.mass": "1",
            "cell.mass": "1.2",
            "cell.capacity": "40",
        },
    )
    fill_in(page, {"cell.resistance": "0.5", "session.on_time": "6 min", "session.flights": "12"})
    expect(page.locator("#power .lead")).to_have_text(
        "The cell runs 29 min, at worst 28 min, at best 30 min, until the reserve is reached. "
        "That is 4 flights of 6 min from one cell; "
        "12 flights take 3 charged cells."
    )
    fill_in(page, {"session.temperature": "-10"})
    expect(page.locator("#power .lead")).to_contain_text("at worst 3 min 42 s")
    expect(page.locator("#notices")).to_contain_text("Below 0 °C real cells can be far worse")


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_share_between_two_people(width: int, height: int, open_page: OpenPage, site_url: str) -> None:
    """Two separate contexts: the club mate sees the very same budget, and keeps their own work."""
    sender = start(open_page(width, height), site_url)
    fill_in(sender, {"name": "Kittiwake & Söhne <b>", "gear.0.mass": "2,05 g", "cell.capacity": "65 mAh"})
    expect(sender.locator("#link")).to_have_value(re.compile(r"#b="))
    expect(sender.locator("#verdict h2")).to_have_text("Kittiwake & Söhne <b>")
    expect(sender.locator("#gear-foot [data-why='gear']")).to_have_text("8.51 g")
    expect(sender.locator("#power .lead")).to_contain_text("1 h 8 min")  # the last entry is answered, too
    address = sender.input_value("#link")
    said = headline(sender).inner_text()

    mate = start(open_page(width, height), site_url)
    fill_in(mate, {"name": "Own work"})
    mate.goto("about:blank")
    mate.goto(address)
    expect(mate.locator("#shared")).to_be_visible()
    expect(mate.locator("#shared")).to_contain_text("Kittiwake & Söhne <b>")
    expect(headline(mate)).to_have_text(said)
    expect(mate.locator("[name='gear.0.mass']")).to_have_value("2,05 g")
    assert mate.locator("#answer").inner_html() == sender.locator("#answer").inner_html()
    fill_in(mate, {"gear.0.mass": "9 g"})
    expect(headline(mate)).to_contain_text("Over by")
    expect(mate).not_to_have_url(address)  # the address follows the change
    mate.click("#leave")
    expect(mate.locator("[name='name']")).to_have_value("Own work")
    assert "#b=" not in mate.url

    mate.goto(address)
    expect(mate.locator("[name='gear.0.mass']")).to_have_value("9 g")  # a change to a shared budget stays with the tab
    mate.click("#keep")
    expect(mate.locator("#shared")).to_be_hidden()
    mate.reload()
    expect(mate.locator("[name='gear.0.mass']")).to_have_value("9 g", timeout=60_000)
    expect(mate.locator("#mine option")).to_have_count(3)


def test_copy_button(open_page: OpenPage, site_url: str) -> None:
    page = open_page(permissions=["clipboard-read", "clipboard-write"])
    start(page, site_url)
    press(page, "#copy-link")
    expect(page.locator("#copied")).to_have_text("The link is copied.")
    assert page.evaluate("navigator.clipboard.readText()") == page.input_value("#link")


def test_typing_keeps_focus_and_text_and_marks_a_bad_field(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    mass = page.locator("[name='gear.0.mass']")
    mass.click()
    page.keyboard.press("End")
    page.keyboard.type("q")  # "1.4 gq"
    expect(page.locator("#gear-0-mass-problem")).to_contain_text("“gq” is not a unit of a mass")
    expect(mass).to_have_attribute("aria-invalid", "true")
    expect(mass).to_be_focused()
    expect(mass).to_have_value("1.4 gq")
    expect(headline(page)).to_contain_text("So far: fits")
    expect(page.locator("#power .lead")).to_contain_text("The cell runs 51 min, at worst 50 min")
    page.keyboard.press("Backspace")
    expect(page.locator("#gear-0-mass-problem")).to_be_empty()
    expect(headline(page)).to_have_text(HEADLINE)
    expect(mass).to_be_focused()


def test_rows_are_added_moved_switched_off_and_removed(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    press(page, "#gear-1-more")
    page.check("[name='gear.1.off']")
    expect(page.locator("#gear-1-counts")).to_be_empty()
    expect(page.locator("[name='gear.1.name']")).to_have_value("linear servo for the rudder")
    page.uncheck("[name='gear.1.off']")
    press(page, "#gear-1-up")
    expect(page.locator("[name='gear.0.name']")).to_have_value("linear servo for the rudder")
    expect(page.locator("#gear-0-mass")).to_be_focused()  # "up" is spent in the first row
    press(page, "#gear-0-down")
    expect(page.locator("[name='gear.1.name']")).to_have_value("linear servo for the rudder")
    expect(page.locator("#gear-1-down")).to_be_focused()
    press(page, "#gear-1-remove")
    expect(page.locator(ROWS)).to_have_count(4)
    fill_in(page, {"gear.4.draw": "3 mA"})  # the line that waits
    expect(page.locator(ROWS)).to_have_count(5)
    expect(page.locator(".gear .blank")).to_have_attribute("data-row", "5")
    expect(page.locator(".uncounted")).to_contain_text("other")


def test_work_survives_a_reload_and_several_budgets_are_kept_by_name(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"name": "First", "model.airframe": "35,5 g"})
    press(page, "#copy")
    expect(page.locator("[name='name']")).to_have_value("First copy")
    fill_in(page, {"name": "Second", "gear.0.mass": "nonsense"})
    expect(page.locator("#gear-0-mass-problem")).not_to_be_empty()
    page.reload()
    expect(page.locator("[name='gear.0.mass']")).to_have_value("nonsense", timeout=60_000)
    assert budget_names(page) == ["choose…", "First", "Second"]
    choose_budget(page, "First")
    expect(page.locator("[name='gear.0.mass']")).to_have_value("1.4 g")
    expect(page.locator("[name='model.airframe']")).to_have_value("35,5 g")
    press(page, "#delete")
    expect(page.locator("#mine option")).to_have_count(2)
    page.click("[data-do='undo']")
    expect(page.locator("[name='model.airframe']")).to_have_value("35,5 g")


def test_every_example_opens_and_imperial_defaults_follow(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    for file, document in demo_documents().items():
        page.select_option("#examples", file)
        expect(page.locator("[name='name']")).to_have_value(document["name"])
        expect(page.locator("#verdict h2")).to_have_text(f"An example: {document['name']}")
    page.select_option("#examples", "shelduck.json")
    expect(headline(page)).to_have_text(
        "Fits, with 0.505 oz in hand, in every case you gave. The share rule comes first. "
        "It runs for the session. Not asked yet: balance and strength."
    )
    assert page.locator("#mine option").count() == 1  # looking at examples keeps nothing


def test_files(open_page: OpenPage, site_url: str, tmp_path: Path) -> None:
    page = start(open_page(), site_url)
    with page.expect_download() as caught:
        press(page, "#save-file")
    saved = tmp_path / "saved.json"
    caught.value.save_as(saved)
    assert caught.value.suggested_filename == "sedge-wren.json"
    expected = json.loads((SITE_SRC / "demo" / "sedge-wren.json").read_text(encoding="utf-8"))
    assert json.loads(saved.read_text(encoding="utf-8")) == expected
    page.set_input_files("#file", SITE_SRC / "demo" / "gnat.json")
    expect(page.locator("[name='name']")).to_have_value("Gnat")
    broken = tmp_path / "broken.json"
    broken.write_text("{", encoding="utf-8")
    page.set_input_files("#file", broken)
    expect(page.locator("#trouble")).to_contain_text("This is not JSON text.")
    expect(page.locator("[name='name']")).to_have_value("Gnat")


def test_a_damaged_link_says_so_and_leaves_the_own_work(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    fill_in(page, {"name": "Own work"})
    page.goto("about:blank")
    start(page, f"{site_url}#b=AAAA")
    expect(page.locator("#trouble")).to_contain_text("The link is damaged")
    expect(page.locator("[name='name']")).to_have_value("Own work")


def test_without_javascript_the_example_is_readable_and_says_so(open_page: OpenPage, site_url: str) -> None:
    page = open_page(390, 844, java_script_enabled=False)
    page.goto(site_url)
    expect(headline(page)).to_have_text(HEADLINE)
    expect(page.locator("noscript .banner")).to_contain_text("This is an example, Sedge Wren")
    page.click("#subject-power > summary")
    expect(page.locator("#power svg.curve")).to_be_visible()


def test_a_start_that_fails_says_so(open_page: OpenPage, site_url: str) -> None:
    page = open_page(may_complain=True)
    page.route("**/snapshot-*.bin", lambda route: route.fulfill(status=404))
    page.route("**/app.zip", lambda route: route.fulfill(status=200, body=b"no archive"))
    page.goto(site_url)
    expect(page.locator("html")).to_have_attribute("data-engine", "failed", timeout=60_000)
    expect(page.locator("#engine")).to_contain_text("The sums do not run in this browser just now")
    expect(headline(page)).to_be_visible()


def test_the_first_answer_is_marked(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    assert page.evaluate("performance.getEntriesByName('answer').length") == 1
    fill_in(page, {"model.airframe": "36 g"})
    expect(headline(page)).to_contain_text("Over by 0.86 g, in every case you gave. The target flying weight")
    assert page.evaluate("performance.getEntriesByName('answer').length") == 1
