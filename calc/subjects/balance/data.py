"""What the JSON tells of the balance."""

from typing import Any

from calc.plain import rounded
from calc.subjects.balance.answer import BalanceBlock


def data(block: BalanceBlock) -> dict[str, Any]:
    """Return the JSON of the balance."""
    answer: dict[str, Any] = {
        "cg_mm": rounded(block.cg_m, 1e3),
        "cg_without_rubber_mm": rounded(block.cg_without_rubber_m, 1e3),
        "off_mm": rounded(block.off_m, 1e3),
        "moves": [{"row": move.path, "to_mm": rounded(move.to_m, 1e3)} for move in block.moves],
    }
    if block.ballast is not None:
        answer[f"{block.ballast.end}_ballast_g"] = rounded(block.ballast.mass_kg, 1e3)
    return answer
