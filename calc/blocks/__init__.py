"""The blocks of the answer: each module takes what it needs out of a budget and calls the sums.

A block that cannot be worked out is None, beside the paths of the fields it waits for: those that are absent and those
that could not be read (`Budget.unread`).
"""

from typing import Any

from calc.budget import Budget
from calc.fields import Entry


def value(entry: Entry[Any] | None) -> Any:
    """Return an entry's value, None for an absent one."""
    return None if entry is None else entry.value


def unread(budget: Budget, *paths: str) -> bool:
    """Return whether any of the fields made no sense."""
    return any(path in budget.unread for path in paths)
