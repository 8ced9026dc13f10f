"""The assessment as plain data, with the unit in each name: what `python -m calc FILE --json` prints.

Other programs rely on these keys. Figures are rounded to a millionth of their unit, so that every Python prints the
same text.
"""

from collections.abc import Iterable
from math import isfinite, pi
from typing import Any

from calc.assess import Assessment
from calc.compare.changes import Swap
from calc.compare.sides import Comparison, Row
from calc.document.budget import Budget
from calc.subjects.air.answer import AirBlock
from calc.subjects.balance.answer import BalanceBlock
from calc.subjects.growth.answer import Growth
from calc.subjects.limits.allowance import Limit
from calc.subjects.power.answer import Power, Sway
from calc.subjects.surface.answer import LinkageBlock, SurfaceBlock
from calc.subjects.weights.answer import ClassMass
from calc.subjects.weights.masses import Total


def _rounded(value: float | None, scale: float = 1.0, places: int = 6) -> float | None:
    return None if value is None else round(value * scale, places)


def as_json(assessment: Assessment, budget: Budget) -> dict[str, Any]:
    """Return the assessment of a budget as plain data; what could not be worked out is not in it."""
    answer: dict[str, Any] = {
        "verdict": assessment.verdict,
        "governs": None if assessment.governs is None else assessment.governs.id,
        "gear": _gear_json(assessment.gear),
        "model": {
            "flying_g": _rounded(assessment.model.flying_kg, 1e3),
            "with_rubber_g": _rounded(assessment.model.with_rubber_kg, 1e3),
            "share": _rounded(assessment.model.share),
            "lead_g": None if assessment.model.flying_kg is None else _rounded(assessment.model.lead_kg, 1e3),
            "ballast_g": None if assessment.model.flying_kg is None else _rounded(assessment.model.ballast_kg, 1e3),
            "all_up_g": _rounded(assessment.model.all_up_kg, 1e3),
        },
        "whole": {"verdict": assessment.whole.verdict, "open": assessment.whole.open, **assessment.whole.parts},
        "limits": _limits_json(assessment.limits, assessment, "limits"),
        "chance": _chance_json(assessment),
        "class": _class_json(assessment.class_),
        "uncounted": list(assessment.uncounted),
        "missing": {block: list(paths) for block, paths in assessment.missing.items()},
        "notices": [notice.code for notice in assessment.notices],
        **_blocks(assessment, budget),
    }
    if assessment.lead_kg > 0.0:
        answer["verdict_before_lead"] = assessment.verdict_before_lead
        answer["limits_with_lead"] = _limits_json(assessment.limits_with_lead, assessment, "with_lead")
    return {key: _known(value) for key, value in answer.items() if value is not None}


def _known(value: Any) -> Any:
    """Return a block without what is not known; `cells_needed` alone says null."""
    if not isinstance(value, dict):
        return value
    return {key: item for key, item in value.items() if item is not None or key.startswith("cells_needed")}


def _blocks(assessment: Assessment, budget: Budget) -> dict[str, Any]:
    """Return the blocks that could be worked out."""
    actuator = "" if budget.surface is None else budget.surface.actuator.value
    found: dict[str, Any] = {}
    if assessment.growth is not None:
        found["growth"] = _growth_json(assessment.growth)
    if assessment.power is not None:
        found["power"] = _power_json(assessment.power)
    if assessment.balance is not None:
        found["balance"] = _balance_json(assessment.balance)
    if assessment.surface is not None:
        found["surface"] = _surface_json(assessment.surface, actuator)
    if assessment.linkage is not None:
        found["linkage"] = _linkage_json(assessment.linkage)
    if assessment.air is not None:
        found["air"] = _air_json(assessment.air)
    return found


def _class_json(found: ClassMass) -> dict[str, Any]:
    return {
        "id": found.id,
        "minimum_g": _rounded(found.minimum_kg, 1e3),
        "maximum_g": _rounded(found.maximum_kg, 1e3),
        "short_g": _rounded(found.short_kg, 1e3),
        "free_g": _rounded(found.free_kg, 1e3),
    }


def _gear_json(total: Total) -> dict[str, Any]:
    return {
        "nominal_g": _rounded(total.nominal_kg, 1e3),
        "expected_g": _rounded(total.expected_kg, 1e3),
        "spread_g": _rounded(total.spread_kg, 1e3),
    }


