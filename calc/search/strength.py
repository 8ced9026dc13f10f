"""Whether an actuator is strong enough for the control surface, for the finder: what is not known is never enough.

Each kind of actuator is asked for something else: a rotary servo for a torque that goes with its arm and the horn, a
linear one for a force that goes with the horn, a coil at the hinge for the whole hinge moment.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import get_args

from calc.assess import Assessment, assess
from calc.document.blocks import BoxPart
from calc.document.box import actuator_of
from calc.document.budget import Budget
from calc.document.entries import GearRow
from calc.document.fields import Entry
from calc.subjects.surface.answer import UNKNOWN, Effort, rated_effort
from calc.vocabulary import Actuator


@dataclass(frozen=True, kw_only=True)
class Strength:
    """What the surface asks of each kind of actuator, as far as it is known."""

    needs: Mapping[Actuator, Effort] = field(default_factory=dict)
    missing: tuple[str, ...] = ()  # fields of a described surface without which nothing is asked
    arms: tuple[str, ...] = ()  # fields that are not given, without which servos cannot be compared

    @property
    def asked(self) -> bool:
        """Whether strength can be looked at."""
        return bool(self.needs)

    def why_not(self, part: BoxPart) -> str:
        """Return why an actuator cannot be compared with what is asked, as a code; "" where it can, or none is."""
        if not self.needs:
            return ""
        word, rated = rating_of(part)
        if not rated.known:
            return "no_strength"
        return "" if word in self.needs else "no_need"

    def enough(self, word: Actuator, rated: Effort) -> bool:
        """Return whether an actuator is strong enough, or nothing is asked; one without a rating never is."""
        return not self.needs or (word in self.needs and rated.meets(self.needs[word]))


def strength_of(budget: Budget, now: Assessment) -> Strength:
    """Return what the surface of a budget asks at its present speed; `now` is the answer to the budget."""
    if budget.surface is None:
        return Strength()
    needs: dict[Actuator, Effort] = {}
    for word in get_args(Actuator):
        asked = replace(budget, surface=replace(budget.surface, actuator=Entry(value=word)))
        found = assess(asked).surface
        if found is not None and found.need.known:
            needs[word] = found.need
    arms = tuple(f"surface.{name}" for name in ("horn", "arm") if getattr(budget.surface, name) is None)
    return Strength(needs=needs, missing=() if needs else now.missing.get("surface", ()), arms=arms)


def rating_of(part: BoxPart) -> tuple[Actuator, Effort]:
    """Return which kind of actuator a part of the box is, and what it is rated for."""
    word = actuator_of(part.kind.value, thrust=part.thrust is not None)
    return word, rated_effort(word, part.torque, part.thrust)


def rating_of_row(row: GearRow, budget: Budget) -> tuple[Actuator, Effort, str]:
    """Return the same of an actuator in the budget, whose rating stands with the surface; and the rating's field."""
    surface = budget.surface
    moved_by: Actuator = "rotary servo" if surface is None else surface.actuator.value
    word: Actuator = "coil actuator" if row.kind.value == "coil actuator" else moved_by
    if row.kind.value == "servo" and word == "coil actuator":
        word = "rotary servo"
    name = "thrust" if word == "linear servo" else "torque"
    rated = UNKNOWN if surface is None or word != moved_by else rated_effort(word, surface.torque, surface.thrust)
    return word, rated, f"surface.{name}"
