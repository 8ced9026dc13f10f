"""What one entry of a budget may be: its kind, its range, its default; and how a raw value becomes an entry.

An `Entry` keeps what was typed beside what it means, so a budget gives back exactly what it was given.
Ranges are SI; they bound what makes sense for a small model, not what the sums can take.
"""

import dataclasses
from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeVar

from calc import units
from calc.document.letters import has_half, plain
from calc.errors import QuantityError

T = TypeVar("T")
Scalar = str | int | float | bool


@dataclass(frozen=True, kw_only=True)
class Entry(Generic[T]):
    """A value and the form it was typed in; `typed` is None where a default stands in."""

    value: T
    typed: Scalar | None = None


class FieldRefusedError(Exception):
    """A raw value is not allowed in a field; `code` and `facts` as in `calc.errors.Problem`."""

    def __init__(self, code: str, **facts: Any) -> None:
        super().__init__(code)
        self.code = code
        self.facts = facts


class Field(Protocol):
    """What every kind of field can do."""

    def read(self, raw: Scalar, system: str) -> Entry[Any]:
        """Return the entry for a raw value, or raise FieldRefusedError."""

    def default_entry(self) -> Entry[Any] | None:
        """Return the entry that stands in for an absent value, if there is one."""


@dataclass(frozen=True, kw_only=True)
class QuantityField:
    """A number with a unit. Range [low, high], or (low, high] with `above`; SI."""

    dimension: str
    low: float
    high: float
    above: bool = False
    default: float | None = None

    def read(self, raw: Scalar, system: str) -> Entry[float]:
        """Return the quantity; a bare JSON number takes the budget's default unit."""
        if isinstance(raw, bool):
            raise FieldRefusedError("not_a_number", dimension=self.dimension)
        try:
            found = units.parse(raw if isinstance(raw, str) else repr(raw), self.dimension, system)
        except QuantityError as error:
            raise FieldRefusedError(error.code, **error.facts) from error
        if self._outside(found.si):
            raise FieldRefusedError(
                "out_of_range", dimension=self.dimension, unit=found.unit,
                low=self.low, high=self.high, above=self.above,
            )  # fmt: skip
        return Entry(value=min(max(found.si, self.low), self.high), typed=raw)

    def _outside(self, value: float) -> bool:
        """Return whether a value lies outside; an end of the range missed by rounding alone counts as that end."""
        rounding = 1e-12 * max(abs(self.low), abs(self.high))
        too_low = value <= self.low if self.above else value < self.low - rounding
        return too_low or value > self.high + rounding

    def default_entry(self) -> Entry[float] | None:
        """Return the default quantity, if any."""
        return None if self.default is None else Entry(value=self.default)


@dataclass(frozen=True, kw_only=True)
class WholeField:
    """A whole number in [low, high]."""

    low: int
    high: int
    default: int | None = None

    def read(self, raw: Scalar, system: str) -> Entry[int]:  # noqa: ARG002 - the system matters to quantities alone
        """Return the number, from a JSON number or from its digits."""
        text = str(raw).strip()
        if isinstance(raw, bool) or not (text.isascii() and text.isdigit() and len(text) < 8):
            raise FieldRefusedError("not_whole", low=self.low, high=self.high)
        if not self.low <= int(text) <= self.high:
            raise FieldRefusedError("not_whole", low=self.low, high=self.high)
        return Entry(value=int(text), typed=raw)

    def default_entry(self) -> Entry[int] | None:
        """Return the default number, if any."""
        return None if self.default is None else Entry(value=self.default)


@dataclass(frozen=True, kw_only=True)
class TextField:
    """A free text of at most `most` characters, never read as anything but text; its value is one plain line."""

    most: int

    def read(self, raw: Scalar, system: str) -> Entry[str]:  # noqa: ARG002
        """Return the text."""
        if not isinstance(raw, str):
            raise FieldRefusedError("not_text")
        if len(raw) > self.most:
            raise FieldRefusedError("text_too_long", most=self.most, length=len(raw))
        if has_half(raw):
            raise FieldRefusedError("half_letter")
        return Entry(value=plain(raw), typed=raw)

    def default_entry(self) -> Entry[str]:
        """Return the empty text."""
        return Entry(value="")


