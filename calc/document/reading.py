"""Reads blocks of a document, and collects every problem on the way."""

import dataclasses
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, TypeVar

from calc.document.fields import Entry, Field, FieldRefusedError, QuantityField, described, key_of
from calc.document.letters import plain
from calc.document.nearest import nearest
from calc.document.systems import differs, is_bare_number
from calc.errors import Problem

LONGEST_KEPT = 500  # letters of an entry, or of its key: what is kept for the next reading must not fill memory
MOST_KEPT = 100  # entries of a block
MOST_UNKNOWN = 20  # fields that a document may have too many and each be told of

Block = TypeVar("Block")


class Reader:
    """Reads the parts of one document and collects the problems."""

    def __init__(self, system: str) -> None:
        self.system = system  # `metric`, `imperial`, or "" where it cannot be read
        self.problems: list[Problem] = []
        self.unknown = 0

    def refuse(self, path: str, code: str, **facts: Any) -> None:
        """Note a problem of a field."""
        self.problems.append(Problem(field=path, code=code, facts=facts))

    def block(self, kind: type[Block], raw: object, path: str) -> Block:
        """Return a block with the entries that can be read."""
        if not isinstance(raw, Mapping):
            self.refuse(path, "not_a_block")
            return kind()
        return kind(**self.entries(kind, raw, path))

    def entries(
        self, kind: type, raw: Mapping[Any, object], path: str, beside: frozenset[str] = frozenset()
    ) -> dict[str, Any]:
        """Return the entries of a block that can be read, by name; `beside` names keys that somebody else reads."""
        fields = described(kind)
        by_key = {key_of(name): name for name in fields}
        entries = {}
        for key, value in raw.items():
            if key in by_key:
                name = by_key[key]
                found = self.entry(fields[name], value, join(path, key))
                entries.update({name: found} if found is not None else {})
            elif key not in beside:
                self.unknown_field(str(key), path, [*by_key, *beside])
        return entries

    def part(self, kind: type[Block], raw: object, path: str) -> Block:
        """Return a block whose entries are in proportion; one that was read before without a problem is that again."""
        items = _plain_items(raw)
        known: Block | None = _as_before(kind, self.system, items) if items else None  # type: ignore[arg-type]
        return known or in_proportion(self, path, self.block(kind, raw, path))

    def unknown_field(self, key: str, path: str, known: list[str]) -> None:
        """Refuse a field that there is not, the first ones by name: a document may hold thousands."""
        self.unknown += 1
        if self.unknown <= MOST_UNKNOWN:
            # A dot would make another field's path of it.
            self.refuse(join(path, plain(key[:40]).replace(".", "\u2024")), "unknown_field", near=nearest(key, known))

    def all_problems(self) -> tuple[Problem, ...]:
        """Return every problem; fields that there are not, past the first ones, as one."""
        if self.unknown <= MOST_UNKNOWN:
            return tuple(self.problems)
        more = Problem(field="", code="more_unknown", facts={"count": self.unknown - MOST_UNKNOWN})
        return (*self.problems, more)

    def entry(self, field: Field, raw: object, path: str) -> Entry[Any] | None:
        """Return the entry, or None where there is none or it cannot be read. An empty text is no entry."""
        if raw is None or raw == "":
            return None
        if not isinstance(raw, str | int | float):
            self.refuse(path, "not_a_value")
            return None
        if not self.system and isinstance(field, QuantityField) and is_bare_number(raw) and differs(field.dimension):
            self.refuse(path, "unit_unknown", typed=shortened(raw), dimension=field.dimension)
            return None
        try:
            entry: Entry[Any] = field.read(raw, self.system or "metric")
        except FieldRefusedError as error:
            self.refuse(path, error.code, typed=shortened(raw), **error.facts)
            return None
        return entry


def _plain_items(raw: object) -> tuple[tuple[str, type, Any], ...]:
    """Return what tells a block apart from others, () where it holds more than a page's form gives.

    The type belongs to it, since 1 and True are equal. So are 0.0 and -0.0: a block with a float is none of these.
    """
    if not isinstance(raw, Mapping) or len(raw) > MOST_KEPT or not all(map(_is_plain, [*raw, *raw.values()])):
        return ()
    return tuple((key, type(value), value) for key, value in raw.items())


def _is_plain(value: object) -> bool:
    return type(value) in (int, bool) or (type(value) is str and len(value) <= LONGEST_KEPT)


@lru_cache(maxsize=128)  # an edit changes one block of some dozens
def _as_before(kind: type[Block], system: str, items: tuple[tuple[str, type, Any], ...]) -> Block | None:
    """Return a block without a problem, None where it has one: that is told with its path, each time."""
    reader = Reader(system)
    block = in_proportion(reader, "", reader.block(kind, {key: value for key, _, value in items}, ""))
    return None if reader.all_problems() else block


def read_block(kind: type[Block], raw: object, path: str, system: str) -> tuple[Block, tuple[Problem, ...]]:
    """Return a block from its entries as typed, with every problem; paths start with `path`; `system` as `system_of`.

    Examples
    --------
    >>> from calc.document.blocks import BoxPart
    >>> part, problems = read_block(BoxPart, {"mass": "1.7 g", "station": "9 in"}, "parts.0", "metric")
    >>> part.mass.value, [(problem.field, problem.code) for problem in problems]
    (0.0017, [('parts.0.station', 'unknown_field')])
    """
    reader = Reader(system)
    block = reader.part(kind, raw, path)
    return block, reader.all_problems()


def in_proportion(reader: Reader, path: str, block: Block) -> Block:
    """Return a block without the entries that are too large for another one of it, and refuse those."""
    for name, field in described(type(block)).items():
        if isinstance(field, QuantityField) and field.smaller_than is not None:
            than, share = field.smaller_than
            small, large = getattr(block, name), getattr(block, than)
            if small is not None and large is not None and small.value > share * large.value:
                reader.refuse(f"{path}.{name}", "too_large_beside", typed=shortened(small.typed), than=f"{path}.{than}")
                block = dataclasses.replace(block, **{name: field.default_entry()})  # type: ignore[type-var]
    return block


def join(path: str, key: str) -> str:
    """Return the path of an entry of a block; that of the document itself is ""."""
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
