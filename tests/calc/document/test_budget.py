"""The document: what is read, what is refused, what comes back."""

import json
from typing import Any

import pytest

from calc import wording
from calc.document import budget
from calc.document.budget import Budget, from_json, read, to_document, to_json
from calc.document.entries import GearRow
from calc.document.fields import described
from calc.document.jsontext import loads
from calc.errors import BudgetError
from tests.support import demo_documents


@pytest.mark.parametrize("name", demo_documents())
def test_examples_come_back_as_typed(name: str) -> None:
    document = demo_documents()[name]
    assert to_document(from_json(json.dumps(document))) == document
    assert json.loads(to_json(from_json(json.dumps(document)))) == document


def test_an_empty_document_is_a_budget_with_defaults() -> None:
    """Defaults: share 20 %, scale division 0.1 g, cut-off 3.3 V, reserve 20 %, 20 °C, count 1, known by weighed."""
    found = read({"rule": {}, "gear": [{}], "cell": {}, "session": {}}).budget
    assert found.rule is not None
    assert found.cell is not None
    assert found.session is not None
    assert found.rule.share.value == 0.20
    assert found.scale_division.value == 0.0001
    assert found.cell.cutoff.value == 3.3
    assert found.session.reserve.value == 0.20
    assert found.session.temperature.value == 293.15
    assert found.gear[0].count.value == 1
    assert found.gear[0].known_by.value == "weighed"
    assert to_document(Budget()) == {}
    assert to_document(found) == {"rule": {}, "gear": [{}], "cell": {}, "session": {}}


def test_bare_numbers_take_the_budgets_unit() -> None:
    assert read({"gear": [{"mass": 1.5}]}).budget.gear[0].mass.value == pytest.approx(0.0015)  # type: ignore[union-attr]
    found = read({"units": "imperial", "gear": [{"mass": "1.5"}]}).budget.gear[0].mass
    assert found is not None
    assert found.value == pytest.approx(1.5 * 0.028349523125)
    assert found.typed == "1.5"


REFUSED: list[tuple[Any, str, str]] = [
    ({"model": {"class": "f9z"}}, "model.class", "“f9z” is none of the choices"),
    ({"model": {"airframe": "-3 g"}}, "model.airframe", "“-3 g” is outside what makes sense here: above 0 g"),
    ({"model": {"airframe": "-0.1 oz"}}, "model.airframe", "above 0 oz, up to 352.74 oz"),
    ({"model": {"airframe": "40 kg"}}, "model.airframe", "up to 10 kg"),
    ({"model": {"airframe": "0"}}, "model.airframe", "above 0 g"),
    ({"gear": [{"mass": "NaN"}]}, "gear.0.mass", "cannot be read as a mass"),
    ({"gear": [{"mass": float("nan")}]}, "gear.0.mass", "cannot be read as a mass"),
    ({"gear": [{"mass": True}]}, "gear.0.mass", "cannot be read as a mass"),
    ({"gear": [{"mass": ["1 g"]}]}, "gear.0.mass", "one text or number"),
    ({"gear": [{"mass": "12 mm"}]}, "gear.0.mass", "is a length; this field needs a mass"),
    ({"gear": [{"mass": "1,234 g"}]}, "gear.0.mass", "write 1.234 or 1234"),
    ({"gear": [{"mass": "1" * 70}]}, "gear.0.mass", "too long for a quantity: at most 60"),
    ({"gear": [{"mass": "  "}]}, "gear.0.mass", "needs a number"),
    ({"gear": [{"mass": "2 stone"}]}, "gear.0.mass", "“stone” is not a unit of a mass"),
    ({"gear": [{"count": "0"}]}, "gear.0.count", "whole number from 1 to 50"),
    ({"gear": [{"count": 51}]}, "gear.0.count", "whole number from 1 to 50"),
    ({"gear": [{"count": "two"}]}, "gear.0.count", "whole number"),
    ({"gear": [{"count": True}]}, "gear.0.count", "whole number"),
    ({"gear": [{"off": "yes"}]}, "gear.0.off", "should be true or false"),
    ({"gear": [{"name": "a" * 81}]}, "gear.0.name", "81 characters is too long: at most 80"),
    ({"gear": [{"name": 7}]}, "gear.0.name", "should be a text"),
    ({"gear": [{"kind": 7}]}, "gear.0.kind", "none of the choices"),
    ({"gear": [{"mas": "1 g"}]}, "gear.0.mas", "no such field. Was “mass” meant?"),
    ({"gear": ["1 g"]}, "gear.0", "group of fields"),
    ({"gear": {"mass": "1 g"}}, "gear", "list of rows"),
    ({"gear": [{}] * 61}, "gear", "61 rows are more than a budget holds; the first 60"),
    ({"cell": {"capacity": "0 mAh"}}, "cell.capacity", "from 0.1 mAh to 50000 mAh"),
    ({"session": {"temperature": "-30 °C"}}, "session.temperature", "from −20 °C to 60 °C"),
    ({"session": {"temperature": "-30 °F"}}, "session.temperature", "from −4 °F to 140 °F"),
    ({"session": "cold"}, "session", "group of fields"),
    ({"sesion": {}}, "sesion", "no such field. Was “session” meant?"),
    ({"zzz": 1}, "zzz", "There is no such field."),
    ({"format": 2}, "format", "this one reads format 1"),
    ([1, 2], "", "not a budget"),
    ("budget", "", "not a budget"),
    (None, "", "not a budget"),
]


