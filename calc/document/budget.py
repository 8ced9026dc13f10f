"""The budget document: one model, its gear, its cell, its session.

JSON that a person can read; every quantity is text with its unit and comes back as typed. `read` takes any document
and tells everything wrong with it at once, each problem with its field path, beside the budget that the sound part
makes: a field that cannot be read is left out and listed in `Budget.unread`, so nothing is worked out from it.

What the document holds is told in `calc.document.blocks` and in the `entries` that it lists.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calc.document.blocks import BLOCKS, LISTS, MOST, MOST_ROWS, Budget
from calc.document.entries import Model
from calc.document.fields import described, key_of
from calc.document.jsontext import dumps, loads
from calc.document.reading import Reader
from calc.document.systems import system_of
from calc.errors import BudgetError, Problem

__all__ = ["BLOCKS", "MOST_ROWS", "Budget", "Reading", "from_json", "missing_masses", "read", "to_document", "to_json"]

SCHEMA = "$schema"  # a document may name its schema; nothing is read there


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What a document came to: the budget of its sound part, and every problem."""

    budget: Budget
    problems: tuple[Problem, ...]


def read(document: object) -> Reading:
    """Return the budget that a document holds, with everything wrong with it.

    Parameters
    ----------
    document : object
        What `json.loads` gave: a mapping as in the example budgets, or anything else (then it is one problem).

    Examples
    --------
    >>> reading = read({"model": {"airframe": "44.5 g", "wing_area": "8 g"}, "gear": [{"mass": "1.1"}]})
    >>> reading.budget.gear[0].mass.value
    0.0011
    >>> [(problem.field, problem.code) for problem in reading.problems]
    [('model.wing_area', 'other_dimension')]
    """
    if not isinstance(document, Mapping):
        return Reading(budget=Budget(), problems=(Problem(field="", code="not_a_budget"),))
    reader = Reader(system_of(document))
    top = reader.entries(Budget, document, "", frozenset([*BLOCKS, *LISTS, SCHEMA]))
    blocks: dict[str, Any] = {
        key: reader.part(kind, document[key], key) for key, kind in BLOCKS.items() if document.get(key) is not None
    }
    lists: dict[str, Any] = {
        key: _rows(reader, key, kind, document[key]) for key, kind in LISTS.items() if document.get(key) is not None
    }
    unread = frozenset(problem.field for problem in reader.problems)
    return Reading(budget=Budget(**top, **blocks, **lists, unread=unread), problems=reader.all_problems())


def _rows(reader: Reader, key: str, kind: type, raw: object) -> tuple[Any, ...]:
    """Return the rows of a list."""
    if not isinstance(raw, list | tuple):
        reader.refuse(key, "not_a_list")
        return ()
    if len(raw) > MOST[key]:
        reader.refuse(key, "too_many_rows", most=MOST[key], count=len(raw))
    paths = [f"{key}.{index}" for index in range(MOST[key])]
    return tuple(reader.part(kind, row, at) for at, row in zip(paths, raw, strict=False))


def missing_masses(budget: Budget) -> Iterator[str]:
    """Yield the path of each mass without which a switched-on part cannot be counted."""
    for index, row in enumerate(budget.gear):
        if row.mass is None and row.weighed is None and not row.off.value:
            yield f"gear.{index}.mass"
    if budget.cell is not None and budget.cell.mass is None and budget.cell.weighed is None:
        yield "cell.mass"
    for index, part in enumerate(budget.airframe):
        if part.weighed is None:
            yield from (f"airframe.{index}.{name}" for name in part.lacks)


def from_json(source: str) -> Budget:
    """Return the budget in a JSON text; strict: every mass of a switched-on part must be there.

    Raises
    ------
    BudgetError
        With every problem of the document at once.

    Examples
    --------
    >>> budget = from_json('{"gear": [{"kind": "servo", "mass": "1,7 g"}]}')
    >>> to_document(budget)
    {'gear': [{'kind': 'servo', 'mass': '1,7 g'}]}
    """
    return sound(loads(source))


def sound(document: object) -> Budget:
    """Return the budget of a document; strict, as `from_json`.

    Raises
    ------
    BudgetError
        With every problem of the document at once.
    """
    reading = read(document)
    named = {problem.field for problem in reading.problems}
    lacking = [
        path for path in missing_masses(reading.budget) if not named & {path, f"{path.rpartition('.')[0]}.weighed"}
    ]
    problems = reading.problems + tuple(Problem(field=path, code="missing") for path in lacking)
    if problems:
        raise BudgetError(problems)
    return reading.budget


def to_document(budget: Budget) -> dict[str, Any]:
    """Return the document as it was typed: entries that were given, in the order of the blocks."""
    document = _typed(budget)
    for key in LISTS:
        if getattr(budget, key):
            document[key] = [_typed(row) for row in getattr(budget, key)]
    for key in BLOCKS:
        block = getattr(budget, key)
        if block is not None and (key != "model" or block != Model()):
            document[key] = _typed(block)
    return document


def _typed(block: Any) -> dict[str, Any]:
    entries = {key_of(name): getattr(block, name) for name in described(type(block))}
    return {key: item.typed for key, item in entries.items() if item is not None and item.typed is not None}


def to_json(budget: Budget) -> str:
    """Return the document as readable JSON text; the inverse of `from_json`."""
    return dumps(to_document(budget), indent=1)
