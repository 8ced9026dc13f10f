"""ODS and XLSX to a table: the checks FM-1 to FM-9, damage, passwords, bombs, dates, units in number formats."""

import io
import tracemalloc
import zipfile
from typing import Any

import pytest

from calc import wording
from calc.document import zipped as zipped_module
from calc.document.intake import opened
from calc.document.table import Table
from calc.errors import BudgetError
from tests.workbooks import ods, ods_number, ods_row, ods_table, ods_text, xlsx, zipped

ONE = (
    '<row r="1"><c r="A1" t="inlineStr"><is><t>Name</t></is></c><c r="B1" t="inlineStr"><is><t>Mass</t></is></c></row>'
)


def cells(table: Table) -> list[tuple[str, ...]]:
    """Return the texts of the rows."""
    return [row.cells for row in table.rows]


def code_of(source: str | bytes, sheet: str = "") -> str:
    """Return the code of the one problem that a file is refused for, after a look at its sentence."""
    with pytest.raises(BudgetError) as caught:
        opened(source, sheet)
    (problem,) = caught.value.problems
    assert wording.problem(problem).endswith(".")
    return problem.code


def test_fm_1_a_cell_repeated_stands_three_times() -> None:
    """OpenDocument 1.3, part 3, 19.676 `table:number-columns-repeated`."""
    row = ods_row(ods_text("a", ' table:number-columns-repeated="3"'), "", "b")
    assert cells(opened(ods(ods_table(row)))) == [("a", "a", "a", "", "b")]


def test_fm_2_padding_is_not_expanded() -> None:
    """As spreadsheets pad their sheets to the full width and height: 1024 columns, 1 048 576 rows."""
    empty = '<table:table-cell table:number-columns-repeated="1022"/>'
    rows = ods_row("Servo", ods_number("1.7", "1.7"), empty)
    rows += ods_row(
        '<table:table-cell table:number-columns-repeated="1024"/>', more=' table:number-rows-repeated="1048574"'
    )
    rows += ods_row("last")
    data = ods(ods_table(rows))
    opened(data)  # what is imported once
    tracemalloc.start()
    table = opened(data)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert [(row.number, row.cells) for row in table.rows] == [(1, ("Servo", "1.7")), (1048576, ("last",))]
    assert most < 1_000_000  # bytes; a list of a million rows would take eight times as many


@pytest.mark.parametrize("way", ["columns", "rows"])
def test_fm_3_a_text_repeated_999_999_999_times_is_refused(way: str) -> None:
    """With a reason; neither standard asks a reader to make room for it."""
    more = f' table:number-{way}-repeated="999999999"'
    row = ods_row(ods_text("x", more)) if way == "columns" else ods_row("x", more=more)
    with pytest.raises(BudgetError) as caught:
        opened(ods(ods_table(row)))
    assert wording.sentence("table_repeats", caught.value.problems[0].facts) == (
        "Row 1 repeats what is in it 999999999 times: that is no list of gear."
    )


def test_fm_4_the_stored_value_counts_and_not_the_shown_one() -> None:
    """OpenDocument 1.3, part 3, 19.387 `office:value`: the text is only what it looks like."""
    row = ods_row(
        ods_number("1.5", "1,5"),
        ods_number("1.4567", "1,5 g"),
        ods_number("1500", "1.5 kg"),
        ods_number("1", "1.2.3 g"),
    )
    row += ods_row(ods_number("0.2", "20%", "percentage"), ods_number("3.5", "3,50 €", "currency"))
    assert cells(opened(ods(ods_table(row)))) == [("1.5", "1.4567 g", "1.5 kg", "1.2.3 g"), ("20 %", "3.5 €")]


def test_fm_5_cells_of_every_kind_stand_where_their_reference_says() -> None:
    """ECMA-376 part 1, 18.3.1.4 (`r`), 18.18.11 (`t`): shared, inline and formula strings, numbers, a gap between."""
    row = (
        '<row r="3"><c r="A3" t="s"><v>1</v></c><c r="B3" t="inlineStr"><is><r><t>in</t></r><r><t>line</t></r></is></c>'
        '<c r="D3"><v>1.7000000000000002</v></c><c r="F3"><f>D3*2</f><v>3.4</v></c>'
        '<c r="G3" t="str"><f>"a"</f><v>a_x0041_</v></c><c r="H3" t="b"><v>1</v></c><c r="I3" t="e"><v>#DIV/0!</v></c>'
        '<c r="J3"><f>SUM(A1:A2)</f></c></row>'
    )
    shared = ["<t>no</t>", "<r><t>Ser</t></r><r><t>vo</t></r><rPh><t>spoken</t></rPh>"]
    table = opened(xlsx({"Gear": row}, shared))
    assert [(row.number, row.cells) for row in table.rows] == [
        (3, ("Servo", "inline", "", "1.7", "", "3.4", "aA", "TRUE", "#DIV/0!"))
    ]
    assert [wording.sentence(problem.code, problem.facts) for problem in table.told] == [
        "1 cell holds a formula without its result, and is empty here: open the file in your spreadsheet, save it "
        "there, and open it again."
    ]


