"""Two budgets side by side: figures, swaps each alone, differences; the command that prints them."""

import json
from pathlib import Path
from typing import Any

import pytest

from calc.__main__ import main
from calc.assess import assess
from calc.compare import data as compare_data
from calc.compare import words as compare_words
from calc.compare.changes import Swap
from calc.compare.sides import Comparison, Row, compare
from calc.document.budget import read
from calc.unit_system import UnitSystem
from tests.support import SITE_SRC, demo_documents

approx: Any = pytest.approx  # equal to a number within rounding, and may stand in a tuple
RECEIVER = {"kind": "receiver", "name": "receiver", "mass": "1 g", "draw": "60 mA"}
ROD = {"kind": "linkage", "name": "push rod", "mass": "1.2 g"}
LINES = {"kind": "linkage", "name": "thread lines", "mass": "0.5 g"}
ALTIMETER = {"kind": "altimeter", "name": "altimeter", "mass": "0.9 g", "draw": "20 mA"}
BEFORE: dict[str, Any] = {
    "name": "Before",
    "model": {"airframe": "40 g", "wing_area": "9 dm²"},
    "gear": [RECEIVER, ROD],
    "cell": {"mass": "2 g", "capacity": "800 mAh", "resistance": "0.5 ohm"},
    "session": {"on_time": "120 min"},
    "air": {"launch": "towline", "height": "40 m", "glide_factor": "8"},
}


def compared(after: dict[str, Any] | None = None, before: dict[str, Any] | None = None, **changes: Any) -> Comparison:
    """Return the comparison of the budget before with another one, or with itself and some blocks changed."""
    was = BEFORE if before is None else before
    return compare(read(was).budget, read({**was, **changes} if after is None else after).budget)


def row_of(found: Comparison, name: str) -> Row:
    return next(row for row in found.rows if row.id == name)


def said(found: Comparison) -> list[str]:
    return [compare_words.swap_sentence(swap, UnitSystem.METRIC) for swap in found.swaps]


def test_figures_side_by_side_worked_by_hand() -> None:
    """Share rule: 20 % of 40 g airframe allows 10 g. Gear 4.2 → 3.5 g; 60 mA from 80 % of 800 mAh runs 640 min.

    So slow a draw leaves no range. With 20 mA more: 480 min; of 120 min each that is 5 and 4 flights.
    """
    found = compared(gear=[RECEIVER, LINES])
    assert (row_of(found, "in_hand").before, row_of(found, "in_hand").after) == approx((5.8e-3, 6.5e-3))
    gear = row_of(found, "gear")
    assert (gear.before, gear.after, gear.change) == approx((4.2e-3, 3.5e-3, -0.7e-3))
    assert gear.judged == "better"
    assert row_of(found, "verdict").judged == "same"
    assert row_of(found, "run").judged == "same"
    with_altimeter = compared(gear=[RECEIVER, ROD, ALTIMETER])
    run = row_of(with_altimeter, "run")
    assert (run.before, run.after) == approx((640 * 60.0, 480 * 60.0))
    assert run.judged == "worse"
    assert (row_of(with_altimeter, "flights").before, row_of(with_altimeter, "flights").after) == (5, 4)
    assert row_of(with_altimeter, "mean").change == approx(0.020)
    assert row_of(with_altimeter, "flying").judged == ""  # neither way is better


def test_a_verdict_is_better_or_worse() -> None:
    light, heavy = {**BEFORE, "gear": [RECEIVER]}, {**BEFORE, "gear": [{**RECEIVER, "mass": "20 g"}]}
    assert row_of(compared(heavy, light), "verdict").judged == "worse"
    assert row_of(compared(light, heavy), "verdict").judged == "better"
    assert (
        compare_words.headline(compared(light, heavy), UnitSystem.METRIC)
        == "Fits, 7.00 g in hand; before: over by 12.0 g."
    )


def test_only_what_both_answers_have_is_a_row() -> None:
    found = compared({"gear": [RECEIVER]})
    assert [row.id for row in found.rows] == ["gear", "spread"]


