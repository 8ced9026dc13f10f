"""The sheet for the field box: what its template shows beside the answer, and how it is laid out.

Nothing is worked out here. What the budget does not hold is left out, heading and all; blanks are for the pencil.
"""

from collections.abc import Iterator
from math import degrees
from typing import Any

from calc import digits, english
from calc.document import classes
from calc.document.budget import Budget, read
from calc.document.entries import GearRow
from calc.subjects.air import words as air_words
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.field.answer import FieldBlock
from calc.subjects.power import words as power_words
from calc.subjects.power.answer import Power
from calc.subjects.power.entries import Session
from calc.subjects.weights import words as weight_words
from calc.unit_system import UnitSystem
from site_src.app.answer import Answer, answer
from site_src.subjects.field.drawing import SHEET, field_sketch

MOST_CELLS = 8  # with a line of their own; more are told
ROWS_BESIDE = 14  # of gear, beside the other columns; a longer list has pages of its own
ROWS_EASY = 8  # with room to write
LINES_A_CELL = 3


def sheet_view(document: object) -> dict[str, Any]:
    """Return what the sheet's template shows of a document of any shape; "" and () where the budget says nothing."""
    budget = read(document).budget
    found = answer(budget)
    rows = tuple(_rows(budget, found))
    power, session = found.assessment.power, budget.session or Session()
    bring = 0 if power is None or power.bring is None else power.bring
    return {
        "answer": found,
        "rows": rows,
        "stations": any(row["at"] for row in rows),
        "density": _density(len(rows) + len(found.uncounted), bring),
        "class_name": "" if budget.model.class_.typed is None else classes.table()[budget.model.class_.value].name,
        "rubber": _rubber(budget, found.system),
        "rubber_flown": _rubber_flown(budget),
        "airframe": _airframe(budget, found),
        "temperature": "" if power is None else _temperature(session, found.system),
        "power_line": "" if power is None else _power_line(power, session, found),
        "cells": tuple(range(1, min(bring, MOST_CELLS) + 1)),
        "more_cells": max(0, bring - MOST_CELLS),
        "steers": budget.model.radio.value == "steering",
        "throw": _throw(budget),
        "field_sketch": field_sketch(found.assessment.of(FieldBlock), found.system, SHEET),
        "about": "" if found.assessment.air is None else air_words.still_air_about(found.assessment.air),
    }


def _density(lines: int, cells: int) -> str:
    """Return how close the sheet is set; from the third cell on each takes the room of some lines."""
    easy = lines + LINES_A_CELL * max(0, min(cells, MOST_CELLS) - 2) <= ROWS_EASY
    return "easy" if easy else "tight" if lines <= ROWS_BESIDE else "long"


def _rows(budget: Budget, found: Answer) -> Iterator[dict[str, Any]]:
    for row in found.assessment.rows:
        part = budget.part(row.path)
        station = None if part is None else part.station
        planned = None if part is None or part.weighed is None else part.mass
        count = part.count.value if isinstance(part, GearRow) else 1
        expected = weight_words.expected(row.mass, found.system)
        weighed = row.known_by == "weighed"
        yield {
            "name": row.called,
            "known": row.known_by,
            "expected": (found.system.mass(planned.value * count) if planned else "") if weighed else expected,
            "weighed": expected if weighed else "",
            "at": "" if station is None else found.system.station(station.value),
        }


def _airframe(budget: Budget, found: Answer) -> dict[str, str]:
    """Return the airframe's planned mass and its mass on the scale, "" for what is not there."""
    kg, system, model = found.assessment.model.airframe_kg, found.system, budget.model
    if kg is None:
        return {"expected": "", "weighed": ""}
    said = system.mass(kg)
    if model.airframe_weighed is not None:
        planned = "" if model.airframe is None else system.mass(model.airframe.value)
        return {"expected": planned, "weighed": said}
    parts = found.assessment.of(AirframeBlock)
    weighed = model.airframe_known_by.value == "weighed" if parts is None or model.airframe else parts.finished
    return {"expected": "", "weighed": said} if weighed else {"expected": said, "weighed": ""}


def _rubber_flown(budget: Budget) -> bool:
    """Return whether rubber drives the model: some is given, or the class or the launch say so."""
    model = budget.model
    if model.rubber is not None:
        return model.rubber.value > 0.0
    by_class = classes.table()[model.class_.value].rubber_most_kg is not None
    return by_class or (budget.air is not None and budget.air.launch.typed == "rubber")


def _temperature(session: Session, system: UnitSystem) -> str:
    return system.temperature(session.temperature.value)


def _power_line(power: Power, session: Session, found: Answer) -> str:
    """Return what ends the run, and for how many flights at which temperature this is."""
    if power.worst.time_s <= 0:
        return found.power_sentence
    flights = "" if power.session_flights is None else f"{english.counted(power.session_flights, 'flight')}, "
    return f"For {flights}{_temperature(session, found.system)}: until {power_words.ENDS[power.worst.ends_by]}."


def _rubber(budget: Budget, system: UnitSystem) -> str:
    rubber = budget.model.rubber
    return "" if rubber is None or rubber.value <= 0 else system.round_mass(rubber.value)


def _throw(budget: Budget) -> str:
    deflection = None if budget.surface is None else budget.surface.deflection
    return "" if deflection is None else f"{digits.given(degrees(deflection.value))}°"
