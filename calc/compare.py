"""Two budgets side by side: each figure that both answers have, the parts that differ, and what else does."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import isfinite, radians
from typing import Any

from calc.assess import Assessment, assess
from calc.budget import BLOCKS, Budget
from calc.fields import Entry, described
from calc.shown import MANY
from calc.swaps import Swap, means_the_same, swaps

# Our rule: a change smaller than the last digit shown counts as the same (SI); "run" is a run time.
NOTICED = {
    "mass": 5e-6, "ratio": 5e-4, "current": 5e-5, "run": 0.5, "time": 0.05, "voltage": 5e-3, "count": 0.5,
    "length": 5e-5, "angle": 9e-4, "loading": 5e-4, "speed": 5e-3,
}  # fmt: skip
VERDICTS = ("over", "close", "fits")


@dataclass(frozen=True, kw_only=True)
class Row:
    """A figure before and after, SI (a verdict is a word and has no change)."""

    id: str
    label: str
    dimension: str  # a key of NOTICED, "number" (of times as strong) or "verdict"
    before: float | str
    after: float | str
    change: float | None
    judged: str  # "better", "worse", "same", or "" where neither way is better


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
    >>> from calc.budget import read
    >>> light, heavy = (read({"gear": [{"kind": "servo", "mass": mass}]}).budget for mass in ("1.7 g", "2.4 g"))
    >>> [(swap.act, round(swap.mass_kg, 6)) for swap in compare(heavy, light).swaps]
    [('change', -0.0007)]
    """
    was, now = assess(before), assess(after)
    return Comparison(
        names=(before.name.value, after.name.value),
        before=was,
        after=now,
        rows=tuple(_rows(was, now)),
        swaps=tuple(swaps(before, after, was)),
        differences=tuple(_differences(before, after)),
    )


@dataclass(frozen=True, kw_only=True)
class _Figure:
    """A figure of an answer, and which way is better: "less", "more" or ""."""

    id: str
    label: str
    dimension: str
    good: str
    take: Callable[[Assessment], float | None]


def _figure(name: str, label: str, dimension: str, good: str, take: Callable[[Assessment], Any]) -> _Figure:
    return _Figure(id=name, label=label, dimension=dimension, good=good, take=take)


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


def _held(take: Callable[[Any], Any]) -> Callable[[Assessment], Any]:
    return _of("linkage", lambda block: None if block.held is None else take(block.held))


FIGURES = (
    _figure("in_hand", "Least in hand", "mass", "more", _least_in_hand),
    _figure("in_hand_share", "In hand, share rule", "mass", "more", _in_hand("share")),
    _figure("in_hand_target", "In hand, wished mass", "mass", "more", _in_hand("target")),
    _figure("in_hand_class_max", "In hand, class maximum", "mass", "more", _in_hand("class_max")),
    _figure("in_hand_loading", "In hand, wing loading", "mass", "more", _in_hand("loading")),
    _figure("gear", "All the gear", "mass", "less", lambda found: found.gear.expected_kg),
    _figure("spread", "Spread of the gear, ±", "mass", "less", lambda found: found.gear.spread_kg),
    _figure("flying", "Flying mass, no rubber", "mass", "", lambda found: found.model.flying_kg),
    _figure("gear_share", "Gear’s share", "ratio", "less", lambda found: found.model.share),
    _figure("class_free", "Gear that costs nothing", "mass", "", lambda found: found.class_.free_kg),
    _figure("class_short", "Short of the minimum", "mass", "", lambda found: found.class_.short_kg),
    _figure("run", "Run time", "run", "more", _of("power", lambda power: power.run.time_s)),
    _figure("flights", "Flights from one cell", "count", "more", _of("power", lambda power: power.flights)),
    _figure("cells", "Cells for the session", "count", "less", _of("power", lambda power: power.cells_needed)),
    _figure("mean", "Mean draw", "current", "less", _of("power", lambda power: power.load.mean_a)),
    _figure("peak", "All at work at once", "current", "less", _of("power", lambda power: power.load.peak_a)),
    _figure("lowest", "Lowest voltage", "voltage", "more", _of("power", lambda power: power.run.lowest_v)),
    _figure("cg", "Balances at", "length", "", _of("balance", lambda block: block.cg_m)),
    _figure("lead", "Lead for balance", "mass", "less", _lead),
    _figure("servo_factor", "Actuator, times the need", "number", "more", _of("surface", lambda block: block.factor)),
    _figure("linkage_mass", "Linkage described", "mass", "less", _held(lambda held: held.mass_kg)),
    _figure("linkage_factor", "Linkage, times the load", "number", "more", _held(lambda held: held.factor)),
    _figure("linkage_lost", "Lost in the linkage", "angle", "less", _held(lambda held: radians(held.lost_deg))),
    _figure("loading", "Wing loading", "loading", "less", _of("air", lambda air: air.loading_kg_m2)),
    _figure("sink", "Sinks", "speed", "less", _of("air", lambda air: air.sink_m_s)),
    _figure("still_air", "Still-air time", "time", "more", _of("air", lambda air: air.time_s)),
    _figure("kept", "Time kept", "ratio", "more", _of("air", lambda air: air.time_kept)),
)


def decimals(size: float) -> int:
    """Return the decimals of a change between plain numbers, the larger of which is `size`.

    Examples
    --------
    >>> decimals(8.33), decimals(83.3)
    (1, 0)
    """
    return 1 if size < 10.0 else 0


def _rows(before: Assessment, after: Assessment) -> Iterator[Row]:
    if before.verdict is not None and after.verdict is not None:
        step = VERDICTS.index(after.verdict) - VERDICTS.index(before.verdict)
        judged = "better" if step > 0 else "worse" if step < 0 else "same"
        yield Row(
            id="verdict", label="Verdict", dimension="verdict", before=before.verdict, after=after.verdict,
            change=None, judged=judged,
        )  # fmt: skip
    for figure in FIGURES:
        was, now = figure.take(before), figure.take(after)
        if was is not None and now is not None and isfinite(was) and isfinite(now):
            yield Row(
                id=figure.id, label=figure.label, dimension=figure.dimension, before=was, after=now,
                change=now - was, judged=_judged(was, now, figure),
            )  # fmt: skip


def _judged(was: float, now: float, figure: _Figure) -> str:
    if figure.dimension == "number" and min(was, now) >= MANY:
        return "same"  # beyond that no difference is known
    change = now - was
    least = 0.5 * 10.0 ** -decimals(max(was, now)) if figure.dimension == "number" else None
    if abs(change) < (NOTICED[figure.dimension] if least is None else least):
        return "same"
    if figure.good == "":
        return ""
    return "better" if (change > 0.0) == (figure.good == "more") else "worse"


def _differences(before: Budget, after: Budget) -> Iterator[Difference]:
    """Yield what differs outside gear and cell, by what it means and not by how it was typed."""
    blocks = {key: kind for key, kind in BLOCKS.items() if key != "cell"}
    for key, kind in {"": Budget, **blocks}.items():
        old, new = ((getattr(budget, key) or kind()) if key else budget for budget in (before, after))
        for name in described(kind):
            was, now = getattr(old, name), getattr(new, name)
            if not means_the_same(was, now) and (key or name not in ("format", "name")):
                path = f"{key}.{name.rstrip('_')}" if key else name
                yield Difference(path=path, before=_typed(was), after=_typed(now))


def _typed(entry: Entry[Any] | None) -> str:
    return "" if entry is None or entry.typed is None else str(entry.typed)
