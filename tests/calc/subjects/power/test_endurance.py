"""Run time against an outside model, and what ends the run."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.power import endurance, plan
from calc.subjects.power.cell import OPEN_CIRCUIT, Table, open_circuit_voltage
from calc.subjects.power.endurance import Consumer, Load, Source, Supply
from calc.subjects.power.plan import Plan
from tests.support import reference

TABLE = reference("cell")
POWER = reference("constant_power")
FRESH = Source(capacity_c=108.0, resistance_ohm=1.0, cutoff_v=3.3)
BOOST = Supply(volts=5.0, efficiency=0.8)
DRAW = st.floats(0.005, 0.3)
SUPPLY = st.one_of(
    st.none(),
    st.builds(Supply, volts=st.floats(3.0, 6.0), efficiency=st.floats(0.5, 1.0), min_input_v=st.floats(0.0, 3.6)),
)
LOAD = st.builds(
    lambda mean_a, more_a, min_volts, supply: Load(
        mean_a=mean_a, peak_a=mean_a + more_a, min_volts=min_volts, supply=supply
    ),
    DRAW, st.floats(0.0, 0.5), st.one_of(st.none(), st.floats(2.5, 3.5)), SUPPLY,
)  # fmt: skip


def piecewise(table: dict[str, list[float]]) -> Table:
    return tuple(zip(table["state"], table["volts"], strict=True))


def test_constant_resistance_run() -> None:
    """PyBaMM 26.10.1.1 Thevenin model: the run ends at 2253.1 s."""
    run = TABLE["constant_resistance_run"]
    source = Source(
        capacity_c=run["mAh"] * 3.6, resistance_ohm=run["ohm"], cutoff_v=run["cutoff_V"], table=piecewise(run)
    )
    current = run["mA"] / 1e3
    found = endurance.run(source, Load(mean_a=current, peak_a=current), 0.0, start=run["start"])
    assert found.time_s == pytest.approx(run["seconds"], abs=run["tolerance_s"])
    assert found.ends_by == "cutoff"


@pytest.mark.parametrize(("mah", "ohm", "watt", "cutoff_v", "seconds"), POWER["runs"])
def test_constant_power_runs(mah: float, ohm: float, watt: float, cutoff_v: float, seconds: float) -> None:
    """PyBaMM 26.10.1.1 Thevenin model in operating mode power; here a converter that loses nothing."""
    source = Source(capacity_c=mah * 3.6, resistance_ohm=ohm, cutoff_v=cutoff_v, table=piecewise(POWER))
    load = Load(mean_a=watt / 5.0, peak_a=watt / 5.0, supply=Supply(volts=5.0, efficiency=1.0))
    found = endurance.run(source, load, 0.0, start=POWER["start"])
    assert found.time_s == pytest.approx(seconds, abs=POWER["tolerance_s"])
    assert found.ends_by == "cutoff"


def test_sag_under_load() -> None:
    """A data sheet's cell by Ohm's law, and the first instant of PyBaMM's example circuit."""
    sag, circuit = TABLE["sag"], TABLE["thevenin_sag"]
    flat = ((0.0, 3.0), (1.0, sag["rest_V"]))
    cell = Source(capacity_c=288.0, resistance_ohm=sag["ohm"], cutoff_v=3.0, table=flat)
    load = Load(mean_a=sag["A"], peak_a=sag["A"])
    assert load.volts_under(cell, 1.0, sag["A"]) == pytest.approx(sag["volts"], abs=1e-9)
    cell = Source(capacity_c=360.0, resistance_ohm=circuit["ohm"], cutoff_v=3.0)
    load = Load(mean_a=circuit["A"], peak_a=circuit["A"])
    volts = load.volts_under(cell, 1.0, circuit["A"])
    assert volts is not None
    assert OPEN_CIRCUIT[-1][1] - volts == pytest.approx(circuit["sag_V"], abs=circuit["tolerance_V"])


