"""What the page shows of a log file: how it was taken, its flights, the graph and the figures of one."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc import digits
from calc.subjects.flights.gliding import LEAST_GLIDE_S
from calc.subjects.flights.logs import Columns
from calc.subjects.flights.logwords import air_told, sink_told
from calc.subjects.flights.parts import Flown
from calc.unit_system import UnitSystem
from site_src.subjects.flights.drawing import FlightGraph, clock, flight_graph


@dataclass(frozen=True, kw_only=True)
class FlightView:
    """One flight: its number, its figures as (name, text), what else is to be said, its graph where it is drawn."""

    index: int
    brief: str
    figures: tuple[tuple[str, str], ...]
    said: tuple[str, ...]
    moved: bool
    graph: FlightGraph | None


@dataclass(frozen=True, kw_only=True)
class LogView:
    """A file: what is wrong with it, what was taken for granted, the choices, its flights."""

    name: str
    problem: str
    told: tuple[str, ...]
    columns: Columns | None
    wished: Mapping[str, str]
    units: Mapping[str, Any]
    time_units: Mapping[str, Any]
    flights: tuple[FlightView, ...]


def flight_view(
    index: int, flown: Flown, system: UnitSystem, *, moved: bool = False, drawn: bool = False
) -> FlightView:  # fmt: skip
    """Return what is shown of a flight."""
    figures = _figures(flown, system)
    return FlightView(
        index=index,
        brief=", ".join(f"{text}{' up' if name == 'Height' else ''}" for name, text in figures if name in BRIEF),
        figures=figures,
        said=tuple(_said(flown, system)),
        moved=moved,
        graph=flight_graph(flown, system) if drawn else None,
    )


BRIEF = ("Height", "Whole time", "Sinks")


def _figures(flown: Flown, system: UnitSystem) -> tuple[tuple[str, str], ...]:
    at = flown.borders
    whole = clock(at.down_s - at.launch_s) if flown.from_ground and flown.to_ground else "not all of it"
    climb = clock(at.top_s - at.launch_s) if flown.from_ground else "begins in the air"
    down = clock(at.down_s - at.top_s) if flown.to_ground else "ends in the air"
    sink = "none" if flown.sink is None else sink_told(flown.sink, system)
    return (
        ("Height", system.rounded(flown.height_m, "height", 3)),
        ("Launch to top", climb),
        ("Top to ground", down),
        ("Whole time", whole),
        ("Sinks", sink),
    )


def _said(flown: Flown, system: UnitSystem) -> list[str]:
    said = []
    seconds = digits.figures(flown.gliding.from_s) if flown.gliding.from_s > 0.0 else "0"
    if flown.sink is None:
        said.append(f"No sink: {seconds} s of the glide can be used, {LEAST_GLIDE_S:.0f} s are needed.")
    else:
        said.append(f"The sink is from {seconds} s of the glide; it lies in that range in about 95 of 100 cases.")
    said += air_told(flown)
    if abs(flown.landed_m) > 2.0:
        where = "above" if flown.landed_m > 0.0 else "below"
        said.append(f"It came down {system.rounded(abs(flown.landed_m), 'height')} {where} where it started.")
    if flown.false_m > 0.0:
        false = system.rounded(flown.false_m, "height")
        said.append(f"A peak of {false} at the launch is left aside: air blown on the sensor feigns it.")
    return said
