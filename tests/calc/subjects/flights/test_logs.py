"""Log files of all kinds: the flight is found, what was taken for granted is told; hostile ones get one sentence."""

import math
import random

import pytest

from calc.subjects.flights import logfile, taken
from calc.subjects.flights.borders import ORDER
from calc.subjects.flights.clean import cleaned, step_of, stretches
from calc.subjects.flights.logs import SENTENCES, LogError, Recording, Wishes
from calc.subjects.flights.parts import Flown, _launch, flights_in
from calc.unit_system import UnitSystem
from tests.calc.subjects.flights.made import Points, flight, table
from tests.calc.subjects.flights.test_pressure import pressure_at


def only(text: str, wishes: Wishes | None = None) -> Flown:
    (found,) = logfile.read(text, wishes).flights
    return found


def right(found: Flown, height: float = 50.0, sink: float = 0.5) -> None:
    """Assert that it is the flight of `made`."""
    assert found.height_m == pytest.approx(height, abs=0.03 * height)
    assert found.sink is not None
    assert found.sink.slope == pytest.approx(sink, abs=0.02 * sink)
    assert found.top_s - found.launch_s == pytest.approx(25.0, abs=2.5)


FEET = [(second, height / 0.3048) for second, height in flight()]
TABLES = {
    "metres": (table(flight()), "Heights are metres, as the heading says."),
    "commas": (table(flight(), "time,altitude (m)", ","), "“altitude (m)” is taken as the height"),
    "tabs": (table(flight(), "t\taltitude", "\t"), "nothing says so; if they are feet, say it"),
    "decimal commas": ("\ufeff" + table(flight()).replace(".", ","), "Heights are metres"),
    "feet": (table(FEET, "Time (s);Altitude (ft)"), "Heights are feet, as the heading says."),
    "milliseconds": (table([(1000 * t, h) for t, h in flight()], "time;height m"), "taken as milliseconds"),
    "milliseconds told": (table([(1000 * t, h) for t, h in flight()], "time_ms;height m"), "milliseconds, as the"),
    "minutes": (table([(t / 60, h) for t, h in flight()], "time (min);height m"), "Times are minutes"),
    "centimetres": (
        "sec;alt\n" + "\n".join(f"{t:.0f};{100 * h:.0f}" for t, h in flight()), "taken as centimetres"),
    "pascals": (table([(t, pressure_at(h + 200)) for t, h in flight()], "s;pressure"), "taken as Pa"),
    "hectopascals": (
        "time;baro\n" + "\n".join(f"{t};{pressure_at(h) / 100:.4f}" for t, h in flight()), "taken as hPa"),
    "no headings": ("\n".join(f"{t};{h:.2f}" for t, h in flight()), "taken as the height"),
    "clock": ("time;height m\n" + "\n".join(
        f"10:{15 + int(t) // 60:02d}:{int(t) % 60:02d};{h:.2f}" for t, h in flight()), "taken as seconds"),
    "ISO 8601": ("timestamp,height m\n" + "\n".join(
        f"2026-06-01T10:{15 + int(t) // 60:02d}:{int(t) % 60:02d}Z,{h:.2f}" for t, h in flight()), "taken as seconds"),
    "headings again": (
        table(flight()[:60]) + "\n" + table(flight()[60:]), "heading that comes again"),
    "two sensors": (
        "time;gps altitude;pressure;height\n" + "\n".join(
            f"{t};{300 + random.Random(t).gauss(0, 20):.1f};{pressure_at(h):.2f};0" for t, h in flight()),
        "taken as the pressure; left aside: height"),
}  # fmt: skip


@pytest.mark.parametrize("name", TABLES)
def test_tables(name: str) -> None:
    text, said = TABLES[name]
    right(only(text))
    assert said in " ".join(logfile.read(text).told)


def test_what_the_visitor_says_goes_first() -> None:
    right(only(table(FEET, "time;altitude"), Wishes(unit="ft")))
    right(only(table(flight(), "x;height m"), Wishes(rate=1.0)))
    warm = only(table(flight()), Wishes(ground_k=303.15))
    assert warm.height_m == pytest.approx(52.6, abs=0.2)
    assert warm.sink is not None
    assert warm.sink.slope == pytest.approx(0.526, abs=0.003)


