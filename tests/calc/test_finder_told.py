"""The finder: what is absent or unsure is told, and never makes a set better."""

import json
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.__main__ import main
from calc.assess import assess
from calc.document.box import read_box
from calc.document.budget import read
from calc.document.fields import Entry
from calc.errors import OutOfRangeError
from calc.search import finder
from calc.search import words as finder_words
from calc.search.exact import exact_mass
from calc.search.wishes import Wishes
from calc.subjects.limits import allowance
from calc.unit_system import UnitSystem
from tests.support import SITE_SRC, demo_documents

WREN = demo_documents()["sedge-wren.json"]
RECEIVER = {"kind": "receiver", "name": "rx", "mass": "1 g", "draw": "20 mA"}
SERVO = {"kind": "servo", "name": "servo", "mass": "2 g", "draw": "5 mA", "thrust": "40 gf"}
COIL = {"kind": "coil actuator", "name": "coil", "mass": "1 g", "draw": "5 mA", "torque": "5 mN m"}
ROD = {"kind": "linkage", "name": "rod", "mass": "0.5 g"}
CELL = {"kind": "cell", "name": "cell", "mass": "1 g", "capacity": "30 mAh", "resistance": "0.5 ohm"}
BOX = [RECEIVER, SERVO, COIL, ROD, CELL]
MODEL = {"airframe": "40 g"}


def searched(document: dict[str, Any], parts: list[Any], charges: int = 1, **wishes: Any) -> finder.Answer:
    """Return the finder's answer."""
    return finder.answer(document, read_box({"parts": parts}), charges, Wishes(**wishes))


def names(found: finder.WorkingSet) -> list[str]:
    return [name for _, name in found.parts]


@pytest.mark.parametrize("kind", ["receiver", "servo", "coil actuator", "altimeter", "tracker"])
def test_a_part_that_does_not_say_what_it_draws_is_left_out_by_name(kind: str) -> None:
    silent = {"kind": kind, "name": " ", "mass": "0.1 g", "torque": "5 mN m"}
    found = searched({"model": MODEL}, [silent, *BOX])
    assert found.task.left_out == ((kind, "no_draw_given"),)
    assert finder_words.left_out(found.task) == (f"{kind}: it does not say what it draws",)
    assert found.sets


@pytest.mark.parametrize(
    ("row", "waits"),
    [
        ({"kind": "altimeter", "mass": "1 g"}, "gear.0.draw"),
        ({"kind": "altimeter", "mass": "1 g", "draw": "x"}, "gear.0.draw"),
        ({"kind": "altimeter", "mass": "1 g", "draw": "1 mA", "busy_draw": "9 mA"}, "gear.0.busy"),
        ({"kind": "altimeter", "mass": "1 g", "draw": "1 mA", "busy_draw": "9 mA", "busy": "x"}, "gear.0.busy"),
        ({"kind": "altimeter", "mass": "1 g", "draw": "1 mA", "min_volts": "x"}, "gear.0.min_volts"),
        ({"kind": "mount", "mass": "1 g", "known_by": "x"}, "gear.0.known_by"),
        ({"kind": "mount", "mass": "1 g", "count": "x"}, "gear.0.count"),
        ({"kind": "servo", "mass": "1 g", "off": "x"}, "gear.0.off"),
        ({"kind": "anvil", "mass": "1 g", "draw": "1 mA"}, "gear.0.kind"),
        ({"kind": "mount", "mass": "1 g", "weighed": "x"}, "gear.0.mass"),
    ],
)
def test_a_row_that_stays_must_say_all_that_the_run_time_rests_on(row: dict[str, Any], waits: str) -> None:
    assert waits in searched({"model": MODEL, "gear": [row]}, BOX).task.waits


def test_a_row_that_is_replaced_need_not_say_what_it_draws() -> None:
    assert searched({"model": MODEL, "gear": [{"kind": "servo", "mass": "1 g", "draw": "x"}]}, BOX).task.waits == ()


