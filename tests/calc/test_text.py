"""The answer as a sheet of text."""

from calc import text
from calc.assess import assess
from calc.document.budget import read
from tests.calc.budgets import CELL, GEAR, SURFACE, WHOLE


def test_the_sheet_of_a_light_surface_has_no_linkage() -> None:
    budget = read({**WHOLE, "surface": {**SURFACE, "actuator": "coil actuator", "deflection": ""}}).budget
    said = text.plain_text(budget, assess(budget))
    assert "push rod" not in said
    plain = read({"gear": GEAR, "cell": CELL}).budget
    assert "Bring" not in text.plain_text(plain, assess(plain))
    assert "the air turns" not in said


def test_the_sheet_has_a_paragraph_for_each_block() -> None:
    budget = read(WHOLE).budget
    said = text.plain_text(budget, assess(budget))
    for words in (
        "It balances at",
        "The arms give",
        "The push rod weighs",
        "Still-air time",
        "Moves the run time most",
    ):
        assert words in said
