"""What `pip install .` calls (PEP 517): makes the wheel of `calc` with the standard library alone.

So installing needs no build tool, leaves nothing behind in the tree, and works without a network where pint is there.
The wheel is as PEP 427 and the core metadata 2.1 (PEP 566) have it; the same files give the same bytes.
"""

import base64
import hashlib
import io
import tarfile
import tomllib
import zipfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from calc import __version__

ROOT = Path(__file__).resolve().parent.parent.parent
BACKEND = (
    "pyproject.toml",
    "README.md",
    "site_src/__init__.py",
    "site_src/tools/__init__.py",
    "site_src/tools/package.py",
)
LONG_AGO = (1980, 1, 1, 0, 0, 0)
WHEEL = "Wheel-Version: 1.0\nGenerator: thistledown\nRoot-Is-Purelib: true\nTag: py3-none-any\n"


def build_wheel(folder: str, settings: object = None, metadata: object = None) -> str:  # noqa: ARG001 - PEP 517's names
    """Write the wheel into a folder; return its name."""
    project, stem = _project(), f"thistledown-{__version__}"
    files = {name: (ROOT / name).read_bytes() for name in _sources()}
    scripts = "".join(f"{name} = {place}\n" for name, place in project["scripts"].items())
    told = {"METADATA": _metadata(project), "WHEEL": WHEEL, "entry_points.txt": f"[console_scripts]\n{scripts}"}
    files |= {f"{stem}.dist-info/{name}": text.encode() for name, text in told.items()}
    files[f"{stem}.dist-info/RECORD"] = _record(files, f"{stem}.dist-info/RECORD").encode()
    target = Path(folder) / f"{stem}-py3-none-any.whl"
    with zipfile.ZipFile(target, "w") as wheel:
        for name, content in files.items():
            entry = zipfile.ZipInfo(name, LONG_AGO)
            entry.external_attr = 0o644 << 16
            wheel.writestr(entry, content, zipfile.ZIP_DEFLATED)
    return target.name


def build_sdist(folder: str, settings: object = None) -> str:  # noqa: ARG001
    """Write the source archive, from which the wheel can be made, into a folder; return its name."""
    stem = f"thistledown-{__version__}"
    files = {name: (ROOT / name).read_bytes() for name in (*BACKEND, *_sources())}
    files["PKG-INFO"] = _metadata(_project()).encode()
    target = Path(folder) / f"{stem}.tar.gz"
    with tarfile.open(target, "w:gz", format=tarfile.PAX_FORMAT) as archive:
        for name, content in files.items():
            entry = tarfile.TarInfo(f"{stem}/{name}")
            entry.size = len(content)
            archive.addfile(entry, io.BytesIO(content))
    return target.name


def _project() -> dict[str, Any]:
    found = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert isinstance(found, dict)
    return found


def _sources() -> Iterator[str]:
    """Yield the path of each file of `calc`, with what it reads beside the code."""
    for path in sorted((ROOT / "calc").rglob("*")):
        if path.is_file() and "__pycache__" not in path.parts and not path.name.startswith("."):
            yield path.relative_to(ROOT).as_posix()


def _metadata(project: Mapping[str, Any]) -> str:
    lines = [
        "Metadata-Version: 2.1",
        f"Name: {project['name']}",
        f"Version: {__version__}",
        f"Summary: {project['description']}",
        f"Requires-Python: {project['requires-python']}",
        *(f"Requires-Dist: {each}" for each in project["dependencies"]),
        "Description-Content-Type: text/markdown; charset=UTF-8",
    ]
    readme = (ROOT / project["readme"]).read_text(encoding="utf-8")
    return "\n".join([*lines, "", readme])


def _record(files: Mapping[str, bytes], itself: str) -> str:
    """Return the list of all files with their hashes; that of the list itself stays empty."""
    hashed = {name: base64.urlsafe_b64encode(hashlib.sha256(content).digest()) for name, content in files.items()}
    lines = [f"{name},sha256={hashed[name].decode().rstrip('=')},{len(content)}" for name, content in files.items()]
    return "\n".join([*lines, f"{itself},,", ""])
