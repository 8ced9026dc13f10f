"""Parts out of a spreadsheet: pasted into the gear or from a file, seen before they are taken, and taken back."""

from pathlib import Path

import pytest
from playwright.sync_api import FilePayload, Locator, Page, expect

from tests.browser.actions import ROWS, press, start
from tests.browser.conftest import OpenPage
from tests.workbooks import xlsx

pytestmark = pytest.mark.browser
EMPTY: FilePayload = {
    "name": "list.json", "mimeType": "application/json", "buffer": b'{"model": {"airframe": "40 g"}}'
}  # fmt: skip
TWELVE = "Name\tKind\tWeight (g)\tQuiet (mA)\n" + "".join(f"part {n}\tother\t1.{n}\t\n" for n in range(1, 13))
PASTE = """(field, text) => {
  const clipboardData = new DataTransfer();
  clipboardData.setData("text/plain", text);
  const event = new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true });
  if (field.dispatchEvent(event) && field instanceof HTMLTextAreaElement) {
    field.value = text;
    field.dispatchEvent(new InputEvent("input", { bubbles: true }));
  }
}"""  # as the browser does it, whose clipboard belongs to all tests together


def empty(page: Page) -> Page:
    """Open a budget without gear."""
    page.set_input_files("#file", EMPTY)
    expect(page.locator(ROWS)).to_have_count(0)
    return page


def paste(field: Locator, text: str) -> None:
    """Paste a text into a field, which has the focus then."""
    field.focus()
    field.evaluate(PASTE, text)


def values(page: Page, name: str) -> list[str]:
    """Return what stands in a column of the gear."""
    found: list[str] = page.locator(f"{ROWS} [name$='.{name}']").evaluate_all("all => all.map((each) => each.value)")
    return found


@pytest.mark.parametrize("width", [390, 1280])
def test_twelve_parts_with_headings_in_three_actions(open_page: OpenPage, site_url: str, width: int) -> None:
    """To the list, paste, agree."""
    page = empty(start(open_page(width, 844), site_url))
    page.click("#paste")
    expect(page.locator("#table-text")).to_be_focused()
    paste(page.locator("#table-text"), TWELVE)
    expect(page.locator("#table-take")).to_have_text("Add 12 parts")
    expect(page.locator("#table-take")).to_be_focused()
    expect(page.locator("#table-take")).to_be_in_viewport(ratio=1)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    dialog = page.locator("#table-dialog")
    assert dialog.evaluate("each => each.scrollWidth <= each.clientWidth")
    page.keyboard.press("Enter")
    expect(dialog).to_be_hidden()
    expect(page.locator(ROWS)).to_have_count(12)
    assert values(page, "mass") == [f"1.{n} g" for n in range(1, 13)]
    assert set(values(page, "known_by")) == {"guess"}
    expect(page.locator("#paste")).to_be_focused()
    page.click("#undo [data-do='undo']")
    expect(page.locator(ROWS)).to_have_count(0)


def test_a_block_without_headings_pasted_into_a_line(open_page: OpenPage, site_url: str) -> None:
    """What goes nowhere is asked for first; a word is pasted as ever; undo brings back cell and surface, too."""
    page = start(open_page(), site_url)
    before = values(page, "name")
    field = page.locator(".gear .blank [name$='.name']")
    document = page.evaluate("localStorage.length")
    field.focus()
    assert field.evaluate(f"(field) => ({PASTE})(field, 'one word\\n')") is None
    expect(page.locator("#table-dialog")).to_be_hidden()
    paste(field, "left servo;1,7 g;odd\nhook;0,3 g;even\n")
    unsure = page.locator("#table-preview .unsure select")
    expect(unsure).to_be_focused()
    expect(page.locator("#table-take")).to_have_text("Add 2 parts")
    unsure.select_option("name")
    expect(page.locator("#table-preview .unsure select")).to_have_attribute("name", "field-0")
    page.select_option("#table-known", "weighed")
    expect(page.locator("#table-take")).to_be_enabled()
    assert page.evaluate("localStorage.length") == document
    page.click("#table-take")
    expect(page.locator(ROWS)).to_have_count(len(before) + 2)
    assert values(page, "name")[-2:] == ["odd", "even"]
    assert values(page, "known_by")[-2:] == ["weighed", "weighed"]
    expect(page.locator(f"#gear-{len(before)}-name")).to_be_focused()
    page.click("#undo [data-do='undo']")
    expect(page.locator(ROWS)).to_have_count(len(before))
    assert values(page, "name") == before


def book() -> FilePayload:
    """Return a workbook with two sheets as a file."""

    def row(*cells: str) -> str:
        inside = "".join(f'<c t="inlineStr"><is><t>{cell}</t></is></c>' for cell in cells)
        return f"<row>{inside}</row>"

    gear = row("Name", "Type", "Mass (g)", "Colour") + row("left", "servo", "1.7", "red") + row("Total", "", "1.7", "")
    sheets = {"Notes": row("nothing"), "Gear": gear, "Old": gear.replace("left", "older")}
    return {"name": "Gear.XLSX", "mimeType": "application/octet-stream", "buffer": xlsx(sheets)}


