"""The propeller's stream over the surface: against textbooks, out of a budget, and where it is not known."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import headline
from calc.subjects.surface import words as surface_words
from calc.subjects.surface import worst
from calc.subjects.surface.answer import SurfaceBlock
from calc.subjects.surface.stream import BURST, behind, burst_of
from calc.unit_system import UnitSystem
from tests.calc.budgets import AIR, SURFACE, missing, whole, whole_json
from tests.support import reference

TABLE = reference("stream")
STILL = {key: item for key, item in SURFACE.items() if key != "speed"}
DRIVEN = {**AIR, "motor_run": "30 s", "propeller_diameter": "240 mm"}
METRIC = UnitSystem.METRIC


def found(air: dict[str, Any] = DRIVEN, surface: dict[str, Any] = STILL, **changes: Any) -> SurfaceBlock:
    block = whole(surface=surface, air=air, **changes).surface
    assert block is not None
    return block


def test_a_climbing_rotor_is_the_textbooks() -> None:
    table = TABLE["climbing_rotor"]
    area_m2 = math.pi / 4 * table["diameter_m"] ** 2
    assert table["power_w"] / (table["disc_loading_pa"] * area_m2) == pytest.approx(table["at_disc_m_s"], abs=1e-4)
    stream = worst.stream_speed(table["climb_m_s"], table["power_w"], table["diameter_m"], table["density_kg_m3"])
    assert stream == pytest.approx(table["behind_m_s"], abs=table["tolerance"])
    assert (stream + table["climb_m_s"]) / 2 == pytest.approx(table["at_disc_m_s"], abs=table["tolerance"])


def test_a_hovering_rotor_is_the_formulas() -> None:
    table = TABLE["hover"]
    stream = worst.stream_speed(0.0, table["power_w"], table["diameter_m"], table["density_kg_m3"])
    assert stream == pytest.approx(table["behind_m_s"], rel=1e-5)


def unwound(power: float) -> float:
    """Return power at first ÷ mean power of a motor that is unwound in small steps: energy with turns^power."""
    steps = 20_000
    turns = [(step + 0.5) / steps for step in range(steps)]
    torques = [power * x ** (power - 1.0) for x in turns]
    time = sum(1.0 / steps / math.sqrt(torque) for torque in torques)  # turns a second go with √torque
    energy = sum(torque / steps for torque in torques)
    return float(power**1.5 / (energy / time))


@pytest.mark.parametrize(("power", "ratio"), TABLE["burst"]["rows"])
def test_the_burst_is_that_of_a_motor_unwound(power: float, ratio: float) -> None:
    assert burst_of(power) == pytest.approx(ratio, abs=5e-4)
    assert burst_of(power) == pytest.approx(unwound(power), rel=5e-3)


def test_what_is_taken_lies_between_the_steep_end_and_the_drawn_curve() -> None:
    """Straight between the points of the drawing, step by step."""
    table, steps = TABLE["drawn_torque"], 20_000
    (_, knee, last), (first, level, _) = table["turns"], table["torque"]
    torques = []
    for step in range(steps):
        turn = (step + 0.5) / steps * last
        torques.append(first - (first - level) * turn / knee if turn < knee else level * (last - turn) / (last - knee))
    time = sum(1.0 / math.sqrt(torque) for torque in torques) / steps
    ratio = first**1.5 / (sum(torques) / steps / time)
    assert ratio == pytest.approx(table["ratio"], abs=table["tolerance"])
    assert burst_of(2.0) <= BURST["rubber"] <= ratio


def test_the_tail_of_a_small_rubber_model() -> None:
    """46 J over 30 s on 240 mm in a glide of 4.5 m/s: q at launch within what was worked out elsewhere."""
    driven = behind(4.5, 1.225, energy_j=46.0, run_s=30.0, diameter_m=0.24, factor=BURST["rubber"])
    low, high = TABLE["tail_at_launch"]["ratio"]
    assert low <= (driven.launch_m_s / 4.5) ** 2 <= high
    assert driven.climb_m_s < driven.launch_m_s


def test_a_budget_by_hand() -> None:
    """10 g at 4 kJ/kg over 30 s: 1.333 W; strength by the launch, need with the square of the speed."""
    block, glide = found(), found(AIR)
    assert (block.speed_from, glide.speed_from) == ("launch", "glide")
    driven = block.stream
    assert driven is not None
    assert driven.power_w == pytest.approx(40.0 / 30.0)
    assert block.speed_m_s == driven.launch_m_s > driven.climb_m_s > driven.flight_m_s == glide.speed_m_s
    assert block.moment_nm == pytest.approx(glide.moment_nm * (driven.launch_m_s / driven.flight_m_s) ** 2)
    told = whole_json(surface=STILL, air=DRIVEN)["surface"]
    assert told["power_W"] == pytest.approx(1.333333)
    assert (told["speed_launch_m_s"], told["factor_launch"]) == (told["speed_m_s"], told["servo_factor"])
    assert told["factor_glide"] == pytest.approx(glide.factor, rel=1e-5)
    assert told["factor_launch"] < told["factor_climb"] < told["factor_glide"]
    assert "power_W" not in whole_json(surface=STILL)["surface"]


@pytest.mark.parametrize(
    ("changes", "paths"),
    [
        ({"motor_run": ""}, ("air.motor_run",)),
        ({"motor_run": "0 s"}, ("air.motor_run",)),
        ({"rubber_energy": ""}, ("air.rubber_energy",)),
        ({"rubber_energy": "x"}, ("air.rubber_energy",)),
        ({"propeller_diameter": "x"}, ("air.propeller_diameter",)),
        ({"propeller_diameter": ""}, ()),
        ({"launch": "motor"}, ("air.work",)),
        ({"launch": "catapult", "work": "2 J"}, ()),
        ({"launch": "towline", "height": "30 m"}, ()),
    ],
)
def test_what_is_not_known_leaves_the_glide_and_is_named(changes: dict[str, str], paths: tuple[str, ...]) -> None:
    air = {**DRIVEN, **changes}
    block = found(air)
    assert block.stream is None
    assert block.speed_from == "glide"
    assert "in the glide; a climb or a dive is faster" in surface_words.surface_sentence(block, METRIC)
    assert missing("surface", surface=STILL, air=air) == paths


def test_without_rubber_its_mass_is_asked_for() -> None:
    model = {"class": "own", "airframe": "44 g", "wing_area": "8.6 dm²"}
    assert missing("surface", surface=STILL, air=DRIVEN, model=model) == ("model.rubber",)


def test_the_typed_speed_without_an_air_has_no_stream() -> None:
    model = {"class": "own", "airframe": "44 g", "rubber": "10 g"}
    assert found(surface=SURFACE, model=model).stream is None


def test_the_more_of_two_energies_is_taken() -> None:
    """10 g at 4 kJ/kg are 40 J; the motor's own 10 g at 9 kJ/kg, 80 % of the turns: at most 67 J."""
    motor = {"strands": 6, "width": "3 mm", "thickness": "1 mm", "mass": "10 g", "energy": "9 kJ/kg"}
    for air, energy_j in ((DRIVEN, 90.0 * 0.8**1.3), ({**DRIVEN, "rubber_energy": "8 kJ/kg"}, 80.0)):
        driven = found(air, motor=motor).stream
        assert driven is not None
        assert driven.energy_j == pytest.approx(energy_j)
    only = found({**DRIVEN, "rubber_energy": ""}, motor=motor).stream
    assert only is not None
    assert found({**DRIVEN, "rubber_energy": ""}, motor={**motor, "energy": ""}).stream is None


