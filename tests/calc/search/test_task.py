"""What the finder asks of a part and of a charge, in whole numbers: found by mutation testing."""

import pytest

from calc.document.box import read_box
from calc.document.budget import read
from calc.search import finder
from calc.search.demand import demands, need_of_charge
from calc.search.strength import Strength, rating_of
from calc.subjects.power.entries import Session
from calc.subjects.surface.answer import Effort
from calc.vocabulary import Actuator
from tests.support import read_part


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
