"""How many sets there are, how many work, and why the others do not; estimated where there are too many to count."""

import random
from collections.abc import Sequence
from itertools import product

from calc.search.sets import NOTHING, Battery, Counts, Family, Label, Need, added

REASONS = ("weak", "no_draw", "brownout", "session")
MOST_STATES = 20_000  # different demands of all sets, up to which reasons are counted exactly …
MOST_CHECKS = 400_000  # … and demands times batteries
DRAWN = 4_000  # sets drawn at random where there are more
SEED = 1  # the same sets are drawn each time


def count(families: Sequence[Family], batteries: Sequence[Battery], need: Need) -> Counts:
    """Return how many sets work, and the first reason of each that does not; an estimate where there are too many."""
    totals = [_product(family) * len(batteries) for family in families]
    reasons, works, drawn = dict.fromkeys(REASONS, 0), 0, 0
    for family, total in zip(families, totals, strict=True):
        strong = tuple(tuple(option for option in slot if option.strong) for slot in family)
        left = _product(strong) * len(batteries)
        reasons["weak"] += total - left
        states = _states(strong, len(batteries)) if left else {}
        if states is None:
            drawn += DRAWN
            found = _draw(strong, batteries, need, left)
        else:
            found = _tally(states, batteries, need)
        works += found.pop("works", 0)
        for reason, number in found.items():
            reasons[reason] += number
    return Counts(total=sum(totals), works=works, reasons=reasons, drawn=drawn)


def _product(family: Family) -> int:
    result = 1
    for slot in family:
        result *= len(slot)
    return result


def _states(family: Family, batteries: int) -> dict[Label, int] | None:
    """Return how many sets there are of each demand, masses left out; None if there are too many to look at."""
    states: dict[Label, int] = {NOTHING: 1}
    for slot in family:
        if len(states) * len(slot) > 8 * MOST_STATES:
            return None
        merged: dict[Label, int] = {}
        for before, number in states.items():
            for option in slot:
                both = added(before, (0, *option.label[1:]))
                merged[both] = merged.get(both, 0) + number
        states = merged
        if len(states) > MOST_STATES or len(states) * batteries > MOST_CHECKS:
            return None
    return states


def _tally(states: dict[Label, int], batteries: Sequence[Battery], need: Need) -> dict[str, int]:
    found: dict[str, int] = {}
    for battery, (label, number) in product(batteries, states.items()):
        reason = verdict(label, battery, need)
        found[reason] = found.get(reason, 0) + number
    return found


def verdict(label: Label, battery: Battery, need: Need) -> str:
    """Return `works`, or the first reason why a set of strong enough parts does not."""
    _, mean, peak, volts, quiet = label
    if mean == 0:
        return "no_draw"
    time_ns = battery.time(mean, peak, volts)
    if time_ns <= 0:
        return "brownout"
    return "works" if need.met(time_ns, mean, quiet) else "session"


def _draw(family: Family, batteries: Sequence[Battery], need: Need, left: int) -> dict[str, int]:
    """Return estimated counts from sets drawn at random."""
    chance = random.Random(SEED)
    found: dict[str, int] = {}
    for _ in range(DRAWN):
        label = NOTHING
        for slot in family:
            label = added(label, chance.choice(slot).label)
        reason = verdict(label, chance.choice(batteries), need)
        found[reason] = found.get(reason, 0) + 1
    return {reason: round(left * number / DRAWN) for reason, number in found.items()}
