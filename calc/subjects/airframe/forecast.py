"""What the airframe will weigh once it is built, from the plan and from what is on the scale so far.

Symbols: p planned mass [kg] of a part, glue included; g growth by how it is known; o half-width of its own, as a share;
w weighed mass [kg]; x = w/p − 1.

    before         growth of g ± g, common to all parts; u_g = g/√3
    evidence       x of each weighed part, with u_o = √(o² + (half a scale division ÷ p)²)/√3
    after          mean and precision: 1/u² = 1/u_g² + Σ 1/u_o², γ = u² (g/u_g² + Σ x/u_o²)
    forecast       Σ w + Σ p (1 + γ) over the rest
    spread         2 √((Σ p u)² + Σ (p o)²/3 + Σ (half a scale division)²/3)

How a builder builds is common to all parts: so growth adds up straight, while each part's own density adds in squares.
Precision only ever adds up, so that a part that was weighed never widens the spread, as long as the scale is finer than
what the part was known to before.

Sources: growth of 18 % for a sketch and 8 % for what is drawn and cut, from the maturity of aerospace structures
(ECSS-like margins, read in a secondary source; for models no study was found); 5 % of a maker's figure as for gear.
Normal-normal updating: precisions add (K. Nygren, glmbayes, chapter 2; Gelman et al., Bayesian Data Analysis, 2.5).
That a part errs by 5 % of its own even where its density is known (sanding, fit) is our rule.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import hypot, sqrt

from calc.errors import require
from calc.subjects.weights.masses import Total
from calc.vocabulary import Maturity

GROWTH: Mapping[Maturity, float] = {"sketch": 0.18, "cut": 0.08, "maker": 0.05}
OWN = 0.05  # our rule: half-width that no plan is better than


@dataclass(frozen=True, kw_only=True)
class Planned:
    """A part's plan and, once built, what it weighs [kg]; a part may have been weighed without any plan."""

    planned_kg: float | None
    growth: float = 0.0
    own: float = OWN
    weighed_kg: float | None = None

    @property
    def nominal_kg(self) -> float:
        """What it counts as without growth: as weighed, else as planned."""
        return (self.planned_kg or 0.0) if self.weighed_kg is None else self.weighed_kg


def _own(part: Planned, half_kg: float) -> float:
    """Return how far off a weighed part's growth may be from the builder's: u_o."""
    assert part.planned_kg
    return hypot(part.own, half_kg / part.planned_kg) / sqrt(3.0)


def builder(parts: Iterable[Planned], division_kg: float) -> tuple[float, float]:
    """Return Σ x/u_o² and Σ 1/u_o² over what is weighed: how heavy this builder builds, and how sure that is.

    Raises
    ------
    OutOfRangeError
        If the scale division is negative.

    Examples
    --------
    >>> heavy, sure = builder([Planned(planned_kg=0.010, own=0.05, weighed_kg=0.011)], 0.0)
    >>> round(heavy / sure, 6), round(sure)
    (0.1, 1200)
    """
    half_kg = require("division_kg", division_kg, 0.0) / 2.0
    known = [(part, _own(part, half_kg) ** -2) for part in parts if part.planned_kg and part.weighed_kg is not None]
    heavy = sum(((part.weighed_kg or 0.0) / (part.planned_kg or 1.0) - 1.0) * sure for part, sure in known)
    return heavy, sum(sure for _, sure in known)


def growth_after(growth: float, learned: tuple[float, float]) -> tuple[float, float]:
    """Return the growth of what is not built yet and its standard uncertainty, after what was weighed.

    Raises
    ------
    OutOfRangeError
        If the growth is not above zero.

    Examples
    --------
    >>> round(growth_after(0.18, (0.0, 0.0))[0], 6)
    0.18
    >>> [round(each, 4) for each in growth_after(0.08, builder([Planned(planned_kg=1, own=0.05, weighed_kg=1)], 0.0))]
    [0.0225, 0.0245]
    """
    before = 3.0 / require("growth", growth, 0.0, above=True) ** 2
    sure = before + learned[1]
    return (growth * before + learned[0]) / sure, 1.0 / sqrt(sure)


def forecast(parts: Iterable[Planned], division_kg: float, *, learn: bool = True) -> Total:
    """Return the mass of all parts together; `learn` takes the growth of the weighed ones for the rest.

    Its nominal mass has no growth, and is never more than what is expected: the share rule allows more to a heavier
    airframe.

    Raises
    ------
    OutOfRangeError
        If the scale division is negative, or a growth is not above zero.

    Examples
    --------
    >>> plan = [Planned(planned_kg=0.020, growth=0.08), Planned(planned_kg=0.010, growth=0.08, weighed_kg=0.012)]
    >>> round(forecast(plan, 0.0).expected_kg * 1000, 2), round(forecast(plan, 0.0, learn=False).expected_kg * 1000, 2)
    (35.33, 33.6)
    """
    every = tuple(parts)
    learned = builder(every, division_kg) if learn else (0.0, 0.0)
    half_kg = require("division_kg", division_kg, 0.0) / 2.0
    expected_kg = common_kg = squares = 0.0
    for part in every:
        if part.weighed_kg is not None:
            expected_kg += part.weighed_kg
            squares += half_kg**2 / 3.0
        elif part.planned_kg:
            growth, unsure = growth_after(part.growth, learned)
            expected_kg += part.planned_kg * (1.0 + growth)
            common_kg += part.planned_kg * unsure
            squares += (part.planned_kg * part.own) ** 2 / 3.0
    nominal_kg = sum(part.nominal_kg for part in every)
    return Total(
        nominal_kg=min(nominal_kg, expected_kg), expected_kg=expected_kg,
        uncertainty_kg=sqrt(common_kg**2 + squares),
    )  # fmt: skip
