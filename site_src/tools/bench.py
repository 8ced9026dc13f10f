"""Figures, measured when asked for: never asserted in tests."""

import argparse
import json
import subprocess
import time
from pathlib import Path
from statistics import median
from typing import Any

from calc.assess import assess
from calc.document.budget import read
from site_src.app.bridge import handle
from site_src.app.pages import demos
from site_src.tools import bench_browser, bench_finder, bench_room, site
from site_src.tools.environment import ROOT, node


def main(arguments: list[str]) -> int:
    """Print the figures of this machine."""
    parser = argparse.ArgumentParser(prog="build.py bench")
    parser.add_argument("--json", action="store_true", help="print them as JSON")
    as_data = parser.parse_args(arguments).json
    site.build(ROOT / "_site")
    figures = {
        **measure(), **pyodide_rate(), **bench_finder.measure(memory=True), **finder_in_pyodide(),
        **bench_room.measure(), **room_in_pyodide(), **bench_browser.measure(ROOT / "_site"),
    }  # fmt: skip
    print(
        json.dumps(figures, indent=1)
        if as_data
        else "\n".join(f"{name:40}{value:>12.4g}" for name, value in figures.items())
    )
    return 0


def measure() -> dict[str, float]:
    """Return the figures: medians over the example budgets, in CPython."""
    documents = [demo.document for demo in demos()]
    budgets = [read(document).budget for document in documents]
    requests = [json.dumps({"v": 1, "id": 1, "method": "answer", "params": {"document": d}}) for d in documents]
    return {
        "assess_per_s": 1.0 / _seconds(lambda: [assess(budget) for budget in budgets], len(budgets)),
        "read_and_assess_per_s": 1.0 / _seconds(lambda: [assess(read(d).budget) for d in documents], len(documents)),
        "answer_ms": 1e3 * _seconds(lambda: [handle(request) for request in requests], len(requests)),
    }


RATE = """
import { readFile } from "node:fs/promises";
const [folder, archive, code] = process.argv.slice(1);
const { loadPyodide } = await import(`file://${folder}/pyodide.mjs`);
const python = await loadPyodide({ indexURL: `${folder}/` });
python.unpackArchive(new Uint8Array(await readFile(archive)), "zip", { extractDir: "/app" });
python.runPython("import sys; sys.path.insert(0, '/app')");
console.log(python.runPython(code));
"""
INSIDE = """
import time
from calc.assess import assess
from calc.document.budget import read
from site_src.app.pages import demos
budgets = [read(demo.document).budget for demo in demos()]
for _ in range(3): [assess(budget) for budget in budgets]
began = time.perf_counter()
for _ in range(30): [assess(budget) for budget in budgets]
30 * len(budgets) / (time.perf_counter() - began)
"""


def pyodide_rate() -> dict[str, float]:
    """Return assess() per second in Pyodide under node."""
    return {"assess_in_pyodide_per_s": float(_in_pyodide(INSIDE))}


def finder_in_pyodide() -> dict[str, float]:
    """Return the finder's figures in Pyodide under node."""
    source = Path(bench_finder.__file__).read_text(encoding="utf-8")
    found = json.loads(_in_pyodide(f"{source}\nimport json\njson.dumps(measure(memory=True))\n"))
    return {f"pyodide_{name}": float(value) for name, value in found.items()}


def room_in_pyodide() -> dict[str, float]:
    """Return how long the exact answer about room takes in Pyodide under node."""
    source = Path(bench_room.__file__).read_text(encoding="utf-8")
    found = json.loads(_in_pyodide(f"{source}\nimport json\njson.dumps(measure())\n"))
    return {f"pyodide_{name}": float(value) for name, value in found.items()}


def _in_pyodide(code: str) -> str:
    """Return the value of Python code in Pyodide under node, as text of one line."""
    folder, archive = ROOT / "_site" / "pyodide", ROOT / "_site" / "app.zip"
    command = [str(node()), "--input-type=module", "--eval", RATE, str(folder), str(archive), code]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return done.stdout.strip().splitlines()[-1]


def _seconds(work: Any, pieces: int) -> float:
    """Return the median time of a piece of work over 30 rounds, after one to warm up."""
    work()
    rounds = []
    for _ in range(30):
        began = time.perf_counter()
        work()
        rounds.append((time.perf_counter() - began) / pieces)
    return median(rounds)
