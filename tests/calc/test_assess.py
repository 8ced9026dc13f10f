"""The one door: what is worked out, what is absent and why, and the keys that other programs rely on."""

from typing import Any

import pytest

from calc.assess import Assessment, assess
from calc.data import as_json
from calc.document.budget import read
from tests.support import demo_documents

GEAR = [
    {"kind": "receiver", "mass": "1.1 g", "draw": "28 mA", "min_volts": "3.1 V"},
    {"kind": "servo", "mass": "1.7 g", "known_by": "maker", "draw": "6 mA", "busy_draw": "160 mA", "busy": "8 %",
     "min_volts": "2.8 V"},
]  # fmt: skip
WHOLE: dict[str, Any] = {
    "model": {"class": "p30", "airframe": "44.5 g", "target": "55 g", "rubber": "10 g", "wing_area": "8.6 dm²",
              "max_loading": "9 g/dm²"},
    "gear": GEAR,
    "cell": {"mass": "1.0 g", "known_by": "maker", "capacity": "30 mAh", "resistance": "1.1 ohm"},
    "session": {"flights": 8, "on_time": "6 min", "temperature": "8 °C"},
}  # fmt: skip


def reported(document: dict[str, Any]) -> dict[str, Any]:
    """Return the report of a document."""
    budget = read(document).budget
    return as_json(assess(budget))


def report_of(**changes: Any) -> dict[str, Any]:
    """Return the report of the whole budget with some blocks changed."""
    return reported({**WHOLE, **changes})


def assessed(**changes: Any) -> Assessment:
    """Return the assessment of the whole budget with some blocks changed."""
    return assess(read({**WHOLE, **changes}).budget)


def test_the_keys_other_programs_rely_on() -> None:
    answer = report_of()
    assert {"nominal_g", "expected_g", "spread_g"} <= set(answer["gear"])
    assert {"flying_g", "with_rubber_g", "share"} <= set(answer["model"])
    assert [limit["id"] for limit in answer["limits"]] == ["share", "target", "loading"]
    assert all({"allows_g", "in_hand_g"} <= set(limit) for limit in answer["limits"])
    assert answer["governs"] == "target"
    assert answer["verdict"] == "fits"
    assert {"short_g", "free_g"} <= set(answer["class"])
    wanted = {"mean_mA", "peak_mA", "run_min", "ends_by", "flights", "cells_needed", "lowest_V"}
    assert wanted <= set(answer["power"])


def test_a_whole_budget_worked_by_hand() -> None:
    """Gear 1.1 + 1.7 × 1.05 + 1.0 × 1.05 = 3.935 g; wished mass leaves 10.5 g; 46.32 mA from 30 mAh.

    8 °C, 1.544 times an hour: by hand, straight between the shares of `cold_and_rate.toml`: 0.674 to 0.827.
    """
    answer = report_of()
    assert answer["gear"]["nominal_g"] == pytest.approx(3.8)
    assert answer["gear"]["expected_g"] == pytest.approx(3.935)
    assert answer["model"]["flying_g"] == pytest.approx(48.435)
    assert answer["model"]["with_rubber_g"] == pytest.approx(58.435)
    assert answer["limits"][1]["in_hand_g"] == pytest.approx(6.565)
    assert answer["power"]["run_min"] == pytest.approx(0.8 * 30 * 0.750689 / 46.32 * 60, rel=1e-5)
    assert answer["power"]["run_low_min"] == pytest.approx(0.8 * 30 * 0.673891 / 46.32 * 60, rel=1e-5)
    assert answer["power"]["run_high_min"] == pytest.approx(0.8 * 30 * 0.827486 / 46.32 * 60, rel=1e-5)
    assert (answer["power"]["flights"], answer["power"]["cells_needed"]) == (3, 3)  # at worst: 20.95 min


def test_a_row_switched_off_counts_nowhere() -> None:
    off = [GEAR[0], {**GEAR[1], "off": True}]
    assert report_of(gear=off) == report_of(gear=[GEAR[0]])


