"""Everything that `build.py test` runs, one step after the other; all of them, even when one fails."""

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from site_src.tools import chromium, realflights
from site_src.tools.environment import ROOT, SITE_SRC, SetupError, node

PYTHON = sys.executable
IN_TWO = ("-n", "2", "--dist", "worksteal")  # a browser in each: a fifth less time on two cores


def main(arguments: list[str]) -> int:
    """Run all steps, or pytest alone with the given arguments; return 0 if all is well."""
    if arguments:
        return _command([PYTHON, "-m", "pytest", *arguments])
    steps: list[tuple[str, Callable[[], int]]] = [
        ("style (ruff check)", lambda: _command([PYTHON, "-m", "ruff", "check", "."])),
        ("format (ruff format)", lambda: _command([PYTHON, "-m", "ruff", "format", "--check", "."])),
        (
            "types of the Python (mypy)",
            lambda: _command([PYTHON, "-m", "mypy", "calc", "site_src", "build.py", "tests"]),
        ),
        ("style and format of the JavaScript (biome)", _biome),
        ("types of the JavaScript (tsc)", _tsc),
        ("Chromium", lambda: _brought(chromium.ensure)),
        ("real flights", lambda: _brought(realflights.ensure)),
        ("tests (pytest)", lambda: _command([PYTHON, "-m", "pytest", *IN_TWO, "--cov", "--cov-report=term"])),
    ]
    failed = [name for name, step in steps if not _timed(name, step)]
    print("\nFailed: " + "; ".join(failed) if failed else "\nAll is well.")
    return 1 if failed else 0


def _timed(name: str, step: Callable[[], int]) -> bool:
    print(f"\n== {name}", flush=True)
    began = time.monotonic()
    status = step()
    print(f"   {'ok' if status == 0 else 'FAILED'}, {time.monotonic() - began:.1f} s", flush=True)
    return status == 0


def _command(command: list[str], folder: Path = ROOT) -> int:
    return subprocess.run(command, cwd=folder, check=False).returncode


def _biome() -> int:
    """Check by the rules of `site_src/biome.json`; `biome check --write` in that folder mends what it can."""
    biome = SITE_SRC / "node_modules" / "@biomejs" / "biome" / "bin" / "biome"
    return _command([str(node()), str(biome), "ci", "--error-on-warnings"], SITE_SRC)


def _tsc() -> int:
    compiler = SITE_SRC / "node_modules" / "typescript" / "bin" / "tsc"
    configurations = (SITE_SRC / "tsconfig.json", SITE_SRC / "tsconfig.worker.json")
    statuses = [_command([str(node()), str(compiler), "--project", str(each)]) for each in configurations]
    return 1 if any(statuses) else 0  # a compiler that crashed has a status below zero


def _brought(bring: Callable[[], Path]) -> int:
    try:
        print(f"   {bring()}")
    except SetupError as error:
        print(f"   {error}")
        return 1
    return 0