def test_an_electric_motor_keeps_its_power() -> None:
    driven = found({"launch": "motor", "work": "60 J", "motor_run": "20 s", "propeller_diameter": "125 mm"}).stream
    assert driven is not None
    assert driven.power_w == pytest.approx(3.0)
    at_launch = worst.stream_speed(driven.start_m_s, 3.0 * BURST["motor"], 0.125, 1.2041)
    assert driven.launch_m_s == pytest.approx(at_launch, rel=1e-3)


def test_a_timed_motor_run_goes_before_a_told_one() -> None:
    timed = {"timed_height": "30 m", "timed_glide": "60 s", "timed_motor": "24 s"}
    driven = found({**DRIVEN, **timed}).stream
    assert driven is not None
    assert driven.run_s == 24.0


def test_the_worst_end_decides_and_the_words_tell_all_three() -> None:
    """Torque between what the glide asks and what the launch does."""
    weak = {**STILL, "torque": "0.3 mN m"}
    answer, gentle = whole(surface=weak, air=DRIVEN), whole(surface=weak)
    assert (answer.whole.parts["strength"], gentle.whole.parts["strength"]) == ("bad", "good")
    assert "times the strength it needs at launch" in headline.headline(answer, METRIC)
    assert answer.surface is not None
    said = surface_words.surface_sentence(answer.surface, METRIC)
    assert "behind the propeller at launch, at most; " in said
    assert "in the climb, " in said
    assert said.endswith("times in the glide): too weak.")
    assert "at launch" in surface_words.brief(answer, METRIC)


