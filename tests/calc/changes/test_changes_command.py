"""`python -m calc changes BUDGET`."""

import json
from pathlib import Path

import pytest

from calc.__main__ import main
from tests.calc.changes.budgets import BOX, OVER, SOUND


@pytest.fixture
def files(tmp_path: Path) -> tuple[str, str]:
    """Return the names of a budget that is over, and of a box."""
    for name, document in (("over", OVER), ("box", BOX)):
        (tmp_path / f"{name}.json").write_text(json.dumps(document), encoding="utf-8")
    return str(tmp_path / "over.json"), str(tmp_path / "box.json")


def test_it_tells_what_would_make_it_fit(
    files: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    over, box = files
    assert main(["changes", over, "--box", box]) == 0
    said = capsys.readouterr()
    assert said.out.splitlines()[:2] == [
        "What would make it fit:",
        "* Use the bare receiver (1.2 g) from your box instead of the cased receiver",
    ]
    assert "Part 5, mass" in said.err  # what is wrong with the box is told


def test_it_tells_that_as_json(files: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    over, box = files
    assert main(["changes", over, "--json", "--box", box]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["needed"], found["cut"], found["assessments_most"]) == (True, False, 60)
    first = found["list"][0]
    assert first["edits"][0] == {"keys": ["gear", 0, "name"], "before": "cased receiver", "after": "bare receiver"}
    assert {key: first[key] for key in ("code", "path", "before", "after", "fits", "verdict", "in_hand_g")} == {
        "code": "swap", "path": "gear.0", "before": "2.0 g", "after": "1.2 g", "fits": True, "verdict": "fits",
        "in_hand_g": 0.3,
    }  # fmt: skip
    assert first["facts"] == {"part": "bare receiver", "count": 1, "lighter_g": 0.8}
    assert not any(each["edits"] for each in found["list"] if each["code"] == "airframe")


def test_a_budget_that_fits_needs_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "sound.json").write_text(json.dumps(SOUND), encoding="utf-8")
    assert main(["changes", str(tmp_path / "sound.json")]) == 0
    assert capsys.readouterr().out == "It fits: nothing has to change.\n"


def test_a_box_that_is_none(files: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    over, _ = files
    assert main(["changes", over, "--box", over]) == 2
    assert "is a budget, not a box of parts" in capsys.readouterr().err
