"""Metric or imperial: quantities as text in the units that a budget is typed and read in.

Digits: no more than a quantity is known to. A mass has the two digits of its spread, and no finer than 0.01 g or
0.001 oz (a tenth of that below it). How numbers themselves are rounded is in `calc.digits`.
"""

from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING

from calc import digits, units

if TYPE_CHECKING:
    from calc.document.budget import Budget

FINEST = 3  # decimals of a gram, where the spread is known so finely
NO_CHANGE_KG = 5e-7  # half a milligram: a change below it is none


class UnitSystem(StrEnum):
    """The system of units that an answer is told in. It is passed on, never assumed."""

    METRIC = "metric"
    IMPERIAL = "imperial"

    @classmethod
    def of(cls, budget: "Budget") -> "UnitSystem":
        """Return the system that a budget is typed in."""
        return cls(budget.units.value)

    def label(self, dimension: str) -> str:
        """Return the label of the unit in which quantities of a dimension are told.

        Examples
        --------
        >>> UnitSystem.METRIC.label("speed"), UnitSystem.IMPERIAL.label("mass")
        ('m/s', 'oz')
        """
        return units.default_unit(dimension, self)

    def number(self, value: float, dimension: str) -> float:
        """Return an SI value as a number of the unit in which its dimension is told.

        Examples
        --------
        >>> UnitSystem.METRIC.number(281.15, "temperature")
        8.0
        """
        return units.from_si(value, self.label(dimension), dimension)

    def fixed(self, value: float, dimension: str, places: int) -> str:
        """Return an SI value with so many decimals.

        Examples
        --------
        >>> UnitSystem.METRIC.fixed(281.15, "temperature", 0), UnitSystem.METRIC.fixed(0.1234, "ratio", 1)
        ('8 °C', '12.3 %')
        """
        return f"{digits.signed(self.number(value, dimension), places)} {self.label(dimension)}"

    def rounded(self, value: float, dimension: str, figures: int = 2) -> str:
        """Return an SI value with so many figures.

        Examples
        --------
        >>> UnitSystem.METRIC.rounded(0.58146, "loading", 3), UnitSystem.IMPERIAL.rounded(3.61, "speed")
        ('5.81 g/dm²', '12 ft/s')
        """
        return f"{digits.figures(self.number(value, dimension), figures)} {self.label(dimension)}"

    def given(self, value: float, dimension: str, figures: int = 3) -> str:
        """Return an SI value that was given, without idle zeros.

        Examples
        --------
        >>> UnitSystem.METRIC.given(6.0, "speed", 2), UnitSystem.METRIC.given(0.0042, "current")
        ('6 m/s', '4.2 mA')
        """
        return f"{digits.given(self.number(value, dimension), figures)} {self.label(dimension)}"

    def mass(self, kg: float, spread_kg: float = 0.0) -> str:
        """Return a mass no finer than the second digit of its spread, where it has one.

        Examples
        --------
        >>> METRIC, IMPERIAL = UnitSystem
        >>> METRIC.mass(0.0013), METRIC.mass(-0.01234), IMPERIAL.mass(0.0013)
        ('1.30 g', '−12.3 g', '0.046 oz')
        >>> METRIC.mass(0.0013, 0.00034), METRIC.mass(0.0013, 0.00185), METRIC.mass(0.0483, 0.0996)
        ('1.30 g', '1.3 g', '48 g')
        >>> METRIC.mass(0.0000857, 0.000001), METRIC.mass(0.00000006)
        ('0.086 g', '0.000 g')
        >>> IMPERIAL.mass(0.000006), IMPERIAL.mass(0.0)
        ('0.0002 oz', '0.000 oz')
        """
        return _mass(self, kg, spread_kg)

    def spread(self, kg: float) -> str:
        """Return a spread with two digits at most.

        Examples
        --------
        >>> [UnitSystem.METRIC.spread(kg) for kg in (0.00034, 0.00185, 0.0123)]
        ['0.34 g', '1.9 g', '12 g']
        """
        return self.mass(kg, kg)

    def mass_change(self, kg: float) -> str:
        """Return a change of mass with its sign; one below half a milligram is none.

        Examples
        --------
        >>> [UnitSystem.METRIC.mass_change(kg) for kg in (0.0003, -0.0003, 1e-9)]
        ['+0.30 g', '−0.30 g', '0.00 g']
        """
        text = self.mass(0.0 if abs(kg) < NO_CHANGE_KG else kg)
        return f"+{text}" if kg >= NO_CHANGE_KG else text

    def round_mass(self, kg: float) -> str:
        """Return a round mass, as rule books give it, without idle zeros.

        Examples
        --------
        >>> [UnitSystem.METRIC.round_mass(kg) for kg in (0.040, 0.0014, 0.0425242847)]
        ['40 g', '1.4 g', '42.5 g']
        """
        return _without_idle_zeros(self.mass(kg))

    def mass_entry(self, kg: float) -> str:
        """Return a worked-out mass as text for a mass field: three figures, but no finer than a tenth of a milligram.

        Examples
        --------
        >>> [UnitSystem.METRIC.mass_entry(kg) for kg in (0.00035343, 0.0000012, 0.012345)]
        ['0.353 g', '0.0012 g', '12.3 g']
        >>> UnitSystem.IMPERIAL.mass_entry(0.00035343)
        '0.0125 oz'
        """
        number = self.number(kg, "mass")
        places = next((places for places, size in ((1, 10.0), (2, 1.0), (3, 0.1)) if number >= size), 4)
        return f"{digits.signed(number, places)} {self.label('mass')}"

    def length(self, meters: float, fine: bool = True) -> str:
        """Return a worked-out station or distance: to 0.1 mm or 0.01 in, without `fine` to 1 mm or 0.1 in.

        Examples
        --------
        >>> METRIC, IMPERIAL = UnitSystem
        >>> METRIC.length(0.1686), IMPERIAL.length(0.1686), METRIC.length(0.1686, False)
        ('168.6 mm', '6.64 in', '169 mm')
        """
        return self.fixed(meters, "length", (1 if self is UnitSystem.IMPERIAL else 0) + fine)

    def station(self, meters: float) -> str:
        """Return a station that was given, without idle zeros.

        Examples
        --------
        >>> UnitSystem.METRIC.station(0.165), UnitSystem.METRIC.station(0.1655), UnitSystem.IMPERIAL.station(0.1)
        ('165 mm', '165.5 mm', '3.94 in')
        """
        return _without_idle_zeros(self.length(meters))

    def speed(self, m_s: float) -> str:
        """Return a worked-out speed: two figures.

        Examples
        --------
        >>> UnitSystem.METRIC.speed(3.61)
        '3.6 m/s'
        """
        return self.rounded(m_s, "speed")

    def loading(self, kg_m2: float) -> str:
        """Return a wing loading: three figures.

        Examples
        --------
        >>> UnitSystem.METRIC.loading(0.9)
        '9.00 g/dm²'
        """
        return self.rounded(kg_m2, "loading", 3)

    def torque(self, newton_meters: float) -> str:
        """Return a torque from thin-aerofoil theory: two figures.

        Examples
        --------
        >>> UnitSystem.METRIC.torque(0.00123456), UnitSystem.IMPERIAL.torque(0.00123456)
        ('1.2 mN·m', '0.17 ozf·in')
        """
        return self.rounded(newton_meters, "torque")

    def temperature(self, kelvin: float) -> str:
        """Return a temperature in whole degrees.

        Examples
        --------
        >>> UnitSystem.METRIC.temperature(281.15), UnitSystem.IMPERIAL.temperature(273.15)
        ('8 °C', '32 °F')
        """
        return self.fixed(kelvin, "temperature", 0)

    def temperature_difference(self, kelvins: float) -> str:
        """Return a difference of temperatures.

        Examples
        --------
        >>> [UnitSystem.METRIC.temperature_difference(each) for each in (10.0, 4.5)]
        ['10 °C', '4.5 °C']
        >>> UnitSystem.IMPERIAL.temperature_difference(10.0)
        '18 °F'
        """
        degrees = self.number(kelvins, "temperature") - self.number(0.0, "temperature")
        return f"{digits.given(degrees)} {self.label('temperature')}"

    def next_bit_of_mass(self) -> tuple[str, float]:
        """Return a little more mass, as a builder would say it, and what it is [kg].

        Examples
        --------
        >>> UnitSystem.METRIC.next_bit_of_mass()
        ('gram', 0.001)
        """
        if self is UnitSystem.METRIC:
            return "gram", 0.001
        return "tenth of an ounce", units.to_si(0.1, "oz", "mass")


@lru_cache(maxsize=1024)  # an edit changes few of a list's masses
def _mass(system: UnitSystem, kg: float, spread_kg: float) -> str:
    label, number = system.label("mass"), system.number(kg, "mass")
    places = _decimals(abs(number))
    if label == "oz" and abs(number) < 9.9995:
        places = 4 if 0.0 < abs(number) < 0.000995 else 3
    if spread_kg > 0.0:
        power = int(f"{system.number(spread_kg, 'mass'):.1e}".split("e")[1])
        known = max(0, 1 - power)
        finely = label == "g" and abs(number) < 0.0995 and spread_kg < 0.1 * abs(kg)
        places = min(FINEST, known) if finely else min(places, known)
    return f"{digits.signed(number, places)} {label}"


def _decimals(size: float) -> int:
    """Return the decimals that show a size to what a builder's scale would: more for smaller."""
    return 1 if size >= 9.995 else 2 if size >= 0.00995 or size == 0 else 3


def _without_idle_zeros(quantity: str) -> str:
    number, label = quantity.split(" ")
    return f"{digits.trimmed(number)} {label}"
