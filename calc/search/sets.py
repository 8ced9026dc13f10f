"""What the search is made of: options, batteries, what a charge must do; and what it finds.

Everything is a whole number, so that sums are exact and do not depend on their order: mass in a unit of the caller's
choice, current in nanoamperes, voltage in microvolts, time in nanoseconds.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import floor

from calc.subjects.power.plan import WHOLE

Label = tuple[int, int, int, int, int]  # mass, mean, peak, volts, quiet


@dataclass(frozen=True, kw_only=True, slots=True)
class Option:
    """What may stand in a slot: its sums for the whole row, and whether it is strong enough for the surface."""

    mass: int
    mean_na: int = 0
    peak_na: int = 0
    volts_uv: int = 0
    quiet_na: int = 0
    strong: bool = True

    @property
    def label(self) -> Label:
        """The demands in the order of a label."""
        return (self.mass, self.mean_na, self.peak_na, self.volts_uv, self.quiet_na)


@dataclass(frozen=True, kw_only=True)
class Battery:
    """A source of power: its mass, and the run time [ns] for mean and peak draw [nA] and needed voltage [µV].

    `time` gives 0 where the source cannot run such gear, and never grows with any argument; `most` is a quick bound on
    it from above, for a mean draw alone.
    """

    mass: int
    time: Callable[[int, int, int], int]
    most: Callable[[int], int]


@dataclass(frozen=True, kw_only=True)
class Need:
    """What one charge must do: so many flights of `on_s`, the radio left on through pauses of `pause_s` (else 0)."""

    flights: int = 0  # 0: any run will do
    on_s: float = 1.0
    pause_s: float = 0.0

    def met(self, time_ns: int, mean_na: int, quiet_na: int) -> bool:
        """Return whether a run is long enough; the same sum as `calc.subjects.power.plan.flights_per_cell`."""
        if self.flights == 0:
            return time_ns > 0
        pause_s = self.pause_s * min(1.0, quiet_na / mean_na)
        return floor((time_ns * 1e-9 + pause_s) / (self.on_s + pause_s) + WHOLE) >= self.flights


Slot = Sequence[Option]
Family = tuple[Slot, ...]  # one option of each slot makes a set; families differ in their slots
Way = tuple[int, tuple[int, ...], int]  # family, the option of each slot, battery


@dataclass(frozen=True, kw_only=True)
class Best:
    """A best mass with its run time [ns]: how many sets have both; one of them, and up to MOST_TIED with it."""

    mass: int
    time_ns: int
    count: int
    family: int
    picks: tuple[int, ...]  # the option of each slot
    battery: int
    tied: tuple[Way, ...]


@dataclass(frozen=True, kw_only=True)
class Counts:
    """How many sets there are, how many work, and the first reason (one of REASONS) of each that does not.

    `drawn` is 0 where all were counted; else the counts are estimates from so many sets drawn at random.
    """

    total: int
    works: int
    reasons: dict[str, int]
    drawn: int


@dataclass(frozen=True, kw_only=True)
class Progress:
    """How far a search has come, 0 to 1."""

    done: float


@dataclass(frozen=True, kw_only=True)
class Found:
    """The outcome of a search: the best sets, lightest first, and the counts."""

    best: tuple[Best, ...]
    counts: Counts


NOTHING: Label = (0, 0, 0, 0, 0)


def added(label: Label, option: Label) -> Label:
    """Return the demands of both together: sums, and the higher of the two voltages."""
    return (
        label[0] + option[0], label[1] + option[1], label[2] + option[2], max(label[3], option[3]),
        label[4] + option[4],
    )  # fmt: skip
