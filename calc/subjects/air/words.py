"""What is said of the air."""

from collections.abc import Mapping

from calc import digits
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


def air_sentence(block: AirBlock, system: UnitSystem) -> str:
    """Return what the model does in the air and what the gear costs."""
    lead = f"With {system.mass(block.lead_kg)} of lead it" if block.lead_kg > 0 else "It"
    speed, sink = (system.speed(each) for each in (block.speed_m_s, block.sink_m_s))
    said = f"{lead} flies {speed} and sinks {sink}."
    if block.time_s is None or block.time_without_gear_s is None or block.time_kept is None:
        return said
    about = still_air_about(block)
    kept, without = (digits.figures(each) for each in (block.time_s, block.time_without_gear_s))
    said += f" Still-air time {about}{kept} s; without the gear {about}{without} s."
    said += "" if not about else " These times are good to a factor of two: no flight was timed."
    said += f" {REGIMES[block.regime]}"
    if block.per_gram_s is not None and block.per_gram_s < -0.05:
        name, next_kg = system.next_bit_of_mass()
        takes_s = -block.per_gram_s * next_kg / GRAM_KG
        said += f" The next {name} takes {about}{digits.measured(takes_s)} s."
    return said


def brief(block: AirBlock, system: UnitSystem) -> str:
    """Return in one line the still-air time and what the gear takes of it."""
    if block.time_s is None or block.time_kept is None:
        return f"sinks {system.speed(block.sink_m_s)}"
    about = still_air_about(block)
    return (
        f"{about}{digits.figures(block.time_s)} s in still air; the gear leaves {digits.percent(block.time_kept)} of it"
    )
