"""The parts in which two budgets differ, and what each of them alone buys.

A swap is worked out in the budget before, with that one part changed and nothing else; swaps together need not add up
to the whole change, since lead, ballast and the cell's voltage answer to all of them at once.
"""

import dataclasses
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import isclose
from typing import Any

from calc.assess import Assessment, assess
from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.document.fields import Entry, described
from calc.document.paths import place
from calc.subject import value
from calc.vocabulary import Act


@dataclass(frozen=True, kw_only=True)
class Swap:
    """A part that differs, and what it alone changes: mass of the gear [kg], run and still-air time [s], if known."""

    path: str  # `gear.N` or `cell`, after; before where it is left out
    act: Act  # "change" where the name is the same
    before: str  # what it is called; "" where there is none
    after: str
    fields: tuple[str, ...]  # paths without the row's number, of what differs between two parts
    mass_kg: float | None
    run_s: float | None
    still_air_s: float | None


def swaps(before: Budget, after: Budget, was: Assessment) -> Iterator[Swap]:
    """Yield each part that differs, with what it alone changes; `was` is the answer to the budget before."""
    for here, there in _pairs(before, after):
        old = None if here is None else _switched_on(before.gear[here])
        new = None if there is None else _switched_on(after.gear[there])
        if (old is None and new is None) or (old is not None and _same(before, here, after, there)):
            continue
        path = f"gear.{here if there is None or new is None else there}"
        at = len(before.gear) if here is None else here
        yield _worth(path, old, new, was, assess(_with_row(before, at, after, None if new is None else there)), at)
    old_cell, new_cell = before.cell, after.cell
    if not _say_the_same(old_cell, new_cell) or _unread(before, "cell") != _unread(after, "cell"):
        yield _worth("cell", old_cell, new_cell, was, assess(_with_cell(before, after)), "cell")


def _switched_on(row: GearRow) -> GearRow | None:
    return None if row.off.value else row


def means_the_same(one: Entry[Any] | None, other: Entry[Any] | None) -> bool:
    """Return whether two entries mean the same, however they were typed: 9 dm² is 0.09 m² but for the last bit.

    Examples
    --------
    >>> means_the_same(Entry(value=0.09, typed="9 dm²"), Entry(value=0.09 + 1e-17, typed="0.09 m²"))
    True
    """
    was, now = value(one), value(other)
    if isinstance(was, float) and isinstance(now, float):
        return isclose(was, now, rel_tol=1e-9)
    return bool(was == now)


def _unlike(old: GearRow | Cell, new: GearRow | Cell) -> Iterator[str]:
    """Yield the names of the entries that do not mean the same."""
    for name in described(type(old)):
        if not means_the_same(getattr(old, name), getattr(new, name)):
            yield name


def _say_the_same(old: GearRow | Cell | None, new: GearRow | Cell | None) -> bool:
    if old is None or new is None:
        return old is new
    return not any(_unlike(old, new))


def _unread(budget: Budget, path: str) -> frozenset[str]:
    """Return the keys of a block that could not be read; "" for the block itself."""
    return frozenset(
        name.removeprefix(path).removeprefix(".") for name in budget.unread if f"{name}.".startswith(f"{path}.")
    )


def _same(before: Budget, here: int | None, after: Budget, there: int | None) -> bool:
    if here is None or there is None:
        return False
    return _say_the_same(before.gear[here], after.gear[there]) and _unread(before, f"gear.{here}") == _unread(
        after, f"gear.{there}"
    )


def _pairs(before: Budget, after: Budget) -> list[tuple[int | None, int | None]]:
    """Return which row became which: the same one, one of the same kind and name, of the same kind, else in turn.

    Rows of other kinds become each other only if there are as many as before; else they are left out and added.
    """
    old, new = list(range(len(before.gear))), list(range(len(after.gear)))

    def alike(here: int, there: int, *names: str) -> bool:
        return all(getattr(before.gear[here], name).value == getattr(after.gear[there], name).value for name in names)

    ways: list[Callable[[int, int], bool]] = [
        lambda here, there: _same(before, here, after, there),
        lambda here, there: alike(here, there, "kind", "name"),
        lambda here, there: alike(here, there, "kind"),
        lambda _here, _there: len(before.gear) == len(after.gear),
    ]
    found: list[tuple[int | None, int | None]] = []
    for way in ways:
        for here in list(old):
            there = next((each for each in new if way(here, each)), None)
            if there is not None:
                old.remove(here)
                new.remove(there)
                found.append((here, there))
    found += [(here, None) for here in old]
    return sorted(found, key=lambda pair: pair[0] or 0) + [(None, there) for there in new]


def _with_row(before: Budget, at: int, after: Budget, there: int | None) -> Budget:
    """Return the budget before, its row `at` as another one of the budget after; without it where that is None."""
    gear = list(before.gear)
    unread = frozenset(path for path in before.unread if not f"{path}.".startswith(f"gear.{at}."))
    if there is None:
        gear[at] = dataclasses.replace(gear[at], off=Entry(value=True))
    else:
        gear[at : at + 1] = [after.gear[there]]
        unread |= {f"gear.{at}.{key}".removesuffix(".") for key in _unread(after, f"gear.{there}")}
    return dataclasses.replace(before, gear=tuple(gear), unread=unread)


def _with_cell(before: Budget, after: Budget) -> Budget:
    """Return the budget before with the cell of the one after."""
    unread = frozenset(path for path in before.unread if place(path).block != "cell")
    unread |= {path for path in after.unread if place(path).block == "cell"}
    return dataclasses.replace(before, cell=after.cell, unread=unread)


def _worth(
    path: str, old: GearRow | Cell | None, new: GearRow | Cell | None, was: Assessment, now: Assessment, at: int | str
) -> Swap:  # fmt: skip
    """Return a swap with what it changes; `at` is where it stands in the changed budget."""
    counted = {row.path for row in (*was.rows, *now.rows)} - {*was.uncounted, *now.uncounted}
    place = at if isinstance(at, str) else f"gear.{at}"
    names = ("" if old is None else old.called, "" if new is None else new.called)
    act: Act = "leave out" if new is None else "add" if old is None else "change" if names[0] == names[1] else "swap"
    return Swap(
        path=path,
        act=act,
        before=names[0],
        after=names[1],
        fields=tuple(_changed(old, new)),
        mass_kg=now.gear.expected_kg - was.gear.expected_kg if place in counted else None,
        run_s=_runs_longer(was, now),
        still_air_s=_longer(was, now),
    )


def _runs_longer(was: Assessment, now: Assessment) -> float | None:
    """Return how much longer it runs at worst [s]; None where one run is not known, or only from above."""
    if was.power is None or now.power is None or was.power.at_most or now.power.at_most:
        return None
    return now.power.low.time_s - was.power.low.time_s


def _longer(was: Assessment, now: Assessment) -> float | None:
    """Return how much longer it stays up [s]."""
    times = [None if found.air is None else found.air.time_s for found in (was, now)]
    return None if times[0] is None or times[1] is None else times[1] - times[0]


def _changed(old: GearRow | Cell | None, new: GearRow | Cell | None) -> Iterable[str]:
    if old is None or new is None:
        return
    block = "cell" if isinstance(new, Cell) else "gear"
    yield from (f"{block}.{name}" for name in _unlike(old, new))
