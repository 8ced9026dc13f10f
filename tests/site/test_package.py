"""`calc` as a package: pip makes the wheel from the tree, and it works in an environment of its own, without a network.

A fresh machine needs pip and, from its registry, pint; here pint is lent by the environment that tests.
"""

import base64
import csv
import hashlib
import io
import json
import os
import subprocess
import sys
import sysconfig
import tarfile
import tomllib
import zipfile
from collections.abc import Sequence
from email import message_from_string
from pathlib import Path

import pytest
from packaging.requirements import Requirement

import calc
from calc.__main__ import main
from site_src.tools import package
from tests.support import ROOT, SITE_SRC

EXAMPLE = SITE_SRC / "demo" / "sedge-wren.json"
OFFLINE = ("--no-index", "--no-deps", "--disable-pip-version-check")


def run(command: Sequence[str | Path], folder: Path) -> str:
    """Run a program in a folder where the tree's own `calc` is not to be found; return what it printed."""
    environment = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "COVERAGE_RUN")}
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the wheel that pip makes of the tree."""
    folder = tmp_path_factory.mktemp("wheel")
    run([sys.executable, "-m", "pip", "wheel", *OFFLINE, "--wheel-dir", folder, ROOT], folder)
    (made,) = folder.iterdir()
    return made


@pytest.fixture(scope="module")
def programs(wheel: Path) -> Path:
    """Return the folder of programs of a fresh environment that has the wheel, and pint from this one."""
    home = wheel.parent / "fresh"
    run([sys.executable, "-m", "venv", "--without-pip", home], wheel.parent)
    paths = sysconfig.get_paths("venv", vars={"base": str(home), "platbase": str(home)})
    (Path(paths["purelib"]) / "lent.pth").write_text(sysconfig.get_path("purelib"), encoding="utf-8")
    python = Path(paths["scripts"]) / ("python.exe" if os.name == "nt" else "python")
    run([sys.executable, "-m", "pip", "--python", python, "install", *OFFLINE, wheel], wheel.parent)
    return Path(paths["scripts"])


def test_the_program_answers_as_the_tree_does(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in ([], ["--json"]):
        assert main([str(EXAMPLE), *arguments]) == 0
        assert run([programs / "thistledown", EXAMPLE, *arguments], programs) == capsys.readouterr().out


def test_the_front_works_where_it_is_installed(programs: Path) -> None:
    document = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    code = f"import calc; print(calc.__file__, calc.assess(calc.Budget.of(**{document!r})).verdict, sep='\\n')"
    file, verdict = run([programs / "python", "-c", code], programs).splitlines()
    assert Path(file).is_relative_to(programs.parent)
    assert verdict == "fits"


def test_the_wheel_holds_calc_with_its_data_and_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
        told = next(name for name in names if name.endswith("/RECORD"))
        listed = list(csv.reader(io.StringIO(archive.read(told).decode())))
        for name, digest, size in listed[:-1]:
            content = archive.read(name)
            kind, _, found = digest.partition("=")
            assert base64.urlsafe_b64decode(found + "=") == hashlib.new(kind, content).digest()
            assert int(size) == len(content)
    assert [name for name, *_ in listed] == names
    assert {"calc/units.txt", "calc/document/classes.toml", "calc/py.typed"} <= set(names)
    assert {name.split("/")[0] for name in names} == {"calc", told.split("/")[0]}
    assert not [name for name in names if "__pycache__" in name]


def test_one_version_and_one_need(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        (name,) = (name for name in archive.namelist() if name.endswith("/METADATA"))
        told = message_from_string(archive.read(name).decode())
    assert (told["Name"], told["Version"]) == ("thistledown", calc.__version__)
    assert wheel.name == f"thistledown-{calc.__version__}-py3-none-any.whl"
    (need,) = map(Requirement, told.get_all("Requires-Dist", []))
    groups = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["dependency-groups"]
    (pinned,) = (Requirement(pin) for pin in groups["site"] if pin.startswith("pint=="))
    assert need.name == "pint"
    (pin,) = pinned.specifier
    assert need.specifier.contains(pin.version), "the package needs another pint than the one that is tested"


def test_a_wheel_can_be_made_of_the_source_archive_and_is_the_same(wheel: Path, tmp_path: Path) -> None:
    name = package.build_sdist(str(tmp_path))
    with tarfile.open(tmp_path / name) as archive:
        archive.extractall(tmp_path, filter="data")
    folder = tmp_path / name.removesuffix(".tar.gz")
    assert f"\nVersion: {calc.__version__}\n" in (folder / "PKG-INFO").read_text(encoding="utf-8")
    code = "from site_src.tools.package import build_wheel; print(build_wheel('.'))"
    made = run([sys.executable, "-c", code], folder).strip()
    assert (folder / made).read_bytes() == wheel.read_bytes()
