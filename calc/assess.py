"""Budget -> Assessment: the one door to the sums, for the page, the command and the tests.

What cannot be worked out is absent (None), and `Assessment.missing` names the fields that would be needed: a key is a
block of the answer, a value the field paths. A row whose mass cannot be read is not counted and stands in `uncounted`;
then the verdict is only about what could be counted.
"""

from collections.abc import Mapping
from typing import TypeVar

from calc.document.budget import Budget
from calc.notices import Notice, notices
from calc.subject import Answers
from calc.subjects.air.answer import AirBlock
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.airframe.lent import lent
from calc.subjects.balance.answer import BalanceBlock
from calc.subjects.growth.answer import Growth
from calc.subjects.limits import allowance
from calc.subjects.limits.answer import Limits
from calc.subjects.limits.sure import ChanceBlock
from calc.subjects.linkage.answer import LinkageBlock
from calc.subjects.listed import SUBJECTS
from calc.subjects.power.answer import Power
from calc.subjects.room.answer import RoomBlock
from calc.subjects.surface.answer import SurfaceBlock
from calc.subjects.weights.answer import ClassMass, ModelMass, RowMass, Weights
from calc.subjects.weights.masses import Total
from calc.vocabulary import Verdict
from calc.whole import Whole, whole

T = TypeVar("T")


class Assessment:
    """The whole answer: the budget it is of, and one answer of each subject.

    The budget holds what the airframe's parts lend, where nobody typed it (`calc.subjects.airframe.lent`).
    `of` gives a subject's answer by its kind, None where it could not be worked out; the properties are short for the
    answers that are asked for most. `missing` names the fields that would be needed, by what waits for them.
    """

    def __init__(self, budget: Budget) -> None:
        self._answers = Answers(budget, SUBJECTS)
        self.budget = budget = self._answers.budget = lent(budget, self._answers.of(AirframeBlock))
        missing = {key: paths for each in SUBJECTS for key, paths in self._answers.answered(each.kind).missing.items()}
        self.missing: Mapping[str, tuple[str, ...]] = {key: paths for key, paths in missing.items() if paths}
        self.notices: tuple[Notice, ...] = tuple(
            notices(budget, self.model, self.power, self.linkage, bool(self.uncounted or self.lead_open))
        )
        self.whole: Whole = self._whole()

    def of(self, kind: type[T]) -> T | None:
        """Return the answer of a kind; None where it could not be worked out."""
        return self._answers.of(kind)

    def _whole(self) -> Whole:
        rubber_open = bool({"model.rubber", "balance.rubber_at"} & set(self.missing.get("balance", ())))
        blocks = (self.power, self.balance, self.surface, self.linkage, self.of(RoomBlock))
        return whole(self.budget, self.by_weight, self.weight_open, *blocks, rubber_open)

    @property
    def lead_open(self) -> bool:
        """Whether balance is asked for and the lead that it takes is not known, or not with the rubber aboard."""
        asked = self.budget.balance
        if asked is None or (asked.target is None and asked.target_chord is None):
            return False
        block, missing = self.balance, self.missing.get("balance", ())
        known = block is not None and (block.balanced or block.ballast is not None)
        return not known or bool({"model.rubber", "balance.rubber_at"} & set(missing))

    @property
    def weight_open(self) -> bool:
        """Whether something that is missing could change the verdict by weight; over stays over.

        But not where a part of the airframe has no mass yet: the share rule allows more to a heavier airframe. Nor
        where glue or damp of its parts is not known.
        """
        parts = self.of(AirframeBlock)
        by_parts = parts is not None and self._weights.airframe is parts.forecast
        asked = self.missing.get("airframe", ()) if by_parts else ()
        if any(path.startswith("airframe.") for path in self.uncounted) or any("building" in path for path in asked):
            return True
        missing = self.uncounted or self.missing.get("limits") or self.missing.get("class") or not self.rows
        return bool(missing or self.lead_open) and self.by_weight != "over"

    @property
    def by_weight(self) -> Verdict | None:
        """The verdict by weight in a word: the verdict, or what is so in every case that was given."""
        sure = None if self.chance is None else self.chance.all
        return "over" if sure == 0.0 else "fits" if sure == 1.0 else self.verdict

    @property
    def _weights(self) -> Weights:
        return self._answers.must(Weights)

    @property
    def _limits(self) -> Limits:
        return self._answers.must(Limits)

    @property
    def rows(self) -> tuple[RowMass, ...]:
        """The rows that count, the cell last."""
        return self._weights.rows

    @property
    def uncounted(self) -> tuple[str, ...]:
        """The paths of switched-on rows whose mass is not known."""
        return self._weights.uncounted

    @property
    def gear(self) -> Total:
        """What all the gear weighs."""
        return self._weights.gear

    @property
    def model(self) -> ModelMass:
        """The model's masses, the lead for balance aboard."""
        return self._limits.model

    @property
    def class_(self) -> ClassMass:
        """What the class means for this model."""
        return self._limits.class_

    @property
    def limits(self) -> tuple[allowance.Limit, ...]:
        """The limits before any lead for balance."""
        return self._limits.before

    @property
    def limits_with_lead(self) -> tuple[allowance.Limit, ...]:
        """The limits with the lead; equal where none is needed or it is not known."""
        return self._limits.with_lead

    @property
    def chance(self) -> ChanceBlock | None:
        """How sure the limits are; None while there is no limit."""
        return self._limits.chance

    @property
    def supposed_kg(self) -> float | None:
        """The flying weight that the share rule goes by while no airframe is known [kg]."""
        return self._limits.supposed_kg

    @property
    def growth(self) -> Growth | None:
        """Planned beside weighed."""
        return self.of(Growth)

    @property
    def power(self) -> Power | None:
        """The cells in the session."""
        return self.of(Power)

    @property
    def balance(self) -> BalanceBlock | None:
        """Where it balances."""
        return self.of(BalanceBlock)

    @property
    def surface(self) -> SurfaceBlock | None:
        """The control surface and its actuator."""
        return self.of(SurfaceBlock)

    @property
    def linkage(self) -> LinkageBlock | None:
        """What leads from the actuator to the surface."""
        return self.of(LinkageBlock)

    @property
    def air(self) -> AirBlock | None:
        """What the grams cost in the air."""
        return self.of(AirBlock)

    @property
    def lead_kg(self) -> float:
        """Lead that balancing takes [kg]; 0 where none is needed or it is not known."""
        return self.model.lead_kg

    @property
    def governs(self) -> allowance.Limit | None:
        """The limit with the least in hand, before any lead; lead takes as much from each."""
        return allowance.governing(self.limits)

    @property
    def verdict(self) -> Verdict | None:
        """`fits`, `close` or `over`, the lead for balance counted; None while no limit can be worked out.

        The worst of all limits: one with more in hand than the governing one can be less sure, and so the worse.
        """
        return allowance.worst(self.limits_with_lead)

    @property
    def verdict_before_lead(self) -> Verdict | None:
        """The verdict without the lead."""
        return allowance.worst(self.limits)


def assess(budget: Budget) -> Assessment:
    """Return everything that can be worked out for a budget."""
    return Assessment(budget)
