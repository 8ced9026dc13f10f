"""The hostile corpus through the command, the reader and the bridge: nothing raises, runs on, or goes unsaid."""

import io
import json
import re
import time
from types import SimpleNamespace
from typing import Any

import pytest

from calc import wording
from calc.__main__ import main
from calc.assess import assess
from calc.data import as_json
from calc.document.budget import read
from calc.document.jsontext import loads
from calc.document.letters import printable
from calc.errors import BudgetError
from site_src.app import bridge
from site_src.tools.corpus import BASE, CORPUS, ODD, WHOLE, all_paths, with_odd

CONTROLS = frozenset(map(chr, (*range(10), *range(11, 32), *range(127, 160), 0x2028, 0x202E)))
SLOWEST_S = 20.0  # what runs away takes minutes; no bound on how quick it is


def test_the_corpus_is_of_some_size() -> None:
    assert len(CORPUS) >= 300


def told_by(source: str) -> list[str]:
    """Return what is said of a document that is read leniently, and check that its answer is JSON."""
    try:
        document = loads(source)
    except BudgetError as error:
        return [wording.problem(problem) for problem in error.problems]
    reading = read(document)
    json.dumps(as_json(assess(reading.budget)), allow_nan=False)
    return [wording.problem(problem) for problem in reading.problems]


@pytest.mark.parametrize("name", CORPUS)
def test_nothing_of_the_corpus_stops_the_sums_or_the_command(
    name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    """Neither raises, neither takes long; what is refused is told in sentences without a control letter."""
    source, began = CORPUS[name], time.monotonic()
    told = told_by(source)
    for arguments in (["-"], ["-", "--json"]):
        monkeypatch.setattr("sys.stdin", SimpleNamespace(buffer=io.BytesIO(source.encode("utf-8", "surrogatepass"))))
        status = main(arguments)
        said = capsys.readouterr()
        if status == 0:
            assert not told
            assert not CONTROLS & set(said.out)
            assert arguments == ["-"] or json.loads(said.out, parse_constant=pytest.fail)
        else:
            assert status == 2
            assert said.err.splitlines()[: len(told)] == [printable(each) for each in told]
            assert bool(said.out) == (arguments != ["-"])  # errors as JSON where JSON was asked for
            assert not said.out or json.loads(said.out, parse_constant=pytest.fail)["errors"]
    assert time.monotonic() - began < SLOWEST_S
    for each in told:
        assert re.fullmatch(r".{1,60}: .*[.?]", each), each
        assert len(each) < 400
        assert not CONTROLS & set(each)


@pytest.mark.parametrize("name", CORPUS)
def test_nothing_of_the_corpus_stops_the_page(name: str) -> None:
    """Each answer is JSON in time; a document as a file, in a request as it stands, and as a link."""
    source, began = CORPUS[name], time.monotonic()
    opened = asked("open_any", text=source, document=BASE)
    assert opened["ok"] or (opened["errors"][0]["code"] != "inside" and opened["errors"][0]["message"])
    if not opened["ok"]:
        return
    document = opened["result"]["document"]
    form = asked("form", document=document)
    answer = asked("answer", document=document)
    assert form["ok"]
    assert answer["ok"]
    assert form["result"]["problems"] == answer["result"]["problems"]
    assert sorted(form["result"]["problems"]) == sorted({problem.field for problem in read(document).problems})
    assert all(form["result"]["problems"].values())
    if form["result"]["link"] and document.get("format", 1) == 1:
        assert asked("open_link", fragment=form["result"]["link"])["result"]["document"] == {"format": 1, **document}
    assert time.monotonic() - began < SLOWEST_S


def asked(method: str, **params: Any) -> dict[str, Any]:
    """Return the answer of the bridge, which must be JSON without NaN or infinity."""
    text = bridge.handle(json.dumps({"v": 1, "id": 7, "method": method, "params": params}))
    answer: dict[str, Any] = json.loads(text, parse_constant=pytest.fail)
    assert answer["id"] == 7
    return answer


@pytest.mark.parametrize("path", all_paths())
def test_what_is_odd_in_a_field_is_understood_or_told(path: str) -> None:
    """In every field each odd entry: it is either the field's entry as typed, or a problem names the field."""
    for name, odd in ODD.items():
        document = loads(with_odd(path, odd), deepest=60)
        reading = read(document)
        *places, key = path.split(".")
        block: Any = reading.budget
        for place in places:
            block = block[int(place)] if place == "0" else getattr(block, place)
        entry = getattr(block, key) if hasattr(block, key) else getattr(block, f"{key}_")
        raw: Any = document
        for step in path.split("."):
            raw = raw[int(step)] if step == "0" else raw[step]
        understood = entry is not None and type(entry.typed) is type(raw) and entry.typed == raw
        assert understood != (path in {problem.field for problem in reading.problems}), (name, entry)


def test_twenty_unknown_fields_are_told_by_name_and_the_rest_counted() -> None:
    began = time.monotonic()
    for name in ("unknown by the thousand", "rows of unknown"):
        problems = read(loads(WHOLE[name])).problems
        told = [wording.problem(problem) for problem in problems]
        assert len(problems) == 21
        count = 5000 - 20 if name == "unknown by the thousand" else 60 * 60 - 20
        assert told[-1] == f"The budget: {count} more fields are not known here, and not read."
    one_more = {f"nonsense{number}": 1 for number in range(21)}
    assert wording.problem(read(one_more).problems[-1]).endswith("1 more field is not known here, and not read.")
    assert time.monotonic() - began < SLOWEST_S


@pytest.mark.parametrize("system", ["metricc", 5, ["imperial"], "Imperial", True, 1.0, "1e999"])
def test_without_readable_units_a_bare_number_is_refused_not_taken_for_grams(system: object) -> None:
    """A unit that is written, and one that is the same in both systems, are read as ever."""
    document: dict[str, Any] = {
        "units": system, "scale_division": 0.1, "model": {"airframe": "40", "wing_area": "8 dm^2"},
        "gear": [{"kind": "servo", "mass": 1.2, "draw": "8", "station": "10"}],
        "session": {"temperature": 10, "on_time": 5},
    }  # fmt: skip
    reading = read(document)
    told = {problem.field: problem.code for problem in reading.problems}
    refused = {"scale_division", "model.airframe", "gear.0.mass", "gear.0.station", "session.temperature"}
    assert {path for path, code in told.items() if code == "unit_unknown"} == refused
    assert told.keys() == refused | {"units"}
    draw = reading.budget.gear[0].draw
    assert draw is not None
    assert draw.value == pytest.approx(0.008)
    assert all(
        "write the unit, for example" in wording.problem(each) for each in reading.problems if each.field != "units"
    )
    for sound in ({}, {"units": None}, {"units": ""}, {"units": "metric"}, {"units": "imperial"}):
        assert read({**document, "units": "metric", **sound}).problems == ()
