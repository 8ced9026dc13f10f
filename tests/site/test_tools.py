"""The tools: a missing piece is told in one line, and what is served is what a browser insists on."""

import http.client
import os
import socket
import struct
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from site_src.tools import checks, chromium, environment, serve


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


def test_a_compiler_that_crashes_fails_its_step(monkeypatch: pytest.MonkeyPatch) -> None:
    statuses = iter([-11, 0])
    monkeypatch.setattr(checks, "_command", lambda _: next(statuses))
    assert checks._tsc() == 1


@pytest.mark.parametrize("missing", ["the stamp", "its Python"])
def test_an_incomplete_environment_is_not_taken(missing: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    python = tmp_path / "python"
    python.touch()
    monkeypatch.setattr(environment, "VENV", tmp_path)
    monkeypatch.setattr(environment, "PYTHON", python)
    environment._stamp(tmp_path).write_text(environment._pins_key(), encoding="utf-8")
    assert environment._venv_ready()
    (environment._stamp(tmp_path) if missing == "the stamp" else python).unlink()
    assert not environment._venv_ready()


def test_a_step_that_fails_says_why_in_one_line() -> None:
    said = "import sys; sys.exit('the reason\\nA complete log of this run can be found in: here')"
    with pytest.raises(environment.SetupError, match=r"^It failed\. \(the reason\)$"):
        environment._run([sys.executable, "-c", said], "It failed.")


def test_help_needs_no_environment() -> None:
    command = [sys.executable, str(environment.ROOT / "build.py"), "--help"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert "python3 build.py serve" in done.stdout
