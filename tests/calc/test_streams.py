"""What the command reads and writes: any locale, any terminal, streams that are shut or full."""

import json
import os
import shlex
import subprocess
import sys
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from calc import streams
from calc.__main__ import main
from tests.support import ROOT, SITE_SRC

EXAMPLE = SITE_SRC / "demo" / "sedge-wren.json"


def command(*arguments: str, **how: Any) -> subprocess.CompletedProcess[bytes]:
    """Run the real command with bytes in and out."""
    return subprocess.run([sys.executable, "-m", "calc", *arguments], cwd=ROOT, capture_output=True, check=False, **how)


LATIN = {**os.environ, "PYTHONIOENCODING": "latin-1", "LC_ALL": "C", "PYTHONUTF8": "0"}


def test_utf8_whatever_the_locale(tmp_path: Path) -> None:
    """In, from standard input as from a file, and out: a name, the superscript two of a wing area."""
    text = '{"name": "Möwe", "model": {"airframe": "40 g", "wing_area": "8 dm²", "max_loading": "9 g/dm²"}}'
    (tmp_path / "gull.json").write_text(text, encoding="utf-8")
    for name, given in (("-", text.encode()), (str(tmp_path / "gull.json"), b"")):
        done = command(name, input=given, env=LATIN)
        assert (done.returncode, done.stderr) == (0, b"")
        assert "Möwe" in done.stdout.decode("utf-8")
        assert json.loads(command(name, "--json", input=given, env=LATIN).stdout)["limits"][-1]["id"] == "loading"
    done = command("-", input='{"model": {"wing_area": "8 dm²²"}}'.encode(), env=LATIN)
    assert "for example 8.6 dm² or" in done.stderr.decode("utf-8")


def test_controls_of_a_terminal_are_written_out(tmp_path: Path) -> None:
    """In the sheet, in a problem, in the name of a field and of a file; the JSON stays the same JSON."""
    evil = "a\0\x07\x1b[2J\r\x9b\u202eb\nVerdict: fits"
    document = {"name": evil, "gear": [{"kind": "servo", "name": evil, "mass": "1 g", "weighed": "2 g"}]}
    for bad, status in (({}, 0), ({evil: 1, "units": evil, "gear": evil}, 2)):
        for more in ([], ["--json"]):
            done = command("-", *more, input=json.dumps({**document, **bad}).encode())
            assert done.returncode == status
            said = (done.stdout + done.stderr).decode("utf-8")
            assert not set(said) & set("\0\x07\x1b\r\x9b\u202e")
            assert "\\u001b" in said
            assert "\nVerdict" not in said
    done = command(str(tmp_path / "\x1b[2J"))
    assert (done.returncode, b"\x1b" in done.stderr) == (2, False)


def test_a_field_with_an_odd_digit_is_told() -> None:
    done = command("-", input='{"gear.²": 1, "parts.²": 1, "gear.0.mass": "1 g"}'.encode())
    lines = done.stderr.decode("utf-8").splitlines()
    assert (done.returncode, len(lines)) == (2, 3)
    assert all("There is no such field." in line for line in lines)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that is always full is needed")
@pytest.mark.parametrize(
    ("line", "status", "said"),
    [
        ("{} > /dev/full", 2, "The answer cannot be written: No space left on device.\n"),
        ("{} --json > /dev/full", 2, "The answer cannot be written: No space left on device.\n"),
        ("{} >&-", 2, "Standard output is closed: the answer cannot be written.\n"),
        ("{} >&- 2>&-", 2, ""),
        ("{} > /dev/full 2>/dev/full", 2, ""),
        ("{} 2>&- | cat > /dev/null", 0, ""),
        ("{} <&- > /dev/null", 0, ""),
        ("python -m calc - <&-", 2, "- cannot be read: standard input is closed.\n"),
        ("python -m calc nothing 2>/dev/full", 2, ""),
        ("python -m calc nothing 2>&-", 2, ""),
    ],
)
def test_a_stream_that_is_shut_or_full_ends_it_in_one_line(line: str, status: int, said: str) -> None:
    """And writes nothing else: no traceback, nothing on the stream that is left."""
    shell = line.format(f"python -m calc {EXAMPLE}").replace("python", shlex.quote(sys.executable))
    done = subprocess.run(["sh", "-c", shell], cwd=ROOT, capture_output=True, encoding="utf-8", check=False)
    assert (done.returncode, done.stdout, done.stderr) == (status, "", said)


def test_how_a_program_ends(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> None:
    """The same within this process, where each branch is seen."""
    assert streams.run(lambda: 3) == 3
    assert [streams.run(partial(raised, SystemExit(code))) for code in (2, 0, None)] == [2, 0, 0]
    with monkeypatch.context() as patch:
        patch.setattr("sys.stdout", None)
        assert streams.run(lambda: 3) == 2
        patch.setattr("sys.stderr", None)
        assert streams.run(lambda: 3) == 2
        patch.setattr("sys.stdin", None)
        with pytest.raises(streams.FileRefusedError, match="closed"):
            streams.text_of("-", 9)
    assert capfd.readouterr().err == "Standard output is closed: the answer cannot be written.\n"
    for error, status, said in (
        (BrokenPipeError(), 0, ""),
        (OSError("full"), 2, "The answer cannot be written: full.\n"),
    ):
        with (Path(os.devnull)).open("w", encoding="latin-1") as out, monkeypatch.context() as patch:
            patch.setattr("sys.stdout", out)
            assert streams.run(partial(raised, error)) == status
            assert out.encoding == "utf-8"
        assert capfd.readouterr().err == said
    with Path(os.devnull).open("r", encoding="utf-8") as shut, monkeypatch.context() as patch:
        patch.setattr("sys.stderr", shut)  # whatever is written to it fails
        streams.tell("nothing")


def raised(error: BaseException) -> int:
    raise error


def test_a_file_that_is_not_utf8(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A table of a spreadsheet is read as Windows-1252 and that is told; anything else is refused with a way out."""
    table = "Kind;Name;Mass [g];Farbe\r\nreceiver;Möwe;1,1;grün\r\ncell;Zelle;1;\r\n".encode("cp1252")
    (tmp_path / "box.csv").write_bytes(table)
    (tmp_path / "budget.json").write_bytes('{"name": "Möwe"}'.encode("cp1252"))
    (tmp_path / "box.json").write_bytes('{"parts": [{"name": "Möwe"}]}'.encode("cp1252"))
    (tmp_path / "wide.csv").write_bytes("Kind,Name\nservo,Möwe\n".encode("utf-16"))
    assert main(["finder", str(tmp_path / "box.csv"), str(EXAMPLE)]) == 0
    said = capsys.readouterr()
    assert "it was read as Windows-1252" in said.err
    assert "Columns left aside: Farbe." in said.err
    assert main(["finder", str(tmp_path / "box.json"), str(EXAMPLE)]) == 2
    assert main(["finder", str(tmp_path / "wide.csv"), str(EXAMPLE)]) == 2
    assert main([str(tmp_path / "budget.json")]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 3
    assert all("cannot be read: it is not UTF-8 text. Save it as UTF-8" in line for line in lines)


def test_a_file_too_large_is_not_read_to_its_end(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "large.json").write_text(" " * 1_048_577, encoding="utf-8")
    assert main([str(tmp_path / "large.json")]) == 2
    assert "too large for a budget" in capsys.readouterr().err
