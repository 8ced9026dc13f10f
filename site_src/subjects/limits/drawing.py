"""The strip: gear as blocks as wide as their mass, against its limits. Numbers to geometry, no markup."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import accumulate
from typing import NamedTuple

from calc.assess import Assessment
from calc.subjects.limits import words as limit_words
from calc.subjects.limits.allowance import TIE_KG, Limit
from calc.subjects.weights import words as weight_words
from calc.unit_system import UnitSystem
from calc.vocabulary import KnownBy, Verdict
from site_src.app.scale import Tick, percent, ticks_to

ROOM = 1.18  # how far the strip's scale goes past the larger of the gear and the governing limit


class Block(NamedTuple):
    """A gear row on the strip: from, width [%], its number, how it is known."""

    at: float
    width: float
    number: int
    known_by: KnownBy
    title: str


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A limit on the strip. `beyond`: further right than the scale goes; `anchor` is SVG's text-anchor."""

    at: float
    level: int
    text: str
    anchor: str
    beyond: bool
    governs: bool
    verdict: Verdict


class Dot(NamedTuple):
    """One of twenty equally likely outcomes: where [%], on which level of its heap, whether past the limit."""

    at: float
    level: int
    beyond: bool


@dataclass(frozen=True, kw_only=True)
class Strip:
    """Gear as blocks as wide as their mass, against a mark for each limit; equally likely outcomes as heaped dots."""

    blocks: tuple[Block, ...]
    marks: tuple[Mark, ...]
    dots: tuple[Dot, ...]
    against: str  # the limit that the dots are seen against
    heap: int  # levels of the highest heap of dots
    ticks: tuple[Tick, ...]
    unit: str


def strip(assessment: Assessment, system: UnitSystem) -> Strip:
    """Return the strip."""
    gear = assessment.gear
    governs = 0.0 if assessment.governs is None else assessment.governs.allows_kg
    outcomes = () if assessment.chance is None else assessment.chance.dots_kg
    top_kg = ROOM * max(gear.expected_kg + gear.spread_kg, governs, 1e-5, *outcomes)
    masses = [row.mass.expected_kg for row in assessment.rows]
    starts = accumulate(masses, initial=0.0)
    blocks = tuple(
        Block(
            at=percent(start, top_kg),
            width=percent(row.mass.expected_kg, top_kg),
            number=index + 1,
            known_by=row.known_by,
            title=f"{row.called}, {weight_words.expected(row.mass, system)}",
        )
        for index, (row, start) in enumerate(zip(assessment.rows, starts, strict=False))
    )
    top = system.number(top_kg, "mass")
    dots = tuple(_dots(assessment, top_kg))
    return Strip(
        blocks=blocks,
        marks=_marks(assessment, top_kg, system),
        dots=dots,
        against="" if assessment.chance is None else assessment.chance.against,
        heap=max((dot.level + 1 for dot in dots), default=0),
        ticks=tuple(Tick(at=percent(value, top), text=f"{value:g}") for value in ticks_to(top)),
        unit=system.label("mass"),
    )


DOT = 1.6  # width of a dot's bin [%]: dots that would overlap are heaped


def _dots(assessment: Assessment, top_kg: float) -> Iterable[Dot]:
    """Yield the outcomes as heaps in bins; a dot is past the limit by its own mass, whatever its bin."""
    if assessment.chance is None:
        return
    limit_kg = next(each.allows_kg for each in assessment.limits if each.id == assessment.chance.against)
    levels: dict[int, int] = {}
    for mass_kg in assessment.chance.dots_kg:
        place = round(100.0 * mass_kg / top_kg / DOT)
        level = levels[place] = levels.get(place, -1) + 1
        yield Dot(at=round(place * DOT, 2), level=level, beyond=mass_kg > limit_kg + TIE_KG)


def _marks(assessment: Assessment, top_kg: float, system: UnitSystem) -> tuple[Mark, ...]:
    """Return the limits' marks, each on a level of its own so that their texts never meet."""
    left = [limit for limit in assessment.limits if limit.allows_kg <= top_kg / 2.0]
    right = [limit for limit in assessment.limits if limit.allows_kg > top_kg / 2.0]
    ordered = sorted(left, key=lambda limit: limit.allows_kg) + sorted(right, key=lambda limit: -limit.allows_kg)
    return tuple(_mark(limit, level, assessment.governs, top_kg, system) for level, limit in enumerate(ordered))


def _mark(limit: Limit, level: int, governs: Limit | None, top_kg: float, system: UnitSystem) -> Mark:
    at, beyond = percent(limit.allows_kg, top_kg), limit.allows_kg > top_kg
    allowed = system.mass(limit.allows_kg, limit.spread_kg) if limit.allows_kg >= 0.0 else "nothing"
    text = f"{limit_words.LIMITS[limit.id]} {allowed}"
    return Mark(
        at=at,
        level=level,
        text=f"{text} →" if beyond else text,
        anchor="end" if limit.allows_kg > top_kg / 2.0 else "start",
        beyond=beyond,
        governs=limit is governs,
        verdict=limit.verdict,
    )
