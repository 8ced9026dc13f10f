"""The JSON Schemas made of the entries: they take what reading takes, and refuse keys and words that there are not."""

import json
import random
from typing import Any

import jsonschema  # the reference library in Python (python-jsonschema), draft 2020-12
import pytest

from calc.document.blocks import LISTS, BoxPart, places
from calc.document.box import read_box
from calc.document.budget import read
from calc.document.fields import ChoiceField, WholeField, described, key_of
from calc.document.schema import DIALECT, box_schema, budget_schema
from site_src.tools.corpus import all_paths, with_odd
from tests.support import SITE_SRC, demo_documents

BUDGET: Any = jsonschema.Draft202012Validator(budget_schema())
BOX: Any = jsonschema.Draft202012Validator(box_schema())
# What a schema can see; that a text is no quantity, or out of range, only reading tells.
SEEN = {"unknown_field", "not_a_value", "not_a_block", "not_a_list", "not_a_choice", "not_a_flag", "not_text"}


def sound(validator: Any, document: object) -> bool:
    return bool(validator.is_valid(document))


def test_the_schemas_are_schemas() -> None:
    for schema in (budget_schema(), box_schema()):
        assert schema["$schema"] == DIALECT
        jsonschema.Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("name", demo_documents())
def test_the_examples(name: str) -> None:
    document = demo_documents()[name]
    assert [error.message for error in BUDGET.iter_errors(document)] == []
    named = {"$schema": "https://example.org/budget.schema.json", **document}
    assert sound(BUDGET, named)
    assert read(named).problems == read(document).problems == ()


def test_the_starter_box() -> None:
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
    assert [error.message for error in BOX.iter_errors({"$schema": "box.schema.json", **box})] == []
    assert read_box({"$schema": "box.schema.json", **box}).all_problems == ()
    assert not sound(BOX, {**box, "parts": [{"kind": "anvil"}]})
    assert not sound(BOX, {**box, "parts": [{"station": "9 in"}]})
    assert not sound(BOX, {"name": "no parts"})


@pytest.mark.parametrize("path", all_paths())
@pytest.mark.parametrize("odd", ["[]", '{"a": 1}', "true", '"nonsense"', "null", '""'])
def test_where_reading_refuses_by_kind_the_schema_does(path: str, odd: str) -> None:
    document = json.loads(with_odd(path, odd))
    codes = {problem.code for problem in read(document).problems}
    assert sound(BUDGET, document) == (not codes & SEEN and not _text_for_a_number(path, odd))


def _text_for_a_number(path: str, odd: str) -> bool:
    """Return whether a whole number is none, or a quantity is true: the schema sees these, by other codes."""
    kinds = {f"{f'{place}.0' if place in LISTS else place}.{key_of(name)}".lstrip("."): field
             for place, kind in places() for name, field in described(kind).items()}  # fmt: skip
    if isinstance(kinds[path], WholeField):
        return odd in ("true", '"nonsense"')
    return odd == "true" and kinds[path].control == "quantity"


def test_every_key_is_refused_when_misspelt() -> None:
    for path in all_paths():
        document = json.loads(with_odd(f"{path}x", '"1"'))
        assert not sound(BUDGET, document), path


def test_every_choice_takes_its_words() -> None:
    for name, field in described(BoxPart).items():
        if isinstance(field, ChoiceField):
            for word in field.choices:
                assert sound(BOX, {"parts": [{name: word}]})


def test_what_is_read_without_problems_is_in_the_schema() -> None:
    chosen = random.Random(15)
    for document in demo_documents().values():
        for _ in range(20):
            part = {key: item for key, item in document.items() if chosen.random() < 0.6}
            assert read(part).problems == ()
            assert sound(BUDGET, part)
