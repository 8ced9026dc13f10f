"""What is absent, unreadable or unsure is told, and never makes an answer better."""

import json
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import data, headline, text, wording
from calc.assess import Assessment, assess
from calc.document.budget import BLOCKS, Budget, read
from calc.document.fields import described
from calc.document.parts import GearRow
from calc.subjects.limits import words as limit_words
from calc.subjects.power import words as power_words
from calc.subjects.surface import words as surface_words
from calc.subjects.weights import words as weight_words
from calc.unit_system import UnitSystem
from tests.calc.test_properties import DOCUMENT
from tests.support import demo_documents

RECEIVER = {"kind": "receiver", "mass": "1.2 g", "draw": "25 mA", "min_volts": "3.1 V"}
SERVO = {"kind": "servo", "mass": "1.7 g", "min_volts": "2.8 V"}
DRAWN = {**SERVO, "draw": "6 mA", "busy_draw": "150 mA", "busy": "8 %"}
CELL = {"mass": "1.6 g", "capacity": "45 mAh", "resistance": "0.7 ohm"}
SESSION = {"flights": 10, "on_time": "5 min", "temperature": "5 °C"}


def assessed(**document: Any) -> Assessment:
    return assess(read(document).budget)


def reported(**document: Any) -> dict[str, Any]:
    budget = read(document).budget
    return data.as_json(assess(budget), budget)


def full() -> dict[str, Any]:
    """Return a budget in which everything is asked: nearly every entry decides something."""
    return {
        "format": 1, "name": "Whimbrel", "units": "metric", "scale_division": "0.1 g",
        "model": {"class": "f1g", "use": "contest", "radio": "dethermaliser", "airframe": "58 g",
                  "airframe_known_by": "maker", "airframe_weighed": "60 g", "target": "75 g", "rubber": "9 g",
                  "wing_area": "9 dm^2", "max_loading": "10 g/dm^2", "minimum": "71 g", "maximum": "90 g"},
        "rule": {"share": "21 %"},
        "gear": [
            {**RECEIVER, "name": "board", "count": 1, "known_by": "maker", "station": "80 mm", "busy_draw": "40 mA",
             "busy": "20 %", "draw_known_by": "guess", "off": False},
            {**DRAWN, "weighed": "1.8 g", "station": "150 mm"},
        ],
        "cell": {**CELL, "name": "cell", "known_by": "maker", "weighed": "1.7 g", "station": "60 mm", "cutoff": "3.2 V",
                 "series": 1, "capacity_left": "90 %", "charge_current": "30 mA"},
        "session": {**SESSION, "reserve": "15 %", "between": "on", "pause": "2 min"},
        "wiring": {"gauge": 32, "length": "200 mm"},
        "balance": {"airframe_at": "200 mm", "rubber_at": "210 mm", "target": "190 mm", "nose_at": "10 mm",
                    "tail_at": "600 mm"},
        "surface": {"kind": "hinged", "span": "90 mm", "chord": "60 mm", "flap_chord": "18 mm", "deflection": "20°",
                    "speed": "6 m/s", "actuator": "rotary servo", "horn": "8 mm", "arm": "5 mm", "travel": "45°",
                    "torque": "3 mN m"},
        "linkage": {"kind": "rod", "length": "300 mm", "free_length": "150 mm", "material": "carbon",
                    "section": "round", "diameter": "1 mm", "bore": "0.5 mm", "density": "1500 kg/m3",
                    "modulus": "120 GPa", "ends": "0.3 g"},
        "air": {"field_height": "300 m", "lift": "0.8", "launch": "rubber", "rubber_energy": "5 kJ/kg",
                "timed_height": "40 m", "timed_glide": "90 s", "timed_motor": "30 s"},
    }  # fmt: skip


