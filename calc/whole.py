"""The whole installation: grams, run time for the session, balance and strength, each as far as it was asked.

What was not asked is not counted as good: it stands as `not asked`, and what is asked but not known yet as `open`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from calc.document.budget import Budget
from calc.subjects.balance.answer import BalanceBlock
from calc.subjects.linkage.answer import LinkageBlock, holds
from calc.subjects.power.answer import Power
from calc.subjects.surface.answer import SurfaceBlock

GOOD, CLOSE, BAD, OPEN, NOT_ASKED = "good", "close", "bad", "open", "not asked"
PARTS = ("run", "balance", "strength")


@dataclass(frozen=True, kw_only=True)
class Whole:
    """How the parts of the answer beside the grams stand (one of the words above), and the verdict of all together.

    `verdict`: `fits` (grams and all that was asked), `close`, `over` (by grams), `fails` (another part), or None while
    no limit can be worked out and nothing fails.
    """

    parts: Mapping[str, str]  # by the names in PARTS
    verdict: str | None
    open: bool  # something that is missing could make the answer worse

    def that_are(self, word: str) -> tuple[str, ...]:
        """Return the parts that stand so."""
        return tuple(name for name, found in self.parts.items() if found == word)


def whole(
    budget: Budget, grams: str | None, uncounted: bool, power: Power | None, balance: BalanceBlock | None,
    surface: SurfaceBlock | None, linkage: LinkageBlock | None, rubber_open: bool,
) -> Whole:  # fmt: skip
    """Return how the whole installation stands; `grams` is the verdict by weight, `uncounted` whether that is open."""
    parts = {
        "run": _run(budget, power),
        "balance": _balance(budget, balance, rubber_open),
        "strength": _strength(budget, surface, linkage),
    }
    is_open = grams is None or (uncounted and grams != "over") or OPEN in parts.values()
    return Whole(parts=parts, verdict=_verdict(grams, parts.values()), open=is_open)


def _verdict(grams: str | None, parts: Iterable[str]) -> str | None:
    found = set(parts)
    if grams == "over":
        return "over"
    if BAD in found:
        return "fails"
    return "close" if grams == "fits" and CLOSE in found else grams


def _run(budget: Budget, power: Power | None) -> str:
    """Return how the run stands to the session; without a session any run will do, but none is bad."""
    if power is None:
        asked = budget.cell is not None and (budget.cell.capacity is not None or "cell.capacity" in budget.unread)
        return OPEN if asked else NOT_ASKED
    if power.worst.time_s <= 0.0 or power.lasts is False:
        return BAD
    if power.at_most or power.half_asked or power.quiet_only:
        return OPEN
    if power.lasts is None:
        return NOT_ASKED
    return GOOD if power.safe_flights else CLOSE


def _balance(budget: Budget, block: BalanceBlock | None, rubber_open: bool) -> str:
    """Return how the balance stands: good where it balances, if need be with lead that is counted in the grams.

    `rubber_open`: the mass or the place of the rubber is not known, and it would move the balance point.
    """
    asked = budget.balance
    if asked is None or (asked.target is None and asked.target_chord is None and not _any_unread(budget, "balance")):
        return NOT_ASKED
    if block is None or block.off_m is None or rubber_open:
        return OPEN
    return GOOD if block.balanced or block.ballast is not None else BAD


def _any_unread(budget: Budget, key: str) -> bool:
    return any(f"{path}.".startswith(f"{key}.") for path in budget.unread)


def _strength(budget: Budget, surface: SurfaceBlock | None, linkage: LinkageBlock | None) -> str:
    """Return how actuator, throw and linkage stand: the worst of them."""
    if budget.surface is None:
        return NOT_ASKED
    if surface is None:
        return OPEN
    held = None if linkage is None else linkage.held
    if (surface.factor is not None and surface.factor < 1.0) or surface.enough_throw is False:
        return BAD
    if held is not None and not holds(held):
        return BAD
    needs_horn = budget.surface.actuator.value != "coil actuator"
    unknown = surface.factor is None or (needs_horn and surface.enough_throw is None)
    return OPEN if unknown or (budget.linkage is not None and needs_horn and held is None) else GOOD
