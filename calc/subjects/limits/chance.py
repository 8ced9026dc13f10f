"""The chance that the gear is within a limit, and within all limits at once: worked out exactly, no random numbers.

Scope: each mass lies anywhere between its two ends with the same chance (a rectangular distribution of half-width a);
rows err independently of each other; the airframe errs once for all limits.

Symbols: D the sum of the rows' deviations [kg]; F(x) the chance that D ≤ x; H(x) the integral of F up to x; δ the
airframe's deviation [kg], half-width h; in hand s [kg] at the expected masses; e what one more kilogram of airframe
does to what is in hand.

    N rectangles of half-widths a:  F(x) = Σ ± (x ± a₁ ± … ± a_N)₊^N / (N! Π 2a)     equal widths taken together
    one limit                       the chance that D − e δ ≤ s: one rectangle more, of half-width |e| h
    all limits at once              (1/2h) ∫ F(min over limits of (s + e δ)) dδ over −h … h, piece by piece through H

The sums are over whole nanograms, so nothing is lost by cancelling. With more unlike rows than `MOST_TERMS` allows, F
comes from a fine grid instead, good to 0.0005.

Sources: JCGM 101:2008 (the distribution of a sum of rectangular quantities), JCGM 106:2012 (conformance probability).
Leaves out: faults, another scale, glue, and that parts of one maker or one scale may err together.
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from math import comb, factorial, prod

from calc.errors import require

NANOGRAM = 1e-12  # kg
TIE_KG = 1e-9  # a microgram, as in calc.allowance: no scale sees it
MOST_TERMS = 4096
STEPS = 2000  # of the grid


@dataclass(frozen=True, kw_only=True)
class Deviation:
    """The sum of independent rectangular deviations; `widths_kg` their half-widths [kg], each ≥ 0."""

    widths_kg: tuple[float, ...]

    @cached_property
    def reach_kg(self) -> float:
        """The farthest that the sum can lie off [kg].

        Raises
        ------
        OutOfRangeError
            If a half-width is below zero.
        """
        return sum(require("half-width", width, 0.0) for width in self.widths_kg)

    @cached_property
    def _counted(self) -> tuple[tuple[int, int], ...]:
        """(half-width [ng], how many have it), those of no width left out."""
        whole = (round(width / NANOGRAM) for width in self.widths_kg)
        return tuple(sorted(Counter(width for width in whole if width > 0).items()))

    @cached_property
    def _terms(self) -> tuple[tuple[int, int], ...] | None:
        """(shift [ng], sign and weight) of each term of F; None where there are too many."""
        if prod(count + 1 for _, count in self._counted) > MOST_TERMS:
            return None
        terms = {0: 1}
        for width, count in self._counted:
            more: dict[int, int] = {}
            for shift, weight in terms.items():
                for off in range(count + 1):
                    at = shift + width * (count - 2 * off)
                    more[at] = more.get(at, 0) + weight * (-1) ** off * comb(count, off)
            terms = more
        return tuple(terms.items())

    @cached_property
    def _grid(self) -> "_Grid":
        return _grid(tuple(width * NANOGRAM for width, count in self._counted for _ in range(count)), STEPS)

    def chance_below(self, limit_kg: float) -> float:
        """Return F: the chance that the sum is at most `limit_kg`; exactly 1 or 0 where it can be nothing else.

        Examples
        --------
        >>> Deviation(widths_kg=(0.0006,)).chance_below(0.0003)
        0.75
        >>> Deviation(widths_kg=(0.0006, 0.0002)).chance_below(0.0003)
        0.75
        """
        if limit_kg >= self.reach_kg - TIE_KG:
            return 1.0
        if limit_kg <= -self.reach_kg:
            return 0.0
        return self._integral(limit_kg, 0)

    def area_below(self, limit_kg: float) -> float:
        """Return H: the integral of F up to `limit_kg` [kg]; from the reach on it grows as fast as the limit.

        Examples
        --------
        >>> round(Deviation(widths_kg=(0.001,)).area_below(0.0), 9)
        0.00025
        """
        if limit_kg >= self.reach_kg:
            return limit_kg  # the deviations are symmetric, so H(reach) = reach
        return 0.0 if limit_kg <= -self.reach_kg else self._integral(limit_kg, 1)

    def _integral(self, limit_kg: float, more: int) -> float:
        """Return F (`more` 0) or H (`more` 1) within the reach."""
        if self._terms is None:
            return self._grid.area(limit_kg) if more else self._grid.chance(limit_kg)
        power = sum(count for _, count in self._counted) + more
        at = round(limit_kg / NANOGRAM)
        top = sum(weight * (at + shift) ** power for shift, weight in self._terms if at + shift > 0)
        bottom = factorial(power) * prod((2 * width) ** count for width, count in self._counted)
        return float(top / bottom) * (NANOGRAM if more else 1.0)

    def quantiles(self, number: int) -> tuple[float, ...]:
        """Return the deviations [kg] in the middle of `number` equally likely parts, for a picture.

        Examples
        --------
        >>> [round(each * 1e6) for each in Deviation(widths_kg=(0.001,)).quantiles(4)]
        [-750, -250, 250, 750]
        """
        if not self._counted:
            return (0.0,) * number
        coarse = _grid(tuple(width * NANOGRAM for width, count in self._counted for _ in range(count)), 240)
        return tuple(coarse.at_chance((index + 0.5) / number) for index in range(number))


@dataclass(frozen=True, kw_only=True)
class _Grid:
    """F and H on a grid from −reach in equal steps [kg], straight between."""

    start_kg: float
    step_kg: float
    chances: tuple[float, ...]
    areas: tuple[float, ...]

    def chance(self, at_kg: float) -> float:
        place = (at_kg - self.start_kg) / self.step_kg
        left = min(max(int(place), 0), len(self.chances) - 2)
        return self.chances[left] + (place - left) * (self.chances[left + 1] - self.chances[left])

    def area(self, at_kg: float) -> float:
        place = (at_kg - self.start_kg) / self.step_kg
        left = min(max(int(place), 0), len(self.areas) - 2)
        part = place - left
        rise = self.chances[left] + (self.chances[left + 1] - self.chances[left]) * part / 2.0
        return self.areas[left] + part * self.step_kg * rise

    def at_chance(self, chance: float) -> float:
        right = min(max(bisect_right(self.chances, chance), 1), len(self.chances) - 1)
        low, high = self.chances[right - 1], self.chances[right]
        part = 0.0 if high <= low else (chance - low) / (high - low)
        return self.start_kg + (right - 1 + part) * self.step_kg


@lru_cache(maxsize=8)
def _grid(widths_kg: tuple[float, ...], steps: int) -> _Grid:
    """Return F of the sum on a grid: each rectangle turns F into its mean over the rectangle's width."""
    reach = sum(widths_kg)
    step = 2.0 * reach / steps
    places = [-reach + index * step for index in range(steps + 1)]
    first, *others = sorted(widths_kg, reverse=True)
    chances = [min(1.0, max(0.0, (x + first) / (2.0 * first))) for x in places]
    grid = _with_areas(-reach, step, chances)
    for width in others:
        means = [(_area(grid, x + width) - _area(grid, x - width)) / (2.0 * width) for x in places]
        grid = _with_areas(-reach, step, means)
    return grid


