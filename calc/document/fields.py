"""What one entry of a budget is: its label, its kind, range, default; and how a raw value becomes an entry.

An entry is told once, in the line of its dataclass; form, box, CSV, comparison and labels take it from there. It keeps
what was typed beside what it means, so a budget gives back exactly what it was given.
Ranges are SI; they bound what makes sense for a small model, not what the sums can take.
"""

import dataclasses
from abc import ABC, abstractmethod
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar, Generic, Literal, TypedDict, TypeVar, Unpack

from calc import units
from calc.document.letters import has_half, plain
from calc.errors import QuantityError

T = TypeVar("T")
Scalar = str | int | float | bool
# Whose an entry is: of the part itself, so that the box has it; of its place in the model, so that it stays there when
# another part comes, and only the gear as CSV has it; or of this one budget.
Belongs = Literal["part", "place", "budget"]
Control = Literal["quantity", "whole", "text", "choice", "check"]


@dataclass(frozen=True, kw_only=True)
class Entry(Generic[T]):
    """A value and the form it was typed in; `typed` is None where a default stands in.

    `unit` is the unit that a quantity was typed in; that of the system of units where none was typed.
    """

    value: T
    typed: Scalar | None = None
    unit: str | None = None


class FieldRefusedError(Exception):
    """A raw value is not allowed in a field; `code` and `facts` as in `calc.errors.Problem`."""

    def __init__(self, code: str, **facts: Any) -> None:
        super().__init__(code)
        self.code = code
        self.facts = facts


@dataclass(frozen=True, kw_only=True)
class Field(ABC):
    """What every kind of field tells and can do."""

    label: str = ""
    hint: str = ""  # a sentence under the entry
    belongs: Belongs | None = None  # told in the blocks of parts
    in_box: str = ""  # its label on a part of the box, if another one
    control: ClassVar[Control]

    @property
    def box_label(self) -> str:
        """The label on a part of the box."""
        return self.in_box or self.label

    @abstractmethod
    def read(self, raw: Scalar, system: str) -> Entry[Any]:
        """Return the entry for a raw value, or raise FieldRefusedError."""

    @abstractmethod
    def default_entry(self) -> Entry[Any] | None:
        """Return the entry that stands in for an absent value, if there is one."""

    @abstractmethod
    def allows(self, value: object) -> bool:
        """Return whether an entry may have this value: of its type, and one that reading could give."""


class About(TypedDict, total=False):
    """What any field may tell beside its label; see Field."""

    hint: str
    belongs: Belongs
    in_box: str


@dataclass(frozen=True, kw_only=True)
class QuantityField(Field):
    """A number with a unit. Range [low, high], or (low, high] with `above`; SI.

    `smaller_than`: another entry of the block, and the greatest share of it; `bare`: unit of a bare number, if another.
    """

    control: ClassVar[Control] = "quantity"
    dimension: str
    low: float
    high: float
    above: bool = False
    default: float | None = None
    smaller_than: tuple[str, float] | None = None
    bare: str = ""

    def read(self, raw: Scalar, system: str) -> Entry[float]:
        """Return the quantity; a bare JSON number takes the budget's default unit."""
        if isinstance(raw, bool):
            raise FieldRefusedError("not_a_number", dimension=self.dimension)
        text = str(raw) if not self.bare or not units.is_bare(str(raw)) else f"{raw} {self.bare}"
        try:
            found = units.parse(text, self.dimension, system)
        except QuantityError as error:
            raise FieldRefusedError(error.code, **error.facts) from error
        if self._outside(found.si):
            raise FieldRefusedError(
                "out_of_range", dimension=self.dimension, unit=found.unit,
                low=self.low, high=self.high, above=self.above,
            )  # fmt: skip
        return Entry(value=min(max(found.si, self.low), self.high), typed=raw, unit=found.unit)

    def allows(self, value: object) -> bool:
        """Return whether it is a number within the range."""
        return isinstance(value, int | float) and not isinstance(value, bool) and not self._outside(value)

    def _outside(self, value: float) -> bool:
        """Return whether a value lies outside; an end of the range missed by rounding alone counts as that end."""
        rounding = 1e-12 * max(abs(self.low), abs(self.high))
        high_enough = value > self.low if self.above else value >= self.low - rounding
        return not (high_enough and value <= self.high + rounding)  # so that no number lies within no range

    def default_entry(self) -> Entry[float] | None:
        """Return the default quantity, if any."""
        return None if self.default is None else Entry(value=self.default)


@dataclass(frozen=True, kw_only=True)
class WholeField(Field):
    """A whole number in [low, high]."""

    control: ClassVar[Control] = "whole"
    low: int
    high: int
    default: int | None = None

    def read(self, raw: Scalar, system: str) -> Entry[int]:  # noqa: ARG002 - the system matters to quantities alone
        """Return the number, from a JSON number or from its digits."""
        text = str(raw).strip()
        is_whole = not isinstance(raw, bool) and text.isascii() and text.isdigit() and len(text) < 8
        if not (is_whole and self.allows(int(text))):
            raise FieldRefusedError("not_whole", low=self.low, high=self.high)
        return Entry(value=int(text), typed=raw)

    def allows(self, value: object) -> bool:
        """Return whether it is a whole number within the range."""
        return isinstance(value, int) and not isinstance(value, bool) and self.low <= value <= self.high

    def default_entry(self) -> Entry[int] | None:
        """Return the default number, if any."""
        return None if self.default is None else Entry(value=self.default)


