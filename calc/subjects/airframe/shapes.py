"""Mass of an airframe's parts from their dimensions, and the areas and mean chords of its surfaces.

Everything is in SI: kg, m, m², kg/m³, kg/m². What stock has too (rod, tube, strip, thread, filler) is in its room.

    trapezoid      S = ½ (c_r + c_t) b           mean chord (2/3) c_r (1 + λ + λ²) / (1 + λ), λ = c_t/c_r
    ellipse        S = (π/4) b c_r               mean chord 8 c_r / (3 π)
    dihedral Γ     what is covered = S ÷ cos Γ; b is the span as seen from above
    ribs           n = ⌈b ÷ pitch⌉ + 1, each 0.6851 τ c² in area (closed NACA four-digit thickness form)
    flat frame     two strips along the span, a rib of the same strip at each pitch
    rolled tube    π D_m t L
    cone           π (D_1 + D_2)/2 √(L² + ((D_1 − D_2)/2)²) t

Source: plane and solid geometry; the area of the rib is the integral of the four-digit thickness form, Abbott and
Doenhoff, Theory of Wing Sections, 1959, section 6.4 (the form from memory, the integral worked out).
"""

from dataclasses import dataclass
from math import ceil, cos, hypot, pi

from calc.errors import require

RIB_AREA = 0.6851  # of thickness × chord, closed with the open tail edge of the four-digit form
STEEPEST_RAD = 1.4
SAME_PITCH = 1e-9  # a span that is a whole number of pitches but for rounding


def _positive(name: str, value: float) -> float:
    return require(name, value, 0.0, above=True)


@dataclass(frozen=True, kw_only=True)
class Planform:
    """A surface or one panel of it as seen from above: span and chords [m], its dihedral [rad]."""

    span_m: float
    root_m: float
    tip_m: float
    ellipse: bool = False
    dihedral_rad: float = 0.0


def area(plan: Planform) -> float:
    """Return the area as seen from above [m²].

    Raises
    ------
    OutOfRangeError
        If span or root chord is not above zero, or the tip chord is negative.

    Examples
    --------
    >>> round(area(Planform(span_m=0.8, root_m=0.12, tip_m=0.08)), 6)
    0.08
    """
    span_m, root_m = _positive("span_m", plan.span_m), _positive("root_m", plan.root_m)
    tip_m = require("tip_m", plan.tip_m, 0.0)
    return pi / 4.0 * span_m * root_m if plan.ellipse else 0.5 * (root_m + tip_m) * span_m


def mean_chord(plan: Planform) -> float:
    """Return the mean aerodynamic chord [m].

    Raises
    ------
    OutOfRangeError
        As `area`.

    Examples
    --------
    >>> round(mean_chord(Planform(span_m=0.8, root_m=0.12, tip_m=0.08)), 5)
    0.10133
    """
    area(plan)
    if plan.ellipse:
        return 8.0 * plan.root_m / (3.0 * pi)
    taper = plan.tip_m / plan.root_m
    return 2.0 / 3.0 * plan.root_m * (1.0 + taper + taper**2) / (1.0 + taper)


def covered(plan: Planform, sides: int) -> float:
    """Return the area to be covered [m²], on one side or on both, along the slope of the dihedral.

    Raises
    ------
    OutOfRangeError
        As `area`; or the dihedral is not from 0 to 1.4 rad, or there are not 1 to 2 sides.

    Examples
    --------
    >>> round(covered(Planform(span_m=0.2, root_m=0.1, tip_m=0.1, dihedral_rad=0.5235988), 2), 6)
    0.046188
    """
    require("sides", sides, 1, 2)
    return sides * area(plan) / cos(require("dihedral_rad", plan.dihedral_rad, 0.0, STEEPEST_RAD))


def rib_count(span_m: float, pitch_m: float) -> int:
    """Return the number of ribs, one at each end.

    Raises
    ------
    OutOfRangeError
        If span or pitch is not above zero.

    Examples
    --------
    >>> rib_count(0.76, 0.05), rib_count(0.3, 0.1)
    (17, 4)
    """
    return ceil(_positive("span_m", span_m) / _positive("pitch_m", pitch_m) - SAME_PITCH) + 1


def chords(plan: Planform, count: int) -> tuple[float, ...]:
    """Return the chords [m] of so many ribs, evenly spaced from end to end; an ellipse has none at its tips.

    Raises
    ------
    OutOfRangeError
        As `area`; or there are fewer than 2 ribs.

    Examples
    --------
    >>> chords(Planform(span_m=0.4, root_m=0.25, tip_m=0.125), 3)
    (0.25, 0.1875, 0.125)
    """
    area(plan)
    steps = int(require("count", count, 2)) - 1
    at = [step / steps for step in range(steps + 1)]
    if plan.ellipse:
        return tuple(plan.root_m * max(0.0, 1.0 - (2.0 * each - 1.0) ** 2) ** 0.5 for each in at)
    return tuple(plan.root_m + (plan.tip_m - plan.root_m) * each for each in at)


