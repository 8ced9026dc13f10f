"""Set-up: two at a time, a killed one, a Python or a machine that lacks something: it works or says why in one line."""

import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

import build
from site_src.tools import environment

POSIX = pytest.mark.skipif(os.name == "nt", reason="Windows has no lock of this kind")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with blanks and accents that stands in for the project's."""
    place = tmp_path / "Modèle réduit 3 ü"
    (place / "site_src").mkdir(parents=True)
    monkeypatch.setattr(environment, "ROOT", place)
    monkeypatch.setattr(environment, "SITE_SRC", place / "site_src")
    monkeypatch.setattr(environment, "VENV", place / ".venv")
    return place


def refusal(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """Return the one line that a command ends with."""
    assert build.main(arguments) == 1
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 1
    return lines[0]


@pytest.mark.parametrize("command", ["build", "serve", "test"])
def test_a_python_without_lzma_is_told(
    command: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    """Also inside a complete .venv that such a Python made; nothing is set up or built before."""
    monkeypatch.setitem(sys.modules, "lzma", None)  # so that an import fails
    monkeypatch.setattr(build, "_run", lambda *_: 0)
    told = refusal([command], capsys)
    assert told.startswith(f"This Python ({sys.executable}) comes without lzma: remove .venv if it is there, take a")


def test_debians_python_without_its_package_venv_is_told(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    monkeypatch.setattr(environment, "inside", lambda: False)
    for name in ("venv", "ensurepip"):
        monkeypatch.setitem(sys.modules, name, None)
    assert "comes without venv and ensurepip: on Debian or Ubuntu install the package python3-venv" in refusal(
        [], capsys
    )
    assert not (folder / ".venv").exists()


@pytest.mark.parametrize("command", ["build", "serve", "test", "pictures"])
def test_a_folder_that_became_read_only_is_told(
    command: str, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    """With all set up; a file in the folder's place refuses root, too."""
    (folder / "file").touch()
    monkeypatch.setattr(environment, "inside", lambda: True)
    monkeypatch.setattr(environment, "ROOT", folder / "file")
    assert refusal([command], capsys).startswith(f"Nothing can be written in {folder / 'file'} (")


@POSIX
@pytest.mark.usefixtures("folder")
def test_the_second_at_the_same_time_waits(capsys: pytest.CaptureFixture[str]) -> None:
    entered = threading.Event()

    def second() -> None:
        with environment.alone():
            entered.set()

    with environment.alone():
        thread = threading.Thread(target=second, daemon=True)
        thread.start()
        assert not entered.wait(0.2)
    assert entered.wait(5)
    thread.join(5)
    assert capsys.readouterr().out == "Another build.py is at work in this folder; waiting for it …\n"


STEP = """
import time, pathlib
pathlib.Path("step").touch()
for _ in range(1000):
    time.sleep(0.01)
    if pathlib.Path("enough").exists():
        break
pathlib.Path("ended").touch()
"""
SET_UP = """
import pathlib, sys
from site_src.tools import environment
environment.ROOT = pathlib.Path(sys.argv[1])
with environment.alone():
    environment._run([sys.executable, "-c", sys.argv[2]], "It failed.")
"""


@POSIX
def test_what_a_killed_set_up_started_ends_before_the_next_begins(folder: Path) -> None:
    """Else that takes away what the installer is writing, and fails for it."""
    command = [sys.executable, "-c", SET_UP, str(folder), STEP]
    with subprocess.Popen(command, cwd=Path(build.__file__).parent) as first:
        while not (folder / "step").exists():
            assert first.poll() is None
            time.sleep(0.01)
        first.send_signal(signal.SIGKILL)
    threading.Timer(0.2, (folder / "enough").touch).start()
    with environment.alone():
        assert (folder / "ended").exists()


def test_npm_runs_no_script_of_a_package(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One's asked for `node`, which a machine with Python alone has not."""
    (folder / "site_src" / "package.json").write_text(
        '{"name": "moth", "version": "1.0.0", "scripts": {"install": "no-such-program"}}', encoding="utf-8"
    )
    (folder / "site_src" / "package-lock.json").write_text(
        '{"name": "moth", "version": "1.0.0", "lockfileVersion": 3, "packages": {"": {"version": "1.0.0"}}}',
        encoding="utf-8",
    )
    (folder / "site_src" / "node_modules").mkdir()
    monkeypatch.setenv("npm_config_offline", "true")
    environment._npm_install()
    assert environment._npm_ready()


@pytest.mark.parametrize(
    ("said", "reason"),
    [
        (
            "npm error code ECONNREFUSED\nnpm error FetchError: request to there failed, reason: connect ECONNREFUSED\n"
            "npm error     at ClientRequest.<anonymous> (index.js:1:1)\nnpm error   code: 'ECONNREFUSED',\nnpm error\n"
            "npm error If you are behind a proxy, please make sure that the 'proxy' config is set properly.\n"
            "npm notice\nnpm notice To update run: npm install -g npm\nnpm notice\n"
            "npm error A complete log of this run can be found in: here\n",
            "npm error FetchError: request to there failed, reason: connect ECONNREFUSED",
        ),
        ("npm error code 127\nnpm error sh: 1: node: not found\nnpm notice\n", "npm error sh: 1: node: not found"),
        ("ERROR: [Errno 28] No space left on device\n\nsee above\n", "ERROR: [Errno 28] No space left on device"),
        ("\n", "no message"),
    ],
)  # fmt: skip
def test_of_what_a_step_said_the_reason_is_told(said: str, reason: str) -> None:
    """As npm 11 and pip said it."""
    assert environment._reason(said) == reason


def test_a_console_that_lacks_a_letter_does_without() -> None:
    code = (
        "import sys, build; from site_src.tools import environment as e; e.inside = lambda: False; "
        "e.prepare = lambda: print('Setting up …'); e.rerun = lambda command: 0; sys.exit(build.main([]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(build.__file__).parent,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "Setting up ?\n", "")
