"""The error tree, and the one check that every sum makes of its arguments.

    ThistledownError
    ├── OutOfRangeError   a sum refused an argument
    ├── QuantityError     a text is not a quantity of the wanted kind
    ├── BudgetError       a budget document has problems; holds all of them
    └── LinkError         an address fragment cannot be opened

Errors carry facts in SI; `calc.wording` makes the sentence, in the unit the visitor typed.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from dataclasses import field as dataclass_field
from math import inf, isfinite
from typing import Any


class ThistledownError(Exception):
    """Whatever this project raises on purpose."""


class OutOfRangeError(ThistledownError):
    """An argument of a sum lies outside the range the sum is good for."""

    def __init__(self, name: str, value: float, low: float, high: float) -> None:
        super().__init__(f"{name} is {value}; it must lie between {low} and {high}")
        self.name = name
        self.value = value
        self.low = low
        self.high = high


@dataclass(frozen=True, kw_only=True)
class Problem:
    """One thing wrong with a document: which field, what, and the facts a sentence needs."""

    field: str  # path as in "gear.1.mass"; "" for the document as a whole
    code: str  # a key of calc.wording.SENTENCES
    facts: Mapping[str, Any] = dataclass_field(default_factory=dict)


class QuantityError(ThistledownError):
    """A text cannot be read as a quantity; `code` and `facts` as in `Problem`."""

    def __init__(self, code: str, **facts: Any) -> None:
        super().__init__(code)
        self.code = code
        self.facts = facts


class BudgetError(ThistledownError):
    """A document cannot be used as it stands; `problems` lists everything wrong with it."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(f"{problem.field}: {problem.code}" for problem in problems))
        self.problems = problems


class LinkError(ThistledownError):
    """An address fragment does not hold a budget; `code` and `facts` as in `Problem`."""

    def __init__(self, code: str, **facts: Any) -> None:
        super().__init__(code)
        self.code = code
        self.facts = facts


def require(name: str, value: float, low: float = -inf, high: float = inf, *, above: bool = False) -> float:
    """Return `value` if it is finite and within [low, high], or (low, high] with `above`.

    Parameters
    ----------
    name : str
        The argument's name, for the error.
    value, low, high : float, scalars
        In the argument's own SI unit.
    above : bool
        The low end itself is refused.

    Raises
    ------
    OutOfRangeError
        If the value is not finite or lies outside.

    Examples
    --------
    >>> require("mass_kg", 0.001, 0.0, above=True)
    0.001
    """
    if not isfinite(value) or value < low or value > high or (above and value == low):
        raise OutOfRangeError(name, value, low, high)
    return value
