"""The choices as plain data, with the unit in each name."""

from typing import Any

from calc.plain import known, rounded
from calc.savings.find import Saving, Savings
from calc.savings.words import headline, sentence


def as_json(found: Savings) -> dict[str, Any]:
    """Return the list of choices, those that save most first."""
    block = {
        "in_hand_g": rounded(found.in_hand_kg, 1e3),
        "headline": headline(found),
        "savings": [known(_saving(each, found)) for each in found.list],
        "cut": found.cut,
    }
    return {"airframe": known(block)}


def of_airframe(found: Savings) -> dict[str, Any]:
    """Return what stands of the choices in the whole answer, beside the airframe's own figures."""
    return {"savings": [known(_saving(each, found)) for each in found.list], "savings_cut": found.cut}


def _saving(saving: Saving, found: Savings) -> dict[str, Any]:
    return {
        "part": saving.path,
        "name": saving.part,
        "what": saving.choice.name,
        "before": saving.choice.before,
        "after": saving.choice.after,
        "saved_g": rounded(saving.saved_kg, 1e3),
        "in_hand_g": rounded(saving.in_hand_kg, 1e3),
        "still_air_s": rounded(saving.still_air_s),
        "sentence": sentence(saving, found),
    }