def _growth_json(block: Growth) -> dict[str, Any]:
    rows = [
        {
            "row": row.path,
            "name": row.name,
            "planned_g": _rounded(row.planned_kg, 1e3),
            "weighed_g": _rounded(row.weighed_kg, 1e3),
            "change_g": _rounded(row.change_kg, 1e3),
        }
        for row in block.rows
    ]
    guesses = [{"row": guess.path, "name": guess.name, **_gear_json(guess.mass)} for guess in block.guesses]
    return {
        "rows": rows,
        "planned_g": _rounded(block.planned_kg, 1e3),
        "now_g": _rounded(block.now_kg, 1e3),
        "change_g": _rounded(block.change_kg, 1e3),
        "guesses": guesses,
    }


def _limits_json(limits: Iterable[Limit], assessment: Assessment, which: str) -> list[dict[str, Any]]:
    chances = {} if assessment.chance is None else getattr(assessment.chance, which)
    return [{**_limit_json(limit), "chance": _rounded(chances.get(limit.id))} for limit in limits]


def _limit_json(limit: Limit) -> dict[str, Any]:
    return {
        "id": limit.id,
        "allows_g": _rounded(limit.allows_kg, 1e3),
        "in_hand_g": _rounded(limit.in_hand_kg, 1e3),
        "spread_g": _rounded(limit.spread_kg, 1e3),
        "verdict": limit.verdict,
    }


def _chance_json(assessment: Assessment) -> dict[str, Any] | None:
    found = assessment.chance
    if found is None:
        return None
    settle = None if found.settle is None else found.settle.path
    return {"all": _rounded(found.all), "settle": settle}


def _power_json(power: Power) -> dict[str, Any]:
    """Return the power block; where a draw is not told, the run and what rests on it have names of their own."""
    run, flights, cells = ("run_min", "flights", "cells_needed")
    if power.at_most:
        run, flights, cells = ("run_at_most_min", "flights_at_most", "cells_needed_at_least")
    answer: dict[str, Any] = {
        "mean_mA" if not power.at_most else "mean_at_least_mA": _rounded(power.load.mean_a, 1e3),
        "peak_mA" if not power.at_most else "peak_at_least_mA": _rounded(power.load.peak_a, 1e3),
        run: _rounded(power.run.time_s, 1 / 60),
        "ends_by": power.run.ends_by,
        "lowest_V" if not power.at_most else "lowest_at_most_V": _rounded(power.run.lowest_v),
        "sways": [_sway_json(sway) for sway in power.sways] if not power.at_most else None,
        "draw_untold": list(power.untold) or None,
        "draw_guessed": list(power.guessed) or None,
    }
    if power.flights is not None:
        answer[flights] = power.flights
        answer["flights_safe"] = None if power.at_most else power.safe_flights
        if power.session_flights is not None:
            answer[cells] = power.cells_needed  # null: one cell does not give one flight
            answer |= {} if power.at_most else {"swap_after": list(power.swaps), "swap_safe": list(power.safe_swaps)}
            answer["bring"] = power.bring if not power.at_most else None
    if power.charge_s is not None:
        answer["charge_min"] = _rounded(power.charge_s, 1 / 60)
    return answer


def _sway_json(sway: Sway) -> dict[str, Any]:
    return {
        "id": sway.id,
        "worse_min": _rounded(sway.worse_s, 1 / 60),
        "better_min": _rounded(sway.better_s, 1 / 60),
        "worse_by": _rounded(sway.worse_by),
        "better_by": _rounded(sway.better_by),
    }


def _balance_json(block: BalanceBlock) -> dict[str, Any]:
    answer: dict[str, Any] = {
        "cg_mm": _rounded(block.cg_m, 1e3),
        "cg_without_rubber_mm": _rounded(block.cg_without_rubber_m, 1e3),
        "off_mm": _rounded(block.off_m, 1e3),
        "moves": [{"row": move.path, "to_mm": _rounded(move.to_m, 1e3)} for move in block.moves],
    }
    if block.ballast is not None:
        answer[f"{block.ballast.end}_ballast_g"] = _rounded(block.ballast.mass_kg, 1e3)
    return answer


