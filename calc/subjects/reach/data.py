"""What the JSON tells of the radio's reach."""

from typing import Any

from calc.plain import rounded
from calc.subjects.reach.answer import ReachBlock


def data(block: ReachBlock) -> dict[str, Any]:
    """Return the JSON of the reach."""
    link, check = block.link, block.check
    told = {} if link is None else {
        "allowed_dB": rounded(link.allowed_db),
        "trees_dB": rounded(link.trees_db),
        "air_m": rounded(link.air_m),
        "ground_m": rounded(link.ground_m),
        "distance_m": rounded(link.distance_m),
        "margin_dB": rounded(link.margin_db),
        "margin_ground_dB": rounded(link.margin_ground_db),
    }  # fmt: skip
    held = {} if check is None else {"check_air_m": rounded(check.air_m), "check_ground_m": rounded(check.ground_m)}
    return {**told, **held}