@given(st.floats(0.0, 1.0), DRAW)
def test_under_a_converter_the_cell_gives_the_power(state: float, draw_a: float) -> None:
    """Ohm's law and power at once: (OCV − v) v / R is the power, and `rest_volts` leads back."""
    load = Load(mean_a=draw_a, peak_a=draw_a, supply=BOOST)
    rest_v, volts = open_circuit_voltage(state), load.volts_under(FRESH, state, draw_a)
    assert volts is not None
    assert (rest_v - volts) * volts / FRESH.resistance_ohm == pytest.approx(5.0 * draw_a / 0.8)
    assert load.rest_volts(FRESH, volts, draw_a) == pytest.approx(rest_v)


def test_draws_worked_by_hand() -> None:
    """28 mA all the time; 6 mA, and 160 mA for 8 % of it: 46.32 mA; all at work 188 mA."""
    gear = [Consumer(quiet_a=0.028, min_volts=3.1), Consumer(quiet_a=0.006, busy_a=0.160, busy_share=0.08)]
    assert endurance.mean_draw(gear) == pytest.approx(0.04632)
    assert endurance.peak_draw(gear) == pytest.approx(0.188)
    assert endurance.needed_volts([*gear, Consumer(min_volts=2.8)]) == 3.1
    assert endurance.needed_volts([Consumer()]) is None


@pytest.mark.parametrize(
    ("reserve", "min_volts", "peak_a", "resistance", "ends_by"),
    [
        (0.2, None, 0.05, 1.0, "reserve"),
        (0.05, None, 0.05, 1.0, "cutoff"),
        (0.05, 3.4, 0.4, 1.0, "brownout"),
        (0.0, 3.3, 0.05, 0.0, "cutoff"),
        (0.0, 0.0, 0.05, 1.0, "cutoff"),
    ],
)
def test_the_first_end_is_named(
    reserve: float, min_volts: float | None, peak_a: float, resistance: float, ends_by: str
) -> None:  # fmt: skip
    """The last case but one is a tie of cut-off and brown-out: the cut-off is named."""
    source = Source(capacity_c=108.0, resistance_ohm=resistance, cutoff_v=3.3)
    load = Load(mean_a=0.05, peak_a=peak_a, min_volts=min_volts)
    assert endurance.run(source, load, reserve).ends_by == ends_by


def test_reserve_wins_a_tie_with_the_cutoff() -> None:
    """At s = 0.1 the table has 3.640 V; with no resistance a cut-off of 3.640 V and a reserve of 10 % meet there."""
    source = Source(capacity_c=108.0, resistance_ohm=0.0, cutoff_v=3.640)
    assert endurance.run(source, Load(mean_a=0.05, peak_a=0.05), 0.1).ends_by == "reserve"


def test_a_cell_that_browns_out_when_full_runs_no_time() -> None:
    found = endurance.run(FRESH, Load(mean_a=0.05, peak_a=1.0, min_volts=3.5), 0.2)
    assert found.time_s == 0.0
    assert found.ends_by == "brownout"
    assert found.lowest_v == pytest.approx(3.2)


def test_lowest_voltage_is_at_the_end_with_everything_at_work() -> None:
    """OCV(0.2) = 3.695 V, less 0.188 A through 1 ohm."""
    assert endurance.run(FRESH, Load(mean_a=0.05, peak_a=0.188), 0.2).lowest_v == pytest.approx(3.695 - 0.188)


def by_small_steps(source: Source, load: Load, start: float, end: float) -> float:
    """Return ∫ C v(s)/P ds by the midpoint rule; past the collapse the cell gives its most, at half voltage."""
    steps = 20_000
    assert load.supply is not None
    size = (start - end) / steps
    states = [end + (n + 0.5) * size for n in range(steps)]
    volts = sum(load.volts_under(source, s, load.mean_a) or open_circuit_voltage(s, source.table) / 2 for s in states)
    return source.capacity_c * volts * size / load.supply.power(load.mean_a)


@pytest.mark.parametrize(
    ("ohm", "watt", "start", "end"), [(1.0, 0.3, 1.0, 0.0), (0.0, 0.3, 0.95, 0.13), (1.0, 3.909**2 / 4, 1.0, 0.0)]
)
def test_time_under_a_converter_is_the_integral(ohm: float, watt: float, start: float, end: float) -> None:
    """The closed form against small steps; the last case goes on past the collapse at s = 0.7."""
    source = replace(FRESH, resistance_ohm=ohm)
    load = Load(mean_a=watt / 5, peak_a=watt / 5, supply=Supply(volts=5.0, efficiency=1.0))
    expected = by_small_steps(source, load, start, end)
    assert endurance.run_time(source, load, start, end) == pytest.approx(expected, rel=1e-6)


