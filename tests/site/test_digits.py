"""Every number on the page has a unit or is a count by its place, and no more digits than it is known to."""

import json
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Any

import pytest

from calc.dimensions import DIMENSIONS
from calc.document.box import read_box
from calc.search import finder
from site_src.app.boxview import box_view
from site_src.app.compareview import compared
from site_src.app.finderview import finder_view
from site_src.app.placesview import places_view
from site_src.app.render import render
from site_src.app.sheetview import sheet_view
from site_src.app.view import view
from tests.support import SITE_SRC, demo_documents, shown_html, squeezed

DEMOS = demo_documents()
UNITS = {label for dimension in DIMENSIONS.values() for label in dimension.units if label}
SYSTEMS = ("metric", "imperial")
COUNTED = {
    "no",
    "scale",
    "flight-no",
    "dot",
    "block",
    "disc",
    "ps-cells",
    "told-rest",  # as it was typed
}  # numbers of rows, flights, discs, cells; scales
COUNTS = ("Flights from one cell", "Cells for the session")
RATIOS = ("Times the load", "Actuator, times the need", "Linkage, times the load", "Glide factor Φ")
WITHOUT_UNIT = re.compile(  # counts that their words name, references, and what the visitor typed
    r"[0-9]+ flights?, at worst [0-9]+$|"
    r"[0-9]+(?:,? (?:and )?[0-9]+)* (?:flights?|charged cells?|sets?|of [0-9\u202f]+ sets)\b|Bring [0-9]+:|"
    r"about [0-9][ \u00a0]in 10|"
    r"[0-9]+ to be safe|[0-9]+ parts?\b|[0-9]+ guess(?:es)?\b|"
    r"after flights? [0-9]+(?:, [0-9]+)*(?: and [0-9]+)?[.:]|of [0-9\u202f]+ sets|[0-9]+ more, heavier|"
    r"January 20[0-9]{2}|as of 20[0-9]{2}|14 CFR 48\.15|[0-9.]+ / (?=[0-9.]+ mm)|^.*, before .*$|"
    r"[0-9]+ × (?=[0-9]+ min)|(?:^|· )[0-9]+ × |^[0-9]+ cells$|[0-9]+ of [0-9]+ models?"  # the sheet's; places
)
NUMBER = re.compile(r"(?<![\w.])(−?[0-9]+(?:[.,][0-9]+)?)(?![\w.,]*[0-9])[ \u00a0]?([^\s\u00a0;,.:)]*)")
EMPTY = ("br", "input", "rect", "circle", "line", "polyline", "path", "img", "meta", "link")


