"""The memory snapshot: the same bytes from the same files, and made anew only when it must be."""

import shutil
from pathlib import Path

import pytest

from site_src.tools import snapshot
from tests.conftest import QUICK


def parts(built_site: Path, target: Path) -> Path:
    """Return a folder with what a snapshot is made of."""
    shutil.copytree(built_site / "pyodide", target / "pyodide")
    shutil.copy2(built_site / "app.zip", target / "app.zip")
    return target


@pytest.mark.node
def test_the_same_files_give_the_same_bytes(
    built_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    """A builder elsewhere, or later, gives visitors nothing to fetch anew."""
    monkeypatch.setattr(snapshot, "PACKING", QUICK)
    again = parts(built_site, tmp_path / "again")
    snapshot.write(again, tmp_path / "no site before")
    (made,) = again.glob("snapshot-*.bin")
    assert made.read_bytes() == (built_site / made.name).read_bytes()
    assert (again / "start.mjs").read_bytes() == (built_site / "start.mjs").read_bytes()


def test_a_build_with_nothing_changed_takes_the_snapshot_of_the_last(built_site: Path, tmp_path: Path) -> None:
    before = tmp_path / "before"
    before.mkdir()
    (name,) = (path.name for path in built_site.glob("snapshot-*.bin"))
    (before / name).write_bytes(b"made before")
    (before / "start.mjs").write_bytes(b"names it")
    again = parts(built_site, tmp_path / "again")
    snapshot.write(again, before)
    assert (again / name).read_bytes() == b"made before"
    assert (again / "start.mjs").read_bytes() == b"names it"
