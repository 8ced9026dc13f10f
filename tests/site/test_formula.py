"""Formulas as MathML: they draw what the text says, and every formula's link leads to a formula."""

import math
import re
from collections import Counter
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import escape

from calc.unit_system import UnitSystem
from site_src.app import render
from site_src.app.formula import mathml, shown
from site_src.app.formulatokens import FormulaError
from site_src.app.pages import contents, pages
from site_src.app.render import make_environment
from site_src.app.stockview import stock_view
from tests.site.test_workings import STOCK, everything, worked_out

SMALL = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻₀₁₂₃₄₅₆₇₈₉₊₋ΣΠ", "0123456789+−0123456789+−∑∏")
LAYOUT = re.compile(r"[\s()/√^_]")  # what becomes space, a line or a place; the test of values looks after brackets


def drawn(markup: str) -> ElementTree.Element:
    """Return MathML as a tree, the line's breaks left out."""
    return ElementTree.fromstring(f"<p>{markup.replace('<wbr>', '')}</p>")


def said(element: ElementTree.Element) -> str:
    """Return the sum that a drawing says, as text: fractions, roots and powers in brackets, units left out."""
    inner = [said(child) for child in element]
    if element.tag == "mtext" and (element.text or "").startswith(("\u00a0", "°")):
        return ""
    if element.tag == "mfrac":
        return f"(({inner[0]}) / ({inner[1]}))"
    if element.tag == "msqrt":
        return f"√({''.join(inner)})"
    return f"({inner[0]})**({inner[1]})" if element.tag == "msup" else (element.text or "") + "".join(inner)


def letters(text: str) -> str:
    """Return a formula without all that layout stands for."""
    return LAYOUT.sub("", text.translate(SMALL))


def formulas_of_the_workings() -> set[tuple[str, bool]]:
    """Return the texts of all workings, and whether they hold numbers."""
    lines = [each for _, each in everything()]
    lines += [found.working for fields in STOCK if (found := stock_view(fields, UnitSystem.METRIC)).working]
    return {(each.formula, False) for each in lines} | {(each.numbers, True) for each in lines if each.numbers}


def formulas_of_the_page(monkeypatch: pytest.MonkeyPatch) -> tuple[str, set[tuple[str, bool]]]:
    """Return the page of methods and the texts that became formulas on it."""
    texts: set[tuple[str, bool]] = set()

    def noted(text: str, units: bool = False) -> str:
        texts.add((text, units))
        return mathml(text, units)

    fresh = make_environment.__wrapped__()  # templates that were rendered before keep their filters
    fresh.filters["mathml"] = noted
    monkeypatch.setattr(render, "make_environment", lambda: fresh)
    return pages()["method.html"], texts


@pytest.mark.parametrize(
    ("text", "markup"),
    [
        ("m g / S", "<mfrac><mrow>m g</mrow>S</mfrac>"),
        ("a + b / c × d", "a+<mfrac>b c</mfrac>×d"),
        ("√3/2 x", "<mfrac><msqrt>3</msqrt>2</mfrac>x"),
        ("x₊^N", "<msubsup>x+N</msubsup>"),
        ("k(T) / (b − t)", "<mfrac><mrow>k(T)</mrow><mrow>b−t</mrow></mfrac>"),
        ("10⁻⁸", "<msup>10<mrow>−8</mrow></msup>"),
        ("Σ m x / Σ m", "<mfrac><mrow>∑m x</mrow><mrow>∑m</mrow></mfrac>"),
        ("∫ C / P ds", "∫<mfrac>CP</mfrac>ds"),
    ],
)
def test_a_formula_is_drawn_as_it_is_meant(text: str, markup: str) -> None:
    plain = re.sub(r"</?(?:mi|mn|mo|mspace|mtext|math)\b[^>]*>|<wbr>", "", mathml(text))
    assert plain.replace(" ", "") == markup.replace(" ", "")


