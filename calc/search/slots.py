"""The places of a set and what may stand in each, the task that they make, and families of places."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

from calc.document.box import ACTUATORS, Boxed
from calc.search.exact import Grain
from calc.search.sets import Battery, Family, Need, Option
from calc.search.strength import Strength
from calc.search.wishes import named
from calc.vocabulary import PartKind

MOST_SPLIT = 3  # actuators up to which servos and coils are told apart in each place


@dataclass(frozen=True, kw_only=True)
class Choice:
    """What may stand in a slot: a part of the box, or None for what the budget has there now."""

    boxed: Boxed | None
    name: str
    kind: PartKind
    option: Option


@dataclass(frozen=True, kw_only=True)
class Slot:
    """A place to fill: its path in the budget, what it is called, how many parts stand there, and the choices."""

    path: str
    kind: PartKind
    count: int
    choices: tuple[Choice, ...]


@dataclass(frozen=True, kw_only=True)
class Supplied:
    """A cell with or without a converter: the choices that make it, and what it gives."""

    cell: Choice
    battery: Battery


@dataclass(frozen=True, kw_only=True)
class Task:
    """What is searched: families of slots, the batteries, the need of one charge, and what had to be left out."""

    families: tuple[tuple[Slot, ...], ...]
    batteries: tuple[Supplied, ...]
    need: Need
    grain: Grain
    left_out: tuple[tuple[str, str], ...]  # (name of a part, code of the reason)
    waits: tuple[str, ...]  # what must be there first: codes, or paths of fields
    not_counted: tuple[str, ...]  # kinds that sets should hold, and that neither box nor budget has
    strength: Strength
    strength_untold: tuple[str, ...]  # fields without which the budget's own actuator is not compared
    unknown: tuple[str, ...]  # names to keep or to bar that nothing has

    @property
    def strength_asked(self) -> bool:
        """Whether the budget says what the surface asks."""
        return self.strength.asked

    @property
    def option_families(self) -> tuple[Family, ...]:
        """The slots as the search takes them."""
        return tuple(tuple(tuple(c.option for c in slot.choices) for slot in family) for family in self.families)


def families_of(slots: Sequence[Slot], linkages: Callable[[int], list[Slot]]) -> Iterator[tuple[Slot, ...]]:
    """Yield the slots, apart for each way to have servos and coils: only servos need a linkage.

    Parameters
    ----------
    slots : sequence of Slot
        The places; those of a linkage are left out where every actuator is a coil.
    linkages : callable
        Gives the slots to add for so many servos; none where the budget or nobody has a linkage.
    """
    actuators = [slot for slot in slots if slot.kind in ACTUATORS]
    if not actuators or len(actuators) > MOST_SPLIT:
        yield (*slots, *(linkages(sum(slot.count for slot in actuators)) if actuators else ()))
        return
    kinds: tuple[Literal["servo", "coil actuator"], ...] = ACTUATORS
    for words in product(kinds, repeat=len(actuators)):
        of_kind = list(zip(actuators, words, strict=True))
        one_kind = {slot.path: _only(slot, word) for slot, word in of_kind}
        servos = sum(slot.count for slot, word in of_kind if word == "servo")
        family = tuple(one_kind.get(slot.path, slot) for slot in slots if servos or slot.kind != "linkage")
        if all(slot.choices for slot in family):
            yield (*family, *(linkages(servos) if servos else ()))


def _only(slot: Slot, kind: Literal["servo", "coil actuator"]) -> Slot:
    """Return a slot with the choices of one kind."""
    return replace(slot, choices=tuple(choice for choice in slot.choices if choice.kind == kind))


def needs_linkage(family: Iterable[Slot]) -> bool:
    """Return whether sets of a family have a servo and no linkage."""
    slots = tuple(family)
    servo = any(choice.kind == "servo" for slot in slots if slot.kind in ACTUATORS for choice in slot.choices)
    return servo and not any(slot.kind == "linkage" for slot in slots)


def keeping(families: Sequence[tuple[Slot, ...]], name: str) -> Iterator[tuple[Slot, ...]]:
    """Yield families whose sets are those of the given ones that hold a part of this name, each set once.

    The part stands in the first slot, or in the second and not in the first, and so on.
    """
    for family in families:
        before: list[Slot] = []
        for place, slot in enumerate(family):
            only = tuple(choice for choice in slot.choices if named(choice.name, name))
            if only:
                yield (*before, replace(slot, choices=only), *family[place + 1 :])
            others = tuple(choice for choice in slot.choices if not named(choice.name, name))
            if not others:
                break
            before.append(replace(slot, choices=others))
