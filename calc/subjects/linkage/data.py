"""What the JSON tells of the linkage."""

from typing import Any

from calc.plain import finite, rounded
from calc.subjects.linkage.answer import LinkageBlock


def data(block: LinkageBlock) -> dict[str, Any]:
    """Return the JSON of the linkage."""
    answer: dict[str, Any] = {"force_N": rounded(block.force_n)}
    if block.strength is not None:
        factor = "buckling_factor" if block.kind == "rod" else "strength_factor"
        answer["mass_g"] = rounded(block.strength.mass_kg, 1e3)
        answer[factor] = finite(block.strength.factor)
        answer["lost_deg"] = rounded(block.strength.lost_deg)
    answer["lightest"] = None if block.lightest is None else block.lightest.name
    return answer
