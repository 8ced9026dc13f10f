"""Sizes of the source files, and no state that lies about in a script: what keeps the house small."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support import ROOT, SITE_SRC

MOST_PYTHON, MOST_SCRIPT, MOST_FUNCTION = 300, 250, 30  # lines
WIDEST = 120  # letters, of scripts and templates; biome breaks code, not comments and texts
STATE = re.compile(r"^(?:export )?(?:let|var)\b", re.MULTILINE)


def python_files() -> Iterator[Path]:
    """Yield the project's own Python files."""
    yield ROOT / "build.py"
    for folder in ("calc", "site_src", "tests"):
        yield from (path for path in (ROOT / folder).rglob("*.py") if "node_modules" not in path.parts)


def scripts() -> list[Path]:
    """Return what runs in the browser, as it was written."""
    return [*sorted((SITE_SRC / "scripts").rglob("*.mjs")), *sorted((SITE_SRC / "static").glob("*.js"))]


def templates() -> list[Path]:
    """Return what pages are made of."""
    return [*sorted((SITE_SRC / "templates").rglob("*.html")), *sorted((SITE_SRC / "subjects").rglob("*.html"))]


def name(path: Path) -> str:
    """Return a file's path below the project's folder."""
    return path.relative_to(ROOT).as_posix()


def lines(path: Path) -> list[str]:
    """Return the lines of a file."""
    return path.read_text(encoding="utf-8").splitlines()


def test_no_python_file_is_too_long() -> None:
    lengths = {name(path): len(lines(path)) for path in python_files()}
    assert len(lengths) > 100  # they were found
    assert {file: length for file, length in lengths.items() if length > MOST_PYTHON} == {}


def test_no_script_is_too_long_or_too_wide() -> None:
    found = scripts()
    assert len(found) > 40
    assert {name(path): len(lines(path)) for path in found if len(lines(path)) > MOST_SCRIPT} == {}
    assert [name(path) for path in found if any(len(line) > WIDEST for line in lines(path))] == []


def test_no_template_is_too_wide() -> None:
    """A long attribute is put together with `~`, so that there is no exception."""
    found = templates()
    assert len(found) > 70
    wide = [f"{name(path)}:{at}" for path in found for at, line in enumerate(lines(path), 1) if len(line) > WIDEST]
    assert wide == []


def test_no_script_keeps_state_beside_an_object() -> None:
    """What changes while a page is open belongs to an object with a name: a `let` of a module belongs to nobody."""
    assert [name(path) for path in scripts() if STATE.search(path.read_text(encoding="utf-8"))] == []


@pytest.mark.parametrize(
    ("text", "is_state"),
    [
        ("let turn = 0;\n", True),
        ("import x;\nexport let turn;\n", True),
        ("var turn;\n", True),
        ("function f() {\n  let turn = 0;\n}\n", False),
        ("letters.push(1);\n", False),
        ("const turn = { at: 0 };\n", False),
    ],
)
def test_state_is_told_from_what_a_function_counts(text: str, is_state: bool) -> None:
    assert (STATE.search(text) is not None) == is_state


def test_no_function_is_too_long() -> None:
    """Without its signature and its docstring, in the program; the tests tell stories."""
    found = {
        f"{name(path)} {each.name}": body_lines(each)
        for path in python_files()
        if "tests" not in path.relative_to(ROOT).parts
        for each in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(each, ast.FunctionDef)
    }
    assert len(found) > 1000
    assert {each: length for each, length in found.items() if length > MOST_FUNCTION} == {}


def body_lines(function: ast.FunctionDef) -> int:
    """Return the lines of a function's body without its docstring."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return 0 if not body else (body[-1].end_lineno or 0) - body[0].lineno + 1
