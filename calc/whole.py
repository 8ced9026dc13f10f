"""The whole installation: grams, run time for the session, balance and strength, each as far as it was asked.

What was not asked is not counted as good: it stands as `not asked`, and what is asked but not known yet as `open`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from calc.document.budget import Budget
from calc.subjects.balance.answer import BalanceBlock
from calc.subjects.linkage.answer import LinkageBlock, holds
from calc.subjects.power.answer import Power
from calc.subjects.room.answer import RoomBlock
from calc.subjects.surface.answer import SurfaceBlock
from calc.vocabulary import PartOfWhole, Standing, Verdict, WholeVerdict


@dataclass(frozen=True, kw_only=True)
class Whole:
    """How the parts of the answer beside the grams stand (a Standing), and the verdict of all together.

    `verdict`: `fits` (grams and all that was asked), `close`, `over` (by grams), `fails` (another part), or None while
    no limit can be worked out and nothing fails.
    """

    parts: Mapping[PartOfWhole, Standing]
    verdict: WholeVerdict | None
    open: bool  # something that is missing could make the answer worse

    def that_are(self, word: Standing) -> tuple[PartOfWhole, ...]:
        """Return the parts that stand so."""
        return tuple(name for name, found in self.parts.items() if found == word)


def whole(
    budget: Budget, grams: Verdict | None, uncounted: bool, power: Power | None, balance: BalanceBlock | None,
    surface: SurfaceBlock | None, linkage: LinkageBlock | None, room: RoomBlock | None, rubber_open: bool,
) -> Whole:  # fmt: skip
    """Return how the whole installation stands; `grams` is the verdict by weight, `uncounted` whether that is open."""
    parts: dict[PartOfWhole, Standing] = {
        "run": _run(budget, power),
        "balance": _balance(budget, balance, rubber_open),
        "strength": _strength(budget, surface, linkage),
    }
    if budget.bays or "bays" in budget.unread:  # without bays room is no part of it
        parts["room"] = _room(room)
    is_open = grams is None or uncounted or "open" in parts.values()
    return Whole(parts=parts, verdict=_verdict(grams, parts.values()), open=is_open)


def _verdict(grams: Verdict | None, parts: Iterable[Standing]) -> WholeVerdict | None:
    found = set(parts)
    if grams == "over":
        return "over"
    if "bad" in found:
        return "fails"
    return "close" if grams == "fits" and "close" in found else grams


def _room(room: RoomBlock | None) -> Standing:
    """Return how the room stands: bad only where it is proved that the gear cannot go in."""
    if room is not None and room.answer == "cannot":
        return "bad"
    return "good" if room is not None and room.complete and room.answer == "fits" else "open"


def _run(budget: Budget, power: Power | None) -> Standing:
    """Return how the run stands to the session; without a session any run will do, but none is bad."""
    if power is None:
        asked = budget.cell is not None and (budget.cell.capacity is not None or "cell.capacity" in budget.unread)
        return "open" if asked else "not asked"
    if power.worst.time_s <= 0.0 or power.lasts is False:
        return "bad"
    if power.at_most or power.half_asked or power.quiet_only:
        return "open"
    if power.lasts is None:
        return "not asked"
    return "good" if power.safe_flights else "close"


def _balance(budget: Budget, block: BalanceBlock | None, rubber_open: bool) -> Standing:
    """Return how the balance stands: good where it balances, if need be with lead that is counted in the grams.

    `rubber_open`: the mass or the place of the rubber is not known, and it would move the balance point. It stays open
    while the airframe's own point is that of its planned parts.
    """
    asked = budget.balance
    if asked is None or (asked.target is None and asked.target_chord is None and not _any_unread(budget, "balance")):
        return "not asked"
    if block is None or block.off_m is None or rubber_open or block.by_parts:
        return "open"
    return "good" if block.balanced or block.ballast is not None else "bad"


def _any_unread(budget: Budget, key: str) -> bool:
    return any(f"{path}.".startswith(f"{key}.") for path in budget.unread)


def _strength(budget: Budget, surface: SurfaceBlock | None, linkage: LinkageBlock | None) -> Standing:
    """Return how actuator, throw and linkage stand: the worst of them."""
    if budget.surface is None:
        return "not asked"
    if surface is None:
        return "open"
    strength = None if linkage is None else linkage.strength
    if (surface.factor is not None and surface.factor < 1.0) or surface.enough_throw is False:
        return "bad"
    if strength is not None and not holds(strength):
        return "bad"
    needs_horn = budget.surface.actuator.value != "coil actuator"
    unknown = surface.factor is None or (needs_horn and surface.enough_throw is None)
    return "open" if unknown or (budget.linkage is not None and needs_horn and strength is None) else "good"
