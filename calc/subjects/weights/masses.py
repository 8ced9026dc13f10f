"""What the gear weighs, and how sure that is.

Scope: equal parts in rows, each known by weighing, from the maker or by a guess.

Symbols: n parts of m [kg] each; g growth; a half-width [kg] of a rectangular distribution; u = a/√3; spread = 2 u.

Sources: growth of 5 % for a catalogue figure and 20 % for what is still new are the equipment maturity margins of
European space practice (ECSS-E-ST-10-02C categories as quoted in an ESA instrument interface document). Resolution
and rectangular distributions: JCGM 100:2008 (GUM), 4.3.7 and F.2.2.1.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import sqrt

from calc.errors import require
from calc.vocabulary import KnownBy

GROWTH: Mapping[KnownBy, float] = {"weighed": 0.0, "maker": 0.05, "guess": 0.20}


@dataclass(frozen=True, kw_only=True)
class Part:
    """A row's parts: how many, the mass of one [kg], how that is known (a key of GROWTH)."""

    mass_kg: float
    count: int = 1
    known_by: KnownBy = "weighed"


@dataclass(frozen=True, kw_only=True)
class Total:
    """Masses of several rows together, kg; `uncertainty_kg` is the standard uncertainty u."""

    nominal_kg: float
    expected_kg: float
    uncertainty_kg: float

    @property
    def spread_kg(self) -> float:
        """Two standard uncertainties."""
        return 2.0 * self.uncertainty_kg


def expected_mass(part: Part) -> float:
    """Return n m (1 + g), kg: what the parts will weigh once they lie on the scale.

    Raises
    ------
    OutOfRangeError
        If the mass is not finite or is negative, or the count is below one.

    Examples
    --------
    >>> round(expected_mass(Part(mass_kg=0.040, known_by="maker")), 6)
    0.042
    """
    require("mass_kg", part.mass_kg, 0.0)
    require("count", part.count, 1)
    return part.count * part.mass_kg * (1.0 + GROWTH[part.known_by])


def half_width(part: Part, scale_division_kg: float) -> float:
    """Return the half-width a of the row's mass, kg.

    Weighed parts lie on the scale together: half a scale division for the whole row. Equal parts from one maker, or
    guessed alike, err together: n × g × m.

    Raises
    ------
    OutOfRangeError
        If the scale division is not finite or is negative.

    Examples
    --------
    >>> half_width(Part(mass_kg=0.001, count=3), 0.0001)
    5e-05
    """
    require("scale_division_kg", scale_division_kg, 0.0)
    if part.known_by == "weighed":
        return scale_division_kg / 2.0
    return part.count * part.mass_kg * GROWTH[part.known_by]


def standard_uncertainty(part: Part, scale_division_kg: float) -> float:
    """Return u = a/√3 of the row's mass, kg.

    Examples
    --------
    >>> round(standard_uncertainty(Part(mass_kg=0.001), 0.0001) / 0.0001, 3)
    0.289
    """
    return half_width(part, scale_division_kg) / sqrt(3.0)


def total(parts: Iterable[Part], scale_division_kg: float) -> Total:
    """Return the sums over rows; uncertainties of different rows add in squares.

    Examples
    --------
    >>> rows = [Part(mass_kg=0.040, known_by="maker"), Part(mass_kg=0.020, known_by="guess")]
    >>> round(total(rows, 0.0).expected_kg, 6)
    0.066
    """
    rows = tuple(parts)
    return Total(
        nominal_kg=sum(part.count * part.mass_kg for part in rows),
        expected_kg=sum(expected_mass(part) for part in rows),
        uncertainty_kg=sqrt(sum(standard_uncertainty(part, scale_division_kg) ** 2 for part in rows)),
    )
