"""A comparison in words: its figures as shown, its sentences, and the sheet of at most 78 characters that prints it."""

from collections.abc import Iterator
from math import floor

from calc import digits, wording
from calc.compare.changes import Swap
from calc.compare.sides import Comparison, Difference
from calc.document.blocks import word
from calc.document.letters import plain
from calc.english import wrapped
from calc.headline import short_headline
from calc.unit_system import UnitSystem

# Our rule: what a swap changes by less than the last digit shown is not told [kg, s].
NOTICED = {"mass": 5e-6, "time": 0.05, "run": 0.5}


def headline(found: Comparison, system: UnitSystem) -> str:
    """Return both answers in a few words, the one after first."""
    now, before = (short_headline(each, system) for each in (found.after, found.before))
    return f"{now}; before: {wording.lowered(before)}."


def run_change(seconds: float) -> str:
    """Return a change of a run time: two figures below ten minutes.

    Examples
    --------
    >>> run_change(126.0), run_change(598.0), run_change(840.6)
    ('2 min 10 s', '10 min', '14 min')
    """
    return digits.duration(float(digits.figures(seconds)) if seconds < 600.0 else floor(seconds + 0.5))


def _size(number: float) -> float:
    """Return a change without its sign and its last bits, which Pythons add up differently: a tie is then the same."""
    return round(abs(number), 9)


def swap_sentence(swap: Swap, system: UnitSystem) -> str:
    """Return what a part is changed for, and what that alone buys."""
    worth = list(_worth(swap, system))
    return f"{_act(swap)}: {', '.join(worth) if worth else 'no change that can be seen'}."


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


def _worth(swap: Swap, system: UnitSystem) -> Iterator[str]:
    """Yield what a swap changes, as far as it is seen."""
    if swap.mass_kg is not None and abs(swap.mass_kg) >= NOTICED["mass"]:
        yield f"{system.mass(_size(swap.mass_kg))} {'heavier' if swap.mass_kg > 0 else 'lighter'}"
    if swap.still_air_s is not None and abs(swap.still_air_s) >= NOTICED["time"]:
        yield f"{digits.measured(_size(swap.still_air_s))} s {'more' if swap.still_air_s > 0 else 'less'} still air"
    if swap.run_s is not None and abs(swap.run_s) >= NOTICED["run"]:
        yield f"{run_change(abs(swap.run_s))} {'longer' if swap.run_s > 0 else 'shorter'} run"


def difference_sentence(found: Difference) -> str:
    """Return an entry outside the gear as typed now and before."""
    now, before = (plain(word(found.path, text)) or "not given" for text in (found.after, found.before))
    return f"{wording.field_name(found.path)}: {now}, before {before}"


def unchanged(found: Comparison) -> str:
    """Return the figures in which nothing changed that is seen, in one sentence; "" if there are none."""
    same = [wording.lowered(row.label) for row in found.rows if row.judged == "same"]
    return f"No change: {', '.join(same)}." if same else ""


def names(found: Comparison) -> tuple[str, str]:
    """Return what the two budgets are called, before and after."""
    before, after = (name.strip() for name in found.names)
    return before or "Budget without a name", after or "Budget without a name"


def plain_text(found: Comparison, system: UnitSystem) -> str:
    """Return the comparison as a sheet of plain text."""
    before, after = names(found)
    parts = [
        [*wrapped(f"Before: {before}"), *wrapped(f"Now: {after}")],
        wrapped(headline(found, system)),
        list(_table(found)),
        [line for swap in found.swaps for line in wrapped(swap_sentence(swap, system), "* ")],
        [line for each in found.differences for line in wrapped(difference_sentence(each), "- ")],
    ]
    return "\n\n".join("\n".join(lines) for lines in parts if lines)


def _table(found: Comparison) -> Iterator[str]:
    yield f"{'Figure':27}{'before':>14} {'now':>14} {'change':>13}"
    for row in found.rows:
        before, after = row.shown
        yield f"{row.label:27}{before:>14} {after:>14} {row.told:>13}  {row.judged}".rstrip()