def rib_area(chord_m: float, thickness_share: float) -> float:
    """Return the area of a rib's side [m²], 0.6851 τ c²; a chord of 0, at the tip of an ellipse, has none.

    Raises
    ------
    OutOfRangeError
        If the chord is negative, or the thickness is not above 0 up to 0.5 of it.

    Examples
    --------
    >>> round(rib_area(0.12, 0.08) * 1e4, 2)
    7.89
    """
    return RIB_AREA * require("thickness_share", thickness_share, 0.0, 0.5, above=True) * (
        require("chord_m", chord_m, 0.0) ** 2
    )  # fmt: skip


def ribs(plan: Planform, pitch_m: float, thickness_share: float, sheet_m: float, density_kg_m3: float) -> float:
    """Return the mass of the ribs cut from sheet [kg].

    Raises
    ------
    OutOfRangeError
        If a dimension or the density is not above zero, or as `rib_area`.

    Examples
    --------
    >>> plan = Planform(span_m=0.76, root_m=0.12, tip_m=0.12)
    >>> round(ribs(plan, 0.05, 0.08, 0.0008, 110.0) * 1000, 3)
    1.181
    """
    cut_m2 = sum(rib_area(chord, thickness_share) for chord in chords(plan, rib_count(plan.span_m, pitch_m)))
    return cut_m2 * _positive("sheet_m", sheet_m) * _positive("density", density_kg_m3)


def flat_frame(plan: Planform, pitch_m: float, width_m: float, height_m: float, density_kg_m3: float) -> float:
    """Return the mass of a flat frame of one strip [kg]: both edges along the span, a rib at each pitch.

    Raises
    ------
    OutOfRangeError
        If a dimension or the density is not above zero.

    Examples
    --------
    >>> round(flat_frame(Planform(span_m=0.3, root_m=0.08, tip_m=0.08), 0.05, 0.002, 0.002, 120.0) * 1000, 3)
    0.557
    """
    length_m = 2.0 * plan.span_m + sum(chords(plan, rib_count(plan.span_m, pitch_m)))
    section_m2 = _positive("width_m", width_m) * _positive("height_m", height_m)
    return length_m * section_m2 * _positive("density", density_kg_m3)


def wall(first_m: float, second_m: float, length_m: float) -> float:
    """Return the area of the wall of a cone by its mean diameters [m²]; equal ones make a tube.

    Raises
    ------
    OutOfRangeError
        If the first diameter or the length is not above zero, or the second diameter is negative.

    Examples
    --------
    >>> round(wall(0.012, 0.005, 0.45), 6)
    0.012017
    """
    slant_m = hypot(_positive("length_m", length_m), 0.5 * (first_m - second_m))
    return pi * 0.5 * (_positive("first_m", first_m) + require("second_m", second_m, 0.0)) * slant_m


def shell(first_m: float, second_m: float, length_m: float, thickness_m: float, density_kg_m3: float) -> float:
    """Return the mass of a rolled tube, or of a cone or tapered boom [kg].

    Raises
    ------
    OutOfRangeError
        If a dimension or the density is not above zero, the small end excepted.

    Examples
    --------
    >>> round(shell(0.025, 0.025, 0.4, 0.0008, 110.0) * 1000, 3)
    2.765
    """
    skin_m2 = wall(first_m, second_m, length_m)
    return skin_m2 * _positive("thickness_m", thickness_m) * _positive("density", density_kg_m3)


def shell_centre(first_m: float, second_m: float) -> float:
    """Return where a cone's wall balances, as a share of its length behind the first end: (D_1 + 2 D_2)/3(D_1 + D_2).

    Raises
    ------
    OutOfRangeError
        If the first diameter is not above zero, or the second is negative.

    Examples
    --------
    >>> shell_centre(0.02, 0.02), round(shell_centre(0.02, 0.0), 4)
    (0.5, 0.3333)
    """
    _positive("first_m", first_m)
    require("second_m", second_m, 0.0)
    return (first_m + 2.0 * second_m) / (3.0 * (first_m + second_m))


def sheet_density(mass_kg: float, length_m: float, width_m: float, thickness_m: float) -> float:
    """Return the density of a sheet on the scale [kg/m³].

    Raises
    ------
    OutOfRangeError
        If the mass or a dimension is not above zero.

    Examples
    --------
    >>> round(sheet_density(0.0053155, 0.9144, 0.0762, 0.00079375), 1)
    96.1
    """
    volume_m3 = _positive("length_m", length_m) * _positive("width_m", width_m) * _positive("thickness_m", thickness_m)
    return _positive("mass_kg", mass_kg) / volume_m3


GRADES = (  # balsa by common practice, from (kg/m³); 1 lb/ft³ = 16.018 kg/m³
    (0.0, "contest, the lightest"),
    (96.5, "light"),
    (112.0, "light to medium"),
    (144.0, "medium hard"),
    (208.0, "hard"),
)


def grade(density_kg_m3: float) -> str:
    """Return the trade's word for balsa of a density above zero: common practice, no source for the borders.

    Raises
    ------
    OutOfRangeError
        If the density is not above zero.

    Examples
    --------
    >>> grade(88.0), grade(104.0), grade(128.0), grade(176.0), grade(240.0)
    ('contest, the lightest', 'light', 'light to medium', 'medium hard', 'hard')
    """
    _positive("density", density_kg_m3)
    return next(word for least, word in reversed(GRADES) if density_kg_m3 >= least)
