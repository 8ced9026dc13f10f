"""What reading a log file gives: its samples, what was taken for granted, or a sentence why it cannot be read."""

from dataclasses import dataclass, field

from calc.english import counted
from calc.errors import ThistledownError
from calc.subjects.flights.slope import Series

LONGEST_TEXT = 20_000_000  # characters
LONGEST_LINE = 2_000
MOST_SAMPLES = 200_000
FEWEST_SAMPLES = 20
FOOT_M = 0.3048
HEIGHT_UNITS = {"m": (1.0, "metres"), "ft": (FOOT_M, "feet"), "cm": (0.01, "centimetres")}
PRESSURE_UNITS = {"Pa": (1.0, 22_000.0, 120_000.0), "hPa": (100.0, 220.0, 1_200.0), "kPa": (1000.0, 22.0, 120.0)}
TIME_UNITS = {"s": (1.0, "seconds"), "ms": (0.001, "milliseconds"), "min": (60.0, "minutes")}

SENTENCES = {
    "too_large": "The file is larger than 20 MB; that is the most that is read of a log.",
    "too_many": "There are more than 200 000 samples; that is the most that is read of a log.",
    "no_log": "This is no flight log: neither IGC nor a table of times with heights or pressures.",
    "no_height": "No column of the table is a height or a pressure: its headings are {headings}.",
    "no_time": "No column of the table is a time: say how many samples a second it has.",
    "no_temperature": "“{typed}” is no temperature at the ground: type it as 8 °C.",
    "no_rate": "“{typed}” is no number of samples a second: type it as 10.",
    "same_column": "Time and height cannot be the same column.",
    "too_few": "{count} can be used; a flight takes at least 20.",
    "all_equal": "All heights are the same: a recorder without a pressure sensor, or one that stayed on the ground.",
    "no_flight": "Nothing flies here: at no time does the height rise by 2 m and more above the ground.",
    "short_glide": "The glide is too short for a sink: {seconds} s of it can be used, 10 s are needed.",
}


class LogError(ThistledownError):
    """A log cannot be used; `code` is a key of `SENTENCES`, the error's text the sentence."""

    def __init__(self, code: str, **facts: object) -> None:
        super().__init__(SENTENCES[code].format_map(facts))
        self.code = code


@dataclass(frozen=True, kw_only=True)
class Wishes:
    """What the visitor says of a file; columns count from 0."""

    unit: str = ""  # of heights or pressures: a key of HEIGHT_UNITS or PRESSURE_UNITS; "" as recognised
    rate: float | None = None  # samples a second, where there is no time
    ground_k: float | None = None  # temperature at the ground
    time_unit: str = ""  # a key of TIME_UNITS; "" as recognised
    time_at: int | None = None  # the column of the times, −1 for none; None as recognised
    at: int | None = None  # the column of the heights or pressures


@dataclass(frozen=True, kw_only=True)
class Columns:
    """How a table was taken: its headings, the columns of times (None: there is none) and heights, their units."""

    headings: tuple[str, ...]
    time_at: int | None
    at: int | None
    time_unit: str = "s"
    unit: str = ""


@dataclass(frozen=True, kw_only=True)
class Recording:
    """Samples of one stretch: times [s], heights [m]; what was taken for granted or left out, in sentences."""

    points: Series
    told: tuple[str, ...] = ()
    kind: str = "height"  # or "pressure"
    name: str = ""
    date: str = ""  # of the first sample, as 2026-05-03
    columns: Columns | None = None  # of a table


ONE = {
    "lines that are too long": "line that is too long",
    "lines without a number where one should be": "line without a number where one should be",
    "headings that come again": "heading that comes again",
    "B records that cannot be read": "B record that cannot be read",
    "pressures that no air has": "pressure that no air has",
    "heights that no model reaches": "height that no model reaches",
    "spikes": "spike",
}  # what is left out, and one of it


@dataclass(kw_only=True)
class Left:
    """Counts what is left out while a file is read, and tells it in sentences."""

    counts: dict[str, int] = field(default_factory=dict)

    def out(self, why: str) -> None:
        """Count one line or sample that is left out."""
        self.counts[why] = self.counts.get(why, 0) + 1

    def told(self) -> tuple[str, ...]:
        """Return a sentence for each reason."""
        return tuple(f"Left out: {counted(count, ONE[why], why)}." for why, count in self.counts.items())