def dated(*serials: str, style: int = 1, properties: str = "") -> tuple[str, ...]:
    """Return the texts of numbers with the format of a date."""
    row = "".join(f'<c s="{style}"><v>{serial}</v></c>' for serial in serials)
    return cells(opened(xlsx({"a": f"<row>{row}</row>"}, properties=properties)))[0]


def test_fm_6_serial_dates() -> None:
    """ECMA-376 part 1, 18.17.4.1: 45000 is 2023-03-15, 61 is 1900-03-01, and 60 a day that never was.

    45000 by hand: 1900-01-01 is 1; 123 years with 30 leap days (1904 to 2020) and the one that never was are 44 926
    days, so that 2023-01-01 is 44 927; 73 days on it is 15 March.
    """
    assert dated("45000", "61", "60", "59", "1") == ("2023-03-15", "1900-03-01", "60", "1900-02-28", "1900-01-01")
    assert dated("45000.75", "0.25", "-1", "1e300", style=5) == ("2023-03-15 18:00:00", "6:00:00", "-1", "1e+300")
    assert dated("0", "43538", properties='<workbookPr date1904="1"/>') == ("1904-01-01", "2023-03-15")


def test_numbers_keep_the_unit_and_the_percentage_of_their_format() -> None:
    """ECMA-376 part 1, 18.8.30 and 18.8.31: what a format puts behind a number belongs to it."""
    row = '<row><c s="2"><v>0.2</v></c><c s="3"><v>1.7</v></c><c s="4"><v>1500</v></c><c s="7"><v>0.06</v></c></row>'
    assert cells(opened(xlsx({"a": row}))) == [("20 %", "1.7 g", "1.5 kg", "0.06 oz")]


def test_fm_7_text_with_semicolons_decimal_commas_bom_quotes_and_a_line_break() -> None:
    """RFC 4180, section 2, rules 5 to 7, with the sign and the mark that spreadsheets of half Europe write."""
    text = '\ufeffName;Masse\r\n"a ""b"" c";1,5\r\n"two\r\nlines";0,5\r\n'
    expected = [("Name", "Masse"), ('a "b" c', "1,5"), ("two\r\nlines", "0,5")]
    assert cells(opened(text)) == expected
    assert cells(opened(text.encode())) == expected
    assert cells(opened(text.encode("utf-16"))) == expected


