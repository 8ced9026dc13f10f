"""33 real flights of a public package, through the command and through the worker's door.

They are gliders' and walkers' hours, not models' minutes: every one is read, or refused with a sentence, and what is
told of it is held against its B records, which are taken apart here by the columns of the FAI's format and by nothing
of `calc`.

The flights are read in a process of their own: under coverage, which the other tests of the readers feed, they would
take thrice the time.
"""

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from statistics import median
from typing import Any, NoReturn

import pytest

from site_src.tools import realflights
from site_src.tools.environment import ROOT, SetupError
from tests.support import PyodideBridge, reference

FILES = reference("flights")["real"]["files"]
WITHOUT_PRESSURE = 7  # of them, as the B records say
SMALL = ("marcourt.igc", "d3p.igc", "flat-xcontest-8.01.igc")  # the last one without pressure
BORDERS = ["launch_s", "top_s", "from_s", "to_s", "down_s"]
DOORS = """
import io, json, sys
from contextlib import redirect_stderr, redirect_stdout
from calc.__main__ import main
from site_src.app.bridge import handle
for line in sys.stdin:
    asked, out, err = json.loads(line), io.StringIO(), io.StringIO()
    if isinstance(asked, dict):
        print(handle(line), flush=True)
        continue
    with redirect_stdout(out), redirect_stderr(err):
        status = main(asked)
    print(json.dumps([status, out.getvalue(), err.getvalue()]), flush=True)
"""
Samples = list[tuple[float, float]]


@pytest.fixture(scope="module")
def folder() -> Path:
    """Return the folder of the flights; `build.py test` has fetched them, or failed, before the tests run."""
    try:
        return realflights.ensure()
    except SetupError as error:
        pytest.skip(str(error))


class Doors:
    """The command's `main` and the worker's `handle` in another Python: one line in, one line out."""

    def __init__(self) -> None:
        command = [sys.executable, "-X", "utf8", "-c", DOORS]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT, encoding="utf-8"
        )

    def _line(self, asked: object) -> str:
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps(asked) + "\n")
        self.process.stdin.flush()
        line = self.process.stdout.readline()
        assert line, "it fell over"
        return line

    def command(self, *arguments: str) -> tuple[int, Any, str]:
        """Return the status, what was printed as JSON, and what was said beside it."""
        status, out, err = json.loads(self._line(arguments))
        return status, strictly(out), err

    def ask(self, method: str, **params: Any) -> dict[str, Any]:
        """Return the worker's result."""
        answer = strictly(self._line({"v": 1, "id": 1, "method": method, "params": params}))
        assert answer["ok"], answer
        found = answer["result"]
        assert isinstance(found, dict)
        return found


def strictly(text: str) -> Any:
    """Return what a JSON text holds; a NaN or an infinity, which Python's reader would take, fails."""

    def refuse(constant: str) -> NoReturn:
        raise AssertionError(f"{constant} in the answer")

    return json.loads(text, parse_constant=refuse)


@pytest.fixture(scope="module")
def doors() -> Iterator[Doors]:
    found = Doors()
    yield found
    found.process.communicate(timeout=30)


def recorded(text: str) -> Samples:
    """Return time [s] and pressure height [m] of each B record: columns 2 to 7 and 26 to 30, counted from 1."""
    found: Samples = []
    days = 0
    for line in text.splitlines():
        if not re.match(r"B\d{6}.{18}(\d{5}|-\d{4})", line):
            continue
        second = days + int(line[1:3]) * 3600 + int(line[3:5]) * 60 + int(line[5:7])
        if found and second < found[-1][0] - 43_200:  # midnight
            days, second = days + 86_400, second + 86_400
        found.append((second, int(line[25:30])))
    return found


def holds_pressure(samples: Samples) -> bool:
    """Return whether a recorder had a pressure sensor: without one it writes zeros."""
    return any(height != 0 for _, height in samples)


def test_they_are_the_files_that_are_named(folder: Path) -> None:
    found = {file.name: recorded(file.read_text("utf-8")) for file in folder.glob("*.igc")}
    assert sorted(found) == sorted(FILES)
    assert sum(not holds_pressure(samples) for samples in found.values()) == WITHOUT_PRESSURE
    assert all(len(samples) > 200 for samples in found.values())


