"""The words of formulas: numbers, names, raised and lowered digits, signs, and units after numbers."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

SMALL = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻₀₁₂₃₄₅₆₇₈₉₊₋", "0123456789+−0123456789+−")
LETTER = "[A-Za-zÀ-ÖØ-öø-ſΑ-ΟΡΤ-ωµ]"  # Σ and Π are signs
# A unit, the longer ones first; numbers, words and signs.
_MEASURE = "(?:(?:kJ|mN|GPa|Pa|mΩ|Ω|mAh|Ah|mA|mol|min|mm|µm|ml|cm|kg|tex|oz|lb|ft|in|°C|[gmsVAWNJK%°])[²³⁴]?)"
_UNIT = rf"(?<=[0-9⁰¹²³⁴-⁹)])\s?(?P<unit>{_MEASURE}(?:[·/]{_MEASURE})*)(?!{LETTER})|"
_PLAIN = (
    rf"(?P<number>[0-9]+(?:\.[0-9]+)?|[¼½…])|(?P<word>{LETTER}+(?:[-’]{LETTER}+)*’?)"
    r"|(?P<raised>[⁺⁻]?[⁰¹²³⁴-⁹]+)|(?P<lowered>[₀-₉₊₋]+)|(?P<sign>[+−±×·/=≤≥,;:()\[\]|⌊⌋⌈⌉√ΣΠ∫^_!])"
)
TOKEN = {units: re.compile(rf"{_UNIT if units else ''}(?P<gap>\s*)(?:{_PLAIN})") for units in (False, True)}


class FormulaError(ValueError):
    """A text that is no formula."""


@dataclass(frozen=True)
class Token:
    """A number, word, unit, sign, or raised or lowered digits; `gap`: whether a space stands before it."""

    kind: str
    text: str
    gap: bool


END = Token("end", "", gap=True)


def tokens(text: str, units: bool) -> Iterator[Token]:
    """Yield what a text is made of; raise FormulaError where it cannot be read."""
    at, text = 0, text.rstrip()
    while at < len(text):
        found = TOKEN[units].match(text, at)
        if found is None or found.lastgroup is None:
            raise FormulaError(text)
        yield Token(found.lastgroup, found[found.lastgroup], gap=bool(found["gap"]))
        at = found.end()
