"""The finder on whole budgets: its sets are those of the budget page, to the figure."""

import json
from typing import Any

import pytest

from calc.__main__ import main
from calc.document.box import read_box
from calc.document.budget import read
from calc.search import data as finder_data
from calc.search import finder
from calc.search import words as finder_words
from calc.subjects.limits.allowance import governing
from calc.unit_system import UnitSystem
from tests.calc.document.test_box import STARTER
from tests.support import SITE_SRC, demo_documents

DEMOS = demo_documents()
WREN = DEMOS["sedge-wren.json"]


def searched(document: dict[str, Any], parts: list[Any] | None = None, charges: int = 1) -> finder.Answer:
    """Return the finder's answer for a budget, from the starter box or from parts."""
    return finder.answer(document, read_box(STARTER if parts is None else {"parts": parts}), charges)


@pytest.mark.parametrize("name", sorted(DEMOS))
@pytest.mark.parametrize("charges", [1, 3])
def test_each_set_is_as_heavy_and_runs_as_long_as_the_budget_page_says(name: str, charges: int) -> None:
    document = DEMOS[name]
    found = searched(document, charges=charges)
    assert found.task.waits == ()
    session = document["session"]
    for each in found.sets:
        assert read(each.document).problems == ()
        power = each.assessment.power
        assert power is not None
        assert each.assessment.gear.expected_kg == pytest.approx(each.mass_kg, abs=1e-12)
        assert power.worst.time_s == pytest.approx(each.time_s, rel=1e-8)
        assert power.flights is not None
        assert power.flights * charges >= int(session["flights"])
    masses = [each.mass_kg for each in found.sets]
    assert masses == sorted(set(masses))
    times = [each.time_s for each in found.sets]
    assert times == sorted(set(times))


def test_a_coil_at_the_hinge_needs_no_linkage() -> None:
    coils = [each for each in searched(WREN, charges=2).sets if any("coil" in name for _, name in each.parts)]
    assert coils
    for each in coils:
        assert not any("rod" in name or "lines" in name for _, name in each.parts)
        off = [row for row in each.document["gear"] if row["kind"] == "linkage"]
        assert all(row["off"] for row in off)
    servos = [each for each in searched(WREN, charges=2).sets if any("servo" in name for _, name in each.parts)]
    assert all(any("lines" in name for _, name in each.parts) for each in servos)


def test_too_weak_an_actuator_is_no_part_of_a_set() -> None:
    """The starter box's two light coils are too weak for the fin of the first example, and counted so."""
    found = searched(WREN, charges=2)
    assert found.counts.reasons["weak"] == 5 * 2 * 7  # receivers × light coils × cells
    assert found.task.strength_asked
    assert "Strength" not in finder_words.need_sentence(found.task)
    without = searched({**WREN, "surface": None}, charges=2)
    assert not without.task.strength_asked
    assert "Strength is not looked at" in finder_words.need_sentence(without.task)


def test_an_actuator_whose_strength_is_not_told_is_no_part_of_a_set() -> None:
    """It cannot be compared with what the surface asks; where nothing is asked, it may stand in a set."""
    servo = {"kind": "servo", "name": "unrated", "mass": "0.9 g", "draw": "5 mA"}
    coil = {"kind": "coil actuator", "name": "unrated coil", "mass": "0.3 g", "draw": "5 mA"}
    found = searched(WREN, [servo, coil, *STARTER["parts"]], charges=2)
    assert [item for item in found.task.left_out if item[1] == "no_strength"] == [
        ("unrated", "no_strength"), ("unrated coil", "no_strength")
    ]  # fmt: skip
    assert not any("unrated" in name for each in found.sets for _, name in each.parts)
    assert "unrated: its strength is not given" in " ".join(finder_words.left_out(found.task))
    free = searched({**WREN, "surface": None}, [servo, coil, *STARTER["parts"]], charges=2)
    assert any("unrated" in name for each in free.sets for _, name in each.parts)


def test_a_servo_whose_need_is_not_known_is_left_out_and_told() -> None:
    """The first example gives a horn and no servo arm: rotary servos cannot be compared, linear ones can."""
    found = searched(WREN, charges=2)
    assert {name for name, code in found.task.left_out if code == "no_need"} == {
        "rotary servo, 2.4 g", "rotary servo, 3.7 g", "rotary servo, 5.5 g"
    }  # fmt: skip
    assert finder_words.left_out(found.task)[0].endswith("is not known, for want of: surface, servo arm")
    armed = searched({**WREN, "surface": {**WREN["surface"], "arm": "6 mm"}}, charges=2)
    assert not any(code == "no_need" for _, code in armed.task.left_out)


