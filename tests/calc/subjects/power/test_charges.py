"""What a cell took back: the checks by hand, and what the run makes of it."""

from typing import Any

import pytest

from calc.errors import OutOfRangeError
from calc.subjects.learn import Known, learned_share
from calc.subjects.power import charges
from calc.subjects.power.answer import Power
from calc.subjects.power.cell import state_of_charge
from calc.subjects.power.words import power_sentence
from tests.calc.budgets import whole, whole_json
from tests.support import reference

TABLE = reference("flights")["charges"]
SESSION = {"put_back": "18.4 mAh", "flights": 8, "on_time": "6 min"}


def power(sessions: list[dict[str, Any]], **more: Any) -> Power:
    found = whole(charges=sessions, **more).power
    assert found is not None
    return found


def test_mean_draw_of_a_session() -> None:
    """CL-1."""
    on_s = TABLE["flights"] * 60.0 * TABLE["minutes"]
    found = charges.mean_draw(TABLE["put_back_mah"] * 3.6, on_s) * 1e3
    assert found == pytest.approx(TABLE["drawn_ma"], abs=0.006)
    assert found / charges.EFFICIENCY == pytest.approx(TABLE["plain_ma"], abs=0.006)


def test_state_of_charge_at_rest() -> None:
    """CL-2, CL-3 and CL-6."""
    for volts, state in zip(TABLE["volts"], TABLE["states"], strict=True):
        assert charges.state_at_rest(volts).value == pytest.approx(state, abs=6e-4)
        assert charges.state_at_rest(volts).value == state_of_charge(volts)
    middles = [3.66, 3.71, 3.745, 3.78, 3.81, 3.87, 3.95, 4.04, 4.14]
    found = [100.0 * charges.state_at_rest(volts).u for volts in middles]
    assert found == pytest.approx(TABLE["ten_mv"], abs=0.06)
    rest = charges.state_at_rest(TABLE["rest_v"], TABLE["rest_u_v"])
    assert [rest.value, rest.u] == pytest.approx(TABLE["rest_state"], abs=6e-3)


def test_capacity_from_two_rests() -> None:
    """CL-4: 18.2 mAh given between full and 0.4."""
    found = charges.capacity(18.2 * 3.6 / charges.EFFICIENCY, 0.03, Known(value=1.0, u=0.03), Known(value=0.4, u=0.03))
    assert found.value / 3.6 == pytest.approx(TABLE["capacity_mah"], abs=0.006)
    assert found.u == pytest.approx(TABLE["capacity_u"], abs=6e-4)


def test_plan_and_sessions_joined() -> None:
    """CL-5."""
    plan_ma, plan_u, drawn_ma, u = TABLE["joined"]
    for times, expected in ((1, TABLE["once"]), (5, TABLE["five"])):
        found = learned_share(Known(value=plan_ma, u=plan_u), [Known(value=drawn_ma, u=u)] * times)
        assert [found.value / plan_ma, found.u] == pytest.approx(expected, abs=6e-5)


def test_the_run_uses_it_and_says_so() -> None:
    """Sessions that drew less than planned: a longer run, of a narrower spread the more there are."""
    plain, once, often = power([]), power([SESSION]), power([SESSION] * 5)
    assert plain.learned is None
    assert once.load.mean_a < plain.load.mean_a
    assert often.run.time_s > plain.run.time_s
    assert often.low.time_s < often.run.time_s < often.high.time_s
    assert once.before is not None
    assert (once.before.run, once.before.flights) == (plain.run, plain.flights)
    assert often.load.peak_a == plain.load.peak_a  # of the peak the charge says nothing
    said = power_sentence(often, {})
    assert "After 5 sessions: " in said
    assert f"instead of {plain.load.mean_a * 1e3:.0f} mA; at worst " in said
    assert "After 1 session: " in power_sentence(once, {})
    hungry = power([{**SESSION, "put_back": "40 mAh"}] * 3)
    assert hungry.low.time_s < plain.low.time_s


def test_the_capacity_of_this_cell() -> None:
    worn = power([{"put_back": "10 mAh", "rest": "3.76 V"}] * 4)
    assert worn.learned is not None
    assert worn.learned.capacity is not None
    assert worn.learned.capacity.value / 3.6 < 25.0
    assert worn.run.time_s < power([]).run.time_s
    assert "The cell holds " in power_sentence(worn, {})
    assert "4 rests after a session tell." in power_sentence(worn, {})
    assert "1 rest after a session tells." in power_sentence(power([{"put_back": "10 mAh", "rest": "3.76 V"}]), {})
    cold = power([{"put_back": "10 mAh", "rest": "3.76 V", "temperature": "2 °C"}])
    assert cold.learned is None  # charge that was only asleep
    little = power([{"put_back": "2 mAh", "rest": "4.1 V"}])
    assert little.learned is None


def test_pauses_with_the_radio_on_count() -> None:
    session = {"flights": 8, "on_time": "6 min", "between": "on", "pause": "10 min"}
    paused = power([SESSION], session=session).learned
    plain = power([SESSION]).learned
    assert paused is not None
    assert plain is not None
    assert paused.draw is not None
    assert plain.draw is not None
    assert paused.draw.value < plain.draw.value


def test_where_a_draw_is_not_told_the_plan_is_no_prior() -> None:
    gear = [{"kind": "receiver", "mass": "1 g", "draw": "20 mA"}, {"kind": "servo", "mass": "1 g"}]
    found = power([SESSION], gear=gear)
    assert found.at_most
    assert found.learned is not None
    assert found.learned.draw is not None
    assert found.learned.draw.value * 1e3 == pytest.approx(TABLE["drawn_ma"], abs=0.01)


def test_the_json_and_what_is_struck_out() -> None:
    told = whole_json(charges=[{**SESSION, "rest": "3.76 V"}, {**SESSION, "out": True}, {"flights": 3}])["power"]
    assert told["sessions"] == told["rests"] == 1
    assert {"planned_mA", "mean_mA_spread", "flights_before", "capacity_mAh", "capacity_mAh_spread"} <= set(told)
    assert "sessions" not in whole_json()["power"]
    assert "rests" not in whole_json(charges=[SESSION])["power"]
    assert "sessions" not in whole_json(charges=[{"put_back": "10 mAh", "rest": "3.76 V"}])["power"]
    assert "; at worst" not in power_sentence(power([SESSION], session={}), {})
    assert "charges.0.put_back" in whole(charges=[{**SESSION, "put_back": "much"}]).missing["power"]
    assert "charges" in whole(charges="none").missing["power"]


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        charges.state_at_rest(2.9)
    with pytest.raises(OutOfRangeError):
        charges.mean_draw(0.0, 10.0)
    with pytest.raises(OutOfRangeError):
        charges.capacity(10.0, 0.03, Known(value=0.5, u=0.03), Known(value=0.5, u=0.03))


@pytest.mark.parametrize(
    "slip", [{"put_back": "1 mAh", "flights": 500}, {"put_back": "500 mAh", "flights": 8, "rest": "3.7 V"}]
)
def test_a_slip_in_the_log_makes_nothing_longer_and_is_told(slip: dict[str, Any]) -> None:
    plain, found = power([]), power([{"on_time": "6 min", **slip}])
    assert found.low.time_s <= plain.low.time_s
    assert found.high.time_s <= plain.high.time_s
    assert found.flights is not None
    assert plain.flights is not None
    assert found.flights <= plain.flights
    assert found.learned is not None
    assert found.learned.odd == (0,)
    assert found.learned.capacity is None
    assert "look again at session 1" in power_sentence(found, {})