def test_each_drawn_sum_has_the_value_of_its_text() -> None:
    wrong, counted = [], 0
    for text, numbers in formulas_of_the_workings():
        if numbers and not re.search(r"[a-z] [a-z]+ |[a-z], ", text):
            counted += 1
            told, found = worked_out(text), worked_out(said(drawn(mathml(text, units=True))))
            if not math.isclose(told, found, rel_tol=1e-9):
                wrong.append(f"{text}: {told}, drawn {found}")
    assert wrong == []
    assert counted > 300


def test_a_drawing_that_is_wrong_is_found_out() -> None:
    fraction = "<math><mfrac><mn>6</mn><mn>2</mn></mfrac><mo>×</mo><msup><mn>3</mn><mn>2</mn></msup></math>"
    assert worked_out(said(drawn(fraction))) == 27
    assert worked_out(said(drawn(str(mathml("6 / (2 × 3²) m", units=True))))) == pytest.approx(1 / 3)


def test_each_formula_says_what_its_text_says(monkeypatch: pytest.MonkeyPatch) -> None:
    _, on_the_page = formulas_of_the_page(monkeypatch)
    assert len(on_the_page) > 80
    for text, units in on_the_page | formulas_of_the_workings():
        assert letters("".join(drawn(mathml(text, units)).itertext())) == letters(text), text


def test_every_formula_of_a_working_has_its_place_on_the_page_of_methods() -> None:
    ids = Counter(re.findall(r'id="([^"]+)"', pages()["method.html"]))
    assert [each for each, times in ids.items() if times > 1] == []
    asked = {each.entry for _, each in everything()}
    asked |= {found.working.entry for fields in STOCK if (found := stock_view(fields, UnitSystem.METRIC)).working}
    assert len(asked) > 40
    assert asked - set(ids) == set()


def test_the_contents_are_the_sections_in_their_order() -> None:
    sections = re.findall(r'<section[^>]*id="([^"]+)"><h2>([^<]+)</h2>', pages()["method.html"])
    assert sections == list(contents())


def test_every_symbol_is_in_the_list_of_its_section() -> None:
    named = 0
    for section in re.findall(r"<section.*?</section>", pages()["method.html"], re.DOTALL):
        title = re.findall(r"<h2>(.*?)</h2>", section)[0]
        explained = set(re.findall(r"<dt>(.*?)</dt>\s*<dd>", section.partition('<dl class="letters">')[2]))
        known = {letter for each in explained for letter in re.findall(r"(?:<mi>|^)([^<\d]+)", each)}
        formulas = "".join(re.findall(r'<p class="formula".*?</p>', section, re.DOTALL))
        used = set(re.findall(r"<mi>([^<]|CL|AR|OCV|Ea|Rgas|d.)</mi>", formulas)) - {"π"}
        assert used - known == set(), title
        assert known - used - {"pivot"} == set(), f"{title}: of no use"
        named += len(used)
    assert named > 50


@pytest.mark.parametrize("text", ["3 +", "(1", "1)", "1 / ", "a ~ b", "× 2", "√", "|x", "a // b", "(" * 99, "√" * 99])
def test_what_is_no_formula_is_refused_where_it_is_built_and_shown_as_it_stands(text: str) -> None:
    with pytest.raises(FormulaError):
        mathml(text)
    assert shown(text) == escape(text)


SIGNS = st.text("abπΣΠ∫√ ()[]|⌊⌋⌈⌉+−±×·/=≤,;:!^_²⁻₀½…09. gm°%<&", max_size=40)


@given(st.one_of(st.text(), SIGNS), st.booleans())
def test_no_text_is_too_odd_to_be_shown(text: str, units: bool) -> None:
    found = shown(text, units)
    if "<math>" in found:
        assert letters("".join(drawn(found).itertext())) == letters(text)
    else:
        assert found == escape(text)


def test_what_is_wide_is_set_in_rows() -> None:
    many = " + ".join(["12.5 g × 168 mm"] * 9)
    assert mathml(f"({many}) / 5 g", units=True).count("<mtr>") == 9
    assert mathml(many, units=True).count("<math>") == 9
    assert mathml("(1 g × 2 mm + 3 g × 4 mm) / 5 g", units=True).count("<mtr>") == 0


def test_words_stay_words() -> None:
    text: Any = mathml("the rod keeps its length, solved exactly")
    assert text == "the rod keeps its length, solved exactly"