def test_a_swap_is_worth_what_it_alone_changes() -> None:
    """Thread lines 0.7 g lighter: still air from 40 m goes with 1/√mass of 44.2 and 43.5 g, so 0.8 % longer.

    The cell alone: half the charge, 320 min less; and 0.5 g lighter.
    """
    cell = {"mass": "1.5 g", "capacity": "400 mAh", "resistance": "0.5 ohm"}
    found = compared(gear=[RECEIVER, LINES], cell=cell)
    before = row_of(found, "still_air").before
    lines, half = found.swaps
    assert (lines.path, lines.act, lines.mass_kg) == ("gear.1", "swap", approx(-0.7e-3))
    assert lines.still_air_s == approx(float(before) * ((44.2 / 43.5) ** 0.5 - 1.0))
    assert lines.run_s == 0.0
    assert (half.path, half.act, half.run_s) == ("cell", "change", approx(-320 * 60.0))
    assert half.mass_kg == approx(-0.5e-3)
    assert said(found)[0].startswith("Thread lines instead of the push rod: 0.70 g lighter, 0.")
    assert said(found)[1].startswith("Cell (mass, capacity): 0.50 g lighter, 0.")
    assert said(found)[1].endswith(" s more still air, 5 h 20 min shorter run.")


def test_parts_added_and_left_out() -> None:
    """The altimeter: 0.9 g, and 480 instead of 640 min."""
    more = {**BEFORE, "gear": [RECEIVER, ROD, ALTIMETER]}
    (added,) = compared(more).swaps
    assert (added.path, added.act, added.before, added.after) == ("gear.2", "add", "", "altimeter")
    assert (added.mass_kg, added.run_s) == (approx(0.9e-3), approx(-160 * 60.0))
    assert said(compared(more))[0].startswith("With the altimeter: 0.90 g heavier, ")
    for less in (BEFORE, {**BEFORE, "gear": [RECEIVER, ROD, {**ALTIMETER, "off": True}]}):
        (gone,) = compared(less, more).swaps
        assert (gone.path, gone.act, gone.mass_kg) == ("gear.2", "leave out", approx(-0.9e-3))
        assert gone.run_s == approx(160 * 60.0)
    assert said(compared(BEFORE, more))[0].startswith("Without the altimeter: 0.90 g lighter, ")
    switched_on = compared(more, less)
    assert (switched_on.swaps[0].act, switched_on.swaps[0].path) == ("add", "gear.2")


def test_the_cell_comes_and_goes() -> None:
    bare = {key: block for key, block in BEFORE.items() if key != "cell"}
    (gone,) = compared(bare).swaps
    assert (gone.act, gone.before, gone.mass_kg, gone.run_s) == ("leave out", "cell", approx(-2e-3), None)
    (back,) = compared(BEFORE, bare).swaps
    assert (back.act, back.after, back.mass_kg) == ("add", "cell", approx(2e-3))


@pytest.mark.parametrize(
    ("before", "after", "acts"),
    [
        ([RECEIVER, ROD], [ROD, RECEIVER], []),  # the order alone is no difference
        ([RECEIVER, ROD], [{**ROD, "mass": 1.2}, {**RECEIVER, "mass": "1000 mg"}], []),  # nor how it is typed
        ([RECEIVER, ROD], [ROD], [("leave out", "receiver", "")]),
        ([ROD], [ALTIMETER], [("swap", "push rod", "altimeter")]),  # as many rows: in turn
        ([ROD, RECEIVER], [ALTIMETER], [("leave out", "push rod", ""), ("leave out", "receiver", ""),
                                        ("add", "", "altimeter")]),
        ([RECEIVER, ROD], [LINES], [("leave out", "receiver", ""), ("swap", "push rod", "thread lines")]),
        ([RECEIVER], [{**RECEIVER, "off": True}], [("leave out", "receiver", "")]),
        ([{**ROD, "off": True}], [{**LINES, "off": True}], []),
        ([{"kind": "servo", "mass": "1 g"}], [{"kind": "servo", "mass": "1 g", "count": 2}],
         [("change", "servo", "servo")]),
    ],
)  # fmt: skip
def test_which_row_became_which(before: list[Any], after: list[Any], acts: list[tuple[str, str, str]]) -> None:
    found = compared({**BEFORE, "gear": after}, {**BEFORE, "gear": before})
    assert [(swap.act, swap.before, swap.after) for swap in found.swaps] == acts


