"""What the parts came out at on the scale, beside what was planned; and which masses are still a guess."""

from collections.abc import Iterable
from dataclasses import dataclass

from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.document.fields import Entry
from calc.subject import Answered, Answers, Needs
from calc.subjects.weights import masses
from calc.subjects.weights.answer import RowMass, Weights


@dataclass(frozen=True, kw_only=True)
class Grown:
    """A part that has a planned and a weighed mass, all of its count together [kg]; path as in `RowMass`."""

    path: str  # "gear.N", "cell" or "model.airframe"
    name: str
    planned_kg: float  # nominal, no margin on it
    weighed_kg: float

    @property
    def change_kg(self) -> float:
        """Weighed − planned [kg]; positive: it grew."""
        return self.weighed_kg - self.planned_kg


@dataclass(frozen=True, kw_only=True)
class Guess:
    """A part of which the mass is still a guess."""

    path: str
    name: str
    mass: masses.Total


@dataclass(frozen=True, kw_only=True)
class Growth:
    """The parts weighed against a plan, and those still guessed. Totals [kg] are of `rows` alone."""

    rows: tuple[Grown, ...]
    guesses: tuple[Guess, ...]

    @property
    def planned_kg(self) -> float:
        """What the rows were planned to weigh [kg]."""
        return sum(row.planned_kg for row in self.rows)

    @property
    def now_kg(self) -> float:
        """What they weigh [kg]."""
        return sum(row.weighed_kg for row in self.rows)

    @property
    def change_kg(self) -> float:
        """What they grew by [kg]; negative: they came out lighter."""
        return self.now_kg - self.planned_kg


def growth(budget: Budget, rows: Iterable[RowMass], airframe: masses.Total | None) -> Growth | None:
    """Return planned beside weighed for the rows that count; None where nothing is to be said."""
    counted = tuple(rows)
    grown = tuple(_grown(budget, counted, airframe))
    guesses = tuple(_guesses(budget, counted, airframe))
    return Growth(rows=grown, guesses=guesses) if grown or guesses else None


def growth_missing(budget: Budget, rows: Iterable[RowMass]) -> tuple[str, ...]:
    """Return the planned masses beside a weighed one that could not be read."""
    needs = Needs(budget)
    for row in rows:
        needs.sound(f"{row.path}.mass", f"{row.path}.known_by")
    if budget.model.airframe_weighed is not None:
        needs.sound("model.airframe", "model.airframe_known_by")
    return needs.missing


def _grown(budget: Budget, rows: Iterable[RowMass], airframe: masses.Total | None) -> Iterable[Grown]:
    model = budget.model
    parts: dict[str, GearRow | Cell] = {f"gear.{index}": row for index, row in enumerate(budget.gear)}
    parts |= {} if budget.cell is None else {"cell": budget.cell}
    if airframe is not None:
        yield from _both("model.airframe", "airframe", model.airframe, model.airframe_weighed, 1)
    for row in rows:
        part = parts[row.path]
        count = part.count.value if isinstance(part, GearRow) else 1
        yield from _both(row.path, row.called, part.mass, part.weighed, count)


def _both(
    path: str, name: str, planned: Entry[float] | None, weighed: Entry[float] | None, count: int
) -> Iterable[Grown]:  # fmt: skip
    if planned is not None and weighed is not None:
        yield Grown(path=path, name=name, planned_kg=count * planned.value, weighed_kg=count * weighed.value)


def _guesses(budget: Budget, rows: Iterable[RowMass], airframe: masses.Total | None) -> Iterable[Guess]:
    model = budget.model
    if airframe is not None and model.airframe_weighed is None and model.airframe_known_by.value == "guess":
        yield Guess(path="model.airframe", name="airframe", mass=airframe)
    for row in rows:
        if row.known_by == "guess":
            yield Guess(path=row.path, name=row.called, mass=row.mass)


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return planned beside weighed."""
    weights = answers.must(Weights)
    found = growth(budget, weights.rows, weights.airframe)
    return Answered(answer=found, missing={"growth": growth_missing(budget, weights.rows)})