@pytest.mark.parametrize(
    ("blocks", "waits"),
    [
        ({"gear": 5}, "gear"),
        ({"session": {"between": "on"}}, "session.pause"),
        ({"supply": {"min_input": "3 V"}}, "supply.volts"),
        ({"wiring": {"length": "1 m"}}, "wiring.gauge"),
    ],
)
def test_half_given_blocks_are_waited_for(blocks: dict[str, Any], waits: str) -> None:
    assert waits in searched({"model": MODEL, **blocks}, BOX).task.waits


def test_a_cell_of_the_budget_must_be_readable() -> None:
    cell = {"mass": "1 g", "capacity": "30 mAh", "capacity_left": "x"}
    assert searched({"model": MODEL, "cell": cell}, BOX[:-1]).task.waits == ("cell.capacity_left",)
    assert searched({"model": MODEL, "cell": cell}, BOX).task.waits == ()


def test_the_budget_s_own_actuator_is_held_against_the_surface() -> None:
    """25 gf rated are enough for the first example, 1 gf is not; without a rating it is told that nobody compared."""
    box = [RECEIVER, CELL]
    strong = searched(WREN, box, charges=8)
    assert strong.sets
    weak = searched({**WREN, "surface": {**WREN["surface"], "thrust": "1 gf"}}, box, charges=8)
    assert weak.sets == ()
    assert weak.counts.reasons["weak"] == weak.counts.total
    unrated = {key: item for key, item in WREN["surface"].items() if key != "thrust"}
    untold = searched({**WREN, "surface": unrated}, box, charges=8)
    assert untold.task.strength_untold == ("surface.thrust",)
    assert "surface, rated thrust is not known" in finder_words.need_sentence(untold.task)
    assert finder_words.as_json(untold)["strength_not_compared"] == ["surface.thrust"]
    turned = {**unrated, "actuator": "coil actuator", "torque": "1 mN m"}  # of a coil, but the row is a servo
    assert searched({**WREN, "surface": turned}, box, charges=8).task.strength_untold == ("surface.torque",)
    rotary = {**unrated, "actuator": "rotary servo", "torque": "5 mN m"}
    assert searched({**WREN, "surface": rotary}, box, charges=8).task.strength_untold == ("surface.horn",)


def test_a_coil_must_hold_the_hinge_moment() -> None:
    weak = {**COIL, "name": "weak coil", "mass": "0.2 g", "torque": "0.001 mN m"}
    found = searched(WREN, [*BOX, weak], charges=8)
    assert found.sets
    assert not any("weak coil" in names(each) for each in found.sets)
    assert found.counts.reasons["weak"] == 1


def test_a_surface_that_asks_nothing_yet_says_what_it_waits_for() -> None:
    found = searched({**WREN, "surface": {"span": "90 mm"}}, BOX, charges=8)
    assert not found.task.strength_asked
    assert "Missing: surface, whole chord; surface, deflection wanted" in finder_words.need_sentence(found.task)


def test_steering_needs_an_actuator_though_there_is_a_timer() -> None:
    timer = {"kind": "timer", "mass": "0.5 g"}
    steered = searched({"model": MODEL, "gear": [timer]}, BOX)
    assert all({"servo", "coil"} & set(names(each)) for each in steered.sets)
    tripped = searched({"model": {**MODEL, "radio": "dethermaliser"}, "gear": [timer]}, BOX)
    assert not any({"servo", "coil"} & set(names(each)) for each in tripped.sets)
    by_timer = searched({"model": {**MODEL, "radio": "dethermaliser"}}, [RECEIVER, CELL, {**timer, "name": "dt"}])
    assert names(by_timer.sets[0]) == ["rx", "dt", "cell"]
    nobody = searched({"model": MODEL}, [RECEIVER, CELL])
    assert nobody.task.not_counted == ("actuator",)
    assert "No servo, coil actuator or timer is counted" in finder_words.plain_text(nobody, UnitSystem.METRIC)
    left_out = searched({"model": MODEL}, [RECEIVER, CELL, {**SERVO, "draw": ""}])
    assert left_out.task.waits == ("all_left_out",)
    assert searched({"model": MODEL}, [SERVO, ROD, CELL]).task.not_counted == ("receiver",)


