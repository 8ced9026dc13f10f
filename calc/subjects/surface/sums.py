"""What a control surface asks of its actuator, and the throw that the arms give.

Symbols: q = ½ρV² [Pa]; δ deflection [rad]; E flap chord ÷ chord; AR aspect ratio; a lift slope [1/rad]; servo arm a,
horn h, rod length L [m].

    hinged flap      moment = |b2(E)| δ q S_flap c_flap           thin-aerofoil theory
    whole surface    moment = q S a(AR) δ |x_pivot − ¼| c         Helmbold's slope, force at the quarter chord

Sources: the hinge-moment derivative b2 from Aerodynamics for Engineering Students, section 4.5; measured slopes are
smaller (NACA TR 721), so the flap's moment is on the safe side. Helmbold's equation: Anderson, Aircraft Performance and
Design, example 2.8. The throw is plane geometry. Range: small angles of attack, no stall, one surface alone in the air.
"""

from math import acos, asin, atan2, cos, hypot, pi, sin, sqrt

from calc.errors import OutOfRangeError, require

STEEPEST_RAD = pi / 2


def _phi(flap_share: float) -> float:
    return acos(2.0 * require("flap_share", flap_share, 0.0, 1.0, above=True) - 1.0)


def hinge_moment_b2(flap_share: float) -> float:
    """Return b2 [1/rad], the hinge moment's change with deflection, for E above 0 up to 1.

    Examples
    --------
    >>> round(hinge_moment_b2(0.30), 5)
    -0.9654
    """
    phi = _phi(flap_share)
    rest = pi - phi
    bracket = (1.0 - cos(2.0 * phi)) - 2.0 * rest**2 * (1.0 - 2.0 * cos(phi)) + 4.0 * rest * sin(phi)
    return -bracket / (4.0 * pi * flap_share**2)


def lift_slope(aspect_ratio: float, section_slope: float = 2.0 * pi) -> float:
    """Return Helmbold's lift slope a0 / (√(1 + k²) + k) with k = a0/(π AR) [1/rad], for AR > 0.

    Examples
    --------
    >>> round(lift_slope(6.0, 6.02), 2), round(lift_slope(2.0), 4)
    (4.4, 2.6026)
    """
    require("aspect_ratio", aspect_ratio, 0.0, above=True)
    k = require("section_slope", section_slope, 0.0, above=True) / (pi * aspect_ratio)
    return section_slope / (sqrt(1.0 + k * k) + k)


def dynamic_pressure(density_kg_m3: float, speed_m_s: float) -> float:
    """Return q = ½ρV² [Pa].

    Raises
    ------
    OutOfRangeError
        If density or speed is below zero.

    Examples
    --------
    >>> dynamic_pressure(1.225, 6.0)
    22.05
    """
    return 0.5 * require("density_kg_m3", density_kg_m3, 0.0) * require("speed_m_s", speed_m_s, 0.0) ** 2


def flap_moment(pressure_pa: float, span_m: float, chord_m: float, flap_chord_m: float, deflection_rad: float) -> float:
    """Return the hinge moment [N m] of a hinged flap; `chord_m` is the whole chord, flap included.

    Raises
    ------
    OutOfRangeError
        If a length is not above zero, the flap is longer than the chord, or the deflection is beyond 90°.

    Examples
    --------
    >>> round(flap_moment(22.05, 0.10, 0.08, 0.024, 0.349066) * 1000, 3)
    0.428
    """
    require("chord_m", chord_m, 0.0, above=True)
    require("span_m", span_m, 0.0, above=True)
    area_m2 = span_m * require("flap_chord_m", flap_chord_m, 0.0, chord_m, above=True)
    delta = abs(require("deflection_rad", deflection_rad, -STEEPEST_RAD, STEEPEST_RAD))
    slope = abs(hinge_moment_b2(min(1.0, flap_chord_m / chord_m)))
    return slope * delta * require("pressure_pa", pressure_pa, 0.0) * area_m2 * flap_chord_m


