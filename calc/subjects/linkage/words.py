"""What is said of the linkage."""

from calc import digits
from calc.subjects.linkage.answer import LinkageBlock, holds
from calc.unit_system import UnitSystem


def linkage_sentence(block: LinkageBlock, system: UnitSystem) -> str:
    """Return how the linkage holds, and the lightest usual choice that would."""
    said = []
    if block.held is not None:
        what = "rod buckles" if block.kind == "rod" else "lines break"
        name = "push rod" if block.kind == "rod" else "pair of lines"
        said.append(
            f"The {name} weighs {system.mass(block.held.mass_kg)}; the {what} at "
            f"{digits.times(block.held.factor)} times the load, and stretch loses {digits.lost(block.held.lost_deg)}: "
            f"by our rule (twice the load, at most 2° lost) it {'holds' if holds(block.held) else 'does not hold'}."
        )
    best = block.lightest
    if best is not None:
        said.append(f"Lightest usual choice that holds: {best.name}, {system.mass(best.held.mass_kg)}.")
    else:
        said.append("None of the usual choices holds: shorten the free length, or use a longer horn.")
    return " ".join(said)
