"""More ends and turns that mutation testing moved unseen: documents, boxes, the finder, comparing, digits."""

from types import SimpleNamespace
from typing import Any

import pytest

from calc import digits
from calc.assess import assess
from calc.compare import changes
from calc.compare import sides as compare
from calc.document import box, budget
from calc.document.box import read_box
from calc.document.budget import read, read_part, read_stock
from calc.document.jsontext import loads
from calc.document.parts import Session
from calc.errors import BudgetError
from calc.search import finder
from calc.search.demand import demands, need_of_charge
from calc.search.strength import Strength, rating_of
from calc.subjects.stock import answer as stock
from calc.subjects.surface.answer import Effort
from calc.unit_system import UnitSystem
from calc.vocabulary import Actuator

approx: Any = pytest.approx


@pytest.mark.parametrize(("letters", "taken"), [(262_142, True), (262_143, False)])
def test_the_longest_document(letters: int, taken: bool) -> None:
    text = f'"{letters * "a"}"'
    if taken:
        assert len(loads(text)) == letters
    else:
        with pytest.raises(BudgetError, match="too_large"):
            loads(text)


@pytest.mark.parametrize(
    ("document", "refused"),
    [
        ({"scale_division": "-0.1 g"}, "scale_division"),
        ({"surface": {"chord": "80 mm", "flap_chord": "80.1 mm"}}, "surface.flap_chord"),
        ({"surface": {"chord": "80 mm", "flap_chord": "80 mm"}}, ""),
        ({"linkage": {"diameter": "1 mm", "bore": "0.995 mm"}}, "linkage.bore"),
        ({"linkage": {"diameter": "1 mm", "bore": "0.98 mm"}}, ""),
        ({"name": "n" * 80}, ""),
        ({"name": "n" * 81}, "name"),
        ({"q" * 50: 1}, "q" * 40),
    ],
)
def test_what_a_document_may_say(document: dict[str, Any], refused: str) -> None:
    assert [problem.field for problem in read(document).problems] == ([refused] if refused else [])


@pytest.mark.parametrize(("bore", "taken"), [("0.98 mm", True), ("0.995 mm", False)])
def test_a_tube_has_a_wall(bore: str, taken: bool) -> None:
    problems = read_stock({"shape": "tube", "diameter": "1 mm", "bore": bore}, "metric")[1]
    assert (problems == ()) is taken


def test_bare_numbers_of_stock_and_parts_take_the_unit_of_the_system() -> None:
    for system, meters, kilograms in (("metric", 0.001, 0.001), ("imperial", 0.0254, 0.028349523125)):
        length, mass = read_stock({"length": "1"}, system)[0].length, read_part({"mass": "1"}, "", system)[0].mass
        assert length is not None
        assert mass is not None
        assert (length.value, mass.value) == approx((meters, kilograms))


def test_a_weighed_mass_that_cannot_be_read_is_one_problem() -> None:
    with pytest.raises(BudgetError) as refused:
        budget.from_json('{"gear": [{"weighed": "x"}, {}]}')
    assert [problem.field for problem in refused.value.problems] == ["gear.0.weighed", "gear.1.mass"]


def test_texts_stay_readable_and_short() -> None:
    assert "Möwe" in budget.to_json(read({"name": "Möwe"}).budget)
    assert budget.shortened("a" * 40) == "a" * 40
    assert budget.shortened("a" * 41) == "a" * 40 + "…"


def test_a_box_as_json(monkeypatch: pytest.MonkeyPatch) -> None:
    assert box.box_from_text('{"parts": []}') == {"parts": []}
    for text in ("[]", "{}"):
        with pytest.raises(BudgetError, match="not_a_box"):
            box.box_from_text(text)
    table = "name,mass\na;b;c;d,1 g\n"
    monkeypatch.setattr(box, "LONGEST_BOX", len(table))
    assert box.box_from_text(table)["parts"] == [{"name": "a;b;c;d", "mass": "1 g"}]
    with pytest.raises(BudgetError, match="too_large"):
        box.box_from_text(table + "\n")


def test_a_part_takes_its_own_place_or_one_at_the_end() -> None:
    rows = [{"name": "one", "station": "5 mm"}, {"name": "two"}]
    part = {"kind": "servo", "name": "new", "mass": "1 g"}
    first = box.take({"gear": rows}, part, "gear.0", "metric")["gear"]
    assert [row["name"] for row in first] == ["new", "two"]
    assert first[0]["station"] == "5 mm"
    assert [row["name"] for row in box.take({"gear": rows}, part, "gear.7", "metric")["gear"]] == ["one", "two", "new"]


def test_one_charge_does_the_session_unless_more_are_asked_for() -> None:
    session = {"flights": 7, "on_time": "4 min", "pause": "10 min"}
    parts = {"parts": [{"kind": "receiver", "mass": "1 g"}]}
    one = finder.answer({"session": session}, read_box(parts))
    assert one.task.need.flights == 7
    assert (one.counts.total, one.counts.works, one.counts.drawn) == (0, 0, 0)
    assert finder.answer({"session": session}, read_box(parts), 2).task.need.flights == 4


