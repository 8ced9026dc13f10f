"""What is said of the air."""

from collections.abc import Mapping

from calc import digits
from calc.english import listed
from calc.subjects.air.answer import AirBlock
from calc.unit_system import UnitSystem
from calc.vocabulary import Regime

GRAM_KG = 0.001
REGIMES: Mapping[Regime, str] = {
    "free": "The gear costs nothing in a contest: ballast up to the class minimum would take its place.",
    "part": "Part of the gear takes the place of ballast and costs nothing; the rest is paid for.",
    "paid": "Every gram of gear is paid for.",
}


def still_air_about(block: AirBlock) -> str:
    """Return the word before a still-air time that no timed flight stands behind."""
    return "" if (block.efficiency_from or block.conditions.glide_factor_from) == "timed" else "about "


def _timed_first(block: AirBlock) -> str:
    """Return what was given and is not used, since a flight was timed; empty where nothing is."""
    factor, share = block.conditions.aside_glide_factor, block.aside_efficiency
    aside = [] if factor is None else [f"Φ of {digits.given(factor, 2)}"]
    aside += [] if share is None else [f"share of {digits.given(100.0 * share)} % that lifts"]
    return f" The timed flight goes before the {listed(aside)} that you gave." if aside else ""


def _flown(block: AirBlock) -> str:
    """Return from how many flights the sink is; empty where it is not."""
    flown = block.conditions.flown
    count = 0 if flown is None else len(flown.counted)
    return f" That is from {count} flight{'' if count == 1 else 's'}." if count else ""


def _overdrawn(block: AirBlock) -> str:
    """Return that a timed flight needs more than the energy there was; empty where it does not."""
    if block.overdrawn is None:
        return ""
    times = digits.measured(block.overdrawn)
    more = "a little more than" if float(times) <= 1.0 else f"{times} times"
    if block.launch == "rubber":
        return f" The timed flight needs {more} the energy of this rubber: more turns, better rubber, or rising air."
    return f" The timed flight needs {more} the energy that you gave: more energy, or rising air."


def _between(block: AirBlock, why: str = "") -> str:
    """Return the range of the time in brackets, with why there is one; empty where it is timed."""
    assert block.times is not None  # wherever there is a time
    low, high = (digits.figures(each) for each in (block.times.low, block.times.high))
    return "" if low == high else f" ({low} s to {high} s{why})"


def _top(block: AirBlock, system: UnitSystem) -> str:
    """Return the height at the end of the motor run, with its range; empty where it is not known or was told."""
    if block.height_m is None or block.efficiency is None:
        return ""
    found = block.height_m
    low, middle, high = (system.rounded(each, "height") for each in (found.low, found.middle, found.high))
    if found.high <= 0.0:
        return " It is too weak to climb."
    return f" It climbs to {middle}." if low == high else f" It climbs to about {middle} ({low} to {high})."


def air_sentence(block: AirBlock, system: UnitSystem) -> str:
    """Return what the model does in the air and what the gear costs."""
    lead = f"With {system.mass(block.lead_kg)} of lead it" if block.lead_kg > 0 else "It"
    speed, sink = (system.speed(each) for each in (block.speed_m_s, block.sink_m_s))
    said = f"{lead} flies {speed} and sinks {sink}.{_flown(block)}{_timed_first(block)}{_overdrawn(block)}"
    if block.time_s is None or block.time_without_gear_s is None or block.time_kept is None:
        return said
    about = still_air_about(block)
    kept, without = (digits.figures(each) for each in (block.time_s, block.time_without_gear_s))
    said += f" With the gear it keeps {digits.percent(block.time_kept)} of its time."
    flown = block.conditions.flown is not None and block.efficiency_from in ("", "flown")
    between = _between(block, "" if flown else ": no such flight was timed")
    said += f" Still-air time {about}{kept} s{between}; without the gear {about}{without} s."
    said += _top(block, system)
    said += f" {REGIMES[block.regime]}"
    if block.per_gram_s is not None and block.per_gram_s < -0.05:
        name, next_kg = system.next_bit_of_mass()
        takes_s = -block.per_gram_s * next_kg / GRAM_KG
        said += f" The next {name} takes {about}{digits.measured(takes_s)} s."
    return said


def brief(block: AirBlock, system: UnitSystem) -> str:
    """Return in one line what the gear leaves of the still-air time, and that time with its range."""
    if block.time_s is None or block.time_kept is None:
        return f"sinks {system.speed(block.sink_m_s)}"
    time = f"{still_air_about(block)}{digits.figures(block.time_s)} s{_between(block)}"
    return f"keeps {digits.percent(block.time_kept)} of its time, {time} in still air"