def _surface_json(block: SurfaceBlock, actuator: str) -> dict[str, Any]:
    need = "servo_need_N" if actuator == "linear servo" else "servo_need_mNm"
    pull, push = (None, None) if block.throw_rad is None else block.throw_rad
    return {
        "moment_mNm": _rounded(block.moment_nm, 1e3),
        need: _rounded(block.need, 1.0 if actuator == "linear servo" else 1e3),
        "servo_factor": _rounded(block.factor),
        "throw_pull_deg": _rounded(pull, 180.0 / pi),
        "throw_push_deg": _rounded(push, 180.0 / pi),
        "slack_mm": _rounded(block.slack_m, 1e3),
        "full_horn_mm": _rounded(block.full_horn_m, 1e3),
        "full_factor": _rounded(block.full_factor) if block.enough_throw is False else None,
        "speed_m_s": _rounded(block.speed_m_s),
    }


def _linkage_json(block: LinkageBlock) -> dict[str, Any]:
    answer: dict[str, Any] = {"force_N": _rounded(block.force_n)}
    if block.held is not None:
        factor = "buckling_factor" if block.kind == "rod" else "strength_factor"
        answer["mass_g"] = _rounded(block.held.mass_kg, 1e3)
        answer[factor] = _finite(block.held.factor)
        answer["lost_deg"] = _rounded(block.held.lost_deg)
    answer["lightest"] = None if block.lightest is None else block.lightest.name
    return answer


def _finite(value: float) -> float | None:
    return _rounded(value) if isfinite(value) else None


def _air_json(block: AirBlock) -> dict[str, Any]:
    return {
        "density_kg_m3": _rounded(block.conditions.density_kg_m3),
        "loading_g_dm2": _rounded(block.loading_kg_m2, 10.0),
        "speed_m_s": _rounded(block.speed_m_s),
        "sink_m_s": _rounded(block.sink_m_s),
        "glide_factor": _rounded(block.conditions.glide_factor),
        "efficiency": _rounded(block.efficiency),
        "time_s": _rounded(block.time_s),
        "time_without_gear_s": _rounded(block.time_without_gear_s),
        "time_kept": _rounded(block.time_kept),
        "per_gram_s": _rounded(block.per_gram_s),
    }


UNITS = {  # how a figure's keys end, and its unit over SI's; a ratio, a count and a plain number need none
    "mass": ("_g", 1e3), "run": ("_min", 1 / 60), "time": ("_s", 1.0), "current": ("_mA", 1e3), "voltage": ("_V", 1.0),
    "length": ("_mm", 1e3), "angle": ("_deg", 180.0 / pi), "loading": ("_g_dm2", 10.0), "speed": ("_m_s", 1.0),
}  # fmt: skip


def compared_json(found: Comparison) -> dict[str, Any]:
    """Return a comparison as plain data; what is not known of both budgets is not in it."""
    return {
        "before": {"name": found.names[0], "verdict": found.before.verdict},
        "after": {"name": found.names[1], "verdict": found.after.verdict},
        "rows": [_row_json(row) for row in found.rows],
        "swaps": [_swap_json(swap) for swap in found.swaps],
        "differences": [{"field": each.path, "before": each.before, "after": each.after} for each in found.differences],
    }


def _row_json(row: Row) -> dict[str, Any]:
    unit, scale = UNITS.get(row.dimension, ("", 1.0))
    answer: dict[str, Any] = {"id": row.id, "label": row.label}
    for key in ("before", "after", "change"):
        number = getattr(row, key)
        answer[f"{key}{unit}"] = number if isinstance(number, str) else _rounded(number, scale)
    answer["judged"] = row.judged
    for key, bound in zip(("before_is", "after_is"), row.bounds, strict=True):
        answer[key] = bound or None
    return {key: item for key, item in answer.items() if item is not None}


def _swap_json(swap: Swap) -> dict[str, Any]:
    answer = {
        "row": swap.path,
        "act": swap.act,
        "before": swap.before,
        "after": swap.after,
        "fields": list(swap.fields),
        "mass_g": _rounded(swap.mass_kg, 1e3),
        "run_min": _rounded(swap.run_s, 1 / 60),
        "still_air_s": _rounded(swap.still_air_s),
    }
    return {key: item for key, item in answer.items() if item is not None}
