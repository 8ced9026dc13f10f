"""The commands beside the sheet of one file: hostile budgets and logs, names with control letters, streams shut."""

import io
import json
import shlex
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from calc.__main__ import main
from calc.changes.find import find
from calc.subjects.flights import logfile
from calc.subjects.flights.logs import MOST_SAMPLES, LogError
from site_src.tools.corpus import CORPUS, WHOLE
from tests.support import ROOT, SITE_SRC

GNAT, BOX = str(SITE_SRC / "demo" / "gnat.json"), str(SITE_SRC / "demo" / "box.json")
COMMANDS = (
    ["room", "-"], ["room", "-", "--json"], ["savings", "-"], ["savings", "-", "--json"], ["changes", "-"],
    ["changes", "-", "--json"], ["airframe", "--csv", "-"], ["compare", "-", GNAT], ["compare", "-", GNAT, "--json"],
    ["finder", BOX, "-"], ["finder", BOX, "-", "--json"],
)  # fmt: skip
CONTROLS = frozenset(map(chr, (*range(10), *range(11, 32), *range(127, 160), 0x2028, 0x202E)))
LATER = ("airframe", "bays", "flights", "charges", "radio", "field", "building")
HOSTILE = [*WHOLE.values(), *[text for name, text in CORPUS.items() if name.startswith(LATER)][::6]]


