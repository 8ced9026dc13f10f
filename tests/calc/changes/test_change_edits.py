"""Edits of a document: applied, undone, sent, and refused where the document is another one by now."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import wording
from calc.changes.edits import MOST_EDITS, applied, as_data, backwards, edits, from_data
from calc.errors import BudgetError

VALUE = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(-3, 3), st.text(max_size=3)),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=2), inner, max_size=3)),
    max_leaves=12,
)
DOCUMENT = st.dictionaries(st.text(max_size=2), VALUE, max_size=4)


@settings(max_examples=50)
@given(DOCUMENT, DOCUMENT)
def test_edits_turn_one_document_into_the_other_and_back(before: dict[str, Any], after: dict[str, Any]) -> None:
    found = tuple(edits(before, after))
    assert applied(before, found) == after
    assert applied(after, backwards(found)) == before
    assert from_data(as_data(found)) == found


def test_true_is_not_one_and_nothing_is_not_null() -> None:
    assert [each.before for each in edits({"a": 1}, {"a": True})] == [(1,)]
    assert [(each.before, each.after) for each in edits({}, {"a": None})] == [((), (None,))]


CHANGE = [{"keys": ["gear", 0, "mass"], "before": "2 g", "after": "1 g"}]


@pytest.mark.parametrize(
    "document",
    [{}, {"gear": []}, {"gear": {}}, {"gear": "x"}, {"gear": [{"mass": "3 g"}]}, {"gear": [{}]}, {"gear": [["2 g"]]}],
)
def test_an_edit_of_something_that_is_no_longer_there_is_refused(document: dict[str, Any]) -> None:
    with pytest.raises(BudgetError) as told:
        applied(document, from_data(CHANGE))
    (problem,) = told.value.problems
    assert wording.sentence(problem.code, problem.facts).startswith("The budget was changed there since")
    assert applied({"gear": [{"mass": "2 g"}]}, from_data(CHANGE)) == {"gear": [{"mass": "1 g"}]}


@pytest.mark.parametrize(
    "raw",
    [None, {}, "x", [1], [{}], [{"keys": []}], [{"keys": [1.5]}], [{"keys": "gear"}], CHANGE * (MOST_EDITS + 1)],
)
def test_what_is_no_list_of_edits_is_refused(raw: object) -> None:
    with pytest.raises(BudgetError):
        from_data(raw)
