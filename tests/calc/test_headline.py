"""The headline is about the whole installation."""

import re
from typing import Any

import pytest

from calc import headline, text
from calc.assess import assess
from calc.document.budget import read
from calc.subjects.limits import words as limit_words
from calc.unit_system import UnitSystem
from tests.calc.budgets import assessed
from tests.calc.full import CELL, SESSION, full
from tests.support import demo_documents


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"cell": {**CELL, "resistance": "90 ohm"}}, "the cell cannot run the gear"),
        ({"session": {**SESSION, "on_time": "3 h"}}, "one cell does not last one flight"),
        ({"surface": {**full()["surface"], "torque": "0.05 mN m"}}, "times the strength it needs"),
        ({"surface": {**full()["surface"], "travel": "5°"}}, "the surface moves only"),
        ({"linkage": {**full()["linkage"], "free_length": "300 mm", "diameter": "0.1 mm", "bore": "",
                      "material": "balsa", "density": "", "modulus": ""}}, "the push rod would not hold"),
        ({"balance": {**full()["balance"], "nose_at": ""}}, "tail-heavy"),
        ({"supply": {"volts": "2 V"}}, "too few volts"),
    ],
)  # fmt: skip
def test_the_headline_is_about_the_whole_installation(changes: dict[str, Any], words: str) -> None:
    """Grams that fit are no "fits" where another part of the answer fails."""
    model = {"airframe": "60 g", "wing_area": "9 dm2", "rubber": "9 g"}
    good = {**full(), "model": model}
    assert headline.headline(assessed(**good), UnitSystem.METRIC).startswith("Fits, with")
    found = assessed(**{**good, **changes})
    said = headline.headline(found, UnitSystem.METRIC)
    assert words in said
    assert re.match("(So far: b|B)y weight it fits", said)
    assert found.whole.verdict == "fails"
    assert "but not" in headline.short_headline(found, UnitSystem.METRIC)


def test_what_was_not_asked_is_not_counted_as_good() -> None:
    found = assessed(model={"airframe": "60 g"}, gear=[{"mass": "5 g"}])
    assert set(found.whole.parts.values()) == {"not asked"}
    assert "Not asked yet: run time, balance and strength." in headline.headline(found, UnitSystem.METRIC)


@pytest.mark.parametrize("name", demo_documents())
def test_the_command_tells_the_verdict_of_its_headline(name: str) -> None:
    """The table of limits counts the lead as the headline does."""
    found = assess(read(demo_documents()[name]).budget)
    said = text.plain_text(found.budget, found)
    for limit in found.limits_with_lead:
        line = next(line for line in said.splitlines() if line.startswith(f"  {limit_words.LIMITS[limit.id]}"))
        assert line.endswith(limit.verdict)