def test_rows_that_cannot_be_read_are_told_and_not_weighed() -> None:
    """Here the old row waits for a mass, there the new one; what is known of the rest is still worked out."""
    found = compared(gear=[RECEIVER, {**ROD, "mass": "x"}])
    (swap,) = found.swaps
    assert (swap.act, swap.fields, swap.mass_kg) == ("change", ("gear.mass",), None)
    back = compared(BEFORE, {**BEFORE, "gear": [RECEIVER, {**ROD, "mass": "x"}]})
    assert back.swaps[0].mass_kg is None
    gone = compared({**BEFORE, "gear": [RECEIVER, {**ROD, "count": "x"}]})
    assert gone.swaps[0].fields == ()  # what it was is not known
    assert compare_words.swap_sentence(gone.swaps[0], UnitSystem.METRIC).startswith("Push rod: ")
    broken = compared(gear=[RECEIVER, "no row"])
    assert broken.swaps[0].act == "swap"
    unread_cell = compared(cell={**BEFORE["cell"], "capacity": "x"})
    assert unread_cell.swaps[0].run_s is None


def test_differences_outside_the_gear_by_what_they_mean() -> None:
    found = compared(
        model={**BEFORE["model"], "airframe": "41 g", "wing_area": "0.09 m²"},
        session={"on_time": "120", "temperature": "5 °C"},
        air={**BEFORE["air"], "glide_factor": ""},
        scale_division="0.01 g", name="Now", format=1,
    )  # fmt: skip
    assert [(each.path, each.before, each.after) for each in found.differences] == [
        ("scale_division", "", "0.01 g"), ("model.airframe", "40 g", "41 g"), ("session.temperature", "", "5 °C"),
        ("air.glide_factor", "8", ""),
    ]  # fmt: skip
    assert compare_words.difference_sentence(found.differences[2]) == "Session, temperature: 5 °C, before not given"
    assert compare_words.difference_sentence(found.differences[3]).endswith(": not given, before 8")
    classes = compared(model={**BEFORE["model"], "class": "p30"})
    assert classes.differences[0].path == "model.class"
    (share,) = compared(rule={"share": "25 %"}).differences
    assert compare_words.difference_sentence(share) == "Share rule: 25 %, before not given"


def test_nothing_changed() -> None:
    found = compared(BEFORE)
    assert {row.judged for row in found.rows} == {"same"}
    assert (found.swaps, found.differences) == ((), ())
    assert compare_words.unchanged(found).startswith("No change: verdict, least in hand, in hand, share rule")
    assert compare_words.unchanged(compared({})) == ""
    assert all(row.told == "" for row in found.rows)


def test_lead_counts_where_it_is_known() -> None:
    """Gear at 0 mm, airframe at 100 mm; balanced where both meet, tail-heavy by the whole lever when moved."""
    stations = {"airframe_at": "100 mm", "target": "100 mm", "nose_at": "10 mm", "tail_at": "500 mm"}
    at = {"model": {"airframe": "40 g"}, "gear": [{"mass": "2 g", "station": "100 mm"}], "balance": stations}
    moved = {**at, "gear": [{"mass": "2 g", "station": "300 mm"}]}
    found = compared(moved, at)
    # By hand: 2 g × 200 mm ÷ 90 mm of lead at the nose = 4.444 g
    lead = row_of(found, "lead")
    assert (lead.before, lead.after) == (0.0, approx(400 / 90 * 1e-3))
    assert row_of(found, "in_hand").change == approx(-400 / 90 * 1e-3)
    assert row_of(found, "cg").judged == ""
    aimless = {**at, "balance": {"airframe_at": "100 mm"}}
    assert "lead" not in [row.id for row in compared(aimless, at).rows]


@pytest.mark.parametrize("name", demo_documents())
def test_linkage_surface_and_air_are_rows_where_both_have_them(name: str) -> None:
    document = demo_documents()[name]
    budget = read(document).budget
    found = compare(budget, budget)
    answer = assess(budget)
    ids = {row.id for row in found.rows}
    assert ("linkage_mass" in ids) == (answer.linkage is not None and answer.linkage.strength is not None)
    assert ("servo_factor" in ids) == (answer.surface is not None and answer.surface.factor is not None)
    assert {"loading", "sink"} <= ids


