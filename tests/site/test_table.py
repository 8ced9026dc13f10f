"""The door for tables: a preview that changes nothing, then the parts in the gear; text, CSV and workbooks."""

import base64
import json
import sys
from pathlib import Path
from typing import Any

import pytest

from site_src.app.render import render
from site_src.tools.hostile import EVIL
from tests.site.test_bridge import MARKUP, ask
from tests.site.test_html import complaints
from tests.support import SITE_SRC, PyodideBridge, squeezed
from tests.workbooks import ods, ods_number, ods_row, ods_table, ods_text, xlsx

DEMO = SITE_SRC / "demo"
BLOCK = "Name\tWeight (gr)\tType\tNotes\nleft\t1,7\tservo\tgood\n1S\t1,0\tlipo\t\nhook\t0,3\twinch\t\nTotal\t3,0\t\t\n"
BUDGET: dict[str, Any] = {"units": "metric", "gear": [{"kind": "servo"}]}


def data(book: bytes) -> dict[str, str]:
    """Return the bytes of a file as the page sends them."""
    return {"data": base64.b64encode(book).decode()}


def preview(**params: Any) -> dict[str, Any]:
    found = ask("table_preview", **params)["result"]
    assert isinstance(found, dict)
    return found


def test_a_pasted_block_is_shown_before_it_is_taken() -> None:
    shown = preview(table={"text": BLOCK}, document=BUDGET)
    assert [(column["field"], column["unit"], column["why"]) for column in shown["columns"]] == [
        ("name", "", "by its heading"), ("mass", "gr", "by its heading; bare numbers in gr"),
        ("kind", "", "by its heading"), ("", "", "left aside: gear has no field for notes"),
    ]  # fmt: skip
    assert (shown["parts"], shown["more_rows"], shown["headings"], shown["sheets"]) == (3, 0, 1, [])
    assert shown["rows"][0] == {"number": 2, "cells": ["left", "1,7", "servo", "good"]}
    assert shown["aside"] == ["Row 5: “Total” is the sum of the others, and no part."]
    assert shown["doubts"] == [
        "“gr” is read as grams, not as grains.",
        "Nobody says how 3 of the masses are known; they come in as: guess.",
        "Row 4: “winch” is no kind that is known here; it comes in as other.",
    ]
    for piece in (
        'name="field-1"',
        '<option value="mass" selected>Mass of one</option>',
        'name="unit-1"',
        "3 parts would come in",
    ):
        assert piece in squeezed(shown["html"])


def test_taken_it_stands_in_the_gear_and_what_was_left_aside_is_said() -> None:
    taken = ask("table_take", table={"text": BLOCK}, document=BUDGET, assignment={"known_by": "weighed"})["result"]
    assert taken["document"] == {
        "units": "metric",
        "gear": [
            {"kind": "servo", "name": "left", "mass": "1,7 gr", "known_by": "weighed"},
            {"kind": "other", "name": "hook", "mass": "0,3 gr", "known_by": "weighed"},
        ],
        "cell": {"name": "1S", "mass": "1,0 gr", "known_by": "weighed"},
    }
    assert taken["told"] == "2 parts are added to the gear; the cell is in its place; columns left aside: Notes."
    assert taken["aside"] == ["Row 5: “Total” is the sum of the others, and no part."]
    assert len(taken["doubts"]) == 3
    assert BUDGET["gear"] == [{"kind": "servo"}]
    notes = ask("answer", document=taken["document"])["result"]["notes"]
    assert notes["gear.0.mass"] == "= 1.7 g; gr read as grams, not grains"


def test_the_visitors_columns_go_before_ours() -> None:
    assignment = {"fields": {"1": "weighed", "3": "name", "0": ""}, "units": {"1": "oz"}, "headings": "1"}
    taken = ask("table_take", table={"text": BLOCK}, document={}, assignment=assignment)["result"]
    assert taken["document"]["gear"][0] == {"kind": "servo", "name": "good", "weighed": "1,7 oz"}
    shown = preview(table={"text": BLOCK}, document={}, assignment={"headings": "0"})
    assert (shown["headings"], shown["parts"]) == (0, 4)