@pytest.mark.parametrize(("between", "pause_s"), [("on", 600.0), ("off", 0.0)])
def test_the_finder_counts_pauses_as_the_plan_does(between: str, pause_s: float) -> None:
    session = read({"session": {"on_time": "4 min", "pause": "10 min", "between": between}}).budget.session
    assert need_of_charge(session or Session(), 1).pause_s == pause_s


def test_what_a_part_asks_in_whole_numbers() -> None:
    """Two receivers of 1.4 g weighed, 20 mA quiet, 50 mA for a tenth of the time: a mean of 23 mA each."""
    part = read_part(
        {"mass": "1.4 g", "draw": "20 mA", "busy_draw": "50 mA", "busy": "10 %", "known_by": "weighed"}, "", "metric"
    )[0]
    found = demands(part, 2, 2_800_000_000, strong=True)
    assert found.label == (2_800_000_000, 46_000_000, 100_000_000, 0, 40_000_000)


@pytest.mark.parametrize(("kind", "torque", "thrust", "strong"), [
    ("servo", "1 mN m", "", False), ("servo", "3 mN m", "", True), ("servo", "", "0.1 N", False),
    ("servo", "", "0.3 N", True), ("coil actuator", "1 mN m", "", False), ("coil actuator", "3 mN m", "9 N", True),
])  # fmt: skip
def test_strength_is_held_against_what_that_kind_of_actuator_must_do(
    kind: str, torque: str, thrust: str, strong: bool
) -> None:  # fmt: skip
    turn, push = Effort(torque_nm=0.002), Effort(thrust_n=0.2)
    needs: dict[Actuator, Effort] = {"rotary servo": turn, "linear servo": push, "coil actuator": turn}
    part = read_part({"kind": kind, "mass": "1 g", "torque": torque, "thrust": thrust}, "", "metric")[0]
    assert Strength(needs=needs).enough(*rating_of(part)) is strong


def test_stock_worked_by_hand() -> None:
    """25 tex are 25 mg/m; a solid 28 AWG wire of 0.3211 mm in a sleeve of 1.2 mm and 1200 kg/m³ (from memory)."""
    thread = read_stock({"shape": "thread", "tex": "25 tex", "length": "1.2 m"}, "metric")[0]
    assert stock.weigh(thread) == pytest.approx(3e-5, rel=1e-9)
    assert stock.asked("cloth") == ("area", "weight", "pieces")
    wire: dict[str, Any] = {"shape": "wire", "gauge": 28, "length": "1 m", "strands": "solid"}
    bare, sleeved = (stock.weigh(read_stock({**wire, "over_all": size}, "metric")[0]) or 0.0 for size in ("", "1.2 mm"))
    area_mm2 = 3.14159265 / 4 * (1.2**2 - 0.32110**2)
    assert sleeved - bare == pytest.approx(area_mm2 * 1200e-6, rel=1e-4)


ROW: dict[str, Any] = {"kind": "servo", "name": "a", "mass": "2 g"}


@pytest.mark.parametrize(("before", "after"), [({**ROW, "draw": "x"}, ROW), (ROW, {**ROW, "draw": "x"})])
def test_an_entry_that_cannot_be_read_is_a_change(before: dict[str, str], after: dict[str, str]) -> None:
    found = compare.compare(read({"gear": [before]}).budget, read({"gear": [after]}).budget)
    assert [swap.act for swap in found.swaps] == ["change"]


def test_rows_of_other_kinds_become_each_other_only_one_for_one() -> None:
    timer, tracker = {"kind": "timer", "mass": "1 g"}, {"kind": "tracker", "mass": "1 g"}
    one, two = read({"gear": [ROW]}).budget, read({"gear": [timer, tracker]}).budget
    assert [swap.act for swap in compare.compare(one, two).swaps] == ["leave out", "add", "add"]
    assert [swap.act for swap in compare.compare(two, one).swaps] == ["leave out", "leave out", "add"]


def test_a_cell_takes_along_what_cannot_be_read_of_it_and_nothing_else() -> None:
    before = read({"cell": {"mass": "x"}, "gear": [{"draw": "x"}], "balance": 1}).budget
    after = read({"cell": {"weighed": "x"}, "gear": [{"mass": "x"}], "air": 1, "session": 1}).budget
    assert changes._with_cell(before, after).unread == {"balance", "gear.0.draw", "cell.weighed"}


def test_a_still_air_time_that_one_side_lacks_has_no_change() -> None:
    with_time, without = SimpleNamespace(air=SimpleNamespace(time_s=9.0)), SimpleNamespace(air=None)
    longer: Any = changes._longer
    assert longer(with_time, SimpleNamespace(air=SimpleNamespace(time_s=12.0))) == 3.0
    assert longer(with_time, without) is longer(without, with_time) is longer(without, without) is None


