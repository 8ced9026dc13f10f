"""Sag, cold and rate against PyBaMM's figures; the run's low and high end, and which way they may move."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.power import cold, endurance, sag, span
from calc.subjects.power.endurance import Load, Pack, Supply
from calc.subjects.power.sag import Reading, Resistance
from tests.support import reference

TABLE, CIRCUIT = reference("cold_and_rate"), reference("thevenin")
SETS = ("Ai2020", "Ecker2015", "Marquis2019")
KELVIN, RATE = st.floats(253.15, 333.15), st.floats(0.0, 8.0)
PACK = Pack(capacity_c=108.0, resistance_ohm=None, cutoff_v=3.3)
LOAD = Load(mean_a=0.030, peak_a=0.090, min_volts=3.0)
BOOST = Supply(volts=5.0, efficiency=0.85)


def test_sag_is_that_of_pybamms_circuit() -> None:
    """PyBaMM's Thevenin model of one RC branch: the sag at five times into the load, within 2 mV."""
    circuit = CIRCUIT["circuit"]
    resistance = Resistance(
        at_once_ohm=circuit["r0_ohm"], later_ohm=circuit["r1_ohm"], tau_s=circuit["tau_s"]
    )  # fmt: skip
    for time_s, rest_v, loaded_v in circuit["rows"]:
        assert rest_v - sag.sag(0.1, resistance, time_s) == pytest.approx(loaded_v, abs=0.002)


@pytest.mark.parametrize(("time_s", "volts"), [(0.0, 3.9974), (30.0, 3.9434), (60.0, 3.9180)])
def test_the_circuit_is_the_one_of_the_references(time_s: float, volts: float) -> None:
    """The same run as worked out before, independently of the table beside it: 2 mV."""
    rows = {row[0]: row[2] for row in CIRCUIT["circuit"]["rows"]}
    assert rows[time_s] == pytest.approx(volts, abs=0.002)


def test_resistance_times_capacity_lies_where_cells_lie() -> None:
    """PyBaMM's cells after 1 s and 10 s: two of three lie in the range, the third, of a car, below it."""
    low, _, high = (each.settled_ohm * 1e3 for each in sag.usual(3600.0))
    assert [low, high] == pytest.approx([70.0, 110.0])
    for name in ("Ai2020", "Marquis2019"):
        assert all(low <= each <= high for each in CIRCUIT["pulse"][name])
    assert max(CIRCUIT["pulse"]["Ecker2015"]) < low
    assert CIRCUIT["pulse"]["Ai2020"] == pytest.approx([97.0, 108.0], rel=0.05)  # the same, worked out elsewhere


def test_the_usual_time_constant_joins_the_two_figures() -> None:
    """34 mohm Ah at once (a data sheet) and 94 of 103 after 1 s (PyBaMM, Ai2020)."""
    after_1, after_10 = CIRCUIT["pulse"]["Ai2020"]
    found = Resistance(at_once_ohm=34.0, later_ohm=after_10 - 34.0)
    assert found.after(0.0) == pytest.approx(34.0)
    assert found.after(1.0) == pytest.approx(after_1, abs=0.1)
    sheet = reference("cell")["data_sheet_resistance"]
    ohm = sag.usual(sheet["mAh"] * 3.6)[0].at_once_ohm
    assert ohm == pytest.approx(sheet["ohm"], rel=sheet["relative_tolerance"])


def test_a_meter_at_1_khz_shows_less_than_half() -> None:
    assert [each.settled_ohm / 0.34 for each in sag.from_meter(0.34)] == pytest.approx(
        [70 / 34, math.sqrt(70 * 110) / 34, 110 / 34]
    )
    assert all(each.at_once_ohm == 0.34 for each in sag.from_meter(0.34))


@given(st.floats(3.5, 4.2), st.floats(0.0, 0.1), st.floats(0.01, 0.3), st.floats(0.1, 3.0))
def test_two_loads_give_the_resistance_back(rest_v: float, light_a: float, more_a: float, ohm: float) -> None:
    """Ohm's law there and back."""
    light, heavy = (Reading(volts=rest_v - a * ohm, current_a=a) for a in (light_a, light_a + more_a))
    if heavy.volts <= 0.0:
        return
    found = sag.bench(light, heavy, 0.001)
    assert [found.ohm, found.rest_v] == pytest.approx([ohm, rest_v], rel=1e-6)
    assert found.low_ohm <= found.ohm <= found.high_ohm
    assert found.high_ohm - found.ohm == pytest.approx(0.001 / more_a)


