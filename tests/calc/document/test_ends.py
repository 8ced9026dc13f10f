"""How long, how deep and how odd a document, a box and their parts may be: found by mutation testing."""

from typing import Any

import pytest

from calc.document import box, boxfile, budget, reading
from calc.document.budget import read
from calc.document.jsontext import loads
from calc.errors import BudgetError
from tests.support import read_part, read_stock

approx: Any = pytest.approx


@pytest.mark.parametrize(("letters", "taken"), [(262_142, True), (262_143, False)])
def test_the_longest_document(letters: int, taken: bool) -> None:
    text = f'"{letters * "a"}"'
    if taken:
        assert len(loads(text)) == letters
    else:
        with pytest.raises(BudgetError, match="too_large"):
            loads(text)


@pytest.mark.parametrize(
    ("document", "refused"),
    [
        ({"scale_division": "-0.1 g"}, "scale_division"),
        ({"surface": {"chord": "80 mm", "flap_chord": "80.1 mm"}}, "surface.flap_chord"),
        ({"surface": {"chord": "80 mm", "flap_chord": "80 mm"}}, ""),
        ({"linkage": {"diameter": "1 mm", "bore": "0.995 mm"}}, "linkage.bore"),
        ({"linkage": {"diameter": "1 mm", "bore": "0.98 mm"}}, ""),
        ({"name": "n" * 80}, ""),
        ({"name": "n" * 81}, "name"),
        ({"q" * 50: 1}, "q" * 40),
    ],
)
def test_what_a_document_may_say(document: dict[str, Any], refused: str) -> None:
    assert [problem.field for problem in read(document).problems] == ([refused] if refused else [])


@pytest.mark.parametrize(("bore", "taken"), [("0.98 mm", True), ("0.995 mm", False)])
def test_a_tube_has_a_wall(bore: str, taken: bool) -> None:
    problems = read_stock({"shape": "tube", "diameter": "1 mm", "bore": bore}, "metric")[1]
    assert (problems == ()) is taken


def test_bare_numbers_of_stock_and_parts_take_the_unit_of_the_system() -> None:
    for system, meters, kilograms in (("metric", 0.001, 0.001), ("imperial", 0.0254, 0.028349523125)):
        length, mass = read_stock({"length": "1"}, system)[0].length, read_part({"mass": "1"}, "", system)[0].mass
        assert length is not None
        assert mass is not None
        assert (length.value, mass.value) == approx((meters, kilograms))


def test_a_weighed_mass_that_cannot_be_read_is_one_problem() -> None:
    with pytest.raises(BudgetError) as refused:
        budget.from_json('{"gear": [{"weighed": "x"}, {}]}')
    assert [problem.field for problem in refused.value.problems] == ["gear.0.weighed", "gear.1.mass"]


def test_texts_stay_readable_and_short() -> None:
    assert "Möwe" in budget.to_json(read({"name": "Möwe"}).budget)
    assert reading.shortened("a" * 40) == "a" * 40
    assert reading.shortened("a" * 41) == "a" * 40 + "…"


def test_a_box_as_json(monkeypatch: pytest.MonkeyPatch) -> None:
    assert boxfile.box_from_text('{"parts": []}') == {"parts": []}
    for text in ("[]", "{}"):
        with pytest.raises(BudgetError, match="not_a_box"):
            boxfile.box_from_text(text)
    table = "name,mass\na;b;c;d,1 g\n"
    monkeypatch.setattr(boxfile, "LONGEST_BOX", len(table))
    assert boxfile.box_from_text(table)["parts"] == [{"name": "a;b;c;d", "mass": "1 g"}]
    with pytest.raises(BudgetError, match="too_large"):
        boxfile.box_from_text(table + "\n")


def test_a_part_takes_its_own_place_or_one_at_the_end() -> None:
    rows = [{"name": "one", "station": "5 mm"}, {"name": "two"}]
    part = {"kind": "servo", "name": "new", "mass": "1 g"}
    first = box.take({"gear": rows}, part, "gear.0", "metric")["gear"]
    assert [row["name"] for row in first] == ["new", "two"]
    assert first[0]["station"] == "5 mm"
    assert [row["name"] for row in box.take({"gear": rows}, part, "gear.7", "metric")["gear"]] == ["one", "two", "new"]
