"""The finder: the best sets of gear from the box for a budget's model and session.

What is searched is in `calc.search.task`, the search itself in `calc.search.pareto`.

A set works if every actuator is strong enough for the surface, as far as the budget says what that asks; if the cell,
as warm as the session has it, does not brown out when full; and if one charge does its share of the session's flights.
Of sets that tie in mass and run time the one that needs the least lead is shown.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import isfinite
from typing import Any

from calc.assess import Assessment, assess
from calc.document.box import Box, take
from calc.document.budget import Budget, read
from calc.search.going_in import Ranked, ranked
from calc.search.pareto import search
from calc.search.sets import Best, Counts, Found, Progress, Way
from calc.search.slots import Choice, Slot, Task
from calc.search.task import task_of
from calc.search.wishes import Wishes
from calc.subject import Needs
from calc.subjects.balance.answer import ENOUGH_M, BalanceBlock
from calc.subjects.room.parts import spaces
from calc.taking import without_log
from calc.unit_system import UnitSystem
from calc.vocabulary import PartOfWhole, Verdict, WholeVerdict

MOST_SHOWN = 60  # best sets that are worked out in full
NO_SURER_KG = 1e-10  # leads that differ by less are told apart by the order of the parts
NO_LEAD_HELPS, NOBODY_KNOWS_KG = 1e6, 1e9  # behind all others: per kg m, and a station is not known


@dataclass(frozen=True, kw_only=True)
class WorkingSet:
    """A best set: how many tie with it, its budget and the answer to that."""

    ties: int
    parts: tuple[tuple[str, str], ...]  # (path, name with its count)
    twice: tuple[str, ...]  # parts of the box that stand in more than one place
    document: Mapping[str, Any]
    assessment: Assessment

    @property
    def mass_kg(self) -> float:
        """Expected mass of the gear [kg], as the budget page says it."""
        return self.assessment.gear.expected_kg

    @property
    def time_s(self) -> float:
        """Run time at its low end [s], as the budget page says it; where it is "at most", what it is at most."""
        power = self.assessment.power
        assert power is not None  # else it would not work
        return power.worst.time_s

    @property
    def at_most(self) -> bool:
        """Whether the run time is only an upper bound: nobody has said what a part draws at work."""
        power = self.assessment.power
        return power is not None and power.at_most

    @property
    def by_weight(self) -> Verdict | None:
        """Whether it fits by weight: `fits`, `close` or `over`, lead counted; None while no limit is known."""
        return self.assessment.by_weight

    @property
    def fails(self) -> tuple[PartOfWhole, ...]:
        """What of the whole installation fails with it beside the grams: a `PartOfWhole` each."""
        return self.assessment.whole.that_are("bad")

    @property
    def verdict(self) -> WholeVerdict | None:
        """The verdict of the whole installation, as the budget page says it."""
        return self.assessment.whole.verdict


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What the finder found for a task."""

    task: Task
    sets: tuple[WorkingSet, ...]
    more: int  # best sets beyond those worked out in full
    counts: Counts
    now: Assessment  # of the budget as it is
    system: UnitSystem  # its units
    too_large: int = 0  # sets proved not to go into the bays: these, and all that are as large, are left out
    all_looked_at: bool = True  # whether all that would stand before those shown were looked at for the bays

    @property
    def present(self) -> tuple[float, float] | None:
        """Expected mass [kg] and least run time [s] of the budget now; None without a run or where it is "at most"."""
        power = self.now.power
        return None if power is None or power.at_most else (self.now.gear.expected_kg, power.low.time_s)

    @property
    def fitting(self) -> int:
        """How many of the sets shown fit by weight, with nothing beside the grams that fails."""
        return sum(found.verdict == "fits" for found in self.sets)


def find(
    document: Mapping[str, Any], box: Box, charges: int = 1, wishes: Wishes | None = None
) -> Iterator[Progress | Answer]:  # fmt: skip
    """Yield signs of progress, then the answer.

    Parameters
    ----------
    document : mapping
        A budget document; its model, session, surface and limits stand.
    box : Box
        The parts.
    charges : int
        Charged cells that share the session's flights, at least 1.
    wishes : Wishes
        Parts to keep and to bar, servos or coils only; none of that where it is not given.

    Raises
    ------
    OutOfRangeError
        If `charges` is below one.
    """
    budget = read(document).budget
    task, now, system = task_of(budget, box, charges, wishes), assess(budget), UnitSystem.of(budget)
    if task.waits:
        empty = Counts(total=0, works=0, reasons={}, drawn=0)
        yield Answer(task=task, sets=(), more=0, counts=empty, now=now, system=system)
        return
    bays = spaces(budget, Needs(budget))
    batteries = tuple(supplied.battery for supplied in task.batteries)
    document = without_log(document)
    for step in search(task.option_families, batteries, task.need):
        if not isinstance(step, Found):
            yield step
            continue
        left = Ranked(best=step.best, too_large=0, complete=True)
        if bays is not None:
            left = yield from ranked(task, budget, bays, step.best, MOST_SHOWN)
        shown = (_shown(document, budget, task, best, UnitSystem(box.units)) for best in left.best[:MOST_SHOWN])
        yield Answer(
            task=task,
            sets=tuple(each for each in shown if bays is None or "room" not in each.fails),
            more=max(0, len(left.best) - MOST_SHOWN), counts=step.counts, now=now, system=system,
            too_large=left.too_large, all_looked_at=left.complete,
        )  # fmt: skip