def test_fm_8_a_zip_that_inflates_a_thousand_times_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Deflate ends at 1032 to 1; nor may all parts together go beyond a bound, however little each inflates."""
    bomb = zipped({"content.xml": b" " * 3_000_000})
    assert len(bomb) < 3_000_000 / 900
    assert code_of(bomb) == "workbook_bomb"
    long = ods(ods_table(ods_row("Name", "Mass") + ods_row(*map(str, range(200))) * 50))
    assert opened(long).width == 200
    monkeypatch.setattr(zipped_module, "MOST_INFLATED", 100_000)
    assert code_of(long) == "workbook_bomb"


def test_what_a_zip_says_of_its_size_is_not_believed() -> None:
    """`ZipInfo.file_size` set to a hundred bytes, in both places."""
    data = bytearray(zipped({"content.xml": b" " * 3_000_000}))
    size = (3_000_000).to_bytes(4, "little")
    for _ in range(2):
        at = data.find(size)
        data[at : at + 4] = (100).to_bytes(4, "little")
    assert code_of(bytes(data)) in ("workbook_damaged", "workbook_bomb")


def test_fm_9_the_first_sheet_with_known_headings_is_read_and_said() -> None:
    """Of several sheets, the first one empty and the second with something else."""
    gear = ods_row("Gewicht", "Bauteil") + ods_row(ods_number("1.7", "1,7"), "Servo")
    tables = (
        ods_table("", "Empty")
        + ods_table(ods_row("a", "b"), "Other")
        + ods_table(gear, "Funk")
        + ods_table(gear, "Old")
    )
    table = opened(ods(tables))
    assert (table.sheet, table.others) == ("Funk", ("Empty", "Other", "Old"))
    assert [wording.sentence(problem.code, problem.facts) for problem in table.told] == [
        "Read is the sheet “Funk”. Not read: “Empty”, “Other”, “Old”."
    ]
    assert opened(ods(tables), "Other").rows[0].cells == ("a", "b")
    assert code_of(ods(tables), "None") == "no_sheet"
    assert code_of(ods(tables), "Empty") == "no_table"
    assert opened(ods(ods_table("", "Empty") + ods_table(ods_row("a", "b"), "Other"))).sheet == "Other"
    assert code_of(ods("")) == "no_table"
    plain = {"Empty": "", "Hidden": ONE, "Gear": ONE}
    assert opened(xlsx(plain, states={"Hidden": "hidden"})).sheet == "Gear"


def test_a_sheet_behind_the_wanted_one_may_be_too_large_but_not_damaged() -> None:
    good, wide = ods_table(ods_row("Name", "Mass"), "Gear"), ods_table(ods_row(*(["x"] * 300)), "Wide")
    assert opened(ods(good + wide)).sheet == "Gear"
    assert code_of(ods(wide + good)) == "table_too_wide"
    assert code_of(ods(good + "<table:table-row>")) == "workbook_damaged"


def test_hidden_rows_are_read_and_said() -> None:
    rows = ods_row("Name", "Mass") + ods_row("a", "1 g", more=' table:visibility="filter"')
    table = opened(ods(ods_table(rows)))
    assert [row.hidden for row in table.rows] == [False, True]
    assert wording.sentence(table.told[0].code, table.told[0].facts) == "1 hidden row is read as well: 2."
    hidden = "".join(f'<row r="{row}" hidden="1"><c t="str"><v>a</v></c></row>' for row in (4, 7))
    assert wording.sentence("table_hidden_rows", opened(xlsx({"a": hidden})).told[0].facts) == (
        "2 hidden rows are read as well: 4 and 7."
    )


def test_what_hangs_on_a_cell_is_not_its_text() -> None:
    """Comments and text boxes; blanks, tabs and line breaks are (OpenDocument 1.3, part 3, 6.1.3 to 6.1.5)."""
    cell = (
        '<table:table-cell office:value-type="string"><office:annotation><text:p>note</text:p></office:annotation>'
        '<text:p>a<text:s text:c="2"/><text:span>b</text:span><text:tab/>c<text:line-break/>d</text:p>\n '
        " <text:p>e</text:p>"
        "<drawing:frame><text:p>box</text:p></drawing:frame><table:table><table:table-row><table:table-cell>"
        "<text:p>within</text:p></table:table-cell></table:table-row></table:table></table:table-cell>"
    )
    rows = ods_row(cell, '<table:covered-table-cell table:number-columns-repeated="2"/>', "z")
    rows += ods_row('<table:table-cell office:value-type="date" office:date-value="2023-03-15T00:00:00"/>')
    rows += ods_row('<table:table-cell office:value-type="string" office:string-value="told"/>')
    rows += ods_row('<table:table-cell table:formula="of:=1+1"/>', ods_number("x", "x", "percentage"))
    shapes = "<table:shapes><drawing:frame><table:table/></drawing:frame></table:shapes>"
    table = opened(ods(ods_table(shapes + rows.replace("</table:table-row>", " </table:table-row> "))))
    assert cells(table) == [("a  b\tc\nd\ne", "", "", "z"), ("2023-03-15",), ("told",), ("", "x %")]
    assert [problem.code for problem in table.told] == ["table_no_result"]


def test_text_in_other_codings_is_read_and_said() -> None:
    table = opened("Name;Masse\nMöwe;1,5\n".encode("cp1252"))
    assert table.rows[1].cells[0] == "Möwe"
    assert [problem.code for problem in table.told] == ["not_utf8"]


def test_numbers_that_are_none_and_styles_that_are_missing_stay_as_they_are() -> None:
    row: Any = '<row> <c s="99"><v>1.5</v></c><c s="2"><v>x</v></c><c t="d"><v>2023-03-15</v></c><c t="n"/></row>'
    assert cells(opened(xlsx({"a": row}))) == [("1.5", "x", "2023-03-15")]


def test_a_workbook_without_strings_and_styles_is_read() -> None:
    """Both parts may be absent (ECMA-376 part 1, 12.3.15 and 12.3.20)."""
    data = xlsx({"a": '<row><c r="B1"><v>2</v></c><c><v>3</v></c></row>'})
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts: dict[str, str | bytes] = {name: archive.read(name).decode() for name in archive.namelist()}
    parts.pop("xl/sharedStrings.xml")
    parts.pop("xl/styles.xml")
    related = str(parts["xl/_rels/workbook.xml.rels"])
    parts["xl/_rels/workbook.xml.rels"] = (
        related[: related.index('<Relationship Id="rIdS"')].encode() + b"</Relationships>"
    )
    assert cells(opened(zipped(parts))) == [("", "2", "3")]