def test_from_a_model_and_a_box_alone() -> None:
    """A budget without gear is asked for a receiver and an actuator; a timer stands in for the latter."""
    bare = {"model": {"airframe": "30 g"}, "session": {"on_time": "5 min"}}
    found = searched(bare)
    assert [[slot.kind for slot in family] for family in found.task.families] == [
        ["receiver", "servo", "linkage"], ["receiver", "servo"]
    ]  # fmt: skip
    assert [slot.path for slot in found.task.families[0]] == ["gear.0", "gear.1", "gear.2"]
    timed = {
        **bare,
        "model": {"airframe": "30 g", "radio": "dethermaliser"},
        "gear": [{"kind": "timer", "mass": "1 g"}],
    }
    assert all({path for path, _ in s.parts} == {"gear.0", "gear.1", "cell"} for s in searched(timed).sets)
    assert searched({**bare, "session": {}}).task.need.flights == 0
    assert searched({**bare, "gear": [{"kind": "mount", "mass": "1 g", "off": True}]}).counts.total > 0


def test_two_servos_are_two_slots() -> None:
    rows = [{"kind": "servo", "mass": "2 g"}, {"kind": "servo", "mass": "2 g"}, {"kind": "linkage", "mass": "1 g"}]
    found = searched({"gear": rows})
    families = [[slot.kind for slot in family] for family in found.task.families]
    assert families == [*[["servo", "servo", "linkage", "receiver"]] * 3, ["servo", "servo", "receiver"]]
    many = searched({"gear": rows[:1] * 4}, [part for part in STARTER["parts"] if part["kind"] != "tracker"])
    assert [[slot.kind for slot in family] for family in many.task.families] == [
        ["servo"] * 4 + ["receiver", "linkage"]
    ]  # fmt: skip
    assert "4 × " in many.sets[0].parts[5][1]


def test_an_empty_box_leaves_the_budget_as_it_is() -> None:
    found = searched(WREN, [], charges=1)
    assert found.task.waits == ()
    assert found.counts.total == 1
    assert found.present is not None
    (only,) = found.sets
    assert only.mass_kg == pytest.approx(found.present[0])
    assert only.time_s == pytest.approx(found.present[1])
    assert finder_words.headline(found, UnitSystem.METRIC).endswith("no other is lighter or runs longer.")


@pytest.mark.parametrize(
    ("document", "parts", "waits"),
    [
        ({}, [], ("no_parts", "no_cell")),
        ({"gear": [{"kind": "receiver"}]}, [], ("no_cell", "gear.0.mass")),
        ({**WREN, "session": {"temperature": "hot"}}, None, ("session.temperature",)),
    ],
)
def test_what_must_be_there_first(document: dict[str, Any], parts: list[Any] | None, waits: tuple[str, ...]) -> None:
    found = searched(document, parts)
    assert found.task.waits == waits
    assert finder_words.headline(found, UnitSystem.METRIC).startswith("Nothing can be searched yet: ")
    assert finder_words.plain_text(found, UnitSystem.METRIC)
    assert finder_data.as_json(found)["waits"] == list(waits)


def test_parts_that_cannot_be_used_are_named_with_the_reason() -> None:
    parts = [
        {"kind": "servo", "name": "a"}, {"kind": "cell", "mass": "1 g", "name": "b"}, {"kind": "anvil", "name": "c"},
        {"kind": "servo", "name": "d", "mass": "1 g", "busy_draw": "1 mA"},
    ]  # fmt: skip
    found = searched(WREN, [*parts, *STARTER["parts"]])
    assert [code for _, code in found.task.left_out[:4]] == ["no_mass", "no_capacity", "unreadable", "no_busy"]
    assert finder_words.left_out(found.task)[0] == "a: it has no mass"


def test_nothing_works_and_why() -> None:
    hungry = {"kind": "receiver", "mass": "1 g", "draw": "2 A", "min_volts": "4.1 V"}
    found = searched(
        {"gear": [{"kind": "receiver", "mass": "1 g"}]}, [hungry, {"kind": "cell", "mass": "1 g", "capacity": "10 mAh"}]
    )
    assert found.sets == ()
    assert finder_words.headline(found, UnitSystem.METRIC) == "The only set does not work."
    assert finder_words.reasons(found) == (("1 set", "the full cell browns out or is below its cut-off"),)


def test_a_converter_of_the_budget_stays() -> None:
    document = {
        **WREN, "supply": {"volts": "5 V", "efficiency": "85 %"}, "session": {**WREN["session"], "flights": 1},
    }  # fmt: skip
    found = searched(document)
    assert found.sets
    for each in found.sets:
        power = each.assessment.power
        assert power is not None
        assert power.worst.time_s == pytest.approx(each.time_s, rel=1e-8)


