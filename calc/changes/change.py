"""A change that was tried: what it is, what it takes, and the answer with it; and the order in which changes are told.

Order, ours: first what can be done with what is there and makes it fit (a part of the box, a part moved), the least
change first. Then the weighing that could settle it. Then what makes it fit but rests on a guess or on a figure still
to be reached (draw, grams of the airframe, flight time), and last of these leaving a part out. Then two changes
together, then what only comes nearer. A smaller reserve is last of all: it lets nothing run longer.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from calc.assess import Assessment
from calc.changes.edits import Edit
from calc.changes.standing import WEIGHT, Standing, standing
from calc.subjects.limits.allowance import Limit, governing

TURN = {code: turn for turn, code in enumerate(
    ("move", "swap", "weigh", "draw", "airframe", "flight_time", "pair", "leave_out", "reserve")
)}  # fmt: skip
REAL = ("move", "swap")  # with what is there


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """What is proposed: code (a key of TURN), path and name of what changes, its text before and after.

    `measure` says how small the change is: 0 is none; a share of the gear's mass, of the model's length, of the draw,
    of the flight or of the charge. `facts` are in SI. `sure`: it rests on no guess. `presses`: a press makes it.
    """

    code: str
    path: str
    name: str
    before: str
    after: str
    measure: float
    facts: Mapping[str, Any] = field(default_factory=dict)
    sure: bool = True
    presses: bool = True
    allowed: str = ""  # what may be missing afterwards: the beginning of paths


@dataclass(frozen=True, kw_only=True)
class Change:
    """A proposal that was tried, with the answer to the changed document."""

    what: Proposal
    edits: tuple[Edit, ...]  # none where there is nothing to press
    document: Mapping[str, Any]
    before: Assessment
    assessment: Assessment
    fits: bool  # it alone makes the whole installation fit, as far as that is known
    opens: tuple[str, ...] = ()  # parts that were good, and of which it is not known then
    parts: tuple[Proposal, ...] = ()  # of a pair

    @property
    def governs(self) -> Limit | None:
        """The limit with the least in hand, lead counted."""
        return governing(self.assessment.limits_with_lead)

    @property
    def stands(self) -> Standing:
        """How the answer stands."""
        return standing(self.assessment)


def order(change: Change) -> tuple[Any, ...]:
    """Return what changes are sorted by; see the module."""
    what = change.what
    stands = change.stands
    gear_kg = max(change.assessment.gear.expected_kg, 1e-6)
    far = stands.short[WEIGHT] / gear_kg + sum(short for name, short in stands.short.items() if name != WEIGHT)
    nearness = (0, 0.0) if change.fits or what.code == "weigh" else (stands.worst, round(far, 6))
    return (
        _group(change), bool(change.opens), *nearness, TURN[what.code], not what.sure, round(what.measure, 9),
        what.path, what.after, what.name,
    )  # fmt: skip


def _group(change: Change) -> int:
    what = change.what
    if what.code == "reserve":
        return 5
    if what.code == "weigh":
        return 1
    if not change.fits:
        return 4
    return 0 if what.code in REAL and what.sure else 3 if what.code == "pair" else 2
