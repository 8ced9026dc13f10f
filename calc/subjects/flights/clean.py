"""Makes samples fit to be worked with: flights apart, times in order, spikes out.

Spikes: |h − median of 7| > 5 × 1.4826 × their median deviation (Hampel's identifier; the numbers are common practice,
no source), and at least 5 steps of the record or 5 times its noise, so
that a coarse or noisy record loses nothing.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import isfinite
from statistics import median

from calc.english import counted
from calc.subjects.flights.logs import FEWEST_SAMPLES, MOST_SAMPLES, ONE, LogError, Recording
from calc.subjects.flights.slope import Series, noise_of

TOO_HIGH = "heights that no model reaches"
HIGHEST_M = 30_000.0  # beyond it a sample is no height
GAP_S = 60.0  # a longer gap, or time going back, parts two recordings
HALF = 3  # neighbours on each side
FAR = 5.0 * 1.4826


def stretches(points: Series) -> Iterator[list[tuple[float, float]]]:
    """Yield the stretches of a recording: parted where time goes back or stands a minute still; equal times once.

    Examples
    --------
    >>> [len(each) for each in stretches([(0.0, 1.0), (1.0, 2.0), (1.0, 2.0), (90.0, 3.0), (5.0, 1.0)])]
    [2, 1, 1]
    """
    part: list[tuple[float, float]] = []
    for second, height in points:
        if part and (second < part[-1][0] or second - part[-1][0] > GAP_S):
            yield part
            part = []
        if not part or second > part[-1][0]:
            part.append((second, height))
    if part:
        yield part


def step_of(points: Series) -> float:
    """Return the step of a record [m]: the smallest change but for rounding; 0 where nothing changes.

    Examples
    --------
    >>> step_of([(0.0, 1.0), (1.0, 1.3), (2.0, 1.3), (3.0, 1.9)])
    0.3
    """
    return min((round(abs(b - a), 6) for (_, a), (_, b) in pairwise(points) if abs(b - a) > 1e-4), default=0.0)


def without_spikes(points: Series) -> tuple[list[tuple[float, float]], int]:
    """Return the samples without spikes, and how many were left out.

    Examples
    --------
    >>> kept, out = without_spikes([(float(t), 200.0 if t == 8 else 0.1 * t) for t in range(20)])
    >>> len(kept), out
    (19, 1)
    """
    heights = [height for _, height in points]
    least = 5.0 * max(step_of(points), noise_of(points))
    kept = []
    for at, (second, height) in enumerate(points):
        near = heights[max(0, at - HALF) : at + HALF + 1]
        middle = median(near)
        if abs(height - middle) <= max(least, FAR * median(abs(each - middle) for each in near)):
            kept.append((second, height))
    return kept, len(points) - len(kept)


def cleaned(recording: Recording) -> list[Recording]:
    """Return the stretches of a recording that can be worked with. LogError where there is none."""
    finite = [(second, height) for second, height in recording.points if isfinite(second) and isfinite(height)]
    sound = [each for each in finite if abs(each[1]) <= HIGHEST_M]
    high = len(finite) - len(sound)
    beyond = (
        (f"Left out: {counted(high, ONE['heights that no model reaches'], 'heights that no model reaches')}.",)
        if high
        else ()
    )
    if len(sound) > MOST_SAMPLES:
        raise LogError("too_many")
    found, longest, equal = [], 0, False
    for part in stretches(sound):
        kept, out = without_spikes(part)
        longest = max(longest, len(kept))
        if len(kept) < FEWEST_SAMPLES:
            continue
        if step_of(kept) == 0.0:
            equal = True
            continue
        spikes = (f"Left out: {counted(out, ONE['spikes'], 'spikes')}.",) if out else ()
        found.append(replace(recording, points=kept, told=(*recording.told, *beyond, *spikes)))
    if not found:
        raise LogError("all_equal") if equal else LogError("too_few", count=counted(longest, "sample"))
    return found
