"""Glides with a known sink in air of several kinds, and how often the spread that is told holds it.

`python -m tests.calc.subjects.flights.glides 500` prints the table of tests/README.md; it takes some minutes. The tests
run a few seeds.
"""

import random
import sys
from dataclasses import dataclass
from math import exp, sqrt
from statistics import fmean, median

from calc.subjects.flights import pieces
from calc.subjects.flights.gliding import sink_between

RECORDS = ((0.1, 0.1), (0.3, 0.1), (0.3, 1.0), (1.0, 0.3))  # noise and step [m]
SECONDS = (60, 120, 240)


@dataclass(frozen=True, kw_only=True)
class Air:
    """What the glide goes through.

    Thermals, their least and most [m/s] and [s]; air that moves by so much [m/s] for so long [s]; correlated noise.
    """

    thermals: int = 0
    rises_m_s: tuple[float, float] = (0.6, 1.5)
    rises_s: tuple[float, float] = (8.0, 15.0)
    moves_m_s: float = 0.0
    lasts_s: float = 5.0
    correlated: float = 0.0


AIRS = {
    "still": Air(),
    "still, noise correlated 0.5": Air(correlated=0.5),
    "still, noise correlated 0.8": Air(correlated=0.8),
    "one thermal of 0.6 to 1.5 m/s, 8 to 15 s": Air(thermals=1),
    "two of them": Air(thermals=2),
    "one of 1.2 to 2.5 m/s, 10 to 25 s": Air(thermals=1, rises_m_s=(1.2, 2.5), rises_s=(10.0, 25.0)),
    "three of 1.2 to 2.5 m/s, 8 to 25 s": Air(thermals=3, rises_m_s=(1.2, 2.5), rises_s=(8.0, 25.0)),
    "four of them, 8 to 15 s": Air(thermals=4, rises_m_s=(1.2, 2.5), rises_s=(8.0, 15.0)),
    "one in air of 0.1 m/s for 5 s": Air(thermals=1, moves_m_s=0.1),
    "moving all the time, 0.1 m/s for 5 s": Air(moves_m_s=0.1),
    "the same, 0.3 m/s": Air(moves_m_s=0.3),
    "0.3 m/s for 2 s": Air(moves_m_s=0.3, lasts_s=2.0),
    "0.2 m/s for 12 s": Air(moves_m_s=0.2, lasts_s=12.0),
    "0.5 m/s for 12 s": Air(moves_m_s=0.5, lasts_s=12.0),
    "0.8 m/s for 5 s": Air(moves_m_s=0.8),
}


@dataclass(frozen=True, kw_only=True)
class Found:
    """How often a sink was told, and of those: how often ± 2 u held the truth, and the errors.

    The mean error [m/s] is above 0 where a sink is told too small; the width is the usual 2 u [m/s].
    """

    told: float
    held: float
    bias: float
    width: float


def glide(seed: int, air: Air, seconds: int, noise: float, step: float) -> tuple[float, list[tuple[float, float]]]:
    """Return a sink from 0.3 to 0.7 m/s, and its record, a sample a second."""
    rng, points, height = random.Random(seed), [], 60.0
    sink, rises = rng.uniform(0.3, 0.7), []
    for _ in range(air.thermals):
        lasts = rng.uniform(*air.rises_s)
        start = rng.uniform(0.0, seconds - lasts)
        rises.append((start, start + lasts, rng.uniform(*air.rises_m_s)))
    error, moved = rng.gauss(0.0, 1.0), air.moves_m_s * rng.gauss(0.0, 1.0)
    keeps = exp(-1.0 / air.lasts_s)
    for second in range(seconds):
        points.append((float(second), round((height + noise * error) / step) * step))
        error = air.correlated * error + sqrt(1.0 - air.correlated**2) * rng.gauss(0.0, 1.0)
        height += moved - sink + sum(strong for start, end, strong in rises if start <= second < end)
        moved = keeps * moved + sqrt(1.0 - keeps * keeps) * air.moves_m_s * rng.gauss(0.0, 1.0)
    return sink, points


def held(air: Air, seconds: int, record: tuple[float, float], seeds: int) -> Found:
    """Return what the spreads of so many glides are worth."""
    errors, widths = [], []
    for seed in range(seeds):
        sink, points = glide(seed, air, seconds, *record)
        parts = pieces.pieces(points, step_m=record[1])
        found = sink_between(points, parts, (0.0, float(seconds)), record[1]).slope
        if found is None:  # air that carries the model through the whole of a short glide
            continue
        errors.append(found.slope + sink)
        widths.append(2.0 * found.spread)
    inside = sum(abs(error) <= width for error, width in zip(errors, widths, strict=True))
    return Found(told=len(errors) / seeds, held=inside / len(errors), bias=fmean(errors), width=median(widths))


def row(name: str, seeds: int) -> str:
    """Return a line of the table: least and most of the four records."""
    cells = []
    for seconds in SECONDS:
        found = [held(AIRS[name], seconds, record, seeds) for record in RECORDS]
        shares, widths = [100.0 * each.held for each in found], [each.width for each in found]
        cells.append(f"{min(shares):.0f} to {max(shares):.0f} %, ± {min(widths):.3f} to {max(widths):.3f}")
        least = min(each.told for each in found)
        cells[-1] += "" if least == 1.0 else f", {100.0 * least:.1f} % told"
        if seconds == 120:
            biased = sorted((each.bias for each in found), key=abs)
    return f"| {name} | {' | '.join(cells)} | {biased[0]:+.3f} to {biased[-1]:+.3f} m/s |"


if __name__ == "__main__":
    for each in AIRS:
        print(row(each, int(sys.argv[1])), flush=True)
