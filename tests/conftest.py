"""Fixtures for all tests: one build of the site, one Pyodide."""

import os
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from site_src.tools import site, snapshot
from tests.stored import stored
from tests.support import PyodideBridge

# The mutants of `tests/README.md` were found with 20 examples; `--hypothesis-profile=long` looks further.
settings.register_profile("thistledown", deadline=None, derandomize=True, max_examples=50)
settings.register_profile("long", deadline=None, max_examples=1000)
settings.load_profile("thistledown")


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of a freshly built site; of processes that test side by side the first one builds it for all.

    The others wait until it is there: a build puts its folder in place only when it is complete.
    """
    if "PYTEST_XDIST_WORKER" not in os.environ:
        return _built(tmp_path_factory.mktemp("built"))
    shared = tmp_path_factory.getbasetemp().parent / "built"
    try:
        shared.mkdir()
    except FileExistsError:
        return _built_by_another(shared)
    try:
        return _built(shared)
    except BaseException:
        (shared / "failed").touch()
        raise


def _built(folder: Path) -> Path:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(snapshot, "packed", stored)
        site.build(folder / "_site")
    return folder / "_site"


def _built_by_another(folder: Path) -> Path:
    while not (folder / "_site").is_dir():
        if (folder / "failed").exists():
            pytest.fail("the site could not be built: see the other process")
        time.sleep(0.1)
    return folder / "_site"


@pytest.fixture(scope="session")
def pyodide_bridge(built_site: Path) -> Iterator[PyodideBridge]:
    """Yield the bridge inside Pyodide, from the archive that the browser gets."""
    bridge = PyodideBridge(built_site)
    yield bridge
    bridge.close()