@pytest.mark.parametrize(
    ("light", "heavy"),
    [((3.9, 0.05), (3.8, 0.05)), ((3.9, 0.05), (3.8, 0.02)), ((3.8, 0.02), (3.9, 0.05)), ((3.8, -0.1), (3.7, 0.05)),
     ((3.8, 0.0), (0.0, 0.05)), ((3.8, math.nan), (3.7, 0.05))],
)  # fmt: skip
def test_readings_that_make_no_sense_are_refused(light: tuple[float, float], heavy: tuple[float, float]) -> None:
    with pytest.raises(OutOfRangeError):
        sag.bench(Reading(volts=light[0], current_a=light[1]), Reading(volts=heavy[0], current_a=heavy[1]))


def test_a_short_pull_sags_less_than_a_long_one() -> None:
    """At once R0 alone, for ever R0 + R1, on top of the mean's R0 + R1: by hand."""
    two = Resistance(at_once_ohm=1.0, later_ohm=2.0, tau_s=1.0)
    assert sag.volts_under_pull(4.0, 0.1, 0.3, two, 0.0) == pytest.approx(4.0 - 0.3 - 0.2)
    assert sag.volts_under_pull(4.0, 0.1, 0.3, two, 1e3) == pytest.approx(4.0 - 0.9)
    assert sag.volts_under_pull(4.0, 0.1, 0.1, two) == pytest.approx(3.7)
    with pytest.raises(OutOfRangeError):
        sag.volts_under_pull(4.0, 0.3, 0.1, two)


@pytest.mark.parametrize("row", range(5))
@pytest.mark.parametrize("column", range(7))
def test_the_band_is_that_of_the_three_cells(row: int, column: int) -> None:
    """Least and most of PyBaMM's three, lowered where the solver's failures would let them rise again."""
    kelvin, rate = TABLE["celsius"][row] + 273.15, TABLE["rates"][column]
    reach = [[TABLE[name]["share"][r][c] for r in range(row, 5) for c in range(column + 1)] for name in SETS]
    here = [TABLE[name]["share"][row][column] for name in SETS]
    low, high = cold.share_band(kelvin, rate)
    assert low == pytest.approx(min(min(each) for each in reach), abs=1e-9)
    assert high == pytest.approx(max(here), abs=1e-9)


@pytest.mark.parametrize(
    ("celsius", "rate", "low", "high"), [(0.0, 0.85, 0.77, 0.95), (0.0, 1.5, 0.47, 0.74), (-10.0, 0.85, 0.30, 0.72)]
)
def test_the_cells_by_their_own_labels(celsius: float, rate: float, low: float, high: float) -> None:
    """Worked out elsewhere with PyBaMM, rates by nominal capacity; the label counted here makes Marquis2019 worse."""
    shares = [row[2] for name in SETS for row in TABLE[name]["nominal"] if row[:2] == [celsius, rate]]
    assert [min(shares), max(shares)] == pytest.approx([low, high], abs=0.011)


def test_data_sheets_lie_within_the_band() -> None:
    """Two cell data sheets: at least 60 % at −20 °C, 85 % at −10 °C, drawn in five hours."""
    table = reference("cell")["capacity"]
    for celsius, share in zip(table["celsius"], table["share"], strict=True):
        low, high = cold.share_band(celsius + 273.15, 0.2)
        assert low - 0.01 <= share <= high


@given(KELVIN, st.floats(0.0, 20.0), RATE, st.floats(0.0, 2.0))
def test_colder_or_faster_never_gives_more(kelvin: float, warmer: float, rate: float, slower: float) -> None:
    here = cold.share_band(kelvin, rate)
    easier = cold.share_band(min(333.15, kelvin + warmer), max(0.0, rate - slower))
    assert here[0] <= here[1]
    assert all(hard <= easy + 1e-12 for hard, easy in zip(here, easier, strict=True))


@pytest.mark.parametrize(("kelvin", "rate"), [(250.0, 1.0), (340.0, 1.0), (293.15, -0.1), (293.15, math.inf)])
def test_what_lies_outside_is_refused(kelvin: float, rate: float) -> None:
    with pytest.raises(OutOfRangeError):
        cold.share_band(kelvin, rate)


