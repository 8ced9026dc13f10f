"""An altimeter's log on the page: opened, put right, a border moved, a flight taken and given back."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.actions import press, start
from tests.browser.conftest import OpenPage
from tests.calc.subjects.flights.made import flight, table

pytestmark = pytest.mark.browser

DROP = """([text, name]) => {
  const data = new DataTransfer();
  data.items.add(new File([text], name));
  const place = document.querySelector("#subject-flights summary");
  place.dispatchEvent(new DragEvent("drop", { bubbles: true, cancelable: true, dataTransfer: data }));
}"""

# What the worker answers to the next request that is about a log.
LISTEN = """() => {
  const post = Worker.prototype.postMessage;
  globalThis.said = new Promise((resolve) => {
    Worker.prototype.postMessage = function (text) {
      const { id, method } = JSON.parse(text);
      if (method.startsWith("log_"))
        this.addEventListener("message", ({ data }) => JSON.parse(data).id === id && resolve(JSON.parse(data)));
      post.call(this, text);
    };
  });
}"""

# A border moved thrice and a button pressed before any of it is answered; what the worker is asked for, in order.
IN_ONE_GO = """(button) => new Promise((resolve) => {
  const post = Worker.prototype.postMessage;
  const asked = [];
  Worker.prototype.postMessage = function (text) {
    asked.push(JSON.parse(text).method);
    if (asked.length === 3) {
      Worker.prototype.postMessage = post;
      resolve(asked);
    }
    post.call(this, text);
  };
  const top = document.getElementById("log-top_s");
  for (const share of [0.5, 0.6, 0.4]) {
    top.value = String(share * Number(top.max));
    top.dispatchEvent(new Event("input", { bubbles: true }));
  }
  document.getElementById(button).click();
})"""


def test_from_a_log_file_to_a_row_of_the_log(open_page: OpenPage, site_url: str, tmp_path: Path) -> None:
    """A table in feet of which nothing says so; on a phone's screen, with keys, with a finger's pointer."""
    page = start(open_page(390, 844), site_url)
    file = tmp_path / "feet.csv"
    file.write_text(table([(t, h / 0.3048) for t, h in flight(noise_m=0.1)], "time;altitude"), encoding="utf-8")
    with page.expect_file_chooser() as chooser:
        press(page, "#log-open")
    chooser.value.set_files(file)
    first = page.locator("#log-brief-0")
    expect(first).to_contain_text("164 m up")
    expect(page.locator("#log")).to_contain_text("nothing says so; if they are feet, say it")
    page.select_option("#log-unit", "ft")
    expect(first).to_contain_text("50")
    expect(page.locator("#log-unit")).to_be_focused()
    height = page.locator("#log-figures dd").first
    expect(height).to_contain_text("50")

    top = page.locator("#log-top_s")
    top.focus()
    for _ in range(10):
        page.keyboard.press("PageUp")  # a tenth of the range each: to the end
    expect(page.locator("#log-top_s-told")).to_have_text("2:25.0")
    expect(page.locator("#log-figures")).to_contain_text("moved by hand")
    press(page, "#log-found")
    expect(page.locator("#log-figures")).not_to_contain_text("moved by hand")
    expect(height).to_contain_text("50")
    handle = page.locator("[data-handle='from_s'] circle")
    handle.hover()
    box = handle.bounding_box()
    assert box
    page.mouse.down()
    page.mouse.move(box["x"] + 60, box["y"] + 9, steps=3)
    page.mouse.up()
    expect(page.locator("#log-figures")).to_contain_text("moved by hand")
    told = page.locator("#log-from_s-told").inner_text()
    assert told > "0:40"

    page.click("#log-take")
    expect(page.locator("#brief-flights")).to_contain_text("from 1 flight")
    expect(page.locator("[name='flights.0.height']")).to_have_value("50.1 m")
    expect(page.locator("#log-from_s-told")).to_have_text(told)  # the file is open still, as it was left
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    press(page, "[data-do='undo']")
    expect(page.locator("#brief-flights")).not_to_contain_text("from 1 flight")

    page.evaluate(DROP, ["nothing of a log", "odd.igc"])
    expect(page.locator("#log-problem")).to_contain_text("This is no flight log")
    page.evaluate(DROP, [table(flight(), "time;height m"), "more.csv"])
    expect(first).to_contain_text("50.0 m up")
    page.evaluate(LISTEN)
    press(page, "[data-do='log-close']")
    expect(page.locator("#log")).to_be_hidden()
    expect(page.locator("#log-open")).to_be_focused()
    assert page.locator("#log *").count() == 0
    assert page.evaluate("async () => (await said).result") == {"closed": True}  # by the worker


def test_a_press_counts_after_the_moves_before_it(open_page: OpenPage, site_url: str) -> None:
    """A move that waits for the one before it neither undoes "back to what was found" nor misses what is taken."""
    page = start(open_page(1280, 900), site_url)
    page.evaluate(DROP, [table(flight(), "time;height m"), "one.csv"])
    expect(page.locator("#log-brief-0")).to_contain_text("50.0 m up")
    expect(page.locator("#log-top_s")).to_be_visible()
    assert page.evaluate(IN_ONE_GO, "log-found") == ["log_move", "log_move", "log_flight"]
    expect(page.locator("#log-figures")).not_to_contain_text("moved by hand")
    expect(page.locator("#log-top_s-told")).to_have_text("0:25.0")
    assert page.evaluate(IN_ONE_GO, "log-take") == ["log_move", "log_move", "log_take"]
    expect(page.locator("#brief-flights")).to_contain_text("from 1 flight")
    expect(page.locator("[name='flights.0.height']")).to_have_value("39.5 m")  # 21 s past its top of 50 m, at 0.5 m/s
