"""What each choice saves: worked out by `assess` on the changed document, sorted by grams saved."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calc.assess import Assessment, assess
from calc.changes.edits import Edit, edits
from calc.document.budget import Budget, read
from calc.document.paths import rows
from calc.savings.choices import Choice, choices
from calc.subjects.airframe.answer import AirframeBlock, source_of
from calc.subjects.limits.allowance import governing
from calc.subjects.linkage.answer import LinkageBlock
from calc.unit_system import UnitSystem

MOST = 150  # assessments for one list
SEEN_KG = 5e-7  # less is no choice


@dataclass(frozen=True, kw_only=True)
class Saving:
    """A choice that was worked out. Saved [kg], what is in hand with it [kg], change of the still-air time [s]."""

    path: str
    part: str
    choice: Choice
    saved_kg: float
    in_hand_kg: float | None
    still_air_s: float | None
    edits: tuple[Edit, ...]


@dataclass(frozen=True, kw_only=True)
class Savings:
    """All choices, those that save most first; `cut`: some were left untried."""

    list: tuple[Saving, ...]
    in_hand_kg: float | None
    cut: bool
    counts: bool  # whether the parts are what the other sums take for the airframe
    system: UnitSystem


def find(document: Mapping[str, Any]) -> Savings:
    """Return what the choices beside each part of the airframe save, and lines in the place of a rod.

    Examples
    --------
    >>> tube = {"shape": "rolled", "material": "balsa-light", "diameter": "25 mm", "thickness": "1 mm"}
    >>> found = find({"airframe": [{**tube, "length": "400 mm", "name": "tube"}]})
    >>> [(each.choice.after, round(each.saved_kg * 1000, 2)) for each in found.list][0]
    ('0.8 mm', 0.75)
    """
    budget = read(document).budget
    was = assess(budget)
    tried = list(_proposed(budget, document, was))
    found = [saving for each in tried[: MOST - 1] if (saving := _worked_out(was, document, *each)) is not None]
    return Savings(
        list=tuple(sorted(found, key=lambda each: (-round(each.saved_kg, 9), each.path, each.choice.after))),
        in_hand_kg=_in_hand(was),
        cut=len(tried) >= MOST,
        counts=source_of(budget.model) == "parts",
        system=UnitSystem.of(budget),
    )


Proposed = tuple[str, str, Choice, dict[str, Any]]


def _proposed(budget: Budget, document: Mapping[str, Any], was: Assessment) -> Iterator[Proposed]:
    """Yield path, name, choice and changed document, those of the heaviest parts first."""
    block = was.of(AirframeBlock)
    heaviest = () if block is None else sorted(block.parts, key=lambda part: -part.counts.expected_kg)
    for part in heaviest:
        if part.plan.weighed_kg is not None:
            continue
        index = int(part.path.rpartition(".")[2])
        for choice in choices(budget.airframe[index]):
            yield part.path, part.name, choice, _with_part(document, index, choice.entries)
    yield from _lines(budget, document, was)


def _with_part(document: Mapping[str, Any], index: int, entries: Mapping[str, Any]) -> dict[str, Any]:
    parts = rows(document, "airframe")
    changed = {**parts[index], **entries}
    parts[index] = {key: item for key, item in changed.items() if item != ""}
    return {**document, "airframe": parts}


LINES = {"kind": "lines", "yarn": "aramid", "tex": "22 tex", "knot": "looped"}  # common practice, no source


def _lines(budget: Budget, document: Mapping[str, Any], was: Assessment) -> Iterator[Proposed]:
    """Yield pull-pull lines in the place of a push rod whose mass stands in one row of gear."""
    linkage = was.of(LinkageBlock)
    at = [index for index, row in enumerate(budget.gear) if row.kind.value == "linkage" and not row.off.value]
    if linkage is None or linkage.kind != "rod" or len(at) != 1 or budget.gear[at[0]].weighed is not None:
        return
    kept = {key: document["linkage"][key] for key in ("length", "ends") if key in document["linkage"]}
    changed = {**document, "linkage": {**kept, **LINES}}
    lines = assess(read(changed).budget).of(LinkageBlock)
    strengths = () if lines is None or lines.strength is None else (lines.strength,)
    for strength in strengths:
        gear, row = rows(document), budget.gear[at[0]]
        mass = f"{strength.mass_kg * 1000:.3f} g"
        before = "" if row.mass is None else str(row.mass.typed)
        gear[at[0]] = {**gear[at[0]], "mass": mass, "known_by": "guess"}
        what = Choice(name="lines", before=before, after=mass, entries={})
        yield f"gear.{at[0]}", row.called, what, {**changed, "gear": gear}


def _worked_out(
    was: Assessment, document: Mapping[str, Any], path: str, part: str, choice: Choice, changed: dict[str, Any]
) -> Saving | None:  # fmt: skip
    """Return what a choice saves; None where it cannot be read, leaves something uncounted, or changes nothing."""
    reading = read(changed)
    if {problem.field for problem in reading.problems} - was.budget.unread:
        return None
    now = assess(reading.budget)
    saved_kg = _grams(was) - _grams(now)
    if set(now.uncounted) - set(was.uncounted) or abs(saved_kg) < SEEN_KG:
        return None
    return Saving(
        path=path,
        part=part,
        choice=choice,
        saved_kg=saved_kg,
        in_hand_kg=_in_hand(now),
        still_air_s=_still_air(was, now),
        edits=tuple(edits(document, changed)),
    )


def _grams(found: Assessment) -> float:
    """Return airframe and gear together [kg], the airframe as its parts forecast it."""
    block = found.of(AirframeBlock)
    return (0.0 if block is None else block.forecast.expected_kg) + found.gear.expected_kg


def _in_hand(found: Assessment) -> float | None:
    first = governing(found.limits_with_lead)
    return None if first is None else first.in_hand_kg


def _still_air(was: Assessment, now: Assessment) -> float | None:
    if was.air is None or now.air is None or was.air.time_s is None or now.air.time_s is None:
        return None
    return now.air.time_s - was.air.time_s
