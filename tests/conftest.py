"""Fixtures for all tests: one build of the site, one Pyodide."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from site_src.tools import site
from tests.support import PyodideBridge

settings.register_profile("thistledown", deadline=None, derandomize=True, max_examples=150)
settings.load_profile("thistledown")


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of a freshly built site."""
    target = tmp_path_factory.mktemp("built") / "_site"
    site.build(target)
    return target


@pytest.fixture(scope="session")
def pyodide_bridge(built_site: Path) -> Iterator[PyodideBridge]:
    """Yield the bridge inside Pyodide, from the archive that the browser gets."""
    bridge = PyodideBridge(built_site)
    yield bridge
    bridge.close()
