"""What the worker starts from: Python's memory, the program as far as it runs, its data and its glue.

All are made by Pyodide under node; snapshot, program and data are named after what they were made of, and packed as xz
(the .xz file format 1.2, LZMA2): a quarter to a third less than deflate makes of them, and no host has to pack them.
The data that the program's memory begins with is a part of its own, since a browser is quick to compile what is small.
"""

import hashlib
import json
import lzma
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from site_src.tools import corpus, editions, hostile, wasm
from site_src.tools.environment import run_node

HERE = Path(__file__).parent
PACKING = 9 | lzma.PRESET_EXTREME
SCRIPTS = [HERE / name for name in ("make_snapshot.mjs", "count_functions.mjs", "make_glue.mjs", "marks.mjs")]
INSIDE = [HERE / "snapshot_inside.py", HERE / "warm_up.py"]
GLUE = "glue.mjs"
NEIGHBOURS = 4  # functions before and after one that ran: what stands beside it is mostly of the same file in C
# As the words of a memory lie: bits of the literals do not depend on the byte before, but on the place in the word.
WORDS = {"lc": 1, "lp": 2, "pb": 2}


def write(target: Path, before: Path) -> dict[str, Any]:
    """Write the four; take all from the site built before if nothing changed.

    Return what the worker has to know of them: names, keys and sums, and the lock file that Pyodide needs of its own.
    """
    made_of = _made_of(target)
    named = {kind: f"{kind.lower()}-{made_of}.bin" for kind in ("SNAPSHOT", "PROGRAM", "DATA")}
    made = (*named.values(), GLUE)
    if all((before / each).is_file() for each in made):
        for each in made:
            shutil.copy2(before / each, target / each)
    else:
        with tempfile.TemporaryDirectory() as folder:
            _make(target, Path(folder), named)
    info = json.loads((target / "pyodide" / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]
    return {**{kind: _named(target / name) for kind, name in named.items()}, "LOCK": {"info": info, "packages": {}}}


def packed(data: bytes, how: Mapping[str, int]) -> bytes:
    """Return data as an .xz file; `how` is what its kind packs best with."""
    filters = [{"id": lzma.FILTER_LZMA2, "preset": PACKING, "dict_size": 1 << 24, **how}]
    return lzma.compress(data, check=lzma.CHECK_CRC32, filters=filters)


def _named(part: Path) -> dict[str, object]:
    """Return what the worker has to know of a part: its name, its key in the cache, the sums of its content."""
    return {"path": part.name, "key": editions.key(part), "sums": editions.unpacked_sums(part)}


def _made_of(target: Path) -> str:
    """Return a name for everything that the snapshot and the program depend on."""
    tools = [*SCRIPTS, *INSIDE, *(Path(each) for each in (__file__, corpus.__file__, hostile.__file__, wasm.__file__))]
    parts = [target / "app.zip", *tools, *sorted((target / "pyodide").iterdir())]
    return hashlib.sha256(b"".join(hashlib.sha256(part.read_bytes()).digest() for part in parts)).hexdigest()[:12]


def _make(target: Path, folder: Path, named: Mapping[str, str]) -> None:
    """Make the parts in a folder, and pack them into the target under their names."""
    pyodide, counting, memory = target / "pyodide", folder / "counting", folder / named["SNAPSHOT"]
    whole = (pyodide / "pyodide.asm.wasm").read_bytes()
    shutil.copytree(pyodide, counting)
    (counting / "pyodide.asm.wasm").write_bytes(wasm.counting(whole))
    asked = folder / "asked.json"
    asked.write_text(json.dumps(list(hostile.requests())), encoding="utf-8")
    warm = json.loads(run_node(SCRIPTS[0], counting, target / "app.zip", memory, asked, *INSIDE).splitlines()[-1])
    ran = [*warm, *json.loads(run_node(SCRIPTS[1], counting, f"{memory}.whole").splitlines()[-1])]
    kept = {index + step for index in ran for step in range(-NEIGHBOURS, NEIGHBOURS + 1)}
    glue = json.loads(run_node(SCRIPTS[2], pyodide, target / GLUE))
    print(f"{len(kept)} functions of the program are kept. {glue['told']}", flush=True)
    code, begin, words = wasm.without_data(wasm.lean(whole, kept, glue["exports"]))
    (target / named["PROGRAM"]).write_bytes(packed(code, {}))
    (target / named["DATA"]).write_bytes(packed(begin.to_bytes(4, "little") + words, WORDS))
    (target / named["SNAPSHOT"]).write_bytes(packed(memory.read_bytes(), WORDS))
