"""How sure the answer is: the chance of each limit and of all at once, and the weighing that would settle most."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import sqrt

from calc.subjects.limits import chance as sums
from calc.subjects.limits.allowance import Limit
from calc.subjects.limits.chance import Bound, Deviation
from calc.subjects.weights.answer import RowMass
from calc.subjects.weights.masses import Total
from calc.vocabulary import LimitId

SETTLED = 0.95  # our rule: a weighing settles it if it leaves no doubt in so large a share of the cases


@dataclass(frozen=True, kw_only=True)
class Weighing:
    """A part whose weighing would settle most: its path and name, and whether it would settle (nearly) everything."""

    path: str
    name: str
    settles: bool


@dataclass(frozen=True, kw_only=True)
class ChanceBlock:
    """The chances, each 0 to 1; exactly 1 or 0 only where it is so in every case that was given."""

    limits: Mapping[LimitId, float]  # by the limit's id, before any lead
    with_lead: Mapping[LimitId, float]
    all: float  # of every limit at once, the lead counted
    settle: Weighing | None  # None where nothing is open, or all is weighed
    against: LimitId  # the least sure limit
    dots_kg: tuple[float, ...]  # gear masses, equally likely, as seen against that limit


@dataclass(frozen=True, kw_only=True)
class _Unsure:
    """A mass that is not weighed, or only to the scale's half division [kg], with the lead that it asks for."""

    path: str
    name: str
    half_kg: float
    weighed: bool


DOTS = 20


def chance(
    limits: tuple[Limit, ...], with_lead: tuple[Limit, ...], rows: tuple[RowMass, ...], airframe: RowMass | None,
    division_kg: float, lead: Mapping[str, float],
) -> ChanceBlock | None:  # fmt: skip
    """Return how sure the answer is, None while there is no limit; `airframe` is a row, None if not known.

    `lead` says how much lead a kilogram of each part asks for, by path. Lead is never less than none, so with it the
    chance is at most that without: the smaller of the two is told.
    """
    if not limits:
        return None
    half_kg = 0.0 if airframe is None else half_width(airframe.mass)
    plain, led = _gear(rows, {}), _gear(rows, lead)
    before, all_ = _chances(limits, plain, half_kg), _all(limits, plain, half_kg)
    after = before
    if lead:
        after = {name: min(chance, before[name]) for name, chance in _chances(with_lead, led, half_kg).items()}
        all_ = min(_all(with_lead, led, half_kg), all_)
    least = min(with_lead, key=lambda limit: (after[limit.id], limit.in_hand_kg))
    unsure = tuple(_unsure(row, lead) for row in (*rows, *(() if airframe is None else (airframe,))))
    return ChanceBlock(
        limits=before,
        with_lead=after,
        all=all_,
        settle=_settle(with_lead, after, least, unsure, division_kg / 2.0),
        against=least.id,
        dots_kg=tuple(_dots(least, led, half_kg)),
    )


def _gear(rows: Iterable[RowMass], lead: Mapping[str, float]) -> Deviation:
    """Return the deviation of the gear with the lead that each row asks for."""
    return Deviation(widths_kg=tuple(abs(1.0 + lead.get(row.path, 0.0)) * half_width(row.mass) for row in rows))


def _all(limits: Iterable[Limit], gear: Deviation, half_kg: float) -> float:
    return sums.within_all((_bound(limit) for limit in limits), gear, half_kg)


def half_width(mass: Total) -> float:
    """Return the half-width [kg] of one row's rectangle: u √3 (a row is one rectangle)."""
    return mass.uncertainty_kg * sqrt(3.0)


def _bound(limit: Limit) -> Bound:
    return Bound(in_hand_kg=limit.in_hand_kg, per_airframe=limit.per_airframe)


def _chances(limits: Iterable[Limit], gear: Deviation, half_kg: float) -> dict[LimitId, float]:
    return {limit.id: sums.within(_bound(limit), gear, half_kg) for limit in limits}


def _unsure(row: RowMass, lead: Mapping[str, float]) -> _Unsure:
    effect = 1.0 if row.path == "model.airframe" else abs(1.0 + lead.get(row.path, 0.0))
    half_kg = effect * half_width(row.mass)
    return _Unsure(path=row.path, name=row.called, half_kg=half_kg, weighed=row.known_by == "weighed")


def _effect(limit: Limit, path: str) -> float:
    return abs(limit.per_airframe) if path == "model.airframe" else 1.0


def _settle(
    limits: Iterable[Limit], chances: Mapping[LimitId, float], least: Limit,
    unsure: tuple[_Unsure, ...], scale_kg: float,
) -> Weighing | None:  # fmt: skip
    """Return the part not weighed yet that has most to do with the least sure limit."""
    still = [each for each in unsure if not each.weighed]
    if not still or not 0.0 < chances[least.id] < 1.0:
        return None
    most = max(still, key=lambda each: _effect(least, each.path) * each.half_kg)
    doubtful = [limit for limit in limits if 0.0 < chances[limit.id] < 1.0]
    settles = all(_settled_share(limit, most, unsure, scale_kg) >= SETTLED for limit in doubtful)
    return Weighing(path=most.path, name=most.name, settles=settles)


def _settled_share(limit: Limit, most: _Unsure, unsure: Iterable[_Unsure], scale_kg: float) -> float:
    """Return in which share of its cases a part, once weighed, leaves no doubt about a limit."""
    rest_kg = sum(_effect(limit, each.path) * each.half_kg for each in unsure if each is not most)
    effect = _effect(limit, most.path)
    rest_kg += effect * scale_kg
    half_kg = effect * most.half_kg
    low, high = max(-half_kg, limit.in_hand_kg - rest_kg), min(half_kg, limit.in_hand_kg + rest_kg)
    return 1.0 - max(0.0, high - low) / (2.0 * half_kg) if half_kg > 0.0 else 0.0


def _dots(limit: Limit, gear: Deviation, half_kg: float) -> Iterator[float]:
    """Yield gear masses, equally likely each; what the airframe does to the limit is counted as if the gear did it."""
    both = Deviation(widths_kg=(*gear.widths_kg, abs(limit.per_airframe) * half_kg))
    expected_kg = limit.allows_kg - limit.in_hand_kg
    yield from (expected_kg + each for each in both.quantiles(DOTS))
