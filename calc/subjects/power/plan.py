"""A session's plan: flights from one charge, cells to bring, when to swap, how long to charge.

Scope: flights of equal length; the radio off between them, or left on at its quiet draw.

Symbols: on, pause [s]; p the time in flight that takes as much from the cell as a pause: pause × quiet ÷ mean draw.

    flights from one charge = ⌊(run time + p) / (on + p)⌋      after the last one the radio goes off

Source: arithmetic. That the end of a charge takes longer than charge over current is common practice, no source.
"""

from dataclasses import dataclass
from math import ceil, floor

from calc.errors import require

WHOLE = 1e-9  # a run that falls short of one more flight by a rounding error still makes it


@dataclass(frozen=True, kw_only=True)
class Plan:
    """A session's flights: radio on for `on_s` each, and through pauses of `pause_s` too where it is left on.

    `pause_share` is the quiet draw as a share of the mean draw.
    """

    on_s: float
    pause_s: float = 0.0
    pause_share: float = 0.0

    @property
    def pause_equal_s(self) -> float:
        """Return the time in flight that takes as much from the cell as a pause [s]."""
        return self.pause_s * self.pause_share


def flights_per_cell(time_s: float, plan: Plan) -> int:
    """Return how many whole flights a run holds; after the last one the radio goes off.

    Raises
    ------
    OutOfRangeError
        If the time of a flight is not above zero, or another time below it.

    Examples
    --------
    >>> flights_per_cell(24.0 * 60, Plan(on_s=6.0 * 60))
    4
    >>> flights_per_cell(24.0 * 60, Plan(on_s=6.0 * 60, pause_s=600.0, pause_share=0.5))
    2
    """
    on_s = require("on_s", plan.on_s, 0.0, above=True)
    pause_s = require("pause_equal_s", plan.pause_equal_s, 0.0)
    return floor((require("time_s", time_s, 0.0) + pause_s) / (on_s + pause_s) + WHOLE)


def cells_needed(flights: int, flights_per_cell: int) -> int | None:
    """Return how many charged cells the session takes; None when a cell does not give one flight.

    Examples
    --------
    >>> cells_needed(8, 3)
    3
    """
    return None if flights_per_cell < 1 else ceil(flights / flights_per_cell)


def cell_swaps(flights: int, flights_per_one: int) -> tuple[int, ...]:
    """Return after which flights the cell is swapped.

    Examples
    --------
    >>> cell_swaps(12, 5), cell_swaps(10, 5), cell_swaps(3, 5)
    ((5, 10), (5,), ())
    """
    return tuple(range(flights_per_one, flights, flights_per_one)) if flights_per_one > 0 else ()


def charge_time(capacity_c: float, charge_a: float) -> float:
    """Return the least time [s] to put a charge [C] back at a current [A]; the end of a charge takes longer.

    Raises
    ------
    OutOfRangeError
        If the charge is below zero, or the current not above it.

    Examples
    --------
    >>> charge_time(108.0, 0.030) / 60
    60.0
    """
    return require("capacity_c", capacity_c, 0.0) / require("charge_a", charge_a, 0.0, above=True)
