"""Wind and field of a budget: its figures by hand, what they wait for, the sentences."""

from math import log
from typing import Any

import pytest

from calc.subjects.field.answer import Carried, Circle, FieldBlock
from calc.subjects.field.room import SUBJECT
from calc.unit_system import UnitSystem
from site_src.app.view import view
from tests.calc.budgets import reported, small
from tests.support import shown_html

TOWED = {"launch": "towline", "height": "50 m", "glide_factor": "8"}


def said(field: dict[str, Any], air: dict[str, Any] | None = None, system: UnitSystem = UnitSystem.METRIC) -> str:
    return SUBJECT.sentence(small(field=field, air=air or TOWED), system)


def carried(field: dict[str, Any], air: dict[str, Any] | None = None) -> Carried:
    block = small(field=field, air=air or TOWED).of(FieldBlock)
    assert block is not None
    assert block.carried is not None
    return block.carried


def test_drift_by_hand() -> None:
    """Down from the launch's height at its sink, through a wind that follows the logarithm."""
    found = carried({"wind": "2 m/s"})
    assert found.top_m == pytest.approx(50.0)
    mean = 2.0 * (log(50 / 0.03) - 1.0 + 0.03 / 50) / log(2 / 0.03)
    assert found.mean_m_s == pytest.approx(mean)
    assert found.drift_m == pytest.approx(mean * found.time_s)
    assert found.longest_m == pytest.approx(mean * found.longest_s)
    assert found.longest_s > found.time_s  # nobody timed such a flight
    assert found.length_m == found.longest_m


def test_the_json() -> None:
    told = reported(model={"airframe": "40 g", "wing_area": "8 dm²"}, air=TOWED,
                    field={"wind": "1 m/s", "length": "300 m", "circle": "9 s"})["field"]  # fmt: skip
    assert told["back"] is True
    assert told["turn_back_from_m"] == 300.0
    assert told["length_m"] == pytest.approx(told["drift_high_m"] + 2 * told["circle_radius_m"], rel=1e-5)
    assert told["stays_s"] == pytest.approx(300.0 / told["wind_mean_m_s"], rel=1e-5)
    assert {"upwind_m", "across_m", "downwind_m", "circle_bank_deg", "circle_sink_m_s"} <= set(told)


def test_a_wind_as_fast_as_the_model() -> None:
    found = carried({"wind": "5 m/s", "length": "100 m"})
    assert not found.back
    assert (found.turn_back_m, found.upwind_m) == (None, 0.0)
    assert "It cannot come back" in said({"wind": "5 m/s"})
    assert "over the end of the field" in said({"wind": "5 m/s", "length": "100 m"})


def test_a_light_wind() -> None:
    assert "Without wind it does not drift." in said({"wind": "0 m/s", "length": "50 m"})
    assert "The field is long enough." in said({"wind": "0.3 m/s", "length": "300 m"})
    assert "Against gusts half as strong again it does not." in said({"wind": "2 m/s"})
    assert "Against gusts" not in said({"wind": "0.5 m/s"})
    assert "local rules say" in said({"wind": "0.5 m/s"})


def test_a_top_that_is_too_low_for_the_way_back() -> None:
    assert "more than it has" in said({"wind": "2 m/s", "length": "300 m"})
    assert "more than it has" not in said({"wind": "1 m/s", "length": "60 m"})


def test_the_circle_alone() -> None:
    found = small(field={"circle": "7 s"}, air=TOWED)
    block = found.of(FieldBlock)
    assert block is not None
    assert block.carried is None
    assert isinstance(block.circle, Circle)
    assert found.missing["field"] == ("field.wind",)
    assert said({"circle": "7 s"}).startswith("A circle of 7 s has a radius of")
    assert "local rules" not in said({"circle": "7 s"})
    assert SUBJECT.brief(found, UnitSystem.METRIC).startswith("circles with a radius of")
    assert (
        "circle_radius_m"
        in reported(model={"airframe": "40 g", "wing_area": "8 dm²"}, field={"circle": "7 s"})["field"]
    )


def test_a_powered_flight_counts_with_its_highest_and_longest() -> None:
    """Without a motor run all of the time counts as glide, which is higher and so windier."""
    rubber = {"launch": "rubber", "rubber_energy": "4 kJ/kg", "efficiency": "50 %"}
    glide, run = carried({"wind": "2 m/s"}, rubber), carried({"wind": "2 m/s"}, {**rubber, "motor_run": "30 s"})
    assert glide.top_m == pytest.approx(glide.longest_s * glide.sink_m_s)
    assert run.top_m < glide.top_m
    timed = carried({"wind": "2 m/s"}, {**rubber, "timed_height": "25 m", "timed_glide": "60 s", "timed_motor": "20 s"})
    assert timed.longest_s == pytest.approx(timed.time_s)
    assert "the longest" not in said(
        {"wind": "2 m/s"}, {**rubber, "timed_height": "25 m", "timed_glide": "60 s", "timed_motor": "20 s"}
    )


@pytest.mark.parametrize(
    ("field", "air", "paths"),
    [
        ({"wind": "2 m/s"}, {"launch": "rubber"}, ("model.rubber", "air.rubber_energy")),
        ({"wind": "2 m/s", "ground": "mud"}, TOWED, ("field.ground",)),
        ({}, TOWED, ("field.wind",)),
    ],
)
def test_what_it_waits_for(field: dict[str, Any], air: dict[str, Any], paths: tuple[str, ...]) -> None:
    model = {"airframe": "40 g", "wing_area": "8 dm²"}
    found = small(field=field, air=air, model=model)
    assert found.of(FieldBlock) is None
    assert found.missing["field"] == paths


def test_it_waits_for_the_air() -> None:
    assert small(model={"airframe": "40 g"}, field={"wind": "1 m/s"}).missing["field"] == ("model.wing_area",)


def test_without_the_block_nothing_is_said() -> None:
    assert "field" not in small(air=TOWED).missing
    assert 'id="field"' not in shown_html(view({}).answer)
    assert said({"wind": "2 m/s"}, system=UnitSystem.IMPERIAL).count("ft") > 3


def test_its_line_and_the_page() -> None:
    found = small(field={"wind": "2 m/s"}, air=TOWED)
    assert SUBJECT.brief(found, UnitSystem.METRIC).endswith("faster than the wind")
    assert "cannot come back" in SUBJECT.brief(small(field={"wind": "9 m/s"}, air=TOWED), UnitSystem.METRIC)
    document = {"model": {"airframe": "40 g", "wing_area": "8 dm²"}, "air": TOWED,
                "field": {"wind": "2 m/s", "circle": "9 s"}}  # fmt: skip
    page = shown_html(view(document, why=["field"]).answer)
    assert 'id="field"' in page
    assert "drift of the usual flight" in page
