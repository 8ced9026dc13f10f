"""Two budgets side by side: each figure that both answers have, the parts that differ, and what else does."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import zip_longest
from math import inf, isfinite, radians
from typing import Any

from calc.assess import Assessment, assess
from calc.compare import shown as compare_shown
from calc.compare.changes import Swap, means_the_same, swaps
from calc.document.blocks import BLOCKS, LISTS, Budget
from calc.document.fields import Entry, described, key_of
from calc.subjects.linkage.answer import HOLDS_FACTOR
from calc.subjects.surface.answer import FAR_STRONGER
from calc.unit_system import UnitSystem
from calc.vocabulary import Judgement, Verdict

BOUNDS = {  # what a figure is where a draw that nobody told counts as none
    "run": "at most", "flights": "at most", "lowest": "at most", "cells": "at least", "mean": "at least",
    "peak": "at least",
}  # fmt: skip
VERDICTS: tuple[Verdict, ...] = ("over", "close", "fits")


@dataclass(frozen=True, kw_only=True)
class Row:
    """A figure before and after, SI (a verdict is a word and has no change), and as shown.

    `told` is the difference of the two as shown; "" where none is seen, or one of them is no number.
    """

    id: str
    label: str
    dimension: str  # as `calc.compare.sides.shown.figure` takes it
    before: float | str
    after: float | str
    change: float | None
    judged: Judgement
    shown: tuple[str, str]
    told: str
    bounds: tuple[str, str] = ("", "")  # "at most" or "at least" where a draw that nobody told leaves it open


@dataclass(frozen=True, kw_only=True)
class Difference:
    """An entry outside the gear that differs, as typed; "" where it was not given."""

    path: str
    before: str
    after: str


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """What `compare` found, with the two answers it is about."""

    names: tuple[str, str]
    before: Assessment
    after: Assessment
    rows: tuple[Row, ...]
    swaps: tuple[Swap, ...]
    differences: tuple[Difference, ...]


def compare(before: Budget, after: Budget) -> Comparison:
    """Return the figures of two budgets side by side, the parts that differ, and what else does.

    Examples
    --------
    >>> from calc.document.budget import read
    >>> light, heavy = (read({"gear": [{"kind": "servo", "mass": mass}]}).budget for mass in ("1.7 g", "2.4 g"))
    >>> [(swap.act, round(swap.mass_kg, 6)) for swap in compare(heavy, light).swaps]
    [('change', -0.0007)]
    """
    was, now = assess(before), assess(after)
    return Comparison(
        names=(before.name.value, after.name.value),
        before=was,
        after=now,
        rows=tuple(_rows(was, now, UnitSystem.of(after))),
        swaps=tuple(swaps(before, after, was)),
        differences=tuple(_differences(before, after)),
    )


@dataclass(frozen=True, kw_only=True)
class _Figure:
    """A figure of an answer, and which way is better: "less", "more" or ""; beyond `enough` more is no better."""

    id: str
    label: str
    dimension: str
    good: str
    take: Callable[[Assessment], float | None]
    enough: float


def _figure(
    name: str, label: str, dimension: str, good: str, take: Callable[[Assessment], Any], enough: float = inf
) -> _Figure:  # fmt: skip
    return _Figure(id=name, label=label, dimension=dimension, good=good, take=take, enough=enough)


def _in_hand(limit: str) -> Callable[[Assessment], float | None]:
    """Return what takes a limit's margin, lead for balance counted, out of an answer."""
    return lambda found: next((each.in_hand_kg for each in found.limits_with_lead if each.id == limit), None)


def _least_in_hand(found: Assessment) -> float | None:
    return min((limit.in_hand_kg for limit in found.limits_with_lead), default=None)


def _lead(found: Assessment) -> float | None:
    """Return the lead for balance [kg]; None where it is not known whether any is needed."""
    block = found.balance
    if block is None or (block.ballast is None and not block.balanced):
        return None
    return found.lead_kg


def _of(block: str, take: Callable[[Any], Any]) -> Callable[[Assessment], Any]:
    """Return what takes a figure out of a block of an answer, None where the block is absent."""

    def found_in(found: Assessment) -> Any:
        present = getattr(found, block)
        return None if present is None else take(present)

    return found_in


def _in_contests(take: Callable[[Any], Any]) -> Callable[[Assessment], Any]:
    """Return what takes a figure of the class minimum, which only a contest model is filled up to."""
    return lambda found: take(found.class_) if found.class_.use == "contest" else None


def _linkage_strength(take: Callable[[Any], Any]) -> Callable[[Assessment], Any]:
    return _of("linkage", lambda block: None if block.strength is None else take(block.strength))


