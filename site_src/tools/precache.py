"""The list that the service worker keeps: every file of the site with the hash of its content."""

import hashlib
import json
from pathlib import Path

from site_src.tools import editions

# Needed by the plain start alone.
SPARE = (
    "app.zip", "pyodide/pyodide.asm.mjs", "pyodide/pyodide.asm.wasm", "pyodide/python_stdlib.zip",
    "pyodide/pyodide-lock.json",
)  # fmt: skip
LEFT_OUT = ("sw.js", "precache.js", "preview.png", "budget.schema.json", "box.schema.json")
# The browser keeps the first two itself; the page looks at none of the others.


def write(target: Path) -> None:
    """Write `precache.js`; its version is the hash of all names and contents, the service worker's own included."""
    names = sorted(path.relative_to(target).as_posix() for path in target.rglob("*") if path.is_file())
    hashed = {name: editions.key(target / name) for name in names}
    version = hashlib.sha256(json.dumps(hashed).encode()).hexdigest()[: editions.KEY_LETTERS]
    kept = [[name, hashed[name]] for name in names if name not in LEFT_OUT]
    listed = {
        "VERSION": version,
        "FILES": [entry for entry in kept if entry[0] not in SPARE],
        "SPARE": [entry for entry in kept if entry[0] in SPARE],
    }
    text = f"/* Made by the build. */\nself.PRECACHE = {json.dumps(listed)};\n"
    (target / "precache.js").write_text(text, encoding="utf-8")
