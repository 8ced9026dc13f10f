"""What cannot be read, or is half told, in the lists and blocks of the later subjects never makes an answer better."""

import json
from functools import cache
from typing import Any

import pytest

from calc.document.blocks import LISTS
from calc.document.box import read_box
from calc.document.budget import read
from calc.search import finder
from calc.search import words as finder_words
from calc.taking import WITH_OTHER_GEAR, taken
from tests.calc.budgets import reported
from tests.calc.full import full, with_entry
from tests.calc.test_told import VARIANTS
from tests.support import SITE_SRC, demo_documents

LATER = ("airframe", "building", "bays", "flights", "charges", "field", "radio")
STANDS = {"bad": 0, "open": 1, "not asked": 1, "close": 2, "good": 3, "over": 0, "fails": 0, "fits": 3, None: 1}
ROOM = {"cannot": 0, "not_found": 1, "fits": 2}
# Of each part of the answer, what is better where it is more, and what where it is less.
MORE = {
    "power": ("run_min", "run_low_min", "flights", "flights_safe"), "surface": ("servo_factor", "factor_climb"),
    "air": ("time_s", "time_low_s", "time_high_s", "time_kept", "height_m"), "field": ("stays_s", "upwind_m", "back"),
    "reach": ("air_m", "ground_m", "margin_dB", "margin_ground_dB", "check_air_m", "check_ground_m"),
    "motor": ("turns", "energy_J"),
}  # fmt: skip
LESS = {
    "air": ("sink_m_s",), "field": ("drift_m", "drift_high_m", "length_m", "turn_back_height_m", "wind_top_m_s"),
    "power": ("bring",),
}  # fmt: skip


def good(answer: dict[str, Any]) -> dict[str, float]:
    """Return the figures of an answer that say how good it is, each so that more is better."""
    found = {f"limits.{each['id']}": each["in_hand_g"] for each in answer["limits"]}
    found |= {f"chance.{each['id']}": each["chance"] for each in answer.get("limits_with_lead", ())}
    found |= {f"whole.{part}": STANDS[word] for part, word in answer["whole"].items() if part != "open"}
    found |= {"room": ROOM[answer["room"]["answer"]]} if answer.get("room") else {}
    for names, sign in ((MORE, 1.0), (LESS, -1.0)):
        told = [(part, name, (answer.get(part) or {}).get(name)) for part in names for name in names[part]]
        found |= {f"{part}.{name}": sign * figure for part, name, figure in told if figure is not None}
    return found


def better(before: dict[str, Any], after: dict[str, Any]) -> dict[str, tuple[float, float]]:
    """Return the figures of which the second answer makes more."""
    was, now = good(before), good(after)
    return {name: (was[name], now[name]) for name in was if name in now and now[name] > was[name] + 1e-9}


# By planned parts the balance stands open, and so does the whole, whatever else there is.
DOCUMENTS = {
    "full": VARIANTS["full"], "planned": VARIANTS["planned"],
    "parts": {key: item for key, item in VARIANTS["parts"].items() if key != "balance"},
}  # fmt: skip


@cache
def given(name: str) -> dict[str, Any]:
    answer = reported(**DOCUMENTS[name])
    assert not answer["whole"]["open"]
    return answer


def entries(document: dict[str, Any]) -> list[tuple[str, str]]:
    """Return (block or row, key) of each entry that the later subjects have in a document; the key "" for all of it."""
    found = []
    for key in LATER:
        held = document.get(key, {})
        blocks = {f"{key}.{at}": row for at, row in enumerate(held)} if key in LISTS else {key: held} if held else {}
        found += [(path, each) for path, block in blocks.items() for each in ("", *block)]
    return found


CASES = [(name, *entry) for name in DOCUMENTS for entry in entries(DOCUMENTS[name])]