@dataclass(frozen=True, kw_only=True)
class TextField(Field):
    """A free text of at most `most` characters, never read as anything but text; its value is one plain line."""

    control: ClassVar[Control] = "text"
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

    def allows(self, value: object) -> bool:
        """Return whether it is a plain text; what was typed may be longer than the line that it reads as."""
        return isinstance(value, str) and not has_half(value)

    def default_entry(self) -> Entry[str]:
        """Return the empty text."""
        return Entry(value="")


@dataclass(frozen=True, kw_only=True)
class ChoiceField(Field):
    """One of a few words; `words` says what a person reads in the place of some of them."""

    control: ClassVar[Control] = "choice"
    choices: tuple[str, ...]
    default: str
    words: Mapping[str, str] = dataclasses.field(default_factory=dict)

    def word(self, typed: str) -> str:
        """Return a choice in words, anything else as it was typed."""
        return self.words.get(typed, typed)

    def read(self, raw: Scalar, system: str) -> Entry[str]:  # noqa: ARG002
        """Return the word."""
        if not self.allows(raw) or not isinstance(raw, str):
            raise FieldRefusedError("not_a_choice", choices=self.choices)
        return Entry(value=raw, typed=raw)

    def allows(self, value: object) -> bool:
        """Return whether it is one of the words."""
        return value in self.choices

    def default_entry(self) -> Entry[str]:
        """Return the word that stands in."""
        return Entry(value=self.default)


@dataclass(frozen=True, kw_only=True)
class FlagField(Field):
    """Yes or no; no where absent."""

    control: ClassVar[Control] = "check"

    def read(self, raw: Scalar, system: str) -> Entry[bool]:  # noqa: ARG002
        """Return the flag."""
        if not isinstance(raw, bool):
            raise FieldRefusedError("not_a_flag")
        return Entry(value=raw, typed=raw)

    def allows(self, value: object) -> bool:
        """Return whether it is yes or no."""
        return isinstance(value, bool)

    def default_entry(self) -> Entry[bool]:
        """Return no."""
        return Entry(value=False)


def entry(field: Field) -> Any:
    """Return a dataclass field that holds an Entry, described by `field`."""
    return dataclasses.field(default=field.default_entry(), metadata={"field": field})


def quantity(
    label: str, dimension: str, low: float, high: float, *, above: bool = False, default: float | None = None,
    smaller_than: tuple[str, float] | None = None, bare: str = "", **about: Unpack[About],
) -> Any:  # fmt: skip
    """Return a dataclass field for a quantity; see QuantityField."""
    return entry(QuantityField(
        label=label, dimension=dimension, low=low, high=high, above=above, default=default,
        smaller_than=smaller_than, bare=bare, **about,
    ))  # fmt: skip


def whole(label: str, low: int, high: int, default: int | None = None, **about: Unpack[About]) -> Any:
    """Return a dataclass field for a whole number; see WholeField."""
    return entry(WholeField(label=label, low=low, high=high, default=default, **about))


def text(label: str, most: int = 80, **about: Unpack[About]) -> Any:
    """Return a dataclass field for a free text; see TextField."""
    return entry(TextField(label=label, most=most, **about))


def choice(label: str, choices: Mapping[str, str] | Iterable[str], default: str, **about: Unpack[About]) -> Any:
    """Return a dataclass field for one of a few words, in a mapping with what a person reads; see ChoiceField."""
    words = choices if isinstance(choices, Mapping) else {}
    return entry(ChoiceField(label=label, choices=tuple(choices), default=default, words=words, **about))


def flag(label: str, **about: Unpack[About]) -> Any:
    """Return a dataclass field for yes or no; see FlagField."""
    return entry(FlagField(label=label, **about))


_DESCRIBED: dict[type, dict[str, Field]] = {}


def described(block: type) -> dict[str, Field]:
    """Return the fields of a block (a dataclass made with the functions above) by name, in order.

    A block with `HOLDS` has those fields alone that belong there, in that order.

    Examples
    --------
    >>> @dataclass(frozen=True, kw_only=True)
    ... class Block:
    ...     flights: Entry[int] | None = whole("Flights", 1, 200)
    >>> found = described(Block)["flights"]
    >>> found.label, found.control, found.read("12", "metric").value
    ('Flights', 'whole', 12)
    """
    if block not in _DESCRIBED:
        listed = {item.name: item.metadata["field"] for item in dataclasses.fields(block) if "field" in item.metadata}
        holds: tuple[Belongs, ...] = getattr(block, "HOLDS", ())
        held = {name: each for whose in holds for name, each in listed.items() if each.belongs == whose}
        _DESCRIBED[block] = held if holds else listed
    return _DESCRIBED[block]


def keys_of(block: type, belongs: Belongs) -> tuple[str, ...]:
    """Return the keys of the entries of a block that belong to the part itself, to its place, or to the budget."""
    return tuple(name for name, each in described(block).items() if each.belongs == belongs)


def key_of(name: str) -> str:
    """Return the key in the document of an entry that had to be called otherwise in Python: `class` of `class_`."""
    return name.rstrip("_")
