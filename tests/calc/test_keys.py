"""The keys of the JSON that `keys` tells are those that really come, and no others: other programs rely on them."""

import json
import random
import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from calc import keys
from calc.__main__ import main
from calc.assess import assess
from calc.changes.data import as_json as changes_json
from calc.changes.find import find
from calc.compare.data import UNITS, compared_json
from calc.compare.sides import compare
from calc.data import as_json
from calc.document.box import read_box
from calc.document.budget import read
from calc.fitting.data import as_json as room_json
from calc.fitting.find import find as find_room
from calc.fitting.find import in_one_go
from calc.savings.data import as_json as saved_json
from calc.savings.data import of_airframe
from calc.savings.find import find as find_savings
from calc.search import finder, going_in
from calc.search.data import as_json as found_json
from calc.subjects.airframe.templates import started
from calc.subjects.flights import logfile, logwords
from calc.subjects.listed import SUBJECTS
from tests.calc.full import BY_PARTS, RECEIVER, full
from tests.calc.search.test_finder_room import BAY, BOARD, CELL, LINK, SERVO
from tests.calc.subjects.flights.made import flight, table
from tests.support import SITE_SRC, demo_documents

ANSWER, CHANGED, COMPARED, SAVED, FOUND, ROOM, LOGGED, REFUSED = keys.PLACES
VARIES = (
    (re.compile(r"^list\[\](\.of\[\])?\.facts\.\w+"), r"list[]\1.facts.FACT"),
    (re.compile(r"^list\[\]\.parts\.\w+"), "list[].parts.PART"),
    (re.compile(r"^missing\.\w+"), "missing.BLOCK"),
    (re.compile(r"^airframe\.groups\.\w+"), "airframe.groups.GROUP_g"),
    (re.compile(r"^sets\.reasons\.\w+"), "sets.reasons.REASON"),
    (re.compile(r"^errors\[\]\.facts\.\w+(\[\])?"), "errors[].facts.FACT"),
    (
        re.compile(rf"^(rows\[\]\.(before|after|change))({'|'.join({unit for unit, _ in UNITS.values()})})?$"),
        r"\1_UNIT",
    ),
)