@pytest.mark.parametrize("name", FILES)
def test_each_is_read_or_refused_with_a_sentence(name: str, folder: Path, doors: Doors) -> None:
    samples = recorded((folder / name).read_text("utf-8"))
    status, told, beside = doors.command("flight", str(folder / name), "--json")
    page = doors.ask("log_open", text=(folder / name).read_text("utf-8"), name=name)
    problem = re.search(r'id="log-problem"[^>]*>([^<]*)<', page["html"])
    assert problem
    if holds_pressure(samples):
        assert (status, beside, problem[1]) == (0, "", "")
        assert len(told["flights"]) == page["flights"] > 0
        for number, flown in enumerate(told["flights"]):
            follows_the_record(flown, samples)
            shown_alike(doors.ask("log_flight", log=page["log"], flight=number)["html"], flown)
    else:
        (error,) = told["errors"]
        assert (status, page["flights"]) == (2, 0)
        assert error["message"] == f"{folder / name}: {problem[1]}"
        assert re.fullmatch(r"All heights are the same: [^.]+\.", problem[1])
        assert beside.splitlines() == [error["message"]]


def follows_the_record(flown: dict[str, Any], samples: Samples) -> None:
    """Assert that the parts of a flight are in their order, within the file's times, and as high as the record is.

    The record does not say where the ground is, but whoever begins on it is there within the 20 s before the launch or
    the 5 s after it; whoever begins in the air ends on it. The top may lie below the highest sample by what its
    neighbours do. Beyond that 5 m, and 1 m for each second between two samples: heights are whole metres, and “ground”
    is whatever stays within 1 m, or six times the noise, for 15 s (the noise of these records is 0.6 to 1.8 m, and the
    more the rarer the samples).
    """
    assert samples[0][0] <= flown["launch_s"] <= flown["top_s"] <= flown["down_s"] <= samples[-1][0]
    whole_s = flown["down_s"] - flown["top_s"]
    assert 0.0 <= flown["glide_s"] <= whole_s  # that the sink is from
    assert 0.0 <= flown["moving_s"] <= whole_s  # with what rose, which the sink is not from
    aloft = [height for second, height in samples if flown["launch_s"] <= second <= flown["down_s"]]
    if flown["from_ground"]:
        begins, ends = flown["launch_s"] - 20.0, flown["launch_s"] + 5.0
    else:
        begins, ends = flown["down_s"] - 5.0, flown["down_s"] + 20.0
        assert flown["to_ground"]  # none of these begins and ends in the air
    near = [height for second, height in samples if begins <= second <= ends]
    at = aloft.index(max(aloft))
    every_s = median(b - a for (a, _), (b, _) in pairwise(samples))
    allowed = 5.0 + every_s
    assert median(aloft[max(0, at - 1) : at + 2]) - max(near) - allowed <= flown["height_m"]
    assert flown["height_m"] <= max(aloft) - min(near) + allowed


def shown_alike(html: str, flown: dict[str, Any]) -> None:
    """Assert that the page has the same borders, in their order, and nothing that is no number."""
    assert not re.search(r"\b(?:[Nn]a[Nn]|[Ii]nf|[Ii]nfinity|None)\b", html)
    found = re.findall(r'data-border="(\w+)" min="0"\s+max="([\d.]+)"[^>]* value="([\d.]+)"', html)
    assert [key for key, _, _ in found] == BORDERS
    seconds = [float(second) for _, _, second in found]
    assert seconds == sorted(seconds)
    assert seconds[-1] <= float(found[0][1])
    assert seconds[1] - seconds[0] == pytest.approx(flown["top_s"] - flown["launch_s"], abs=1.0)
    assert seconds[4] - seconds[0] == pytest.approx(flown["down_s"] - flown["launch_s"], abs=1.0)


@pytest.mark.parametrize("name", SMALL)
def test_the_command_is_what_a_shell_gets(name: str, folder: Path) -> None:
    command = [sys.executable, "-m", "calc", "flight", str(folder / name)]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", cwd=ROOT, check=False)
    if holds_pressure(recorded((folder / name).read_text("utf-8"))):
        assert (done.returncode, done.stderr) == (0, "")
        assert done.stdout.count("above the ground") == done.stdout.count("Flight ") > 0
    else:
        assert (done.returncode, done.stdout) == (2, "")
        assert len(done.stderr.splitlines()) == 1


@pytest.mark.node
@pytest.mark.parametrize("name", SMALL)
def test_pyodide_shows_them_alike(name: str, folder: Path, doors: Doors, pyodide_bridge: PyodideBridge) -> None:
    """As the page has it, but for the number of the file, which counts on in each Python."""
    params = {"text": (folder / name).read_text("utf-8"), "name": name}
    request = json.dumps({"v": 1, "id": 1, "method": "log_open", "params": params})
    found = json.loads(pyodide_bridge.ask(request))["result"]
    assert {**found, "log": 0} == {**doors.ask("log_open", **params), "log": 0}
