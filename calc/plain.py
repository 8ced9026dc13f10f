"""Figures as plain data: rounded to a millionth of their unit, so that every Python prints the same text."""

from math import isfinite
from typing import Any


def rounded(value: float | None, scale: float = 1.0, places: int = 6) -> float | None:
    """Return a figure in a unit `scale` times as small as SI, rounded to so many places; None stays None."""
    return None if value is None else round(value * scale, places)


def known(value: Any) -> Any:
    """Return a block without what is not known; `cells_needed` alone says null."""
    if not isinstance(value, dict):
        return value
    return {key: item for key, item in value.items() if item is not None or key.startswith("cells_needed")}


def finite(value: float) -> float | None:
    """Return a figure, None where it is infinite: JSON has no infinity."""
    return rounded(value) if isfinite(value) else None
