"""`python -m calc`, as a user or another program runs it."""

import io
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import calc
from calc.__main__ import main
from calc.assess import assess
from calc.commands import COMMANDS, program
from calc.document.budget import read
from calc.text import plain_text
from tests.support import ROOT, SITE_SRC, demo_documents

EXAMPLE = SITE_SRC / "demo" / "sedge-wren.json"
BOX = SITE_SRC / "demo" / "box.json"


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
    assert "Gear row 2 is not counted: its mass is not known." in plain_text(budget, assess(budget))


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


def command(*arguments: str, **how: Any) -> subprocess.CompletedProcess[bytes]:
    """Run the real command with bytes in and out."""
    return subprocess.run([sys.executable, "-m", "calc", *arguments], cwd=ROOT, capture_output=True, check=False, **how)


def test_a_name_is_not_cut(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = " ".join(f"word{number}" for number in range(13))[:80]
    document = {"gear": [{"name": name, "mass": "1 g"}, {"name": "x" * 80, "mass": "1 g"}]}
    (tmp_path / "long.json").write_text(json.dumps(document), encoding="utf-8")
    assert main([str(tmp_path / "long.json")]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert name in " ".join(" ".join(lines).replace("1.00 g", "").replace("± 0.06 g", "").split())
    assert sum(line.count("x") for line in lines if line.startswith("  ") and "xx" in line) == 80
    assert max(map(len, lines)) <= 78


def test_the_version(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match=r"^0$"):
        main(["--version"])
    assert capsys.readouterr().out == f"thistledown {calc.__version__}\n"


def test_several_files_are_answered_each_under_its_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A bad one among them is told, ends it with 2, and keeps none of the others from its answer."""
    bad, good = tmp_path / "bad.json", SITE_SRC / "demo" / "gnat.json"
    bad.write_text('{"gear": [{"mass": "1 mm"}]}', encoding="utf-8")
    assert main([str(good)]) == 0
    alone = capsys.readouterr().out
    assert main([str(good), str(EXAMPLE)]) == 0
    assert capsys.readouterr().out.startswith(f"== {good} ==\n\n{alone}\n== {EXAMPLE} ==\n\nSedge Wren\n")
    assert main([str(bad), str(good)]) == 2
    said = capsys.readouterr()
    assert said.out == f"== {good} ==\n\n{alone}\n"
    assert said.err.startswith(f"{bad}: Gear row 1, mass of one: “1 mm” is a length")
    assert main(["--json", str(good), str(bad)]) == 2
    first, second = json.loads(capsys.readouterr().out)
    assert main([str(good), "--json"]) == 0
    assert first == {"file": str(good), "answer": json.loads(capsys.readouterr().out)}
    assert (second["file"], second["errors"][0]["field"]) == (str(bad), "gear.0.mass")


def test_errors_as_json_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The same problems as on standard error, from each command."""
    bad = tmp_path / "bad.json"
    bad.write_text('{"model": {"airframe": 1e999, "class": "f9z"}}', encoding="utf-8")
    for arguments in ([str(bad)], ["compare", str(EXAMPLE), str(bad)], ["finder", str(BOX), str(bad)]):
        assert main([*arguments, "--json"]) == 2
        said = capsys.readouterr()
        found = json.loads(said.out)["errors"]
        assert [(error["file"], error["field"], error["code"]) for error in found] == [
            (str(bad), "model.airframe", "not_a_number"),
            (str(bad), "model.class", "not_a_choice"),
        ]
        lines = said.err.splitlines()
        assert all(line.endswith(error["message"]) for line, error in zip(lines, found, strict=True))
        assert main(arguments) == 2
        assert capsys.readouterr() == ("", said.err)


@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        (["absent.json"], "not_read", "absent.json cannot be read: No such file or directory."),
        (["finder", str(EXAMPLE), str(EXAMPLE), "--charges", "0"], "not_charges", "--charges: "),
        (["finder", "{box}", str(EXAMPLE), "--keep", "anvil"], "no_such_part", "“anvil” is neither in the box nor"),
        (["comapre", "a", "b"], "no_such_command", "There is no file “comapre”. Was the command “compare” meant?"),
        (["Finder", "a", "b"], "no_such_command", "Was the command “finder” meant?"),
        (["{box}"], "is_a_box", "box.json is a box of parts, not a budget. What can be made of it: "),
        (["{csv}"], "is_a_box", "box.csv is a box of parts, not a budget."),
        (["compare", str(EXAMPLE), "{box}"], "is_a_box", "box.json is a box of parts, not a budget."),
        (["finder", "{box}", "{box}"], "is_a_box", "box.json is a box of parts, not a budget."),
        (["finder", str(EXAMPLE), "{box}"], "is_a_budget", "is a budget, not a box of parts. The box comes first: "),
    ],
)
def test_what_is_refused_as_a_whole(
    arguments: list[str], code: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "box.csv").write_text("kind;mass [g]\nservo;1,7\n", encoding="utf-8")
    given = [each.format(box=BOX, csv=tmp_path / "box.csv") for each in arguments]
    assert main([*given, "--json"]) == 2
    said = capsys.readouterr()
    first = json.loads(said.out)["errors"][0]
    assert (first["code"], first["field"]) == (code, "")
    assert says in first["message"] == said.err.splitlines()[0]


def test_a_file_may_be_called_nearly_as_a_command(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("finders").write_text("{}", encoding="utf-8")
    assert main(["finders"]) == 0
    assert main(["--", "finders"]) == 0
    capsys.readouterr()


def test_an_option_may_stand_before_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--json", "compare", str(EXAMPLE), str(EXAMPLE)]) == 0
    assert json.loads(capsys.readouterr().out)["swaps"] == []


def test_help_tells_the_commands_and_the_statuses(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match=r"^0$"):
        main(["--help"])
    told = capsys.readouterr().out
    assert all(re.search(rf"^  {name}\b.* {{3}}\S", told, re.MULTILINE) for name in COMMANDS)
    assert "Exit status: 0 worked out" in told
    assert "; 2 a file or an argument is" in told


@pytest.mark.parametrize("arguments", [["--jsn"], [], ["finder", "a"], ["compare", "a", "b", "c"]])
def test_a_wrong_argument(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    for more, printed in (([], False), (["--json"], True)):
        with pytest.raises(SystemExit, match=r"^2$"):
            main([*arguments, *more])
        said = capsys.readouterr()
        assert bool(said.out) == printed
    (error,) = json.loads(said.out)["errors"]
    assert error["code"] == "usage"
    assert said.err.endswith(f"error: {error['message']}\n")


def test_what_it_is_called(monkeypatch: pytest.MonkeyPatch) -> None:
    for called, name in (("/usr/bin/thistledown", "thistledown"), ("thistledown.exe", "thistledown"), ("-m", "")):
        monkeypatch.setattr("sys.argv", [called])
        assert program() == (name or "python -m calc")
