"""Parts of the airframe out of workbooks, and through CSV and back in either system of units."""

import json
from pathlib import Path
from typing import Any

import pytest

from calc.__main__ import main
from calc.assess import assess
from calc.document.budget import read, sound
from calc.document.conversion import converted
from calc.document.intake import opened
from calc.errors import BudgetError
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.airframe.table import Added, from_csv, from_table, is_headed, to_csv
from calc.subjects.airframe.templates import started, templates
from tests.calc.full import BY_PARTS
from tests.workbooks import ods, ods_number, ods_row, ods_table, xlsx

DAY = '<table:table-cell office:value-type="date" office:date-value="2026-03-14"/>'
HEADINGS = ("Part", "Belongs to", "Shape", "Material", "Span [mm]", "Chord", "Ribs every [in]", "Depth", "Thickness",
            "On the scale, all together [g]", "Weighed on", "Paint")  # fmt: skip
RIBS: dict[str, Any] = {
    "name": "ribs", "group": "wing", "shape": "ribs", "material": "balsa-light", "span": "760 mm", "root": "115 mm",
    "pitch": "1.5 in", "thickness": "1 mm", "weighed": "1.6 g", "weighed_on": "2026-03-14",
}  # fmt: skip
RODS = "Part,Shape,Diameter [mm],Length [mm]\r\nboom,round rod,3,300\r\n"


def in_ods() -> bytes:
    """Return a workbook: a sheet of something else, then a title, headings, a part, a sum."""
    part = ods_row(
        "ribs", "wing", "ribs from sheet, by pitch", "balsa, light", ods_number("760", "760"), "115 mm",
        ods_number("1.5", "1,5"), ods_number("0.07", "7 %", "percentage"), ods_number("1", "1.0 mm"),
        ods_number("1.6", "1,6"), DAY, "red",
    )  # fmt: skip
    total = ods_row("Total", "", "", "", "", "", "", "", "", ods_number("1.6", "1,6"))
    other = ods_table(ods_row("Name", "Address") + ods_row("x", "y"), "Club")
    return ods(other + ods_table(ods_row("My model") + ods_row(*HEADINGS) + part + total, "Airframe"))


def in_xlsx() -> bytes:
    """Return the same, the date as a serial number: 46095 is 2026-03-14 (45000 is 2023-03-15, 1095 days before)."""
    texts = [f'<c t="inlineStr"><is><t>{text}</t></is></c>' for text in HEADINGS]
    words = ("ribs", "wing", "ribs from sheet, by pitch", "balsa, light", 760, "115 mm", 1.5, "7 %", "1 mm", 1.6)
    cells = [
        f"<c><v>{word}</v></c>" if isinstance(word, int | float) else f'<c t="inlineStr"><is><t>{word}</t></is></c>'
        for word in words
    ]
    rows = f'<row r="1">{"".join(texts)}</row><row r="2">{"".join(cells)}<c s="1"><v>46095</v></c></row>'
    return xlsx({"Airframe": rows})


def added(source: bytes, document: dict[str, Any] | None = None) -> Added:
    """Return a document with the parts of a file."""
    return from_table(opened(source, headed=is_headed), document or {})


@pytest.mark.parametrize("source", [in_ods(), in_xlsx()], ids=["ods", "xlsx"])
def test_parts_out_of_a_workbook(source: bytes) -> None:
    """Units of the headings and of the cells, a percentage, a date; what is no part is named."""
    found = added(source, {"airframe": [{"name": "first"}]})
    first, part = found.document["airframe"]
    assert first == {"name": "first"}
    assert part.pop("depth").replace(" ", "") == "7%"
    assert {**part, "thickness": part["thickness"].replace("1.0", "1")} == RIBS
    assert found.parts == 1
    assert found.aside[0] == "Paint"
    assert read(found.document).problems == ()


def test_sums_other_sheets_and_titles_are_told() -> None:
    found = added(in_ods())
    assert found.aside == ("Paint", "row 4, a sum")
    assert [each.code for each in found.told] == ["table_sheets"]


def test_a_row_of_parts_is_not_taken_for_headings() -> None:
    """A first line may have one heading alone; a later one must have two, or a part called so would be one."""
    assert from_csv("Part\r\nboom\r\n", {})[0]["airframe"] == [{"name": "boom"}]
    assert from_csv("Part,Paint\r\n,red\r\nboom,\r\n", {})[0]["airframe"] == [{"name": "boom"}]
    with pytest.raises(BudgetError):
        from_csv("My model\r\nPart\r\n", {})


@pytest.mark.parametrize("system", ["metric", "imperial"])
@pytest.mark.parametrize("document", [BY_PARTS, started({}, "thirty-inch"), started({}, "small-electric")])
def test_through_csv_and_back_in_either_system(document: dict[str, Any], system: str) -> None:
    """What is in its own system's units comes back the same; each mass, spread and place does."""
    begun = converted({**document, "units": system}).document
    rest = {key: item for key, item in begun.items() if key != "airframe"}
    again, ignored = from_csv(to_csv(begun), rest)
    assert ignored == ()
    before, after = (assess(sound(each)).of(AirframeBlock) for each in (begun, again))
    assert before is not None
    assert after is not None
    for old, new in zip(before.parts, after.parts, strict=True):
        assert new.counts.expected_kg == pytest.approx(old.counts.expected_kg, rel=1e-9)
        assert new.counts.uncertainty_kg == pytest.approx(old.counts.uncertainty_kg, rel=1e-9)
        assert (new.name, new.group, new.day) == (old.name, old.group, old.day)
    assert after.forecast.expected_kg == pytest.approx(before.forecast.expected_kg, rel=1e-9)
    assert to_csv(again) == to_csv(begun)
    assert ("[in]" if system == "imperial" else "[mm]") in to_csv(begun).partition("\r\n")[0]


def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, budget = tmp_path / "parts.ods", tmp_path / "budget.json"
    file.write_bytes(in_ods())
    assert main(["airframe", "--table", str(file)]) == 0
    said = capsys.readouterr()
    assert json.loads(said.out)["airframe"][0]["name"] == "ribs"
    assert "Left aside: Paint, row 4, a sum." in said.err
    assert "Read is the sheet “Airframe”" in said.err
    budget.write_text(json.dumps({"name": "Whimbrel", "airframe": [{"mass": "1 g"}]}), encoding="utf-8")
    file.write_text(RODS.replace("300", "300 g"), encoding="utf-8")
    assert main(["airframe", "--table", str(file), "--into", str(budget)]) == 0
    said = capsys.readouterr()
    found = json.loads(said.out)
    assert (found["name"], len(found["airframe"])) == ("Whimbrel", 2)
    assert "“300 g”" in said.err
    for bad in ("PK\x03\x04", "colour,size\n1,2"):
        file.write_text(bad, encoding="utf-8")
        assert main(["airframe", "--table", str(file)]) == 2
    assert main(["airframe", "--table", str(tmp_path / "none.ods")]) == 2
    assert main(["airframe", "--table", str(file), "--into", str(file)]) == 2


def test_each_model_is_read_again_from_its_csv() -> None:
    for key in templates():
        text = to_csv(started({}, key))
        assert opened(text.encode(), headed=is_headed).rows[0].cells[0] == "Part"
        assert from_table(opened(text.encode(), headed=is_headed), {}).document == from_csv(text, {})[0]
