"""Figures that would do: a smaller draw, a shorter flight, a smaller reserve, a lighter airframe.

Each is found by halving over round figures, every step of which is worked out by `assess`, and is on the safe side:
the figure told was itself found to do. A draw put in so is a wish until it is measured, and goes in as a guess. One
cell has to last one flight (`calc.whole`), so fewer flights change nothing: what counts is how long one of them is.
"""

from collections.abc import Iterator, Mapping
from itertools import islice
from math import ceil, floor, log10
from typing import Any

from calc import digits, units
from calc.changes.change import Change, Proposal
from calc.changes.standing import WEIGHT
from calc.changes.trials import Trials, typed, with_entries
from calc.document.entries import GearRow
from calc.english import row_name
from calc.subject import unread, value
from calc.subjects.power.entries import Session

MOST_DRAWS = 2  # rows whose draw is looked at, those that draw most
SHORTEST = 0.5  # our rule: a flight of less than half as long is another session
LIGHTEST = 0.7  # our rule: an airframe of less than that is another model
TRIED = (1.0, 1.5, 2.5)  # times the grams that are short
Tried = tuple[Mapping[str, Any], Proposal]


def draws(trials: Trials) -> Iterator[Change]:
    """Yield the draws that would do, of the rows that draw most."""
    if not trials.stands.bad("run"):
        return
    rows = [
        (-_worth(row)[1], f"gear.{index}", _worth(row)[0])
        for index, row in enumerate(trials.budget.gear)
        if not row.off.value and _worth(row)[1] > 0.0 and trials.sound(f"gear.{index}")
    ]
    for _, path, name in sorted(rows)[:MOST_DRAWS]:
        found = _less_draw(trials, path, name)
        if found is not None:
            yield found


def _worth(row: GearRow) -> tuple[str, float]:
    """Return which draw of a row counts most in the mean, with what that comes to [A]."""
    quiet_a, busy_a, share = value(row.draw) or 0.0, value(row.busy_draw), value(row.busy) or 0.0
    busy = 0.0 if busy_a is None else share * busy_a
    quiet = quiet_a if busy_a is None else quiet_a * (1.0 - share)
    name = "busy_draw" if busy > quiet else "draw"
    return name, row.count.value * max(busy, quiet)


def _less_draw(trials: Trials, path: str, name: str) -> Change | None:
    row = trials.row(path)
    assert isinstance(row, GearRow)
    entry = getattr(row, name)
    unit = units.parse(str(entry.typed), "current", trials.system).unit
    step, places = grid(units.from_si(entry.value, unit, "current"), 2)
    least_a = (value(row.draw) or 0.0) if name == "busy_draw" else 0.0

    def way(number: int) -> Tried:
        text = f"{number * step:.{places}f} {unit}"
        less_a = entry.value - units.to_si(number * step, unit, "current")
        what = Proposal(
            code="draw", path=f"{path}.{name}", name=row.called, before=typed(entry, unit), after=text,
            measure=less_a / entry.value, facts={"less_a": less_a, "at_work": name == "busy_draw"}, sure=False,
        )  # fmt: skip
        return with_entries(trials.document, path, {name: text, "draw_known_by": "guess"}), what

    low = max(1, ceil(units.from_si(least_a, unit, "current") / step - 1e-9))
    return trials.least(way, low, _below(units.from_si(entry.value, unit, "current"), step), "run")


def grid(number: float, figures: int) -> tuple[float, int]:
    """Return a round step with which a number above 0 has so many figures, and its decimals.

    Examples
    --------
    >>> grid(28.0, 2), grid(160.0, 2), grid(6.4, 2), grid(40.6, 3)
    ((1.0, 0), (10.0, 0), (0.1, 1), (0.1, 1))
    """
    power = floor(log10(number) + 1e-12) - figures + 1
    return float(f"1e{power}"), max(0, -power)


def _below(number: float, step: float) -> int:
    """Return how many steps are the first that reach a number: those below it are less."""
    return ceil(number / step - 1e-9)


def flight_time(trials: Trials) -> Iterator[Change]:
    """Yield how long a flight could be."""
    session = trials.budget.session
    if not trials.stands.bad("run") or session is None or session.on_time is None or unread(trials.budget, "session"):
        return
    entry = session.on_time
    step_s = 10 if entry.value < 600.0 else 60

    def way(number: int) -> Tried:
        text = digits.duration(number * step_s)
        less_s = entry.value - number * step_s
        what = Proposal(
            code="flight_time", path="session.on_time", name="", before=typed(entry, "min"), after=text,
            measure=less_s / entry.value, facts={"less_s": less_s},
        )  # fmt: skip
        return with_entries(trials.document, "session", {"on_time": text}), what

    found = trials.least(way, max(1, ceil(entry.value * SHORTEST / step_s)), _below(entry.value, step_s), "run")
    yield from () if found is None else (found,)


def reserve(trials: Trials) -> Iterator[Change]:
    """Yield the reserve that would do: it lets less be left, and nothing run longer."""
    if not trials.stands.bad("run") or unread(trials.budget, "session", "session.reserve"):
        return
    entry = (trials.budget.session or Session()).reserve

    def way(number: int) -> Tried:
        text = f"{number} %"
        what = Proposal(
            code="reserve", path="session.reserve", name="",
            before=typed(entry, "%") or digits.whole_percent(entry.value), after=text,
            measure=entry.value - number / 100.0, facts={"less": entry.value - number / 100.0},
        )  # fmt: skip
        return with_entries(trials.document, "session", {"reserve": text}), what

    found = trials.least(way, 0, _below(entry.value, 0.01), "run")
    yield from () if found is None else (found,)


def airframe(trials: Trials) -> Iterator[Change]:
    """Yield the grams to save in the airframe, as a figure: there is nothing to press."""
    model = trials.budget.model
    name = "airframe" if model.airframe_weighed is None else "airframe_weighed"
    entry = getattr(model, name)
    limits = [limit for limit in trials.now.limits_with_lead if limit.in_hand_kg < limit.spread_kg]
    helps = bool(limits) and all(limit.per_airframe < 0.0 for limit in limits)  # a lighter one loosens no share rule
    if not trials.stands.bad(WEIGHT) or entry is None or not helps or unread(trials.budget, "model"):
        return
    unit = units.parse(str(entry.typed), "mass", trials.system).unit
    number = units.from_si(entry.value, unit, "mass")
    step, places = grid(number, 3)

    def way(steps: int) -> Tried:
        text = f"{steps * step:.{places}f} {unit}"
        saved_kg = entry.value - units.to_si(steps * step, unit, "mass")
        what = Proposal(
            code="airframe", path=f"model.{name}", name=row_name("airframe", ""), before=typed(entry, unit), after=text,
            measure=saved_kg / entry.value, facts={"saved_kg": saved_kg}, sure=False, presses=False,
        )  # fmt: skip
        return with_entries(trials.document, "model", {name: text}), what

    first, needed = _below(number, step), trials.stands.short[WEIGHT] / units.to_si(step, unit, "mass")
    lows = [first - max(1, ceil(needed * times)) for times in TRIED]
    found = (trials.least(way, low, first, WEIGHT) for low in lows if low >= LIGHTEST * first)
    yield from islice((each for each in found if each is not None), 1)
