"""A comparison in words: its figures as shown, its sentences, and the sheet of at most 78 characters that prints it."""

from collections.abc import Iterator
from math import degrees, floor

from calc import sentences, shown, wording
from calc.assess import Assessment
from calc.compare import NOTICED, Comparison, Difference, Row, decimals
from calc.sheet import wrapped
from calc.swaps import Swap


def headline(found: Comparison, system: str = "metric") -> str:
    """Return both answers in a few words, the one after first."""
    now, before = (sentences.short_headline(each, system) for each in (found.after, found.before))
    return f"{now}; before: {wording.lowered(before)}."


def figure(number: float | str, dimension: str, system: str = "metric", spread_kg: float = 0.0) -> str:
    """Return a figure of a comparison as the answers show it.

    Examples
    --------
    >>> figure(0.0123, "mass"), figure(3125.0, "run"), figure(41.23, "time"), figure("fits", "verdict")
    ('12.3 g', '52 min', '41 s', 'fits')
    >>> figure(0.0463, "current"), figure(3.456, "voltage"), figure(7, "count"), figure(0.01, "angle")
    ('46 mA', '3.46 V', '7', '0.6°')
    """
    if isinstance(number, str):
        return number
    plain = {
        "mass": lambda: shown.mass(number, system, spread_kg),
        "current": lambda: shown.current(number),
        "run": lambda: shown.duration(number),
        "time": lambda: f"{shown.figures(number)} s",
        "number": lambda: shown.times(number),
        "angle": lambda: shown.lost(degrees(number)),
        "loading": lambda: shown.rounded(number, dimension, system, 3),
        "speed": lambda: shown.rounded(number, dimension, system),
    }
    return plain[dimension]() if dimension in plain else _finest(number, dimension, system)


def _finest(number: float, dimension: str, system: str) -> str:
    """Return a figure to the last digit in which a change is seen."""
    plain = {
        "mass": lambda: shown.mass(number, system),
        "ratio": lambda: shown.percent(number),
        "current": lambda: shown.current(number),
        "time": lambda: f"{shown.measured(number)} s",
        "voltage": lambda: f"{shown.signed(number, 2)} V",
        "count": lambda: f"{number:.0f}",
        "length": lambda: shown.length(number, system),
        "angle": lambda: f"{degrees(number):.1f}°",
    }
    return plain[dimension]() if dimension in plain else shown.quantity(number, dimension, system, 2)


def change(row: Row, system: str = "metric") -> str:
    """Return a figure's change with its sign; "" where nothing changed that is seen, or nobody knows by how much."""
    if row.change is None or row.judged == "same":
        return ""
    size, most = _size(row.change), max(abs(float(row.before)), abs(float(row.after)))
    if row.dimension == "run":
        said = run_change(size)
    elif row.dimension == "number":
        if most >= shown.MANY:
            return ""
        said = f"{size:.{decimals(most)}f}"
    else:
        said = _finest(size, row.dimension, system)
    return f"{'+' if row.change > 0 else '−'}{said}"


def run_change(seconds: float) -> str:
    """Return a change of a run time: two figures below ten minutes.

    Examples
    --------
    >>> run_change(126.0), run_change(598.0), run_change(840.6)
    ('2 min 10 s', '10 min', '14 min')
    """
    return shown.duration(float(shown.figures(seconds)) if seconds < 600.0 else floor(seconds + 0.5))


def cells(row: Row, found: Comparison, system: str = "metric") -> tuple[str, str, str]:
    """Return a row's figures before and now, and their change, as shown."""
    before, after = (
        figure(number, row.dimension, system, _spreads(answer).get(row.id, 0.0))
        for number, answer in ((row.before, found.before), (row.after, found.after))
    )
    return before, after, change(row, system)


def _spreads(answer: Assessment) -> dict[str, float]:
    """Return the spread of the masses that have one, by the ids of their rows [kg]."""
    whole_kg, gear_kg, governs = answer.model.spread_kg, answer.gear.spread_kg, answer.governs
    found = {f"in_hand_{limit.id}": limit.spread_kg for limit in answer.limits}
    found |= {"in_hand": 0.0 if governs is None else governs.spread_kg, "gear": gear_kg, "spread": gear_kg}
    return found | {"flying": whole_kg, "class_free": whole_kg, "class_short": whole_kg}


