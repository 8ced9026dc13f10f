"""The word that was probably meant: cheap, and bounded on any input."""

from collections.abc import Iterable

FARTHEST = 2  # letters added, dropped or changed
LONGEST = 40  # letters; no field has a longer name


def nearest(word: str, known: Iterable[str]) -> str:
    """Return the known word that is at most two letters away; "" for none.

    The distance is that of Levenshtein (letters added, dropped or changed); of equals the first one is taken. A word
    shorter than four letters may be one letter away only.

    Examples
    --------
    >>> nearest("mess", ["mass", "count"]), nearest("busy draw", ["busy_draw"]), nearest("colour", ["count", "mass"])
    ('mass', 'busy_draw', '')
    """
    most = FARTHEST if len(word) > 3 else 1
    best, found = most + 1, ""
    for other in known:
        if abs(len(word) - len(other)) < best and len(word) <= LONGEST:
            away = distance(word.casefold(), other.casefold())
            best, found = (away, other) if away < best else (best, found)
    return found


def distance(one: str, other: str) -> int:
    """Return how many letters must be added, dropped or changed to make one word of another.

    Examples
    --------
    >>> distance("draw", "drawn"), distance("", "abc")
    (1, 3)
    """
    row = list(range(len(other) + 1))
    for down, letter in enumerate(one, 1):
        before, row[0] = row[0], down
        for across, another in enumerate(other, 1):
            before, row[across] = row[across], min(row[across] + 1, row[across - 1] + 1, before + (letter != another))
    return row[-1]
