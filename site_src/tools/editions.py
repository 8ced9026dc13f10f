"""What ties the files of one edition of the site together: its name, and the sums of the parts of the program."""

import hashlib
import zlib
from pathlib import Path

PARTS = ("app.zip", "pyodide/pyodide.asm.wasm", "pyodide/python_stdlib.zip", "pyodide/pyodide-lock.json")
LETTERS = 12  # of the hash that names an edition, hexadecimal


def sums(part: Path) -> tuple[str, int]:
    """Return SHA-256 (hexadecimal) and CRC-32 of a file, as `checked.mjs` counts them."""
    data = part.read_bytes()
    return hashlib.sha256(data).hexdigest(), zlib.crc32(data)


def parts(target: Path) -> dict[str, tuple[str, int]]:
    """Return the sums of the parts that a worker fetches, by their path in the site."""
    return {name: sums(target / name) for name in PARTS}


def edition(target: Path, scripts: Path) -> str:
    """Return the name of an edition: a hash of the site so far and of the scripts that will be bundled into it."""
    found = hashlib.sha256()
    for folder in (target, scripts):
        for path in sorted(folder.rglob("*"), key=lambda each: each.as_posix()):
            if path.is_file():
                name = path.relative_to(folder).as_posix()
                found.update(name.encode() + b"\0" + hashlib.sha256(path.read_bytes()).digest())
    return found.hexdigest()[:LETTERS]


def stamp(target: Path, edition: str) -> None:
    """Write on each page which edition it is of; its scripts, and the worker, compare it with their own."""
    for page in target.glob("*.html"):
        text = page.read_text(encoding="utf-8").replace("<html ", f'<html data-edition="{edition}" ', 1)
        page.write_text(text, encoding="utf-8")
