"""The sheet for the field box: what stands on it beside the answer, and how it is laid out.

Nothing is worked out here. What the budget does not hold is left out, heading and all; blanks are for the pencil.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees

from calc import rules, sentences, shown
from calc.blocks.power import Power
from calc.budget import Budget, read
from calc.parts import Session
from site_src.app.view import Answer, answer

MOST_CELLS = 8  # with a line of their own; more are told
ROWS_BESIDE = 14  # of gear, beside the other columns; a longer list has pages of its own
ROWS_EASY = 8  # with room to write


@dataclass(frozen=True, kw_only=True)
class Row:
    """A line of gear; `at` is its station, empty where none is given."""

    number: int
    name: str
    known: str
    expected: str
    at: str


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """What the template shows beside the answer; empty or None where the budget does not say."""

    answer: Answer
    rows: tuple[Row, ...]
    density: str  # "easy", "tight" or "long"
    stations: bool
    class_name: str
    rubber: str
    temperature: str
    power_line: str
    cells: tuple[int, ...]
    more_cells: int
    steers: bool
    throw: str
    time: str


KNOWN = {"weighed": "weighed", "maker": "maker", "guess": "guess"}


def sheet_view(document: object) -> Sheet:
    """Return the sheet of a document of any shape."""
    budget = read(document).budget
    found = answer(budget)
    rows = tuple(_rows(budget, found))
    lines = len(rows) + len(found.uncounted)
    power, air = found.assessment.power, found.assessment.air
    bring = 0 if power is None or power.cells_needed is None else power.cells_needed + 1
    session = budget.session or Session()
    return Sheet(
        answer=found,
        rows=rows,
        density="easy" if lines <= ROWS_EASY else "tight" if lines <= ROWS_BESIDE else "long",
        stations=any(row.at for row in rows),
        class_name="" if budget.model.class_.typed is None else rules.classes()[budget.model.class_.value].name,
        rubber=_rubber(budget, found.system),
        temperature="" if power is None else _temperature(session, found.system),
        power_line="" if power is None else _power_line(power, session, found),
        cells=tuple(range(1, min(bring, MOST_CELLS) + 1)),
        more_cells=max(0, bring - MOST_CELLS),
        steers=budget.model.radio.value == "steering",
        throw=_throw(budget),
        time="" if air is None or air.time_s is None else f"about {shown.figures(air.time_s)} s",
    )


def _rows(budget: Budget, found: Answer) -> Iterator[Row]:
    for number, row in enumerate(found.assessment.rows, 1):
        part = budget.cell if row.path == "cell" else budget.gear[int(row.path.removeprefix("gear."))]
        station = None if part is None else part.station
        yield Row(
            number=number,
            name=sentences.row_name(row.kind, row.name),
            known=KNOWN[row.known_by],
            expected=sentences.expected(row.mass, found.system),
            at="" if station is None else shown.station(station.value, found.system),
        )


def _temperature(session: Session, system: str) -> str:
    return shown.quantity(session.temperature.value, "temperature", system, 0)


def _power_line(power: Power, session: Session, found: Answer) -> str:
    """Return what ends the run, and for how many flights at which temperature this is."""
    if power.run.time_s <= 0:
        return found.power_sentence
    flights = "" if power.session_flights is None else f"{power.session_flights} flights, "
    return f"For {flights}{_temperature(session, found.system)}: until {sentences.ENDS[power.run.ends_by]}."


def _rubber(budget: Budget, system: str) -> str:
    rubber = budget.model.rubber
    return "" if rubber is None or rubber.value <= 0 else shown.figure(rubber.value, system)


def _throw(budget: Budget) -> str:
    deflection = None if budget.surface is None else budget.surface.deflection
    return "" if deflection is None else f"{shown.given(degrees(deflection.value))}°"
