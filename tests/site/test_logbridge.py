"""What the worker answers about log files of altimeters: sound ones, those to be put right, hostile ones."""

import dataclasses
import gc
import json
import re
import weakref
from typing import Any

import pytest

from calc.document.blocks import MOST
from calc.document.budget import read
from calc.subjects.flights import borders, logfile, taken
from calc.subjects.flights.slope import Slope
from calc.unit_system import UnitSystem
from site_src.app import bridge, logbridge
from tests.calc.subjects.flights import glides
from tests.calc.subjects.flights.made import Points, flight, table


def ask(method: str, **params: Any) -> dict[str, Any]:
    """Return the result of a request."""
    answer = json.loads(bridge.handle(json.dumps({"v": 1, "id": 1, "method": method, "params": params})))
    assert answer["ok"], answer
    found = answer["result"]
    assert isinstance(found, dict)
    return found


def opened(text: str, **more: Any) -> dict[str, Any]:
    return ask("log_open", text=text, name="a log.csv", **more)


def wished(log: dict[str, Any], **wishes: str) -> dict[str, Any]:
    """Choose one thing after the other, as a visitor does."""
    for wish, typed in wishes.items():
        log = ask("log_read", log=log["log"], wish=wish, typed=typed)
    return log


def problem(found: dict[str, Any]) -> str:
    match = re.search(r'id="log-problem"[^>]*>([^<]*)<', found["html"])
    assert match
    return match[1]


def brief(found: dict[str, Any]) -> str:
    match = re.search(r'id="log-brief-0">([^<]*)<', found["html"])
    assert match
    return match[1].replace("\u00a0", " ")


FEET: Points = [(second, height / 0.3048) for second, height in flight()]
SEVERAL = table([(t + 400.0 * n, h) for n in range(3) for t, h in flight()])


def test_feet_are_put_right_before_anything_counts() -> None:
    log = opened(table(FEET, "time;altitude"))
    assert "Heights are taken as metres: nothing says so" in log["html"].replace("\u00a0", " ")
    assert brief(log).startswith("164 m up")
    assert brief(wished(log, unit="ft")).startswith("50.0 m up")
    assert brief(wished(log, temperature="30 °C")).startswith("52.6 m up")  # PH-3: 5.2 % more at 30 °C


def test_another_column_has_its_own_unit() -> None:
    rows = "\n".join(f"{t};{101325.0 - 12.0 * h};{h / 0.3048};{h}" for t, h in flight())
    log = opened(f"time;baro [Pa];other [ft];third\n{rows}")
    assert '<option value="1" selected>baro [Pa]' in log["html"]
    assert brief(wished(log, at="2")).startswith("50.0 m up")  # feet, as its heading says
    assert brief(wished(log, at="3")).startswith("50.0 m up")
    assert problem(wished(log, unit="cm")).startswith("Nothing flies here")
    assert problem(wished(log, at="0")) == "Time and height cannot be the same column."


def test_without_times_a_rate_is_asked_for() -> None:
    log = opened("altitude m\n" + "\n".join(f"{h:.2f};0" for _, h in flight()))
    assert problem(log) == "No column of the table is a time: say how many samples a second it has."
    named = opened("altitude m;x\n" + "\n".join(f"{h:.2f};0" for _, h in flight()))
    assert 'data-wish="time_at"' in named["html"]
    assert problem(wished(named, time_at="-1", rate="often")).startswith("“often” is no number of samples a second")
    assert brief(wished(named, rate="1")).startswith("50.0 m up, 2:0")


def test_columns_are_shown_where_none_is_recognised() -> None:
    text = "a;b\n" + "\n".join(f"{t};{h}" for t, h in flight())
    log = opened(text)
    assert problem(log)
    assert "column 1" in log["html"]
    assert brief(wished(log, time_at="0", at="1")).startswith("50.0 m up")


def test_what_rose_is_marked_as_left_out_only_where_it_is() -> None:
    """A rise in still air is cut out of the sink; strong air all the way is not, and that is said."""
    lifted = [(t, h + 0.9 * min(20.0, max(0.0, t - 70.0))) for t, h in flight(seconds=140.0, noise_m=0.05)]
    _, strong = glides.glide(1, glides.AIRS["0.8 m/s for 5 s"], 240, 0.1, 0.1)
    drawn = [
        ask("log_flight", log=opened(table(points))["log"], flight=0)["html"]
        for points in (lifted, [(t, h + 40.0) for t, h in strong])
    ]
    assert ['class="rises"' in html for html in drawn] == [True, False]
    assert ["Strong air may have moved it all the way" in html for html in drawn] == [False, True]


