"""Masses as whole numbers, exactly as typed, so that sums that are equal on paper are equal in the finder.

A thousandth of an ounce is 28 349 523.125 ng: rounded to any unit of the metric system, sums of ounces that tie would
no longer. So masses are counted in the largest unit of which each mass in hand, grown as the masses have it, is a
whole multiple.

Source: an ounce is 28.349523125 g exactly (international avoirdupois pound of 0.45359237 kg).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from calc import units
from calc.document.fields import Entry
from calc.subjects.weights.masses import GROWTH
from calc.unit_system import UnitSystem
from calc.vocabulary import KnownBy

FIGURES = 12  # of a typed number that count; a float holds fifteen


def exact_mass(entry: Entry[float], system: UnitSystem) -> Fraction:
    """Return a mass [kg] as it was typed, exact to the twelfth figure in its own unit.

    Examples
    --------
    >>> exact_mass(Entry(value=0.0000850485693750, typed="0.003 oz"), UnitSystem.METRIC) * 5 == exact_mass(
    ...     Entry(value=0.000141747615625, typed="0.005 oz"), UnitSystem.METRIC) * 3
    True
    """
    typed = entry.typed
    label = "g" if typed is None else units.parse(str(typed), "mass", system).unit
    number = units.from_si(entry.value, label, "mass")
    return Fraction(f"{number:.{FIGURES}g}") * Fraction(repr(units.to_si(1.0, label, "mass")))


def grown(known_by: KnownBy) -> Fraction:
    """Return 1 + g of a mass known so, exactly."""
    return 1 + Fraction(repr(GROWTH[known_by]))


@dataclass(frozen=True, kw_only=True)
class Grain:
    """The unit that masses are counted in: so many make a kilogram."""

    per_kg: int

    def whole(self, mass_kg: Fraction, count: int, known_by: KnownBy) -> int:
        """Return the expected mass of `count` equal parts, as a whole number of grains."""
        number = mass_kg * grown(known_by) * count * self.per_kg
        assert number.denominator == 1  # else the grain was made for other masses
        return number.numerator


def grain_of(masses_kg: Iterable[tuple[Fraction, KnownBy]]) -> Grain:
    """Return the largest grain for masses [kg], each with how it is known.

    Examples
    --------
    >>> grain_of([(Fraction("0.0015"), "weighed"), (Fraction("0.002"), "maker")]).per_kg
    10000
    """
    return Grain(per_kg=lcm(*((mass_kg * grown(known_by)).denominator for mass_kg, known_by in masses_kg)))