@pytest.mark.parametrize(("name", "block", "key"), CASES, ids=[".".join(case) for case in CASES])
def test_what_cannot_be_read_makes_nothing_better_unless_the_whole_stands_open(name: str, block: str, key: str) -> None:
    """It is named, and no figure is better for it, but where grams or run time are told as open, "so far"."""
    path = f"{block}.{key}".rstrip(".")
    for garbage in ("§ no such thing", [5], 1e999):
        document = with_path(DOCUMENTS[name], path, garbage)
        if path not in {each.field for each in read(document).problems}:
            continue  # a name, a date, remarks: any text is one
        broken = reported(**document)
        named = {each for paths in broken["missing"].values() for each in paths} | set(broken["uncounted"])
        assert named & {path, block, block.partition(".")[0]}
        gained = better(given(name), broken)
        assert not gained or broken["whole"]["open"], gained


def with_path(document: dict[str, Any], path: str, typed: object) -> dict[str, Any]:
    """Return a document with something else at a path, be it an entry, a row or a block."""
    block, _, key = path.rpartition(".")
    if block in LISTS:
        rows = [typed if str(at) == key else row for at, row in enumerate(document[block])]
        return {**document, block: rows}
    return with_entry(document, block, key, typed)


FLOWN = {"turns": 700, "height": "40 m", "motor_run": "30 s", "glide": "95 s", "mass": "75 g"}
CHARGED = {"put_back": "18.4 mAh", "flights": 8, "on_time": "6 min", "rest": "3.78 V"}


@pytest.mark.parametrize(
    ("key", "row", "named"),
    [
        ("flights", {"glide": "95 s"}, "height"),
        ("flights", {"torque": "20 mN m"}, "height"),
        ("flights", {"height": "40 m"}, "glide"),
        ("flights", {"height": "40 m", "glide": "95 s"}, "mass"),
        ("flights", {"sink": "0.4 m/s"}, "mass"),
        ("flights", {"height": "40 m", "turns": 700}, ""),
        ("flights", {"glide": "95 s", "out": True}, ""),
        ("flights", {}, ""),
        ("flights", FLOWN, ""),
        ("charges", {"flights": 8, "on_time": "6 min"}, "put_back"),
        ("charges", {"put_back": "18 mAh"}, "flights"),
        ("charges", {"put_back": "18 mAh", "flights": 8}, ""),  # the session says how long each is
        ("charges", {"put_back": "18 mAh", "rest": "3.7 V"}, ""),
        ("charges", {"flights": 8, "out": True}, ""),
        ("charges", {}, ""),
        ("charges", CHARGED, ""),
    ],
)
def test_a_row_that_counts_for_nothing_says_what_it_lacks(key: str, row: dict[str, Any], named: str) -> None:
    """And a flight that tells no weight, for it is taken to be as heavy as the model is now."""
    answer = reported(**{**full(), key: [row]})
    told = answer["missing"].get("power" if key == "charges" else "flights", [])
    assert told == ([f"{key}.0.{named}"] if named else [])


def test_a_session_without_the_time_of_a_flight_anywhere_asks_for_it() -> None:
    document = full()
    del document["session"]["on_time"]
    answer = reported(**{**document, "charges": [{"put_back": "18 mAh", "flights": 8}]})
    assert "charges.0.on_time" in answer["missing"]["power"]


@pytest.mark.parametrize("typed", ["§", None])
@pytest.mark.parametrize("key", ["field_humidity", "room_humidity", "glue"])
def test_grams_that_rest_on_planned_parts_are_so_far_while_glue_or_damp_is_not_known(key: str, typed: object) -> None:
    parts = DOCUMENTS["parts"]
    document = with_entry(parts, "building", key, typed)
    assert not reported(**parts)["whole"]["open"]
    known = key == "glue" and typed is None  # it has a default
    assert reported(**document)["whole"]["open"] is not known
    typed_whole = {**document, "model": {**document["model"], "airframe": "58 g"}}
    assert not reported(**typed_whole)["whole"]["open"]