def ran(
    arguments: list[str], text: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> tuple[int, str, str]:  # fmt: skip
    """Return status, output and complaints of a command with a text on standard input."""
    given = SimpleNamespace(buffer=io.BytesIO(text.encode("utf-8", "surrogatepass")))
    monkeypatch.setattr("sys.stdin", given)
    status = main(arguments)
    return status, *capsys.readouterr()


@pytest.mark.parametrize("arguments", COMMANDS, ids=" ".join)
def test_no_hostile_budget_stops_a_command(
    arguments: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is worked out or refused with a sentence; no control letter goes out, and JSON is JSON."""
    for text in HOSTILE:
        status, out, complaint = ran(arguments, text, monkeypatch, capsys)
        assert status in (0, 2)
        assert out or complaint
        assert not CONTROLS & set(out + complaint)
        if "--json" in arguments:
            json.loads(out, parse_constant=pytest.fail)


EVIL = "a\0\x07\x1b[2J\r\x9b\u202eb\nVerdict: fits \u05e9"
SIZE = {"length": "20 mm", "width": "12 mm", "height": "6 mm"}
NAMED: dict[str, Any] = {
    "name": EVIL, "model": {"class": "own"},
    "gear": [{"kind": "receiver", "name": EVIL, "mass": "1 g", "draw": "20 mA", **SIZE},
             {"kind": "servo", "name": EVIL, "mass": "1 g", "draw": "9 mA", **dict.fromkeys(SIZE, "40 mm")}],
    "bays": [{"name": EVIL, **dict.fromkeys(SIZE, "30 mm")}],
    "airframe": [{"name": EVIL, "shape": "ribs", "material": "balsa-hard", "span": "600 mm", "root": "100 mm",
                  "pitch": "20 mm", "depth": "9 %", "thickness": "3 mm", "weighed_on": "\x1b\u202e"}],
    "flights": [{"date": "\x1b\u202e", "sink": "0.4 m/s", "remarks": EVIL}],
    "charges": [{"date": "\x1b\u202e", "put_back": "5 mAh", "flights": 3, "on_time": "4 min", "remarks": EVIL}],
    "cell": {"name": EVIL, "mass": "1 g", "capacity": "30 mAh", **SIZE},
}  # fmt: skip


@pytest.mark.parametrize("arguments", [["-"], ["-", "--json"], *COMMANDS], ids=" ".join)
def test_no_control_letter_of_a_bay_a_part_or_a_flight_goes_out(
    arguments: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, complaint = ran(arguments, json.dumps(NAMED), monkeypatch, capsys)
    assert (status, complaint) == (0, "")
    assert not CONTROLS & set(out)
    assert "--csv" in arguments or "\nVerdict: fits \u05e9" not in out
    halved = json.dumps({**NAMED, "bays": [{"name": "a\ud800"}], "flights": [{"remarks": "\udfff"}]})
    status, out, complaint = ran(arguments, halved, monkeypatch, capsys)
    assert status == 2
    assert complaint.count("half of a letter") == 2


SHUT = [
    ("room", f"room {GNAT}"), ("savings", f"savings {GNAT}"), ("changes", f"changes {GNAT}"),
    ("airframe", "airframe thirty-inch"), ("csv", f"airframe --csv {GNAT}"), ("keys", "keys"),
]  # fmt: skip


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that is always full is needed")
@pytest.mark.parametrize("line", [line for _, line in SHUT], ids=[name for name, _ in SHUT])
def test_a_stream_that_is_shut_or_full_ends_a_command_in_one_line(line: str) -> None:
    command = f"{shlex.quote(sys.executable)} -m calc {line}"
    full, shut = (
        subprocess.run(["sh", "-c", f"{command} {to}"], cwd=ROOT, capture_output=True, encoding="utf-8", check=False)
        for to in ("> /dev/full", ">&-")
    )
    assert (full.returncode, full.stderr) == (2, "The answer cannot be written: No space left on device.\n")
    assert (shut.returncode, shut.stderr) == (2, "Standard output is closed: the answer cannot be written.\n")


@pytest.mark.parametrize(
    ("sheet", "said"),
    [
        (["5 g", "900 mm", "76 mm", "0.8 mm"], "91.4 kg/m³ (5.7 lb/ft³): balsa"),
        (["1e300 g", "1e-300 m", "1e-300 m", "1e-300 m"], "Mass of one: “1e300 g” is outside what makes sense here"),
        (["9" * 4000, "1 m", "1 m", "1 mm"], f"Mass of one: “{'9' * 40}…” is too long"),
        (["1 kg", "1 m", "1 m", "1e-300 m"], "Thickness: “1e-300 m” is outside"),
        (["1\x1bg", "1 m", "1 m", "1 mm"], "“\\u001bg” is not a unit of a mass"),
        (["1 kg", "900 mm", "76 mm", "0.8 mm"], "No sheet is as dense"),
        (["1 mg", "900 mm", "76 mm", "8 mm"], "or as light, as this mass"),
    ],
)
def test_a_sheet_on_the_scale_that_is_none_is_told(
    sheet: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    status = main(["airframe", "--sheet", *sheet])
    out, complaint = capsys.readouterr()
    assert status == (2 if complaint else 0)
    assert said in out + complaint
    assert all(len(line) < 400 for line in (out + complaint).splitlines())


def test_a_log_of_too_many_samples_is_refused_before_the_work() -> None:
    """Seen: 12 MB of short lines took 12 s, and were then called larger than 20 MB."""
    for text in (
        "1;2\n" * (MOST_SAMPLES + 50),
        "AXXX\n" + "B1101355206343N00006198WA0058700558\n" * (MOST_SAMPLES + 9),
    ):
        with pytest.raises(LogError, match="more than 200 000 samples"):
            logfile.read(text)


@pytest.mark.parametrize(
    ("document", "said"),
    [
        ({}, "Nothing that is known has to change. No limit can be worked out yet"),
        ({"model": {"airframe": "40 g"}, "bays": [{"length": "60 mm"}]}, "Nothing that is known has to change."),
        ({"model": {"airframe": "40 g"}, "gear": [{"mass": "1 g"}]}, "It fits: nothing has to change."),
    ],
)
def test_a_budget_that_stands_open_is_not_said_to_fit(
    document: dict[str, Any], said: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text = json.dumps(document)
    _, out, _ = ran(["changes", "-"], text, monkeypatch, capsys)
    assert " ".join(out.split()).startswith(said)
    _, out, _ = ran(["changes", "-", "--json"], text, monkeypatch, capsys)
    assert json.loads(out)["open"] is ("known" in said)
    assert find(document).now.whole.open is ("known" in said)