def times(pack: Pack, kelvin: float, load: Load, reserve: float = 0.2) -> tuple[float, float, float]:
    """Return low, middle and high end of a run [s]."""
    found = span.run_span(pack, kelvin, load, reserve)
    return found.low.time_s, found.middle.time_s, found.high.time_s


@given(KELVIN, st.floats(0.0, 15.0), st.floats(0.002, 0.2), st.floats(1.0, 1.5), st.floats(0.4, 1.0), st.booleans())
def test_colder_faster_drawn_older_never_lasts_longer(
    kelvin: float, warmer: float, mean_a: float, harder: float, left: float, boosted: bool
) -> None:
    """Each end of the run, straight on the gear and through a converter."""
    load = Load(mean_a=mean_a, peak_a=2.0 * mean_a, min_volts=3.0, supply=BOOST if boosted else None)
    pack = replace(PACK, left=left)
    now = times(pack, kelvin, load)
    assert now[0] <= now[1] + 1e-9 <= now[2] + 2e-9
    more = replace(load, mean_a=mean_a * harder, peak_a=2.0 * mean_a * harder)
    for other in (
        times(pack, max(253.15, kelvin - warmer), load),
        times(pack, kelvin, more),
        times(replace(pack, left=0.9 * left), kelvin, load),
        times(pack, kelvin, load, 0.3),
        times(pack, kelvin, replace(load, peak_a=3.0 * mean_a)),
    ):
        assert all(worse <= better + 1e-6 for worse, better in zip(other, now, strict=True))


def test_the_circuit_alone_is_the_run_that_was_checked() -> None:
    """Where the share does not bind (20 °C, C/5, no reserve), the run is `endurance`'s, itself checked with PyBaMM."""
    load = Load(mean_a=0.006, peak_a=0.006)
    own = replace(PACK, resistance_ohm=2.0)
    found = span.run_span(own, 293.15, load, 0.0)
    plain = endurance.run(endurance.today(own, 293.15), load, 0.0)
    assert found.low == found.high == plain


def test_the_share_bounds_the_run() -> None:
    """0 °C at 1C: 0.664 to 0.825 of 30 mAh, a fifth kept, at 30 mA; by hand."""
    low, middle, high = times(replace(PACK, resistance_ohm=0.5), 273.15, Load(mean_a=0.030, peak_a=0.030))
    assert [low, high] == pytest.approx([0.8 * 0.664 * 3600, 0.8 * 0.825 * 3600])
    assert middle == pytest.approx((low + high) / 2)
    found = span.run_span(replace(PACK, resistance_ohm=0.5), 273.15, Load(mean_a=0.030, peak_a=0.030), 0.2)
    assert found.low.ends_by == "reserve"
    assert span.run_span(PACK, 273.15, Load(mean_a=0.030, peak_a=0.030), 0.0).low.ends_by == "cutoff"


def test_a_short_pull_browns_out_later_than_a_long_one() -> None:
    """The usual cell meets a pull with less than all its resistance; one measured at DC with all of it."""
    load = replace(LOAD, min_volts=3.2)
    short, long = (span.run_span(PACK, 293.15, load, 0.0, pull_s=pull_s).low for pull_s in (0.0, 1e4))
    assert (short.ends_by, long.ends_by) == ("cutoff", "brownout")
    assert short.time_s > long.time_s
    assert long.lowest_v == pytest.approx(3.2)
    dc = replace(PACK, resistance_ohm=110e-3 / 0.030)
    assert span.run_span(dc, 293.15, load, 0.0, pull_s=0.0).low.time_s == pytest.approx(long.time_s)


def test_cells_in_series_last_as_long_as_one() -> None:
    two = replace(PACK, series=2)
    load = replace(LOAD, min_volts=6.0)
    assert times(two, 273.15, load) == pytest.approx(times(PACK, 273.15, LOAD))


def test_a_collapsed_converter_has_no_lowest_voltage() -> None:
    low = span.run_span(PACK, 253.15, Load(mean_a=0.1, peak_a=0.5, supply=BOOST), 0.2).low
    assert (low.time_s, low.lowest_v) == (0.0, None)