def pivoted_moment(
    pressure_pa: float, area_m2: float, chord_m: float, aspect_ratio: float, pivot_share: float, deflection_rad: float,
    force_at: float = 0.25,
) -> float:  # fmt: skip
    """Return the moment [N m] of a whole surface about its pivot, at a share of the chord behind the leading edge.

    `force_at`: where the force lies, as a share of the chord, too; `worst` has how far that wanders.

    Raises
    ------
    OutOfRangeError
        If an area or length is not above zero, the pivot lies off the chord, or the deflection is beyond 90°.

    Examples
    --------
    >>> round(pivoted_moment(22.05, 0.0040, 0.05, 2.0, 0.0, 0.1745329), 7)
    0.0005008
    """
    delta = abs(require("deflection_rad", deflection_rad, -STEEPEST_RAD, STEEPEST_RAD))
    slope = lift_slope(aspect_ratio)
    lift_n = require("pressure_pa", pressure_pa, 0.0) * require("area_m2", area_m2, 0.0, above=True) * slope * delta
    arm_m = abs(require("pivot_share", pivot_share, 0.0, 1.0) - require("force_at", force_at, 0.0, 1.0)) * require(
        "chord_m", chord_m, 0.0, above=True
    )
    return lift_n * arm_m


def servo_need(moment_nm: float, arm_m: float, horn_m: float) -> float:
    """Return the torque [N m] that the moment asks of a servo: moment × arm ÷ horn.

    Raises
    ------
    OutOfRangeError
        If the moment is below zero, or arm or horn not above it.

    Examples
    --------
    >>> round(servo_need(0.0004, 0.005, 0.010), 7)
    0.0002
    """
    require("arm_m", arm_m, 0.0, above=True)
    return require("moment_nm", moment_nm, 0.0) * arm_m / require("horn_m", horn_m, 0.0, above=True)


def throw(arm_m: float, horn_m: float, rod_m: float, travel_rad: float) -> float:
    """Return the surface's deflection [rad] when the servo arm turns by `travel_rad` from neutral.

    Exact for arm and horn square to the line between the pivots, on the same side of it, in one plane; `rod_m` is the
    distance of the pivots. Positive travel pushes: a rod that is not very long gives a little more one way than the
    other. Lines only pull: their throw is that of negative travel, both ways.

    Raises
    ------
    OutOfRangeError
        If a length is not above zero, the arm turns beyond 90°, or the horn cannot follow it that far.

    Examples
    --------
    >>> round(throw(0.005, 0.010, 1000.0, 0.5), 4) == round(asin(0.5 * sin(0.5)), 4)
    True
    """
    require("arm_m", arm_m, 0.0, above=True)
    require("horn_m", horn_m, 0.0, above=True)
    require("rod_m", rod_m, 0.0, above=True)
    require("travel_rad", travel_rad, -STEEPEST_RAD, STEEPEST_RAD)
    along, across = rod_m - arm_m * sin(travel_rad), -arm_m * cos(travel_rad)
    reach_m = hypot(along, across)
    # The rod keeps its length; (along, across) leads from the arm's end to the horn's pivot.
    length_squared = rod_m**2 + (horn_m - arm_m) ** 2
    sine = (length_squared - reach_m**2 - horn_m**2) / (2.0 * horn_m * reach_m)
    if abs(sine) > 1.0:
        raise OutOfRangeError("travel_rad", travel_rad, -STEEPEST_RAD, STEEPEST_RAD)
    return asin(sine) - atan2(across, along)


def horn_throw(stroke_m: float, horn_m: float) -> float:
    """Return the deflection [rad] that a straight stroke [m] gives a horn [m] which it meets square at neutral.

    Raises
    ------
    OutOfRangeError
        If the stroke is longer than the horn.

    Examples
    --------
    >>> round(horn_throw(0.005, 0.010), 4)
    0.5236
    """
    require("horn_m", horn_m, 0.0, above=True)
    return asin(require("stroke_m", stroke_m, 0.0, horn_m) / horn_m)


def slack(arm_m: float, horn_m: float, rod_m: float, travel_rad: float) -> float:
    """Return the slack [m] that a pair of pull-pull lines needs at neutral so that the idle line never binds, ≥ 0.

    The pulled line keeps its length; the idle one, from the arm's other end to the horn's other end, must not have to
    be longer than at neutral, at either end of the travel. Arm and horn are double, straight, square at neutral.

    Examples
    --------
    >>> slack(0.008, 0.008, 0.3, 0.7)
    0.0
    """
    turned = -abs(travel_rad)  # the same either way: the line that pulls is then the other one
    delta = throw(arm_m, horn_m, rod_m, turned)
    along = rod_m - horn_m * sin(delta) + arm_m * sin(turned)
    across = horn_m * cos(delta) - arm_m * cos(turned)
    lacks_m = hypot(along, across) - hypot(rod_m, horn_m - arm_m)
    return lacks_m if lacks_m > 1e-9 else 0.0
