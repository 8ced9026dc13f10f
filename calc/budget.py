"""The budget document: one model, its gear, its cell, its session.

JSON that a person can read; every quantity is text with its unit and comes back as typed. `read` takes any document
and tells everything wrong with it at once, each problem with its field path, beside the budget that the sound part
makes: a field that cannot be read is left out and listed in `Budget.unread`, so nothing is worked out from it.
"""

import dataclasses
import difflib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from calc import rules
from calc.errors import BudgetError, Problem
from calc.fields import Entry, FieldRefusedError, choice, described, flag, quantity, text, whole

FORMAT = 1
LONGEST_DOCUMENT = 262_144  # characters
DEEPEST = 6  # brackets within brackets; a budget needs three
MOST_ROWS = 60

KINDS = (
    "receiver", "servo", "coil actuator", "linkage", "altimeter", "tracker", "timer",
    "switch", "wiring", "supply", "mount", "other",
)  # fmt: skip
KNOWN_BY = ("weighed", "maker", "guess")

HEAVIEST = 10.0  # kg; more is no small model


@dataclass(frozen=True, kw_only=True)
class Model:
    """The model without its gear."""

    class_: Entry[str] = choice(*rules.classes(), default="own")
    radio: Entry[str] = choice("steering", "dethermaliser", default="steering")
    airframe: Entry[float] | None = quantity("mass", 0.0, HEAVIEST, above=True)  # kg, without gear, rubber, ballast
    airframe_known_by: Entry[str] = choice(*KNOWN_BY, default="weighed")
    target: Entry[float] | None = quantity("mass", 0.0, HEAVIEST, above=True)  # kg, wished flying mass
    rubber: Entry[float] | None = quantity("mass", 0.0, 1.0)  # kg
    wing_area: Entry[float] | None = quantity("area", 0.0, 5.0, above=True)  # m²
    max_loading: Entry[float] | None = quantity("loading", 0.0, 20.0, above=True)  # kg/m², with rubber
    minimum: Entry[float] | None = quantity("mass", 0.0, HEAVIEST, above=True)  # kg, over the class table's
    maximum: Entry[float] | None = quantity("mass", 0.0, HEAVIEST, above=True)  # kg, over the class table's


@dataclass(frozen=True, kw_only=True)
class Rule:
    """The rule of thumb: gear as a share of flying mass."""

    share: Entry[float] = quantity("ratio", 0.01, 0.9, default=0.20)


@dataclass(frozen=True, kw_only=True)
class GearRow:
    """One line of gear: `count` equal parts."""

    kind: Entry[str] = choice(*KINDS, default="other")
    name: Entry[str] = text()
    count: Entry[int] = whole(1, 50, default=1)
    mass: Entry[float] | None = quantity("mass", 0.0, 2.0)  # kg, of one
    known_by: Entry[str] = choice(*KNOWN_BY, default="weighed")
    station: Entry[float] | None = quantity("length", -2.0, 5.0)  # m, aft of the datum
    draw: Entry[float] | None = quantity("current", 0.0, 20.0)  # A, of one, quiet
    busy_draw: Entry[float] | None = quantity("current", 0.0, 20.0)  # A, of one, at work
    busy: Entry[float] | None = quantity("ratio", 0.0, 1.0)  # share of the time at work
    min_volts: Entry[float] | None = quantity("voltage", 0.0, 30.0)  # V, works down to
    off: Entry[bool] = flag()  # left out of every sum, kept in the document


@dataclass(frozen=True, kw_only=True)
class Cell:
    """The cell that feeds the gear; its mass counts as gear."""

    name: Entry[str] = text()
    mass: Entry[float] | None = quantity("mass", 0.0, 2.0)  # kg
    known_by: Entry[str] = choice(*KNOWN_BY, default="weighed")
    station: Entry[float] | None = quantity("length", -2.0, 5.0)  # m
    capacity: Entry[float] | None = quantity("charge", 0.36, 180_000.0)  # C; 0.1 mAh to 50 Ah
    resistance: Entry[float] | None = quantity("resistance", 0.0, 100.0)  # ohm at 25 °C
    cutoff: Entry[float] = quantity("voltage", 2.5, 4.1, default=3.3)  # V under the mean draw


