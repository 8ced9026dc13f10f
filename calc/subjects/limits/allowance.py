"""How much gear the model may carry: four limits, which of them bites first, and the verdict.

Symbols: A airframe [kg], without gear, rubber and ballast: A₀ nominal, A expected (with the growth of what is not
weighed yet); p share; flying weight = A + gear (+ ballast), without rubber.

    share      gear ≤ p A₀ / (1 − p), so that gear ÷ flying weight = p; with A unknown p × (wished mass, else minimum)
    target     gear ≤ target flying weight − A
    class_max  gear ≤ class maximum − A (− rubber in a class that weighs ready to fly)
    loading    gear ≤ greatest loading × wing area − A − rubber

Growth is there to be on the safe side: a heavier airframe leaves less under three of the limits, but more under the
share rule. So there the airframe counts without its growth, with the same half-width either way.

Lead that balancing takes counts like gear in each limit.

Source: the share rule is common practice, no source; the rest is arithmetic.
"""

from dataclasses import dataclass, replace
from math import hypot

from calc.errors import require
from calc.subjects.weights.masses import Total
from calc.vocabulary import LimitId, Verdict

WORST_FIRST: tuple[Verdict, ...] = ("over", "close", "fits")
TIE_KG = 1e-9  # a microgram: what two ways of adding up may differ by; no scale sees it


@dataclass(frozen=True, kw_only=True)
class Limit:
    """One limit: what it allows, what is in hand (negative: over), and the spread of that [kg].

    `per_airframe` is what one more kilogram of airframe does to what is allowed.
    """

    id: LimitId
    allows_kg: float
    in_hand_kg: float
    spread_kg: float
    per_airframe: float = 0.0

    @property
    def verdict(self) -> Verdict:
        """`fits`, `close` or `over`; exactly at the limit with no spread fits."""
        if self.in_hand_kg >= self.spread_kg - TIE_KG:
            return "fits"
        return "over" if self.in_hand_kg <= -self.spread_kg else "close"


def share_allows(airframe_kg: float, share: float) -> float:
    """Return p A / (1 − p), kg.

    Parameters
    ----------
    airframe_kg : float, scalar
        [kg], > 0.
    share : float, scalar
        Gear ÷ flying weight, 0 < p ≤ 0.999.

    Raises
    ------
    OutOfRangeError
        For arguments outside.

    Examples
    --------
    >>> round(share_allows(0.032, 0.20), 6)
    0.008
    """
    require("airframe_kg", airframe_kg, 0.0, above=True)
    require("share", share, 0.0, 0.999, above=True)
    return share * airframe_kg / (1.0 - share)


@dataclass(frozen=True, kw_only=True)
class Bounds:
    """What the limits are made of; None where it is not known or not set. Masses in kg."""

    share: float | None = None
    target_kg: float | None = None
    minimum_kg: float | None = None
    maximum_kg: float | None = None
    loading_most_kg_m2: float | None = None
    wing_area_m2: float | None = None
    rubber_kg: float | None = None
    maximum_with_rubber: bool = False  # the class weighs ready to fly


def limits(bounds: Bounds, airframe: Total | None, gear: Total) -> tuple[Limit, ...]:
    """Return every limit that can be worked out, in the order share, target, class_max, loading."""
    allowed = _without_airframe(bounds) if airframe is None else _with_airframe(bounds, airframe)
    unsure_kg = 0.0 if airframe is None else airframe.uncertainty_kg
    return tuple(
        Limit(
            id=name,
            allows_kg=allows_kg,
            in_hand_kg=allows_kg - gear.expected_kg,
            spread_kg=2.0 * hypot(gear.uncertainty_kg, effect * unsure_kg),
            per_airframe=effect,
        )
        for name, allows_kg, effect in allowed
    )


def supposed(bounds: Bounds) -> float | None:
    """Return the flying weight [kg] that the share rule takes with no airframe known: the target, else the minimum."""
    return bounds.target_kg if bounds.target_kg is not None else bounds.minimum_kg