FIGURES = (
    _figure("in_hand", "Least in hand", "mass", "more", _least_in_hand),
    _figure("in_hand_share", "In hand, share rule", "mass", "more", _in_hand("share")),
    _figure("in_hand_target", "In hand, target weight", "mass", "more", _in_hand("target")),
    _figure("in_hand_class_max", "In hand, class maximum", "mass", "more", _in_hand("class_max")),
    _figure("in_hand_loading", "In hand, wing loading", "mass", "more", _in_hand("loading")),
    _figure("gear", "All the gear", "mass", "less", lambda found: found.gear.expected_kg),
    _figure("spread", "Spread of the gear, ±", "mass", "", lambda found: found.gear.spread_kg),
    _figure("flying", "Flying weight, no rubber", "mass", "", lambda found: found.model.flying_kg),
    _figure("gear_share", "Gear’s share", "ratio", "less", lambda found: found.model.share),
    _figure("class_free", "Gear that costs nothing", "mass", "", _in_contests(lambda each: each.free_kg)),
    _figure("class_short", "Short of the minimum", "mass", "", _in_contests(lambda each: each.short_kg)),
    _figure("run", "Least run time", "run", "more", _of("power", lambda power: power.worst.time_s)),
    _figure("flights", "Flights from one cell", "count", "more", _of("power", lambda power: power.flights)),
    _figure("cells", "Cells for the session", "count", "less", _of("power", lambda power: power.cells_needed)),
    _figure("mean", "Mean draw", "current", "less", _of("power", lambda power: power.load.mean_a)),
    _figure("peak", "All at work at once", "current", "less", _of("power", lambda power: power.load.peak_a)),
    _figure("lowest", "Lowest voltage", "voltage", "more", _of("power", lambda power: power.lowest_v)),
    _figure("cg", "Balances at", "length", "", _of("balance", lambda block: block.cg_m)),
    _figure("lead", "Lead for balance", "mass", "less", _lead),
    _figure(
        "servo_factor",
        "Actuator, times the need",
        "number",
        "more",
        _of("surface", lambda block: block.factor),
        FAR_STRONGER,
    ),
    _figure("linkage_mass", "Linkage described", "mass", "less", _linkage_strength(lambda strength: strength.mass_kg)),
    _figure(
        "linkage_factor",
        "Linkage, times the load",
        "number",
        "more",
        _linkage_strength(lambda strength: strength.factor),
        HOLDS_FACTOR,
    ),
    _figure(
        "linkage_lost",
        "Lost in the linkage",
        "angle",
        "less",
        _linkage_strength(lambda strength: radians(strength.lost_deg)),
    ),
    _figure("loading", "Wing loading", "loading", "less", _of("air", lambda air: air.loading_kg_m2)),
    _figure("sink", "Sinks", "speed", "less", _of("air", lambda air: air.sink_m_s)),
    _figure("still_air", "Still-air time", "time", "more", _of("air", lambda air: air.time_s)),
    _figure("kept", "Time kept", "ratio", "more", _of("air", lambda air: air.time_kept)),
)


def _rows(before: Assessment, after: Assessment, system: UnitSystem) -> Iterator[Row]:
    if before.verdict in VERDICTS and after.verdict in VERDICTS:
        step = VERDICTS.index(after.verdict) - VERDICTS.index(before.verdict)
        judged: Judgement = "better" if step > 0 else "worse" if step < 0 else "same"
        yield Row(
            id="verdict", label="Verdict", dimension="verdict", before=before.verdict, after=after.verdict,
            change=None, judged=judged, shown=(before.verdict, after.verdict), told="",
        )  # fmt: skip
    known = compare_shown.spreads(before), compare_shown.spreads(after)
    for figure in FIGURES:
        was, now = figure.take(before), figure.take(after)
        if was is not None and now is not None and isfinite(was) and isfinite(now):
            row = _row(figure, was, now, (known[0].get(figure.id, 0.0), known[1].get(figure.id, 0.0)), system)
            yield _bounded(row, _bound(figure.id, before), _bound(figure.id, after))


def _row(figure: _Figure, was: float, now: float, spreads_kg: tuple[float, float], system: UnitSystem) -> Row:
    """Return a row; what it is judged by is what is shown."""
    shown = (
        compare_shown.figure(was, figure.dimension, system, spreads_kg[0]),
        compare_shown.figure(now, figure.dimension, system, spreads_kg[1]),
    )
    way, told = (0, "") if compare_shown.alike(was, now) else compare_shown.change(*shown)
    return Row(
        id=figure.id, label=figure.label, dimension=figure.dimension, before=was, after=now, change=now - was,
        judged=_judged(way, min(was, now), figure), shown=shown, told=told,
    )  # fmt: skip


def _bound(name: str, found: Assessment) -> str:
    return BOUNDS.get(name, "") if found.power is not None and found.power.at_most else ""


def _bounded(row: Row, *bounds: str) -> Row:
    """Return a row with its bounds told; where there is one, nobody knows by how much the figure changes."""
    if not any(bounds):
        return row
    before, after = (f"{bound} {text}".lstrip() for bound, text in zip(bounds, row.shown, strict=True))
    return replace(row, shown=(before, after), told="", judged="", change=None, bounds=(bounds[0], bounds[1]))


def _judged(way: int, least: float, figure: _Figure) -> Judgement:
    if way == 0:
        return "same"
    if figure.good == "" or least >= figure.enough:
        return ""
    return "better" if (way > 0) == (figure.good == "more") else "worse"


def _differences(before: Budget, after: Budget) -> Iterator[Difference]:
    """Yield what differs outside gear and cell, by what it means and not by how it was typed."""
    for path, kind, old, new in _blocks(before, after):
        for name in described(kind):
            was, now = getattr(old, name), getattr(new, name)
            if not means_the_same(was, now) and (path or name not in ("format", "name")):
                yield Difference(path=f"{path}.{key_of(name)}".lstrip("."), before=_typed(was), after=_typed(now))


def _blocks(before: Budget, after: Budget) -> Iterator[tuple[str, type, Any, Any]]:
    """Yield each block outside gear and cell with its path, and each row of the other lists, one after the other."""
    yield "", Budget, before, after
    for key, kind in BLOCKS.items():
        if key != "cell":
            yield key, kind, getattr(before, key) or kind(), getattr(after, key) or kind()
    for key, kind in LISTS.items():
        if key != "gear":
            pairs = zip_longest(getattr(before, key), getattr(after, key), fillvalue=kind())
            yield from ((f"{key}.{index}", kind, old, new) for index, (old, new) in enumerate(pairs))


def _typed(entry: Entry[Any] | None) -> str:
    return "" if entry is None or entry.typed is None else str(entry.typed)