def test_what_cannot_be_worked_out_is_absent_and_its_field_named() -> None:
    answer = reported({"gear": GEAR})
    assert {block: answer["missing"][block] for block in ("limits", "model", "power")} == {
        "limits": ["model.airframe"], "model": ["model.airframe"], "power": ["cell.capacity"]
    }  # fmt: skip
    assert answer["model"] == {}
    assert not {"verdict", "governs", "power"} & set(answer)


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"cell": {"mass": "1 g"}}, "cell.capacity"),
        ({"cell": {"mass": "1 g", "capacity": "0 mAh"}}, "cell.capacity"),
        ({"cell": {"mass": "1 g", "capacity": "30 mAh", "resistance": "x"}}, "cell.resistance"),
        ({"session": {"temperature": "cold"}}, "session.temperature"),
        ({"session": "cold"}, "session"),
        ({"gear": [{"mass": "1 g", "draw": "0 mA"}]}, "gear.draw"),
        ({"gear": []}, "gear.draw"),
        ({"gear": [*GEAR, {"mass": "1 g", "draw": "x"}]}, "gear.2.draw"),
        ({"gear": [*GEAR, {"mass": "1 g", "busy_draw": "100 mA"}]}, "gear.2.busy"),
        ({"gear": [*GEAR, {"mass": "1 g", "busy_draw": "100 mA", "busy": "x"}]}, "gear.2.busy"),
    ],
)
def test_power_waits_for_what_is_absent_or_unreadable(changes: dict[str, Any], path: str) -> None:
    found = assessed(**changes)
    assert found.power is None
    assert found.missing["power"] == (path,)
    assert found.verdict is not None


def test_a_row_without_a_mass_is_named_and_not_counted() -> None:
    found = assessed(gear=[*GEAR, {"name": "altimeter"}, {"mass": "x"}, {"mass": "1 g", "count": "many"}])
    assert found.uncounted == ("gear.2", "gear.3", "gear.4")
    assert found.gear.nominal_kg == assessed().gear.nominal_kg


def test_a_cell_without_a_mass_is_named_too() -> None:
    assert assessed(cell={"capacity": "30 mAh"}).uncounted == ("cell",)


@pytest.mark.parametrize(
    ("model", "absent"),
    [
        ({"airframe": "44 g", "target": "x"}, "target"),
        ({"airframe": "44 g", "class": "f3k", "maximum": "x"}, "class_max"),
        ({"airframe": "44 g", "wing_area": "8 dm²", "max_loading": "9 g/dm²", "rubber": "x"}, "loading"),
        ({"airframe": "44 g", "class": "f1e", "wing_area": "8 dm²", "max_loading": "x"}, "loading"),
    ],
)
def test_a_limit_made_of_something_unreadable_is_not_worked_out(model: dict[str, Any], absent: str) -> None:
    found = assessed(model=model)
    assert absent not in [limit.id for limit in found.limits]
    assert "share" in [limit.id for limit in found.limits]


def test_unreadable_share_and_class_and_known_by() -> None:
    assert assessed(rule={"share": "x"}, model={"airframe": "44 g"}).missing["limits"] == ("rule.share",)
    unknown_class = assessed(model={"airframe": "30 g", "class": "zz"})
    assert unknown_class.class_.short_kg is None
    assert unknown_class.class_.minimum_kg is None
    hearsay = assessed(model={"airframe": "30 g", "airframe_known_by": "hearsay"})
    assert hearsay.missing["model"] == ("model.airframe_known_by",)
    assert assessed(model={"airframe": "30 g", "rubber": "x"}).model.with_rubber_kg is None


def test_class_figures_and_the_builders_own_over_them() -> None:
    """p30: at least 40 g. Airframe 34 g + gear 3.935 g: 2.065 g short; 6 g of gear is free."""
    answer = report_of(model={"class": "p30", "airframe": "34 g"})
    assert answer["class"]["short_g"] == pytest.approx(2.065)
    assert answer["class"]["free_g"] == pytest.approx(6.0)
    answer = report_of(model={"class": "p30", "airframe": "34 g", "minimum": "50 g", "maximum": "37 g"})
    assert answer["class"]["short_g"] == pytest.approx(12.065)
    assert answer["governs"] == "class_max"
    assert answer["verdict"] == "over"
    answer = report_of(model={"class": "f1e", "airframe": "300 g", "wing_area": "20 dm²"})
    assert [limit["id"] for limit in answer["limits"]] == ["share", "class_max", "loading"]


