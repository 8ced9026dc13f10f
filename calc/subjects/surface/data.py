"""What the JSON tells of the surface."""

from math import pi
from typing import Any

from calc.plain import rounded
from calc.subjects.surface.answer import SurfaceBlock


def data(block: SurfaceBlock) -> dict[str, Any]:
    """Return the JSON of the surface; its need is a force or a torque."""
    pull, push = (None, None) if block.throw_rad is None else block.throw_rad
    return {
        "moment_mNm": rounded(block.moment_nm, 1e3),
        "moment_low_mNm": rounded(block.least_nm, 1e3),
        "servo_need_N": rounded(block.need.thrust_n),
        "servo_need_mNm": rounded(block.need.torque_nm, 1e3),
        "servo_factor": rounded(block.factor),
        "throw_pull_deg": rounded(pull, 180.0 / pi),
        "throw_push_deg": rounded(push, 180.0 / pi),
        "slack_mm": rounded(block.slack_m, 1e3),
        "full_horn_mm": rounded(block.full_horn_m, 1e3),
        "full_factor": rounded(block.full_factor) if block.enough_throw is False else None,
        "speed_m_s": rounded(block.speed_m_s),
        **_stream(block),
    }


def _stream(block: SurfaceBlock) -> dict[str, float | None]:
    """Return what the propeller's stream does, where it is known."""
    driven = block.stream
    if driven is None:
        return {}
    return {
        "power_W": rounded(driven.power_w),
        "speed_climb_m_s": rounded(driven.climb_m_s),
        "speed_launch_m_s": rounded(driven.launch_m_s),
        "factor_glide": rounded(block.factor_at(driven.flight_m_s)),
        "factor_climb": rounded(block.factor_at(driven.climb_m_s)),
        "factor_launch": rounded(block.factor_at(driven.launch_m_s)),
    }