def test_flights_are_listed_and_taken() -> None:
    log = opened(SEVERAL)
    assert log["flights"] == 3
    document: dict[str, Any] = {"name": "Wren"}
    for number in range(2):
        found = ask("log_take", log=log["log"], flight=number, document=document)
        assert found["told"].startswith(f"Flight {number + 1} of the file stands in the log of flights.")
        document = found["document"]
    first, _ = document["flights"]
    assert first["height"] == "50.0 m"
    assert float(first["motor_run"].removesuffix(" s")) == pytest.approx(25.0, abs=2.5)
    assert float(first["motor_run"].removesuffix(" s")) + float(first["glide"].removesuffix(" s")) == pytest.approx(
        125.0, abs=2.5
    )
    assert float(first["sink"].removesuffix(" m/s")) == pytest.approx(0.5, abs=0.01)
    assert "wind" not in first
    assert read(document).problems == ()


def test_a_date_comes_from_the_file() -> None:
    fixes = (f"B10{15 + int(t) // 60:02d}{int(t) % 60:02d}5206343N00006198WA{round(h):05d}00558" for t, h in flight())
    log = opened("HFDTE030526\n" + "\n".join(fixes))
    row = ask("log_take", log=log["log"], flight=0, document={"units": "imperial"})["document"]["flights"][0]
    assert row["date"] == "2026-05-03"
    assert row["height"].endswith(" ft")
    stamped = "timestamp,height m\n" + "\n".join(
        f"2026-06-01T10:{15 + int(t) // 60:02d}:{int(t) % 60:02d}Z,{h:.2f}" for t, h in flight()
    )
    assert ask("log_take", log=opened(stamped)["log"], flight=0, document={})["document"]["flights"][0]["date"] == (
        "2026-06-01"
    )


def test_what_the_record_does_not_hold_is_left_out() -> None:
    log = opened(table(flight()[:100]))  # it ends in the air
    row = ask("log_take", log=log["log"], flight=0, document={})["document"]["flights"][0]
    assert "glide" not in row
    assert {"height", "motor_run", "sink", "sink_spread"} <= set(row)
    rising: Points = [(t, h if t < 45.0 else 50.0 + 0.05 * (t - 45.0)) for t, h in flight()[:120]]
    found = ask("log_take", log=opened(table(rising))["log"], flight=0, document={})
    assert "sink" not in found["document"]["flights"][0]
    assert "It shows no sink that a model can have" in found["told"]


def test_a_sink_in_wild_air_is_not_told_better_than_it_is() -> None:
    """The entries take no spread above the sink: it is as large then, and the flight weighs next to nothing."""
    (flown,) = logfile.read(table(flight())).flights
    sinking = dataclasses.replace(flown.gliding, slope=Slope(slope=0.3, spread=0.4, at_zero=0.0))
    wild = dataclasses.replace(flown, gliding=sinking)
    row, told = taken.row(wild, "", "", UnitSystem.METRIC)
    assert (row["sink"], row["sink_spread"]) == ("0.300 m/s", "0.300 m/s")
    assert told == (taken.UNSURE,)
    assert read({"flights": [row]}).problems == ()


def test_a_full_log_of_flights_takes_no_more() -> None:
    log = opened(SEVERAL)
    full = {"flights": [{"glide": "90 s"}] * MOST["flights"]}
    assert "nothing was added" in ask("log_take", log=log["log"], flight=0, document=full)["full"]
    assert ask("log_take", log=log["log"], flight=0, document={"flights": "none"})["document"]["flights"]


def test_borders_are_moved_and_found_again() -> None:
    log = opened(table(flight(noise_m=0.1), "Time [s];Height [m]"))
    found = ask("log_flight", log=log["log"], flight=0)
    assert found["html"].count('type="range"') == len(borders.ORDER)
    moved = ask("log_move", log=log["log"], flight=0, border="top_s", to=40.0)
    top = next(each for each in moved["borders"] if each["key"] == "top_s")
    assert (top["second"], top["told"]) == (40.0, "0:20.0")
    assert "The borders were moved by hand." in moved["figures"]
    assert "40" in re.findall(r"<dt>Height</dt><dd>(\d+)", moved["figures"])[0]
    row = ask("log_take", log=log["log"], flight=0, document={})["document"]["flights"][0]
    assert float(row["height"].removesuffix(" m")) == pytest.approx(40.0, abs=0.5)
    pushed = ask("log_move", log=log["log"], flight=0, border="down_s", to=30.0)
    assert {each["second"] for each in pushed["borders"] if each["key"] != "launch_s"} == {30.0}
    assert "No sink" in pushed["figures"]
    again = ask("log_flight", log=log["log"], flight=0, found=True)
    assert "moved by hand" not in again["html"]
    assert again["html"] == found["html"]