def variants() -> dict[str, dict[str, Any]]:
    """Return budgets in which the entries decide that the full one leaves aside."""
    base = full()
    plain = {key: item for key, item in base["model"].items() if key != "airframe_weighed"}
    lines = {"kind": "lines", "length": "300 mm", "yarn": "aramid", "tex": "22 tex", "knot": "looped", "ends": "0.2 g"}
    return {
        "full": base,
        "planned": {**base, "model": plain,
                    "gear": [{k: v for k, v in row.items() if k != "weighed"} for row in base["gear"]],
                    "cell": {k: v for k, v in base["cell"].items() if k != "weighed"}},
        "lines": {**base, "linkage": lines,
                  "surface": {**base["surface"], "kind": "whole", "pivot": "10 %", "speed": ""}},
        "thin lines": {**base, "linkage": {**{k: v for k, v in lines.items() if k != "tex"},
                                           "line_diameter": "0.14 mm"}},
        "linear": {**base, "surface": {**base["surface"], "actuator": "linear servo", "stroke": "3 mm",
                                       "thrust": "0.5 N"}},
        "towed": {**base, "air": {"launch": "towline", "height": "50 m", "glide_factor": "9"}},
        "motor": {**base, "air": {"launch": "motor", "work": "50 J", "efficiency": "40 %"}},
        "converter": {**base, "supply": {"kind": "up", "volts": "5 V", "efficiency": "80 %", "min_input": "2.7 V"}},
        "chord": {**base, "balance": {**{k: v for k, v in base["balance"].items() if k != "target"},
                                      "target_chord": "60 %", "leading_edge": "130 mm", "chord": "100 mm"}},
        "sport": {**base, "model": {**plain, "use": "sport", "radio": "steering"}},
    }  # fmt: skip


def places(document: dict[str, Any]) -> list[tuple[str, str]]:
    """Return (block, key) of each field of a document, "" for the top; rows by number."""
    found = [("", name) for name in described(Budget)]
    found += [(key, name.rstrip("_")) for key, kind in BLOCKS.items() if key in document for name in described(kind)]
    rows = range(len(document["gear"]))
    return found + [(f"gear.{index}", name) for index in rows for name in described(GearRow)]


def with_entry(document: dict[str, Any], block: str, key: str, typed: object) -> dict[str, Any]:
    """Return a document with one entry changed; None takes it away, ... leaves it."""
    changed: dict[str, Any] = json.loads(json.dumps(document))
    place = changed
    for part in block.split(".") if block else ():
        place = place[int(part)] if isinstance(place, list) else place[part]
    if typed is None:
        place.pop(key, None)
    elif typed is not ...:
        place[key] = typed
    return changed


CASES = [(name, block, key) for name, document in variants().items() for block, key in places(document)]


@pytest.mark.parametrize(("name", "block", "key"), CASES, ids=[".".join(case) for case in CASES])
def test_no_entry_that_cannot_be_read_is_ignored_in_silence(name: str, block: str, key: str) -> None:
    """Garbage in a field that decides something never gives the answer of leaving it out, unless that names it."""
    document, path = variants()[name], f"{block}.{key}".lstrip(".")
    given, broken, absent = (
        reported(**with_entry(document, block, key, typed)) for typed in (..., "§ no such thing", None)
    )
    named = {each for paths in broken["missing"].values() for each in paths} | set(broken["uncounted"])
    same = figures(broken) == figures(absent)
    assert figures(given) == figures(absent) or named & {path, block, path.split(".")[0]} or not same


def figures(answer: dict[str, Any]) -> dict[str, Any]:
    """Return an answer without the fields that it waits for."""
    return {key: item for key, item in answer.items() if key != "missing"}


def test_an_unreadable_launch_gives_no_flight_time() -> None:
    found = reported(**with_entry(full(), "air", "launch", "towlinee"))
    assert "time_s" not in found["air"]
    assert "air.launch" in found["missing"]["air"]


def test_an_unreadable_timed_height_gives_no_usual_glide_factor() -> None:
    found = reported(**with_entry(full(), "air", "timed_height", "forty"))
    assert "air" not in found
    assert "air.timed_height" in found["missing"]["air"]


