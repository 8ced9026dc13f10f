"""What the cells of a column look like: words for kinds, numbers, units, counts, free text."""

import itertools
import re
from collections.abc import Callable, Sequence

from calc import units
from calc.document.fields import ChoiceField, FlagField
from calc.document.gearfields import gear_fields
from calc.document.gearwords import flag_of, kind_of, known_by
from calc.document.headings import NOTES, NUMBER, TOTAL, UNIT
from calc.errors import QuantityError

NOTHING = frozenset(["", "-", "–", "—", "--", "?", "??", "n/a", "na", "n.a.", "tbd", "tbc", "...", "…", "k.a."])
MOSTLY = 0.5  # share of the cells that must fit
SOME = 0.2  # of kinds, since many lists have kinds of their own among them
STRICT = frozenset(["kind", "known_by", "draw_known_by", "station", "count", "series", NUMBER, UNIT])
BY_UNIT = {  # which fields a column with units written in its cells may be
    "mass": ("mass", "weighed"), "current": ("draw", "busy_draw"), "charge": ("capacity",), "voltage": ("min_volts",),
    "length": ("station",), "ratio": ("busy",), "torque": ("torque",), "force": ("thrust",),
    "resistance": ("resistance",),
}  # fmt: skip
_COUNT = re.compile(r"[x×]?\s*([0-9]{1,4})(?:[.,]0+)?\s*(?:[x×]|pcs?|stk?|stück|ks|szt|pieces?|off)?\.?", re.IGNORECASE)


def is_nothing(cell: str) -> bool:
    """Return whether a cell says that there is nothing to say.

    Examples
    --------
    >>> is_nothing(" – "), is_nothing("n/a"), is_nothing("0")
    (True, True, False)
    """
    return cell.strip().casefold() in NOTHING


def reads(cell: str, dimension: str) -> bool:
    """Return whether a cell is a quantity of a dimension, with its unit or without."""
    try:
        units.parse(cell, dimension, "metric")
    except QuantityError as error:
        return error.code == "two_ways"
    return True


def is_quantity(cell: str) -> bool:
    """Return whether a cell is a number, with a unit that somebody knows or without one."""
    return bool(re.match(r"[-+−.,]?[0-9]", cell)) and (
        units.is_bare(cell) or any(reads(cell, dimension) for dimension in BY_UNIT)
    )


def bare_unit(cell: str) -> str:
    """Return a unit without the brackets around it.

    Examples
    --------
    >>> bare_unit("[g]"), bare_unit("(mA)"), bare_unit("in mm")
    ('g', 'mA', 'mm')
    """
    return cell.strip().strip("[]()").strip().removeprefix("in ").strip()


def is_unit(cell: str) -> bool:
    """Return whether a cell is a unit and nothing else."""
    return any(units.unit_label(bare_unit(cell), dimension) for dimension in BY_UNIT) and not re.search("[0-9]", cell)


def count_of(cell: str) -> str:
    """Return the digits of a count as people write it, "" for no count.

    Examples
    --------
    >>> count_of("2x"), count_of("× 3"), count_of("2.0"), count_of("4 pcs."), count_of("1.5")
    ('2', '3', '2', '4', '')
    """
    found = _COUNT.fullmatch(cell.strip())
    return "" if found is None else str(int(found[1]))


def runs(sample: Sequence[str]) -> bool:
    """Return whether the cells number the rows: 1, 2, 3 and so on; few of them only where they begin there."""
    numbers = [int(cell.rstrip(".")) for cell in sample if re.fullmatch(r"[0-9]{1,5}\.?", cell)]
    return (
        len(numbers) == len(sample) > 1
        and (len(numbers) > 3 or numbers[0] in (0, 1))
        and all(after == before + 1 for before, after in itertools.pairwise(numbers))
    )


def _share(sample: Sequence[str], test: Callable[[str], object]) -> float:
    said = [cell for cell in sample if not is_nothing(cell)]
    return sum(bool(test(cell)) for cell in said) / len(said) if said else 1.0


def fits(name: str, dimension: str, sample: Sequence[str]) -> bool:
    """Return whether what is in a column can be a field; an empty one can be any."""
    if dimension:
        return _share(sample, lambda cell: reads(cell, dimension)) >= MOSTLY
    tests: dict[str, Callable[[str], object]] = {
        "kind": kind_of, "known_by": known_by, "draw_known_by": known_by, "count": count_of, "series": count_of,
        "name": lambda cell: not is_quantity(cell), UNIT: is_unit,
    }  # fmt: skip
    if isinstance(gear_fields().get(name), FlagField):
        return _share(sample, lambda cell: flag_of(cell) is not None) >= MOSTLY
    if name == NUMBER:
        return runs(sample)
    choices = gear_fields().get(name)
    if isinstance(choices, ChoiceField) and name not in tests:
        return _share(sample, choices.allows) >= MOSTLY
    least = SOME if name == "kind" else MOSTLY
    return name in (NOTES, TOTAL) or _share(sample, tests[name]) >= least


def guesses(sample: Sequence[str]) -> list[str]:
    """Return what a column without a heading may be, the likeliest first.

    Examples
    --------
    >>> guesses(["servo", "rx"]), guesses(["1.7", "1.1"]), guesses(["28 mA", "6 mA"])
    (['kind', 'name'], ['mass', 'weighed'], ['draw', 'busy_draw'])
    >>> guesses(["1", "2", "3"]), guesses(["1", "2", "1"]), guesses(["fine weather"])
    (['#number'], ['count', 'mass', 'weighed'], ['name'])
    """
    said = [cell for cell in sample if not is_nothing(cell)]
    if not said:
        return []
    if _share(said, lambda cell: units.unit_label(bare_unit(cell), "mass")) >= MOSTLY:
        return [UNIT]
    if runs(said):
        return [NUMBER]
    bare = _share(said, units.is_bare)
    if bare > 1.0 - MOSTLY:
        counts = _share(said, lambda cell: count_of(cell) and int(count_of(cell)) <= 50) == 1.0
        return [*(["count"] if counts else []), "mass", "weighed"]
    for dimension, names in BY_UNIT.items():
        if sum(is_quantity(cell) and reads(cell, dimension) for cell in said) >= MOSTLY * len(said):
            return list(names)
    words = [name for name, test in (("kind", kind_of), ("known_by", known_by)) if _share(said, test) >= 0.6]
    return [*words, "name"]