def test_far_lighter_is_said_only_if_the_launch_allows_it() -> None:
    strong = found(surface={**STILL, "torque": "9 mN m"})
    assert "a far lighter one would still do." in surface_words.surface_sentence(strong, METRIC)
    typed = {**SURFACE, "speed": "4 m/s", "torque": "0.9 mN m"}
    assert found(AIR, typed).far_stronger
    told = found(surface=typed)
    assert not told.far_stronger
    said = surface_words.surface_sentence(told, METRIC)
    assert "At 4 m/s (design speed)" in said
    assert "Behind the propeller the air may come with 7.9 m/s at launch, more than the design speed: there" in said
    fast = surface_words.surface_sentence(found(surface={**typed, "speed": "15 m/s"}), METRIC)
    assert "Behind the propeller" not in fast
    unrated = surface_words.surface_sentence(found(surface={**typed, "torque": ""}), METRIC)
    assert unrated.endswith("at launch, more than the design speed.")
    assert "times in the climb" not in surface_words.surface_sentence(found(surface={**STILL, "torque": ""}), METRIC)


FLIGHT, ENERGY, RUN = st.floats(0.5, 12.0), st.floats(0.1, 500.0), st.floats(3.0, 300.0)
DIAMETER, MORE = st.floats(0.05, 0.6), st.floats(1.0, 4.0)


@given(FLIGHT, ENERGY, RUN, DIAMETER, MORE, st.sampled_from(sorted(BURST.values())))
def test_more_power_or_a_smaller_propeller_never_slows_the_air(
    flight: float, energy_j: float, run_s: float, diameter_m: float, more: float, factor: float
) -> None:  # fmt: skip
    now = {"energy_j": energy_j, "run_s": run_s, "diameter_m": diameter_m, "factor": factor}
    before = behind(flight, 1.2, **now)
    for name, item in (("energy_j", energy_j * more), ("run_s", run_s / more), ("diameter_m", diameter_m / more)):
        after = behind(flight, 1.2, **{**now, name: item})
        assert after.climb_m_s >= before.climb_m_s - 1e-9
        assert after.launch_m_s >= before.launch_m_s - 1e-9
    assert flight <= before.climb_m_s <= before.launch_m_s + 1e-9


@given(FLIGHT, MORE, ENERGY, DIAMETER)
def test_a_faster_glide_never_makes_the_launch_gentler(
    flight: float, more: float, energy_j: float, diameter_m: float
) -> None:
    """In the hand the stream of a strong propeller is faster than in flight: the faster one is taken."""
    ends = [
        behind(each, 1.2, energy_j=energy_j, run_s=30.0, diameter_m=diameter_m, factor=5.0).launch_m_s
        for each in (flight, flight * more)
    ]
    assert ends[0] <= ends[1] + 1e-9


@given(st.integers(1, 12), st.integers(0, 5), st.integers(10, 60), st.integers(80, 400))
def test_a_budget_with_more_power_never_asks_for_less(kilojoule: int, more: int, run_s: int, diameter_mm: int) -> None:
    def need(energy: int, run: int, diameter: int) -> float:
        air = {"rubber_energy": f"{energy} kJ/kg", "motor_run": f"{run} s", "propeller_diameter": f"{diameter} mm"}
        return found({**AIR, **air}).moment_nm

    before = need(kilojoule, run_s, diameter_mm)
    assert need(min(12, kilojoule + more), run_s, diameter_mm) >= before - 1e-12
    assert need(kilojoule, run_s - more, diameter_mm) >= before - 1e-12
    assert need(kilojoule, run_s, diameter_mm - 10 * more) >= before - 1e-12
    assert before >= found(AIR).moment_nm - 1e-12
