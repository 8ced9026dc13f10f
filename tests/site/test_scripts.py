"""The scripts of the built site: one for each page, and none that asks for a file that is not there."""

import json
import re
from pathlib import Path

import pytest

from site_src.tools.environment import SITE_SRC, run_node
from site_src.tools.site import BUNDLE

SCRIPTS = SITE_SRC / "scripts"
IMPORTED = re.compile(r'(?:from|import)\s*\(?\s*"(\./[^"]+)"')
SCRIPT = re.compile(r'<script[^>]* src="([^"]+)"')


def ours(built_site: Path) -> list[Path]:
    """Return the modules that are not Pyodide's."""
    return sorted(built_site.glob("*.mjs"))


def test_each_page_asks_for_one_script_after_the_first_that_starts_the_worker(built_site: Path) -> None:
    asked = {page.name: SCRIPT.findall(page.read_text(encoding="utf-8")) for page in built_site.glob("*.html")}
    assert {len(scripts) for scripts in asked.values()} == {0, 2}
    for scripts in asked.values():
        assert all((built_site / script).is_file() for script in scripts)
        assert scripts[:1] in ([], ["begin.js"])


def test_what_a_module_imports_is_there(built_site: Path) -> None:
    found = {(path.name, name) for path in ours(built_site) for name in IMPORTED.findall(path.read_text("utf-8"))}
    assert ("worker.mjs", "./glue.mjs") in found
    assert [each for each in sorted(found) if not (built_site / each[1]).is_file()] == []


def test_a_page_brings_all_its_modules_with_it(built_site: Path) -> None:
    """Else the bundling is for nothing: each module more is a detour before the first answer."""
    pages = {script for page in built_site.glob("*.html") for script in SCRIPT.findall(page.read_text("utf-8"))[1:]}
    assert pages
    for page in pages:
        assert IMPORTED.findall((built_site / page).read_text("utf-8")) == []


@pytest.mark.node
def test_a_module_that_is_missing_stops_the_build(tmp_path: Path) -> None:
    scripts = tmp_path / "scripts"
    (scripts / "pages").mkdir(parents=True)
    (scripts / "pages" / "moth.mjs").write_text('import "../page/wing.mjs";\n', encoding="utf-8")
    with pytest.raises(RuntimeError, match=r"(?s)bundle\.mjs failed: .*Could not resolve \"\.\./page/wing\.mjs\""):
        run_node(BUNDLE, scripts, tmp_path / "target")


def test_a_list_tells_when_a_budget_was_changed(tmp_path: Path) -> None:
    """What is no date (over 8.64e15 ms, ECMA-262 21.4.1.1) is not told."""
    script = tmp_path / "when.mjs"
    dates = [[2026, 10, 27, 4, 5], [2026, 10, 26, 23, 59], [2026, 8, 1, 0, 0], [2025, 11, 31, 23, 0]]
    script.write_text(
        f"""import {{ when }} from {(SCRIPTS / "page" / "names.mjs").as_uri()!r};
        const now = new Date(2026, 10, 27, 14, 0);
        const told = {dates}.map((each) => when(new Date(...each).getTime(), now));
        console.log(JSON.stringify([...told, when(1e20, now)]));""",
        encoding="utf-8",
    )
    assert json.loads(run_node(script)) == ["today, 04:05", "26 Nov", "1 Sep", "31 Dec 2025", ""]