@given(DOCUMENT, st.data())
def test_a_heavier_or_less_known_row_never_makes_the_answer_better(
    document: dict[str, Any], data: st.DataObject
) -> None:
    rows = document["gear"]
    index = data.draw(st.integers(0, len(rows) - 1))
    row = {key: item for key, item in rows[index].items() if key != "off"}
    before = assess(read({**document, "gear": [*rows[:index], row, *rows[index + 1 :]]}).budget)
    worse = {**row, "count": 9} if data.draw(st.booleans()) else {**row, "known_by": "guess"}
    after = assess(read({**document, "gear": [*rows[:index], worse, *rows[index + 1 :]]}).budget)
    if row.get("count", 1) in (1, "2") or worse.get("known_by") == "guess":
        for was, now in zip(before.limits, after.limits, strict=True):
            assert now.in_hand_kg <= was.in_hand_kg + 1e-12
    lost = assess(read({**document, "gear": [*rows[:index], {**row, "mass": ""}, *rows[index + 1 :]]}).budget)
    assert lost.uncounted or not lost.limits or lost.verdict == "over"
    assert lost.whole.open or lost.verdict == "over"


@given(DOCUMENT)
def test_a_missing_draw_never_gives_a_plain_run_time(document: dict[str, Any]) -> None:
    found = reported(**{**document, "gear": [*document["gear"], SERVO]})
    assert "run_min" not in found.get("power", {})
    if "power" in found:
        assert found["power"]["draw_untold"]
        assert "flights" not in found["power"]


def test_a_servo_without_a_draw_makes_the_run_time_an_upper_bound() -> None:
    """Receiver 25 mA alone would run far longer than with the servo's draw: told as "at most", by name."""
    bound, known = (
        assessed(gear=[RECEIVER, row], cell=CELL, session=SESSION, model={"airframe": "60 g"}) for row in (SERVO, DRAWN)
    )
    assert bound.power is not None
    assert known.power is not None
    assert bound.power.run.time_s > known.power.run.time_s
    assert bound.missing["power"] == ("gear.1.draw",)
    assert "power" not in reported(gear=[RECEIVER, DRAWN], cell=CELL, session=SESSION)["missing"]
    said = power_words.power_sentence(bound.power, weight_words.names_of(bound))
    assert "at most 1 h" in said
    assert "nobody has said what the servo draws" in said
    assert "Still open: run time" in headline.headline(bound, UnitSystem.METRIC)
    assert "mean draw, at least" in text.plain_text(bound.budget, bound)


def test_a_share_of_time_at_work_without_its_draw_is_an_upper_bound_too() -> None:
    found = assessed(gear=[{**SERVO, "draw": "6 mA", "busy": "8 %"}], cell=CELL, session=SESSION)
    assert found.power is not None
    assert found.power.untold == ("gear.0.busy_draw",)


def test_a_draw_that_is_a_guess_is_told() -> None:
    found = assessed(gear=[{**DRAWN, "draw_known_by": "guess", "name": "tail servo"}], cell=CELL, session=SESSION)
    assert found.power is not None
    said = power_words.power_sentence(found.power, weight_words.names_of(found))
    assert said.endswith("The draw of the tail servo is a guess: measure it.")


def test_under_the_share_rule_an_estimated_airframe_does_not_grow() -> None:
    """0.2 × 34 / 0.8 = 8.50 g by hand, whatever the growth; under the wished mass it counts with its growth: 40.8 g."""
    model = {"airframe": "34 g", "airframe_known_by": "guess", "target": "50 g"}
    found = {limit["id"]: limit for limit in reported(model=model, gear=[{"mass": "9 g"}])["limits"]}
    assert found["share"]["allows_g"] == pytest.approx(8.5)
    assert found["target"]["allows_g"] == pytest.approx(50.0 - 40.8)
    assert found["share"]["verdict"] == "close"
    assert found["share"]["spread_g"] == pytest.approx(2 * (0.25 * 6.8**2 * 0.25 / 3 + 0.05**2 / 3) ** 0.5, abs=1e-6)


