"""Which column is what: headings in several languages, what is in a column, the visitor's own word."""

import pytest

from calc.document import gearwords, headings
from calc.document.blocks import BOX_KINDS
from calc.document.budget import read
from calc.document.columns import Chosen, laid_out
from calc.document.entries import DRAW_KNOWN_BY, KNOWN_BY
from calc.document.gearfields import gear_fields
from calc.document.gearrows import rows
from calc.document.intake import chosen_from, gear_from_table, opened, preview
from calc.document.table import from_text
from calc.document.tablewords import why
from tests.gear import said, taken


def fields(text: str, chosen: Chosen | None = None) -> list[str]:
    """Return the field, or the reason for none, of each column."""
    return [column.field or column.why for column in laid_out(from_text(text), chosen).columns]


LANGUAGES = [
    pytest.param("Weight (g)\tName\tType\tCurrent [mA]\tNotes\tQty", id="English"),
    pytest.param("Gewicht in g\tBezeichnung\tArt\tStromaufnahme, mA\tBemerkung\tStück", id="German"),
    pytest.param("Masse (g)\tDésignation\tCatégorie\tCourant mA\tRemarques\tQuantité", id="French"),
    pytest.param("Peso [g]\tDescrizione\tTipo\tAssorbimento (mA)\tOsservazioni\tQuantità", id="Italian"),
    pytest.param("Peso, g\tNombre\tTipo\tCorriente/mA\tNotas\tCantidad", id="Spanish"),
    pytest.param("Vikt g\tBenämning\tTyp\tStröm mA\tAnmärkning\tAntal", id="Swedish"),
    pytest.param("Hmotnost_g\tNázev\tDruh\tProud [mA]\tPoznámka\tPočet", id="Czech"),
    pytest.param("Masa (g)\tNazwa\tRodzaj\tPobór prądu (mA)\tUwagi\tIlość", id="Polish"),
    pytest.param("Gewicht (g)\tOnderdeel\tSoort\tVerbruik [mA]\tOpmerking\tAantal", id="Dutch"),
]


@pytest.mark.parametrize("heading", LANGUAGES)
def test_headings_of_several_languages_in_any_order(heading: str) -> None:
    """Common words, from memory, no source; the unit of the heading goes behind bare numbers."""
    text = f"{heading}\n1,7\tlinks\tservo\t6\tgut\t2\n1,1\tklein\trx\t28\t\t1\n"
    assert fields(text) == ["mass", "name", "kind", "draw", headings.NOTES, "count"]
    first = taken(text).parts[0]
    assert first == {
        "kind": "servo", "name": "links", "mass": "1,7 g", "known_by": "weighed", "draw": "6 mA", "count": "2",
    }  # fmt: skip


def test_a_file_with_headings_name_weight_type_comes_in_right() -> None:
    """The issue's own words."""
    found = preview(opened("name,weight,type\nleft,1.7,servo\nsmall,1.1,receiver\n1S,1.0,lipo\n"), known="maker")
    added = gear_from_table({"units": "metric"}, found)
    assert (added.parts, added.cell, added.ignored) == (2, True, ())
    budget = read(added.document)
    assert budget.problems == ()
    assert [row.mass.value for row in budget.budget.gear if row.mass] == [0.0017, 0.0011]
    assert added.document["cell"] == {"name": "1S", "mass": "1.0 g", "known_by": "maker"}


def test_headings_of_our_own_csv_are_each_read() -> None:
    for name, each in gear_fields().items():
        for written in (name, each.label, f"{each.box_label} [mm]"):
            assert laid_out(from_text(f"{written}\tname\n?\tx\n")).columns[0].field == name
    for kind in BOX_KINDS:
        assert gearwords.kind_of(kind) == kind
    for word in KNOWN_BY:
        assert gearwords.known_by(word) == word
    for word in DRAW_KNOWN_BY:
        assert gearwords.settled("draw_known_by", word) == word


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("battery", "cell"), ("LiPo", "cell"), ("coil", "coil actuator"), ("pushrod", "linkage"), ("wire", "wiring"),
        ("weight", "other"), ("Rx", "receiver"), ("Akku", "cell"), ("Gestänge", "linkage"), ("Přijímač", "receiver"),
        ("Przewód", "wiring"), ("Höjdmätare", "altimeter"), ("Interrupteur", "switch"), ("BEC", "supply"),
    ],
)  # fmt: skip
def test_kinds_as_people_write_them(written: str, kind: str) -> None:
    """The first six are the issue's; all are common practice, no source."""
    assert gearwords.kind_of(written) == kind
    assert gearwords.kind_in(f"my {written}") == kind


def test_units_in_the_row_below_titles_above_merged_headings_and_the_sum_at_the_end() -> None:
    """The pitfalls that NEXT.md lists in section 9."""
    text = (
        "Sedge Wren, 2024\n\nBauteil;Art;Anzahl;Gewicht;Strom;;Bemerkung\n;;;;Ruhe;Last;\n;;;[g];(mA);mA;\n"
        "links;Servo;1;1,7;6;160;gut\nHebel;Winde;2;0,3;;;\nBauteil;Art;Anzahl;Gewicht;Strom;;Bemerkung\n"
        ";;;;;;nur Text\nGesamtgewicht:;;;2,3;;;\n"
    )
    layout = laid_out(from_text(text))
    assert [row.number for row in layout.before] == [1]
    assert [row.number for row in layout.headings] == [3, 4, 5]
    assert [column.field for column in layout.columns] == ["name", "kind", "count", "mass", "draw", "busy_draw", ""]
    found = rows(layout, "metric", "weighed")
    assert [part["mass"] for part in found.parts] == ["1,7 g", "0,3 g"]
    assert found.parts[0]["busy_draw"] == "160 mA"
    assert said(found) == [
        "Row 8: the headings once more.",
        "Row 9: “nur Text”: nothing that goes into the gear.",
        "Row 10: “Gesamtgewicht:” is the sum of the others, and no part.",
        "Nobody says how 2 of the masses are known; they come in as: weighed.",
        "Row 7: “Winde” is no kind that is known here; it comes in as other.",
    ]


