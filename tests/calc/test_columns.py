"""Which column is what, rows to gear: headings in several languages, guesses, overrides, all that is left aside."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units, wording
from calc.document import gearwords, headings, tablewords
from calc.document.budget import read
from calc.document.columns import Chosen, gear_fields, laid_out
from calc.document.gearrows import Taken, rows
from calc.document.intake import chosen_from, gear_from_table, opened, preview
from calc.document.parts import BOX_KINDS, DRAW_KNOWN_BY, KNOWN_BY
from calc.document.table import Row, from_text
from calc.document.tablewords import told, why
from calc.errors import BudgetError


def fields(text: str, chosen: Chosen | None = None) -> list[str]:
    """Return the field, or the reason for none, of each column."""
    return [column.field or column.why for column in laid_out(from_text(text), chosen).columns]


def taken(text: str, system: str = "metric", known: str = "weighed", chosen: Chosen | None = None) -> Taken:
    return rows(laid_out(from_text(text), chosen), system, known)


def said(found: Taken) -> list[str]:
    """Return everything said of a table."""
    return [told(each) for each in (*found.aside, *found.doubts)]


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
    for name in gear_fields():
        assert laid_out(from_text(f"{name}\tname\n")).columns[0].field == name
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


def test_a_nameless_last_row_with_the_sum_is_no_part_and_any_other_is() -> None:
    text = "Name\tCount\tMass\na\t2\t1.5 g\nb\t\t1 g\n\t\t{}\n"
    assert [told(each) for each in taken(text.format("4.00 g")).aside] == [
        "Row 4: 4.00 g without a name is the sum of the rows above, and no part."
    ]
    assert len(taken(text.format("3.5 g")).parts) == 3
    assert len(taken("Name\tMass\nTotal-energy probe\t1 g\nAll-moving tail servo\t1 g\n").parts) == 2


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


def test_a_unit_that_nobody_knows_is_told_and_never_becomes_grams() -> None:
    found = taken("Name\tWeight (stone)\na\t2\n")
    assert found.parts[0]["mass"] == "2 stone"
    assert said(found)[-1] == "Row 2: mass of one: “stone” is not a unit of a mass: write for example 1.2 g or 0.04 oz."
    assert taken("Name\tWeight (approx.)\na\t2\n").parts[0]["mass"] == "2"
    beside = taken("Name\tWeight\tUnit\na\t2\toz\nb\t1 g\toz\nc\t1\t\n")
    assert [part["mass"] for part in beside.parts] == ["2 oz", "1 g", "1"]
    assert "Numbers without a unit (1) take this budget’s own units: masses count as oz." in said(
        taken("Name\tWeight\nc\t1\n", system="imperial")
    )


def test_gr_is_grams_and_that_is_said() -> None:
    found = taken("Name\tWeight (gr)\na\t2\n")
    assert units.parse(found.parts[0]["mass"], "mass").si == 0.002
    assert "“gr” is read as grams, not as grains." in said(found)


def test_a_percentage_stored_as_a_share_is_no_fifth_of_a_percent() -> None:
    """0.2 % at work instead of 20 % would make the run time too long."""
    assert [part["busy"] for part in taken("Name\tDuty\na\t0.2\nb\t1\n").parts] == ["20 %", "100 %"]
    assert [part["busy"] for part in taken("Name\tDuty\na\t0.2\nb\t8\n").parts] == ["0.2", "8"]
    assert [part["busy"] for part in taken("Name\tDuty (%)\na\t0.2\n").parts] == ["0.2 %"]


def test_what_cannot_be_read_stays_as_typed_and_is_told() -> None:
    text = "Name\tMass\tCount\tHow known\na\tabc\t2.5\tFred\nb\t1,234\t2 pcs\tmeasured\nc\t-\tx3\tca.\n2x servo\t1 g\n"
    found = taken(text)
    assert [part.get("mass") for part in found.parts] == ["abc", "1,234", None, "1 g"]
    assert [part.get("known_by") for part in found.parts] == ["guess", "weighed", "guess", "weighed"]
    assert [part.get("count") for part in found.parts] == ["2.5", "2", "3", None]
    assert "Row 3: mass of one: “1,234” can be read in two ways: write 1.234 or 1234." in said(found)
    assert "Row 2: count: “2.5” should be a whole number from 1 to 50." in said(found)
    assert "Row 2: “Fred” does not say how the figure is known; it counts as a guess." in said(found)
    assert "Row 4: “c” has no mass, and is not counted until it has one." in said(found)
    once = taken("Name\tMass\n2x servo\t1 g\n")
    assert said(once)[-2] == "Row 2: “2x servo” speaks of 2; the mass is taken as that of one part, counted once."
    assert [problem.field for problem in read({"gear": list(found.parts)}).problems] == [
        "gear.0.mass", "gear.0.count", "gear.1.mass"
    ]  # fmt: skip


def test_draws_say_how_they_are_known_in_their_own_words() -> None:
    found = taken("Name\tDraw\tDraw known by\na\t6 mA\tgemessen\nb\t6 mA\tspec\n")
    assert [part["draw_known_by"] for part in found.parts] == ["measured", "maker"]
    assert read({"gear": list(found.parts)}).problems == ()


def test_kinds_come_from_the_name_where_no_column_has_them() -> None:
    found = taken("Name\tMass\n1.7 g linear servo\t1.7 g\nservo mount\t0.2 g\nServo\t2 g\nthing\t1 g\n")
    assert [part.get("kind") for part in found.parts] == ["servo", "mount", "servo", None]
    assert [each for each in said(found) if "taken for" in each] == [
        "Row 2: “1.7 g linear servo” is taken for the kind servo, by its name.",
        "Row 3: “servo mount” is taken for the kind mount, by its name.",
    ]
    assert taken("Kind\tMass\nwinch\t1 g\n").parts[0] == {
        "kind": "other", "name": "winch", "mass": "1 g", "known_by": "weighed"
    }  # fmt: skip


def test_a_weighed_mass_goes_into_its_own_field_with_its_unit() -> None:
    text = "Name\tPlanned (oz)\tWeighed\tStation (mm)\nservo\t0.06\t1.9 g\t120\nlipo\t0.05\t0.04\t30\n"
    document = gear_from_table({"units": "imperial"}, preview(opened(text), "imperial")).document
    assert document["gear"] == [
        {
            "kind": "servo",
            "name": "servo",
            "mass": "0.06 oz",
            "known_by": "guess",
            "station": "120 mm",
            "weighed": "1.9 g",
        }
    ]
    assert document["cell"]["weighed"] == "0.04 oz"
    assert read(document).problems == ()


def test_too_many_parts_are_refused_and_cells_beyond_one_told() -> None:
    text = "Kind\tName\n" + "servo\tx\n" * 61
    with pytest.raises(BudgetError, match="no_room"):
        gear_from_table({}, preview(opened(text)))
    added = gear_from_table({}, preview(opened("Kind\tName\tColour\ncell\ta\tred\ncell\tb\tred\n")))
    assert (added.cell, added.cells_left, added.ignored) == (True, 1, ("Colour",))


def test_every_code_has_its_words() -> None:
    """Each reason for a column and each thing said of a row, as the modules write them."""
    from pathlib import Path

    source = "".join(
        Path(str(module.__file__)).read_text("utf-8")
        for module in (__import__("calc.document.gearrows", fromlist=["x"]),)
    )
    codes = {piece.split('"')[0] for piece in source.split('Told(code="')[1:]}
    assert codes <= set(tablewords.TOLD)
    assert set(tablewords.TOLD) - codes == {"heading_again", "nothing_taken", "total"}


CELLS = st.one_of(
    st.text(max_size=12),
    st.sampled_from(
        [
            "Name",
            "Mass",
            "Weight (g)",
            "Total",
            "Typ",
            "servo",
            "1.7",
            "1,7 g",
            "0.2",
            "oz",
            "[g]",
            "2x",
            "-",
            "Busy",
            "Unit",
        ]
    ),
)


@settings(max_examples=400)
@given(st.lists(st.lists(CELLS, max_size=6), max_size=7), st.sampled_from(["metric", "imperial"]))
def test_any_table_comes_to_parts_with_as_much_mass_as_was_read(table: list[list[str]], system: str) -> None:
    """No row goes without a word: each is a part, left aside, a heading, a unit row or above the headings."""
    sheet = from_text("")
    filled = tuple(Row(number=number, cells=tuple(cells)) for number, cells in enumerate(table, 1) if any(cells))
    layout = laid_out(sheet.__class__(rows=filled))
    found = rows(layout, system)
    assert len(found.parts) + len(found.aside) == len(layout.rows)
    assert len(layout.rows) + len(layout.headings) + len(layout.before) == len(filled)
    used: list[Any] = [column.field for column in layout.columns if column.field]
    assert len(used) == len(set(used))
    assert all(said(found))
    assert all(why(column) for column in layout.columns)
    problems = read({"units": system, "gear": [part for part in found.parts if part.get("kind") != "cell"]}).problems
    assert all(wording.problem(problem) for problem in problems)
