"""What a request gives, as far as it is of use."""

from collections.abc import Mapping
from typing import Any


def mapping(raw: object) -> dict[str, Any]:
    """Return what is given where it is a group of fields, else none."""
    return raw if isinstance(raw, dict) else {}


def letters_lost(text: str) -> str:
    """Return what is said of a file whose letters a browser could not read, "" where it could.

    Examples
    --------
    >>> letters_lost("M\ufffdwe")[:41], letters_lost("Möwe")
    ('Some letters of the file are lost (�), as', '')
    """
    if "\ufffd" not in text:
        return ""
    return "Some letters of the file are lost (�), as it is not UTF-8: save it as UTF-8 and open it again."


def number_after(last: int, params: Mapping[str, Any]) -> int:
    """Return the number of a search that begins, or of a log that is opened: the next one.

    The worker gives `number` where it begins anew, in Python started the plain way, what the page knows by that.
    """
    given = params.get("number")
    return given if isinstance(given, int) and given > last else last + 1
