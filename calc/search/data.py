"""The finder's answer as plain data, with the unit in each name; what is only a bound says so in its name."""

from collections.abc import Mapping
from typing import Any

from calc.plain import rounded
from calc.search.finder import Answer, WorkingSet
from calc.subjects.limits.allowance import governing
from calc.subjects.power.answer import Power


def as_json(answer: Answer) -> dict[str, Any]:
    """Return the answer as plain data."""
    counts, present = answer.counts, answer.present
    return {
        "sets": {
            "total": counts.total, "works": counts.works, "reasons": dict(counts.reasons),
            "estimated_from": counts.drawn or None,
        },
        "waits": list(answer.task.waits),
        "left_out": [{"name": name, "reason": code} for name, code in answer.task.left_out],
        "not_counted": list(answer.task.not_counted),
        "strength_not_compared": [*answer.task.strength.missing, *answer.task.strength_untold],
        "fits": answer.fitting,
        "present": None if present is None else {"gear_g": _grams(present[0]), **_run(answer.now.power)},
        "best": [_set(found) for found in answer.sets],
        "more": answer.more,
        **({"too_large": answer.too_large} if answer.too_large else {}),
        **({} if answer.all_looked_at else {"room_looks_ran_out": True}),
    }  # fmt: skip


def _set(found: WorkingSet) -> Mapping[str, Any]:
    assessment = found.assessment
    power, governs, surface = assessment.power, governing(assessment.limits_with_lead), assessment.surface
    bound = "_at_most" if found.at_most else ""
    return {
        "gear_g": _grams(found.mass_kg),
        **_run(power),
        "ties": found.ties,
        "parts": [name for _, name in found.parts],
        "twice": list(found.twice),
        f"flights{bound}": None if power is None else power.flights,
        f"lowest{bound}_V": None if power is None else rounded(power.lowest_v),
        "servo_factor": None if surface is None or surface.factor is None else round(surface.factor, 6),
        "in_hand_g": None if governs is None else _grams(governs.in_hand_kg),
        "governs": None if governs is None else governs.id,
        "lead_g": _grams(assessment.lead_kg),
        "verdict": assessment.verdict,
        "fails": list(found.fails),
    }


def _run(power: Power | None) -> Mapping[str, float]:
    """Return a run in the middle and at its low end, or what it is at most."""
    if power is not None and not power.at_most:
        return {"run_min": _minutes(power.run.time_s), "run_low_min": _minutes(power.low.time_s)}
    return {} if power is None else {"run_at_most_min": _minutes(power.run.time_s)}


def _grams(kg: float) -> float:
    return round(kg * 1e3, 6)


def _minutes(seconds: float) -> float:
    return round(seconds / 60.0, 6)
