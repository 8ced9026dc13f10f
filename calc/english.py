"""Names and numbers as they stand in an English sentence, and sentences as lines."""

import textwrap
from collections.abc import Sequence


def listed(names: Sequence[str]) -> str:
    """Return names in a row, the last after "and".

    Examples
    --------
    >>> listed(["run time", "balance", "strength"]), listed(["balance"])
    ('run time, balance and strength', 'balance')
    """
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names)


def counted(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun.

    Examples
    --------
    >>> counted(1, "flight"), counted(2, "flight"), counted(2, "mass", "masses")
    ('1 flight', '2 flights', '2 masses')
    """
    return f"{number} {one if number == 1 else many or f'{one}s'}"


def the(name: str) -> str:
    """Return a part's name as it stands in a sentence.

    Examples
    --------
    >>> the("push rod"), the("one cell, 40 mAh"), the("a thread"), the("1.7 g servo")
    ('the push rod', 'one cell, 40 mAh', 'a thread', 'the 1.7 g servo')
    """
    return name if name.split(" ")[0].lower() in ("a", "an", "the", "one", "my", "no") else f"the {name}"


def row_name(kind: str, name: str) -> str:
    """Return what a row is called.

    Examples
    --------
    >>> row_name("servo", ""), row_name("servo", "linear, 1.7 g")
    ('servo', 'linear, 1.7 g')
    """
    return name.strip() or kind


WIDTH = 78  # characters of a line of plain text


def wrapped(text: str, mark: str = "") -> list[str]:
    """Return a text in lines of the sheet's width, the first one after a mark."""
    return textwrap.wrap(text, WIDTH, initial_indent=mark, subsequent_indent=" " * len(mark))
