"""The tools: a missing piece is told in one line, and what is served is what a browser insists on."""

import base64
import hashlib
import http.client
import io
import os
import re
import socket
import struct
import subprocess
import sys
import tarfile
import threading
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

import build
from site_src.tools import checks, chromium, environment, lock, realflights, serve


@pytest.fixture
def served(built_site: Path) -> Iterator[int]:
    """Yield the port of the served site."""
    with serve.server(built_site, 0) as httpd:
        thread = threading.Thread(target=httpd.serve_forever, daemon=True)
        thread.start()
        yield int(httpd.server_address[1])
        httpd.shutdown()
        thread.join(timeout=5)


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/worker.mjs", "text/javascript"),
        ("/pyodide/pyodide.asm.wasm", "application/wasm"),
        ("/app.zip", "application/zip"),
    ],
)
def test_types_and_no_stale_copies(path: str, kind: str, served: int) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", served, timeout=10)
    connection.request("HEAD", path)
    answer = connection.getresponse()
    answer.read()
    connection.close()
    assert (answer.status, answer.headers["Content-Type"]) == (200, kind)
    assert answer.headers["Cache-Control"] == "no-cache"


def test_a_browser_that_hangs_up_is_no_error(served: int, capfd: pytest.CaptureFixture[str]) -> None:
    """It resets the connection amid the biggest file, as a reload does."""
    with socket.create_connection(("127.0.0.1", served)) as client:
        client.sendall(b"GET /pyodide/pyodide.asm.wasm HTTP/1.1\r\nHost: here\r\n\r\n")
        client.recv(100)
        client.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
    time.sleep(0.5)
    assert capfd.readouterr().err == ""