@pytest.mark.parametrize(("document", "field", "words"), REFUSED)
def test_refused_with_a_sentence_that_names_field_value_and_what_is_allowed(
    document: Any, field: str, words: str
) -> None:  # fmt: skip
    found = read(document).problems
    assert [problem.field for problem in found] == [field]
    assert words in wording.problem(found[0])


def test_every_problem_is_told_at_once_and_the_rest_is_read() -> None:
    reading = read({"model": {"airframe": "-1 g", "rubber": "10 g"}, "gear": [{"mass": "x"}, {"mass": "2 g"}]})
    assert {problem.field for problem in reading.problems} == {"model.airframe", "gear.0.mass"}
    assert reading.budget.unread == {"model.airframe", "gear.0.mass"}
    assert reading.budget.model.airframe is None
    assert reading.budget.model.rubber is not None
    assert reading.budget.gear[1].mass is not None


@pytest.mark.parametrize("text", ["-20 °C", "60 °C", "-4 °F", "140 °F", "253.15 K"])
def test_the_ends_of_a_range_are_inside(text: str) -> None:
    assert read({"session": {"temperature": text}}).problems == ()


def test_strict_reading_wants_every_mass_of_what_is_switched_on() -> None:
    with pytest.raises(BudgetError) as caught:
        from_json('{"gear": [{"kind": "servo"}, {"off": true}, {"mass": "x"}], "cell": {}}')
    assert [(p.field, p.code) for p in caught.value.problems] == [
        ("gear.2.mass", "not_a_number"),
        ("gear.0.mass", "missing"),
        ("cell.mass", "missing"),
    ]
    assert "gear.0.mass: missing" in str(caught.value)


@pytest.mark.parametrize(
    ("source", "code"),
    [
        ("{", "not_json"),
        ("", "not_json"),
        ("a" * 300_000, "too_large"),
        ("[" * 100_000, "too_deep"),
        ('{"a":' * 7 + "1" + "}" * 7, "too_deep"),
    ],
)
def test_texts_that_hold_no_budget(source: str, code: str) -> None:
    with pytest.raises(BudgetError) as caught:
        loads(source)
    assert [problem.code for problem in caught.value.problems] == [code]


def test_brackets_inside_texts_do_not_count_as_depth() -> None:
    assert loads('{"name": "[[[[[[[[ \\" [[[ "}') == {"name": '[[[[[[[[ " [[[ '}


def test_not_a_number_in_json_is_a_text_and_so_a_problem() -> None:
    assert [p.code for p in read(loads('{"gear": [{"mass": NaN}]}')).problems] == ["not_a_number"]


def test_long_values_are_shortened_in_sentences() -> None:
    found = read({"model": {"class": "x" * 1_000_000}}).problems
    assert len(wording.problem(found[0])) < 500


def test_every_field_has_a_label() -> None:
    """The form and the sentences need one."""
    for block, kind in {**budget.BLOCKS, "gear": GearRow}.items():
        for name in described(kind):
            assert f"{block}.{name.rstrip('_')}" in wording.LABELS


@pytest.mark.parametrize("before", [1, True, "1", 1.0])
def test_what_was_read_before_does_not_stand_in_for_what_only_equals_it(before: object) -> None:
    """1, True and 1.0 are equal; blocks read once are not read again."""
    read({"session": {"flights": before}})
    told = {repr(raw): read({"session": {"flights": raw}}) for raw in (1, True, "1", 1.0)}
    assert {raw: [problem.code for problem in found.problems] for raw, found in told.items()} == {
        "1": [], "True": ["not_whole"], "'1'": [], "1.0": ["not_whole"],
    }  # fmt: skip
    typed = {raw: found.budget.session.flights.typed for raw, found in told.items() if not found.problems}  # type: ignore[union-attr]
    assert typed == {"1": 1, "'1'": "1"}
