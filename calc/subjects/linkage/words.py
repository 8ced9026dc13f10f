"""What is said of the linkage."""

from calc import digits
from calc.subjects.linkage.answer import LinkageBlock, holds


def linkage_sentence(block: LinkageBlock, system: str = "metric") -> str:
    """Return how the linkage holds, and the lightest usual choice that would."""
    said = []
    if block.held is not None:
        what = "rod buckles" if block.kind == "rod" else "lines break"
        name = "push rod" if block.kind == "rod" else "pair of lines"
        said.append(
            f"The {name} weighs {digits.mass(block.held.mass_kg, system)}; the {what} at "
            f"{digits.times(block.held.factor)} times the load, and stretch loses {digits.lost(block.held.lost_deg)}: "
            f"by our rule (twice the load, at most 2° lost) it {'holds' if holds(block.held) else 'does not hold'}."
        )
    best = block.lightest
    if best is not None:
        said.append(f"Lightest usual choice that holds: {best.name}, {digits.mass(best.held.mass_kg, system)}.")
    else:
        said.append("None of the usual choices holds: shorten the free length, or use a longer horn.")
    return " ".join(said)


def brief(block: LinkageBlock, system: str) -> str:
    """Return in one line what the linkage weighs and whether it holds, or the lightest choice that would."""
    if block.held is not None:
        name = "push rod" if block.kind == "rod" else "pair of lines"
        return f"{name}, {digits.mass(block.held.mass_kg, system)}: {'holds' if holds(block.held) else 'does not hold'}"
    if block.lightest is None:
        return "none of the usual choices holds"
    return f"lightest that holds: {block.lightest.name}, {digits.mass(block.lightest.held.mass_kg, system)}"
