"""`build.py lock`: write anew which files of each pinned package may be installed, by their SHA-256.

Run it after a change of the pins in pyproject.toml, or of the two below. uv asks the package registry for the hashes of
every file of a version: all systems and Pythons. Set-up then takes no file but these.
"""

import subprocess
import sys
from pathlib import Path

from site_src.tools.environment import LOCKS, ROOT, SetupError, install, pins

UV = "uv==0.13.9"
ATHERIS = "atheris==3.0.0"  # what `build.py fuzz` needs; only for Linux and Python up to 3.13
FROM = "3.11"  # the oldest Python


def main(arguments: list[str]) -> int:
    """Write every lock; return 0."""
    if arguments:
        print("build.py lock takes no arguments.", file=sys.stderr)
        return 2
    if subprocess.run([sys.executable, "-c", "import uv"], capture_output=True, check=False).returncode != 0:
        install(Path(sys.executable), "uv", "uv could not be installed.")
    for name, packages in (("requirements", pins()), ("fuzz", [ATHERIS]), ("uv", [UV])):
        (LOCKS / f"{name}.lock").write_text(locked(packages), encoding="utf-8")
    return 0


def locked(packages: list[str]) -> str:
    """Return a requirements file with the hashes of every wheel of these packages."""
    command = [
        sys.executable, "-m", "uv", "pip", "compile", "-", "--universal", "--generate-hashes", "--no-deps",
        "--only-binary", ":all:", "--python-version", FROM, "--no-header", "--no-annotate", "--no-cache", "--quiet",
    ]  # fmt: skip
    given = "\n".join(packages)
    done = subprocess.run(command, input=given, capture_output=True, text=True, check=False, cwd=ROOT)
    if done.returncode != 0:
        raise SetupError(f"The hashes could not be fetched. ({done.stderr.strip()[-300:]})")
    return done.stdout
