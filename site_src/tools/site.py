"""Build the site: static files, npm parts, the archive of Python files for the browser, the rendered pages."""

import ast
import shutil
import zipfile
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

from site_src.tools import precache, snapshot
from site_src.tools.environment import ROOT, SITE_SRC

NPM = SITE_SRC / "node_modules"
PYODIDE = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json")
PACKAGES = ("jinja2", "markupsafe", "pint", "flexcache", "flexparser", "platformdirs", "segno", "typing_extensions")
ONLY = {"segno": ("consts.py", "encoder.py")}  # without its __init__, which imports all its writers of files
LEFT_OUT = ("testsuite", "tests", "__pycache__")
DATA = {".py", ".txt", ".toml", ".html", ".json"}
LONG_AGO = (1980, 1, 1, 0, 0, 0)  # the same bytes from the same files, whenever it is built


def build(target: Path) -> None:
    """Make the site anew; a build that fails leaves the old one as it was."""
    fresh = target.with_name(target.name + ".new")
    shutil.rmtree(fresh, ignore_errors=True)
    try:
        _fill(fresh, target)
        shutil.rmtree(target, ignore_errors=True)
        fresh.rename(target)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    files = [path for path in target.rglob("*") if path.is_file()]
    size = sum(path.stat().st_size for path in files) / 1e6
    print(f"Built {target.name}/: {len(files)} files, {size:.1f} MB.", flush=True)


def _fill(target: Path, before: Path) -> None:
    from site_src.app.pages import write_pages

    shutil.copytree(SITE_SRC / "static", target)
    _copy_npm_parts(target)
    write_archive(target / "app.zip")
    write_pages(target)
    snapshot.write(target, before)
    precache.write(target)


def _copy_npm_parts(target: Path) -> None:
    (target / "vendor").mkdir()
    shutil.copy2(NPM / "idiomorph" / "dist" / "idiomorph.esm.js", target / "vendor" / "idiomorph.mjs")
    (target / "pyodide").mkdir()
    for name in PYODIDE:
        shutil.copy2(NPM / "pyodide" / name, target / "pyodide" / name)


def write_archive(target: Path) -> None:
    """Write the archive that the worker unpacks: `calc`, the app, and the packages they import."""
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, path in sorted(_archived()):
            entry = zipfile.ZipInfo(name, LONG_AGO)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3  # else Windows would write a byte of its own
            archive.writestr(entry, _lean(path) if name.split("/")[0] in ONLY else path.read_bytes())


def _lean(path: Path) -> bytes:
    """Return a module without documentation, and without comments that have a line of their own."""
    text = path.read_text(encoding="utf-8")
    lines: list[str] = text.splitlines(keepends=True)
    for each in _documented(ast.parse(text)):
        first, last = each.lineno - 1, each.end_lineno or each.lineno
        lines[first:last] = [f"{' ' * each.col_offset}pass\n", *[""] * (last - first - 1)]
    return "".join(line for line in lines if not line.lstrip().startswith("#")).encode()


def _documented(tree: ast.Module) -> Iterator[ast.stmt]:
    for each in ast.walk(tree):
        if isinstance(each, ast.FunctionDef | ast.ClassDef | ast.Module) and ast.get_docstring(each) is not None:
            yield each.body[0]


def _archived() -> Iterator[tuple[str, Path]]:
    """Yield (name in the archive, file)."""
    yield "site_src/__init__.py", SITE_SRC / "__init__.py"
    for folder in (ROOT / "calc", SITE_SRC / "app", SITE_SRC / "templates", SITE_SRC / "demo"):
        yield from _files(folder, ROOT)
    for name in PACKAGES:
        spec = find_spec(name)
        if spec is None or spec.origin is None:
            raise RuntimeError(f"{name} is not installed in this environment")
        origin = Path(spec.origin)
        if name in ONLY:
            yield from ((f"{name}/{part}", origin.with_name(part)) for part in ONLY[name])
        elif origin.name == "__init__.py":
            yield from _files(origin.parent, origin.parent.parent)
        else:
            yield origin.name, origin


def _files(folder: Path, base: Path) -> Iterator[tuple[str, Path]]:
    for path in folder.rglob("*"):
        inside = path.relative_to(base)
        if path.is_file() and path.suffix in DATA and not set(inside.parts) & set(LEFT_OUT):
            yield inside.as_posix(), path
