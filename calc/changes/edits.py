"""A change of a document as a list of edits: small enough to send, exact enough to be undone.

An edit names a place by its keys, with what stood there and what is to stand there. Applied to a document in which
something else stands there by now, it is refused: a list of changes may be older than the budget it is pressed in.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NoReturn

from calc.errors import BudgetError, Problem

Held = tuple[Any, ...]  # what stands in a place: one value, or none where there is no such place
Keys = tuple[str | int, ...]
MOST_EDITS = 200  # of one change; more come from nobody's list


@dataclass(frozen=True, kw_only=True)
class Edit:
    """One place of a document, before and after."""

    keys: Keys
    before: Held
    after: Held


def edits(before: Any, after: Any, keys: Keys = ()) -> Iterator[Edit]:
    """Yield what turns one document into another, the narrowest places that differ.

    Examples
    --------
    >>> [each.keys for each in edits({"gear": [{"mass": "1 g"}]}, {"gear": [{"mass": "2 g", "off": True}]})]
    [('gear', 0, 'mass'), ('gear', 0, 'off')]
    """
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        for key in dict.fromkeys((*before, *after)):
            was, now = ((block[key],) if key in block else () for block in (before, after))
            yield from _held(was, now, (*keys, key))
    elif isinstance(before, list) and isinstance(after, list) and len(before) == len(after):
        for index, (was, now) in enumerate(zip(before, after, strict=True)):
            yield from edits(was, now, (*keys, index))
    elif not _same(before, after):
        yield Edit(keys=keys, before=(before,), after=(after,))


def _held(before: Held, after: Held, keys: Keys) -> Iterator[Edit]:
    if before and after:
        yield from edits(before[0], after[0], keys)
    else:
        yield Edit(keys=keys, before=before, after=after)


def _same(one: Any, other: Any) -> bool:
    """Return whether two values are the same as JSON: true is not 1 there."""
    return type(one) is type(other) and bool(one == other)


def applied(document: Mapping[str, Any], changes: Iterable[Edit]) -> dict[str, Any]:
    """Return a document with edits made; the document itself stays as it is.

    Raises
    ------
    BudgetError
        code `change_stale`: in one of the places stands something else than the edit was made for.

    Examples
    --------
    >>> turned = tuple(edits({"a": 1, "b": [1]}, {"b": [2]}))
    >>> applied({"a": 1, "b": [1]}, turned), applied({"b": [2]}, backwards(turned))
    ({'b': [2]}, {'b': [1], 'a': 1})
    """
    changed: Any = dict(document)
    for edit in changes:
        changed = _with(changed, edit.keys, edit)
    assert isinstance(changed, dict)
    return changed


def backwards(changes: Sequence[Edit]) -> tuple[Edit, ...]:
    """Return the edits that undo others."""
    return tuple(Edit(keys=each.keys, before=each.after, after=each.before) for each in reversed(changes))


def _with(held: Any, keys: Keys, edit: Edit) -> Any:
    """Return a block or list with the edit made under it."""
    key, rest = keys[0], keys[1:]
    found = _found(held, key)
    if rest:
        after: Held = (_with(found[0], rest, edit),) if found else _stale()
    else:
        same = len(found) == len(edit.before) and not any(edits(list(found), list(edit.before)))
        after = edit.after if same else _stale()
    if isinstance(held, list):
        return [*held[: int(key)], *after, *held[int(key) + 1 :]]
    changed = {name: item for name, item in held.items() if name != key or after}
    return {**changed, **({key: after[0]} if after else {})}


def _found(held: Any, key: str | int) -> Held:
    """Return what stands in a place of a block or list."""
    if isinstance(held, list):
        inside = isinstance(key, int) and not isinstance(key, bool) and 0 <= key < len(held)
        return (held[int(key)],) if inside else _stale()
    if not isinstance(held, Mapping) or not isinstance(key, str):
        return _stale()
    return (held[key],) if key in held else ()


def _stale() -> NoReturn:
    raise BudgetError((Problem(field="", code="change_stale"),))


def as_data(changes: Iterable[Edit]) -> list[dict[str, Any]]:
    """Return edits as plain data; `before` or `after` is absent where there is nothing.

    Examples
    --------
    >>> as_data(edits({}, {"off": True}))
    [{'keys': ['off'], 'after': True}]
    """
    return [
        {"keys": list(each.keys)} | {name: held[0] for name in ("before", "after") if (held := getattr(each, name))}
        for each in changes
    ]


def from_data(raw: object) -> tuple[Edit, ...]:
    """Return the edits in plain data.

    Raises
    ------
    BudgetError
        code `change_stale`, if that is no list of edits.
    """
    listed = raw if isinstance(raw, list) and len(raw) <= MOST_EDITS else [None]
    return tuple(_edit(each) for each in listed)


def _edit(raw: object) -> Edit:
    keys = raw.get("keys") if isinstance(raw, Mapping) else None
    if not isinstance(raw, Mapping) or not isinstance(keys, list) or not keys:
        _stale()
    if not all(isinstance(key, str | int) for key in keys):
        _stale()
    return Edit(keys=tuple(keys), before=_given(raw, "before"), after=_given(raw, "after"))


def _given(raw: Mapping[str, Any], name: str) -> Held:
    return (raw[name],) if name in raw else ()