HOSTILE = {
    "nothing": ("", "no_log"),
    "one line of a megabyte": ("x" * 1_000_000, "no_log"),
    "a megabyte within": (table(flight()) + "\n" + "9" * 1_000_000, ""),
    "too much": ("\n" * 20_000_001, "too_large"),
    "zeros": (table([(float(t), 0.0) for t in range(200)]), "all_equal"),
    "two samples": (table(flight()[:2]), "too_few"),
    "time going back": (table(list(reversed(flight()))), "too_few"),
    "NaN": ("time;height\n" + "\n".join(f"{t};nan" for t in range(100)), "too_few"),
    "no height": ("time;speed;volts\n" + "\n".join(f"{t};3;4" for t in range(100)), "no_height"),
    "no time": ("x;height\n" + "\n".join(f"a;{h}" for _, h in flight()), "no_time"),
    "never up": (table([(float(t), 0.3 * math.sin(t)) for t in range(200)]), "no_flight"),
    "no air": ("time;pressure\n" + "\n".join(f"{t};3" for t in range(100)), "no_log"),
    "letters": ("time;height\n" + "ä;ö\n" * 100, "too_few"),
    "a quote that never ends": ('time;height\n"' + "1;2\n" * 200_000, "no_log"),
    "bytes": ("time;height\0\n" + "\n".join(f"{t};{h}" for t, h in flight()), ""),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_files_get_one_sentence(name: str) -> None:
    text, code = HOSTILE[name]
    if not code:
        assert logfile.read(text).flights
        return
    with pytest.raises(LogError) as refused:
        logfile.read(text)
    assert refused.value.code == code
    assert str(refused.value).endswith(".")
    assert set(SENTENCES) >= {code}


def test_what_is_out_of_order_is_left_out_and_told() -> None:
    """Numbers that are none, an impossible pressure, a spike: counted; the flight stays."""
    rows = table(flight(noise_m=0.02)).splitlines()
    broken = [*rows[:30], "31;inf", "x;y", "32", *rows[30:]]
    assert "Left out: 3 lines without a number where one should be." in logfile.read("\n".join(broken)).told
    spiked = [(t, h + 200.0 if t == 100.0 else h) for t, h in flight(noise_m=0.02)]
    found = logfile.read(table(spiked))
    right(found.flights[0])
    assert "Left out: 1 spike." in found.told
    pressed = table([(t, 3.0 if t == 100.0 else pressure_at(h)) for t, h in flight()], "time;pressure")
    assert "Left out: 1 pressure that no air has." in logfile.read(pressed).told


def test_several_flights() -> None:
    """One after the other, and parted by a clock that starts anew."""
    points: Points = []
    for number in range(3):
        points += [(number * 166.0 + t, h + 0.3 * number) for t, h in flight(noise_m=0.05, seed=number)]
    found = logfile.read(table(points)).flights
    assert len(found) == 3
    for each in found:
        right(each)
    assert [each.launch_s for each in found] == pytest.approx([20.0, 186.0, 352.0], abs=2.0)
    anew = logfile.read(table([*flight(), *flight()]))
    assert len(anew.flights) == 2


def test_a_tree_a_drifting_sensor_and_a_record_that_is_cut() -> None:
    tree = only(table(flight(landed_m=12.0, noise_m=0.05)))
    assert tree.landed_m == pytest.approx(12.0, abs=0.3)
    right(tree)
    drifting = only(table([(t, h + 0.005 * t) for t, h in flight(noise_m=0.05)]))
    assert drifting.height_m == pytest.approx(50.2, abs=0.3)
    cut = only(table(flight(seconds=110.0)))
    assert not cut.to_ground
    assert cut.from_ground
    right(cut)
    late = only(table([each for each in flight() if each[0] > 60.0]))
    assert not late.from_ground
    assert late.sink is not None
    assert late.sink.slope == pytest.approx(0.5, abs=0.01)


def test_a_short_time_on_the_ground_before_the_launch() -> None:
    """From 10 s on it is a ground, with five samples in it: below that the record is told to begin in the air."""
    for seconds in (12.0, 10.0):
        short = only(table([each for each in flight(noise_m=0.05) if each[0] >= 20.0 - seconds]))
        assert short.from_ground
        assert short.launch_s == pytest.approx(20.0, abs=2.0)
        right(short)
    shorter = only(table([each for each in flight(noise_m=0.05) if each[0] >= 14.0]))
    assert not shorter.from_ground
    sparse = only(table([each for each in flight() if each[0] >= 8.0][::4]))
    assert not sparse.from_ground  # three samples
    lull = only(table([(t, min(h, 12.0)) for t, h in flight() if t >= 110.0]))
    assert not lull.from_ground  # low and level, but what follows is no climb
    level = [(t, 20.0 if t < 12.0 else min(20.0 + 1.5 * (t - 12.0), 80.0 - 0.5 * (t - 52.0))) for t in range(200)]
    assert not only(table(level)).from_ground  # it climbs, but comes down to 6 m: it was in the air
    assert only(table(level[:160])).from_ground  # as far as this record tells


def thermals() -> Points:
    """Return half an hour: ground, twelve thermals at 1.5 m/s with sink at 0.8 between them, down at 1 m/s, ground."""
    rates = [rate for n in range(12) for rate in [1.5] * (40 + 7 * n % 30) + [-0.8] * (55 + 11 * n % 40)]
    heights = [0.0] * 30
    for rate in rates:
        heights.append(max(0.0, heights[-1] + rate))
    while heights[-1] > 0.0:
        heights.append(max(0.0, heights[-1] - 1.0))
    return [(float(t), h) for t, h in enumerate([*heights, *[0.0] * 40])]


def test_the_top_of_many_thermals_is_what_the_record_holds() -> None:
    """Ten straight pieces cannot follow twelve thermals: the lines of six met 14 m above the highest sample."""
    second, height = max(thermals(), key=lambda each: each[1])
    found = only(table(thermals()))
    assert found.height_m == pytest.approx(height, abs=1.0)
    assert found.top_s == pytest.approx(second, abs=1.0)


def test_the_top_between_two_samples_of_a_steep_climb() -> None:
    """A made flight at 8 m/s up to 100 m, one sample in 3 s: none is at the top, where the lines meet."""
    seconds = [3.0 * n for n in range(60)]
    found = only(table([(t, max(0.0, min(8.0 * (t - 31.0), 100.0 - 0.8 * (t - 43.5)))) for t in seconds]))
    assert found.height_m == pytest.approx(100.0, abs=1.0)
    assert found.top_s == pytest.approx(43.5, abs=1.0)


def test_the_borders_are_in_order_whatever_the_heights() -> None:
    """Random walks in steps of 4 m, one sample in 5 s: the top was after the landing in 27 of 200; 50 are taken."""
    for seed in range(50):
        rng, heights = random.Random(seed), [0.0]
        while len(heights) < 60:
            heights.append(heights[-1] + rng.choice((0, 0, 0, 4, 4, -4) if heights[-1] > 0.0 else (0, 0, 4)))
        try:
            found = logfile.read(table([(5.0 * n, height) for n, height in enumerate(heights)])).flights
        except LogError:
            continue
        for each in found:
            borders = [getattr(each.borders, key) for key in ORDER]
            assert borders == sorted(borders), seed


def test_a_false_peak_at_the_launch() -> None:
    """Air blown on the port of a fast launch: 8 m for a second and a half, at ten samples a second."""
    points = [(t, h + 8.0 * math.exp(-((t - 21.5) ** 2) / 0.5)) for t, h in flight(step_s=0.1, noise_m=0.05)]
    found = only(table(points))
    assert found.false_m > 3.0
    right(found)
    assert only(table(flight(step_s=0.1, noise_m=0.05))).false_m == 0.0


def test_moving_air_is_told() -> None:
    air = [(t, h + 0.8 * min(25.0, max(0.0, t - 80.0))) for t, h in flight(seconds=200.0, noise_m=0.05) if t < 140.0]
    found = only(table(air))
    assert found.sink is not None
    assert 20.0 <= found.gliding.moving_s <= 40.0  # it rose for 25 s
    assert abs(found.sink.slope - 0.5) <= 2.0 * found.sink.spread < 0.01  # and is cut out


def test_a_glide_that_is_too_short_has_no_sink() -> None:
    found = only(table(flight(sink=4.0)))
    assert found.sink is None
    assert 0.0 <= found.gliding.from_s < 10.0


def test_ten_thousand_samples() -> None:
    """Read in well under a second; the figure is in tests/README.md, and time is not asserted."""
    points = flight(seconds=1000.0, step_s=0.1, noise_m=0.1, sink=0.055)
    assert len(points) == 10_001
    assert only(table(points)).sink is not None


def test_cleaning() -> None:
    assert step_of([(0.0, 1.0), (1.0, 1.0)]) == 0.0
    with pytest.raises(LogError, match="more than 200 000 samples"):
        cleaned(Recording(points=[(float(t), 1.0) for t in range(200_001)]))
    two = [*flight(), (1000.0, 3.0)]
    assert len(cleaned(Recording(points=two))) == 1
    assert len(flights_in(cleaned(Recording(points=flight()))[0])) == 1


def test_edges_of_reading() -> None:
    assert list(stretches([])) == []
    assert [len(each) for each in stretches([(0.0, 1.0), (0.0, 1.0), (1.0, 1.0)])] == [2]
    assert _launch([(0.0, 0.0), (1.0, 5.0), (2.0, 6.0)], 0.0, 1.0) == 0
    rows = table(flight(), "timestamp;height m").splitlines()
    odd = logfile.read("\n".join([*rows[:9], "", "# switched on", "2026-13-45 10:00:00;3", *rows[9:]]))
    assert "Left out: 1 line without a number where one should be." in odd.told


def test_the_unit_of_the_times_is_as_the_visitor_says() -> None:
    """The heading says seconds; a recorder of milliseconds wrote it."""
    text = table([(1000 * t, h) for t, h in flight()], "Time (s);Height (m)")
    found = logfile.read(text, Wishes(time_unit="ms"))
    right(found.flights[0])
    assert any("Times are milliseconds, as you say." in said for said in found.told)


def test_a_record_that_is_cut_gives_no_time_that_it_does_not_hold() -> None:
    cut, _ = taken.row(only(table(flight(seconds=110.0))), "", "", UnitSystem.METRIC)
    late, _ = taken.row(only(table([each for each in flight() if each[0] > 60.0])), "", "", UnitSystem.METRIC)
    assert "motor_run" in cut
    assert "glide" not in cut
    assert "motor_run" not in late
