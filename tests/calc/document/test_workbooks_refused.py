"""Workbooks and texts that are refused with a reason: damage, bombs, passwords, lies, and whatever else comes."""

import io
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import wording
from calc.document.intake import opened
from calc.document.table import MOST_ROWS
from calc.errors import BudgetError
from tests import workbooks
from tests.calc.document.test_spreadsheets import ONE, code_of
from tests.workbooks import ods, ods_number, ods_row, ods_table, xlsx, zipped

BILLION = (
    '<!DOCTYPE a [<!ENTITY a "lol"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>'
    "<a>&c;</a>"
)


@pytest.mark.parametrize(
    ("source", "code"),
    [
        pytest.param(zipped({"content.xml": BILLION}), "workbook_damaged", id="entities"),
        pytest.param(
            zipped({"content.xml": '<!DOCTYPE a SYSTEM "file:///etc/hosts"><a/>'}), "workbook_damaged", id="outside"
        ),
        pytest.param(zipped({"content.xml": "<a>"}), "workbook_damaged", id="not well-formed"),
        pytest.param(zipped({"a.txt": "x"}), "no_workbook", id="a zip of something else"),
        pytest.param(zipped({"[Content_Types].xml": "<a/>"}), "workbook_damaged", id="no workbook in it"),
        pytest.param(b"PK\x03\x04" + b"x" * 50, "workbook_damaged", id="no zip"),
        pytest.param(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 500, "workbook_old", id="old or with a password"),
        pytest.param(b"PK\x03\x04" + b"x" * 5_000_000, "file_too_large", id="too large"),
        pytest.param(b"\x89PNG\r\n\0\xff\xfe", "no_text", id="a picture"),
        pytest.param(b"\xff\xfe\x00", "no_text", id="half of a wide letter"),
        pytest.param(b"", "no_table", id="nothing"),
        pytest.param(" \n;;\n", "no_table", id="nothing but signs"),
        pytest.param("x" * 4_000_001, "too_large", id="a long text"),
        pytest.param("a;b\n" * (MOST_ROWS + 1), "too_many_in_file", id="many rows"),
        pytest.param(";" * 300 + "x", "table_too_wide", id="a wide text"),
        pytest.param('a;"b', "not_csv", id="a quote left open"),
        pytest.param(ods(ods_table(""), "<manifest:encryption-data/>"), "workbook_locked", id="ODS with a password"),
        pytest.param(ods(ods_table(ods_row(more=' table:number-rows-repeated="x"'))), "workbook_damaged", id="count"),
        pytest.param(
            ods(ods_table(ods_row("x" * 2000, more=' table:number-rows-repeated="5000"'))), "too_large", id="long"
        ),
        pytest.param(xlsx({"a": '<row r="9999999"/>'}), "workbook_damaged", id="a row past the last"),
        pytest.param(xlsx({"a": '<row><c r="1A"><v>1</v></c></row>'}), "workbook_damaged", id="no reference"),
        pytest.param(xlsx({"a": '<row><c t="s"><v>7</v></c></row>'}), "workbook_damaged", id="no such text"),
        pytest.param(xlsx({"a": '<row><c r="ZZZ1"><v>1</v></c></row>'}), "table_too_wide", id="a far column"),
    ],
)  # fmt: skip
def test_files_that_are_refused_with_a_reason(source: str | bytes, code: str) -> None:
    assert code_of(source) == code


def changed(data: bytes, **fields: int) -> bytes:
    """Return a zip of one part with fields of its central directory changed (APPNOTE 4.3.12)."""
    raw, at = bytearray(data), data.rfind(b"PK\x01\x02")
    for name, value in fields.items():
        place = {"flags": 8, "method": 10}[name]
        raw[at + place : at + place + 2] = value.to_bytes(2, "little")
    return bytes(raw)


def test_a_password_an_odd_packing_and_a_broken_part_are_told() -> None:
    data = zipped({"content.xml": "<a/>" + " " * 5000})
    assert code_of(changed(data, flags=1)) == "workbook_locked"
    assert code_of(changed(data, method=12)) == "workbook_damaged"
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("content.xml", workbooks.ods_content(ods_table(ods_row("Name", "Mass"))))
    assert code_of(out.getvalue().replace(b"Name", b"Nama")) == "workbook_damaged"  # its checksum tells


BOOKS = (
    ods(ods_table(ods_row("Name", ods_number("1.5", "1,5"), more=' table:number-rows-repeated="2"'))),
    xlsx({"Gear": ONE + '<row><c t="s" s="1"><v>0</v></c></row>'}, ["<t>x</t>"]),
)


def outcome(book: bytes) -> object:
    """Return the rows of a file, or the sentence that it is refused with; any other error is a fault."""
    try:
        return opened(book).rows
    except BudgetError as error:
        return wording.problem(error.problems[0])


@settings(max_examples=400)
@given(st.sampled_from(BOOKS), st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), min_size=1, max_size=6))
def test_a_workbook_with_bytes_changed_is_read_or_refused(book: bytes, changes: list[tuple[float, int]]) -> None:
    raw = bytearray(book)
    for where, byte in changes:
        raw[4 + int(where * (len(raw) - 5))] = byte
    assert outcome(bytes(raw))


@settings(max_examples=400)
@given(st.text(alphabet='<>/="table:rowcpsvt 19', max_size=80), st.sampled_from(["content.xml", "sheet"]))
def test_any_xml_within_a_workbook_is_read_or_refused(inside: str, where: str) -> None:
    assert outcome(ods(ods_table(inside)) if where == "content.xml" else xlsx({"a": inside}))
