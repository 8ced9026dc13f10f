"""The archive of Python files for the browser: what is in it, the same bytes each time, and that it works there."""

import json
import zipfile
from pathlib import Path

import pytest

from site_src.app import pages
from site_src.tools import site
from tests.support import PyodideBridge


@pytest.fixture(scope="module")
def names(built_site: Path) -> list[str]:
    """Return the names in the archive."""
    with zipfile.ZipFile(built_site / "app.zip") as archive:
        return archive.namelist()


@pytest.mark.parametrize(
    "name",
    [
        "calc/units.txt",
        "calc/document/classes.toml",
        "site_src/app/bridge.py",
        "site_src/templates/base.html",
        "pint/__init__.py",
    ],
)
def test_has_what_the_worker_imports_and_reads(name: str, names: list[str]) -> None:
    assert name in names


def test_has_no_tests_no_tools_and_nothing_compiled(names: list[str]) -> None:
    assert not [name for name in names if Path(name).suffix in {".so", ".pyd", ".pyc"}]
    assert not [name for name in names if {"tests", "testsuite", "tools", "__pycache__"} & set(Path(name).parts)]


def test_has_nothing_of_the_command(names: list[str]) -> None:
    """A page needs neither its arguments nor its streams nor what explains its JSON."""
    assert not [name for name in names if name.startswith("calc/flightlog")]
    of_the_command = {"__main__.py", "commands.py", "keys.py", "refusals.py", "streams.py", "text.py", "keys.txt"}
    assert not [name for name in names if name.startswith("calc/") and Path(name).name in of_the_command]


def test_same_files_give_the_same_bytes(tmp_path: Path) -> None:
    site.write_archive(tmp_path / "one.zip")
    site.write_archive(tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()


def test_of_segno_only_the_encoder_and_its_tables_go_out(names: list[str]) -> None:
    assert [name for name in names if name.startswith("segno/")] == ["segno/consts.py", "segno/encoder.py"]


@pytest.mark.node
def test_a_request_is_answered_in_pyodide(pyodide_bridge: PyodideBridge) -> None:
    """An unknown method is refused, so the archive unpacks, imports, and answers even what it does not know."""
    answer = json.loads(pyodide_bridge.ask(json.dumps({"v": 1, "id": 7, "method": "nothing", "params": {}})))
    assert (answer["id"], answer["ok"]) == (7, False)


def test_a_failed_build_leaves_the_old_site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "_site"
    target.mkdir()
    (target / "old.html").write_text("old", encoding="utf-8")

    def fail(*_: object) -> None:
        raise RuntimeError("no pages today")

    monkeypatch.setattr(pages, "write_pages", fail)
    with pytest.raises(RuntimeError, match="no pages today"):
        site.build(target)
    assert [path.name for path in tmp_path.rglob("*")] == ["_site", "old.html"]
