"""The command `flight`."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from calc.__main__ import main
from calc.subjects.flights.logwords import sink_told
from calc.subjects.flights.slope import Slope
from calc.unit_system import UnitSystem
from tests.calc.subjects.flights import glides
from tests.calc.subjects.flights.made import flight, table


def kept(folder: Path, text: str) -> str:
    file = folder / "log.csv"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_it_prints_the_parts(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log = kept(tmp_path, table(flight(noise_m=0.1)))
    assert main(["flight", log]) == 0
    told = capsys.readouterr().out
    assert "Flight 1" in told
    assert "launched, 0:20 into the record" in told
    assert re.search(r"top, (49.9|50.[01]) m above the ground, [12].\d m/s up", told)
    assert "Sinks 0.50 ± 0.01 m/s" in told
    assert "Tell the temperature" in told
    assert max(map(len, told.splitlines())) <= 80
    assert main(["flight", log, "--temperature", "30 °C", "--imperial"]) == 0
    warm = capsys.readouterr().out
    assert "Tell the temperature" not in warm
    assert "173 ft" in warm


def test_what_else_it_may_have_to_say(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    steep = [(t, max(9.0, h) if t > 45 else h) for t, h in flight(sink=4.0)]
    main(["flight", kept(tmp_path, table(steep))])
    told = capsys.readouterr().out
    assert "No sink:" in told
    assert "9.0 m above where it started" in told
    rising = [(t, h + 0.8 * min(25.0, max(0.0, t - 80.0))) for t, h in flight() if 40.0 < t < 140.0]
    main(["flight", kept(tmp_path, table(rising))])
    told = capsys.readouterr().out
    assert "the record begins in the air" in told
    assert "the record ends in the air" in told
    assert "went through air that moved" in told
    blown = [(t, h + (8.0 if 20.2 < t < 21.4 else 0.0)) for t, h in flight(step_s=0.1)]
    main(["flight", kept(tmp_path, table(blown))])
    assert "at the launch is left aside" in capsys.readouterr().out


def test_strong_air_all_the_way_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, glide = glides.glide(1, glides.AIRS["0.8 m/s for 5 s"], 240, 0.1, 0.1)
    log = kept(tmp_path, table([(t, 40.0 + h) for t, h in glide]))
    main(["flight", log])
    assert "Strong air may have moved it all the way: what rose counts like what sank." in capsys.readouterr().out
    main(["flight", log, "--json"])
    assert json.loads(capsys.readouterr().out)["flights"][0]["all_moving"]


def test_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["flight", kept(tmp_path, table(flight())), "--json"]) == 0
    (flown,) = json.loads(capsys.readouterr().out)["flights"]
    assert not flown["all_moving"]
    assert flown["sink_m_s"] == pytest.approx(0.5, abs=0.002)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "flights? no"), (["--temperature", "warm"], "neither a temperature"), (["--rate", "0"], "nor a rate"),
        (["--temperature", "900 K"], "neither a temperature"),
    ],
)  # fmt: skip
def test_what_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str) -> None:
    log = kept(tmp_path, table(flight()) if arguments else "nothing")
    assert main(["flight", log, *arguments, "--json"]) == 2
    caught = capsys.readouterr()
    (error,) = json.loads(caught.out)["errors"]
    assert (said if arguments else "no flight log") in error["message"]
    assert main(["flight", str(tmp_path / "none.csv")]) == 2
    assert "No such file" in capsys.readouterr().err


def test_a_file_that_is_too_large(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("calc.flightlog.command.LONGEST_TEXT", 10)
    assert main(["flight", kept(tmp_path, table(flight()))]) == 2
    assert "larger than 20 MB" in capsys.readouterr().err


def test_a_sink_is_told_no_finer_than_it_is_known() -> None:
    assert sink_told(Slope(slope=0.4987, spread=0.21, at_zero=0.0), UnitSystem.METRIC) == "0.5 ± 0.5 m/s"
    assert sink_told(Slope(slope=0.4987, spread=0.0001, at_zero=0.0), UnitSystem.IMPERIAL) == "1.64 ± 0.01 ft/s"


def test_no_reader_of_logs_is_loaded_at_the_start() -> None:
    """Each command would wait for them."""
    loads = "import sys, calc.__main__, calc.assess; print(*sorted(sys.modules))"
    loaded = subprocess.run([sys.executable, "-c", loads], capture_output=True, text=True, check=True).stdout.split()
    readers = {
        "borders",
        "igc",
        "csvlog",
        "taken",
        "clean",
        "pieces",
        "parts",
        "logfile",
        "logwords",
        "logs",
        "slope",
        "pressure",
    }
    assert not {f"calc.subjects.flights.{each}" for each in readers} & set(loaded)
    assert "calc.flightlog.command" not in loaded
    assert "calc.subjects.flights.answer" in loaded