@dataclass(frozen=True, kw_only=True)
class ChoiceField:
    """One of a few words."""

    choices: tuple[str, ...]
    default: str

    def read(self, raw: Scalar, system: str) -> Entry[str]:  # noqa: ARG002
        """Return the word."""
        if raw not in self.choices or not isinstance(raw, str):
            raise FieldRefusedError("not_a_choice", choices=self.choices)
        return Entry(value=raw, typed=raw)

    def default_entry(self) -> Entry[str]:
        """Return the word that stands in."""
        return Entry(value=self.default)


@dataclass(frozen=True, kw_only=True)
class FlagField:
    """Yes or no; no where absent."""

    def read(self, raw: Scalar, system: str) -> Entry[bool]:  # noqa: ARG002
        """Return the flag."""
        if not isinstance(raw, bool):
            raise FieldRefusedError("not_a_flag")
        return Entry(value=raw, typed=raw)

    def default_entry(self) -> Entry[bool]:
        """Return no."""
        return Entry(value=False)


def entry(field: Field) -> Any:
    """Return a dataclass field that holds an Entry, described by `field`."""
    return dataclasses.field(default=field.default_entry(), metadata={"field": field})


def quantity(
    dimension: str, low: float, high: float, *, above: bool = False, default: float | None = None
) -> Any:  # fmt: skip
    """Return a dataclass field for a quantity; see QuantityField."""
    return entry(QuantityField(dimension=dimension, low=low, high=high, above=above, default=default))


def whole(low: int, high: int, default: int | None = None) -> Any:
    """Return a dataclass field for a whole number; see WholeField."""
    return entry(WholeField(low=low, high=high, default=default))


def text(most: int = 80) -> Any:
    """Return a dataclass field for a free text; see TextField."""
    return entry(TextField(most=most))


def choice(*choices: str, default: str) -> Any:
    """Return a dataclass field for one of a few words; see ChoiceField."""
    return entry(ChoiceField(choices=choices, default=default))


def flag() -> Any:
    """Return a dataclass field for yes or no; see FlagField."""
    return entry(FlagField())


_DESCRIBED: dict[type, dict[str, Field]] = {}


def described(block: type) -> dict[str, Field]:
    """Return the fields of a block (a dataclass made with the functions above) by name, in order.

    Examples
    --------
    >>> @dataclass(frozen=True, kw_only=True)
    ... class Block:
    ...     flights: Entry[int] | None = whole(1, 200)
    >>> described(Block)
    {'flights': WholeField(low=1, high=200, default=None)}
    """
    if block not in _DESCRIBED:
        listed = dataclasses.fields(block)
        _DESCRIBED[block] = {item.name: item.metadata["field"] for item in listed if "field" in item.metadata}
    return _DESCRIBED[block]


_ENTRY_OR_NONE = frozenset((Entry, type(None)))


def require_entries(block: object, kind: type, path: str) -> None:
    """Raise TypeError, with the field's path, unless a block is of its kind and each of its fields holds an entry.

    None stands for an absent entry.

    Examples
    --------
    >>> @dataclass(frozen=True, kw_only=True)
    ... class Block:
    ...     flights: Entry[int] | None = whole(1, 200)
    >>> require_entries(Block(flights=8), Block, "session")
    Traceback (most recent call last):
    TypeError: session.flights: Entry expected, not int; Budget.of takes plain values
    """
    if not isinstance(block, kind):
        raise TypeError(f"{path}: {kind.__name__} expected, not {type(block).__name__}; Budget.of takes plain values")
    if {*map(type, vars(block).values())} <= _ENTRY_OR_NONE:
        return
    for name in described(kind):
        entry = getattr(block, name)
        if type(entry) not in _ENTRY_OR_NONE:
            where = f"{path}.{name.rstrip('_')}" if path else name
            raise TypeError(f"{where}: Entry expected, not {type(entry).__name__}; Budget.of takes plain values")
