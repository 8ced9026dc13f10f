"""Reads a log file, whatever it is, and gives its flights; what was taken for granted comes with them."""

from dataclasses import dataclass

from calc.subjects.flights import clean, csvlog, igc
from calc.subjects.flights.logs import LONGEST_TEXT, Columns, LogError, Wishes
from calc.subjects.flights.parts import Flown, flights_in


@dataclass(frozen=True, kw_only=True)
class LogFile:
    """The flights of a file, what is said of it, its first date ("" where none is told), how a table was taken."""

    flights: tuple[Flown, ...]
    told: tuple[str, ...]
    date: str = ""
    columns: Columns | None = None


def read(text: str, wishes: Wishes | None = None) -> LogFile:
    r"""Return the flights of a log file's text. LogError, which says so in a sentence, where there is none.

    Examples
    --------
    >>> rows = [0.0] * 20 + [2.0 * t for t in range(25)] + [50.0 - 0.5 * t for t in range(100)] + [0.0] * 20
    >>> found = read("Time [s];Height [m]\n" + "\n".join(f"{at};{height}" for at, height in enumerate(rows)))
    >>> len(found.flights), round(found.flights[0].sink.slope, 2)
    (1, 0.5)
    """
    if len(text) > LONGEST_TEXT:
        raise LogError("too_large")
    wished = wishes or Wishes()
    recorded = igc.read(text) if igc.is_igc(text) else csvlog.read(text, wished)
    recordings = clean.cleaned(recorded)
    flights = [flown for each in recordings for flown in flights_in(each, wished.ground_k)]
    if not flights:
        raise LogError("no_flight")
    told = dict.fromkeys(sentence for each in recordings for sentence in each.told)
    return LogFile(flights=tuple(flights), told=tuple(told), date=recorded.date, columns=recorded.columns)