def test_a_workbook_says_what_is_left_aside_and_cancel_leaves_all_as_it_was(
    open_page: OpenPage, site_url: str
) -> None:  # fmt: skip
    page = empty(start(open_page(), site_url))
    page.click("#paste")
    page.set_input_files("#table-file", book())
    preview = page.locator("#table-preview")
    expect(preview).to_contain_text("Row 3: “Total” is the sum of the others, and no part.")
    expect(preview).to_contain_text("left aside: no field is called so")
    expect(page.locator("#table-source")).to_have_text("Gear.XLSX")
    page.select_option("#table-sheet", "Old")
    expect(preview.locator("tbody td").first).to_have_text("older")
    page.keyboard.press("Escape")
    expect(page.locator("#paste")).to_be_focused()
    expect(page.locator(ROWS)).to_have_count(0)
    page.set_input_files("#file", book())  # as it comes by the menu, or dropped
    expect(page.locator("#table-take")).to_have_text("Add 1 part")
    page.click("#table-take")
    expect(page.locator(ROWS)).to_have_count(1)
    assert values(page, "name") == ["left"]
    assert values(page, "kind") == ["servo"]


def test_what_cannot_be_read_or_finds_no_room_is_told(open_page: OpenPage, site_url: str, tmp_path: Path) -> None:
    page = empty(start(open_page(), site_url))
    press(page, "#paste")
    damaged = tmp_path / "damaged.ods"
    damaged.write_bytes(b"PK\x03\x04 nothing more")
    page.set_input_files("#table-file", damaged)
    expect(page.locator("#table-problem")).to_contain_text("The workbook cannot be read")
    expect(page.locator("#table-take")).to_be_disabled()
    paste(page.locator("#table-text"), "Name;Mass\n" + "part;1 g\n" * 61)
    expect(page.locator("#table-preview .problem")).to_contain_text("a budget takes 60 rows")
    expect(page.locator("#table-take")).to_be_disabled()
    expect(page.locator("#table-problem")).to_be_empty()
    paste(page.locator("#table-text"), "Name;Mass\nonly;1 g\n")
    expect(page.locator("#table-take")).to_have_text("Add 1 part")


def test_a_csv_of_others_is_shown_first_and_ours_goes_straight_in(open_page: OpenPage, site_url: str) -> None:
    page = empty(start(open_page(), site_url))
    file: FilePayload = {"name": "gear.csv", "mimeType": "text/csv", "buffer": b"name;mass [g];colour\nFin;1;red\n"}
    page.set_input_files("#file", file)
    expect(page.locator("#table-preview")).to_contain_text("left aside: no field is called so")
    expect(page.locator(ROWS)).to_have_count(0)
    page.click("#table-take")
    expect(page.locator(ROWS)).to_have_count(1)
    with page.expect_download() as caught:
        press(page, "#save-csv")
    own: FilePayload = {"name": "own.csv", "mimeType": "text/csv", "buffer": caught.value.path().read_bytes()}
    page.set_input_files("#file", own)
    expect(page.locator(ROWS)).to_have_count(2)
    expect(page.locator("#table-dialog")).to_be_hidden()
    own["buffer"] += b"cell,a,1\ncell,b,1\n"  # of two cells one finds no place
    page.set_input_files("#file", own)
    expect(page.locator("#table-preview")).to_contain_text("A cell is left aside: a budget has only one.")


@pytest.mark.parametrize("width", [390, 1280])
def test_a_list_goes_into_the_box_and_comes_out_again(open_page: OpenPage, site_url: str, width: int) -> None:
    page = start(open_page(width, 844), site_url + "box.html")
    page.click("#paste")
    text = "Part\tType\tWeight (g)\tOn the scale (g)\tPcs\nleft\tservo\t1,3\t1,5\t2\nhook\twinch\t\t\t1\n"
    paste(page.locator("#table-text"), text)
    preview = page.locator("#table-preview")
    for said in (
        "“Count” belongs to a model, not to a part in the box.",
        "Weighed as well as planned: 1. The box keeps the weighed mass alone.",
        "Row 3: “winch” is no kind that is known here; it comes in as other.",
        "Row 3: “hook” has no mass: the finder leaves it out until it has one.",
    ):
        expect(preview).to_contain_text(said)
    expect(page.locator("#table-take")).to_have_text("Add 2 parts")
    page.click("#table-take")
    expect(page.locator("#table-dialog")).to_be_hidden()
    expect(page.locator("#count")).to_have_text("2 parts")
    kept = page.evaluate("JSON.parse(localStorage.getItem('thistledown.box')).parts")
    assert kept == [
        {"kind": "servo", "name": "left", "mass": "1,5 g", "known_by": "weighed"}, {"kind": "other", "name": "hook"}
    ]  # fmt: skip
    page.evaluate(f"({PASTE})(document.body, {text!r})")  # beside the fields
    expect(preview).to_contain_text("In the box already, and not put in again: 2.")
    expect(page.locator("#table-take")).to_be_disabled()
    page.keyboard.press("Escape")
    page.click("#told button")
    expect(page.locator("#count")).to_have_text("0 parts")
    page.set_input_files("#file", book())
    expect(page.locator("#table-source")).to_have_text("Gear.XLSX")
    page.click("#table-take")
    expect(page.locator("#table")).to_contain_text("left")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
