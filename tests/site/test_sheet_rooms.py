"""The print sheet is put together from the subjects' rooms: each part stands in one place, and none is forgotten."""

import pytest

from calc.subjects.listed import SUBJECTS
from site_src.app.render import SITE_SRC, render
from site_src.app.sheetview import sheet_view
from tests.calc.full import BY_PARTS
from tests.support import demo_documents

FLOWN = {"field": {"wind": "2 m/s"}, "flights": [{"height": "38 m", "glide": "95 s"}]}
PLACES = ("left", "right", "after")
WITH_A_PART = tuple(each.name for each in SUBJECTS if (SITE_SRC / "subjects" / each.name / "sheet.html").is_file())


@pytest.mark.parametrize("rows", [5, 30], ids=["a short list", "a long one"])
@pytest.mark.parametrize("name", WITH_A_PART)
def test_a_part_stands_in_one_place_of_the_sheet(name: str, rows: int) -> None:
    document = demo_documents()["sedge-wren.json"]
    gear = [{**row, "length": "9 mm", "width": "5 mm", "height": "3 mm"} for row in (document["gear"] * 6)[:rows]]
    bay = {"length": "90 mm", "width": "60 mm", "height": "40 mm"}
    sheet = sheet_view({**document, "gear": gear, "bays": [bay], **BY_PARTS, **FLOWN})
    answer = sheet["answer"]
    context = {"sheet": sheet, "answer": answer, "a": answer.assessment, "system": answer.system}
    parts = [render(f"subjects/{name}/sheet.html", {**context, "place": place}).strip() for place in PLACES]
    (part,) = filter(None, parts)
    assert part in render("sheet.html", {"sheet": sheet})


def test_the_sheet_itself_names_no_room() -> None:
    template = (SITE_SRC / "templates" / "sheet.html").read_text(encoding="utf-8")
    assert not [each.name for each in SUBJECTS if f"subjects/{each.name}" in template]
    assert {"weights", "limits", "power", "balance", "air"} <= set(WITH_A_PART)