def test_figures_follow_each_border() -> None:
    """Against what the made flight is known to be: 2 m/s up from 20 s, 0.5 m/s down from 45 s, ground at 145 s."""
    (flown,) = logfile.read(table(flight())).flights
    ends = (flown.points[0][0], flown.points[-1][0])

    def at(key: str, second: float) -> Any:
        return borders.measured(flown, borders.in_order(flown.borders, key, second, ends))

    assert at("top_s", 65.0).height_m == pytest.approx(40.0, abs=0.1)
    assert at("launch_s", 30.0).height_m == pytest.approx(50.0, abs=0.6)  # the ground before it is still the ground
    assert at("down_s", 100.0).landed_m == pytest.approx(22.5 - 5.0, abs=0.5)  # the median of the 20 s after it
    assert at("from_s", 30.0).sink.slope == pytest.approx(0.5, abs=0.001)  # the climb does not count
    assert at("to_s", 90.0).gliding.from_s == pytest.approx(40.0, abs=1.0)
    assert at("top_s", -9.0).borders.launch_s == ends[0]


def test_a_file_that_is_put_away_leaves_nothing_behind() -> None:
    """Neither text nor samples; another file that is open by then stays."""
    first = opened("nothing")
    log = opened(table(flight()))
    wished(log, temperature="30 °C")
    ask("log_move", log=log["log"], flight=0, border="top_s", to=40.0)
    assert ask("log_close", log=first["log"]) == {"dropped": True}
    assert ask("log_flight", log=log["log"], flight=0)["html"]
    samples = weakref.ref(logbridge._flights()[0].pieces[0])
    assert ask("log_close", log=log["log"]) == {"closed": True}
    gc.collect()
    assert samples() is None
    assert logbridge.Log(number=logbridge.LOG.number) == logbridge.LOG
    for method, params in GONE:
        assert ask(method, log=log["log"], **params) == {"dropped": True}
    assert ask("log_close", log=log["log"]) == {"dropped": True}
    assert opened(table(flight()))["log"] > log["log"]


GONE = (
    ("log_flight", {"flight": 0}), ("log_flight", {"flight": 7}), ("log_take", {"flight": "0", "document": {}}),
    ("log_move", {"flight": 0, "border": "top_s", "to": 1.0}), ("log_move", {"flight": 0, "border": "x", "to": 1.0}),
    ("log_read", {"wish": "unit", "typed": "ft"}),
)  # fmt: skip


@pytest.mark.parametrize(("method", "params"), GONE)
def test_what_is_open_no_more_is_told(method: str, params: dict[str, Any]) -> None:
    log = opened("nothing")
    number = log["log"] - 1 if method == "log_read" else log["log"]
    assert ask(method, log=number, **params) == {"dropped": True}


BACK = table([*flight()[:80], *flight()[:120]])
HOSTILE = {
    "a megabyte line": ("x" * 1_000_000, "This is no flight log"),
    "a megabyte line within": (f"{'1' * 1_000_000}\n{table(flight())}", ""),
    "times going back": (BACK, ""),
    "nothing but NaN": ("time;height\n" + "nan;nan\n" * 200, "no sample can be used"),
    "NaN here and there": (table(flight()).replace(";0.0000", ";NaN", 5), ""),
    "zeros": ("time;height\n" + "\n".join(f"{t};0" for t in range(200)), "All heights are the same"),
    "an IGC file of zeros": ("\n".join(
        f"B10{t // 60:02d}{t % 60:02d}5206343N00006198WA0000000558" for t in range(200)), "All heights are the same"),
    "feet as metres": (table(FEET, "t;altitude"), ""),
    "two sensors": (
        "time;gps altitude;pressure;height\n" + "\n".join(f"{t};9;{101325 - 12 * h};0" for t, h in flight()), ""),
    "two samples": ("time;height\n1;2\n2;3", "2 samples can be used"),
    "empty": ("", "This is no flight log"),
    "markup": ("<script>alert(1)</script>;<b>\n1;2", "This is no flight log"),
    "infinite": ("time;height\n" + "\n".join(f"{t};1e999" for t in range(99)), "no sample can be used"),
    "enormous": ("time;height\n" + "\n".join(f"{t};{(-1) ** t}e307" for t in range(99)), None),
    "too large": ("1;2\n" * 5_000_001, "The file is larger than 20 MB"),
    "half a letter": ("time;height\ud800\n" + "\n".join(f"{t};{h}" for t, h in flight()), ""),
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_files_get_one_sentence_and_lose_nothing(name: str) -> None:
    text, said = HOSTILE[name]
    found = opened(text)
    told = problem(found)
    if said is None:
        assert told.count(".") <= 1 or found["flights"]
    elif said:
        assert told.startswith(said)
        assert told.endswith(".")
        assert found["flights"] == 0
    else:
        assert told == ""
        assert found["flights"] >= 1
    assert "<script>" not in found["html"]
    assert opened(table(flight()))["flights"] == 1  # the next file is read as if nothing had been


@pytest.mark.parametrize("wish", ["time_at", "at", "unit", "time_unit", "rate", "temperature", "nonsense"])
@pytest.mark.parametrize("typed", ["-1", "99999", "-7", "²", "x" * 500, "", "40"])
def test_choices_that_make_no_sense_are_told(wish: str, typed: str) -> None:
    found = wished(opened(table(flight())), **{wish: typed})
    assert found["flights"] == 1 or problem(found).endswith(".")
