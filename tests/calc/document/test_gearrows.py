"""Rows of a table to gear: nothing lighter or better known, all that is left aside told."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units, wording
from calc.document import boxtable, gearrows, tablewords
from calc.document.blocks import GearPart
from calc.document.budget import read
from calc.document.columns import laid_out
from calc.document.fields import FlagField, described
from calc.document.gearrows import rows
from calc.document.intake import gear_from_table, opened, preview
from calc.document.table import Row, Table
from calc.document.tablewords import told, why
from calc.errors import BudgetError
from tests.gear import said, taken


def test_a_nameless_last_row_with_the_sum_is_no_part_and_any_other_is() -> None:
    text = "Name\tCount\tMass\na\t2\t1.5 g\nb\t\t1 g\n\t\t{}\n"
    assert [told(each) for each in taken(text.format("4.00 g")).aside] == [
        "Row 4: 4.00 g without a name is the sum of the rows above, and no part."
    ]
    assert len(taken(text.format("3.5 g")).parts) == 3
    assert len(taken("Name\tMass\nTotal-energy probe\t1 g\nAll-moving tail servo\t1 g\n").parts) == 2


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
    assert units.parse(found.parts[0]["mass"], "mass", "metric").si == 0.002
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


def test_yes_and_no_are_read_as_people_write_them(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is neither stays as typed, and is told; a column of other words has the heading for nothing."""
    monkeypatch.setitem(described(GearPart), "spare", FlagField(label="Spare part", belongs="part"))
    found = taken("Name\tSpare part\tMass\na\tYes\t1 g\nb\tnein\t1 g\nc\tperhaps\t1 g\nd\t\t1 g\n")
    assert [part.get("spare") for part in found.parts] == [True, False, "perhaps", None]
    assert said(found) == [
        "Nobody says how 4 of the masses are known; they come in as: weighed.",
        "Row 4: spare part: “perhaps” should be true or false.",
    ]


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
    source = "".join(Path(str(each.__file__)).read_text("utf-8") for each in (gearrows, boxtable))
    codes = {piece.split('"')[0] for piece in source.split('Told(code="')[1:]}
    codes |= {boxtable.OF_MODEL, *boxtable.IN_BOX.values()}
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
    filled = tuple(Row(number=number, cells=tuple(cells)) for number, cells in enumerate(table, 1) if any(cells))
    layout = laid_out(Table(rows=filled))
    found = rows(layout, system)
    assert len(found.parts) + len(found.aside) == len(layout.rows)
    assert len(layout.rows) + len(layout.headings) + len(layout.before) == len(filled)
    used: list[Any] = [column.field for column in layout.columns if column.field]
    assert len(used) == len(set(used))
    assert all(said(found))
    assert all(why(column) for column in layout.columns)
    problems = read({"units": system, "gear": [part for part in found.parts if part.get("kind") != "cell"]}).problems
    assert all(wording.problem(problem) for problem in problems)