def _size(number: float) -> float:
    """Return a change without its sign and its last bits, which Pythons add up differently: a tie is then the same."""
    return round(abs(number), 9)


def swap_sentence(swap: Swap, system: str = "metric") -> str:
    """Return what a part is changed for, and what that alone buys."""
    worth = list(_worth(swap, system))
    return f"{_act(swap)}: {', '.join(worth) if worth else 'no lighter, no longer in the air or on the cell'}."


def _act(swap: Swap) -> str:
    if swap.act == "leave out":
        return f"Without {_the(swap.before)}"
    if swap.act == "add":
        return f"With {_the(swap.after)}"
    if swap.act == "swap":
        return f"{_capital(swap.after)} instead of {_the(swap.before)}"
    changed = ", ".join(wording.lowered(wording.LABELS[path]) for path in swap.fields)
    return f"{_capital(swap.after)}{f' ({changed})' if changed else ''}"


def _capital(name: str) -> str:
    return name[:1].upper() + name[1:]


def _the(name: str) -> str:
    """Return a part's name as it stands in a sentence.

    Examples
    --------
    >>> _the("push rod"), _the("one cell, 40 mAh"), _the("a thread")
    ('the push rod', 'one cell, 40 mAh', 'a thread')
    """
    first = name.split(" ")[0].lower()
    return name if first in ("a", "an", "the", "one", "my", "no") or first[:1].isdigit() else f"the {name}"


def _worth(swap: Swap, system: str) -> Iterator[str]:
    """Yield what a swap changes, as far as it is seen."""
    if swap.mass_kg is not None and abs(swap.mass_kg) >= NOTICED["mass"]:
        yield f"{shown.mass(_size(swap.mass_kg), system)} {'heavier' if swap.mass_kg > 0 else 'lighter'}"
    if swap.still_air_s is not None and abs(swap.still_air_s) >= NOTICED["time"]:
        yield f"{shown.measured(_size(swap.still_air_s))} s {'more' if swap.still_air_s > 0 else 'less'} still air"
    if swap.run_s is not None and abs(swap.run_s) >= NOTICED["run"]:
        yield f"{run_change(abs(swap.run_s))} {'longer' if swap.run_s > 0 else 'shorter'} run"


def difference_sentence(found: Difference) -> str:
    """Return an entry outside the gear as typed now and before."""
    now, before = (text or "not given" for text in (found.after, found.before))
    return f"{wording.field_name(found.path)}: {now}, before {before}"


def unchanged(found: Comparison) -> str:
    """Return the figures in which nothing changed that is seen, in one sentence; "" if there are none."""
    same = [wording.lowered(row.label) for row in found.rows if row.judged == "same"]
    return f"No change: {', '.join(same)}." if same else ""


def names(found: Comparison) -> tuple[str, str]:
    """Return what the two budgets are called, before and after."""
    before, after = (name.strip() for name in found.names)
    return before or "Budget without a name", after or "Budget without a name"


def sheet(found: Comparison, system: str = "metric") -> str:
    """Return the comparison as a sheet of plain text."""
    before, after = names(found)
    parts = [
        [*wrapped(f"Before: {before}"), *wrapped(f"Now: {after}")],
        wrapped(headline(found, system)),
        list(_table(found, system)),
        [line for swap in found.swaps for line in wrapped(swap_sentence(swap, system), "* ")],
        [line for each in found.differences for line in wrapped(difference_sentence(each), "- ")],
    ]
    return "\n\n".join("\n".join(lines) for lines in parts if lines)


def _table(found: Comparison, system: str) -> Iterator[str]:
    yield f"{'Figure':27}{'before':>14}{'now':>14}{'change':>14}"
    for row in found.rows:
        before, after, changed = cells(row, found, system)
        yield f"{row.label:27}{before:>14}{after:>14}{changed:>14}  {row.judged}".rstrip()
