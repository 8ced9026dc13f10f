"""What the page of the finder is given: the best sets, their plot, the parts that can be kept or barred."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc.document.box import Box
from calc.document.budget import read
from calc.search import words as finder_words
from calc.search.finder import Answer, WorkingSet
from calc.search.task import SLOT_KINDS
from calc.search.wishes import Wishes, barred, kept
from calc.subjects.limits import words as limit_words
from calc.subjects.limits.allowance import Limit, governing
from calc.subjects.power import words as power_words
from calc.unit_system import UnitSystem
from site_src.app.boxview import MOST_LISTED
from site_src.app.scale import Tick, percent, ticks_to


@dataclass(frozen=True, kw_only=True)
class Dot:
    """A set on the plot: where [%], its number."""

    x: float
    y: float
    label: str


@dataclass(frozen=True, kw_only=True)
class Wall:
    """A limit on the plot: where it stands [%], its name, on which level, and to which side its name is written."""

    at: float
    text: str
    level: int
    anchor: str


@dataclass(frozen=True, kw_only=True)
class Plot:
    """Run time over mass: the best sets, the present one, the limits of the budget."""

    dots: tuple[Dot, ...]
    steps: str  # an SVG polyline in a box of 100 × 100
    present: Dot | None
    walls: tuple[Wall, ...]
    masses: tuple[Tick, ...]
    times: tuple[Tick, ...]
    unit: str


@dataclass(frozen=True, kw_only=True)
class SetRow:
    """A best set in the table."""

    number: int
    parts: tuple[str, ...]
    mass: str
    run: str
    in_hand: str
    verdict: str
    why: str


@dataclass(frozen=True, kw_only=True)
class FinderView:
    """The finder's answer as the page shows it."""

    headline: str
    need: str
    not_counted: tuple[str, ...]  # what no set holds although it should
    works: str
    reasons: tuple[tuple[str, str], ...]
    drawn: int
    left_out: tuple[str, ...]
    sets: tuple[SetRow, ...]
    more: str  # how many best sets are not shown
    present: str
    plot: Plot | None


@dataclass(frozen=True, kw_only=True)
class WishRow:
    """A part that can be kept or barred: its name, what it is, and what is asked of it ("keep", "bar" or "")."""

    name: str
    about: str
    wish: str


def wish_rows(document: Mapping[str, Any], box: Box, wishes: Wishes) -> tuple[WishRow, ...]:
    """Return the parts of a budget and a box that sets are made of, each name once, the budget's first."""
    budget = read(document).budget
    own = [(row.called, f"{row.kind.value} of the budget") for row in budget.gear if not row.off.value]
    own += [] if budget.cell is None else [(budget.cell.called, "cell of the budget")]
    parts = [boxed.part for boxed in box.parts if boxed.part.kind.value in (*SLOT_KINDS, "cell")]
    found = {
        name.casefold(): (name, about) for name, about in reversed([*own, *((p.called, p.kind.value) for p in parts)])
    }
    listed = list(reversed(found.values()))[:MOST_LISTED]
    return tuple(WishRow(name=name, about=about, wish=_wish(name, wishes)) for name, about in listed)


def _wish(name: str, wishes: Wishes) -> str:
    return "keep" if kept(wishes, name) else "bar" if barred(wishes, name) else ""


def finder_view(answer: Answer) -> FinderView:
    """Return the view of the finder's answer for a budget."""
    system, present = answer.system, answer.present
    return FinderView(
        headline=finder_words.headline(answer, system),
        need="" if answer.task.waits else finder_words.need_sentence(answer.task),
        not_counted=(*finder_words.not_counted(answer.task), *finder_words.too_large(answer)),
        works="" if answer.task.waits else finder_words.works(answer),
        reasons=finder_words.reasons(answer),
        drawn=answer.counts.drawn,
        left_out=finder_words.left_out(answer.task),
        sets=tuple(_set_row(number, each, system) for number, each in enumerate(answer.sets, 1)),
        more=finder_words.more(answer),
        present="" if present is None else f"{system.mass(present[0], answer.now.gear.spread_kg)}, {_run_now(answer)}",
        plot=_plot(answer) if answer.sets else None,
    )


def _run_now(answer: Answer) -> str:
    power = answer.now.power
    assert power is not None  # as there is a present set
    return power_words.runs_at_worst(power)


def _set_row(number: int, found: WorkingSet, system: UnitSystem) -> SetRow:
    governs = governing(found.assessment.limits_with_lead)
    return SetRow(
        number=number,
        parts=tuple(name for _, name in found.parts),
        mass=finder_words.mass(found, system),
        run=finder_words.runs(found),
        in_hand="" if governs is None else finder_words.in_hand(governs, system),
        verdict=found.verdict or "none",
        why=finder_words.why(found, system),
    )


def _plot(answer: Answer) -> Plot:
    system = answer.system
    label = system.label("mass")
    spots = [(found.mass_kg, found.time_s) for found in answer.sets]
    limits = sorted(
        (each for each in answer.now.limits if each.allows_kg > 0.0), key=lambda each: (each.allows_kg, each.id)
    )
    known = [*spots, *([answer.present] if answer.present is not None else [])]
    most_kg = 1.08 * max(
        [mass for mass, _ in known] + [each.allows_kg for each in limits if each.allows_kg < 2.0 * spots[-1][0]]
    )
    most_s = 1.12 * max(time_s for _, time_s in known)

    def dot(mass_kg: float, time_s: float, text: str) -> Dot:
        return Dot(x=percent(mass_kg, most_kg), y=round(100.0 - percent(time_s, most_s), 2), label=text)

    dots = tuple(dot(mass, time_s, str(number)) for number, (mass, time_s) in enumerate(spots, 1))
    most, minutes = system.number(most_kg, "mass"), most_s / 60.0
    return Plot(
        dots=dots,
        steps=_steps(dots),
        present=None if answer.present is None else dot(*answer.present, "now"),
        walls=tuple(_walls(limits, most_kg, system)),
        masses=tuple(Tick(at=percent(value, most), text=f"{value:g}") for value in ticks_to(most)),
        times=tuple(Tick(at=round(100.0 - percent(v, minutes), 2), text=f"{v:g}") for v in ticks_to(minutes, 4)),
        unit=label,
    )


def _steps(dots: Sequence[Dot]) -> str:
    """Return the front as steps: between two sets the lighter one's time is what can be had."""
    corners = [f"{dots[0].x:.2f},100.00"]
    for before, after in zip(dots, [*dots[1:], None], strict=True):
        corners.append(f"{before.x:.2f},{before.y:.2f}")
        corners.append(f"{100.0 if after is None else after.x:.2f},{before.y:.2f}")
    return " ".join(corners)


def _walls(limits: Sequence[Limit], most_kg: float, system: UnitSystem) -> list[Wall]:
    return [
        Wall(
            at=percent(each.allows_kg, most_kg),
            text=f"{limit_words.LIMITS[each.id]} {system.mass(each.allows_kg, each.spread_kg)}",
            level=level,
            anchor="end" if each.allows_kg > most_kg / 2.0 else "start",
        )
        for level, each in enumerate(each for each in limits if each.allows_kg <= most_kg)
    ]