LOG = [{**CHARGED, "put_back": "8 mAh"}, {**CHARGED, "put_back": "8.2 mAh", "out": True, "remarks": "cold"}, 5, {}]
HUNGRY = {"kind": "receiver", "name": "hungry", "mass": "1.2 g", "draw": "60 mA", "min_volts": "3.1 V"}


def run_min(document: dict[str, Any]) -> float:
    return float(reported(**document)["power"]["run_low_min"])


def test_a_part_from_the_box_never_runs_by_the_log_of_the_part_before() -> None:
    """The log tells of a small draw: with a hungry receiver it would promise three times the run there is."""
    document = {**full(), "charges": LOG[:2]}
    changed = taken(document, HUNGRY, "gear.0", "metric")
    assert [(row["out"], row["remarks"]) for row in changed["charges"]] == [(True, WITH_OTHER_GEAR), (True, "cold")]
    without = {key: item for key, item in changed.items() if key != "charges"}
    assert run_min(changed) == run_min(without)
    kept = {**changed, "charges": LOG[:2]}
    assert run_min(kept) > 2.0 * run_min(without)


def test_a_log_that_tells_of_more_draw_than_was_planned_stays() -> None:
    """Struck out it would make the run longer than anybody has seen."""
    thirsty = [{**CHARGED, "put_back": "38 mAh", "flights": 5}]
    document = {**full(), "charges": thirsty}
    like = {**full()["gear"][0], "name": "another"}
    assert taken(document, like, "gear.0", "metric")["charges"] == thirsty


def test_a_log_stays_where_nothing_is_drawn_otherwise_and_whatever_it_is() -> None:
    document = {**full(), "charges": LOG[:1]}
    assert taken(document, {"kind": "linkage", "mass": "1 g"}, "gear.2", "metric")["charges"] == LOG[:1]
    assert taken({**document, "charges": "none"}, HUNGRY, "gear.0", "metric")["charges"] == "none"
    struck = taken({**document, "charges": LOG}, HUNGRY, "gear.0", "metric")["charges"]
    assert struck[2:] == [5, {}]
    cell = {"kind": "cell", "mass": "1 g", "capacity": "30 mAh"}
    assert taken(document, cell, "cell", "metric")["charges"][0]["out"]


BOX = json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("log", "code"),
    [
        ([{"put_back": "25 mAh", "flights": 2, "on_time": "6 min"}], "cell_log_worse"),
        ([{"put_back": "6 mAh", "flights": 3, "on_time": "6 min", "rest": "3.7 V"}], "cell_log_worse"),
        ([{"put_back": "8 mAh", "flights": 8, "on_time": "6 min"}], "cell_log"),
        ([{"put_back": "8 mAh", "flights": 8, "on_time": "6 min", "out": True}], ""),
        ([], ""),
    ],
)
def test_the_finder_leaves_the_cell_log_aside_and_says_so(log: list[dict[str, Any]], code: str) -> None:
    """Its sets are of other gear: each runs as in a budget without the log, and is taken with the log struck out."""
    document = {**demo_documents()["sedge-wren.json"], "charges": log}
    box = read_box(BOX)
    found = finder.answer(document, box)
    assert found.task.not_counted == ((code,) if code else ())
    plain = finder.answer({**document, "charges": []}, box)
    assert [each.time_s for each in found.sets] == [each.time_s for each in plain.sets]
    assert all(row["out"] for each in found.sets for row in each.document["charges"])
    said = " ".join(finder_words.plain_text(found, found.system).split())
    assert ("shorter, too" in said) is (code == "cell_log_worse")


@pytest.mark.parametrize("log", [5, [5], [{"put_back": "§"}], {"0": {}}])
def test_the_finder_waits_for_a_cell_log_that_cannot_be_read(log: object) -> None:
    found = finder.answer({**demo_documents()["sedge-wren.json"], "charges": log}, read_box(BOX))
    assert [path.partition(".")[0] for path in found.task.waits] == ["charges"]
    assert "Charge" in finder_words.plain_text(found, found.system)
