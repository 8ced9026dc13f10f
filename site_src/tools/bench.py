"""Figures, measured when asked for: never asserted in tests."""

import argparse
import json
import subprocess
import time
from statistics import median
from typing import Any

from calc.assess import assess
from calc.budget import read
from site_src.app.bridge import handle
from site_src.app.pages import demos
from site_src.tools import bench_browser, site
from site_src.tools.environment import ROOT, node


def main(arguments: list[str]) -> int:
    """Print the figures of this machine."""
    parser = argparse.ArgumentParser(prog="build.py bench")
    parser.add_argument("--json", action="store_true", help="print them as JSON")
    as_data = parser.parse_args(arguments).json
    site.build(ROOT / "_site")
    figures = {**measure(), **pyodide_rate(), **bench_browser.measure(ROOT / "_site")}
    print(
        json.dumps(figures, indent=1)
        if as_data
        else "\n".join(f"{name:34}{value:>12.4g}" for name, value in figures.items())
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
from calc.budget import read
from site_src.app.pages import demos
budgets = [read(demo.document).budget for demo in demos()]
for _ in range(3): [assess(budget) for budget in budgets]
began = time.perf_counter()
for _ in range(30): [assess(budget) for budget in budgets]
30 * len(budgets) / (time.perf_counter() - began)
"""


def pyodide_rate() -> dict[str, float]:
    """Return assess() per second in Pyodide under node."""
    folder, archive = ROOT / "_site" / "pyodide", ROOT / "_site" / "app.zip"
    command = [str(node()), "--input-type=module", "--eval", RATE, str(folder), str(archive), INSIDE]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return {"assess_in_pyodide_per_s": float(done.stdout.split()[-1])}


def _seconds(work: Any, pieces: int) -> float:
    """Return the median time of a piece of work over 30 rounds, after one to warm up."""
    work()
    rounds = []
    for _ in range(30):
        began = time.perf_counter()
        work()
        rounds.append((time.perf_counter() - began) / pieces)
    return median(rounds)
