"""What a visitor typed is never lost unasked: failing sums, damaged and full storage, two tabs, other editions."""

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.actions import ROWS, budget_names, choose_budget, fill_in, headline, press, start
from tests.browser.conftest import OpenPage

pytestmark = pytest.mark.browser
OWN = {"format": 1, "name": "Kept work", "model": {"airframe": "31 g"}, "gear": [{"kind": "servo", "mass": "1.9 g"}]}
FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };"


def stored(page: Page) -> dict[str, Any]:
    """Return every budget kept on the device, by id."""
    entries: dict[str, str] = page.evaluate("({ ...localStorage })")
    prefix = "thistledown.budget."
    return {key.removeprefix(prefix): json.loads(text) for key, text in entries.items() if key.startswith(prefix)}


def with_stored(page: Page, site_url: str, entries: dict[str, str]) -> Page:
    """Put texts into the device's storage before the page first starts."""
    page.goto(site_url + "cautions.html")
    page.evaluate("entries => { for (const [k, v] of Object.entries(entries)) localStorage.setItem(k, v); }", entries)
    return page


def block_sums(page: Page) -> None:
    """Let the sums not start, neither from the snapshot nor the plain way."""
    page.route("**/snapshot-*.bin", lambda route: route.fulfill(status=404))
    page.route("**/app.zip", lambda route: route.fulfill(status=404))


def test_sums_that_do_not_start_leave_the_work_alone_and_it_can_be_taken_out(
    open_page: OpenPage, site_url: str, tmp_path: Path
) -> None:  # fmt: skip
    page = with_stored(open_page(may_complain=True), site_url, {"thistledown.budget.a": json.dumps(OWN)})
    block_sums(page)
    page.goto(site_url)
    expect(page.locator("html")).to_have_attribute("data-engine", "failed", timeout=60_000)
    assert page.evaluate("document.getElementById('form').inert")  # the example in it is not the visitor's
    expect(page.locator("#new")).to_be_disabled()
    choose_budget(page, "Kept work")
    with page.expect_download() as caught:
        press(page, "#save-file")
    caught.value.save_as(tmp_path / "out.json")
    assert json.loads((tmp_path / "out.json").read_text(encoding="utf-8")) == OWN
    assert stored(page) == {"a": OWN}
    page.unroute("**/app.zip")
    page.click("text=Start again")
    expect(page.locator("[name='name']")).to_have_value("Kept work", timeout=60_000)
    fill_in(page, {"gear.0.mass": "2 g"})
    expect(page.locator("#gear-foot [data-why='gear']")).to_have_text("2.00 g")
    assert stored(page)["a"]["gear"] == [{"kind": "servo", "mass": "2 g"}]


def test_a_worker_that_is_absent_is_told_and_starts_again(open_page: OpenPage, site_url: str) -> None:
    page = open_page(may_complain=True)
    page.route("**/worker.mjs", lambda route: route.fulfill(status=404))
    page.goto(site_url)
    expect(page.locator("html")).to_have_attribute("data-engine", "failed")
    fill_in(page, {"name": "Typed without sums"})
    assert [budget["name"] for budget in stored(page).values()] == ["Typed without sums"]
    page.unroute("**/worker.mjs")
    page.click("text=Start again")
    expect(page.locator("html")).to_have_attribute("data-engine", "ready", timeout=60_000)
    expect(page.locator("#verdict h2")).to_have_text("Typed without sums")
    expect(page.locator("#engine")).to_be_hidden()


def test_sums_that_stop_later_are_told_and_start_again(open_page: OpenPage, site_url: str) -> None:
    page = open_page(may_complain=True)
    page.add_init_script(
        "window.Worker = class extends Worker { constructor(...all) { super(...all); window.theWorker = this; } };"
    )
    start(page, site_url)
    page.evaluate("window.theWorker.dispatchEvent(new ErrorEvent('error', { message: 'out of memory' }))")
    expect(page.locator("#engine")).to_contain_text("out of memory")
    fill_in(page, {"model.airframe": "36 g"})
    page.click("text=Start again")
    expect(headline(page)).to_contain_text("Over by 0.86 g", timeout=60_000)


