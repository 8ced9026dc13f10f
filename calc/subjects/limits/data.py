"""What the JSON tells of the limits."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from calc.plain import rounded
from calc.subjects.limits.allowance import Limit
from calc.subjects.weights.answer import ClassMass

if TYPE_CHECKING:
    from calc.assess import Assessment


def class_data(found: ClassMass) -> dict[str, Any]:
    """Return the JSON of the class."""
    return {
        "id": found.id,
        "minimum_g": rounded(found.minimum_kg, 1e3),
        "maximum_g": rounded(found.maximum_kg, 1e3),
        "short_g": rounded(found.short_kg, 1e3),
        "free_g": rounded(found.free_kg, 1e3),
    }


def limits_data(limits: Iterable[Limit], assessment: "Assessment", which: str) -> list[dict[str, Any]]:
    """Return the JSON of limits, each with its chance; `which` is a name of `ChanceBlock`."""
    chances = {} if assessment.chance is None else getattr(assessment.chance, which)
    return [{**_limit_json(limit), "chance": chance_rounded(chances.get(limit.id))} for limit in limits]


def _limit_json(limit: Limit) -> dict[str, Any]:
    return {
        "id": limit.id,
        "allows_g": rounded(limit.allows_kg, 1e3),
        "in_hand_g": rounded(limit.in_hand_kg, 1e3),
        "spread_g": rounded(limit.spread_kg, 1e3),
        "verdict": limit.verdict,
    }


def chance_data(assessment: "Assessment") -> dict[str, Any] | None:
    """Return the JSON of how sure it is."""
    found = assessment.chance
    if found is None:
        return None
    settle = None if found.settle is None else found.settle.path
    return {"all": chance_rounded(found.all), "settle": settle}


def chance_rounded(chance: float | None) -> float | None:
    """Return a chance to six places; 1 and 0 are kept for what is so in every case that was given.

    Examples
    --------
    >>> chance_rounded(0.99999999), chance_rounded(1.0), chance_rounded(1e-9)
    (0.999999, 1.0, 1e-06)
    """
    if chance is None or chance in (0.0, 1.0):
        return chance
    return min(max(round(chance, 6), 1e-6), 1.0 - 1e-6)