@pytest.mark.parametrize(
    ("swap", "words"),
    [
        (
            {"mass_kg": 0.7e-3, "still_air_s": -12.4, "run_s": 42.0},
            "0.70 g heavier, 12 s less still air, 42 s longer run",
        ),
        ({"mass_kg": None, "still_air_s": None, "run_s": -0.2}, "no change that can be seen"),
    ],
)  # fmt: skip
def test_what_a_swap_buys_in_words(swap: dict[str, Any], words: str) -> None:
    one = Swap(path="gear.0", act="change", before="timer", after="timer", fields=("gear.mass",), **swap)
    assert compare_words.swap_sentence(one, UnitSystem.METRIC) == f"Timer (mass of one): {words}."


def test_changes_have_a_sign_and_a_unit() -> None:
    found = compared(gear=[RECEIVER, LINES], cell={"mass": "2 g", "capacity": "400 mAh", "resistance": "0.5 ohm"})
    shown = {row.id: row.told for row in found.rows}
    assert (shown["gear"], shown["run"], shown["flights"]) == ("−0.70 g", "−5 h 20 min", "−3")
    inches = compared({**BEFORE, "units": "imperial", "gear": [RECEIVER, LINES]})
    assert row_of(inches, "gear").told == "−0.025 oz"


def test_the_keys_other_programs_rely_on() -> None:
    answer = compare_data.compared_json(compared(gear=[RECEIVER, ROD, ALTIMETER], session={"on_time": "5 min"}))
    rows = {row["id"]: row for row in answer["rows"]}
    assert rows["verdict"] == {
        "id": "verdict", "label": "Verdict", "before": "fits", "after": "fits", "judged": "same"
    }  # fmt: skip
    assert (rows["gear"]["before_g"], rows["gear"]["after_g"], rows["gear"]["change_g"]) == (4.2, 5.1, 0.9)
    assert (rows["run"]["change_min"], rows["mean"]["after_mA"], rows["gear"]["judged"]) == (-160.0, 80.0, "worse")
    assert {"before_V", "after_V", "change_V"} <= set(rows["lowest"])
    assert {"before_s", "after_s"} <= set(rows["still_air"])
    assert {"before_g_dm2", "after_g_dm2"} <= set(rows["loading"])
    (swap,) = answer["swaps"]
    assert (swap["row"], swap["act"], swap["mass_g"], swap["run_min"]) == ("gear.2", "add", 0.9, -160.0)
    assert answer["differences"] == [{"field": "session.on_time", "before": "120 min", "after": "5 min"}]
    assert answer["before"] == {"name": "Before", "verdict": "fits"}


def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    files = [str(tmp_path / name) for name in ("a.json", "b.json", "bad.json")]
    after = {**BEFORE, "name": "", "gear": [RECEIVER, LINES], "session": {"on_time": "5 min"}}
    for file, document in zip(files, (BEFORE, after, {"gear": [{"mass": "x"}]}), strict=True):
        Path(file).write_text(json.dumps(document), encoding="utf-8")
    assert main(["compare", files[0], files[1]]) == 0
    out = capsys.readouterr().out
    assert out.startswith("Before: Before\nNow: Budget without a name\n\nFits, 6.50 g in hand; before: fits, 5.80 g")
    assert f"{'All the gear':27}{'4.20 g':>14} {'3.50 g':>14} {'−0.70 g':>13}  better\n" in out
    assert "* Thread lines instead of the push rod: 0.70 g lighter" in out
    assert "- Session, radio on, each flight: 5 min, before 120 min" in out
    assert main(["compare", files[0], files[1], "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["swaps"][0]["after"] == "thread lines"
    assert main(["compare", files[2], str(tmp_path / "absent")]) == 2
    told = capsys.readouterr().err.splitlines()
    assert told[0].startswith(f"{files[2]}: Gear row 1, mass of one: ")
    assert told[1].startswith(f"{tmp_path / 'absent'} cannot be read")


@pytest.mark.parametrize("name", demo_documents())
def test_a_sheet_is_at_most_78_wide(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    folder = SITE_SRC / "demo"
    assert main(["compare", str(folder / "sedge-wren.json"), str(folder / name)]) == 0
    assert max(len(line) for line in capsys.readouterr().out.splitlines()) <= 78
