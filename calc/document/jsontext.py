"""JSON text from outside, read with bounds, and JSON text that goes out (RFC 8259: no NaN, no Infinity).

A number that no float can hold (`1e999`, four thousand digits) is read as the text that was typed, so that nothing
behind the reader ever meets an infinity, and the field says that it cannot be read.
"""

import json
import re
from collections import Counter
from math import isfinite
from typing import Any

from calc.document.letters import plain
from calc.errors import BudgetError, Problem

LONGEST_DOCUMENT = 262_144  # characters
DEEPEST = 6  # brackets within brackets; a budget needs three
_BETWEEN = re.compile(r'(?:"(?:[^"\\]++|\\.?)*+(?:"|\Z)|[^][{}"]++)++', re.DOTALL)  # what is no bracket


def loads(source: str, longest: int = LONGEST_DOCUMENT, deepest: int = DEEPEST) -> Any:
    """Return the JSON value in a text, with bounds on its size [characters] and depth.

    Raises
    ------
    BudgetError
        code `too_large`, `too_deep`, `not_json`, or `given_twice` (a name stands twice in one group).

    Examples
    --------
    >>> loads('{"mass": 1e999, "count": 2}')
    {'mass': '1e999', 'count': 2}
    """
    if len(source) > longest:
        raise _refused("too_large", most=longest)
    if depth(source) > deepest:
        raise _refused("too_deep", most=deepest)
    try:
        return json.loads(source, parse_constant=str, parse_float=_number, parse_int=_number, object_pairs_hook=_group)
    except ValueError as error:
        raise _refused("not_json") from error


def _refused(code: str, **facts: Any) -> BudgetError:
    return BudgetError((Problem(field="", code=code, facts=facts),))


def _number(text: str) -> int | float | str:
    """Return a number, or its text where no float can hold it."""
    value = float(text)
    if not isfinite(value):
        return text
    return value if any(letter in text for letter in ".eE") else int(text)


def _group(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    group = dict(pairs)
    if len(group) < len(pairs):
        ((name, _),) = Counter(name for name, _ in pairs).most_common(1)
        raise _refused("given_twice", name=plain(name[:40]))
    return group


def depth(source: str) -> int:
    """Return how deep brackets stand within brackets, texts passed over; cheap, and safe on any input.

    Examples
    --------
    >>> depth('{"a": [1, "[["]}')
    2
    """
    now = deepest = 0
    for letter in _BETWEEN.sub("", source):
        if letter in "[{":
            now += 1
            deepest = max(deepest, now)
        else:
            now -= 1
    return deepest


def dumps(value: Any, indent: int | None = None) -> str:
    """Return a value as JSON text: compact, or one item a line.

    Raises
    ------
    ValueError
        If it holds a NaN or an infinity: such an answer must not go out.
    """
    separators = (",", ":") if indent is None else None
    return json.dumps(value, ensure_ascii=False, allow_nan=False, indent=indent, separators=separators)
