r"""Letters that must not reach a reader as they came: controls of a terminal, and what turns the direction of a line.

A text from outside becomes one line, its controls are written out (`\u001b`), and one that runs from right to left is
set apart from the sentence around it, so that it never turns the figures beside it (Unicode Standard
Annex 9: FSI, PDI).
"""

import re
import unicodedata

_BREAKS = re.compile(r"[\t-\r\x85\u2028\u2029]+")
_HIDDEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
_IN_OUTPUT = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066\u2067\ud800-\udfff]")
_HALVES = re.compile(r"[\ud800-\udfff]")
_RIGHT_TO_LEFT = frozenset(("R", "AL", "AN"))
_APART, _BACK = "\u2068", "\u2069"  # first strong isolate, pop directional isolate


def plain(text: str) -> str:
    r"""Return a text from outside as one line that can stand in a sentence, a page or a terminal.

    Examples
    --------
    >>> plain("a\nb\x1b[2J"), plain("tail \u202eg 9"), plain("  ")
    ('a b\\u001b[2J', 'tail \\u202eg 9', '')
    """
    line = _HIDDEN.sub(_written_out, _BREAKS.sub(" ", text)).strip()
    if line.isascii() or not any(unicodedata.bidirectional(letter) in _RIGHT_TO_LEFT for letter in line):
        return line
    return f"{_APART}{line}{_BACK}"


def printable(text: str) -> str:
    r"""Return what a command prints without controls, line ends and isolates apart; JSON stays the same JSON.

    Examples
    --------
    >>> printable('"a\x7f"\n')
    '"a\\u007f"\n'
    """
    return _IN_OUTPUT.sub(_written_out, text)


def halves_written(text: str) -> str:
    r"""Return JSON text with half letters (lone surrogates) as escapes, as UTF-8 has no other form for them.

    Examples
    --------
    >>> halves_written('"a\ud800"')
    '"a\\ud800"'
    """
    return _HALVES.sub(_written_out, text)


def has_half(text: str) -> bool:
    """Return whether a text holds half of a letter: a surrogate without its other one."""
    return _HALVES.search(text) is not None


def _written_out(found: re.Match[str]) -> str:
    return f"\\u{ord(found[0]):04x}"
