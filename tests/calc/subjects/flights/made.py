"""Flights with a known truth: ground, climb, glide, ground."""

import random
from collections.abc import Sequence

Points = list[tuple[float, float]]


def flight(
    seconds: float = 165.0, step_s: float = 1.0, step_m: float = 0.0, noise_m: float = 0.0, seed: int = 0,
    sink: float = 0.5, landed_m: float = 0.0,
) -> Points:  # fmt: skip
    """Return 20 s of ground, 25 s of climb at 2 m/s, a glide, the ground (or a tree) again."""
    rng, points = random.Random(seed), []
    for number in range(int(seconds / step_s) + 1):
        second = number * step_s
        height = min(2.0 * max(0.0, second - 20.0), max(landed_m, 50.0 - sink * max(0.0, second - 45.0)))
        if second > 45.0:
            height = max(landed_m, 50.0 - sink * (second - 45.0))
        height += rng.gauss(0.0, noise_m)
        points.append((second, round(height / step_m) * step_m if step_m else height))
    return points


def table(points: Sequence[tuple[float, float]], head: str = "Time [s];Height [m]", sign: str = ";") -> str:
    """Return a log as CSV."""
    return "\n".join([head, *(f"{second:g}{sign}{height:.4f}" for second, height in points)])
