"""Which single change makes the whole installation fit, least change first; else what comes nearest, and the best pair.

Nothing is forecast: each change told was worked out by `assess` on the changed document (`calc.changes.trials`), within
a number of assessments that is never passed. A budget that fits gets none, or the one weighing that would make it sure.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import combinations

from calc.assess import Assessment
from calc.changes import figures, rows
from calc.changes.change import Change, order
from calc.changes.edits import applied
from calc.changes.moves import moves
from calc.changes.swaps import swaps
from calc.changes.trials import MOST, Trials, of_pair
from calc.document.box import Box
from calc.errors import BudgetError
from calc.unit_system import UnitSystem

MOST_SHOWN = 8
MOST_NEARER = 3  # of those told that do not make it fit alone
MOST_OF_ONE = 2  # changes of one sort at one place that are told
MOST_PAIRED = 4  # single changes of which pairs are made
NO_PAIR = ("weigh", "airframe", "reserve")


@dataclass(frozen=True, kw_only=True)
class Found:
    """The changes in their order; how many assessments they took, of how many, and whether some were left untried."""

    changes: tuple[Change, ...]
    needed: bool  # it does not fit as it is
    now: Assessment  # which may stand open, though nothing keeps it from fitting
    count: int
    most: int
    cut: bool
    system: UnitSystem


def find(document: object, box: Box | None = None, most: int = MOST) -> Found:
    """Return what would make a budget's document fit, with the parts of a box where there is one.

    Parameters
    ----------
    document : object
        A budget document of any shape.
    box : Box
        The visitor's parts.
    most : int
        Assessments at most, that of the budget as it is counted; at least 1.
    """
    trials = Trials(document if isinstance(document, Mapping) else {}, most)
    needed = trials.stands.worst > 0
    tried = _tried(trials, box or Box()) if needed else _surer(trials)
    singles = _told(tried)
    pair = _pair(trials, singles) if needed and not any(each.fits and _is_way(each) for each in singles) else None
    changes = _shown(sorted((*singles, *(() if pair is None else (pair,))), key=order))
    return Found(
        changes=changes, needed=needed, now=trials.now, count=trials.count, most=most, cut=trials.cut,
        system=trials.system,
    )  # fmt: skip


def _shown(changes: Iterable[Change]) -> tuple[Change, ...]:
    """Return the first changes, not too many of those that do not make it fit."""
    kept: list[Change] = []
    for change in changes:
        nearer = not change.fits and change.what.code != "weigh"
        if not nearer or sum(not each.fits for each in kept) < MOST_NEARER:
            kept.append(change)
    return tuple(kept[:MOST_SHOWN])


def _is_way(change: Change) -> bool:
    """Return whether a change that fits makes a pair needless: a smaller reserve is no way to fit."""
    return change.what.code != "reserve"


def _surer(trials: Trials) -> list[Change]:
    """Return what would make a budget that fits sure."""
    if trials.now.whole.verdict != "fits" or trials.now.chance is None or trials.now.chance.all >= 1.0:
        return []
    found = rows.weighing(trials)
    return [] if found is None else [found]


def _tried(trials: Trials, box: Box) -> Iterator[Change]:
    """Yield the single changes that come nearer, the likely ones tried first."""
    weighing = rows.weighing(trials)
    yield from () if weighing is None else (weighing,)
    for proposals in (moves(trials), swaps(trials, box), rows.leaving_out(trials)):
        for changed, what in proposals:
            found = trials.tried(changed, what)
            yield from () if found is None else (found,)
    for way in (figures.draws, figures.airframe, figures.flight_time, figures.reserve):
        yield from way(trials)


def _told(found: Iterable[Change]) -> list[Change]:
    """Return the changes in their order, no more than a few of one sort at one place."""
    kept: list[Change] = []
    for change in sorted(found, key=order):
        same = [each for each in kept if (each.what.code, each.what.path) == (change.what.code, change.what.path)]
        if len(same) < MOST_OF_ONE:
            kept.append(change)
    return kept


def _pair(trials: Trials, singles: Iterable[Change]) -> Change | None:
    """Return the best two changes together, None if no two of them come nearer than one alone."""
    able = [each for each in singles if each.what.code not in NO_PAIR and not each.opens][:MOST_PAIRED]
    found = [pair for first, second in combinations(able, 2) if (pair := _together(trials, first, second)) is not None]
    best = min(found, key=lambda each: (not each.fits, *order(each)), default=None)
    return best if best is not None and (best.fits or order(best)[2:4] < order(able[0])[2:4]) else None


def _together(trials: Trials, first: Change, second: Change) -> Change | None:
    if first.what.path.split(".")[:2] == second.what.path.split(".")[:2]:
        return None  # one place takes one change
    try:
        changed = applied(first.document, second.edits)
    except BudgetError:
        return None  # both change the same entry, as two actuators do
    found = trials.tried(changed, of_pair(first, second))
    return None if found is None else replace(found, parts=(first.what, second.what))
