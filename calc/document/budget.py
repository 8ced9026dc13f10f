"""The budget document: one model, its gear, its cell, its session.

JSON that a person can read; every quantity is text with its unit and comes back as typed. `read` takes any document
and tells everything wrong with it at once, each problem with its field path, beside the budget that the sound part
makes: a field that cannot be read is left out and listed in `Budget.unread`, so nothing is worked out from it.
"""

import dataclasses
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from calc import units
from calc.document.fields import (
    Entry,
    FieldRefusedError,
    QuantityField,
    Scalar,
    choice,
    described,
    quantity,
    require_entries,
    text,
    whole,
)
from calc.document.jsontext import dumps, loads
from calc.document.letters import plain
from calc.document.nearest import nearest
from calc.document.parts import (
    Air,
    Balance,
    BoxPart,
    Cell,
    GearRow,
    Linkage,
    Model,
    Rule,
    Session,
    Stock,
    Supply,
    Surface,
    Wiring,
)
from calc.errors import BudgetError, Problem

FORMAT = 1
MOST_ROWS = 60
MOST_UNKNOWN = 20  # fields that a document may have too many and each be told of


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
    supply: Supply | None = None
    wiring: Wiring | None = None
    balance: Balance | None = None
    surface: Surface | None = None
    linkage: Linkage | None = None
    air: Air | None = None
    unread: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        """Refuse a block or an entry of a wrong type where it is given."""
        require_entries(self, Budget, "")
        for key, kind in BLOCKS.items():
            block = getattr(self, key)
            if block is not None or key == "model":
                require_entries(block, kind, key)
        if not isinstance(self.gear, tuple):
            raise TypeError(f"gear: a tuple of GearRow expected, not {type(self.gear).__name__}; see Budget.of")
        for index, row in enumerate(self.gear):
            require_entries(row, GearRow, f"gear.{index}")

    @classmethod
    def of(cls, **parts: "Scalar | Plain | Sequence[Plain]") -> "Budget":
        """Return the budget of plain values: each key of the document with its text or number, block or list of rows.

        As strict as the command: every mass of a switched-on part must be there.

        Raises
        ------
        BudgetError
            With every problem at once, each with the path of its field; the error's notes have a sentence for each.

        Examples
        --------
        >>> budget = Budget.of(model={"airframe": "34 g"}, gear=[{"kind": "servo", "mass": "2 g"}])
        >>> budget.gear[0].mass.value
        0.002
        >>> try:
        ...     Budget.of(gear=[{"kind": "servo", "mass": "2 mm"}])
        ... except BudgetError as error:
        ...     print(*error.__notes__)
        Gear row 1, mass of one: “2 mm” is a length; this field needs a mass: for example 1.2 g or 0.04 oz.
        """
        try:
            return sound(parts)
        except BudgetError as error:
            from calc import wording  # it reads budgets itself

            for found in error.problems:
                error.add_note(wording.problem(found))
            raise


