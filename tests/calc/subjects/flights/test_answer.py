"""What the flights of a budget teach, and what the other subjects make of it."""

from math import exp, log
from typing import Any

import pytest

from calc.document.budget import read
from calc.subjects.air.answer import AirBlock
from calc.subjects.air.sums import sink_speed
from calc.subjects.flights.answer import FlightsBlock
from calc.subjects.flights.room import SUBJECT
from calc.unit_system import UnitSystem
from calc.wording import problem
from site_src.app.view import view
from tests.calc.budgets import reported, small
from tests.support import shown_html

TIMED = {"height": "40 m", "glide": "100 s"}
LOGGED = {"sink": "0.45 m/s", "sink_spread": "0.036 m/s"}
TOWED = {"launch": "towline", "height": "50 m"}


def block_of(flights: list[dict[str, Any]], **more: Any) -> FlightsBlock:
    found = small(flights=flights, **more).of(FlightsBlock)
    assert found is not None
    return found


def said(flights: list[dict[str, Any]], **more: Any) -> str:
    return SUBJECT.sentence(small(flights=flights, **more), UnitSystem.METRIC)


def test_one_flight_by_hand() -> None:
    """A guess of 8 that counts with 25 %, a flight with 10 % by watch and 10 % for the air."""
    found = block_of([TIMED])
    own = sink_speed(0.050, 0.08, 1.20411, 1.0) / 0.4
    (counted,) = found.counted
    assert counted.factor.value == pytest.approx(own, rel=1e-4)
    weights = [1 / log(1.25) ** 2, 1 / 0.02]
    mean = (weights[0] * log(8.0) + weights[1] * log(own)) / sum(weights)
    assert found.factor is not None
    assert found.factor.value == pytest.approx(exp(mean), rel=1e-4)
    assert found.factor.u == pytest.approx(sum(weights) ** -0.5)


def test_a_log_counts_with_its_own_spread_and_each_flight_with_its_day() -> None:
    found = block_of([LOGGED, {"sink": "0.45 m/s"}, {**TIMED, "mass": "60 g", "temperature": "0 °C"}])
    by_log, bare, other = found.counted
    assert by_log.factor.u == pytest.approx(0.018 / 0.45)
    assert bare.factor.u == 0.05
    assert other.factor.value == pytest.approx(sink_speed(0.060, 0.08, 1.2922, 1.0) / 0.4, rel=1e-3)


def test_the_sums_use_it_and_say_so() -> None:
    before, after = small(air=TOWED).of(AirBlock), small(air=TOWED, flights=[LOGGED, TIMED])
    air, flights = after.of(AirBlock), after.of(FlightsBlock)
    assert before is not None
    assert air is not None
    assert air.times is not None
    assert before.times is not None
    assert flights is not None
    assert air.sink_m_s == pytest.approx(flights.sink_m_s)
    assert air.conditions.glide_factor_from == "flown"
    assert air.times.high / air.times.low < before.times.high / before.times.low
    told = view({"model": {"airframe": "40 g", "wing_area": "8 dm²"}, "air": TOWED, "flights": [LOGGED, TIMED]})
    assert "That is from 2 flights." in told.answer.sentences["air"]
    assert "no such flight was timed" not in told.answer.sentences["air"]
    single = view({"model": {"airframe": "40 g", "wing_area": "8 dm²"}, "air": TOWED, "flights": [TIMED]})
    assert "That is from 1 flight." in single.answer.sentences["air"]


def test_what_was_believed_before() -> None:
    """A given factor with what the propeller leaves of it, a timed flight before both."""
    assert block_of([TIMED], air={"glide_factor": "9", "propeller": "stopped"}).prior.value == pytest.approx(9 * 0.82)
    timed = block_of([LOGGED], air={"timed_height": "40 m", "timed_glide": "100 s", "glide_factor": "9"}).prior
    assert timed.value == pytest.approx(block_of([TIMED]).counted[0].factor.value)
    assert timed.u < 0.15


def test_outliers_are_told_and_struck_out_by_hand_alone() -> None:
    rising = {"sink": "0.15 m/s", "sink_spread": "0.01 m/s"}
    flights = [LOGGED, LOGGED, TIMED, rising]
    found = block_of(flights)
    assert found.outliers == (3,)
    assert len(found.counted) == 4
    assert "Flight 4 stands far off the others, and counts all the same" in said(flights)
    struck: list[dict[str, Any]] = [*flights[:3], {**rising, "out": True}]
    assert block_of(struck).outliers == ()
    assert "1 struck out." in said(struck)
    assert (block_of(struck).sink_m_s or 0.0) > (block_of(flights).sink_m_s or 0.0)


def test_height_from_turns() -> None:
    found = block_of([{"turns": 600, "height": "30 m"}, {"turns": 700, "height": "36 m"}])
    assert found.per_turn is not None
    assert found.per_turn.value == pytest.approx((0.05 * 36 / 700) ** 0.5)
    assert "for 100 turns (600 to 700 wound)" in said(
        [{"turns": 600, "height": "30 m"}, {"turns": 700, "height": "36 m"}]
    )
    assert "No flight shows a sink yet" in said([{"turns": 600, "height": "30 m"}])
    assert "(600 wound)" in said([{"turns": 600, "height": "30 m"}])
    assert "Flight 1 circled, 5.0 m in radius: that is 7 % more sink" in said([{**TIMED, "circle": "8 s"}])


