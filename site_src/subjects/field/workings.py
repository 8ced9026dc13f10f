"""How the numbers of the subject field come about."""

from collections.abc import Iterator
from math import cos, pi

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.field.answer import Carried, Circle, FieldBlock
from site_src.app.sums import Working, num, working


def workings(_: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the field."""
    block = found.of(FieldBlock)
    if block is None:
        return
    if block.carried is not None:
        yield from _carried(block.carried, 0.0 if block.circle is None else block.circle.radius_m)
    if block.circle is not None:
        yield from _circle(block.circle)


def _carried(found: Carried, radius_m: float) -> Iterator[Working]:
    mean = f"{num(found.mean_m_s)} m/s"
    yield working("drift", "field-drift", "drift of the usual flight", "mean wind × time",
                   f"{mean} × {num(found.time_s)} s", f"{num(found.drift_m)} m")  # fmt: skip
    yield working("length", "field-length", "field it takes", "mean wind × longest time + 2 R",
                   f"{mean} × {num(found.longest_s)} s + 2 × {num(radius_m)} m",
                   f"{num(found.length_m)} m")  # fmt: skip
    if found.turn_back_m is not None:
        over = f"({num(found.speed_m_s, 6)} m/s − {num(found.aloft_m_s, 6)} m/s)"
        yield working("turn-back", "field-turn-back", "turn back by", "w x / (V − W)",
                       f"{num(found.sink_m_s)} m/s × {num(found.away_m)} m / {over}",
                       f"{num(found.turn_back_m)} m")  # fmt: skip


def _circle(found: Circle) -> Iterator[Working]:
    straight = found.speed_m_s * cos(found.bank_rad) ** 0.5
    yield working("circle", "field-circle", "radius of the circle", "V_c T / (2 π)",
                   f"{num(found.speed_m_s)} m/s × {num(found.seconds)} s / (2 × {num(pi)})", f"{num(found.radius_m)} m",
                   remark=f"Straight it flies {num(straight)} m/s.")  # fmt: skip
