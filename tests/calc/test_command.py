"""`python -m calc`, as a user or another program runs it."""

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest

from calc.__main__ import main
from calc.assess import assess
from calc.budget import read
from calc.sheet import sheet
from tests.support import ROOT, SITE_SRC, demo_documents

EXAMPLE = SITE_SRC / "demo" / "sedge-wren.json"


def test_sheet_and_json_from_the_real_command() -> None:
    command = [sys.executable, "-m", "calc", str(EXAMPLE)]
    sheet = subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8", check=True)
    assert "Fits, with 0.60 g in hand, nearly sure. The share rule comes first." in sheet.stdout
    data = subprocess.run([*command, "--json"], cwd=ROOT, capture_output=True, encoding="utf-8", check=True)
    assert json.loads(data.stdout)["governs"] == "share"
    assert sheet.stderr == data.stderr == ""


@pytest.mark.parametrize("name", demo_documents())
def test_a_sheet_is_one_page(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(SITE_SRC / "demo" / name)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) < 60
    assert max(len(line) for line in lines) <= 78


def test_a_bad_document_ends_with_2_and_a_line_for_each_problem(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    file = tmp_path / "bad.json"
    file.write_text('{"model": {"class": "f9z", "airframe": "-3 g"}, "gear": [{}]}', encoding="utf-8")
    assert main([str(file)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert [line.split(":")[0] for line in said.err.splitlines()] == [
        "Model, class", "Model, airframe without gear", "Gear row 1, mass of one"
    ]  # fmt: skip


def test_files_that_cannot_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "bytes").write_bytes(b"\xff\xfe\x00\x01")
    for name in ("absent", "bytes"):
        assert main([str(tmp_path / name)]) == 2
        assert "cannot be read" in capsys.readouterr().err
    (tmp_path / "mark.json").write_bytes(b"\xef\xbb\xbf{}")
    assert main([str(tmp_path / "mark.json")]) == 0
    assert "No limit can be worked out yet" in capsys.readouterr().out


def test_json_of_standard_input(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO('{"gear": [{"mass": "1 g"}]}'))
    assert main(["-", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["gear"]["nominal_g"] == 1.0


def test_a_sheet_names_what_it_does_not_count() -> None:
    budget = read({"model": {"airframe": "40 g"}, "gear": [{"mass": "1 g"}, {"name": "beacon"}]}).budget
    assert "Gear row 2 is not counted: its mass is not known." in sheet(budget, assess(budget))


def test_standard_input() -> None:
    command = [sys.executable, "-m", "calc", "-", "--json"]
    done = subprocess.run(command, input="{}", cwd=ROOT, capture_output=True, encoding="utf-8", check=True)
    assert json.loads(done.stdout)["missing"]["limits"] == ["model.airframe"]
    done = subprocess.run(command, input="[" * 99, cwd=ROOT, capture_output=True, encoding="utf-8", check=False)
    assert (done.returncode, done.stderr) == (2, "The budget: This is nested too deeply for a budget.\n")


def test_a_document_with_gaps_still_gives_a_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "gaps.json").write_text('{"gear": [{"mass": "1 g"}]}', encoding="utf-8")
    assert main([str(tmp_path / "gaps.json")]) == 0
    out = capsys.readouterr().out
    assert "Budget without a name" in out
    assert "Run time is not worked out: it needs Cell, capacity; " in out