@dataclass(frozen=True, kw_only=True)
class Session:
    """One outing."""

    flights: Entry[int] | None = whole(1, 500)
    on_time: Entry[float] | None = quantity("time", 1.0, 86_400.0)  # s with the radio on, each flight
    temperature: Entry[float] = quantity("temperature", 253.15, 333.15, default=293.15)  # K
    reserve: Entry[float] = quantity("ratio", 0.0, 0.9, default=0.20)  # share of the charge kept


@dataclass(frozen=True, kw_only=True)
class Balance:
    """Stations, from the datum at the nose, aft positive."""

    airframe_at: Entry[float] | None = quantity("length", -2.0, 5.0)
    rubber_at: Entry[float] | None = quantity("length", -2.0, 5.0)
    target: Entry[float] | None = quantity("length", -2.0, 5.0)
    nose_at: Entry[float] | None = quantity("length", -2.0, 5.0)
    tail_at: Entry[float] | None = quantity("length", -2.0, 5.0)


@dataclass(frozen=True, kw_only=True)
class Budget:
    """The document. Blocks that were not given are None; `unread` holds the paths of entries that made no sense."""

    format: Entry[int] = whole(FORMAT, FORMAT, default=FORMAT)
    name: Entry[str] = text()
    units: Entry[str] = choice("metric", "imperial", default="metric")
    scale_division: Entry[float] = quantity("mass", 0.0, 0.1, default=0.0001)  # kg
    model: Model = Model()
    rule: Rule | None = None
    gear: tuple[GearRow, ...] = ()
    cell: Cell | None = None
    session: Session | None = None
    balance: Balance | None = None
    unread: frozenset[str] = frozenset()


