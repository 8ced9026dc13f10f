"""How long the exact answer about room takes by number of unlike parts; runs under CPython and in Pyodide alike.

The parts are those of the case in tenths of a millimetre of tests/reference/room.toml, and for all of them its bays,
too; the other bays are drawn at random: each takes every part alone and is filled to between 55 and 95 %.
"""

import random
import time

from calc.subjects.room.parts import part_turns
from calc.subjects.room.spaces import Space, into

PARTS = (
    (163, 112, 41), (152, 79, 158), (171, 124, 63), (118, 92, 31), (82, 53, 38), (104, 77, 52), (93, 68, 29),
    (141, 62, 37),
)  # fmt: skip
ITS_BAYS = [(340, 170, 125), (270, 160, 160), (310, 165, 125), (220, 180, 160)]
TENTH_NM = 100_000
BAYS = 20  # drawn for each number of parts
STEPS = 400_000  # as the long search


def bays(count: int) -> list[tuple[int, int, int]]:
    """Return bays for the first so many parts, in tenths of a millimetre; always the same."""
    chance = random.Random(count)
    found: list[tuple[int, int, int]] = []
    filled = sum(a * b * c for a, b, c in PARTS[:count])
    while len(found) < BAYS:
        bay = (chance.randint(100, 400), chance.randint(60, 240), chance.randint(35, 200))
        alone = all(all(a <= b for a, b in zip(sorted(part), sorted(bay), strict=True)) for part in PARTS[:count])
        if alone and 0.55 <= filled / (bay[0] * bay[1] * bay[2]) <= 0.95:
            found.append(bay)
    return found + (ITS_BAYS if count == len(PARTS) else [])


def measure() -> dict[str, float]:
    """Return seconds in the middle and at worst for 2 to 8 parts, and how many answers were not found."""
    figures: dict[str, float] = {}
    for count in range(2, len(PARTS) + 1):
        turns = [part_turns((a * TENTH_NM, b * TENTH_NM, c * TENTH_NM), "any") for a, b, c in PARTS[:count]]
        times, open_ones = [], 0
        for a, b, c in bays(count):
            began = time.perf_counter()
            search = into(Space(size=(a * TENTH_NM, b * TENTH_NM, c * TENTH_NM)), turns, STEPS)
            while True:
                try:
                    next(search)
                except StopIteration as ended:
                    open_ones += ended.value.answer == "not_found"
                    break
            times.append(time.perf_counter() - began)
        times.sort()
        figures |= {f"room_{count}_parts_median_s": times[len(times) // 2], f"room_{count}_parts_worst_s": times[-1]}
        figures[f"room_{count}_parts_not_found"] = open_ones
    return figures
