"""A flight out of a log file as a row of the log of flights: texts as a person would type them."""

from collections.abc import Mapping, Sequence
from math import ceil
from typing import Any

from calc import digits
from calc.subjects.flights.parts import Flown
from calc.subjects.flights.slope import Slope
from calc.unit_system import UnitSystem

LEAST_M_S, MOST_M_S = 0.02, 10.0  # a sink that the entries take
NO_SINK = "It shows no sink that a model can have, so that height and time count, as by a watch."
UNSURE = "The air moved so much that its sink is known to no better than itself."


def row(flown: Flown, date: str, temperature: str, system: UnitSystem) -> tuple[dict[str, str], tuple[str, ...]]:
    """Return a row of the log of flights, and what is to be said of it.

    A time that the record does not hold is left out. The motor run is that from launch to top, the glide that from
    there to the ground, so that both are the whole time.
    """
    borders, found = flown.borders, {"date": date}
    found["height"] = f"{digits.signed(system.number(flown.height_m, 'height'), 1)} {system.label('height')}"
    if flown.from_ground:
        found["motor_run"] = f"{borders.top_s - borders.launch_s:.1f} s"
    if flown.to_ground:
        found["glide"] = f"{borders.down_s - borders.top_s:.1f} s"
    sink, told = _sink(flown.sink, system)
    return {key: text for key, text in {**found, **sink, "temperature": temperature}.items() if text}, told


def _sink(sink: Slope | None, system: UnitSystem) -> tuple[dict[str, str], tuple[str, ...]]:
    """Return sink and spread as typed, the spread rounded up and at most as large as the sink."""
    if sink is None or not LEAST_M_S <= sink.slope <= MOST_M_S:
        return {}, (NO_SINK,)
    number, wide = (system.number(each, "speed") for each in (sink.slope, 2.0 * sink.spread))
    label = system.label("speed")
    typed, up = round(number, 3), ceil(wide * 1000.0 - 1e-9) / 1000.0
    told = (UNSURE,) if up >= typed else ()
    return {"sink": f"{typed:.3f} {label}", "sink_spread": f"{min(up, typed):.3f} {label}"}, told


def with_row(document: Mapping[str, Any], found: Mapping[str, str]) -> dict[str, Any]:
    """Return a document with a row after its flights; what stands in their place and is no list gives way.

    Examples
    --------
    >>> with_row({"name": "Wren", "flights": [{"glide": "80 s"}]}, {"glide": "95.0 s"})
    {'name': 'Wren', 'flights': [{'glide': '80 s'}, {'glide': '95.0 s'}]}
    """
    before = document.get("flights")
    listed = list(before) if isinstance(before, Sequence) and not isinstance(before, str) else []
    return {**document, "flights": [*listed, dict(found)]}