def answer(document: Mapping[str, Any], box: Box, charges: int = 1, wishes: Wishes | None = None) -> Answer:
    """Return the finder's answer in one go."""
    *_, last = find(document, box, charges, wishes)
    assert isinstance(last, Answer)
    return last


def _shown(document: Mapping[str, Any], budget: Budget, task: Task, best: Best, system: UnitSystem) -> WorkingSet:
    """Return a best set worked out; of those that tie, the one that needs the least lead, then the first."""
    moments = [_moment(budget, task, way) for way in best.tied] if len(best.tied) > 1 else [0.0]
    base = next((place for place, moment in enumerate(moments) if isfinite(moment)), 0)
    first = _worked_out(document, task, best, best.tied[base], system)
    balance = first.assessment.balance
    if len(best.tied) == 1 or balance is None or balance.off_m is None or balance.balanced:
        return first
    leads = [_lead(balance, moment - moments[base]) for moment in moments]
    chosen = min(range(len(leads)), key=lambda place: (round(leads[place] / NO_SURER_KG), place))
    return first if chosen == base else _worked_out(document, task, best, best.tied[chosen], system)


def _chosen(task: Task, way: Way) -> Iterator[tuple[Slot | None, Choice]]:
    """Yield the choice of each slot, and that of the cell at the end."""
    family, picks, battery = way
    for slot, pick in zip(task.families[family], picks, strict=True):
        yield slot, slot.choices[pick]
    yield None, task.batteries[battery].cell


def _moment(budget: Budget, task: Task, way: Way) -> float:
    """Return the moment of a set about the datum [kg m]; infinite where a station is not known, as lead is then."""
    total = 0.0
    for slot, choice in _chosen(task, way):
        index = -1 if slot is None else int(slot.path[5:])
        row = budget.cell if slot is None else budget.gear[index] if index < len(budget.gear) else None
        if row is None or row.station is None:
            return float("inf")
        total += choice.option.mass / task.grain.per_kg * row.station.value
    return total


def _lead(balance: BalanceBlock, more: float) -> float:
    """Return the lead [kg] with so much more moment [kg m] of the gear; a huge one where none helps or nobody knows."""
    assert balance.off_m is not None
    assert balance.target_m is not None
    tail_heavy = balance.mass_kg * balance.off_m + more
    if not isfinite(tail_heavy):
        return NOBODY_KNOWS_KG
    if abs(tail_heavy) < balance.mass_kg * ENOUGH_M:
        return 0.0
    end_m = balance.nose_m if tail_heavy > 0.0 else balance.tail_m
    arm_m = 0.0 if end_m is None else balance.target_m - end_m
    return tail_heavy / arm_m if tail_heavy * arm_m > 0.0 else NO_LEAD_HELPS * abs(tail_heavy)


def _worked_out(document: Mapping[str, Any], task: Task, best: Best, way: Way, system: UnitSystem) -> WorkingSet:
    changed: dict[str, Any] = dict(document)
    parts, from_box = [], []
    for slot, choice in _chosen(task, way):
        path, count = ("cell", 1) if slot is None else (slot.path, slot.count)
        parts.append((path, f"{count} × {choice.name}" if count > 1 else choice.name))
        if choice.boxed is not None:
            from_box.append(choice.boxed)
            changed = _counted(take(changed, choice.boxed.document, path, system), path, count)
    changed = _without_linkage(changed, {path for path, _ in parts})
    twice = [name for (_, choice), name in zip(_chosen(task, way), (name for _, name in parts), strict=True)
             if choice.boxed is not None and sum(each is choice.boxed for each in from_box) > 1]  # fmt: skip
    return WorkingSet(
        ties=best.count,
        parts=tuple(parts),
        twice=tuple(dict.fromkeys(twice)),
        document=changed,
        assessment=assess(read(changed).budget),
    )


def _counted(document: dict[str, Any], path: str, count: int) -> dict[str, Any]:
    """Return a budget in which a row that holds several parts says so."""
    if count == 1 or path == "cell":
        return document
    rows = [*document["gear"]]
    rows[int(path[5:])] = {**rows[int(path[5:])], "count": count}
    return {**document, "gear": rows}


def _without_linkage(document: dict[str, Any], used: set[str]) -> dict[str, Any]:
    """Return the budget with the linkage rows that a set does without left out, not deleted."""
    rows = [
        {**row, "off": True}
        if isinstance(row, Mapping)
        and row.get("kind") == "linkage"
        and f"gear.{index}" not in used
        and not row.get("off")
        else row
        for index, row in enumerate(document.get("gear") or [])
    ]
    return {**document, "gear": rows}