def test_notices_of_the_law_count_lead_and_ballast() -> None:
    """By hand: 236 + 5.2 g, lead 241.2 × 20 / 145.3 = 33.2 g: 274.4 g, above 250 g."""
    lead = reported(
        model={"airframe": "236 g"}, gear=[{"mass": "5.2 g", "station": "200 mm"}],
        balance={"airframe_at": "200 mm", "target": "180 mm", "nose_at": "34.7 mm"},
    )  # fmt: skip
    assert lead["balance"]["nose_ballast_g"] == pytest.approx(33.2, abs=0.01)
    assert lead["model"]["all_up_g"] == pytest.approx(274.4, abs=0.01)
    assert lead["model"]["flying_g"] == lead["model"]["all_up_g"]
    assert "eu_uk_250" in lead["notices"]
    contest = reported(model={"class": "f1p", "airframe": "200 g"}, gear=[{"mass": "5 g"}])
    assert contest["model"]["ballast_g"] == pytest.approx(45.0)
    assert "eu_uk_250" in contest["notices"]


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


def test_a_run_that_ten_percent_less_capacity_ends_is_told() -> None:
    """One flight of 19.5 min out of 20 min (30 mAh × 0.8 / 72 mA), by hand; 27 mAh give 18 min."""
    found = assessed(
        model={"airframe": "60 g"}, gear=[{**RECEIVER, "draw": "72 mA"}],
        cell={**CELL, "capacity": "30 mAh", "resistance": "0 ohm"}, session={"flights": 1, "on_time": "19:30"},
    )  # fmt: skip
    assert found.whole.parts["run"] == "close"
    assert "Just: with 10 % less capacity one cell does not last one flight." in headline.headline(
        found, UnitSystem.METRIC
    )
    assert found.power is not None
    assert power_words.plan_sentence(found.power).startswith("Too near the edge:")


def test_the_swap_to_be_safe() -> None:
    """36 mAh at 48 mA, no reserve: 45 min, nine flights of 5 min; 10 % less gives 40.5 min, eight: by hand."""
    found = assessed(
        gear=[{**RECEIVER, "draw": "48 mA", "min_volts": "2.9 V"}],
        cell={**CELL, "capacity": "36 mAh", "resistance": "0 ohm", "cutoff": "3 V"},
        session={"flights": 10, "on_time": "5 min", "reserve": "0 %"},
    )  # fmt: skip
    assert found.power is not None
    assert (found.power.flights, found.power.safe_flights, found.power.bring) == (9, 8, 3)
    said = power_words.plan_sentence(found.power)
    assert said.startswith("Swap the cell after flight 9. To be safe, swap it after flight 8: with 10 % less capacity")


@pytest.mark.parametrize(
    ("session", "words"),
    [
        ({"temperature": "-15 °C"}, "5 °C colder or 10 °C warmer (to the coldest that these sums know)"),
        ({"temperature": "55 °C"}, "10 °C colder or 5 °C warmer (to the warmest that these sums know)"),
        ({"temperature": "20 °C"}, "10 °C colder or warmer"),
    ],
)
def test_a_sway_that_stops_at_the_end_of_its_range_says_so(session: dict[str, str], words: str) -> None:
    found = assessed(gear=[{**DRAWN, "busy": "80 %"}], cell=CELL, session=session)
    assert found.power is not None
    said = {
        effect.id: power_words.sensitivity_sentence(effect, UnitSystem.METRIC) for effect in found.power.sensitivities
    }
    assert said["temperature"].startswith(words)
    assert said["busy"].startswith("at work twice (at most all the time) or half as often")
    imperial = {
        effect.id: power_words.sensitivity_sentence(effect, UnitSystem.IMPERIAL) for effect in found.power.sensitivities
    }
    assert "°F" in imperial["temperature"]


def test_throw_and_strength_belong_together() -> None:
    """Stroke 1 mm on a horn of 9 mm: asin(1/9) = 6.4° of 20°; a horn of 1/sin 20° = 2.92 mm gives 20°: by hand."""
    surface = {**full()["surface"], "actuator": "linear servo", "stroke": "1 mm", "horn": "9 mm", "thrust": "2 N"}
    found = assessed(**{**full(), "surface": surface}).surface
    assert found is not None
    assert found.enough_throw is False
    assert found.factor is not None
    assert found.full_factor == pytest.approx(found.factor * 2.9238 / 9.0, rel=1e-4)
    assert "far lighter" not in surface_words.surface_sentence(found, UnitSystem.METRIC)
    assert "A horn of about 2.9 mm gives them, and with it the actuator is" in surface_words.throw_sentence(
        found, UnitSystem.METRIC
    )