def test_without_headings_the_contents_decide() -> None:
    assert fields("1\tServo\tlinks\t1,7 g\t6 mA\t160 mA\t3 V\t30 mAh\n2\tRx\tklein\t1,1 g\t28 mA\t\t\t\n") == [
        headings.NUMBER, "kind", "name", "mass", "draw", "busy_draw", "min_volts", "capacity"
    ]  # fmt: skip
    assert fields("left servo\t2\t1.7\tgood\nrx\t1\t1.1\tolder\n") == ["name", "count", "mass", "unclear"]
    assert fields("Servo\t2\nRx\t1\n") == ["name", "mass"]
    assert fields("Servo\t2\t\t1,7\tg\nRx\t3\t\t1,1\tg\n") == ["name", "count", "no_heading", "mass", headings.UNIT]
    assert [part["mass"] for part in taken("Servo - 1.7 g\nRx: 1,1 g\nwire 0.2 oz").parts] == [
        "1.7 g", "1,1 g", "0.2 oz"
    ]  # fmt: skip
    assert fields("a\tb\n") == ["name", "unclear"]
    assert fields("x") == ["name"]


def test_words_with_two_meanings_are_told_apart_by_what_is_below_them() -> None:
    assert fields("Nombre\tMasse\n2\t1 g\n1\t2 g\n") == ["count", "mass"]
    assert fields("Nombre\tMasa\nizq\t1 g\n") == ["name", "mass"]
    assert fields("No.\tName\n1\ta\n2\tb\n3\tc\n") == [headings.NUMBER, "name"]
    assert fields("No.\tName\n2\ta\n2\tb\n") == ["count", "name"]
    assert fields("Type\tWeight\nTiny-S 1\t1 g\nNano 3\t2 g\n") == ["name", "mass"]
    assert fields("Type\tName\tWeight\nTiny\ta\t1 g\n") == ["unfit", "name", "mass"]
    assert fields("Source\tPosition\tName\nFred\tin the nose\ta\n") == ["unfit", "unfit", "name"]


def test_of_two_columns_for_one_field_the_first_has_it_and_a_sum_does_not_pass_for_one() -> None:
    assert fields("Name\tWeight\tMass\na\t1\t2\n") == ["name", "mass", "taken"]
    assert fields("Name\tCount\tMass\tTotal\na\t2\t1\t2\n") == ["name", "count", "mass", headings.TOTAL]
    assert fields("Name\tCount\tTotal weight\na\t2\t2\n") == ["name", "count", headings.TOTAL]
    assert fields("Name\tCount\tTotal weight [g]\na\t1\t2\n") == ["name", "count", "mass"]
    assert taken("Name\tTotal weight [g]\na\t2\n").parts[0]["mass"] == "2 g"
    assert fields("Name\tPlanned\tOn the scale\na\t1\t2\n") == ["name", "mass", "weighed"]
    assert fields("g\tName\n1.7\ta\n") == ["mass", "name"]
    assert fields("Colour\tPrice\nred\t5\n") == ["name", "mass"]  # no known heading: a row like the others


def test_the_visitors_word_goes_before_what_is_found() -> None:
    text = "Name\tWeight\tScale\na\t1\t2\nb\t3\t4\n"
    chosen, known = chosen_from({"fields": {"1": "", "2": "mass"}, "units": {"2": "oz"}, "known_by": "maker"})
    found = taken(text, known=known, chosen=chosen)
    assert [part["mass"] for part in found.parts] == ["2 oz", "4 oz"]
    assert {part["known_by"] for part in found.parts} == {"maker"}
    columns = laid_out(from_text(text), chosen).columns
    assert [why(column) for column in columns] == ["by its heading", "as you chose", "as you chose; bare numbers in oz"]
    assert fields(text, Chosen(fields={2: "mass"})) == ["name", "taken", "mass"]
    assert fields(text, Chosen(fields={1: "name", 2: "name"})) == ["taken", "name", "taken"]
    assert len(laid_out(from_text(text), Chosen(headings=0)).rows) == 3
    assert len(laid_out(from_text(text), Chosen(headings=2)).rows) == 1
    assert len(laid_out(from_text(text), Chosen(headings=99)).rows) == 3
    assert chosen_from(None) == (Chosen(), "guess")
    assert chosen_from({"fields": [1], "units": {"x": "g", "1": 5}, "headings": "-1"}) == (Chosen(), "guess")
    assert laid_out(from_text("Teil (oz)\tName\n1\ta\n"), Chosen(fields={0: "mass"})).columns[0].unit == "oz"
    assert rows(laid_out(from_text(text)), known="hearsay").parts[0]["known_by"] == "guess"
