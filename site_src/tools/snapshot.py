"""The memory snapshot that the worker starts from: made by Pyodide under node, named after what it was made of."""

import hashlib
import json
import shutil
from pathlib import Path

import deflate

from site_src.tools import editions
from site_src.tools.environment import run_node

HERE = Path(__file__).parent
PACKING = 12  # libdeflate's hardest: some 130 kB less for each first visit than zlib's
SCRIPT, INSIDE = HERE / "make_snapshot.mjs", HERE / "snapshot_inside.py"


def write(target: Path, before: Path) -> None:
    """Write the snapshot and `start.mjs`, which names it; take both from the site built before if nothing changed."""
    name = f"snapshot-{_made_of(target)}.bin"
    if (before / name).is_file() and (before / "start.mjs").is_file():
        shutil.copy2(before / name, target / name)
        shutil.copy2(before / "start.mjs", target / "start.mjs")
        return
    made = _make(target, target / name)
    lines = [
        "/** Made by the build: the snapshot that the worker starts from. */",
        f"export const SNAPSHOT = {json.dumps(name)};",
        f"export const SUMS = {json.dumps(made['sums'])};",
        f"export const APP = {json.dumps(editions.sums(target / 'app.zip')[0])};",
        f"export const LOCK = {json.dumps(made['lock'])};",
    ]
    (target / "start.mjs").write_text("\n".join(lines) + "\n", encoding="utf-8")


def _made_of(target: Path) -> str:
    """Return a name for everything that the snapshot depends on."""
    parts = [target / "app.zip", SCRIPT, INSIDE, Path(__file__), *sorted((target / "pyodide").iterdir())]
    return hashlib.sha256(b"".join(hashlib.sha256(part.read_bytes()).digest() for part in parts)).hexdigest()[:12]


def _make(target: Path, snapshot: Path) -> dict[str, object]:
    told = run_node(SCRIPT, target / "pyodide", target / "app.zip", INSIDE, snapshot)
    found = json.loads(told.splitlines()[-1])
    assert isinstance(found, dict)
    found["sums"] = editions.sums(snapshot)  # of what is inflated: so the device keeps it
    snapshot.write_bytes(deflate.gzip_compress(snapshot.read_bytes(), PACKING))
    return found