def test_half_given_limits_are_open() -> None:
    found = assessed(model={"airframe": "60 g", "max_loading": "9 g/dm2"}, gear=[{"mass": "5 g"}])
    assert found.missing["limits"] == ("model.wing_area",)
    assert headline.headline(found, UnitSystem.METRIC).startswith("So far:")
    assert assessed(gear={"a": 1}, model={"airframe": "60 g"}).uncounted == ("gear",)
    assert assessed(scale_division="fine", model={"airframe": "60 g"}, gear=[{"mass": "5 g"}]).limits == ()


def test_nothing_is_moved_by_a_cell_that_cannot_run_the_gear() -> None:
    found = assessed(gear=[{**RECEIVER, "min_volts": "5.5 V"}], cell=CELL, supply={"volts": "5 V"}, session=SESSION)
    assert found.power is not None
    said = power_words.power_sentence(found.power, {})
    assert said == "The converter gives 5 V, but the gear needs 5.5 V: it never runs."
    assert "Moves the run time" not in text.plain_text(found.budget, found)


@pytest.mark.parametrize("name", demo_documents())
def test_the_command_tells_the_verdict_of_its_headline(name: str) -> None:
    """The table of limits counts the lead as the headline does."""
    found = assess(read(demo_documents()[name]).budget)
    said = text.plain_text(found.budget, found)
    for limit in found.limits_with_lead:
        line = next(line for line in said.splitlines() if line.startswith(f"  {limit_words.LIMITS[limit.id]}"))
        assert line.endswith(limit.verdict)


def test_a_limit_that_the_airframe_alone_breaks_allows_nothing() -> None:
    found = assessed(model={"airframe": "55 g", "target": "50 g"}, gear=[{"mass": "2 g"}])
    said = text.plain_text(found.budget, found)
    assert "The wished flying mass allows nothing: the airframe alone is 5.00 g over." in said


def test_a_linkage_that_gives_the_throw_is_not_told_without_a_rated_strength() -> None:
    surface = {**full()["surface"], "actuator": "linear servo", "stroke": "1 mm", "horn": "9 mm"}
    found = assessed(**{**full(), "surface": surface}).surface
    assert found is not None
    assert found.full_factor is None
    assert surface_words.throw_sentence(found, UnitSystem.METRIC).endswith(
        "not enough. A horn of about 2.9 mm gives them."
    )


def test_a_time_out_of_range_is_told_in_words() -> None:
    problem = read({"session": {"on_time": "0.1 s", "pause": "30 h"}}).problems
    said = [wording.problem(each) for each in problem]
    assert said[0].endswith("is outside what makes sense here: from 1 s to 24 h 0 min.")


def test_a_row_that_is_no_list_is_named_beside_the_balance() -> None:
    found = assessed(**{**full(), "gear": {"0": RECEIVER}})
    assert found.missing["balance"] == ("gear",)
    assert "gear" in found.missing["power"]


def test_rubber_that_nobody_gave_counts_as_the_most_that_the_class_allows() -> None:
    """f1b: at most 30 g; 215 + 5 g are 220 g, with them 250 g: by hand. An electric class adds nothing."""
    found = reported(model={"class": "f1b", "airframe": "215 g"}, gear=[{"mass": "5 g"}])
    assert found["model"]["all_up_g"] == pytest.approx(250.0)
    assert {"rubber_unknown", "eu_uk_250"} <= set(found["notices"])
    none = reported(model={"class": "f1b", "airframe": "215 g", "rubber": "0 g"}, gear=[{"mass": "5 g"}])
    assert none["model"]["all_up_g"] == pytest.approx(220.0)


ROD = {"kind": "linkage", "name": "push rod", "mass": "1.5 g", "known_by": "guess", "station": "400 mm"}
LED = {
    "model": {"airframe": "40 g"},
    "balance": {"airframe_at": "150 mm", "target": "150 mm", "nose_at": "10 mm", "tail_at": "500 mm"},
}


