"""Scales of the pictures.

Every length is a percentage of the picture's width or height, so that text keeps its size on a narrow screen;
coordinates are rounded to 0.01: the same under every Python.
"""

from dataclasses import dataclass
from math import floor, log10


@dataclass(frozen=True, kw_only=True)
class Tick:
    """A mark on a scale: where [%], and its text."""

    at: float
    text: str


def nice_step(span: float, most: int = 6) -> float:
    """Return a step of 1, 2 or 5 times a power of ten that parts `span` > 0 into at most `most` parts.

    Examples
    --------
    >>> nice_step(11.2), nice_step(0.4), nice_step(55.0)
    (2.0, 0.1, 10.0)
    """
    power = 10.0 ** floor(log10(span / most))
    return next(m * power for m in (1.0, 2.0, 5.0, 10.0) if span / (m * power) <= most * (1 + 1e-9))


def ticks_to(top: float, most: int = 6) -> list[float]:
    """Return the nice numbers from 0 to `top`.

    Examples
    --------
    >>> ticks_to(0.45)
    [0.0, 0.1, 0.2, 0.3, 0.4]
    """
    step = nice_step(top, most)
    return [round(index * step, 10) for index in range(floor(top / step + 1e-9) + 1)]


def percent(value: float, top: float) -> float:
    """Return where a value lies on a scale from 0 to `top`, in percent, kept within the picture."""
    return round(min(max(value / top, 0.0), 1.0) * 100.0, 2)