def test_the_verdict_is_the_worst_of_all_limits() -> None:
    """The share rule leaves least, and fits; the wished mass leaves more but hangs on a guessed airframe."""
    found = assessed(model={"airframe": "24 g", "airframe_known_by": "guess", "target": "38 g"})
    assert found.governs is not None
    assert (found.governs.id, found.governs.verdict) == ("share", "fits")
    assert found.verdict == "close"


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"model": {"class": "p30", "airframe": "40 g"}}, "radio_sport"),
        ({"model": {"class": "f1d", "airframe": "4 g"}}, "radio_ask"),
        ({"model": {"class": "p30", "radio": "dethermaliser", "airframe": "40 g", "rubber": "11 g"}}, "rubber_over"),
        ({"model": {"airframe": "98 g"}}, "uk_flyer"),
        ({"model": {"airframe": "248 g"}}, "eu_uk_250"),
        ({"model": {"airframe": "246 g"}}, "us_055"),
        ({"session": {"temperature": "-1 °C"}}, "below_freezing"),
        ({"cell": {"mass": "1 g", "capacity": "30 mAh"}}, "resistance_assumed"),
    ],
)
def test_notices(changes: dict[str, Any], code: str) -> None:
    assert code in report_of(**changes)["notices"]


def test_no_notice_without_a_reason() -> None:
    fair = {"mass": "1 g", "capacity": "30 mAh", "resistance": "2.5 ohm"}  # 75 mΩ·Ah
    quiet = assessed(model={"class": "p30", "radio": "dethermaliser", "airframe": "40 g", "rubber": "10 g"},
                     cell=fair,
                     session={"temperature": "15 °C"})  # fmt: skip
    assert quiet.notices == ()
    assert report_of(model={"class": "f3k", "airframe": "40 g"}, cell=fair)["notices"] == ["cold_cell"]  # 8 °C


def test_session_fields_may_be_absent() -> None:
    answer = report_of(session={"on_time": "6 min"})["power"]
    assert answer["flights"] == 4  # at 20 °C, not 8 °C
    assert "cells_needed" not in answer
    assert "flights" not in report_of(session={"flights": 3})["power"]
    whole = {key: value for key, value in WHOLE.items() if key != "session"}
    assert reported(whole)["power"]["ends_by"] == "reserve"


def test_a_cell_that_gives_not_one_flight_needs_no_number_of_cells() -> None:
    answer = report_of(session={"flights": 3, "on_time": "2 h"})["power"]
    assert (answer["flights"], answer["cells_needed"]) == (0, None)


def test_examples_show_what_they_are_for() -> None:
    """Their own stories, worked out: a guard against change of the example files."""
    verdicts = {name: reported(document) for name, document in demo_documents().items()}
    assert verdicts["sedge-wren.json"]["verdict"] == "fits"
    assert verdicts["sedge-wren.json"]["limits"][0]["in_hand_g"] < 1.0
    assert verdicts["reed-bunting.json"]["verdict"] == "over"
    assert -1.2 < verdicts["reed-bunting.json"]["limits"][0]["in_hand_g"] < -0.8
    assert verdicts["goldcrest.json"]["class"]["short_g"] > 0
    assert verdicts["pipit.json"]["verdict"] == "close"
    gnat = demo_documents()["gnat.json"]
    assert verdicts["gnat.json"]["verdict"] == "fits"
    for row in gnat["gear"]:
        if row["kind"] in ("servo", "coil actuator"):
            row["off"] = row["kind"] == "coil actuator"
    assert reported(gnat)["verdict"] == "over"


@pytest.mark.parametrize("name", demo_documents())
def test_examples_have_no_problems(name: str) -> None:
    assert read(demo_documents()[name]).problems == ()
