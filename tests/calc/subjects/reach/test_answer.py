"""The reach of a budget's radio: its figures by hand, what they wait for, the sentences."""

from typing import Any

import pytest

from calc.document.budget import read
from calc.subjects.field.answer import FieldBlock
from calc.subjects.reach.answer import ReachBlock
from calc.subjects.reach.room import SUBJECT
from calc.unit_system import UnitSystem
from calc.wording import problem
from site_src.app.view import view
from tests.calc.budgets import reported, small
from tests.support import shown_html

LINK = {"power": "20 dBm", "sensitivity": "-95 dBm"}
TOWED = {"launch": "towline", "height": "50 m", "glide_factor": "8"}


def told(**radio: Any) -> dict[str, Any]:
    found = reported(radio=radio)["reach"]
    assert isinstance(found, dict)
    return found


def said(radio: dict[str, Any], **more: Any) -> str:
    return SUBJECT.sentence(small(radio=radio, **more), UnitSystem.METRIC)


def test_the_link_of_the_check() -> None:
    """RL-1 and RL-3: 85 dB are left; in grass at 300 m 26 dB more are lost than in free space."""
    found = told(**LINK, distance="300 m")
    assert found["allowed_dB"] == pytest.approx(85.0)
    assert found["air_m"] == pytest.approx(178, rel=0.008)
    assert found["margin_dB"] == pytest.approx(85.0 - 89.59, abs=0.01)
    assert found["margin_dB"] - found["margin_ground_dB"] == pytest.approx(26.0, abs=0.1)
    assert found["ground_m"] < found["air_m"]
    assert told(**LINK, trees="30 m")["allowed_dB"] == pytest.approx(85.0 - 12.6, abs=0.01)
    assert told(**LINK, fade="10 dB", antenna="2 dB", orientation="0")["allowed_dB"] == pytest.approx(107.0)


def test_the_words() -> None:
    assert "are lacking" in said({**LINK, "distance": "300 m"})
    assert "That is thin." in said({**LINK, "distance": "120 m"})
    roomy = said({**LINK, "sensitivity": "-105 dBm", "distance": "60 m", "lying": "1 m"})
    assert "in hand." in roomy
    assert "thin" not in roomy
    assert "beyond this receiver" not in roomy
    assert "A model down in grass there is beyond this receiver" in said({**LINK, "distance": "120 m"})
    assert "local rules say" in said(LINK)
    assert "At " not in said(LINK).replace("At the", "")


def test_a_range_check_alone() -> None:
    found = small(radio={"check_distance": "30 m", "check_less": "30 dB"})
    block = found.of(ReachBlock)
    assert block is not None
    assert block.link is None
    assert "reach" not in found.missing
    assert "950 m in the air" in SUBJECT.sentence(found, UnitSystem.METRIC)
    assert "170 m. Count on the shorter one." in SUBJECT.sentence(found, UnitSystem.METRIC)
    assert SUBJECT.brief(found, UnitSystem.METRIC) == "the range check means 170 m at least"
    assert "in the air" in SUBJECT.brief(small(radio=LINK), UnitSystem.METRIC)
    both = told(**LINK, check_distance="30 m", check_less="30 dB")
    assert {"air_m", "check_air_m", "check_ground_m"} <= set(both)


def test_the_drift_of_the_field_is_the_distance_where_none_is_told() -> None:
    found = small(radio=LINK, field={"wind": "2 m/s"}, air=TOWED)
    block, field = found.of(ReachBlock), found.of(FieldBlock)
    assert block is not None
    assert block.link is not None
    assert field is not None
    assert field.carried is not None
    assert block.link.distance_m == field.carried.longest_m
    assert "where the longest flight drifts to" in said(LINK, field={"wind": "2 m/s"}, air=TOWED)
    calm = small(radio=LINK, field={"wind": "0 m/s"}, air=TOWED).of(ReachBlock)
    assert calm is not None
    assert calm.link is not None
    assert calm.link.distance_m is None


@pytest.mark.parametrize(
    ("radio", "paths"),
    [
        ({}, ("radio.power", "radio.sensitivity")),
        ({"power": "20 dBm"}, ("radio.sensitivity",)),
        ({"check_distance": "30 m"}, ("radio.check_less", "radio.power", "radio.sensitivity")),
        ({**LINK, "fade": "much"}, ("radio.fade",)),
    ],
)
def test_what_it_waits_for(radio: dict[str, Any], paths: tuple[str, ...]) -> None:
    found = small(radio=radio)
    assert found.of(ReachBlock) is None
    assert found.missing["reach"] == paths


def test_levels_and_frequencies_are_read() -> None:
    budget = read({"radio": {"frequency": "868", "power": "14", "sensitivity": "−100 dBm"}}).budget
    assert budget.radio is not None
    assert budget.radio.frequency.value == pytest.approx(868e6)
    assert budget.radio.sensitivity is not None
    assert budget.radio.sensitivity.value == -100.0
    (wrong,) = read({"radio": {"power": "100 g"}}).problems
    assert "a level in dBm" in problem(wrong)


def test_without_the_block_nothing_is_said() -> None:
    assert "reach" not in small().missing
    assert 'id="reach"' not in shown_html(view({}).answer)


def test_the_page() -> None:
    document = {"radio": {**LINK, "check_distance": "30 m", "check_less": "20 dB"}}
    page = shown_html(view(document, why=["reach"]).answer)
    assert 'id="reach"' in page
    assert "left for the way" in page


def test_no_reach_is_told_beyond_what_the_sums_were_held_against() -> None:
    far = [{"check_distance": "3000 m", "check_less": "60 dB"}, {"power": "30 dBm", "sensitivity": "-140 dBm"}]
    said = [SUBJECT.sentence(small(radio=each), UnitSystem.METRIC) for each in far]
    assert all("over 5000 m" in each for each in said)
    assert not any("about over" in each or "0000 m" in each for each in said)
    assert SUBJECT.brief(small(radio=far[0]), UnitSystem.METRIC) == "the range check means over 5000 m"
    assert SUBJECT.brief(small(radio=far[1]), UnitSystem.METRIC).startswith("over 5000 m in the air")