@pytest.mark.parametrize(
    ("name", "was", "now", "judged"),
    [
        ("gear_share", 0.2000, 0.2004, "same"), ("gear_share", 0.2000, 0.2006, "worse"),
        ("run", 100.0, 100.4, "same"), ("run", 100.0, 101.0, "better"), ("still_air", 100.0, 99.9, "same"),
        ("still_air", 100.0, 94.0, "worse"), ("cg", 0.1, 0.10004, "same"), ("cg", 0.1, 0.10006, ""),
        ("lowest", 3.5, 3.504, "same"), ("linkage_lost", 0.01, 0.0103, "same"), ("linkage_lost", 0.01, 0.0110, "worse"),
        ("servo_factor", 3.30, 3.34, "same"), ("servo_factor", 3.30, 3.41, "better"),
        ("servo_factor", 3.4, 3.3, "worse"), ("servo_factor", 4.9, 5.2, "better"), ("servo_factor", 8.3, 120.0, ""),
        ("servo_factor", 120.0, 8.3, ""), ("servo_factor", 300.0, 120.0, "same"),
        ("servo_factor", 4.0, 150.0, "better"),
        ("servo_factor", 150.0, 4.0, "worse"), ("linkage_factor", 2.1, 9.0, ""), ("linkage_factor", 1.9, 9.0, "better"),
        ("linkage_lost", 0.02, 0.001, "better"), ("linkage_lost", 0.001, 0.02, "worse"),
        ("spread", 0.001, 0.002, ""), ("flights", 100, 150, "better"), ("mean", 0.3, 0.2, "better"),
    ],
)  # fmt: skip
def test_when_a_change_is_seen(name: str, was: float, now: float, judged: str) -> None:
    """Judged by what is shown; from five times as strong as needed on, twice for a linkage, more is no better."""
    figure = next(each for each in compare.FIGURES if each.id == name)
    assert compare._row(figure, was, now, (0.0, 0.0), UnitSystem.METRIC).judged == judged


def test_each_limit_has_its_own_row() -> None:
    model = {"airframe": "40 g", "target": "47 g", "maximum": "60 g", "max_loading": "9 g/dm²", "wing_area": "8 dm²",
             "rubber": "0 g"}  # fmt: skip
    one, other = ({"model": model, "gear": [{"mass": mass}]} for mass in ("1 g", "2 g"))
    found = compare.compare(read(one).budget, read(other).budget)
    rows = {row.id.removeprefix("in_hand_"): row.after for row in found.rows if row.id.startswith("in_hand_")}
    assert rows == {limit.id: limit.in_hand_kg for limit in assess(read(other).budget).limits_with_lead}
    assert len(rows) == 4


@pytest.mark.parametrize(("target", "judged"), [("48.05 g", "better"), ("52 g", "better"), ("44 g", "same")])
def test_a_verdict_gets_better_by_one_step_or_two(target: str, judged: str) -> None:
    one, other = (
        {"model": {"airframe": "40 g", "target": each}, "gear": [{"mass": "8 g"}]} for each in ("44 g", target)
    )
    found = compare.compare(read(one).budget, read(other).budget)
    assert [row.judged for row in found.rows if row.id == "verdict"] == [judged]


def test_masses_of_a_comparison_end_where_their_spread_does() -> None:
    guess = {"model": {"airframe": "60 g", "airframe_known_by": "guess"}, "gear": [{"mass": "9 g"}]}
    found = compare.compare(read(guess).budget, read({**guess, "gear": [{"mass": "8 g"}]}).budget)
    said = {row.id: (*row.shown, row.told) for row in found.rows}
    assert said["flying"] == ("81 g", "80 g", "−1 g")
    assert said["gear"] == ("9.00 g", "8.00 g", "−1.00 g")
    assert said["in_hand_share"] == said["in_hand"] == ("6.0 g", "7.0 g", "+1.0 g")


@pytest.mark.parametrize(
    ("said", "text"),
    [
        (UnitSystem.METRIC.mass(0.0095), "9.50 g"), (digits.given(1.234), "1.23"), (digits.measured(9.95), "10"),
        (digits.current(0.99), "990 mA"), (digits.lost(10.0), "10°"), (digits.lost(9.91), "10°"),
        (digits.lost(9.9), "9.9°"), (UnitSystem.METRIC.mass_entry(0.0105), "10.5 g"),
        (UnitSystem.METRIC.mass_entry(0.0015), "1.50 g"),
        (digits.duration(7199.0), "1 h 59 min"), (digits.duration(1799.0), "29 min"), (digits.duration(59.0), "59 s"),
        (digits.duration(61.0), "1 min 1 s"), (UnitSystem.METRIC.fixed(0.1234, "ratio", 1), "12.3 %"),
        (digits.times(99.99), "99"),
        (digits.times(100.0), "over 100"),
    ],
)  # fmt: skip
def test_figures_as_shown(said: str, text: str) -> None:
    assert said == text
