"""The changes as plain data, with the unit in each name."""

from typing import Any

from calc.changes.change import Change, Proposal
from calc.changes.edits import as_data
from calc.changes.find import Found
from calc.changes.words import headline, sentence
from calc.plain import known, rounded
from calc.unit_system import UnitSystem

UNITS = {"_kg": ("_g", 1e3), "_m": ("_mm", 1e3), "_a": ("_mA", 1e3), "_s": ("_s", 1.0)}


def as_json(found: Found) -> dict[str, Any]:
    """Return the list of changes: in their order, the first one best."""
    return {
        "needed": found.needed,
        "open": found.now.whole.open,
        "headline": headline(found),
        "list": [_change(each, found.system) for each in found.changes],
        "assessments": found.count,
        "assessments_most": found.most,
        "cut": found.cut,
    }


def _change(change: Change, system: UnitSystem) -> dict[str, Any]:
    governs, answer = change.governs, change.assessment
    data: dict[str, Any] = {
        **_proposal(change.what),
        "fits": change.fits,
        "verdict": answer.whole.verdict,
        "open": answer.whole.open,
        "parts": dict(answer.whole.parts),
        "opens": list(change.opens) or None,
        "in_hand_g": None if governs is None else rounded(governs.in_hand_kg, 1e3),
        "spread_g": None if governs is None else rounded(governs.spread_kg, 1e3),
        "lead_g": rounded(answer.lead_kg, 1e3),
        "measure": rounded(change.what.measure),
        "of": [_proposal(each) for each in change.parts] or None,
        "edits": as_data(change.edits),
        "sentence": sentence(change, system),
    }
    return {key: item for key, item in data.items() if item is not None}


def _proposal(what: Proposal) -> dict[str, Any]:
    """Return what a proposal is: code, place, texts, facts."""
    if what.code == "pair":
        return {"code": what.code, "paths": list(what.facts["paths"])}
    texts = {"code": what.code, "path": what.path, "name": what.name, "before": what.before, "after": what.after}
    return {**texts, "sure": what.sure, "facts": dict(_fact(name, item) for name, item in known(what.facts).items())}


def _fact(name: str, item: Any) -> tuple[str, Any]:
    """Return a fact with its unit in its name.

    Examples
    --------
    >>> _fact("moved_m", -0.014), _fact("part", "small receiver"), _fact("less", 0.05)
    (('moved_mm', -14.0), ('part', 'small receiver'), ('less', 0.05))
    """
    end = f"_{name.rsplit('_', 1)[-1]}"
    if "_" not in name or end not in UNITS or not isinstance(item, float):
        return name, rounded(item) if isinstance(item, float) else item
    unit, scale = UNITS[end]
    return f"{name.removesuffix(end)}{unit}", rounded(item, scale)
