"""How the numbers of the subject reach come about."""

from collections.abc import Iterator
from math import pi

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.reach.answer import ReachBlock
from calc.subjects.reach.sums import LIGHT_M_S
from site_src.app.sums import Working, num, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the reach."""
    block, radio = found.of(ReachBlock), budget.radio
    if block is None or radio is None:
        return
    link, check = block.link, block.check
    if link is not None and radio.power is not None and radio.sensitivity is not None:
        terms = (radio.orientation.value, radio.fade.value, link.trees_db, radio.sensitivity.value)
        yield working("allowed", "reach-allowed", "left for the way", "P + G − L_o − L_f − L_t − S",
                       f"{num(radio.power.value)} + {num(radio.antenna.value)}"
                       + "".join(f" − {num(each)}" for each in terms), f"{num(link.allowed_db)}")  # fmt: skip
        wave = num(LIGHT_M_S / radio.frequency.value, 6)
        yield working(
            "air",
            "reach-air",
            "so far in the air",
            "λ / (4 π) × 10^(A / 20)",
            f"{wave} m / (4 × {num(pi, 6)}) × 10^({num(link.allowed_db, 6)} / 20)",
            f"{num(link.air_m)} m",
        )
    if check is not None:
        held = (("air", "in the air", 20, check.air_m), ("ground", "near the ground", 40, check.ground_m))
        for id_, law, by, reached in held:
            yield working(
                f"check-{id_}",
                f"reach-check-{id_}",
                f"range check, {law}",
                f"d × 10^(N / {by})",
                f"{num(check.held_m)} m × 10^({num(check.less_db)} / {by})",
                f"{num(reached)} m",
            )
