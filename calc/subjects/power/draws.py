"""What each kind of gear usually draws, and which rows draw a current that nobody has told.

A consumer without a draw must not count as one that draws nothing: its run time is then only an upper bound.

Sources: the usual draws are common practice, no source: a placeholder until the part is on the meter.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.document.blocks import BoxPart
from calc.document.entries import GearRow


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


def untold(part: GearRow | BoxPart) -> str:
    """Return which draw of a part nobody has told: `draw`, `busy_draw`, or "" where none is missing.

    Kinds that draw a current need one; a part that is always at work (100 %) needs no quiet draw, and one that is at
    work for a share of the time needs the draw at work.

    Examples
    --------
    >>> from calc.document.budget import read
    >>> rows = [{"kind": "servo"}, {"kind": "servo", "draw": "0 mA"}, {"draw": "5 mA", "busy": "8 %"}, {"name": "bed"}]
    >>> [untold(row) for row in read({"gear": rows}).budget.gear]
    ['draw', '', 'busy_draw', '']
    """
    busy = 0.0 if part.busy is None else part.busy.value
    if busy > 0.0 and part.busy_draw is None:
        return "busy_draw"
    if part.kind.value not in CONSUMERS or part.draw is not None:
        return ""
    return "" if part.busy_draw is not None and busy >= 1.0 else "draw"


def draw_untold(part: GearRow | BoxPart) -> bool:
    """Return whether a part draws a current that nobody has told, so that it would count as 0 mA.

    Examples
    --------
    >>> from calc.document.budget import read
    >>> [draw_untold(row) for row in read({"gear": [{"kind": "servo"}, {"kind": "servo", "draw": "0 mA"}]}).budget.gear]
    [True, False]
    """
    return untold(part) != ""


def with_usual(row: Mapping[str, object]) -> dict[str, object]:
    """Return a row of a document with the usual draw of its kind where it has none, marked as a guess.

    What the row already says stays.

    Examples
    --------
    >>> with_usual({"kind": "receiver", "mass": "1 g"})
    {'kind': 'receiver', 'mass': '1 g', 'draw': '30 mA', 'draw_known_by': 'guess'}
    >>> with_usual({"kind": "mount"})
    {'kind': 'mount'}
    """
    usual = USUAL.get(str(row.get("kind")))
    if usual is None:
        return dict(row)
    given = {key: item for key, item in row.items() if item not in (None, "")}
    taken = {"draw": usual.draw, "busy_draw": usual.busy_draw, "busy": usual.busy}
    added = {key: text for key, text in taken.items() if text and key not in given}
    return {**given, **added, "draw_known_by": "guess"}
