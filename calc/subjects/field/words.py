"""What is said of the field."""

from math import degrees

from calc import digits
from calc.subjects.field.answer import Carried, Circle, FieldBlock
from calc.unit_system import UnitSystem

CAUTION = (
    "Gusts, thermals and the lee of trees are not in this. The pilot must see the model all the time; how far and how "
    "high is allowed, local rules say."
)


def sentence(block: FieldBlock, system: UnitSystem) -> str:
    """Return what the wind does with the flight, whether it comes back, and its circle."""
    carried = [] if block.carried is None else [_drift(block.carried, system), _back(block.carried, system)]
    circle = [] if block.circle is None else [_circle(block.circle, system)]
    return " ".join([*carried, *circle, *([CAUTION] if carried else [])])


def _far(meters: float, system: UnitSystem) -> str:
    return system.rounded(meters, "height")


def _drift(found: Carried, system: UnitSystem) -> str:
    if found.wind_m_s == 0.0:
        return "Without wind it does not drift."
    wind, top = system.speed(found.aloft_m_s), _far(found.top_m, system)
    said = f"The wind is about {wind} at {top}. It carries a flight of {digits.figures(found.time_s)} s about "
    said += f"{_far(found.drift_m, system)} downwind"
    if found.longest_m > found.drift_m:
        said += f", the longest ({digits.figures(found.longest_s)} s) {_far(found.longest_m, system)}"
    said += f"; that takes a field of {_far(found.length_m, system)}."
    if found.field_m is None or found.stays_s is None:
        return said
    if found.length_m <= found.field_m:
        return f"{said} The field is long enough."
    return (
        f"{said} After {digits.measured(found.stays_s)} s it is over the end of the field: dethermaliser before that."
    )


def _back(found: Carried, system: UnitSystem) -> str:
    speed, wind = system.speed(found.speed_m_s), system.speed(found.aloft_m_s)
    if not found.back or found.turn_back_m is None:
        return f"It cannot come back: it flies {speed}, the wind there {wind}. The radio only chooses where it lands."
    said = f"It is faster than the wind: from its top it comes {_far(found.upwind_m, system)} back upwind and "
    said += f"{_far(found.across_m, system)} across. From {_far(found.away_m, system)} downwind coming back takes "
    more = "" if found.turn_back_m <= found.top_m else ", more than it has"
    said += f"{_far(found.turn_back_m, system)} of height{more}."
    return said if found.back_in_gusts else f"{said} Against gusts half as strong again it does not."


def _circle(found: Circle, system: UnitSystem) -> str:
    bank = f"{digits.signed(degrees(found.bank_rad), 0)}°"
    return (
        f"A circle of {digits.given(found.seconds)} s has a radius of {_far(found.radius_m, system)} with {bank} of "
        f"bank, and it sinks {system.speed(found.sink_m_s)} in it, unless a flight was timed in such circles."
    )


def brief(block: FieldBlock, system: UnitSystem) -> str:
    """Return in one line how far it drifts and whether it comes back; without a wind its circle."""
    if block.carried is not None:
        back = "faster than the wind" if block.carried.back else "cannot come back against the wind"
        return f"drifts about {_far(block.carried.drift_m, system)}; {back}"
    assert block.circle is not None  # one of the two there is
    return f"circles with a radius of {_far(block.circle.radius_m, system)}"
