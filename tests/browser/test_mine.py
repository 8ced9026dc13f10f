"""The list of the visitor's budgets: which is which, what came back by link, many of them, a store that is full."""

import json
import re

import pytest
from playwright.sync_api import expect

from calc.document import link
from tests.browser.actions import budget_names, fill_in, press, start
from tests.browser.conftest import OpenPage
from tests.browser.test_keeping import OWN, stored, with_stored

pytestmark = pytest.mark.browser
TODAY = r" \(today, \d\d:\d\d\)"


def test_a_link_that_comes_back_says_what_was_changed(open_page: OpenPage, site_url: str) -> None:
    """Mine of that name is held by itself; what the visitor held is not let go for it."""
    page = start(with_stored(open_page(), site_url, {"thistledown.budget.a": json.dumps(OWN)}), site_url)
    returned = {**OWN, "gear": [{"kind": "servo", "mass": "2.4 g"}]}
    page.evaluate("hash => { location.hash = hash; }", link.encode(returned))
    expect(page.locator("#shared")).to_contain_text("You have one of that name")
    expect(page.locator("#held")).to_contain_text("2.40")
    expect(page.locator("#held")).to_contain_text("1.90")
    page.click("#held-back")
    expect(page.locator("#shared")).to_be_hidden()
    expect(page.locator("[name='gear.0.mass']")).to_have_value("1.9 g")
    expect(page.locator("#held")).to_have_count(0)
    assert stored(page) == {"a": OWN}
    fill_in(page, {"gear.0.mass": "2 g"})
    page.click("#hold")
    expect(page.locator("#held")).to_contain_text("Nothing differs")
    page.evaluate("hash => { location.hash = hash; }", link.encode(returned))
    expect(page.locator("#shared")).to_be_visible()
    expect(page.locator("#shared-like")).to_be_hidden()
    expect(page.locator("#held")).to_contain_text("2.00")
    page.click("#leave")
    expect(page.locator("#held")).to_contain_text("Nothing differs")


def test_copies_have_names_of_their_own_and_the_list_tells_which_is_which(open_page: OpenPage, site_url: str) -> None:
    """When each was changed, and which came by link; nothing of that goes into the budget."""
    page = start(with_stored(open_page(), site_url, {"thistledown.budget.a": json.dumps(OWN)}), site_url)
    page.evaluate("hash => { location.hash = hash; }", link.encode(OWN))
    expect(page.locator("#shared")).to_be_visible()
    page.click("#keep")
    expect(page.locator("[name='name']")).to_have_value("Kept work copy")
    press(page, "#copy")
    expect(page.locator("[name='name']")).to_have_value("Kept work copy 2")
    press(page, "#copy")
    expect(page.locator("[name='name']")).to_have_value("Kept work copy 3")
    texts = page.locator("#mine option").all_inner_texts()
    assert texts[1] == "Kept work"  # saved by an edition that told no date
    assert re.fullmatch(r"Kept work copy \(today, \d\d:\d\d, by link\)", texts[2])
    assert re.fullmatch("Kept work copy 2" + TODAY, texts[3])
    assert {key for budget in stored(page).values() for key in budget} == set(OWN)
    long_ago = json.dumps({"changed": 1_700_000_000_000, "from": ""})  # 14 November 2023, 22:13 UTC
    page.evaluate("text => localStorage.setItem('thistledown.info.a', text)", long_ago)
    start(page, site_url)
    assert re.fullmatch(r"Kept work \(1[45] Nov 2023\)", page.locator("#mine option").all_inner_texts()[1])


def many(count: int) -> dict[str, str]:
    """Return so many saved budgets with ten rows each."""
    row = {"kind": "other", "mass": "0.1 g", "known_by": "weighed", "station": "10 mm"}
    gear = [{**row, "name": f"part {number}"} for number in range(10)]
    return {
        f"thistledown.budget.m{number:08d}abc": json.dumps({"format": 1, "name": f"Budget {number}", "gear": gear})
        for number in range(count)
    }


PARSED = """() => {
  const field = document.querySelector("[name='name']");
  const { parse } = JSON;
  let letters = 0;
  JSON.parse = (text, ...more) => { letters += text.length; return parse(text, ...more); };
  for (let number = 0; number < 20; number++) {
    field.value = `Typed ${number}`;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
  JSON.parse = parse;
  return letters / 20;
}"""


def test_five_hundred_budgets_do_not_slow_each_key(open_page: OpenPage, site_url: str) -> None:
    """Of the letters that all budgets have together a key has a twentieth parsed at most; it was all of them before."""
    budgets = many(500)
    page = start(with_stored(open_page(), site_url, budgets), site_url)
    assert len(budget_names(page)) == 501
    assert page.evaluate(PARSED) < sum(map(len, budgets.values())) / 20


