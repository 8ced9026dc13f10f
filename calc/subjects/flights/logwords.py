"""What is said of a flight log, in words and as JSON."""

from collections.abc import Iterator
from math import ceil
from typing import Any

from calc import digits
from calc.english import wrapped
from calc.plain import rounded
from calc.subjects.flights.gliding import LEAST_GLIDE_S
from calc.subjects.flights.logfile import LogFile
from calc.subjects.flights.parts import Flown
from calc.subjects.flights.slope import Slope
from calc.unit_system import UnitSystem

WARM = (
    "The heights are those of the standard atmosphere: 15 degrees warmer or colder makes 5 % of height and sink. "
    "Tell the temperature (--temperature) and they are put right."
)
ONE_FLIGHT = "One flight cannot tell a good glide from rising air: several, early or late in the day, can."


def lines(found: LogFile, system: UnitSystem, *, put_right: bool) -> Iterator[str]:
    """Yield what was read, and the parts of each flight."""
    for sentence in (*found.told, *(() if put_right else (WARM,))):
        yield from wrapped(sentence)
    for number, flown in enumerate(found.flights, 1):
        yield ""
        yield f"Flight {number}"
        yield from _parts(flown, system)
    yield ""
    yield from wrapped(ONE_FLIGHT)


def _parts(flown: Flown, system: UnitSystem) -> Iterator[str]:
    height = system.rounded(flown.height_m, "height", 3)
    begins = "launched" if flown.from_ground else "the record begins in the air"
    yield f"  {_clock(0.0)}  {begins}, {_clock(flown.launch_s, plain=True)} into the record"
    climb_s = flown.top_s - flown.launch_s
    rate = f", {system.speed(flown.height_m / climb_s)} up" if climb_s > 0.0 and flown.from_ground else ""
    yield f"  {_clock(climb_s)}  top, {height} above the ground{rate}"
    lands = "down" if flown.to_ground else "the record ends in the air"
    where = f", {system.rounded(flown.landed_m, 'height')} above where it started" if flown.landed_m > 2.0 else ""
    yield f"  {_clock(flown.down_s - flown.launch_s)}  {lands}{where}"
    if flown.sink is None:
        usable = digits.figures(flown.gliding.from_s)
        yield f"  No sink: {usable} s of the glide can be used, {LEAST_GLIDE_S:.0f} s are needed."
    else:
        yield f"  Sinks {sink_told(flown.sink, system)}, from {digits.figures(flown.gliding.from_s)} s of the glide."
    yield from (f"  {sentence}" for sentence in air_told(flown))
    if flown.false_m > 0.0:
        false = system.rounded(flown.false_m, "height")
        yield f"  A peak of {false} at the launch is left aside: air blown on the sensor feigns it."


def air_told(flown: Flown) -> Iterator[str]:
    """Yield what the air did to the glide."""
    if flown.gliding.all_of_it:
        yield "Strong air may have moved it all the way: what rose counts like what sank."
    elif flown.gliding.moving_s > 0.0:
        yield f"{digits.figures(flown.gliding.moving_s)} s of the glide went through air that moved up or down."


def sink_told(sink: Slope, system: UnitSystem) -> str:
    """Return a sink with the range that holds the truth in about 95 of 100 cases, no finer than that range.

    Examples
    --------
    >>> sink_told(Slope(slope=0.4987, spread=0.012, at_zero=0.0), UnitSystem.METRIC)
    '0.50 ± 0.03 m/s'
    """
    rate, wide = (system.number(each, "speed") for each in (sink.slope, 2.0 * sink.spread))
    places = 1 if wide >= 0.1 else 2
    up = max(1, ceil(wide * 10**places - 1e-9)) / 10**places  # never told narrower than it is
    return f"{digits.signed(rate, places)} ± {digits.signed(up, places)} {system.label('speed')}"


def _clock(seconds: float, *, plain: bool = False) -> str:
    whole = round(seconds)
    told = f"{whole // 60}:{whole % 60:02d}"
    return told if plain else f"{told:>6}"


def as_json(found: LogFile) -> dict[str, Any]:
    """Return a log file's flights as JSON."""
    return {"told": list(found.told), "flights": [_flown(each) for each in found.flights]}


def _flown(flown: Flown) -> dict[str, Any]:
    sink = flown.sink
    told = {
        "launch_s": rounded(flown.launch_s),
        "top_s": rounded(flown.top_s),
        "down_s": rounded(flown.down_s),
        "height_m": rounded(flown.height_m),
        "landed_m": rounded(flown.landed_m),
        "sink_m_s": rounded(None if sink is None else sink.slope),
        "sink_m_s_spread": rounded(None if sink is None else 2.0 * sink.spread),
        "glide_s": rounded(flown.gliding.from_s),
        "moving_s": rounded(flown.gliding.moving_s),
        "all_moving": flown.gliding.all_of_it,
        "false_peak_m": rounded(flown.false_m),
        "from_ground": flown.from_ground,
        "to_ground": flown.to_ground,
    }
    return {key: each for key, each in told.items() if each is not None}
