"""What is given in Python must be of its type: refused where it is given, not where a sum stumbles over it."""

from calc.document.fields import Entry, described

_ENTRY_OR_NONE = frozenset((Entry, type(None)))


def require_entries(block: object, kind: type, path: str) -> None:
    """Raise TypeError, with the field's path, unless a block is of its kind and each of its fields holds an entry.

    None stands for an absent entry.

    Examples
    --------
    >>> from dataclasses import dataclass
    >>> from calc.document.fields import whole
    >>> @dataclass(frozen=True, kw_only=True)
    ... class Block:
    ...     flights: Entry[int] | None = whole("Flights", 1, 200)
    >>> require_entries(Block(flights=8), Block, "session")
    Traceback (most recent call last):
    TypeError: session.flights: Entry expected, not int; Budget.of takes plain values
    """
    if not isinstance(block, kind):
        raise TypeError(f"{path}: {kind.__name__} expected, not {type(block).__name__}; Budget.of takes plain values")
    if {*map(type, vars(block).values())} <= _ENTRY_OR_NONE:
        return
    for name in described(kind):
        entry = getattr(block, name)
        if type(entry) not in _ENTRY_OR_NONE:
            where = f"{path}.{name.rstrip('_')}" if path else name
            raise TypeError(f"{where}: Entry expected, not {type(entry).__name__}; Budget.of takes plain values")