def test_a_preview_says_how_many_come_in_and_what_finds_no_place() -> None:
    shown = preview(table={"text": BLOCK}, document=BUDGET)
    assert (shown["adds"], shown["problem"], shown["sure"]) == (3, "", True)
    assert 'name="unit-0"' not in shown["html"]
    taken = ask("table_take", table={"text": BLOCK}, document=BUDGET)["result"]
    again = preview(table={"text": BLOCK + "2S\t2\tlipo\n"}, document=taken["document"])
    assert again["adds"] == 2
    assert again["aside"][0] == "2 cells are left aside: a budget has only one."
    assert preview(table={"text": BLOCK}, document=taken["document"])["aside"][0].startswith("A cell is left aside")
    unsure = preview(table={"text": "Name\tMass\tColour\na\t1 g\tred\n"}, document={})
    assert (unsure["sure"], [column["unsure"] for column in unsure["columns"]]) == (False, [False, False, True])
    assert preview(table={"text": "Name\tMass\tColour\na\t1 g\t\n"}, document={})["sure"]
    full = preview(table={"text": "Name\tMass\n" + "a\t1 g\n" * 61}, document={})
    assert full["adds"] == 0
    assert "The file has 61 parts for the gear, but a budget takes 60 rows and has 0." in full["problem"]
    assert full["problem"] in full["html"]


GEAR = ods_row("Title of the list") + ods_row("Bauteil", "Gewicht [g]") + ods_row("Servo", ods_number("1.7", "1,7"))


def test_a_workbook_comes_in_and_says_which_sheet() -> None:
    book = ods(ods_table("", "Empty") + ods_table(GEAR, "Funk") + ods_table(GEAR.replace("Servo", "Rx"), "Alt"))
    shown = preview(table=data(book))
    assert (shown["sheet"], shown["sheets"]) == ("Funk", ["Funk", "Empty", "Alt"])
    assert shown["told"] == [
        "Read is the sheet “Funk”. Not read: “Empty”, “Alt”.", "Above the headings, left aside: row 1."
    ]  # fmt: skip
    assert preview(table={**data(book), "sheet": "Alt"})["rows"][0]["cells"] == ["Rx", "1.7"]
    row = '<row><c t="inlineStr"><is><t>Servo</t></is></c><c s="3"><v>1.7</v></c></row>'
    taken = ask("table_take", table=data(xlsx({"Gear": row})), document={})["result"]
    assert taken["document"]["gear"] == [{"kind": "servo", "name": "Servo", "mass": "1.7 g", "known_by": "guess"}]


