"""Why a number is what it is: a formula, the same with the visitor's own numbers, and the result.

Numbers stand in the visitor's units where the formula keeps them; what is of the air and of forces is in SI, as on the
page of methods. They carry four figures, more than they are known to, so that the sum can be followed; a test works
each of them out again.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from calc.digits import given
from calc.document.budget import Budget
from calc.unit_system import UnitSystem

MOST_TERMS = 12  # of a sum that is written out


@dataclass(frozen=True, kw_only=True)
class Working:
    """How one number comes about; `id` names the number on the page, `remark` says what no formula can.

    `entry` is the id of the formula on the page of methods.
    """

    id: str
    entry: str
    what: str
    formula: str
    numbers: str
    result: str
    remark: str = ""


def num(number: float, figures: int = 4) -> str:
    """Return a number as it stands in a sum, a negative one in brackets."""
    text = given(number, figures)
    return f"({text})" if number < 0.0 else text


def in_unit(number: float, dimension: str, system: UnitSystem, figures: int = 4) -> str:
    """Return an SI value in the system’s unit, with so many figures."""
    return f"{num(system.number(number, dimension), figures)} {system.label(dimension)}"


def mass_in(kg: float, budget: Budget) -> str:
    """Return a mass in the budget’s unit."""
    return in_unit(kg, "mass", UnitSystem.of(budget))


def length_in(meters: float, budget: Budget) -> str:
    """Return a length in the budget’s unit, finer: differences of stations are small."""
    return in_unit(meters, "length", UnitSystem.of(budget), 6)


def added(terms: Iterable[str], all_of_them: str) -> str:
    """Return terms added up, or where they are many only what they are."""
    listed = list(terms)
    return " + ".join(listed) if len(listed) <= MOST_TERMS else all_of_them


def working(id_: str, entry: str, what: str, formula: str, numbers: str, result: str, remark: str = "") -> Working:
    """Return a working."""
    return Working(id=id_, entry=entry, what=what, formula=formula, numbers=numbers, result=result, remark=remark)


def in_mah(coulombs: float) -> str:
    """Return a charge in milliampere-hours, the same in every system."""
    return in_unit(coulombs, "charge", UnitSystem.METRIC)


def minutes(seconds: float) -> str:
    """Return a time in minutes."""
    return f"{num(seconds / 60.0)} min"