BLOCKS: dict[str, type] = {"model": Model, "rule": Rule, "cell": Cell, "session": Session, "balance": Balance}


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What a document came to: the budget of its sound part, and every problem."""

    budget: Budget
    problems: tuple[Problem, ...]


Block = TypeVar("Block")


class _Reader:
    """Reads the parts of one document and collects the problems."""

    def __init__(self, system: str) -> None:
        self.system = system
        self.problems: list[Problem] = []

    def refuse(self, path: str, code: str, **facts: Any) -> None:
        self.problems.append(Problem(field=path, code=code, facts=facts))

    def block(self, kind: type[Block], raw: object, path: str, beside: frozenset[str] = frozenset()) -> Block:
        """Return a block with the entries that can be read; `beside` names keys that somebody else reads."""
        if not isinstance(raw, Mapping):
            self.refuse(path, "not_a_block")
            return kind()
        fields = described(kind)
        by_key = {name.rstrip("_"): name for name in fields}
        entries = {}
        for key, value in raw.items():
            if key in by_key:
                name = by_key[key]
                found = self.entry(fields[name], value, _join(path, key))
                entries.update({name: found} if found is not None else {})
            elif key not in beside:
                near = difflib.get_close_matches(str(key)[:40], [*by_key, *beside], 1)
                self.refuse(_join(path, str(key)[:40]), "unknown_field", near=near[0] if near else "")
        return kind(**entries)

    def entry(self, field: Any, raw: object, path: str) -> Entry[Any] | None:
        """Return the entry, or None where there is none or it cannot be read. An empty text is no entry."""
        if raw is None or raw == "":
            return None
        if not isinstance(raw, str | int | float):
            self.refuse(path, "not_a_value")
            return None
        try:
            entry: Entry[Any] = field.read(raw, self.system)
        except FieldRefusedError as error:
            self.refuse(path, error.code, typed=shortened(raw), **error.facts)
            return None
        return entry


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
    reader = _Reader("imperial" if document.get("units") == "imperial" else "metric")
    top = reader.block(Budget, document, "", frozenset([*BLOCKS, "gear"]))
    blocks: dict[str, Any] = {
        key: reader.block(kind, document[key], key) for key, kind in BLOCKS.items() if document.get(key) is not None
    }
    gear = _gear(reader, [] if document.get("gear") is None else document["gear"])
    unread = frozenset(problem.field for problem in reader.problems)
    budget = dataclasses.replace(top, **blocks, gear=gear, unread=unread)
    return Reading(budget=budget, problems=tuple(reader.problems))


def _gear(reader: _Reader, raw: object) -> tuple[GearRow, ...]:
    if not isinstance(raw, list | tuple):
        reader.refuse("gear", "not_a_list")
        return ()
    if len(raw) > MOST_ROWS:
        reader.refuse("gear", "too_many_rows", most=MOST_ROWS, count=len(raw))
    return tuple(reader.block(GearRow, row, f"gear.{index}") for index, row in enumerate(raw[:MOST_ROWS]))


def _join(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key


def shortened(raw: object, most: int = 40) -> str:
    """Return a value as text short enough for a sentence.

    Examples
    --------
    >>> shortened("a" * 50, 5)
    'aaaaa…'
    """
    whole_text = str(raw)
    return whole_text if len(whole_text) <= most else whole_text[:most] + "…"


def missing_masses(budget: Budget) -> Iterator[str]:
    """Yield the path of each mass without which a switched-on part cannot be counted."""
    for index, row in enumerate(budget.gear):
        if row.mass is None and not row.off.value:
            yield f"gear.{index}.mass"
    if budget.cell is not None and budget.cell.mass is None:
        yield "cell.mass"


def loads(source: str) -> Any:
    """Return the JSON value in a text, with bounds on its size and depth.

    Raises
    ------
    BudgetError
        code `too_large`, `too_deep` or `not_json`.
    """
    if len(source) > LONGEST_DOCUMENT:
        raise BudgetError((Problem(field="", code="too_large", facts={"most": LONGEST_DOCUMENT}),))
    if _depth(source) > DEEPEST:
        raise BudgetError((Problem(field="", code="too_deep", facts={"most": DEEPEST}),))
    try:
        return json.loads(source, parse_constant=str)
    except ValueError as error:
        raise BudgetError((Problem(field="", code="not_json"),)) from error


def _depth(source: str) -> int:
    """Return how deep brackets stand within brackets, texts passed over; cheap, and safe on any input."""
    depth = deepest = 0
    in_text = escaped = False
    for character in source:
        if in_text:
            in_text, escaped = escaped or character != '"', not escaped and character == "\\"
        elif character == '"':
            in_text = True
        elif character in "[{":
            depth += 1
            deepest = max(deepest, depth)
        elif character in "]}":
            depth -= 1
    return deepest


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
    reading = read(loads(source))
    named = {problem.field for problem in reading.problems}
    lacking = [path for path in missing_masses(reading.budget) if path not in named]
    problems = reading.problems + tuple(Problem(field=path, code="missing") for path in lacking)
    if problems:
        raise BudgetError(problems)
    return reading.budget


def to_document(budget: Budget) -> dict[str, Any]:
    """Return the document as it was typed: entries that were given, in the order of the blocks."""
    document = _typed(budget)
    for key in ("model", "rule", "gear", "cell", "session", "balance"):
        block = getattr(budget, key)
        if key == "gear":
            document.update({"gear": [_typed(row) for row in block]} if block else {})
        elif block is not None and (key != "model" or block != Model()):
            document[key] = _typed(block)
    return document


def _typed(block: Any) -> dict[str, Any]:
    entries = {name.rstrip("_"): getattr(block, name) for name in described(type(block))}
    return {key: item.typed for key, item in entries.items() if item is not None and item.typed is not None}


def to_json(budget: Budget) -> str:
    """Return the document as readable JSON text; the inverse of `from_json`."""
    return json.dumps(to_document(budget), ensure_ascii=False, indent=1)