class Texts(HTMLParser):
    """Collects each text with the classes of all it stands in, and what heads its row, column or entry."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[tuple[str, str]] = []
        self.heads: list[str] = []  # of the table
        self.cells = 0  # of the row so far
        self.label = ""  # of the row or entry
        self.found: list[tuple[frozenset[str], str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in EMPTY:
            self.open.append((tag, dict(attrs).get("class") or ""))
        if tag == "table":
            self.heads = []
        if tag == "tr":
            self.cells, self.label = 0, ""
        self.cells += tag in ("td", "th")

    def handle_endtag(self, tag: str) -> None:
        if tag not in EMPTY:
            assert self.open.pop()[0] == tag

    def handle_data(self, data: str) -> None:
        within = frozenset(word for tag, classes in self.open for word in (*classes.split(), tag))
        if not data.strip():
            return
        if "thead" in within:
            self.heads.append(data.strip())
        elif within & {"th", "dt"}:
            self.label += data.strip()
        head = self.heads[self.cells - 1] if "td" in within and self.cells <= len(self.heads) else ""
        label = self.label if within & {"td", "dd"} else ""
        self.label = "" if "dd" in within else self.label
        self.found.append((within, f"{head}|{label}", data.strip()))


def texts(html: str) -> list[tuple[frozenset[str], str, str]]:
    parser = Texts()
    parser.feed(squeezed(html))
    assert parser.open == []
    return parser.found


def numbers(html: str) -> Iterator[tuple[str, str]]:
    """Yield (number, unit) of all but counts; a ratio has the unit "times"."""
    for within, place, text in texts(html):
        if (within & COUNTED and "title" not in within) or place.endswith(COUNTS):
            continue
        if "Change" in place:  # has the digits of the figures beside it: see tests/calc/test_compare_shown.py
            continue
        ratio = any(name in place for name in RATIOS)
        for number, unit in NUMBER.findall(WITHOUT_UNIT.sub(" ", text)):
            yield number, unit or ("Φ" if "Φ" in place else "times" if ratio else "")


def decimals(number: str) -> int:
    return len(number.partition(".")[2])


def figures(number: str) -> int:
    """Return the figures of a number; zeros at the end of a whole one may be none."""
    digits = number.lstrip("−").replace(".", "").lstrip("0")
    return len(digits if "." in number else digits.rstrip("0"))


def allowed(number: str, unit: str) -> bool:
    """Return whether a number has no more digits than the rule in `calc.digits` gives its unit.

    A unit that is not in the table, but one that quantities have, gets two figures, as what is worked out does: a new
    subject that keeps to that has nothing to add here. Any other word is no unit.
    """
    size, behind = abs(float(number.replace("−", "-"))), decimals(number)
    whole_from_ten = behind <= (1 if size < 9.95 else 0)
    rule = {
        "g": behind <= (1 if size >= 9.995 else 2 if size >= 0.00995 else 3),
        "oz": behind <= (3 if size >= 0.000995 or size == 0 else 4),
        "mm": behind <= 1, "in": behind <= 2, "tex": behind == 0, "lb": behind <= 2,
        "m": figures(number) <= 2, "ft": figures(number) <= 2,
        "m/s": figures(number) <= 2, "ft/s": figures(number) <= 2,
        "g/dm²": figures(number) <= 3, "oz/ft²": figures(number) <= 3,
        "mA": whole_from_ten, "mAh": whole_from_ten, "V": behind <= 2, "Ω": figures(number) <= 2,
        "mN·m": figures(number) <= 2, "ozf·in": figures(number) <= 2, "gf": figures(number) <= 3,
        "N": figures(number) <= 4, "ozf": figures(number) <= 4, "°": whole_from_ten, "times": figures(number) <= 2,
        "%": behind <= 1, "s": whole_from_ten, "min": behind == 0, "h": behind == 0, "°C": behind == 0,
        "°F": behind == 0, "Φ": figures(number) <= 2,
    }  # fmt: skip
    return rule.get(unit, unit in UNITS and figures(number) <= 2)


@pytest.mark.parametrize(
    ("number", "unit", "kept"),
    [("4.5", "J", True), ("350", "ft·lbf", True), ("351", "J", False), ("1", "of", False), ("3", "", False)],
)
def test_a_unit_that_no_page_has_shown_yet_gets_two_figures(number: str, unit: str, kept: bool) -> None:
    assert allowed(number, unit) == kept


def document(name: str, system: str) -> dict[str, Any]:
    return {**DEMOS[name], "units": system}


def pieces(name: str, system: str) -> dict[str, str]:
    """Return what the pages show of an example."""
    made, other = document(name, system), document("reed-bunting.json", system)
    box = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))
    found = finder.answer(made, read_box(box))
    shown = view(made)
    return {
        "answer": shown_html(shown.answer),
        "bar": render("bar.html", {"answer": shown.answer}),
        "compare": render("compare.html", {"compared": compared(other, made, whole=True)}),
        "held": shown_html(shown.answer, held=compared(other, made)),
        "finder": render("finder.html", {"finder": finder_view(found)}),
        "places": render("places.html", places_view(made, [("another", other)])),
        "sheet": render("sheet.html", {"sheet": sheet_view(made)}),
        "box": render("boxtable.html", {"box": box_view({**box, "units": system})}),
    }


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", DEMOS)
def test_every_number_has_a_unit_and_no_digit_too_many(name: str, system: str) -> None:
    for piece, html in pieces(name, system).items():
        found = list(numbers(html))
        assert found
        for number, unit in found:
            kept = figures(number) <= 3 if piece == "box" else allowed(number, unit)  # a box holds what was typed
            assert unit, (piece, number)
            assert kept, (piece, number, unit)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", DEMOS)
def test_still_air_times_have_two_figures(name: str, system: str) -> None:
    """No finer than their range (common practice: 65 g with 10 g of rubber flew 107 s)."""
    text = " ".join(text for *_, text in texts(shown_html(view(document(name, system)).answer)))
    said = re.findall(r"(?:Still-air time|without the gear) (?:about )?([0-9.]+)\u00a0s", text)
    assert len(said) >= 2
    assert all(figures(number) <= 2 for number in said)


def cells_of(html: str) -> list[list[str]]:
    """Return the rows of the tables of gear and limits, as texts of cells."""
    rows = re.findall(r"<tr.*?</tr>", html.partition('id="growth"')[0], re.DOTALL)
    return [[re.sub(r"<.*?>", "", cell) for cell in re.findall(r"<td.*?</td>", row, re.DOTALL)] for row in rows]


GUESSED = {
    "name": "all guessed",
    "model": {"airframe": "60 g", "airframe_known_by": "guess", "target": "90 g"},
    "gear": [{"mass": "9 g", "known_by": "guess"}, {"mass": "0.2 g", "known_by": "guess"}, {"mass": "700 g"}],
    "scale_division": "0.5 g",
}


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("made", [*DEMOS.values(), GUESSED, {**GUESSED, "scale_division": "30 g"}])
def test_a_mass_goes_no_further_than_two_digits_of_its_spread(made: dict[str, Any], system: str) -> None:
    """JCGM 100:2008 (GUM), 7.2.6, from memory: an uncertainty has at most two digits, the value ends where it ends."""
    shown = view({**made, "units": system}).answer
    html = shown_html(shown)
    rows = [cells for cells in cells_of(html) if len(cells) in (4, 5)]
    plain = re.sub("<.*?>", "", html).replace("\u00a0", " ")
    rows += [list(pair) for pair in re.findall(r"(−?[0-9.]+ (?:g|oz)) ± ([0-9.]+ (?:g|oz))", plain)]
    checked = 0
    for cells in rows:
        *masses, spread = (cell.split(" ")[0] for cell in cells if re.fullmatch(r"−?[0-9.]+ (?:g|oz)", cell))
        if float(spread) > 0:
            assert figures(spread) <= 2 or decimals(spread) == 0
            assert all(decimals(mass) <= decimals(spread) for mass in masses)
            checked += len(masses)
    assert checked >= 4


LEFT_OUT: dict[str, tuple[tuple[str, ...], set[str], tuple[str, ...]]] = {
    "cell": (("cell",), {"mA", "mAh", "V", "Ω", "min", "h"}, ("Mean draw", "flights of")),
    "surface": (("surface",), {"mN·m", "times", "tex", "°"}, ("as strong as needed", "Times the load")),
    "linkage": (("linkage",), {"tex"}, ("Times the load", "buckles")),
    "balance": (("balance", "linkage"), {"mm"}, ("It balances", "Without rubber")),
    "air": (("air",), set(), ("Still-air time", "Time kept", "Share that becomes height", "The next gram")),
    "wing area": (("model.wing_area",), {"m/s", "g/dm²", "mN·m"}, ("Still-air", "Wing loading", "Glide factor")),
    "airframe": (
        ("model.airframe", "model.target"), {"m/s", "g/dm²"}, ("Flying weight, w", "Gear’s share", "It balances"),
    ),
    "session": (("session.on_time",), set(), ("flights of", "Bring ")),
}  # fmt: skip


@pytest.mark.parametrize("case", LEFT_OUT)
def test_no_figure_without_its_inputs(case: str) -> None:
    """What a block left out would give is in the whole answer, and nothing of it without the block."""
    paths, units, words = LEFT_OUT[case]
    made = json.loads(json.dumps(DEMOS["sedge-wren.json"]))
    made["model"]["class"] = "own"
    for number, row in enumerate([*made["gear"], made["cell"]]):
        row["name"] = f"part {'abcdef'[number]}"
    whole = shown_html(view(made).answer)
    for path in paths:
        block, _, name = path.partition(".")
        if name:
            del made[block][name]
        else:
            del made[block]
    html = shown_html(view(made).answer)
    assert units <= {unit for _, unit in numbers(whole)}
    assert not units & {unit for _, unit in numbers(html)}
    for each in words:
        assert each in whole.replace("\u00a0", " ")
        assert each not in html.replace("\u00a0", " ").split("Not worked out yet")[0]
