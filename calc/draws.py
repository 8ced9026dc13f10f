"""What each kind of gear usually draws, and which rows draw a current that nobody has told.

A consumer without a draw must not count as one that draws nothing: its run time is then only an upper bound.

Sources: the usual draws are common practice, no source: a placeholder until the part is on the meter.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.parts import BoxPart, GearRow


@dataclass(frozen=True, kw_only=True)
class UsualDraw:
    """What a kind of gear usually draws, as texts for a row: quiet, at work, share of the time at work."""

    draw: str
    busy_draw: str = ""
    busy: str = ""


USUAL: Mapping[str, UsualDraw] = {
    "receiver": UsualDraw(draw="30 mA"),
    "servo": UsualDraw(draw="6 mA", busy_draw="180 mA", busy="10 %"),
    "coil actuator": UsualDraw(draw="0 mA", busy_draw="80 mA", busy="15 %"),
    "altimeter": UsualDraw(draw="5 mA"),
    "tracker": UsualDraw(draw="45 mA"),
}
CONSUMERS = tuple(USUAL)


def draw_untold(part: GearRow | BoxPart) -> bool:
    """Return whether a part of a kind that draws a current has none given, so that it would count as 0 mA.

    A part that is always at work (100 %) needs no quiet draw.

    Examples
    --------
    >>> from calc.budget import read
    >>> rows = [{"kind": "servo"}, {"kind": "servo", "draw": "0 mA"}, {"kind": "mount"}]
    >>> [draw_untold(row) for row in read({"gear": rows}).budget.gear]
    [True, False, False]
    """
    if part.kind.value not in CONSUMERS or part.draw is not None:
        return False
    return part.busy_draw is None or part.busy is None or part.busy.value < 1.0
