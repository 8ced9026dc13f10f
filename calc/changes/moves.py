"""Parts that could sit at another station, so that less lead, or none, is needed for balance.

Only what can be moved by itself: neither a linkage and what is tied to it (servo, coil actuator, mount), nor wiring.
The new place lies between nose and tail: where the model balances, else the end that comes nearest to that. A station
is told to a millimetre or finer, in the unit that it was typed in.
"""

from collections.abc import Iterator
from math import ceil, floor, log10

from calc import units
from calc.changes.change import Proposal
from calc.changes.standing import WEIGHT
from calc.changes.trials import Trials, typed, with_entries
from calc.subjects.balance import sums
from calc.subjects.balance.answer import BalanceBlock, Placed
from calc.subjects.balance.sums import Weight

TIED = ("linkage", "servo", "coil actuator", "mount", "wiring")
FINE_M = 0.001  # a step of the new station


def moves(trials: Trials) -> Iterator[tuple[dict[str, object], Proposal]]:
    """Yield the moves that could help, the shortest first."""
    block = trials.now.balance
    lead_bad = trials.stands.bad(WEIGHT) and trials.now.lead_kg > 0.0
    if block is None or block.target_m is None or not (lead_bad or trials.stands.bad("balance")):
        return
    if block.nose_m is None or block.tail_m is None or block.balanced:
        return
    found = []
    for part in block.placed:
        kind = next((row.kind for row in trials.now.rows if row.path == part.path), "linkage")
        if kind not in TIED and part.mass_kg > 0.0 and trials.sound(part.path):
            found.append((_new_station(block, part), part))
    for to_m, part in sorted(found, key=lambda pair: (abs(pair[0] - pair[1].station_m), pair[1].path)):
        yield from _move(trials, block, part, to_m)


def _new_station(block: BalanceBlock, part: Placed) -> float:
    """Return where a part would balance the model [m], the nearer end where that lies beyond nose or tail."""
    assert block.target_m is not None
    assert block.nose_m is not None
    assert block.tail_m is not None
    weight = Weight(mass_kg=part.mass_kg, station_m=part.station_m)
    to_m = sums.moved_station(block.mass_kg, block.cg_m, block.target_m, weight)
    low_m, high_m = sorted((block.nose_m, block.tail_m))
    return min(max(to_m, low_m), high_m)


def _move(
    trials: Trials, block: BalanceBlock, part: Placed, to_m: float
) -> Iterator[tuple[dict[str, object], Proposal]]:
    """Yield a move, if it is one that can be told: towards balance, between nose and tail, by a step at least."""
    entry = trials.row(part.path).station
    assert entry is not None  # else it would have no place
    raw = str(entry.typed)
    unit = units.parse(raw, "length", trials.system).unit
    ends = sorted((block.nose_m or 0.0, block.tail_m or 0.0))
    text, at_m = station_text(to_m, unit, ends[0], ends[1])
    if abs(at_m - part.station_m) < FINE_M / 2.0 or not ends[0] - 1e-9 <= at_m <= ends[1] + 1e-9:
        return
    moved_m = at_m - part.station_m
    what = Proposal(
        code="move",
        path=part.path,
        name=part.name,
        before=typed(entry, unit),
        after=text,
        measure=abs(moved_m) / max(ends[1] - ends[0], FINE_M),
        facts={"moved_m": moved_m, "lead_before_kg": trials.now.lead_kg},
    )
    yield with_entries(trials.document, part.path, {"station": text}), what


def station_text(at_m: float, unit: str, low_m: float, high_m: float) -> tuple[str, float]:
    """Return a station as text in a unit, to a millimetre or finer, and what it comes to [m]; not past the two ends.

    Examples
    --------
    >>> station_text(0.1686, "mm", 0.0, 0.5), station_text(0.1686, "in", 0.0, 0.5)
    (('169 mm', 0.169), ('6.64 in', 0.168656))
    >>> station_text(0.5004, "cm", 0.0, 0.5004)
    ('50.0 cm', 0.5)
    """
    step_m = units.to_si(1.0, unit, "length")
    places = max(0, ceil(-log10(FINE_M / step_m) - 1e-9))
    scale = 10**places
    steps = round(at_m / step_m * scale)
    low, high = (way(end / step_m * scale + slack) for way, end, slack in ((ceil, low_m, -1e-6), (floor, high_m, 1e-6)))
    number = min(max(steps, low), high) / scale
    return f"{number:.{places}f} {unit}", round(units.to_si(number, unit, "length"), 12)
