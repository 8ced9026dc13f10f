"""How the numbers of the subject motor come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.motor import sums
from calc.subjects.motor.answer import MotorBlock
from site_src.app.sums import Working, num, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the motor."""
    block = found.of(MotorBlock)
    if block is None or budget.motor is None:
        return
    yield working("mass", "motor-mass", "mass of the motor", "ρ S L",
                   f"{num(sums.DENSITY_KG_M3)} kg/m³ × {num(block.section_m2 * 1e6)} × 0.000001 m² × "
                   f"{num(block.length_m)} m × 1000", f"{num(block.mass_kg * 1e3)} g")  # fmt: skip
    braid = budget.motor.braid.value
    less = f" − {num(sums.BRAID)} × {braid}" if braid else ""
    yield working("break", "motor-break", "turns at break", f"K L / √S{' − 0.3536 × braid' if braid else ''}",
                   f"{num(sums.TURNS_K[1])} × {num(block.length_m)} m / √({num(block.section_m2 * 1e6)} × 0.000001) m"
                   f"{less}", num(block.breaks[1]))  # fmt: skip
    yield working("turns", "motor-turns", "turns to wind", "share × turns at break",
                   f"{num(block.share)} × {num(block.breaks[1])}",
                   num(block.turns[1]))  # fmt: skip