def test_an_answer_that_does_not_come_is_told_and_the_sums_start_again(open_page: OpenPage, site_url: str) -> None:
    """A worker that the system kills says nothing; the page's own clock is put forward."""
    page = open_page()
    page.clock.install()
    page.add_init_script(
        "window.Worker = class extends Worker { constructor(...all) { super(...all); window.theWorker = this; } };"
    )
    start(page, site_url)
    page.evaluate("window.theWorker.terminate()")
    fill_in(page, {"model.airframe": "36 g"})
    page.clock.fast_forward(29_000)
    expect(page.locator("#engine")).to_be_hidden()
    page.clock.fast_forward(2_000)
    expect(page.locator("#engine")).to_contain_text("taking far longer than they should")
    page.click("text=Start again")
    expect(headline(page)).to_contain_text("Over by 0.86 g", timeout=60_000)
    assert [budget["model"]["airframe"] for budget in stored(page).values()] == ["36 g"]


ODD_NAMES = [{"toString": 1}, 5, ["x"], {"__proto__": None}]


def test_a_name_that_is_no_text_costs_nothing(open_page: OpenPage, site_url: str) -> None:
    odd = {
        f"thistledown.budget.b{index}": json.dumps({"name": name, "gear": []}) for index, name in enumerate(ODD_NAMES)
    }
    page = with_stored(open_page(), site_url, {"thistledown.budget.a": json.dumps(OWN), **odd})
    start(page, site_url)
    assert budget_names(page) == ["choose…", "Kept work", *["without a name"] * len(odd)]
    for index, name in enumerate(ODD_NAMES):
        page.select_option("#mine", index=index + 2)
        expect(page.locator("[name='name']")).to_have_value("5" if name == 5 else "")
        choose_budget(page, "Kept work")
        expect(page.locator("[name='name']")).to_have_value("Kept work")


def test_damaged_entries_are_told_kept_and_can_be_taken_out(open_page: OpenPage, site_url: str, tmp_path: Path) -> None:
    entries = {
        "thistledown.budget.a": json.dumps(OWN),
        "thistledown.budget.b": '{"name": "half',
        "thistledown.current": "{",
    }
    page = start(with_stored(open_page(), site_url, entries), site_url)
    expect(page.locator("[name='name']")).to_have_value("Kept work")
    expect(page.locator("#damaged")).to_contain_text("One saved budget on this device cannot be read.")
    with page.expect_download() as caught:
        page.click("text=Save its text as a file")
    caught.value.save_as(tmp_path / "text")
    assert (tmp_path / "text").read_text(encoding="utf-8") == '{"name": "half'
    page.click("text=Remove it")
    expect(page.locator("#damaged")).to_be_hidden()
    assert stored(page) == {"a": OWN}


def test_what_the_form_does_not_show_survives_an_edit(open_page: OpenPage, site_url: str) -> None:
    """Fields of another edition, numbers that are no texts, rows past the last one shown."""
    rows = [{"kind": "other", "mass": f"0.{n + 10} g", "shade": n} for n in range(64)]
    odd = {**OWN, "format": 1, "gear": rows, "wings": {"ribs": [1, 2]}, "session": {"flights": 8, "moon": "full"}}
    page = start(with_stored(open_page(), site_url, {"thistledown.budget.a": json.dumps(odd)}), site_url)
    expect(page.locator(ROWS)).to_have_count(60)
    expect(page.locator(".gear .blank")).to_have_count(0)
    fill_in(page, {"name": "New name"})
    expect(page.locator("#verdict h2")).to_have_text("New name")
    assert stored(page)["a"] == {**odd, "name": "New name"}
    press(page, "#gear-3-remove")
    expect(page.locator("[name='gear.59.mass']")).to_have_value("0.70 g")
    assert stored(page)["a"]["gear"] == rows[:3] + rows[4:]
    page.click("#undo [data-do='undo']")
    expect(page.locator("[name='gear.3.mass']")).to_have_value("0.13 g")
    assert stored(page)["a"]["gear"] == rows


def test_two_tabs_on_one_budget_show_the_newest_state(open_page: OpenPage, site_url: str) -> None:
    page = start(with_stored(open_page(), site_url, {"thistledown.budget.a": json.dumps(OWN)}), site_url)
    other = start(page.context.new_page(), site_url)
    fill_in(other, {"gear.0.mass": "2.5 g"})
    expect(page.locator("[name='gear.0.mass']")).to_have_value("2.5 g")
    expect(page.locator("#kept")).to_contain_text("Changed in another tab")
    fill_in(page, {"name": "From the first tab"})
    expect(other.locator("[name='name']")).to_have_value("From the first tab")
    press(other, "#delete")
    expect(page.locator("#kept")).to_contain_text("Deleted in another tab")
    fill_in(page, {"name": "Still here"})
    assert [budget["name"] for budget in stored(page).values()] == ["Still here"]