def test_a_servo_brings_its_linkage_though_the_budget_has_no_row_for_it() -> None:
    """By hand: 1 + 2 + 0.5 + 1 g with the servo and its rod, 1 + 1 + 1 g with the coil at the hinge."""
    box = [RECEIVER, SERVO, ROD, CELL]
    (only,) = searched({"model": MODEL}, box).sets
    assert names(only) == ["rx", "servo", "rod", "cell"]
    assert only.mass_kg == pytest.approx(0.0045)
    (coil,) = searched({"model": MODEL}, BOX).sets
    assert coil.mass_kg == pytest.approx(0.003)
    bare = searched({"model": MODEL}, [RECEIVER, SERVO, CELL])
    assert bare.task.not_counted == ("linkage",)
    assert "Servos are counted without a linkage" in finder_words.plain_text(bare, UnitSystem.METRIC)
    assert finder_words.as_json(bare)["not_counted"] == ["linkage"]
    twins = searched({"model": MODEL, "gear": [{"kind": "servo", "count": 2, "mass": "1 g"}]}, box).sets[0]
    assert names(twins) == ["2 × servo", "rx", "2 × rod", "cell"]
    assert twins.mass_kg == pytest.approx(0.001 + 2 * 0.0025 + 0.001)
    assert twins.document["gear"][2]["count"] == 2


def test_parts_are_kept_and_barred() -> None:
    box = [
        *BOX,
        {**RECEIVER, "name": "heavy rx", "mass": "3 g"},
        {"kind": "tracker", "name": "tag", "mass": "1 g", "draw": "9 mA"},
    ]
    kept = searched({"model": MODEL}, box, keep=("HEAVY rx ", "tag"))
    assert kept.sets
    assert all({"heavy rx", "tag"} <= set(names(each)) for each in kept.sets)
    assert not any("coil" in names(each) for each in searched({"model": MODEL}, box, bar=("coil",)).sets)
    assert ("coil", "barred") in searched({"model": MODEL}, box, bar=("coil",)).task.left_out
    own = {"model": MODEL, "gear": [{**RECEIVER, "name": "mine", "mass": "2 g"}], "cell": {**CELL, "name": "own cell"}}
    for each in searched(own, box, keep=("mine", "own cell")).sets:
        assert {"mine", "own cell"} <= set(names(each))
    small = {**CELL, "name": "small", "mass": "0.5 g", "capacity": "10 mAh"}
    assert all("cell" in names(each) for each in searched({"model": MODEL}, [*box, small], keep=("cell",)).sets)


@pytest.mark.parametrize(("word", "other"), [("servo", "coil"), ("coil", "servo")])
def test_servos_only_or_coils_only(word: str, other: str) -> None:
    found = searched({"model": MODEL}, BOX, actuator=word)
    assert all(word in names(each) and other not in names(each) for each in found.sets)
    own = {"model": MODEL, "gear": [{**(SERVO if other == "servo" else COIL), "name": "own"}]}
    nothing = searched(own, [RECEIVER, CELL, ROD], actuator=word)
    assert nothing.task.waits == ("nothing_left",)
    lacking = searched({"model": MODEL}, [part for part in BOX if part["name"] != word], actuator=word)
    assert lacking.task.waits == ("nothing_left",)


@pytest.mark.parametrize(
    ("wishes", "waits"),
    [
        ({"keep": ("anvil",)}, "no_such_part"),
        ({"bar": ("anvil",)}, "no_such_part"),
        ({"keep": ("coil",), "bar": ("coil",)}, "kept_left_out"),
        ({"keep": ("coil",), "actuator": "servo"}, "nothing_left"),
        ({"keep": ("cell", "small")}, "no_cell"),
        ({"keep": ("rx", "coil", "servo")}, "nothing_left"),  # two actuators for one place
    ],
)
def test_wishes_that_cannot_be_met_are_told(wishes: dict[str, Any], waits: str) -> None:
    small = {**CELL, "name": "small"}
    found = searched({"model": MODEL}, [*BOX, small], **wishes)
    assert found.task.waits == (waits,)
    assert "Nothing can be searched yet: " in finder_words.headline(found, UnitSystem.METRIC)


