"""What is absent, unreadable or unsure is told, and never makes an answer better."""

import json
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import headline, wording
from calc.assess import assess
from calc.document.blocks import LISTS
from calc.document.budget import BLOCKS, Budget, read
from calc.document.fields import described
from calc.unit_system import UnitSystem
from tests.calc.budgets import assessed, reported
from tests.calc.full import BY_PARTS, RECEIVER, full, with_entry
from tests.calc.test_properties import DOCUMENT


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
        "bench": {**base, "cell": {**base["cell"], "light_draw": "20 mA", "light_volts": "3.90 V",
                                   "heavy_draw": "70 mA", "heavy_volts": "3.75 V"}},
        "meter": {**base, "cell": {**{k: v for k, v in base["cell"].items() if k != "resistance"}, "meter": "0.5 ohm"}},
        "parts": {**base, "model": {**{k: v for k, v in plain.items() if k not in ("airframe", "wing_area")}},
                  "balance": {k: v for k, v in base["balance"].items() if k != "airframe_at"}, **BY_PARTS},
        "sport": {**base, "model": {**plain, "use": "sport", "radio": "steering"}},
    }  # fmt: skip


def places(document: dict[str, Any]) -> list[tuple[str, str]]:
    """Return (block, key) of each field of a document, "" for the top; rows by number."""
    found = [("", name) for name in described(Budget)]
    found += [(key, name.rstrip("_")) for key, kind in BLOCKS.items() if key in document for name in described(kind)]
    rows = [(f"{key}.{index}", kind) for key, kind in LISTS.items() for index in range(len(document.get(key, ())))]
    return found + [(row, name.rstrip("_")) for row, kind in rows for name in described(kind)]


VARIANTS = variants()
# Of a field that a budget does not give there is nothing to break.
CASES = [
    (name, block, key) for name, document in VARIANTS.items() for block, key in places(document)
    if with_entry(document, block, key, None) != document
]  # fmt: skip


@cache
def figures_given(name: str) -> str:
    """Return the figures of a budget as it is, as text."""
    return json.dumps(figures(reported(**VARIANTS[name])))


@pytest.mark.parametrize(("name", "block", "key"), CASES, ids=[".".join(case) for case in CASES])
def test_no_entry_that_cannot_be_read_is_ignored_in_silence(name: str, block: str, key: str) -> None:
    """Garbage in a field that decides something never gives the answer of leaving it out, unless that names it."""
    document, path = VARIANTS[name], f"{block}.{key}".lstrip(".")
    broken, absent = (reported(**with_entry(document, block, key, typed)) for typed in ("§ no such thing", None))
    named = {each for paths in broken["missing"].values() for each in paths} | set(broken["uncounted"])
    same = figures(broken) == figures(absent)
    assert figures_given(name) == json.dumps(figures(absent)) or named & {path, block, path.split(".")[0]} or not same


def figures(answer: dict[str, Any]) -> dict[str, Any]:
    """Return an answer without the fields that it waits for."""
    return {key: item for key, item in answer.items() if key != "missing"}


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


def test_a_time_out_of_range_is_told_in_words() -> None:
    problem = read({"session": {"on_time": "0.1 s", "pause": "30 h"}}).problems
    said = [wording.problem(each) for each in problem]
    assert said[0].endswith("is outside what makes sense here: from 1 s to 24 h 0 min.")


def test_a_row_that_is_no_list_is_named_beside_the_balance() -> None:
    found = assessed(**{**full(), "gear": {"0": RECEIVER}})
    assert found.missing["balance"] == ("gear",)
    assert "gear" in found.missing["power"]


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
