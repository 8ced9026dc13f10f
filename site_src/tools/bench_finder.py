"""How long the finder takes, over boxes of several sizes; runs under CPython and in Pyodide alike.

The boxes are drawn at random: receiver, servo, linkage, altimeter and tracker with a draw, a peak and a needed voltage
each, harder than a real box, where a linkage draws nothing. The plain product is timed where it can still be run.
"""

import random
import time
import tracemalloc
from itertools import product
from typing import Any

from calc.document.box import Box, read_box
from calc.document.budget import read
from calc.search import counts, pareto, sets
from calc.search.finder import answer
from calc.search.slots import Task
from calc.search.task import task_of

KINDS = ("receiver", "servo", "linkage", "altimeter", "tracker")
SIZES = (10, 20, 60, 100, 200)
IN_A_BAY = (20, 60)
BAY = {"length": "60 mm", "width": "15 mm", "height": "12 mm"}
EDGES = (("length", 8, 30), ("width", 5, 14), ("height", 2, 9))  # mm
PLAIN = 9  # parts in each slot for which the plain product is run: 531 441 sets
DOCUMENT: dict[str, Any] = {
    "session": {"on_time": "6 min", "flights": 2},
    "gear": [{"kind": kind, "mass": "1 g", "draw": "5 mA"} for kind in KINDS],
}


def box_of(size: int, seed: int = 7, *, sized: bool = False) -> Box:
    """Return a box with so many parts of each kind, cells included; with sizes, as it is asked."""
    chance = random.Random(seed)
    parts = [
        {"kind": kind, "name": f"{kind} {n}", "mass": f"{0.3 + 3 * chance.random():.4f} g",
         "draw": f"{1 + 30 * chance.random():.4f} mA", "busy_draw": f"{40 + 200 * chance.random():.3f} mA",
         "busy": f"{20 * chance.random():.2f} %", "min_volts": f"{2.5 + chance.random():.2f} V"}
        for kind in KINDS for n in range(size)
    ]  # fmt: skip
    parts += [
        {"kind": "cell", "mass": f"{0.5 + 5 * chance.random():.3f} g",
         "capacity": f"{10 + 190 * chance.random():.1f} mAh"} for _ in range(size)
    ]  # fmt: skip
    for part in parts if sized else ():
        part |= {key: f"{chance.uniform(low, high):.1f} mm" for key, low, high in EDGES}
    return read_box({"parts": parts})


def plain_product(task: Task) -> int:
    """Return how many best sets there are, found by looking at every set."""
    best: dict[int, int] = {}
    (family,) = task.option_families
    for picks in product(*family):
        label = (0, 0, 0, 0, 0)
        for option in picks:
            label = sets.added(label, option.label)
        for supplied in task.batteries:
            if counts.verdict(label, supplied.battery, task.need) == "works":
                mass = label[0] + supplied.battery.mass
                best[mass] = max(best.get(mass, 0), supplied.battery.time(label[1], label[2], label[3]))
    longest, found = 0, 0
    for mass in sorted(best):
        if best[mass] > longest:
            longest, found = best[mass], found + 1
    return found


def measure(*, memory: bool) -> dict[str, float]:
    """Return seconds for each size of box, and how many times as long the plain product takes."""
    found: dict[str, float] = {}
    for size in SIZES:
        box = box_of(size)
        began = time.perf_counter()
        answer(DOCUMENT, box)
        found[f"finder_{size}_per_slot_s"] = time.perf_counter() - began
        if memory:
            tracemalloc.start()
            answer(DOCUMENT, box)
            found[f"finder_{size}_per_slot_peak_MB"] = tracemalloc.get_traced_memory()[1] / 1e6
            tracemalloc.stop()
    for size in IN_A_BAY:
        box = box_of(size, sized=True)
        began = time.perf_counter()
        answer({**DOCUMENT, "bays": [BAY]}, box)
        found[f"finder_{size}_per_slot_in_a_bay_s"] = time.perf_counter() - began
    task = task_of(read(DOCUMENT).budget, box_of(PLAIN))
    began = time.perf_counter()
    number = plain_product(task)
    plain_s = time.perf_counter() - began
    began = time.perf_counter()
    *_, last = pareto.search(task.option_families, [each.battery for each in task.batteries], task.need)
    search_s = time.perf_counter() - began
    if not isinstance(last, sets.Found) or len(last.best) != number:
        raise RuntimeError("the plain product finds other sets than the search")
    found["finder_plain_product_ratio"] = plain_s / search_s
    return found