def test_a_barred_row_of_the_budget_does_not_stay() -> None:
    own = {"model": MODEL, "gear": [{"kind": "altimeter", "name": "logger", "mass": "1 g", "draw": "1 mA"}]}
    assert searched(own, BOX, bar=("logger",)).task.waits == ("nothing_left",)


@settings(max_examples=60, deadline=None)
@given(
    grams=st.lists(st.integers(1, 4), min_size=3, max_size=4), keep=st.integers(0, 2), second=st.integers(0, 2),
    draws=st.lists(st.integers(1, 3), min_size=4, max_size=4),
)  # fmt: skip
def test_kept_parts_leave_the_sets_of_the_plain_product(
    grams: list[int], keep: int, second: int, draws: list[int]
) -> None:  # fmt: skip
    """Two places for servos: all pairs that hold what is kept; the front of them by brute force."""
    servos = [{"kind": "servo", "name": f"s{n}", "mass": f"{g} g", "draw": f"{d} mA"}
              for n, (g, d) in enumerate(zip(grams, draws, strict=False))]  # fmt: skip
    rows = [{"kind": "servo", "mass": "1 g"}] * 2 + [{"kind": "linkage", "mass": "1 g"}]
    wanted = {f"s{keep}", f"s{second}"}
    found = searched({"model": MODEL, "gear": rows}, [*servos, RECEIVER, CELL], keep=tuple(sorted(wanted)))
    sums: dict[tuple[int, int], int] = {}
    for pair in product(range(len(servos)), repeat=2):
        if wanted <= {f"s{n}" for n in pair}:
            key = (sum(grams[n] for n in pair), sum(draws[n] for n in pair))
            sums[key] = sums.get(key, 0) + 1
    best = {key: n for key, n in sums.items() if not any(o != key and o[0] <= key[0] and o[1] <= key[1] for o in sums)}
    assert {(round(each.mass_kg * 1e3) - 3, each.ties) for each in found.sets} == {(k[0], n) for k, n in best.items()}


