"""What is said of the linkage."""

from calc import digits
from calc.subjects.linkage.answer import LinkageBlock, holds
from calc.subjects.linkage.sums import LinkageStrength
from calc.unit_system import UnitSystem


def linkage_sentence(block: LinkageBlock, system: UnitSystem) -> str:
    """Return how the linkage holds, and the lightest usual choice that would."""
    said = [] if block.strength is None else [_as_described(block, block.strength, system)]
    best = block.lightest
    if best is not None:
        said.append(f"Lightest usual choice that holds: {best.name}, {system.mass(best.strength.mass_kg)}.")
    else:
        said.append("None of the usual choices holds: shorten the free length, or use a longer horn.")
    return " ".join(said)


def _as_described(block: LinkageBlock, found: LinkageStrength, system: UnitSystem) -> str:
    """Return what the linkage that was described weighs and how it holds."""
    what, name = ("rod buckles", "push rod") if block.kind == "rod" else ("lines break", "pair of lines")
    return (
        f"The {name} weighs {system.mass(found.mass_kg)}; the {what} at {digits.times(found.factor)} times the load, "
        f"and stretch loses {digits.lost(found.lost_deg)}: by our rule (twice the load, at most 2° lost) it "
        f"{'holds' if holds(found) else 'does not hold'}."
    )


def brief(block: LinkageBlock, system: UnitSystem) -> str:
    """Return in one line what the linkage weighs and whether it holds, or the lightest choice that would."""
    if block.strength is not None:
        name = "push rod" if block.kind == "rod" else "pair of lines"
        return f"{name}, {system.mass(block.strength.mass_kg)}: {'holds' if holds(block.strength) else 'does not hold'}"
    if block.lightest is None:
        return "none of the usual choices holds"
    return f"lightest that holds: {block.lightest.name}, {system.mass(block.lightest.strength.mass_kg)}"