@pytest.mark.parametrize("port", ["70000", "-1", "eight"])
def test_a_port_that_cannot_be_is_refused(port: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        serve.port(["--port", port])
    assert "--port" in capsys.readouterr().err


def test_a_named_browser_that_is_not_there_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("THISTLEDOWN_CHROMIUM", str(tmp_path / "none"))
    with pytest.raises(environment.SetupError, match="none, which is not a file: name a browser, or unset it"):
        chromium.ensure()


@pytest.mark.skipif(os.name == "nt", reason="makes a program of a shell script")
def test_playwrights_own_browser_is_the_last_resort(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("THISTLEDOWN_CHROMIUM", raising=False)
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(chromium, "PLACES", ())
    monkeypatch.setattr(chromium, "ASK_PLAYWRIGHT", f"print({str(tmp_path / 'own')!r})")
    assert chromium.find() is None
    (tmp_path / "own").touch()
    assert chromium.find() == tmp_path / "own"


def test_a_compiler_that_crashes_fails_its_step(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    statuses = iter([-11, 0])  # a status below zero, and one of nought after it

    def ends(command: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        return subprocess.CompletedProcess(command, next(statuses) if "typescript" in str(command) else 0)

    monkeypatch.setattr(subprocess, "run", ends)
    monkeypatch.setattr(chromium, "ensure", lambda: Path("chromium"))
    monkeypatch.setattr(realflights, "ensure", lambda: Path("flights"))
    assert checks.main([]) == 1
    assert capsys.readouterr().out.splitlines()[-1] == "Failed: types of the JavaScript (tsc)"


def set_up(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Set up an environment in a folder, the commands for it taken for done."""

    def done(command: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        (folder / ".venv").mkdir(exist_ok=True)
        (folder / ".venv" / "python").touch()
        return subprocess.CompletedProcess(command, 0)

    (folder / "site_src" / "node_modules").mkdir(parents=True)
    (folder / "site_src" / "package-lock.json").touch()
    monkeypatch.setattr(environment, "pins", list)
    for name, path in (("ROOT", "."), ("VENV", ".venv"), ("PYTHON", ".venv/python"), ("SITE_SRC", "site_src")):
        monkeypatch.setattr(environment, name, folder / path)
    monkeypatch.setattr(sys, "prefix", str(folder / ".venv"))
    with monkeypatch.context() as patch:
        patch.setattr(subprocess, "run", done)
        environment.prepare()


@pytest.mark.parametrize("missing", ["the stamp", "its Python"])
def test_an_incomplete_environment_is_not_taken(missing: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    set_up(tmp_path, monkeypatch)
    assert environment.inside()
    (tmp_path / ".venv" / (".thistledown-complete" if missing == "the stamp" else "python")).unlink()
    assert not environment.inside()


def test_a_step_that_fails_says_why_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    said = "the reason\nA complete log of this run can be found in: here\n"
    monkeypatch.setattr(subprocess, "run", lambda command, **_: subprocess.CompletedProcess(command, 1, "", said))
    with pytest.raises(environment.SetupError, match=r"^It failed\. \(the reason\)$"):
        environment.install(Path(sys.executable), "requirements", "It failed.")


def test_help_needs_no_environment() -> None:
    command = [sys.executable, str(environment.ROOT / "build.py"), "--help"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert "python3 build.py serve" in done.stdout


def locked(name: str) -> dict[str, list[str]]:
    """Return what a lock file names, with the hashes of each."""
    text = (environment.LOCKS / f"{name}.lock").read_text(encoding="utf-8").replace("\\\n", " ")
    return {line.split()[0]: line.split()[1:] for line in text.splitlines()}


@pytest.mark.parametrize(
    ("name", "pinned"), [("requirements", environment.pins()), ("fuzz", [lock.ATHERIS]), ("uv", [lock.UV])]
)
def test_each_pin_is_locked_by_hash_and_nothing_else_is(name: str, pinned: list[str]) -> None:
    """After a change of a pin `build.py lock` writes the lock anew."""
    found = locked(name)
    assert {each.casefold().replace("_", "-") for each in found} == {each.replace("_", "-") for each in pinned}
    for hashes in found.values():
        assert hashes
        assert all(re.fullmatch("--hash=sha256:[0-9a-f]{64}", each) for each in hashes)


def test_a_package_with_another_hash_is_not_installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A wheel that is here, locked by what it is and then by what it is not; no registry is asked."""
    wheel = tmp_path / "moth-1.0-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as archive:
        archive.writestr("moth.py", "")
        archive.writestr("moth-1.0.dist-info/METADATA", "Metadata-Version: 2.1\nName: moth\nVersion: 1.0\n")
        archive.writestr("moth-1.0.dist-info/WHEEL", "Wheel-Version: 1.0\nTag: py3-none-any\nRoot-Is-Purelib: true\n")
        archive.writestr("moth-1.0.dist-info/RECORD", "")
    monkeypatch.setattr(environment, "LOCKS", tmp_path)
    for name, value in (("NO_INDEX", "1"), ("FIND_LINKS", str(tmp_path)), ("TARGET", str(tmp_path / "into"))):
        monkeypatch.setenv(f"PIP_{name}", value)
    sound = hashlib.sha256(wheel.read_bytes()).hexdigest()
    for digest in ("0" * 64, sound):
        (tmp_path / "moth.lock").write_text(f"moth==1.0 --hash=sha256:{digest}\n", encoding="utf-8")
        if digest == sound:
            environment.install(Path(sys.executable), "moth", "It failed.")
        else:
            with pytest.raises(environment.SetupError, match="It failed"):
                environment.install(Path(sys.executable), "moth", "It failed.")
        assert (tmp_path / "into" / "moth.py").exists() == (digest == sound)


def package_of_flights() -> bytes:
    """Return an npm package with two flights in two folders, and code."""
    held = io.BytesIO()
    with tarfile.open(fileobj=held, mode="w:gz") as archive:
        for name in ("package/test/a.igc", "package/b.igc", "package/index.js", "package/test/igc"):
            entry = tarfile.TarInfo(name)
            entry.size = len(name)
            archive.addfile(entry, io.BytesIO(name.encode()))
    return held.getvalue()


def test_real_flights_are_fetched_once_checked_and_nothing_else_of_their_package_is_kept(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:  # fmt: skip
    packed, fetched = package_of_flights(), []

    def npm(arguments: list[str], _failure: str) -> None:
        fetched.append(arguments[1])
        (Path(arguments[-1]) / "moth-1.0.0.tgz").write_bytes(packed)

    kept, lock_file = tmp_path / ".flights", tmp_path / "flights.lock"
    for name, value in (("ROOT", tmp_path), ("KEPT", kept), ("LOCK", lock_file), ("npm", npm)):
        monkeypatch.setattr(realflights, name, value)
    lock_file.write_text("moth@1.0.0 sha512-another", encoding="utf-8")
    with pytest.raises(environment.SetupError, match=r"^What came for moth@1.0.0 is not what flights.lock names"):
        realflights.ensure()
    assert [each.name for each in tmp_path.iterdir()] == ["flights.lock"]
    sound = f"moth@1.0.0 sha512-{base64.b64encode(hashlib.sha512(packed).digest()).decode()}"
    lock_file.write_text(sound, encoding="utf-8")
    for _ in range(2):
        assert realflights.ensure() == kept
        assert {each.name for each in kept.iterdir()} == {"a.igc", "b.igc", "complete"}
    assert (kept / "a.igc").read_text("utf-8") == "package/test/a.igc"
    assert len(fetched) == 2  # the one that was refused, and one for the two that were kept
    (kept / "a.igc").unlink()
    lock_file.write_text(f"{sound}\n", encoding="utf-8")  # another lock: fetched anew
    assert (realflights.ensure() / "a.igc").exists()


def test_real_flights_that_cannot_be_fetched_fail_their_step(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where pytest runs alone their tests are skipped; `build.py test` does not pass without them."""

    def offline(_arguments: list[str], failure: str) -> None:
        raise environment.SetupError(failure)

    for name, value in (("ROOT", tmp_path), ("KEPT", tmp_path / ".flights"), ("npm", offline)):
        monkeypatch.setattr(realflights, name, value)
    monkeypatch.setattr(subprocess, "run", lambda command, **_: subprocess.CompletedProcess(command, 0))
    monkeypatch.setattr(chromium, "ensure", lambda: Path("chromium"))
    assert checks.main([]) == 1
    told = capsys.readouterr().out
    assert "   The real flights could not be fetched: that needs the npm registry.\n" in told
    assert told.splitlines()[-1] == "Failed: real flights"


def test_a_folder_that_cannot_be_written_to_is_what_is_blamed(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:  # fmt: skip
    """Not Python's venv module, which fails for that reason; a file in the folder's place does so for root, too."""
    set_up(tmp_path, monkeypatch)
    (tmp_path / "file").touch()
    monkeypatch.setattr(environment, "ROOT", tmp_path / "file")
    for folder in ("site_src/node_modules", ".venv"):  # the step for npm, then the one for Python before it
        (tmp_path / folder / ".thistledown-complete").unlink()
        with pytest.raises(environment.SetupError, match=r"^Nothing can be written in .*a copy of the project") as told:
            environment.prepare()
        assert "\n" not in str(told.value)
    assert not (tmp_path / ".venv" / ".thistledown-complete").exists()


@pytest.mark.parametrize("number", sorted(environment.NOT_WRITABLE))
def test_a_step_that_may_not_write_ends_in_one_line(
    number: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    def refused(*_: object) -> None:
        raise OSError(number, os.strerror(number), "/somewhere/_site.new")

    monkeypatch.setattr(environment, "inside", lambda: True)
    monkeypatch.setattr("site_src.tools.site.build", refused)
    assert build.main([]) == 1
    assert capsys.readouterr().err == f"/somewhere/_site.new cannot be written to: {os.strerror(number)}.\n"
