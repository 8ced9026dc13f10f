"""How an answer stands: how bad each of its parts is and how far from good, so that two answers can be compared.

Parts: the weight (with the lead that balance takes), and those of `calc.whole`. A level is 0 good (or not asked, or
open), 1 close, 2 bad. How far: the weight in kg until it fits, the others as a share of what is asked. An answer that
knows less than another one is never the better one, whatever its verdict says.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from calc.assess import Assessment
from calc.vocabulary import ResistanceOrigin

WEIGHT = "weight"
NOTICED = 1e-3  # our rule: nearer by less than a thousandth of what is asked is not told
NOTICED_KG = 5e-6  # … and by less than half of the last digit of a mass
BY_WEIGHT = {"over": 2, "close": 1}
BY_WORD = {"bad": 2, "close": 1}


@dataclass(frozen=True, kw_only=True)
class Standing:
    """Level of each part, and how far it is from good: 0 where it is good."""

    levels: Mapping[str, int]
    short: Mapping[str, float]

    @property
    def worst(self) -> int:
        """The levels together; 0 where nothing is close or bad."""
        return sum(self.levels.values())

    def bad(self, name: str) -> bool:
        """Return whether a part is bad or close."""
        return self.levels[name] > 0


def short_of_weight(found: Assessment) -> float:
    """Return how much lighter the gear would have to be [kg] for every limit to fit, were it known as well; ≥ 0."""
    return max([0.0, *(limit.spread_kg - limit.in_hand_kg for limit in found.limits_with_lead)])


def _short_of_run(found: Assessment) -> float:
    power = found.power
    if power is None or power.plan is None:
        return 1.0
    return max(0.0, 1.0 - power.safe_s / power.plan.on_s)


def _short_of_balance(found: Assessment) -> float:
    block = found.balance
    if block is None or block.off_m is None or block.nose_m is None or block.tail_m is None:
        return 1.0
    return min(1.0, abs(block.off_m) / max(abs(block.tail_m - block.nose_m), 1e-3))


def _short_of_strength(found: Assessment) -> float:
    block = found.surface
    assert block is not None  # else it would be open, or not asked
    if block.factor is not None and block.factor < 1.0:
        return 1.0 - block.factor
    if block.enough_throw is False and block.throw_rad is not None:
        return max(0.0, 1.0 - min(block.throw_rad) / block.wanted_rad)
    return 0.5  # the linkage would not hold


SHORT: Mapping[str, Callable[[Assessment], float]] = {
    "run": _short_of_run,
    "balance": _short_of_balance,
    "strength": _short_of_strength,
    "room": lambda _found: 0.0,  # no change but another part makes more room, and that is yes or no
}


def standing(found: Assessment) -> Standing:
    """Return how an answer stands."""
    levels = {WEIGHT: BY_WEIGHT.get(found.by_weight or "", 0)}
    levels |= {name: BY_WORD.get(word, 0) for name, word in found.whole.parts.items()}
    short = {name: SHORT[name](found) if levels.get(name) else 0.0 for name in SHORT}
    return Standing(levels=levels, short={WEIGHT: short_of_weight(found) if levels[WEIGHT] else 0.0, **short})


def nearer(before: Standing, after: Standing) -> bool:
    """Return whether an answer is nearer to fitting than another one: no part worse, and one of them better."""
    if any(after.levels[name] > level for name, level in before.levels.items()):
        return False
    if after.worst < before.worst:
        return True
    gains = {name: before.short[name] - after.short[name] for name in before.short}
    least = {name: NOTICED_KG if name == WEIGHT else NOTICED for name in gains}
    return all(gain > -least[name] for name, gain in gains.items()) and any(
        gain > least[name] for name, gain in gains.items()
    )


def opened(before: Assessment, after: Assessment) -> tuple[str, ...]:
    """Return the parts that were good and stand open in the other answer."""
    parts = before.whole.parts
    return tuple(name for name in after.whole.that_are("open") if parts[name] == "good")


def knows_less(before: Assessment, after: Assessment, allowed: str = "") -> bool:
    """Return whether an answer misses something that another one did not.

    Paths that begin with `allowed` do not count, nor a part that goes from good to open with them: that is told.
    """
    was, now = (
        {path for paths in found.missing.values() for path in paths} | set(found.uncounted) for found in (before, after)
    )
    if any(not (allowed and path.startswith(allowed)) for path in now - was):
        return True
    return _asks_less(before, after) or _told_less(before, after)


def _asks_less(before: Assessment, after: Assessment) -> bool:
    """Return whether a part is open that was bad or close: from good to open is left to `opened`."""
    return any(before.whole.parts[name] in ("bad", "close") for name in after.whole.that_are("open"))


def _told_less(before: Assessment, after: Assessment) -> bool:
    """Return whether the run rests on less: a draw, a least voltage or a resistance that was known better than now."""
    was, now = before.power, after.power
    if now is None or was is None:
        return was is not None
    lists = ("untold", "quiet_only", "no_least_volts", "half_asked")
    vaguer = KNOWN_BY.index(now.resistance_from) > KNOWN_BY.index(was.resistance_from) and now.resistance_from in VAGUE
    return (
        vaguer
        or (_resistance_low(after) and not _resistance_low(before))
        or any(set(getattr(now, name)) - set(getattr(was, name)) for name in lists)
    )


VAGUE: tuple[ResistanceOrigin, ...] = ("meter", "usual")  # a resistance that leaves a range
KNOWN_BY: tuple[ResistanceOrigin, ...] = ("bench", "given", *VAGUE)


def _resistance_low(found: Assessment) -> bool:
    """Return whether the cell's resistance is less than is known of any: the run is too long, then."""
    return any(notice.code == "resistance_low" for notice in found.notices)
