"""What is given in Python must be what reading could give: refused where it is given, not where a sum stumbles."""

from calc.document.fields import Entry, Field, described, key_of

_FOUND_SOUND = "_found_sound"  # what a block is marked with: it cannot change, and an edit leaves most as they are


def require_entries(block: object, kind: type, path: str) -> None:
    """Refuse, with the field's path, what reading could not have made: another kind of block, no entry, an odd value.

    None stands for an absent entry where nothing stands in for it.

    Raises
    ------
    TypeError
        Another kind of block, or no entry.
    ValueError
        An entry whose value is of another type, out of range, or none of the choices.

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
    >>> require_entries(Block(flights=Entry(value=0)), Block, "session")
    Traceback (most recent call last):
    ValueError: session.flights cannot be 0; Budget.of says what it may be
    """
    if not isinstance(block, kind):
        raise TypeError(f"{path}: {kind.__name__} expected, not {type(block).__name__}; Budget.of takes plain values")
    if vars(block).get(_FOUND_SOUND) is kind:
        return
    for name, field in described(kind).items():
        given = getattr(block, name)
        if not _may_stand(field, given):
            raise _refusal(f"{path}.{key_of(name)}".lstrip("."), given)
    vars(block)[_FOUND_SOUND] = kind


def _may_stand(field: Field, given: object) -> bool:
    if given is None:
        return field.default_entry() is None
    return isinstance(given, Entry) and field.allows(given.value)


def _refusal(where: str, given: object) -> TypeError | ValueError:
    if isinstance(given, Entry):
        return ValueError(f"{where} cannot be {given.value!r}; Budget.of says what it may be")
    return TypeError(f"{where}: Entry expected, not {type(given).__name__}; Budget.of takes plain values")