def test_lead_is_no_surer_than_the_masses_that_ask_for_it() -> None:
    """By hand: a rod 250 mm behind the wanted point takes 250/140 of its mass in lead, so 1 g of it takes 2.79 g.

    The guess of 1.8 ± 0.3 g moves what is in hand by ± 0.84 g; planned there are 0.50 g in hand.
    """
    rows = [{"kind": "receiver", "mass": "4.49 g", "station": "150 mm"}, ROD]
    found = reported(**LED, gear=rows)
    share = found["limits_with_lead"][0]
    assert share["in_hand_g"] == pytest.approx(10.0 - 4.49 - 1.8 * (1 + 250 / 140), abs=1e-5)
    half = 0.3 * (1 + 250 / 140)
    # The receiver's ± 0.05 g and the airframe's ± 0.05 g (a quarter of it under the rule) hardly count beside it.
    assert found["chance"]["all"] == pytest.approx(0.5 + share["in_hand_g"] / (2 * half), abs=0.02)
    assert share["spread_g"] == pytest.approx(2 * half / 3**0.5, abs=0.01)
    assert found["whole"]["verdict"] == "close"
    heavy = reported(**LED, gear=[rows[0], {**ROD, "weighed": "2.1 g"}])
    assert heavy["verdict"] == "over"


@pytest.mark.parametrize(
    ("left_out", "named"), [("balance.rubber_at", "balance.rubber_at"), ("model.rubber", "model.rubber")]
)
def test_rubber_whose_place_or_mass_is_left_out_keeps_balance_and_grams_open(left_out: str, named: str) -> None:
    document = {
        "model": {"class": "p30", "use": "sport", "airframe": "40 g", "rubber": "10 g"},
        "gear": [{**RECEIVER, "station": "100 mm"}],
        "balance": {"airframe_at": "158 mm", "rubber_at": "300 mm", "target": "150 mm", "nose_at": "10 mm",
                    "tail_at": "500 mm"},
    }  # fmt: skip
    block, key = left_out.split(".")
    found = assessed(**with_entry(document, block, key, None))
    assert found.whole.parts["balance"] == "open"
    assert named in found.missing["balance"]
    assert headline.headline(found, UnitSystem.METRIC).startswith("So far:")
    assert not assessed(**document).lead_open


def test_a_run_that_is_at_most_has_no_swap_plan() -> None:
    found = assessed(gear=[RECEIVER, SERVO], cell=CELL, session={"flights": 30, "on_time": "6 min"})
    assert found.power is not None
    assert found.power.cell_swaps
    assert "wap" not in power_words.plan_sentence(found.power)


def test_a_servo_that_tells_its_quiet_draw_alone_is_named() -> None:
    found = assessed(
        model={"airframe": "60 g"}, gear=[RECEIVER, {**SERVO, "draw": "6 mA"}], cell=CELL, session=SESSION
    )  # fmt: skip
    assert found.missing["power"] == ("gear.1.busy_draw",)
    assert found.whole.parts["run"] == "open"
    assert "quiet_only" in [notice.code for notice in found.notices]


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"session": {"flights": 8, "on_time": "50 minn"}}, "session.on_time"),
        ({"session": {"flights": "eight", "on_time": "5 min"}}, "session.flights"),
        ({"session": {"flights": 8}}, "session.on_time"),
        ({"gear": [RECEIVER, {"kind": "supply", "mass": "0.5 g"}]}, "supply.volts"),
    ],
)
def test_a_session_or_converter_told_in_part_leaves_the_run_open(changes: dict[str, Any], path: str) -> None:
    found = assessed(**{"model": {"airframe": "60 g"}, "gear": [RECEIVER], "cell": CELL, "session": SESSION, **changes})
    assert path in found.missing["power"]
    assert found.whole.parts["run"] == "open"


def test_lead_that_is_not_known_is_not_counted_and_told() -> None:
    balance = {"airframe_at": "200 mm", "target": "160 mm"}
    found = assessed(model={"airframe": "236 g"}, gear=[{"mass": "5.2 g", "station": "160 mm"}], balance=balance)
    said = headline.headline(found, UnitSystem.METRIC)
    assert said.startswith("So far: by weight it fits")
    assert "the lead for balance not counted, for it is not known" in said
    assert found.whole.open
    assert ", for it is not known." in said  # no chance of what is not counted
    rubber = {"airframe": "236 g", "rubber": "20 g"}
    wound = assessed(model=rubber, gear=[{"mass": "5.2 g", "station": "160 mm"}], balance=balance)
    assert "All-up weight, so far" in text.plain_text(wound.budget, wound)