def test_time_on_a_level_table() -> None:
    """Worked by hand: 4 V at rest and 0.75 W through 1 ohm is 3.7913 V, so 100 C last 505.5 s."""
    level = Source(capacity_c=100.0, resistance_ohm=1.0, cutoff_v=3.0, table=((0.0, 4.0), (1.0, 4.0)))
    load = Load(mean_a=0.15, peak_a=0.15, supply=Supply(volts=5.0, efficiency=1.0))
    assert endurance.run_time(level, load, 1.0, 0.0) == pytest.approx(100 * (2 + math.sqrt(3.25)) / 0.75)


@given(LOAD, st.floats(0.0, 5.0), st.floats(0.0, 5.0), st.floats(0.0, 0.5))
def test_more_resistance_never_lengthens(load: Load, ohm: float, more_ohm: float, reserve: float) -> None:
    before = endurance.run(replace(FRESH, resistance_ohm=ohm), load, reserve)
    after = endurance.run(replace(FRESH, resistance_ohm=ohm + more_ohm), load, reserve)
    assert after.time_s <= before.time_s + 1e-6


@given(LOAD, st.floats(0.3, 1.0), st.floats(0.0, 0.5))
def test_a_worse_converter_never_lengthens(load: Load, share: float, reserve: float) -> None:
    supply = load.supply or BOOST
    worse = replace(supply, efficiency=share * supply.efficiency)
    before = endurance.run(FRESH, replace(load, supply=supply), reserve)
    assert endurance.run(FRESH, replace(load, supply=worse), reserve).time_s <= before.time_s + 1e-6


@pytest.mark.parametrize(
    ("mean_a", "peak_a", "reserve", "start"),
    [
        (0.0, 0.1, 0.2, 1.0),
        (math.nan, 0.1, 0.2, 1.0),
        (0.2, 0.1, 0.2, 1.0),
        (0.05, 0.1, 1.2, 1.0),
        (0.05, 0.1, 0.2, 1.1),
    ],
)
def test_impossible_runs_are_refused(mean_a: float, peak_a: float, reserve: float, start: float) -> None:
    with pytest.raises(OutOfRangeError):
        endurance.run(FRESH, Load(mean_a=mean_a, peak_a=peak_a), reserve, start)


def test_impossible_arguments_are_refused() -> None:
    load = Load(mean_a=0.05, peak_a=0.05)
    with pytest.raises(OutOfRangeError):
        endurance.mean_draw([Consumer(quiet_a=-0.1)])
    with pytest.raises(OutOfRangeError):
        endurance.mean_draw([Consumer(quiet_a=0.1, busy_a=0.2, busy_share=1.01)])
    with pytest.raises(OutOfRangeError):
        endurance.mean_draw([Consumer(quiet_a=0.1, busy_a=-0.2, busy_share=0.5)])
    with pytest.raises(OutOfRangeError):
        plan.flights_per_cell(100.0, Plan(on_s=0.0))
    with pytest.raises(OutOfRangeError):
        plan.flights_per_cell(100.0, Plan(on_s=60.0, pause_s=-1.0, pause_share=0.5))
    with pytest.raises(OutOfRangeError):
        plan.flights_per_cell(-1.0, Plan(on_s=60.0))
    with pytest.raises(OutOfRangeError):
        plan.charge_time(108.0, 0.0)
    with pytest.raises(OutOfRangeError):
        plan.charge_time(-1.0, 0.03)
    for start, end in [(0.4, 0.5), (1.1, 0.5), (0.5, -0.1)]:
        with pytest.raises(OutOfRangeError):
            endurance.run_time(FRESH, load, start, end)
    with pytest.raises(OutOfRangeError):
        endurance.run(replace(FRESH, resistance_ohm=math.nan), load, 0.2)


def test_a_reserve_below_nothing_is_refused() -> None:
    with pytest.raises(OutOfRangeError) as refused:
        endurance.run(FRESH, Load(mean_a=0.06, peak_a=0.06), -0.1)
    assert refused.value.name == "reserve"
