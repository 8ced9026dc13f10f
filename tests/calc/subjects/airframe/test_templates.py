"""The invented models: each is sound, near its class's minimum, fits a QR code, and goes through CSV unharmed."""

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.assess import assess
from calc.document import classes, link
from calc.document.budget import MOST_ROWS, read, sound
from calc.document.schema import budget_schema
from calc.errors import BudgetError
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.airframe.table import from_csv, to_csv
from calc.subjects.airframe.templates import started, templates

LONGEST_CODE = 2953  # bytes in the largest QR code, ISO/IEC 18004, version 40-L
ADDRESS = 200  # of the page, before the link


@pytest.mark.parametrize("key", templates())
def test_a_model_is_sound_and_near_its_minimum(key: str) -> None:
    """The airframe comes to 85 to 100 % of what the class asks of the model without rubber: gear is to come."""
    document = started({}, key)
    found = assess(sound(document))
    block = found.of(AirframeBlock)
    assert block is not None
    assert "airframe" not in found.missing
    assert block.uncounted == ()
    assert block.cg_m is not None
    assert block.area_m2 is not None
    minimum_kg = classes.table()[templates()[key].class_].minimum_kg
    if minimum_kg is not None:
        assert 0.85 * minimum_kg <= block.forecast.expected_kg <= minimum_kg
    jsonschema.Draft202012Validator(budget_schema()).validate(document)


def test_there_are_seven_and_most_have_a_minimum() -> None:
    assert len(templates()) == 7
    with_minimum = [each for each in templates().values() if classes.table()[each.class_].minimum_kg is not None]
    assert len(with_minimum) == 5


def test_what_has_no_minimum_is_of_its_kind() -> None:
    """A hand-thrown model of half a metre, an old-timer of 900 mm: loadings of their kind, common practice."""
    loadings = {}
    for key in ("hand-thrown", "old-timer"):
        block = assess(sound(started({}, key))).of(AirframeBlock)
        assert block is not None
        assert block.area_m2 is not None
        loadings[key] = block.forecast.expected_kg * 1e3 / (block.area_m2 * 1e2)
    assert all(7.0 < loading < 14.0 for loading in loadings.values())  # g/dm²


@pytest.mark.parametrize("key", templates())
def test_a_full_airframe_fits_a_code(key: str) -> None:
    """Also where each part has its weighed mass and day."""
    document = started(
        {"name": "A name of thirty letters or so", "gear": [{"kind": "servo", "mass": "1.7 g"}] * 6}, key
    )
    for number, part in enumerate(document["airframe"]):
        part |= {"weighed": f"{1 + number * 0.37:.2f} g", "weighed_on": f"2026-03-{10 + number:02}"}
    assert read(document).problems == ()
    assert len(link.encode(document)) + ADDRESS < LONGEST_CODE
    assert link.decode(link.encode(document))["airframe"] == document["airframe"]


@pytest.mark.parametrize("key", templates())
def test_through_csv_and_back(key: str) -> None:
    document = started({}, key)
    again, ignored = from_csv(to_csv(document), {"model": document["model"]})
    assert ignored == ()
    before, after = (assess(sound(each)).of(AirframeBlock) for each in (document, again))
    assert before is not None
    assert after is not None
    assert after.forecast.expected_kg == pytest.approx(before.forecast.expected_kg, rel=1e-9)
    assert after.cg_m == pytest.approx(before.cg_m, rel=1e-9)
    assert [part.name for part in after.parts] == [part.name for part in before.parts]


def test_starting_keeps_what_the_document_has() -> None:
    document = started(
        {"model": {"class": "f1g", "airframe": "3 g"}, "airframe": [1], "building": {"glue": "3 %"}}, "indoor"
    )
    assert document["model"] == {"class": "f1g", "airframe": "3 g"}
    assert document["building"] == {"glue": "3 %"}
    document["airframe"][0]["name"] = "changed"
    assert templates()["indoor"].parts[0]["name"] == "wing frame"


def test_csv_of_a_spreadsheet() -> None:
    """Decimal commas, semicolons, a byte-order mark, words for choices, an unknown column, an empty line."""
    text = "\ufeffPart;Shape;Material;Length [cm];thickness;Width [mm];Is the wing’s planform;Paint\r\n"
    text += "spar;strip or sheet;spruce;76,2;1/8 in;3;no;red\r\n;;;;;;;\r\n"
    document, ignored = from_csv(text, {"airframe": [{"name": "first"}]})
    first, spar = document["airframe"]
    assert first == {"name": "first"}
    assert spar == {"name": "spar", "shape": "strip", "material": "spruce", "length": "76,2 cm", "thickness": "1/8 in",
                    "width": "3 mm", "area": False}  # fmt: skip
    assert ignored == ("Paint",)
    assert read(document).problems == ()


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Colour,Size\r\nred,1", "no_parts_header"), ("", "no_parts_header"),
        ("Part,Shape\r\n" + "a,rod\r\n" * 61, "no_room"),
        ("Part,Shape\r\n" + "a,rod\r\n" * 9000, "no_room"), ('Part,Shape\r\n"a', "not_csv"),
        ("x" * 4_000_001, "too_large"),
    ],
)  # fmt: skip
def test_what_is_no_list_of_parts_is_refused(text: str, code: str) -> None:
    with pytest.raises(BudgetError) as refused:
        from_csv(text, {})
    assert [each.code for each in refused.value.problems] == [code]


@given(st.text(max_size=200))
def test_no_text_breaks_the_reader(text: str) -> None:
    try:
        document, _ = from_csv(text, {})
    except BudgetError:
        return
    assert len(read(document).budget.airframe) <= MOST_ROWS


def test_what_cannot_be_read_goes_out_as_it_was_typed() -> None:
    document = {"units": "metricc", "airframe": [{"name": "=1+1", "length": "40 mm", "count": "many"}, 7]}
    text = to_csv(document)
    assert "'=1+1" in text
    assert "Length," in text  # no unit in the heading
    assert "40 mm" in text
    assert "many" in text