RUBBER = {"launch": "rubber", "rubber_energy": "4 kJ/kg", "efficiency": "70 %"}
CLIMBED = {"height": "30 m", "glide": "75 s", "motor_run": "25 s"}


def test_the_share_that_becomes_height() -> None:
    """By hand: 50 g that sink 0.4 m/s for 100 s, of 40 J; and 58 % of small propellers believed before."""
    found = block_of([CLIMBED], air=RUBBER)
    used = 0.050 * 9.80665 * 0.4 * 100.0 / 40.0
    weights = [(4.0 / log(0.75 / 0.45)) ** 2, 1 / 0.02]
    mean = (weights[0] * log(0.58) + weights[1] * log(used)) / sum(weights)
    assert found.efficiency is not None
    assert found.efficiency.value == pytest.approx(exp(mean), rel=1e-4)
    air = small(flights=[CLIMBED], air=RUBBER).of(AirBlock)
    assert air is not None
    assert (air.efficiency, air.efficiency_from) == (found.efficiency.value, "flown")
    assert "of the energy become height." in said([CLIMBED], air=RUBBER)
    wound = [{**CLIMBED, "turns": turns} for turns in (700, 710, 300)]
    assert block_of(wound, air=RUBBER).efficiencies == 2  # other turns, another energy
    assert block_of([{**CLIMBED, "height": "90 m"}], air=RUBBER).efficiencies == 0  # more than there was
    assert block_of([CLIMBED], air={"launch": "motor", "work": "40 J"}).efficiencies == 1
    sling = block_of([CLIMBED], air={"launch": "catapult", "work": "40 J"}).efficiency
    assert sling is not None
    assert sling.value == pytest.approx(used)  # no propeller was believed in before
    assert block_of([CLIMBED], air=TOWED).efficiency is None
    assert block_of([TIMED], air=RUBBER).efficiency is None


def test_the_json() -> None:
    told = reported(model={"airframe": "40 g", "wing_area": "8 dm²"}, flights=[LOGGED, {**TIMED, "turns": 500}])
    assert told["flights"]["count"] == 2
    assert {"glide_factor", "glide_factor_spread", "sink_m_s", "sink_m_s_spread", "height_per_turns",
            "height_per_turns_spread"} <= set(told["flights"])  # fmt: skip
    assert told["air"]["sink_m_s"] == told["flights"]["sink_m_s"]


@pytest.mark.parametrize(
    ("document", "paths"),
    [
        ({"flights": [{"sink": "quick"}]}, ("flights.0.sink",)),
        ({"flights": {"sink": "1 m/s"}}, ("flights",)),
        ({"flights": [LOGGED], "model": {"airframe": "40 g"}}, ("model.wing_area",)),
        ({"flights": [LOGGED], "model": {"wing_area": "8 dm²"}}, ("model.airframe",)),
        ({"flights": [LOGGED], "air": {"glide_factor": "good"}}, ("air.glide_factor",)),
    ],
)
def test_what_it_waits_for(document: dict[str, Any], paths: tuple[str, ...]) -> None:
    found = small(**document)
    assert found.of(FlightsBlock) is None
    assert found.missing["flights"] == paths


def test_a_spread_larger_than_the_sink_is_refused() -> None:
    (wrong,) = read({"flights": [{"sink": "0.4 m/s", "sink_spread": "0.5 m/s"}]}).problems
    assert wrong.field == "flights.0.sink_spread"
    assert problem(wrong).startswith("Flight 1, sink, give or take: ")


def test_without_flights_nothing_is_said() -> None:
    assert "flights" not in small().missing
    assert 'id="flights"' not in shown_html(view({}).answer)


def test_its_line_and_the_page() -> None:
    assert SUBJECT.brief(small(flights=[LOGGED]), UnitSystem.METRIC) == "sinks 0.44 m/s, from 1 flight"
    assert SUBJECT.brief(small(flights=[LOGGED, TIMED]), UnitSystem.METRIC).endswith("from 2 flights")
    assert SUBJECT.brief(small(flights=[{}]), UnitSystem.METRIC) == "no flight shows a sink yet"
    document = {"model": {"airframe": "40 g", "wing_area": "8 dm²"}, "flights": [LOGGED]}
    page = shown_html(view(document, why=["flights"]).answer)
    assert 'id="flights"' in page
    assert "sink with the flights" in page
    assert 'id="flights"' in shown_html(view({**document, "flights": [{}]}, why=["flights"]).answer)


def test_a_flight_that_no_such_model_makes_does_not_count() -> None:
    """Minutes where seconds were meant would make the model sixty times better: told, and left out."""
    wrong = {"height": "40 m", "glide": "95 min"}
    found = block_of([TIMED, wrong])
    assert found.beyond == (1,)
    assert found.factor == block_of([TIMED]).factor
    assert "Flight 2 glides better than such a model can, and does not count: minutes" in said([TIMED, wrong])
    alone = said([wrong, wrong])
    assert alone.startswith("No flight shows a sink yet")
    assert "Flight 1 and flight 2 glide better" in alone
