"""Trials: each change is worked out by `assess` on the changed document, and so many times at most."""

import dataclasses
from collections.abc import Callable, Mapping
from typing import Any

from calc.assess import Assessment, assess
from calc.changes.change import Change, Proposal
from calc.changes.edits import edits
from calc.changes.standing import Standing, knows_less, nearer, opened, standing
from calc.document.budget import read
from calc.document.entries import Cell, GearRow
from calc.unit_system import UnitSystem

MOST = 60  # assessments for one list of changes, that of the budget as it is counted


class Trials:
    """A budget's document with its answer, and the count of what was worked out for it."""

    def __init__(self, document: Mapping[str, Any], most: int = MOST) -> None:
        self.document, self.most = document, most
        reading = read(document)
        self.budget, self.problems = reading.budget, {problem.field for problem in reading.problems}
        self.now: Assessment = assess(self.budget)
        self.stands: Standing = standing(self.now)
        self.count = 1
        self.cut = False  # something was left untried

    @property
    def system(self) -> UnitSystem:
        """The system of units of the budget."""
        return UnitSystem.of(self.budget)

    def sound(self, path: str) -> bool:
        """Return whether everything of a row could be read, and its mass counts."""
        broken = any(f"{each}.".startswith(f"{path}.") for each in self.budget.unread)
        return not broken and any(row.path == path for row in self.now.rows)

    def row(self, path: str) -> GearRow | Cell:
        """Return the row at a path that is in the budget."""
        found = self.budget.cell if path == "cell" else self.budget.gear[int(path[5:])]
        assert found is not None
        return found

    def answer(self, changed: Mapping[str, Any]) -> Assessment | None:
        """Return the answer to a changed document; None once the trials are used up, or where it cannot be read."""
        if self.count >= self.most:
            self.cut = True
            return None
        self.count += 1
        reading = read(changed)
        if {problem.field for problem in reading.problems} - self.problems:
            return None
        return assess(reading.budget)

    def tried(self, changed: Mapping[str, Any], what: Proposal) -> Change | None:
        """Return a change worked out, None if it comes no nearer to fitting, knows less, or there is no trial left."""
        found = self.answer(changed)
        if found is None or not nearer(self.stands, standing(found)) or knows_less(self.now, found, what.allowed):
            return None
        opens = opened(self.now, found)
        return Change(
            what=what,
            edits=tuple(edits(self.document, changed)) if what.presses else (),
            document=changed,
            before=self.now,
            assessment=found,
            fits=found.whole.verdict == "fits" and not opens and (self.now.whole.open or not found.whole.open),
            opens=opens,
        )

    def least(
        self, way: Callable[[int], tuple[Mapping[str, Any], Proposal]], low: int, high: int, mends: str
    ) -> Change | None:  # fmt: skip
        """Return the change of the largest number from `low` to below `high` with which the part `mends` is good.

        `way` gives the changed document of a number; a smaller number is more of a change. None if not even `low` does.
        Halving finds it: whatever is returned was worked out itself.
        """
        best = self._mended(way, low, mends) if low < high else None
        while best is not None and high - low > 1:
            middle = (low + high) // 2
            found = self._mended(way, middle, mends)
            if found is None:
                high = middle
            else:
                low, best = middle, found
        return best

    def _mended(
        self, way: Callable[[int], tuple[Mapping[str, Any], Proposal]], number: int, mends: str
    ) -> Change | None:  # fmt: skip
        found = self.tried(*way(number))
        return found if found is not None and not found.stands.bad(mends) else None


def with_entries(document: Mapping[str, Any], path: str, entries: Mapping[str, Any]) -> dict[str, Any]:
    """Return a document with entries of a block or row (`gear.N`) put in.

    Examples
    --------
    >>> with_entries({"gear": [{"mass": "1 g"}]}, "gear.0", {"off": True})
    {'gear': [{'mass': '1 g', 'off': True}]}
    >>> with_entries({}, "session", {"reserve": "10 %"})
    {'session': {'reserve': '10 %'}}
    """
    if not path.startswith("gear."):
        block = document.get(path)
        return {**document, path: {**(block if isinstance(block, Mapping) else {}), **entries}}
    index, rows = int(path[5:]), list(document["gear"])
    rows[index] = {**rows[index], **entries}
    return {**document, "gear": rows}


def typed(entry: Any, unit: str = "") -> str:
    """Return an entry as the visitor typed it, a bare number with the unit that it takes."""
    raw = "" if entry is None or entry.typed is None else str(entry.typed).strip()
    return f"{raw} {unit}".strip() if raw and unit and raw.replace(".", "").replace(",", "").isdigit() else raw


def of_pair(first: Change, second: Change) -> Proposal:
    """Return two changes as one proposal, the one of less change first."""
    ends = (first.what, second.what)
    return dataclasses.replace(
        first.what, code="pair", path=first.what.path, measure=sum(each.measure for each in ends),
        sure=all(each.sure for each in ends), facts={"paths": [each.path for each in ends]},
        allowed="",
    )  # fmt: skip
