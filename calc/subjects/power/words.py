"""What is said of the cells in the session."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from calc import digits, wording
from calc.document.paths import place
from calc.english import counted, listed, the, wrapped
from calc.subject import not_yet
from calc.subjects.power import words as power_words
from calc.subjects.power.answer import Power
from calc.subjects.power.sensitivity import Sensitivity
from calc.subjects.weights import words as weight_words
from calc.unit_system import UnitSystem
from calc.vocabulary import RunEnd

if TYPE_CHECKING:
    from calc.assess import Assessment

ENDS: Mapping[RunEnd, str] = {
    "reserve": "the reserve is reached",
    "cutoff": "the voltage falls to the cut-off",
    "brownout": "the gear browns out while everything works at once",
}


def fails(assessment: "Assessment", system: UnitSystem) -> str:  # noqa: ARG001 - a time is the same in both systems
    """Return what of the run keeps the installation from fitting."""
    power = assessment.power
    assert power is not None  # else it would be open, or not asked
    if power.gives_too_little:
        return "the converter gives the gear too few volts"
    if power.worst.time_s <= 0.0:
        return f"{_at_worst(power.run.time_s > 0.0)}the cell cannot run the gear"
    if power.lasts is False:
        return f"{_at_worst(bool(power.flights_usual))}one cell does not last one flight"
    worst = "" if power.low == power.high else "at worst and "
    return f"{worst}with 10 % less capacity one cell does not last one flight"


def _at_worst(usually: bool) -> str:
    return "at worst " if usually else ""


def runs(power: Power) -> str:
    """Return how long it runs: in the middle, with both ends where they are told apart; or what it is at most."""
    middle, low, high = (digits.duration(each.time_s) for each in (power.run, power.low, power.high))
    if power.at_most:
        return f"at most {middle}"
    return middle if low == high else f"{middle}, at worst {low}, at best {high},"


def runs_short(power: Power) -> str:
    """Return the same in a few words: from the low end to the high one."""
    low, high = (digits.duration(each.time_s) for each in (power.low, power.high))
    if power.at_most or low == high:
        return f"{'at most ' if power.at_most else ''}{digits.duration(power.run.time_s)}"
    return f"{low} to {high}"


def runs_least(power: Power) -> str:
    """Return the run that one can count on, for a place with room for one figure: the low end."""
    return runs_short(power) if power.at_most else digits.duration(power.low.time_s)


def runs_at_worst(power: Power) -> str:
    """Return the low end of the run, and that it is that; or what the run is at most."""
    ends = {digits.duration(each.time_s) for each in (power.low, power.high)}
    return runs_least(power) if power.at_most or len(ends) == 1 else f"at worst {runs_least(power)}"


def cell_today(power: Power) -> str:
    """Return what the cells give and resist today."""
    ends, one = power.ends, power.ends.middle.source
    shares = _range(*(f"{digits.measured(each.share * one.capacity_c / 3.6)} mAh" for each in (ends.low, ends.high)))
    ohms = _range(*(digits.resistance(each.source.resistance_ohm) for each in (ends.high, ends.low)))
    return f"{shares}, {ohms}"


def _range(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def power_sentence(power: Power, names: Mapping[str, str]) -> str:
    """Return the run time and what it is enough for; `names` says what the rows are called, by path."""
    if power.gives_too_little and power.load.supply is not None:
        gives, needs = digits.given(power.load.supply.volts), digits.given(power.load.min_volts or 0.0)
        return f"The converter gives {gives} V, but the gear needs {needs} V: it never runs."
    if power.run.time_s <= 0:
        return f"This cell cannot run the gear: when full already {ENDS[power.run.ends_by]}."
    if power.worst.time_s <= 0:
        said = f"At worst this cell cannot run the gear: when full already {ENDS[power.worst.ends_by]}."
        said += f" It may run {digits.duration(power.run.time_s)}, at best {digits.duration(power.high.time_s)}."
        return said + _guessed_draws(power, names)
    told = runs(power)
    said = f"The cell runs {told}{'' if told.endswith(',') else ','} until {ENDS[power.worst.ends_by]}"
    said += f"{_not_told(power, names)}{_enough_for(power)}"
    return said + _guessed_draws(power, names) + learned_sentence(power)


def learned_sentence(power: Power) -> str:
    """Return what the charges put back taught, with a blank before it; empty where there were none."""
    taught, before = power.learned, power.before
    if taught is None or before is None:
        return ""
    said = ""
    if taught.odd:
        rows = listed([f"session {row + 1}" for row in taught.odd])
        said += f" In the cell log look again at {rows}: next to nothing drawn, or more than the cell holds. "
        said += "That does not make the run longer."
    if taught.draw is not None:
        drawn, wide = taught.draw.value, 2.0 * taught.draw.u * taught.draw.value
        said += (
            f" After {counted(taught.draws, 'session')}: {digits.current(drawn)} ± {digits.current(wide)} in the mean"
        )
        said += f" instead of {digits.current(before.load.mean_a)}"
        if power.flights is not None and before.flights is not None:
            said += f"; at worst {counted(power.flights, 'flight')} instead of {before.flights}"
        said += "."
    if taught.capacity is not None:
        wide = 2.0 * taught.capacity.u * taught.capacity.value
        said += f" The cell holds {digits.charge(taught.capacity.value)} ± {digits.charge(wide)}, as "
        said += f"{counted(taught.capacities, 'rest')} after a session {'tells' if taught.capacities == 1 else 'tell'}."
    return said


def _enough_for(power: Power) -> str:
    """Return what the run is enough for, with the full stop of the sentence before."""
    if power.flights is None or power.plan is None:
        return "."
    each, most = digits.duration(power.plan.on_s), "at most " if power.at_most else ""
    usual = power.flights_usual or 0
    if usual == 0:
        return f". That is not one flight of {each}."
    fewest = counted(power.flights, "flight") if power.flights else "not one"
    worst = "" if power.at_most or power.flights == usual else f", at worst {fewest},"
    said = f". That is {most}{counted(usual, 'flight')}{worst} of {each} from one cell"
    if power.plan.pause_equal_s > 0:
        said += ", the radio left on between them"
    if power.cells_needed is None or power.session_flights is None:
        return said + "."
    wanted, least = counted(power.session_flights, "flight"), "at least " if power.at_most else ""
    verb = "takes" if power.session_flights == 1 else "take"
    safe = power.safe_cells
    more = f", {safe} to be safe" if safe is not None and safe > power.cells_needed and not power.at_most else ""
    if worst:
        least = "at worst "
    return f"{said}; {wanted} {verb} {least}{counted(power.cells_needed, 'charged cell')}{more}."


def _rows_of(paths: Iterable[str]) -> list[str]:
    """Return the paths of the rows, each once."""
    return list(dict.fromkeys(place(path).part for path in paths))


def _not_told(power: Power, names: Mapping[str, str]) -> str:
    """Return whose draw nobody has told, at all or at work, with what that means."""
    said = [
        f"what {listed([the(names.get(path, path)) for path in paths])} draw{'s' if len(paths) == 1 else ''}{when}"
        for paths, when in ((_rows_of(power.untold), ""), (power.quiet_only, " at work"))
        if paths
    ]
    if said:
        return f"; it is less, for nobody has said {' and '.join(said)}"
    if not power.too_fast:
        return ""
    return (
        f"; how much less, nobody knows: the draw would empty the cell {digits.measured(power.ends.rate)} times an hour"
    )


def _guessed_draws(power: Power, names: Mapping[str, str]) -> str:
    """Return whose draw is a guess."""
    if not power.guessed:
        return ""
    called = listed([the(names.get(path, path)) for path in power.guessed])
    return f" The draw of {called} is a guess: measure it."


def plan_sentence(power: Power) -> str:
    """Return when to swap the cell, how many to bring, how long to charge; empty where nothing is to be said."""
    plain = not power.at_most  # else every swap would be too late
    said = [f"Swap the cell {_after(power.cell_swaps)}."] if plain and power.cell_swaps else []
    said += [_to_be_safe(power)] if plain and _to_be_safe(power) else []
    if power.bring is not None:
        least = "at least " if power.at_most else ""
        said.append(f"Bring {least}{power.bring}: one of them is the spare.")
    if power.charge_s is not None:
        said.append(
            f"Charging one again takes at least {digits.duration(power.charge_s)}; the end of a charge is slower."
        )
    return " ".join(said)


def _after(cell_swaps: Sequence[int]) -> str:
    return f"after flight{'s' if len(cell_swaps) > 1 else ''} {listed([str(number) for number in cell_swaps])}"


def _to_be_safe(power: Power) -> str:
    """Return when to swap with less capacity than was taken; empty where that changes nothing."""
    if power.session_flights is None or power.safe_flights is None or not power.flights:
        return ""
    worst = "" if power.flights == power.flights_usual and power.low == power.high else "at worst "
    less = f"with 10 % less capacity it runs {worst}{digits.duration(power.safe_s)}"
    if power.safe_flights == 0:
        return f"Too near the edge: {less}, which is not one flight."
    if power.safe_cell_swaps == power.cell_swaps:
        return ""
    swap = "swap it" if power.cell_swaps else "swap the cell"
    return f"To be safe, {swap} {_after(power.safe_cell_swaps)}: {less}."


def sensitivity_sentence(effect: Sensitivity, system: UnitSystem) -> str:
    """Return how far one thing moves the run time, and how far it was moved itself.

    Examples
    --------
    >>> less = Sensitivity(id="capacity", worse_s=1080.0, better_s=1320.0, worse_by=0.1, better_by=0.1)
    >>> sensitivity_sentence(less, UnitSystem.METRIC)
    'capacity 10 % less or more: 18 min to 22 min'
    >>> double = Sensitivity(id="resistance", worse_s=1200.0, better_s=1205.0, worse_by=2.0, better_by=0.5)
    >>> sensitivity_sentence(double, UnitSystem.METRIC)
    'resistance double or half: still 20 min'
    """
    worse, better = digits.duration(effect.worse_s), digits.duration(effect.better_s)
    return f"{_moved(effect, system)}: {f'still {worse}' if worse == better else f'{worse} to {better}'}"


def _moved(effect: Sensitivity, system: UnitSystem) -> str:
    """Return what was changed, and by how much; an end of its range is told."""
    if effect.id == "capacity":
        return "capacity 10 % less or more"
    if effect.id == "resistance":
        return "resistance double or half"
    if effect.id == "busy":
        return f"at work twice{' (at most all the time)' if effect.ended else ''} or half as often"
    colder, warmer = (system.temperature_difference(by) for by in (effect.worse_by, effect.better_by))
    if not effect.ended:
        return f"{colder} colder or warmer"
    end = "coldest" if effect.worse_by < effect.better_by else "warmest"
    return f"{colder} colder or {warmer} warmer (to the {end} that these sums know)"


def lines(assessment: "Assessment", system: UnitSystem) -> Iterator[str]:
    """Yield the lines of the cells in the session."""
    power = assessment.power
    if power is None:
        lacking = "; ".join(wording.field_name(path) for path in assessment.missing.get("power", ()))
        yield from wrapped(f"Run time is not worked out: it needs {lacking}.")
        return
    yield from wrapped(power_words.power_sentence(power, weight_words.names_of(assessment)))
    least, most = (", at least", ", at most") if power.at_most else ("", "")
    yield f"  {f'mean draw{least}':42}{digits.current(power.load.mean_a):>12}"
    yield f"  {f'everything at work at once{least}':42}{digits.current(power.load.peak_a):>12}"
    if power.lowest_v is not None:
        yield f"  {f'lowest voltage{most}':42}{digits.volts(power.lowest_v):>12}"
    if power_words.plan_sentence(power):
        yield from wrapped(power_words.plan_sentence(power))
    if power.run.time_s > 0.0 and not power.at_most:
        yield from wrapped(
            f"Moves the run time most: {power_words.sensitivity_sentence(power.sensitivities[0], system)}."
        )


def brief(assessment: "Assessment", system: UnitSystem) -> str:
    """Return the run in one line: how long, and for how many flights, at worst, too."""
    power = assessment.power
    if power is None:
        return not_yet(assessment, "power", assessment.budget.cell)
    if power.gives_too_little or power.worst.time_s <= 0.0:
        return fails(assessment, system)
    said = f"{runs_short(power)} from one cell"
    if power.flights is None or power.flights_usual is None:
        return said
    most = "at most " if power.at_most else ""
    worst = "" if power.at_most or power.flights == power.flights_usual else f", at worst {power.flights}"
    return f"{said}: {most}{counted(power.flights_usual, 'flight')}{worst}"