def test_a_long_front_is_shown_in_part() -> None:
    cells = [
        {"kind": "cell", "mass": f"{n} g", "capacity": f"{20 * n} mAh", "resistance": "0.1 Ω"} for n in range(1, 81)
    ]
    found = searched({"gear": [{"kind": "receiver", "mass": "1 g", "draw": "20 mA"}]}, cells)
    assert len(found.sets) == finder.MOST_SHOWN
    assert found.more == 80 - finder.MOST_SHOWN
    assert "the last shown weighs" in finder_words.headline(found, UnitSystem.METRIC)
    assert "and 20 more, heavier and longer-running" in finder_words.plain_text(found, UnitSystem.METRIC)


def test_estimates_are_told_as_estimates() -> None:
    rows = [{"kind": kind, "mass": "1 g"} for kind in ("receiver", "servo", "altimeter", "tracker")]
    parts = [
        {
            "kind": kind,
            "mass": f"{1 + n / 97} g",
            "draw": f"{1 + 0.01 * n * p**2 + 0.00013 * n**3:.6f} mA",
            "min_volts": "3.0 V",
        }
        for p, kind in ((2, "receiver"), (3, "servo"), (5, "altimeter"), (7, "tracker"))
        for n in range(40)
    ]
    parts += [{"kind": "cell", "mass": "2 g", "capacity": "50 mAh", "resistance": "9 Ω"}]
    found = searched({"gear": rows, "session": {"on_time": "30 min"}}, parts)
    assert found.counts.drawn > 0
    assert finder_words.works(found).startswith("about ")
    assert "estimated from" in finder_words.plain_text(found, UnitSystem.METRIC)
    assert finder_data.as_json(found)["sets"]["estimated_from"] == found.counts.drawn


def test_the_reasons_of_a_set_in_words() -> None:
    first = searched(WREN, charges=2).sets[0]
    said = finder_words.why(first, UnitSystem.METRIC)
    assert said.startswith("Actuator 7.1 times as strong as needed; lowest voltage ")
    governs = governing(first.assessment.limits_with_lead)
    assert governs is not None
    assert "in hand, share rule" in said
    assert "of lead counted" in said
    twins = [part for part in STARTER["parts"] if part["kind"] == "cell"] * 3
    alike = searched({"gear": [{"kind": "receiver", "mass": "1 g", "draw": "20 mA"}]}, twins).sets[0]
    assert "2 other sets are as light and run as long" in finder_words.why(alike, UnitSystem.METRIC)
    pair = searched({"gear": [{"kind": "receiver", "mass": "1 g", "draw": "20 mA"}]}, twins[:1] * 2).sets[0]
    assert "1 other set is as light" in finder_words.why(pair, UnitSystem.METRIC)
    one = searched({"gear": [{"kind": "receiver", "mass": "1 g", "draw": "20 mA"}], "session": {"on_time": "18 min"}},
                   [{"kind": "cell", "mass": "1 g", "capacity": "10 mAh"}]).sets[0]  # fmt: skip
    assert "one flight of 18 min" in finder_words.why(one, UnitSystem.METRIC)
    assert finder_words.need_sentence(searched({"gear": []}).task).startswith("Any run counts")


def test_the_command(tmp_path: Any, capsys: pytest.CaptureFixture[str]) -> None:
    box, budget = SITE_SRC / "demo" / "box.json", SITE_SRC / "demo" / "sedge-wren.json"
    assert main(["finder", str(box), str(budget), "--charges", "2"]) == 0
    printed = capsys.readouterr().out
    assert "118 of 315 sets work." in printed
    assert max(len(line) for line in printed.splitlines()) <= 78
    assert main(["finder", str(box), str(budget), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert {"sets", "best", "left_out", "present", "waits", "more"} < set(found)
    assert found["fits"] == sum(each["verdict"] == "fits" for each in found["best"])
    broken = tmp_path / "broken.csv"
    broken.write_text("colour\nred\n", encoding="utf-8")
    assert main(["finder", str(broken), str(budget)]) == 2
    assert "names no column of a box" in capsys.readouterr().err
    assert main(["finder", str(tmp_path / "none"), str(budget)]) == 2
    odd = tmp_path / "odd.csv"
    odd.write_text("kind,mass\nservo,x\n", encoding="utf-8")
    assert main(["finder", str(odd), str(budget)]) == 0
    assert "Part 1, mass: “x” cannot be read" in capsys.readouterr().err
    bad = tmp_path / "bad.json"
    for text in ("[1]", '{"cell": {"mass": "x"}}'):
        bad.write_text(text, encoding="utf-8")
        assert main(["finder", str(box), str(bad)]) == 2
        assert capsys.readouterr().err
