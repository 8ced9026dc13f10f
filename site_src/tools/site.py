"""Build the site: static files, scripts, Pyodide, the archive of Python files for the browser, the rendered pages."""

import json
import re
import shutil
import zipfile
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

from site_src.tools import editions, precache, snapshot
from site_src.tools.environment import ROOT, SITE_SRC, SetupError, run_node

BUNDLE = Path(__file__).with_name("bundle.mjs")
NPM = SITE_SRC / "node_modules"
PYODIDE = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json")
PACKAGES = ("jinja2", "markupsafe", "pint", "flexcache", "flexparser", "platformdirs", "segno", "typing_extensions")
ONLY = {"segno": ("consts.py", "encoder.py")}  # without its __init__, which imports all its writers of files
LEFT_OUT = ("testsuite", "tests", "__pycache__", "keys.txt", "flightlog")
COMMAND = ("__main__", "airframecommands", "commands", "keys", "refusals", "streams", "text")  # that no page needs
DATA = {".py", ".txt", ".toml", ".html", ".json"}
_OF_THE_COMMAND = frozenset(Path("calc", f"{name}.py") for name in COMMAND)
_ADDRESS = re.compile(r"https?://[A-Za-z0-9.:-]+/(?:[A-Za-z0-9._~%-]+/)*")
LONG_AGO = (1980, 1, 1, 0, 0, 0)  # the same bytes from the same files, whenever it is built


def build(target: Path, address: str = "") -> None:
    """Make the site anew; a build that fails leaves the old one as it was.

    `address` is where the site will be found: previews of a link need it in full.

    Raises
    ------
    SetupError
        If the address is no web address that ends with a slash.
    """
    if address and not _ADDRESS.fullmatch(address):
        raise SetupError(f"The site's address must look like https://example.org/thistledown/ and not like {address}.")
    fresh = target.with_name(target.name + ".new")
    shutil.rmtree(fresh, ignore_errors=True)
    try:
        _fill(fresh, target, address)
        shutil.rmtree(target, ignore_errors=True)
        fresh.rename(target)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    files = [path for path in target.rglob("*") if path.is_file()]
    size = sum(path.stat().st_size for path in files) / 1e6
    print(f"Built {target.name}/: {len(files)} files, {size:.1f} MB.", flush=True)


def _fill(target: Path, before: Path, address: str) -> None:
    from site_src.app.pages import write_pages

    shutil.copytree(SITE_SRC / "static", target)
    _copy_pyodide(target)
    write_archive(target / "app.zip")
    write_pages(target, address)
    write_schemas(target)
    start = snapshot.write(target, before)
    edition = editions.edition(target, SITE_SRC / "scripts")
    defined = {"EDITION": edition, "PARTS": editions.parts(target), "START": start}
    run_node(BUNDLE, SITE_SRC / "scripts", target, json.dumps(defined))
    editions.stamp(target, edition, "{path}?{key}".format_map(start["PROGRAM"]))
    precache.write(target)


def write_schemas(target: Path) -> None:
    """Write the JSON Schema of a budget and of a box."""
    from calc.document.schema import box_schema, budget_schema

    for name, schema in {"budget.schema.json": budget_schema(), "box.schema.json": box_schema()}.items():
        (target / name).write_text(json.dumps(schema, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


def _copy_pyodide(target: Path) -> None:
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
            archive.writestr(entry, path.read_bytes())


def _archived() -> Iterator[tuple[str, Path]]:
    """Yield (name in the archive, file)."""
    yield "site_src/__init__.py", SITE_SRC / "__init__.py"
    for folder in (ROOT / "calc", SITE_SRC / "app", SITE_SRC / "subjects", SITE_SRC / "templates", SITE_SRC / "demo"):
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
        wanted = path.suffix in DATA and not set(inside.parts) & set(LEFT_OUT) and inside not in _OF_THE_COMMAND
        if path.is_file() and wanted:
            yield inside.as_posix(), path
