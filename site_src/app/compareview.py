"""What the templates are given of two budgets side by side: figures as shown, and sentences."""

from dataclasses import dataclass

from calc.compare import words as compare_words
from calc.compare.sides import Row, compare
from calc.document.budget import Budget, read
from calc.unit_system import UnitSystem
from calc.vocabulary import Judgement
from site_src.app.answer import Answer, answer


@dataclass(frozen=True, kw_only=True)
class Line:
    """A row of the table: a figure before and now, its change, and whether that is "better", "worse", "same" or ""."""

    label: str
    before: str
    after: str
    change: str
    judged: Judgement


@dataclass(frozen=True, kw_only=True)
class Compared:
    """Two budgets side by side. `lines` holds every figure, `changed` those in which a change is seen."""

    headline: str
    names: tuple[str, str]
    lines: tuple[Line, ...]
    changed: tuple[Line, ...]
    unchanged: str  # the other figures, in one sentence
    swaps: tuple[str, ...]
    differences: tuple[str, ...]
    sides: tuple[Answer, ...]  # both answers whole, where they are to be shown


def compared(before: object, after: object, *, whole: bool = False) -> Compared:
    """Return two documents of any shape side by side, in the units of the one after; `whole` adds both answers."""
    budgets = (read(before).budget, read(after).budget)
    return of_budgets(*budgets, sides=tuple(answer(budget) for budget in budgets) if whole else ())


def of_budgets(before: Budget, after: Budget, *, sides: tuple[Answer, ...] = ()) -> Compared:
    """Return two budgets side by side."""
    found, system = compare(before, after), UnitSystem.of(after)
    lines = tuple((row, _line(row)) for row in found.rows)
    return Compared(
        headline=compare_words.headline(found, system),
        names=compare_words.names(found),
        lines=tuple(line for _, line in lines),
        changed=tuple(line for row, line in lines if row.judged != "same"),
        unchanged=compare_words.unchanged(found),
        swaps=tuple(compare_words.swap_sentence(swap, system) for swap in found.swaps),
        differences=tuple(compare_words.difference_sentence(each) for each in found.differences),
        sides=sides,
    )


def _line(row: Row) -> Line:
    before, after = row.shown
    return Line(label=row.label, before=before, after=after, change=row.told, judged=row.judged)