@pytest.mark.parametrize("charges", ["0", "-2", "two", "1000", "1.5"])
def test_the_command_refuses_a_wrong_number_of_charges(
    charges: str, tmp_path: Any, capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    assert main(["finder", str(tmp_path / "none"), str(tmp_path / "none"), f"--charges={charges}"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith(f"--charges: “{charges}” is no number of charged cells")
    with pytest.raises(OutOfRangeError):
        searched({"model": MODEL}, BOX, charges=0)


def test_the_command_takes_wishes(tmp_path: Any, capsys: pytest.CaptureFixture[str]) -> None:
    box, budget = tmp_path / "box.json", tmp_path / "budget.json"
    box.write_text(json.dumps({"parts": BOX}), encoding="utf-8")
    budget.write_text(json.dumps({"model": MODEL}), encoding="utf-8")
    assert main(["finder", str(box), str(budget), "--keep", "servo", "--bar", "coil", "--actuator", "servo"]) == 0
    assert "rx · servo · rod · cell" in capsys.readouterr().out
    assert main(["finder", str(box), str(budget), "--keep", "anvil", "--bar", "tongs"]) == 2
    assert capsys.readouterr().err.splitlines() == [
        "“anvil” is neither in the box nor in the budget.", "“tongs” is neither in the box nor in the budget."
    ]  # fmt: skip


def test_where_no_set_fits_the_headline_says_so() -> None:
    """Share rule: 20 % of 10 g airframe allows 2.5 g; the lightest set is 3.0 g, 0.5 g over."""
    over = searched({"model": {"airframe": "10 g"}, "scale_division": "0.01 g"}, BOX)
    said = "The sets run, but none fits: the lightest weighs 3.00 g, is 0.50 g over and runs 57 min"
    assert finder_words.headline(over, UnitSystem.METRIC).startswith(said)
    assert finder_words.as_json(over)["fits"] == 0
    assert finder_words.as_json(searched({"model": MODEL}, BOX))["fits"] == 1
    assert finder_words.works(searched({"model": MODEL}, BOX)) == "2 of 2 sets work"
    assert finder_words.works(searched({"model": MODEL}, BOX, actuator="coil")) == "the only set works"


def test_a_set_that_is_over_with_its_lead_and_one_that_is_not() -> None:
    """The coil, 200 mm aft of the wanted point, is balanced by 1 g of cell as far ahead of it; half a gram is not.

    By hand: 0.1 g·m over a lever of 90 mm asks for 1.11 g of lead; 8 % of the flying mass allow 3.48 g.
    """
    stations = {"airframe_at": "100 mm", "target": "100 mm", "nose_at": "10 mm", "tail_at": "500 mm"}
    rows = [{**RECEIVER, "station": "100 mm"}, {**COIL, "station": "300 mm"}]
    document = {
        "model": {"airframe": "40 g"}, "gear": rows, "balance": stations, "cell": {"station": "-100 mm"},
        "rule": {"share": "8 %"}, "scale_division": "0.01 g",
    }  # fmt: skip
    heavy = {**CELL, "name": "heavy", "capacity": "60 mAh"}
    found = searched(document, [{**CELL, "mass": "0.5 g"}, heavy])
    assert [each.by_weight for each in found.sets] == ["over", "fits"]
    assert finder_words.headline(found, UnitSystem.METRIC).startswith(
        "The lightest set that runs weighs 2.50 g, but is 0.13 g over with its lead; it runs 57 min; the lightest that "
        "is not over weighs 3.00 g"
    )


def test_one_part_of_the_box_in_two_places_is_asked_after() -> None:
    rows = [{"kind": "servo", "mass": "2 g"}, {"kind": "servo", "mass": "2 g"}, ROD]
    (only,) = searched({"model": MODEL, "gear": rows}, [RECEIVER, SERVO, CELL]).sets
    assert only.twice == ("servo",)
    assert "“servo” of the box stands in more than one place: have you got as many?" in finder_words.why(
        only, UnitSystem.METRIC
    )
    assert "have you got as many?" in finder_words.plain_text(
        searched({"model": MODEL, "gear": rows}, [RECEIVER, SERVO, CELL]), UnitSystem.METRIC
    )


def ounces(known_by: str = "weighed") -> list[dict[str, Any]]:
    """Return receivers and servos whose pairs tie at 0.006 oz and 30 mA."""
    figures = [("receiver", "0.005", 10), ("receiver", "0.003", 20), ("servo", "0.001", 20), ("servo", "0.003", 10)]
    return [
        {"kind": kind, "name": f"{kind} {oz}", "mass": f"{oz} oz", "draw": f"{ma} mA", "known_by": known_by}
        for kind, oz, ma in figures
    ]


@pytest.mark.parametrize("known_by", ["weighed", "maker", "guess"])
def test_ties_in_ounces_are_ties(known_by: str) -> None:
    """0.005 + 0.001 = 0.003 + 0.003 oz, 10 + 20 = 20 + 10 mA. And the command says so."""
    found = searched({"model": {**MODEL, "radio": "steering"}, "gear": [ROD]}, [*ounces(known_by), CELL])
    (_, tied, _) = [(each.ties, each.mass_kg) for each in found.sets]
    assert tied[0] == 2
    assert "1 other set is as light and runs as long" in finder_words.plain_text(found, UnitSystem.METRIC)


@settings(max_examples=80, deadline=None)
@given(
    parts=st.lists(
        st.tuples(
            st.sampled_from(["receiver", "servo", "linkage"]), st.integers(1, 6), st.integers(1, 3),
            st.sampled_from(["weighed", "maker", "guess"]), st.sampled_from(["oz", "g", "lb"]),
        ), min_size=3, max_size=7,
    ).filter(lambda parts: any(part[0] == "receiver" for part in parts))
)  # fmt: skip
def test_ties_are_those_of_the_plain_product(parts: list[tuple[str, int, int, str, str]]) -> None:
    """Masses added up as typed, with no float in between: the same best sets, and as many of each."""
    box = [
        {"kind": kind, "name": f"{n}", "mass": f"0.00{mass} {unit}", "draw": f"{draw} mA", "known_by": known_by}
        for n, (kind, mass, draw, known_by, unit) in enumerate(parts)
    ]
    found = searched({"model": MODEL}, [*box, CELL])
    per = {"oz": 28_349_523_125, "g": 1_000_000_000, "lb": 453_592_370_000}  # pg in a thousandth
    growth = {"weighed": 100, "maker": 105, "guess": 120}
    kinds = {part[0] for part in parts}
    wanted = ("receiver", "servo", "linkage") if "servo" in kinds else ("receiver",)
    slots = [[part for part in parts if part[0] == kind] for kind in wanted]
    sums: dict[tuple[int, int], int] = {}
    for there in product(*(slot for slot in slots if slot)):
        key = (sum(p[1] * per[p[4]] * growth[p[3]] for p in there), sum(p[2] for p in there))
        sums[key] = sums.get(key, 0) + 1
    best = {key: n for key, n in sums.items() if not any(o != key and o[0] <= key[0] and o[1] <= key[1] for o in sums)}
    assert sorted(each.ties for each in found.sets) == sorted(best.values())
    assert [each.ties for each in found.sets] == [best[key] for key in sorted(best)]


def test_a_mass_without_a_text_is_exact_too() -> None:
    assert exact_mass(Entry(value=0.0012), UnitSystem.METRIC) * 10_000 == 12


STATION = st.sampled_from([50, 100, 150, 300])


@settings(max_examples=60, deadline=None)
@given(
    at=st.tuples(STATION, STATION, STATION), grams=st.lists(st.integers(1, 3), min_size=6, max_size=6),
    ends=st.sampled_from([("10 mm", "500 mm"), ("10 mm", ""), ("", "500 mm")]),
)  # fmt: skip
def test_of_tied_sets_the_one_with_the_least_lead_is_shown(
    at: tuple[int, int, int], grams: list[int], ends: tuple[str, str]
) -> None:  # fmt: skip
    """Each tied set is worked out as a budget of its own, and none needs less lead than the one shown."""
    kinds = ("receiver", "receiver", "coil actuator", "coil actuator", "cell", "cell")
    box = [
        {"kind": kind, "name": f"{n}", "mass": f"{g} g", "draw": "10 mA", **({"capacity": "30 mAh"} if n > 3 else {})}
        for n, (kind, g) in enumerate(zip(kinds, grams, strict=True))
    ]
    stations = {"airframe_at": "160 mm", "target": "160 mm", "nose_at": ends[0], "tail_at": ends[1]}
    rows = [{"kind": "receiver", "station": f"{at[0]} mm"}, {"kind": "coil actuator", "station": f"{at[1]} mm"}]
    document = {"model": MODEL, "gear": rows, "cell": {"station": f"{at[2]} mm"}, "balance": stations}
    found = searched(document, box)
    made = []
    for picks in product((0, 1), (2, 3), (4, 5)):
        gear = [{**row, **box[pick]} for row, pick in zip(rows, picks[:2], strict=True)]
        cell = {key: box[picks[2]][key] for key in ("mass", "capacity")}
        budget = {**document, "gear": gear, "cell": {**cell, "station": f"{at[2]} mm"}}
        made.append(assess(read(budget).budget))
    (shown,) = found.sets
    tied = [each for each in made if abs(each.gear.expected_kg - shown.mass_kg) < 1e-9]
    assert shown.ties == len(tied)
    balance = shown.assessment.balance
    assert balance is not None
    if balance.ballast is not None or balance.balanced:
        assert shown.assessment.lead_kg <= min(e.lead_kg for e in tied if _known(e)) + 1e-9
    else:
        assert not any(_known(each) for each in tied)


def _known(found: Any) -> bool:
    return found.balance.ballast is not None or found.balance.balanced


def test_tied_sets_of_which_one_has_no_stations() -> None:
    """The servo's rod has no station, so its lead is not known; the coil's set is the one that is shown."""
    stations = {"airframe_at": "160 mm", "target": "160 mm", "nose_at": "10 mm", "tail_at": "500 mm"}
    rows = [{**RECEIVER, "station": "100 mm"}, {"kind": "coil actuator", "station": "150 mm"}]
    document = {"model": MODEL, "gear": rows, "cell": {"station": "70 mm"}, "balance": stations}
    box = [RECEIVER, {**COIL, "mass": "2.5 g"}, SERVO, ROD, CELL]
    (only,) = searched(document, box).sets
    assert only.ties == 2
    assert "coil" in names(only)
    assert only.assessment.balance is not None


def test_the_mass_of_a_set_is_that_of_its_budget_to_the_digit() -> None:
    found = searched(WREN, [*BOX, {**RECEIVER, "name": "odd", "mass": "0.335 g", "known_by": "maker"}], charges=8)
    for each in found.sets:
        assert each.mass_kg == assess(read(each.document).budget).gear.expected_kg
        assert each.by_weight == allowance.worst(each.assessment.limits_with_lead)


def test_a_tied_set_that_balances_is_the_one_shown() -> None:
    """1 + 2 g or 2 + 1 g, 10 mm ahead of and 20 mm aft of the wanted point: only the second is balanced."""
    stations = {"airframe_at": "160 mm", "target": "160 mm", "nose_at": "10 mm", "tail_at": "500 mm"}
    rows = [{"kind": "receiver", "station": "150 mm"}, {"kind": "coil actuator", "station": "180 mm"}]
    document = {"model": MODEL, "gear": rows, "cell": {"station": "160 mm"}, "balance": stations}
    box = [
        {"kind": kind, "name": f"{kind} {mass}", "mass": mass, "draw": "10 mA"}
        for kind, mass in product(("receiver", "coil actuator"), ("0.9 g", "1.8 g"))
    ]
    box[0]["draw"], box[3]["draw"] = "20 mA", "10 mA"
    box[1]["draw"], box[2]["draw"] = "10 mA", "20 mA"
    shown = next(each for each in searched(document, [*box, CELL]).sets if each.ties == 2)
    assert shown.assessment.lead_kg == 0.0
    assert names(shown)[:2] == ["receiver 1.8 g", "coil actuator 0.9 g"]


def test_the_present_set_is_no_point_where_its_draw_is_not_told() -> None:
    row = {"kind": "servo", "name": "mine", "mass": "1 g"}
    found = searched({"model": MODEL, "gear": [row, RECEIVER], "cell": {"mass": "1 g", "capacity": "30 mAh"}}, BOX)
    assert found.sets
    assert found.present is None
    assert finder_words.as_json(found)["present"] is None


def test_a_set_that_fails_beside_the_grams_says_so() -> None:
    """Tail-heavy with no place for lead: the budget page fails it, so the finder must not say that it fits."""
    document = demo_documents()["sedge-wren.json"]
    balance = {key: item for key, item in document["balance"].items() if key != "nose_at"}
    document = {**document, "balance": {**balance, "target": "150 mm"}}
    box = read_box(json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8")))
    found = finder.answer(document, box)
    failing = [each for each in found.sets if each.fails]
    assert failing
    assert all(each.verdict in ("fails", "over") for each in failing)
    assert found.fitting == sum(each.verdict == "fits" for each in found.sets)
    assert "fails in balance" in finder_words.plain_text(found, UnitSystem.METRIC)
    assert finder_words.as_json(found)["best"][0]["fails"] == list(found.sets[0].fails)


def test_what_a_run_stands_on_is_told_beside_the_set() -> None:
    """A servo with its quiet draw alone, parts without a lowest voltage, a cell without a resistance."""
    bare = {key: item for key, item in CELL.items() if key != "resistance"}
    (found,) = searched({"model": MODEL}, [RECEIVER, SERVO, ROD, bare]).sets
    said = " ".join(finder_words.asides(found))
    assert "at work “servo” draws more than the quiet draw given" in said
    assert "brown-out not looked at for “rx” and “servo”" in said
    assert "the cell’s resistance is assumed" in said
    told = {**SERVO, "busy_draw": "90 mA", "busy": "8 %", "min_volts": "3 V"}
    (full,) = searched({"model": MODEL}, [{**RECEIVER, "min_volts": "3 V"}, told, ROD, CELL]).sets
    assert finder_words.asides(full) == ()