def test_strength_without_a_linkage_speaks_of_the_actuator_alone() -> None:
    """The rod would bend or the threads stretch first: without them only the actuator was looked at."""
    model = {"airframe": "60 g", "wing_area": "9 dm2"}
    bare = {key: item for key, item in full().items() if key != "linkage"}
    assert "has a strong enough actuator" in headline.headline(assessed(**{**bare, "model": model}), UnitSystem.METRIC)
    assert "is strong enough" in headline.headline(assessed(**{**full(), "model": model}), UnitSystem.METRIC)


def test_no_chance_is_told_while_the_lead_is_not_known() -> None:
    balance = {"airframe_at": "200 mm", "target": "160 mm"}
    found = assessed(model={"airframe": "40 g", "airframe_known_by": "guess"}, gear=[{"mass": "9 g"}], balance=balance)
    assert found.lead_open
    said = headline.headline(found, UnitSystem.METRIC)
    assert "in 10" not in said
    assert "sure" not in said
    heavy = assessed(model={"airframe": "40 g"}, gear=[{"mass": "19 g"}], balance=balance)
    assert "in every case you gave" in headline.headline(heavy, UnitSystem.METRIC)  # lead makes it no lighter


def test_strength_at_the_gentlest_speed_alone_says_so() -> None:
    surface = {**full()["surface"], "speed": ""}
    model = {"airframe": "60 g", "wing_area": "9 dm2", "rubber": "9 g"}
    said = headline.headline(assessed(**{**full(), "model": model, "surface": surface}), UnitSystem.METRIC)
    assert "strong enough in the glide" in said


def test_a_class_that_weighs_ready_to_fly_counts_the_rubber_in_its_maximum() -> None:
    """Catapult glider, at most 42.5 g (1.5 oz): 42.52 − 36 − 6 = 0.52 g of gear."""
    found = reported(model={"class": "cat", "airframe": "36 g", "rubber": "6 g"}, gear=[{"mass": "0.4 g"}])
    most = next(limit for limit in found["limits"] if limit["id"] == "class_max")
    assert most["allows_g"] == pytest.approx(42.524 - 42.0, abs=1e-3)


def test_limits_that_wait_for_the_airframe_or_the_rubber_keep_the_answer_open() -> None:
    model = {"target": "610 g", "wing_area": "20 dm2", "max_loading": "29 g/dm2"}
    found = assessed(model=model, gear=[{"mass": "20 g"}])
    assert found.missing["limits"] == ("model.airframe",)
    assert headline.headline(found, UnitSystem.METRIC).startswith("So far:")
    loading = {"class": "p30", "airframe": "34 g", "wing_area": "8 dm2", "max_loading": "6 g/dm2"}
    assert assessed(model=loading, gear=[{"mass": "5 g"}]).missing["limits"] == ("model.rubber",)
    assert assessed(model={"airframe": "40 g"}).whole.open  # no gear yet: nothing is settled


def test_the_word_follows_what_is_so_in_every_case() -> None:
    """One guess of 3.5 g, 4.2 ± 0.7 g: its spread, 0.81 g, reaches beyond its own ends."""
    model, bed = {"airframe": "40 g"}, {"kind": "mount", "mass": "3.5 g", "known_by": "guess"}
    over, fits = (
        assessed(model=model, gear=[{"mass": mass}, bed], scale_division="0.001 g") for mass in ("6.55 g", "5.05 g")
    )
    assert (over.verdict, over.whole.verdict) == ("close", "over")
    assert headline.headline(over, UnitSystem.METRIC).startswith("Over by 0.75 g, in every case you gave.")
    assert (fits.verdict, fits.by_weight) == ("close", "fits")
    assert headline.headline(fits, UnitSystem.METRIC).startswith("Fits, with 0.75 g in hand, in every case you gave.")
