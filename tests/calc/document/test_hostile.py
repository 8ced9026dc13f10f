"""A corpus of hostile links, documents and files: each is refused or read in part, with plain sentences."""

import json
from collections.abc import Callable
from math import isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units, wording
from calc.assess import assess
from calc.data import as_json
from calc.dimensions import DIMENSIONS
from calc.document import link
from calc.document.box import read_box
from calc.document.boxfile import box_from_text
from calc.document.budget import read, to_document
from calc.document.jsontext import loads
from calc.errors import BudgetError, LinkError, QuantityError
from site_src.tools.hostile import DOCUMENTS, GOOD, REFUSED, TEXTS, packed


@pytest.mark.parametrize("name", sorted(REFUSED))
def test_a_hostile_link_is_refused_with_one_sentence(name: str) -> None:
    with pytest.raises(LinkError) as caught:
        link.decode(REFUSED[name])
    said = wording.sentence(caught.value.code, caught.value.facts)
    assert said.endswith(".")
    assert len(said) < 160
    assert "<" not in said


@pytest.mark.parametrize("name", sorted(DOCUMENTS))
def test_a_hostile_document_is_read_in_part_and_everything_wrong_is_told(name: str) -> None:
    document = DOCUMENTS[name]
    reading = read(document)
    assert reading.problems
    for problem in reading.problems:
        said = wording.problem(problem)
        assert len(said) < 400
    json.dumps(as_json(assess(reading.budget)), allow_nan=False)  # a figure that is none raises
    assert read(to_document(reading.budget)).problems == ()
    found = read_box({"parts": document.get("gear", [])})
    assert all(wording.problem(problem) for problem in found.all_problems)


def sentences_of(work: Callable[[], object]) -> list[str]:
    """Return what is said of a piece of work that is refused; nothing of one that is done."""
    try:
        work()
    except BudgetError as error:
        return [wording.problem(problem) for problem in error.problems]
    return []


@pytest.mark.parametrize("name", sorted(TEXTS))
def test_a_hostile_file_is_read_or_refused(name: str) -> None:
    assert all(sentences_of(lambda: loads(TEXTS[name])))
    assert all(sentences_of(lambda: box_from_text(TEXTS[name])))


@settings(max_examples=400)
@given(st.one_of(st.text(max_size=300), st.binary(max_size=300).map(lambda raw: packed(raw)[3:]), st.just(GOOD[3:])))
def test_any_fragment_opens_or_is_refused(body: str) -> None:
    """What opens gives a link again, and that the same document."""
    try:
        document = link.decode(f"#b={body}")
    except LinkError as error:
        wording.sentence(error.code, error.facts)  # a code without a sentence raises
        return
    assert link.decode(link.encode(document)) == document


NUMBERS = st.text(alphabet="0123456789.,/ -+eE:½²\u2212\u00a0٣gozmAhVin'\"°%", max_size=24)


@settings(max_examples=600)
@given(st.one_of(st.text(max_size=70), NUMBERS), st.sampled_from(sorted(DIMENSIONS)), st.booleans())
def test_any_text_is_a_finite_quantity_or_is_refused(text: str, dimension: str, imperial: bool) -> None:
    try:
        found = units.parse(text, dimension, "imperial" if imperial else "metric")
    except QuantityError as error:
        wording.sentence(error.code, {"typed": text, "dimension": dimension, **error.facts})
        return
    assert isfinite(found.si)
    assert found.unit in DIMENSIONS[dimension].units
