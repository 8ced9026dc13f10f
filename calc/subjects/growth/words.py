"""What is said of planned and weighed."""

from calc.english import counted, the
from calc.subjects.growth.answer import Growth
from calc.subjects.weights.words import expected
from calc.unit_system import UnitSystem
from calc.wording import lowered


def growth_sentence(block: Growth, system: UnitSystem) -> str:
    """Return how the weighed parts came out beside the plan, and what is still a guess."""
    said = [_came_out(block, system)] if block.rows else []
    if block.guesses:
        told = [f"{guess.name}, {expected(guess.mass, system)}" for guess in block.guesses[:MOST_TOLD]]
        more = len(block.guesses) - len(told)
        said.append(f"Still a guess: {'; '.join(told)}{f'; and {more} more' if more else ''}.")
    return " ".join(said)


MOST_TOLD = 3  # guesses named in the sentence


def _came_out(block: Growth, system: UnitSystem) -> str:
    """Return the change of all together, and the part that has most to do with it; `block.rows` is not empty."""
    change = system.mass(abs(block.change_kg))
    what = block.rows[0].name if len(block.rows) == 1 else "weighed parts"
    if abs(block.change_kg) < SEEN_KG:
        return f"The {what} came out as planned{' together' if len(block.rows) > 1 else ''}."
    grown = block.change_kg > 0
    said = f"The {what} came out {change} {'over' if grown else 'under'} the plan"
    if len(block.rows) == 1:
        return f"{said}."
    most = (max if grown else min)(block.rows, key=lambda row: row.change_kg)
    verb = "grew" if grown else "shrank"
    return f"{said}; {the(most.name)} {verb} most, by {system.mass(abs(most.change_kg))}."


SEEN_KG = 5e-7  # half a milligram; less is not shown


def brief(block: Growth, system: UnitSystem) -> str:
    """Return in one line how the weighed parts came out, or how many are to be weighed."""
    if block.rows:
        return lowered(_came_out(block, system).split(";")[0].rstrip("."))
    return f"{counted(len(block.guesses), 'guess', 'guesses')} to be weighed"
