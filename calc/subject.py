"""The blocks of the answer: each module takes what it needs out of a budget and calls the sums.

A block reads its entries through `Needs`, which notes those that are absent or could not be read. A block that cannot
be worked out is None, beside the paths of the fields it waits for.
"""

from collections.abc import Iterable
from typing import Any, TypeVar

from calc.document.budget import Budget
from calc.document.fields import Entry

T = TypeVar("T")


def value(entry: Entry[Any] | None) -> Any:
    """Return an entry's value, None for an absent one."""
    return None if entry is None else entry.value


def unread(budget: Budget, *paths: str) -> bool:
    """Return whether any of the fields, or the block that it stands in, made no sense."""
    return any(_broken(budget, path) for path in paths)


def _broken(budget: Budget, path: str) -> str:
    """Return which part of the document made no sense: a field or the block around it; "" where all did."""
    return next((each for each in _with_blocks(path) if each in budget.unread), "")


def _with_blocks(path: str) -> Iterable[str]:
    """Yield a path and the paths of the blocks around it.

    Examples
    --------
    >>> list(_with_blocks("gear.1.mass"))
    ['gear', 'gear.1', 'gear.1.mass']
    """
    parts = path.split(".")
    return (".".join(parts[: number + 1]) for number in range(len(parts)))


class Needs:
    """Reads entries of a budget for one answer, and notes which it lacks: absent, or not to be read."""

    def __init__(self, budget: Budget) -> None:
        self.budget = budget
        self._lacks: dict[str, None] = {}

    @property
    def lacks(self) -> tuple[str, ...]:
        """The paths noted so far, each once, in their order."""
        return tuple(self._lacks)

    def note(self, *paths: str) -> None:
        """Note fields that the answer waits for."""
        self._lacks.update(dict.fromkeys(paths))

    def must(self, path: str, entry: Entry[T] | None) -> T | None:
        """Return the value of an entry that the answer cannot do without; None once it is noted."""
        broken = _broken(self.budget, path)
        if entry is None or broken:
            self.note(broken or path)
            return None
        return entry.value

    def may(self, path: str, entry: Entry[T] | None) -> T | None:
        """Return the value of an entry that may be absent; one that cannot be read is noted, and is None."""
        if not self.sound(path):
            return None
        return None if entry is None else entry.value

    def usual(self, path: str, entry: Entry[T]) -> T:
        """Return the value of an entry that has a default; one that cannot be read is noted."""
        self.sound(path)
        return entry.value

    def sound(self, *paths: str) -> bool:
        """Return whether all of the fields could be read or are absent; note those that could not."""
        broken = [found for path in paths if (found := _broken(self.budget, path))]
        self.note(*broken)
        return not broken