def paths(value: Any, path: str = "") -> Iterator[str]:
    """Yield the path of every key of plain data, as `keys` writes it."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield from paths(item, f"{path}.{key}" if path else key)
    elif isinstance(value, list) and any(isinstance(item, dict) for item in value):
        for item in value:
            yield from paths(item, f"{path}[]")
    else:
        for pattern, written in VARIES:
            path = pattern.sub(written, path)
        yield f"{path}[]" if isinstance(value, list) and not path.endswith("FACT") else path


@cache
def documents() -> tuple[dict[str, Any], ...]:
    """Return the examples, and each of them with blocks and entries left out at random: rare keys come, too."""
    rng, found = random.Random(7), list(demo_documents().values())
    for document in list(found):
        for _ in range(25):
            changed = json.loads(json.dumps(document))
            for block in [changed, *(each for each in changed.values() if isinstance(each, dict)), *changed["gear"]]:
                for key in [key for key in block if rng.random() < 0.12 and key != "gear"]:
                    del block[key]
            found.append(changed)
    wren = demo_documents()["sedge-wren.json"]
    found.append({**wren, "balance": {**wren["balance"], "target": "240 mm"}})  # lead at the tail
    found.append({**wren, "surface": {**wren["surface"], "deflection": "45°"}})  # more throw than the arms give
    found.append({**wren, "model": {**wren["model"], "maximum": "90 g"}})
    gear = [{**row, "draw_known_by": "guess"} if "draw" in row else row for row in wren["gear"]]
    found.append({**wren, "cell": {**wren["cell"], "capacity": "4 mAh"}})  # emptied more than five times an hour
    found.append(full())  # with a rubber motor and its propeller's stream
    timed = {"timed_height": "90 m", "timed_glide": "60 s", "timed_motor": "60 s"}  # more than the rubber holds
    found.append({**wren, "air": {**wren["air"], **timed}})
    found.append(full())  # with a rubber motor
    found.append({**full(), **BY_PARTS})
    sized = [{**row, "length": "20 mm", "width": "12 mm", "height": "6 mm"} for row in gear[:2]]
    for length in ("30 mm", "90 mm"):
        bay = {"length": length, "width": "14 mm", "height": "8 mm", "station": "20 mm"}
        found.append({**wren, "gear": [{**sized[0], "station": "60 mm"}, sized[1]], "bays": [bay]})
    found.append({**wren, "gear": [{**sized[0], "length": "95 mm"}], "bays": [bay]})
    found.append({**wren, "gear": sized, "bays": [{**bay, "hatch_width": "3 mm"}]})
    flights = [{"sink": f"{sink} m/s"} for sink in (0.45, 0.46, 0.44, 0.1, 0.02)]
    found.append({**full(), "flights": flights})  # the last far off
    return (*found, {**wren, "gear": gear})


def assert_told(came: set[str], title: str) -> None:
    """Compare what came with what is told; an empty list says nothing of the keys of its items."""
    told = set(keys.of(title))
    assert {path for path in came if not any(key.startswith(f"{path}.") for key in told)} == told


def test_of_changes() -> None:
    box = read_box(json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8")))
    heavy = [{**each, "gear": [*each["gear"], {"mass": "1 g"}]} for each in documents()[::9]]
    came = {path for each in heavy for path in paths(changes_json(find(each, box)))}
    lines = read_box({"parts": [{"kind": "linkage", "name": "lines", "mass": "0.3 g"}]})
    came |= set(paths(changes_json(find(demo_documents()["reed-bunting.json"], lines))))  # opens its strength
    assert_told(came, CHANGED)


def test_of_an_answer() -> None:
    came = {path for each in documents() for path in paths(as_json(assess(read(each).budget)))}
    came |= {path for each in savable() for path in paths({"airframe": of_airframe(find_savings(each))})}
    assert_told(came, ANSWER)


def test_of_a_comparison() -> None:
    budgets = [read(each).budget for each in documents()]
    came = {path for pair in pairwise(budgets) for path in paths(compared_json(compare(*pair)))}
    assert_told(came, COMPARED)


def test_of_a_search(monkeypatch: pytest.MonkeyPatch) -> None:
    box = read_box(json.loads((SITE_SRC / "demo" / "box.json").read_text(encoding="utf-8")))
    nothing = read_box({"parts": []})
    came: set[str] = set()
    for document in demo_documents().values():
        for parts in (box, nothing):
            came |= set(paths(found_json(finder.answer(document, parts))))
    quiet = [{"kind": kind, "mass": "1 g", "draw": "9 mA"} for kind in ("receiver", "servo", "linkage")]
    quiet.append({"kind": "cell", "mass": "1 g", "capacity": "40 mAh"})
    came |= set(paths(found_json(finder.answer({"model": {"airframe": "40 g"}}, read_box({"parts": quiet})))))
    tight = read_box({"parts": [SERVO, BOARD, LINK, {**CELL, "length": "30 mm"}]})
    came |= set(paths(found_json(finder.answer({"model": {"airframe": "60 g"}, "bays": [BAY]}, tight))))
    monkeypatch.setattr(going_in, "MOST_LOOKS", 0)
    came |= set(paths(found_json(finder.answer({"model": {"airframe": "60 g"}, "bays": [BAY]}, tight))))
    assert_told(came, FOUND)


def test_of_the_room() -> None:
    gear = [{"kind": "servo", "mass": "2 g", "length": "20 mm", "width": "12 mm", "height": "6 mm"}] * 2
    parts = [{"kind": "servo", "name": "small", "mass": "1 g", "length": "9 mm", "width": "9 mm", "height": "6 mm"}]
    tight = {"length": "31 mm", "width": "13 mm", "height": "7 mm"}
    taper = {"kind": "tapered", "length": "50 mm", "width": "14 mm", "height": "9 mm", "station": "10 mm",
             "back_width": "20 mm", "back_height": "20 mm"}  # fmt: skip
    balance = {"airframe_at": "168 mm", "target": "120 mm", "nose_at": "10 mm", "tail_at": "520 mm"}
    placed = [{**each, "station": "200 mm"} for each in gear]
    came: set[str] = set()
    for document in (
        {"gear": gear, "bays": [tight]},
        {"gear": gear, "bays": [{**tight, "hatch_width": "3 mm"}]},
        {"gear": [{**gear[0], "length": "90 mm"}], "bays": [{**taper, "station": ""}]},
        {"model": {"airframe": "40 g"}, "gear": placed, "bays": [taper], "balance": balance},
        {"gear": gear},
    ):
        came |= set(paths(room_json(in_one_go(find_room(document, read_box({"parts": parts}))))))
    assert_told(came, ROOM)


def test_of_a_log() -> None:
    assert_told(set(paths(logwords.as_json(logfile.read(table(flight()))))), LOGGED)


def test_of_errors(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "bad.json"
    file.write_text('{"modle": 1, "model": {"airframe": "-3 g", "class": "f9z"}, "gear": [{}]}', encoding="utf-8")
    assert main([str(file), "--json"]) == 2
    assert_told(set(paths(json.loads(capsys.readouterr().out))), REFUSED)


def test_each_is_told_once_and_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["keys"]) == 0
    printed = capsys.readouterr().out
    assert max(map(len, printed.splitlines())) <= 78
    for title in keys.PLACES:
        files = [keys.HERE / place / "keys.txt" for place in keys.PLACES[title]]
        lines = [line for file in files for line in file.read_text(encoding="utf-8").splitlines()]
        listed = [line.partition("  ")[0] for line in lines]
        assert set(listed) == set(keys.of(title))
        assert len(listed) == len(set(listed))
        for key, meaning in keys.of(title).items():
            assert meaning
            assert f"\n  {key} " in printed
    assert all((keys.HERE / "subjects" / each.name / "keys.txt").is_file() for each in SUBJECTS)


def savable() -> tuple[dict[str, Any], ...]:
    """Return budgets beside whose parts there are choices of each kind."""
    air = {"launch": "rubber", "rubber_energy": "4 kJ/kg", "efficiency": "50 %"}
    cover = {
        "shape": "cover",
        "material": "tissue",
        "span": "800 mm",
        "root": "100 mm",
        "area": True,
        "weight": "15 g/m2",
    }
    coat = {"shape": "finish", "material": "dope", "span": "800 mm", "root": "100 mm"}
    return (
        {**started({"air": air, "model": {"use": "sport", "rubber": "9 g"}}, "thirty-inch"), "gear": [RECEIVER]},
        {"airframe": [cover, coat]},
    )


def test_of_savings() -> None:
    assert_told({path for each in savable() for path in paths(saved_json(find_savings(each)))}, SAVED)