def test_a_tab_that_slept_never_writes_over_the_other(open_page: OpenPage, site_url: str) -> None:
    page = start(with_stored(open_page(), site_url, {"thistledown.budget.a": json.dumps(OWN)}), site_url)
    page.evaluate("text => localStorage.setItem('thistledown.budget.a', text)", json.dumps({**OWN, "name": "Theirs"}))
    fill_in(page, {"name": "Mine"})
    expect(page.locator("#kept")).to_contain_text("kept beside it")
    assert sorted(budget["name"] for budget in stored(page).values()) == ["Mine", "Theirs"]


def test_full_storage_is_told_and_drops_nothing_on_the_way(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.add_init_script(FULL)
    start(page, site_url)
    address = page.input_value("#link")
    fill_in(page, {"name": "Nowhere kept"})
    expect(page.locator("#kept")).to_contain_text("lasts only as long as this page")
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    page.evaluate("hash => { location.hash = hash; }", address[address.index("#") :])
    expect(page.locator("#shared")).to_be_visible()
    fill_in(page, {"name": "Shared and changed"})
    expect(page.locator("#kept")).to_contain_text("lasts only as long as this page")
    page.click("#leave")
    expect(page.locator("#shared")).to_be_hidden()
    choose_budget(page, "Nowhere kept")
    expect(page.locator("[name='name']")).to_have_value("Nowhere kept")
    asked: list[str] = []
    page.on("dialog", lambda dialog: asked.append(dialog.type))
    page.on("dialog", lambda dialog: dialog.accept())
    page.reload()
    assert asked == ["beforeunload"]


def test_back_leaves_a_shared_budget_and_each_keeps_its_own_line(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    address = page.input_value("#link")
    fill_in(page, {"name": "Own work"})
    expect(page.locator("#kept")).to_have_text("Kept on this device.")
    page.evaluate("hash => { location.hash = hash; }", address[address.index("#") :])
    expect(page.locator("#shared")).to_be_visible()
    expect(page.locator("#kept")).to_be_empty()
    fill_in(page, {"name": "Changed here"})
    expect(page.locator("#kept")).to_have_text("Changes stay with this tab until you keep a copy.")
    page.go_back()
    expect(page.locator("#shared")).to_be_hidden()
    expect(page.locator("[name='name']")).to_have_value("Own work")
    page.go_forward()
    expect(page.locator("[name='name']")).to_have_value("Changed here")


def test_a_new_budget_is_there_after_a_reload_and_bringing_back_says_so(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    press(page, "#new")
    expect(page.locator("[name='name']")).to_have_value("New budget")
    page.reload()
    expect(page.locator("[name='name']")).to_have_value("New budget", timeout=60_000)
    press(page, "#delete")
    expect(page.locator("#undo")).to_contain_text("“New budget” is deleted.")
    page.click("#undo [data-do='undo']")
    expect(page.locator("#kept")).to_have_text("“New budget” is back.")
    expect(page.locator("[name='name']")).to_have_value("New budget")


def test_other_units_keep_the_meaning_of_what_was_typed(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(), site_url)
    press(page, "#new")
    fill_in(page, {"units": "imperial"})
    fill_in(page, {"model.airframe": "1.1", "gear.0.mass": "0.02", "gear.1.mass": "1 g"})
    expect(page.locator("[data-field='model.airframe'] .unit")).to_be_visible()
    expect(page.locator("[data-field='gear.1.mass'] .unit")).to_be_hidden()
    expect(page.locator("#verdict")).to_contain_text("0.220 oz in hand")  # 0.275 - 0.02 - 0.035
    fill_in(page, {"units": "metric"})
    expect(page.locator("[name='model.airframe']")).to_have_value("1.1 oz")
    expect(page.locator("[name='gear.0.mass']")).to_have_value("0.02 oz")
    expect(page.locator("#verdict")).to_contain_text("6.23 g in hand")  # 0.2197 oz
    assert next(iter(stored(page).values()))["model"]["airframe"] == "1.1 oz"


def test_a_long_name_does_not_widen_a_phone(open_page: OpenPage, site_url: str) -> None:
    page = start(open_page(360, 740), site_url)
    fill_in(page, {"name": "W" * 80, "gear.0.name": "M" * 80, "gear.0.mass": "x" * 50})
    expect(page.locator("#verdict h2")).to_have_text("W" * 80)
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
