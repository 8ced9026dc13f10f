"""What ties the files of one edition of the site together: its name, and the sums of the parts of the program."""

import hashlib
import lzma
import zlib
from pathlib import Path

PARTS = ("app.zip", "pyodide/pyodide.asm.wasm", "pyodide/python_stdlib.zip", "pyodide/pyodide-lock.json")
KEY_LETTERS = 16  # of the hash of a kept file, hexadecimal: eight bytes, as `sw.js` counts them
LETTERS = 12  # of the hash that names an edition, hexadecimal


def sums(part: Path) -> tuple[str, int]:
    """Return SHA-256 (hexadecimal) and CRC-32 of a file, as `checked.mjs` counts them."""
    data = part.read_bytes()
    return hashlib.sha256(data).hexdigest(), zlib.crc32(data)


def unpacked_sums(part: Path) -> tuple[str, int]:
    """Return the sums of what a part packed as xz holds: so the device keeps it."""
    data = lzma.decompress(part.read_bytes())
    return hashlib.sha256(data).hexdigest(), zlib.crc32(data)


def key(file: Path) -> str:
    """Return what stands behind a file's path where the device keeps it, as `sw.js` has it."""
    return hashlib.sha256(file.read_bytes()).hexdigest()[:KEY_LETTERS]


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


def stamp(target: Path, edition: str, program: str) -> None:
    """Write on each page which edition it is of, to be compared with its scripts' own, and which program to prepare."""
    for page in target.glob("*.html"):
        told = f'<html data-edition="{edition}" data-program="{program}" '
        page.write_text(page.read_text(encoding="utf-8").replace("<html ", told, 1), encoding="utf-8")
