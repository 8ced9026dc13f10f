"""A corpus of hostile links, documents and files: each is refused or read in part, with plain sentences."""

import base64
import json
import zlib
from collections.abc import Callable
from math import isfinite
from typing import Any

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
from tests.calc.document.test_link import packed
from tests.support import demo_documents

GOOD = link.encode(demo_documents()["sedge-wren.json"])
BOMB = "#b=" + base64.urlsafe_b64encode(zlib.compress(b"a" * 9_000_000, 9, wbits=-15)).decode().rstrip("=")
REFUSED = {
    "empty": "#b=", "cut short": GOOD[:-9],
    "a letter changed": GOOD[:60] + ("A" if GOOD[60] != "A" else "B") + GOOD[61:],
    "bomb": BOMB, "too long": "#b=" + "A" * 17_000, "no base64": "#b=%3Cscript%3E", "nul": "#b=\x00\x00",
    "format of the future": packed('{"format":99}'), "format no number": packed('{"format":"1e308"}'),
    "a list": packed("[]"), "a number": packed("1e308"), "deep": packed('{"format":1,"a":' + "[" * 20 + "]" * 20 + "}"),
    "not UTF-8": packed(b"\xff\xfe"), "no object": packed("null"), "two objects": packed('{"format":1}{"format":1}'),
    "zlib header": "#b=" + base64.urlsafe_b64encode(zlib.compress(b'{"format":1}')).decode().rstrip("="),
    "gzip": "#b=" + base64.urlsafe_b64encode(zlib.compress(b'{"format":1}', wbits=31)).decode().rstrip("="),
    "right to left": "#b=\u202eAAAA", "percent": GOOD.replace("#b=", "#b=%00"), "markup": "#b=<img src=x>",
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(REFUSED))
def test_a_hostile_link_is_refused_with_one_sentence(name: str) -> None:
    with pytest.raises(LinkError) as caught:
        link.decode(REFUSED[name])
    said = wording.sentence(caught.value.code, caught.value.facts)
    assert said.endswith(".")
    assert len(said) < 160
    assert "<" not in said


EVIL = "<img src=x onerror=alert(1)>{{ 7*7 }}{% include 'x' %}${7*7}\u202egnp.exe"
DOCUMENTS: dict[str, Any] = {
    "numbers": {"gear": [{"mass": 1e308, "count": -0.0, "draw": -0.0}], "cell": {"capacity": 1e-308, "series": 2**70}},
    "markup": {
        "name": EVIL, "gear": [{"name": EVIL, "kind": EVIL, "mass": EVIL}], "model": {"class": EVIL}, EVIL: EVIL,
    },
    "prototypes": {"__proto__": {"a": 1}, "constructor": 1, "gear": [{"__proto__": "1 g", "toString": "x"}]},
    "surrogates": {"name": "\ud800\udfff\ud800", "gear": [{"name": "\udc00", "mass": "\ud83d"}]},
    "shapes": {"gear": {"0": {"mass": "1 g"}}, "cell": [1], "model": "text", "session": None, "units": ["metric"]},
    "rows": {"gear": [{"mass": "1 g"}] * 5000}, "row shapes": {"gear": [None, 1, "x", [], {}, True]},
    "long": {"name": "x" * 100_000, "gear": [{"mass": "9" * 100_000}]},
    "keys": {"k" * 1000: 1, "": 2, "gear.0.mass": 3},
    "not numbers": {"gear": [{"mass": "NaN"}, {"mass": "inf"}, {"mass": "1e999"}, {"mass": "−1 g"}, {"mass": "1/0 g"}]},
    "odd digits": {"gear": [{"mass": "١٢ g"}, {"mass": "1२ g"}, {"mass": "Ⅻ g"}, {"count": "²"}]},
    "unit bombs": {"gear": [{"mass": "1 g**9**9**9"}, {"mass": "__import__('os') g"}, {"mass": "1 [g]"}]},
}  # fmt: skip


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


TEXTS = {
    "truncated": '{"gear": [', "infinity": '{"name": Infinity}', "duplicate keys": '{"name": "a", "name": 5}',
    "deep": "[" * 100_000, "long number": '{"a": ' + "9" * 5000 + "}", "bom": "\ufeff{}",
    "lone escape": '{"a": "\\ud800"}',
    "nul": "\x00", "comment": "// x\n{}", "quote bomb": '"' * 5000,
    "brackets in text": '{"a": "' + "[" * 5000 + '"}',
}  # fmt: skip


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
