"""`build.py fuzz [MINUTES]`: a long hostile run with atheris, each target for its share of the time.

A target is given bytes; what it must never do is raise anything but this project's own errors, or answer "inside". What
a run finds is kept in `.fuzz/`, one folder for each target, with what it has seen so far, so that a later run goes on.
"""

import re
import subprocess
import sys
from pathlib import Path

from site_src.tools.environment import ROOT, install

KEPT = ROOT / ".fuzz"
SEEDS = ROOT / "site_src" / "demo"
TARGETS = ("link", "quantity", "budget", "box", "bridge")
ENTRY = ["-m", "site_src.tools.fuzz_targets"]


def main(arguments: list[str]) -> int:
    """Run every target; return 0 if nothing was found."""
    try:
        minutes = float(arguments[0]) if arguments else 5.0
    except ValueError:
        print("build.py fuzz takes a number of minutes.", file=sys.stderr)
        return 2
    _install()
    found = [name for name in TARGETS if not _run(name, max(5, round(60.0 * minutes / len(TARGETS))))]
    print(f"Found something: {', '.join(found)}; see {KEPT.name}/." if found else "Nothing was found.")
    return 1 if found else 0


def _install() -> None:
    """Put atheris into the environment; it is needed for nothing else, and not there for every system."""
    here = subprocess.run([sys.executable, "-c", "import atheris"], capture_output=True, check=False)
    if here.returncode == 0:
        return
    install(Path(sys.executable), "fuzz", "atheris could not be installed here; Linux and Python up to 3.13 have it.")


def _run(name: str, seconds: int) -> bool:
    """Run a target; print how often it ran; return whether it came through."""
    corpus, finds = KEPT / name / "seen", KEPT / name / "found"
    for folder in (corpus, finds):
        folder.mkdir(parents=True, exist_ok=True)
    command = [
        sys.executable, *ENTRY, name, str(corpus), str(SEEDS), f"-max_total_time={seconds}", "-max_len=4096",
        f"-artifact_prefix={finds}/", "-print_final_stats=1", "-timeout=20",
    ]  # fmt: skip
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, errors="replace", check=False)
    runs = re.search(r"stat::number_of_executed_units:\s*(\d+)", done.stderr)
    print(f"{name:10} {runs[1] if runs else '?':>10} runs in {seconds} s", flush=True)
    if done.returncode != 0:
        print(done.stderr[-3000:])
    return done.returncode == 0
