"""What is said of the balance."""

from typing import TYPE_CHECKING

from calc.subjects.balance.answer import BalanceBlock
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment


def fails(assessment: "Assessment", system: UnitSystem) -> str:
    """Return what of the balance keeps the installation from fitting."""
    block = assessment.balance
    assert block is not None  # else it would be open, or not asked
    assert block.off_m is not None
    return f"it is {system.length(abs(block.off_m))} {'tail' if block.off_m > 0 else 'nose'}-heavy"


BY_PARTS = " That takes the airframe’s own balance point from its parts, as planned: measure it once it is built."


def balance_sentence(block: BalanceBlock, system: UnitSystem) -> str:
    """Return where it balances, what puts it right, and that the airframe's point is not measured where it is not."""
    return f"{_balances(block, system)}{BY_PARTS if block.by_parts else ''}"


def _balances(block: BalanceBlock, system: UnitSystem) -> str:
    at = system.length(block.cg_m)
    if block.target_m is None or block.off_m is None:
        return f"It balances at {at}."
    wanted = system.station(block.target_m)
    if block.balanced:
        return f"It balances at {at}, as near to the wanted {wanted} as a fingertip feels."
    heavy = "behind the wanted" if block.off_m > 0 else "ahead of the wanted"
    kind = "tail-heavy" if block.off_m > 0 else "nose-heavy"
    said = f"It balances at {at}, {system.length(abs(block.off_m))} {heavy} {wanted}: {kind}."
    if block.ballast is None:
        end = "nose" if block.off_m > 0 else "tail"
        return f"{said} To work out lead, give a station for it at the {end}, beyond the wanted point."
    lead = system.mass(block.ballast.mass_kg)
    return f"{said} {lead} of lead at the {block.ballast.end} puts it right."


def brief(block: BalanceBlock, system: UnitSystem) -> str:
    """Return in one line where it balances, and the lead that puts it right."""
    at = f"balances{' by the airframe’s parts' if block.by_parts else ''} at {system.length(block.cg_m)}"
    if block.target_m is None or block.off_m is None:
        return at
    if block.balanced:
        return f"{at}, as wanted"
    wanted = f"{at}, wanted {system.station(block.target_m)}"
    if block.ballast is None:
        return f"{wanted}: {'tail' if block.off_m > 0 else 'nose'}-heavy"
    return f"{wanted}: {system.mass(block.ballast.mass_kg)} of lead at the {block.ballast.end}"