def _without_airframe(bounds: Bounds) -> list[tuple[LimitId, float, float]]:
    whole_kg = supposed(bounds)
    if whole_kg is None or bounds.share is None:
        return []
    return [("share", bounds.share * whole_kg, 0.0)]


def _with_airframe(bounds: Bounds, airframe: Total) -> list[tuple[LimitId, float, float]]:
    """Return (id, allows, change of that per change of the airframe's mass)."""
    allowed: list[tuple[LimitId, float, float]] = []
    airframe_kg = airframe.expected_kg
    if bounds.share is not None:
        allows_kg = share_allows(airframe.nominal_kg, bounds.share)
        allowed.append(("share", allows_kg, bounds.share / (1.0 - bounds.share)))
    if bounds.target_kg is not None:
        allowed.append(("target", bounds.target_kg - airframe_kg, -1.0))
    if bounds.maximum_kg is not None:
        rubber_kg = (bounds.rubber_kg or 0.0) if bounds.maximum_with_rubber else 0.0
        allowed.append(("class_max", bounds.maximum_kg - airframe_kg - rubber_kg, -1.0))
    if bounds.loading_most_kg_m2 is not None and bounds.wing_area_m2 is not None and bounds.rubber_kg is not None:
        carried_kg = bounds.loading_most_kg_m2 * bounds.wing_area_m2
        allowed.append(("loading", carried_kg - airframe_kg - bounds.rubber_kg, -1.0))
    return allowed


def governing(found: tuple[Limit, ...]) -> Limit | None:
    """Return the limit with the least in hand; the first of equals; None of none."""
    return min(found, key=lambda limit: limit.in_hand_kg, default=None)


@dataclass(frozen=True, kw_only=True)
class Lead:
    """Lead that balance takes [kg]: how much per kilogram of airframe, and the gear's u once each row brings its own.

    A row at x takes (t − x)/(b − t) of its mass in lead at b to balance at t, less than nothing where it helps.
    """

    mass_kg: float
    per_airframe: float
    gear_uncertainty_kg: float


def with_lead(found: tuple[Limit, ...], lead: Lead | None, airframe_kg: float) -> tuple[Limit, ...]:
    """Return the limits with lead aboard that only balance asks for: it takes from what is in hand like gear.

    Under the share rule too: lead makes the flying weight larger, and counting it there would let a set fit because it
    needs lead. The lead is no surer than the masses that ask for it: the spread counts what each brings along.
    `airframe_kg` is the airframe's standard uncertainty.

    Raises
    ------
    OutOfRangeError
        If the lead’s mass is below zero.
    """
    if lead is None:
        return found
    require("lead_kg", lead.mass_kg, 0.0)
    return tuple(_with_lead(limit, lead, airframe_kg) for limit in found)


def _with_lead(limit: Limit, lead: Lead, airframe_kg: float) -> Limit:
    effect = limit.per_airframe - lead.per_airframe
    spread_kg = 2.0 * hypot(lead.gear_uncertainty_kg, effect * airframe_kg)
    return replace(limit, in_hand_kg=limit.in_hand_kg - lead.mass_kg, spread_kg=spread_kg, per_airframe=effect)


def worst(found: tuple[Limit, ...]) -> Verdict | None:
    """Return the worst verdict of the limits; None of none."""
    verdicts = {limit.verdict for limit in found}
    return next((word for word in WORST_FIRST if word in verdicts), None)


def short_of_minimum(minimum_kg: float, mass_kg: float) -> float:
    """Return how far a mass is below the class minimum, kg, 0 if it is not.

    With the flying weight: the ballast a contest model still needs. With the airframe alone: the gear that costs
    nothing, since ballast would take its place.

    Raises
    ------
    OutOfRangeError
        If a mass is below zero.

    Examples
    --------
    >>> round(short_of_minimum(0.040, 0.0365), 6)
    0.0035
    """
    require("minimum_kg", minimum_kg, 0.0)
    require("mass_kg", mass_kg, 0.0)
    return max(0.0, minimum_kg - mass_kg)