def _with_areas(start_kg: float, step_kg: float, chances: Sequence[float]) -> _Grid:
    areas = [0.0]
    for low, high in pairwise(chances):
        areas.append(areas[-1] + (low + high) / 2.0 * step_kg)
    return _Grid(start_kg=start_kg, step_kg=step_kg, chances=tuple(chances), areas=tuple(areas))


def _area(grid: _Grid, at_kg: float) -> float:
    end_kg = grid.start_kg + grid.step_kg * (len(grid.chances) - 1)
    if at_kg <= grid.start_kg:
        return 0.0
    return grid.areas[-1] + at_kg - end_kg if at_kg >= end_kg else grid.area(at_kg)


@dataclass(frozen=True, kw_only=True)
class Bound:
    """A limit for the chance: in hand at the expected masses [kg], and its change per kilogram of airframe."""

    in_hand_kg: float
    per_airframe: float


def within(bound: Bound, gear: Deviation, airframe_kg: float) -> float:
    """Return the chance that the gear is within one limit; `airframe_kg` is the airframe's half-width, ≥ 0.

    Examples
    --------
    >>> within(Bound(in_hand_kg=0.0003, per_airframe=-1.0), Deviation(widths_kg=(0.0002,)), 0.0006)
    0.75
    """
    return _with_airframe(bound, gear, airframe_kg).chance_below(bound.in_hand_kg)


def _with_airframe(bound: Bound, gear: Deviation, airframe_kg: float) -> Deviation:
    return Deviation(widths_kg=(*gear.widths_kg, abs(bound.per_airframe) * require("airframe_kg", airframe_kg, 0.0)))


def within_all(bounds: Iterable[Bound], gear: Deviation, airframe_kg: float) -> float:
    """Return the chance that the gear is within every limit at once; 1 of no limit.

    Limits share the same masses, so this is no product: the airframe's deviation is the same one in each.

    Examples
    --------
    >>> both = [Bound(in_hand_kg=0.0003, per_airframe=-1.0), Bound(in_hand_kg=0.0003, per_airframe=0.25)]
    >>> within_all(both, Deviation(widths_kg=()), 0.0006)
    0.75
    """
    found = tuple(bounds)
    chances = [within(bound, gear, airframe_kg) for bound in found]
    if not found or min(chances) >= 1.0:
        return 1.0
    if min(chances) <= 0.0 or airframe_kg <= 0.0 or len(found) == 1:
        return min(chances)
    crossings = [-airframe_kg, *sorted(_crossings(found, airframe_kg)), airframe_kg]
    area = sum(_piece(found, gear, low, high) for low, high in pairwise(crossings) if high > low)
    return min(max(area / (2.0 * airframe_kg), 0.0), min(chances))


def _crossings(bounds: Sequence[Bound], airframe_kg: float) -> Iterable[float]:
    """Yield the airframe's deviations at which another limit becomes the narrowest, within its half-width."""
    for index, one in enumerate(bounds):
        for other in bounds[index + 1 :]:
            slope = other.per_airframe - one.per_airframe
            at_kg = (one.in_hand_kg - other.in_hand_kg) / slope if slope != 0.0 else airframe_kg
            if -airframe_kg < at_kg < airframe_kg:
                yield at_kg


def _piece(bounds: Sequence[Bound], gear: Deviation, low_kg: float, high_kg: float) -> float:
    """Return the integral of F(narrowest limit) over airframe deviations between which one limit is the narrowest."""
    middle_kg = (low_kg + high_kg) / 2.0
    narrow = min(bounds, key=lambda bound: bound.in_hand_kg + bound.per_airframe * middle_kg)
    ends = [narrow.in_hand_kg + narrow.per_airframe * each for each in (low_kg, high_kg)]
    return (gear.area_below(ends[1]) - gear.area_below(ends[0])) / narrow.per_airframe