def test_a_clock_that_was_set_back_does_not_make_the_newest_the_oldest(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    fill_in(page, {"name": "Before"})
    page.evaluate("() => { const { now } = Date; Date.now = () => now() - 3e10; }")
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    fill_in(page, {"name": "After"})
    assert budget_names(page) == ["choose…", "Before", "After"]


def test_what_found_no_room_is_kept_once_there_is_some(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.add_init_script("""
      const { setItem } = Storage.prototype;
      Storage.prototype.setItem = function (...all) {
        if (window.full) throw new DOMException("full", "QuotaExceededError");
        return setItem.apply(this, all);
      };""")
    start(page, site_url)
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    page.evaluate("window.full = true")
    fill_in(page, {"name": "Found no room"})
    expect(page.locator("#kept")).to_contain_text("lasts only as long as this page")
    page.evaluate("window.full = false")
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    assert sorted(budget["name"] for budget in stored(page).values()) == ["Found no room", "New budget"]


def test_an_entry_nested_without_end_is_told_and_costs_nothing(open_page: OpenPage, site_url: str) -> None:
    deep = '{"name": "Deep", "model": ' + "[" * 50_000 + "]" * 50_000 + "}"
    entries = {"thistledown.budget.a": json.dumps(OWN), "thistledown.budget.b": deep, "thistledown.current": '"b"'}
    page = start(with_stored(open_page(), site_url, entries), site_url)
    expect(page.locator("[name='name']")).to_have_value("Kept work")
    expect(page.locator("#damaged")).to_contain_text("One saved budget on this device cannot be read.")
    fill_in(page, {"gear.0.mass": "2 g"})
    expect(page.locator("#gear-foot [data-why='gear']")).to_have_text("2.00 g")
    assert page.evaluate("localStorage.getItem('thistledown.budget.b')") == deep


def test_a_row_whose_kind_is_no_text_is_called_a_row(open_page: OpenPage, site_url: str) -> None:
    odd = {**OWN, "gear": [{"kind": {"a": 1}, "name": {"b": 2}, "mass": "1 g"}]}
    page = start(with_stored(open_page(), site_url, {"thistledown.budget.a": json.dumps(odd)}), site_url)
    press(page, "#gear-0-remove")
    expect(page.locator("#undo")).to_contain_text("“The row” is removed.")
    assert "[object" not in page.locator("body").inner_text()


def test_a_file_that_takes_too_long_is_left_aside_and_the_sums_start_again(open_page: OpenPage, site_url: str) -> None:
    """A worker that is busy without end, as with a huge file; what was typed meanwhile is kept and answered."""
    page = open_page()
    page.clock.install()
    page.add_init_script("""window.Worker = class extends Worker {
      postMessage(text, ...more) { if (!String(text).includes("open_any")) super.postMessage(text, ...more); }
    };""")
    start(page, site_url)
    page.set_input_files(
        "#file", {"name": "gear.csv", "mimeType": "text/csv", "buffer": b"kind;mass [g]\nservo;1\n" * 9}
    )
    fill_in(page, {"model.airframe": "36 g"})
    expect(page.locator("#verdict")).to_contain_text("Over by 0.86 g")
    page.clock.fast_forward(31_000)
    expect(page.locator("#engine")).to_contain_text("taking far longer than they should")
    page.click("text=Start again")
    expect(page.locator("#trouble")).to_contain_text("The file was left aside")
    expect(page.locator("#verdict")).to_contain_text("Over by 0.86 g", timeout=60_000)
    assert [budget["model"]["airframe"] for budget in stored(page).values()] == ["36 g"]


def test_what_is_typed_while_a_parts_list_is_read_is_not_lost(open_page: OpenPage, site_url: str) -> None:
    """The page's word to the worker waits, as with a large file; meanwhile the builder types on."""
    page = open_page()
    page.add_init_script("""window.Worker = class extends Worker {
      postMessage(text, ...more) {
        if (!String(text).includes("open_any") || window.goOn) return super.postMessage(text, ...more);
        window.goOn = () => super.postMessage(text, ...more);
        document.documentElement.dataset.waits = "";
      }
    };""")
    start(page, site_url)
    page.set_input_files(
        "#file", {"name": "a.csv", "mimeType": "text/csv", "buffer": b"name;kind;mass [g]\nFin;other;1\n"}
    )
    expect(page.locator("html[data-waits]")).to_have_count(1)
    fill_in(page, {"model.airframe": "36 g"})
    page.evaluate("window.goOn()")
    page.click("#table-take")
    expect(page.locator("[value='Fin']")).to_have_count(1)
    expect(page.locator("[name='model.airframe']")).to_have_value("36 g")
    (kept,) = stored(page).values()
    assert kept["model"]["airframe"] == "36 g"
    assert kept["gear"][-1]["name"] == "Fin"