@pytest.mark.parametrize(
    ("table", "code"),
    [
        ({"data": "no base64!"}, "no_text"), ({"data": "ä"}, "no_text"), ({"data": "A" * 7_000_000}, "file_too_large"),
        (data(b"\xd0\xcf\x11\xe0"), "workbook_old"), ({"text": ""}, "no_table"), ({}, "no_table"), (5, "no_table"),
        ({"text": "a;b\n" * 5001}, "too_many_in_file"), ({"text": 'a;"b'}, "not_csv"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_refused_with_a_sentence(table: Any, code: str) -> None:
    for method in ("table_preview", "table_take"):
        answer = ask(method, table=table, document={})
        assert (answer["ok"], answer["errors"][0]["code"]) == (False, code)
        assert answer["errors"][0]["message"].endswith(".")


def test_long_lists_are_told_in_short() -> None:
    shown = preview(table={"text": "Name\tType\n" + "x\twinch\n" * 60 + "Total\t\n" * 50})
    assert len(shown["aside"]) == 41
    assert shown["aside"][-1] == "And 10 more of this kind."
    assert (len(shown["rows"]), shown["more_rows"]) == (6, 104)
    assert shown["told"] == []
    lost = preview(table={"text": "Title\nmore\nName;Mass\nM\ufffdwe;1\n"})["told"]
    assert lost[0] == "Above the headings, left aside: rows 1 to 2."
    assert "not UTF-8" in lost[1]
    assert "not UTF-8" in ask("table_take", table={"text": "Name\nM\ufffdwe\n"}, document={})["result"]["told"]


def test_nothing_of_a_table_is_ever_html() -> None:
    text = f"Name\tMass ({MARKUP})\t{MARKUP}\n{MARKUP}\t{MARKUP}\t{MARKUP}\n".replace('"', "'")
    book = ods(ods_table(ods_row(ods_text("&lt;img src=x&gt;")), "&lt;img src=y&gt;") + ods_table("", "b"))
    for table in ({"text": text}, data(book)):
        shown = preview(table=table, document={})
        assert "<img" not in shown["html"]
        assert "&lt;img" in shown["html"]


@pytest.mark.node
def test_the_html_of_previews_follows_its_rules(tmp_path: Path) -> None:
    shell = '<!doctype html><html lang="en"><head><title>a page</title></head><body><main>{}</main></body></html>'
    book = ods(ods_table(GEAR, "Funk") + ods_table("", EVIL.replace("<", "").replace("&", "").replace('"', "")))
    tables: list[dict[str, str]] = [
        {"text": BLOCK},
        {"text": "x"},
        {"text": f"{EVIL}\tb\n".replace('"', "")},
        data(book),
    ]
    for number, table in enumerate(tables):
        html = preview(table=table, document={})["html"]
        (tmp_path / f"{number}.html").write_text(
            shell.format(f"<h1>a</h1><h2>b</h2><form>{html}</form>"), encoding="utf-8", errors="replace"
        )
    assert complaints(*sorted(tmp_path.glob("*.html"))) == ""


def test_the_template_shows_what_the_data_say() -> None:
    shown = preview(table={"text": BLOCK}, document=BUDGET)
    html = shown.pop("html")
    assert render("table.html", {"table": shown}) == html
    for said in (*shown["aside"], *shown["doubts"]):
        assert said in html.replace("\u00a0", " ")


def test_workbooks_are_unpacked_by_what_is_imported_for_them_alone() -> None:
    """A first visit that opens no workbook neither imports the zip reader's XML nor pays for it."""
    import subprocess

    code = (
        "import sys; from site_src.app import bridge; bridge.handle('{}'); "
        "assert not {'pyexpat', 'xml', 'xml.parsers.expat'} & set(sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.node
def test_cpython_and_pyodide_read_the_same_tables(pyodide_bridge: PyodideBridge) -> None:
    row = '<row><c t="inlineStr"><is><t>Servo</t></is></c><c s="3"><v>1.7</v></c><c s="1"><v>45000</v></c></row>'
    from site_src.app import bridge

    for table in ({"text": BLOCK}, data(ods(ods_table(GEAR, "Funk"))), data(xlsx({"Gear": row})), data(b"PK\x03\x04x")):
        for method in ("table_preview", "table_take"):
            request = json.dumps({"v": 1, "id": 1, "method": method, "params": {"table": table, "document": BUDGET}})
            assert json.loads(pyodide_bridge.ask(request)) == json.loads(bridge.handle(request))


def test_a_list_goes_into_the_box_as_the_gear_takes_it() -> None:
    """Shown first, then taken; what is there already is left aside, and a full box says so."""
    box = {"units": "metric", "parts": [{"kind": "servo", "name": "left", "mass": "1,7 gr", "known_by": "guess"}]}
    shown = ask("box_table_preview", table={"text": BLOCK}, document=box)["result"]
    assert (shown["adds"], shown["aside"][0]) == (2, "In the box already, and not put in again: 1.")
    assert "station" not in [each["value"] for each in shown["fields"]]
    assert "2 parts would come in" in squeezed(shown["html"])
    taken = ask("box_table_take", table={"text": BLOCK}, document=box)["result"]
    assert [part["name"] for part in taken["document"]["parts"]] == ["left", "1S", "hook"]
    assert [part["name"] for part in taken["parts"]] == ["1S", "hook"]
    assert taken["told"] == "2 parts are added to the box."
    assert ask("box_table_take", table={"text": "Name\nM\ufffdwe\n"}, document={})["result"]["told"].startswith(
        "1 part is added to the box. Some letters"
    )
    full = ask("box_table_preview", table={"text": BLOCK}, document={"parts": [{"name": str(n)} for n in range(4999)]})
    assert full["result"]["adds"] == 0
    assert full["result"]["problem"] == "The budget: The list has 3 parts, but a box holds 5000 and has 4999."


def test_only_what_the_page_wrote_itself_goes_straight_in() -> None:
    own = ask("gear_csv", document=json.loads((DEMO / "gnat.json").read_text("utf-8")))["result"]["text"]
    into = {"units": "metric"}
    assert ask("open_any", text=own, document=into)["result"]["plain"] is True
    assert ask("open_any", text='{"name": "a"}', document=into)["result"]["plain"] is True
    for text in (
        "kind;name;mass [g]\nservo;a;1\n",
        own + "cell,a\r\ncell,b\r\n",
        own.replace("Kind", "kind", 1),
        own + "\ufffd\r\n",
    ):
        assert ask("open_any", text=text, document=into)["result"]["plain"] is False
    box = ask("box_csv", box=json.loads((DEMO / "box.json").read_text("utf-8")))["result"]["text"]
    assert ask("box_open", text=box)["result"]["plain"] is True
    assert ask("box_open", text='{"parts": [{"mass": "x"}]}')["result"]["plain"] is True
    for text in (own, box + "servo,a,x\r\n", "kind;name\nservo;a\n"):
        assert ask("box_open", text=text)["result"]["plain"] is False


def test_what_was_typed_is_converted_and_told() -> None:
    found = ask("convert", document={"units": "imperial", "gear": [{"mass": "1.3 g", "known_by": "maker"}]})["result"]
    assert found["document"]["gear"][0]["mass"] == "0.046 oz"
    assert (found["count"], found["told"]) == (1, "1 entry is converted; rounding moved none by more than 0.3 %.")
    assert ask("convert", document=5)["result"]["told"].startswith("Nothing to convert")
    assert ask("convert", document={"model": {"airframe": "1 oz"}, "cell": {"mass": "1 oz"}})["result"][
        "told"
    ].startswith("2 entries are converted")