Plain = Mapping[str, Scalar]  # a block as plain values, by the keys of the document
BLOCKS: dict[str, type] = {
    "model": Model,
    "rule": Rule,
    "cell": Cell,
    "session": Session,
    "supply": Supply,
    "wiring": Wiring,
    "balance": Balance,
    "surface": Surface,
    "linkage": Linkage,
    "air": Air,
}


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What a document came to: the budget of its sound part, and every problem."""

    budget: Budget
    problems: tuple[Problem, ...]


Block = TypeVar("Block")


class _Reader:
    """Reads the parts of one document and collects the problems."""

    def __init__(self, system: str) -> None:
        self.system = system  # `metric`, `imperial`, or "" where it cannot be read
        self.problems: list[Problem] = []
        self.unknown = 0

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
                self.unknown_field(str(key), path, [*by_key, *beside])
        return kind(**entries)

    def unknown_field(self, key: str, path: str, known: list[str]) -> None:
        """Refuse a field that there is not, the first ones by name: a document may hold thousands."""
        self.unknown += 1
        if self.unknown <= MOST_UNKNOWN:
            # A dot would make another field's path of it.
            self.refuse(_join(path, plain(key[:40]).replace(".", "\u2024")), "unknown_field", near=nearest(key, known))

    def all_problems(self) -> tuple[Problem, ...]:
        """Return every problem; fields that there are not, past the first ones, as one."""
        if self.unknown <= MOST_UNKNOWN:
            return tuple(self.problems)
        more = Problem(field="", code="more_unknown", facts={"count": self.unknown - MOST_UNKNOWN})
        return (*self.problems, more)

    def entry(self, field: Any, raw: object, path: str) -> Entry[Any] | None:
        """Return the entry, or None where there is none or it cannot be read. An empty text is no entry."""
        if raw is None or raw == "":
            return None
        if not isinstance(raw, str | int | float):
            self.refuse(path, "not_a_value")
            return None
        if not self.system and isinstance(field, QuantityField) and is_bare_number(raw) and _differs(field.dimension):
            self.refuse(path, "unit_unknown", typed=shortened(raw), dimension=field.dimension)
            return None
        try:
            entry: Entry[Any] = field.read(raw, self.system or "metric")
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
    reader = _Reader(system_of(document))
    top = reader.block(Budget, document, "", frozenset([*BLOCKS, "gear"]))
    blocks: dict[str, Any] = {
        key: reader.block(kind, document[key], key) for key, kind in BLOCKS.items() if document.get(key) is not None
    }
    blocks = {key: _in_proportion(reader, key, block) for key, block in blocks.items()}
    gear = _gear(reader, [] if document.get("gear") is None else document["gear"])
    unread = frozenset(problem.field for problem in reader.problems)
    budget = dataclasses.replace(top, **blocks, gear=gear, unread=unread)
    return Reading(budget=budget, problems=reader.all_problems())


def system_of(document: Mapping[str, Any]) -> str:
    """Return a document's system of units: `metric` (where it names none), `imperial`, or "" if it cannot be read.

    Examples
    --------
    >>> system_of({}), system_of({"units": "imperial"}), system_of({"units": "metricc"})
    ('metric', 'imperial', '')
    """
    named = document.get("units")
    if named in (None, "", "metric"):
        return "metric"
    return "imperial" if named == "imperial" else ""


def _differs(dimension: str) -> bool:
    """Return whether a bare number of a dimension means something else in the other system."""
    return units.default_unit(dimension, "metric") != units.default_unit(dimension, "imperial")


def read_stock(raw: object, system: str) -> tuple[Stock, tuple[Problem, ...]]:
    """Return a piece of stock from its fields as typed, with every problem; paths start with `stock`."""
    reader = _Reader("imperial" if system == "imperial" else "metric")
    block = _in_proportion(reader, "stock", reader.block(Stock, raw, "stock"))
    return block, reader.all_problems()


def read_part(
    raw: object, path: str, system: str, kind: type[BoxPart] = BoxPart
) -> tuple[BoxPart, tuple[Problem, ...]]:  # fmt: skip
    """Return a part from its fields as typed, with every problem; paths start with `path`; `system` as `system_of`."""
    reader = _Reader(system)
    return reader.block(kind, raw, path), reader.all_problems()


def with_units_written(document: Mapping[str, Any], system: str) -> dict[str, Any]:
    """Return a document in which each bare number has the unit that it takes in `metric` or `imperial`.

    What was typed then keeps its meaning when the document's own system changes. Numbers whose unit is the same in both
    systems stay bare, and so does everything that is no quantity.

    Examples
    --------
    >>> with_units_written({"units": "metric", "cell": {"mass": 0.04, "capacity": "30"}}, "imperial")
    {'units': 'metric', 'cell': {'mass': '0.04 oz', 'capacity': '30'}}
    """
    changed = {**document, **block_with_units(Budget, document, system)}
    for key, kind in BLOCKS.items():
        if key in document:
            changed[key] = block_with_units(kind, document[key], system)
    rows = document.get("gear")
    if isinstance(rows, list | tuple):
        changed["gear"] = [block_with_units(GearRow, row, system) for row in rows]
    return changed


def block_with_units(kind: type, block: Any, system: str) -> Any:
    """Return a block of a document with units written; anything that is no block as it is.

    In a system that cannot be read ("") the unit is a question mark, which no reader takes for a unit.
    """
    if not isinstance(block, Mapping):
        return block
    changed = dict(block)
    for name, field in described(kind).items():
        raw = block.get(name.rstrip("_"))
        if isinstance(field, QuantityField) and is_bare_number(raw):
            unit = units.default_unit(field.dimension, system)
            if _differs(field.dimension):
                changed[name.rstrip("_")] = f"{raw} {unit if system else '?'}"
    return changed


def is_bare_number(raw: object) -> bool:
    """Return whether a raw entry is a number without a unit, as JSON number or as text.

    Examples
    --------
    >>> is_bare_number(1.2), is_bare_number("1,2"), is_bare_number("1.2 g"), is_bare_number(True)
    (True, True, False, False)
    """
    return isinstance(raw, str | int | float) and not isinstance(raw, bool) and units.is_bare(str(raw))


SMALLER = {  # what must be smaller than what in one block, as a share of it
    "surface": ("flap_chord", "chord", 1.0),
    "linkage": ("bore", "diameter", 0.99),
    "stock": ("bore", "diameter", 0.99),
}


def _in_proportion(reader: _Reader, key: str, block: Any) -> Any:
    """Return a block without an entry that is too large for another one, and refuse that entry."""
    if key not in SMALLER:
        return block
    name, than, share = SMALLER[key]
    small, large = getattr(block, name), getattr(block, than)
    if small is None or large is None or small.value <= share * large.value:
        return block
    reader.refuse(f"{key}.{name}", "too_large_beside", typed=shortened(small.typed), than=f"{key}.{than}")
    return dataclasses.replace(block, **{name: None})


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
    return plain(whole_text) if len(whole_text) <= most else plain(whole_text[:most]) + "…"


def missing_masses(budget: Budget) -> Iterator[str]:
    """Yield the path of each mass without which a switched-on part cannot be counted."""
    for index, row in enumerate(budget.gear):
        if row.mass is None and row.weighed is None and not row.off.value:
            yield f"gear.{index}.mass"
    if budget.cell is not None and budget.cell.mass is None and budget.cell.weighed is None:
        yield "cell.mass"


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
    lacking = [path for path in missing_masses(reading.budget) if not named & {path, path[:-4] + "weighed"}]
    problems = reading.problems + tuple(Problem(field=path, code="missing") for path in lacking)
    if problems:
        raise BudgetError(problems)
    return reading.budget


def to_document(budget: Budget) -> dict[str, Any]:
    """Return the document as it was typed: entries that were given, in the order of the blocks."""
    document = _typed(budget)
    if budget.gear:
        document["gear"] = [_typed(row) for row in budget.gear]
    for key in BLOCKS:
        block = getattr(budget, key)
        if block is not None and (key != "model" or block != Model()):
            document[key] = _typed(block)
    return document


def _typed(block: Any) -> dict[str, Any]:
    entries = {name.rstrip("_"): getattr(block, name) for name in described(type(block))}
    return {key: item.typed for key, item in entries.items() if item is not None and item.typed is not None}


def to_json(budget: Budget) -> str:
    """Return the document as readable JSON text; the inverse of `from_json`."""
    return dumps(to_document(budget), indent=1)
