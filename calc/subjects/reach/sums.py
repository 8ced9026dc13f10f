"""The radio link: what is lost on the way, what is left, and how far that reaches.

Scope: line of sight in the air, or a model on level ground; 26 MHz to 6 GHz; the body of the pilot, other senders and
the model's own noise are not in it.

Symbols: d distance [m]; f frequency [Hz]; λ wavelength [m]; h1, h2 antenna heights [m]; levels in dBm, losses in dB.

    free space     32.45 + 20 log f_MHz + 20 log d_km      as 20 log(4 π d / λ)
    over ground    the straight ray less the reflected one, each as in free space, beyond 4 h1 h2/λ;
                   far off about 40 log d − 20 log(h1 h2); nearer than that limit they only ripple about
                   free space, which counts there
    trees          the larger of P.833: A (1 − exp(−s γ/A)) with γ 0.17 dB/m, A 26.5 dB (its row for 949 MHz), and
                   Weissberger: 1.33 f^0.284 s^0.588, below 14 m 0.45 f^0.284 s; f in GHz, s to 400 m
    margin         power + antenna − orientation − fade − losses − sensitivity
    range check    with N dB less held to d: × 10^(N/20) in the air, × 10^(N/40) near the ground

Sources: ITU-R P.525 (free space); ITU-R P.833-10 equation (1), its row read in a public code's comment;
Weissberger 1982; two rays with a reflection of −1: Rappaport, from memory. Fades of 10 to 20 dB: common practice, no
source.
"""

from math import exp, hypot, log10, pi, sin, sqrt

from calc.errors import require

LIGHT_M_S = 299_792_458.0
WOOD_DB_M, WOOD_MOST_DB = 0.17, 26.5
THIN_WOOD_M, DEEPEST_WOOD_M = 14.0, 400.0


def _wave(frequency: float) -> float:
    """Return the wavelength [m]."""
    return LIGHT_M_S / require("frequency", frequency, 1e6, 1e11)


def free_space(distance_m: float, frequency: float) -> float:
    """Return the loss in free space [dB], 20 log(4 π d/λ); `frequency` in hertz, distance > 0.

    Examples
    --------
    >>> round(free_space(300.0, 2.4e9), 2)
    89.59
    """
    return 20.0 * log10(4.0 * pi * require("distance_m", distance_m, 0.0, above=True) / _wave(frequency))


def free_space_reach(loss: float, frequency: float) -> float:
    """Return the distance [m] at which free space loses so many dB; the inverse of `free_space`.

    Examples
    --------
    >>> round(free_space_reach(85.0, 2.4e9))
    177
    """
    return float(_wave(frequency) / (4.0 * pi) * 10.0 ** (loss / 20.0))


def two_rays(distance_m: float, frequency: float, one_m: float, other_m: float) -> float:
    """Return the loss [dB] of a ray and its reflection by flat ground; antenna heights `one_m` and `other_m`; all > 0.

    Examples
    --------
    >>> round(two_rays(300.0, 2.4e9, 1.5, 0.1), 1)
    115.6
    """
    heights = require("one_m", one_m, 0.0, above=True) * require("other_m", other_m, 0.0, above=True)
    require("distance_m", distance_m, 0.0, above=True)
    straight_m, reflected_m = hypot(distance_m, one_m - other_m), hypot(distance_m, one_m + other_m)
    farther_m = 4.0 * heights / (straight_m + reflected_m)
    turned = 2.0 * sin(pi * farther_m / _wave(frequency))
    left = hypot(farther_m / (straight_m * reflected_m), turned / sqrt(straight_m * reflected_m))
    return -20.0 * log10(_wave(frequency) / (4.0 * pi) * left)


def over_ground(distance_m: float, frequency: float, one_m: float, other_m: float) -> float:
    """Return the loss [dB] over flat ground, at least that of free space; it grows with the distance; all > 0.

    Examples
    --------
    >>> round(over_ground(100.0, 2.4e9, 1.5, 0.1), 1), round(over_ground(2.0, 2.4e9, 1.5, 0.1), 1)
    (96.5, 46.1)
    """
    free = free_space(distance_m, frequency)
    if distance_m <= 4.0 * one_m * other_m / _wave(frequency):
        return free
    return max(free, two_rays(distance_m, frequency, one_m, other_m))


def over_ground_reach(loss: float, frequency: float, one_m: float, other_m: float) -> float:
    """Return the distance [m] at which flat ground loses so many dB; heights > 0; the inverse of `over_ground`.

    Examples
    --------
    >>> round(over_ground_reach(96.5, 2.4e9, 1.5, 0.1))
    100
    """
    low, high = 0.0, free_space_reach(loss, frequency)
    if over_ground(high, frequency, one_m, other_m) <= loss + 1e-9:
        return high
    for _ in range(80):
        middle = (low + high) / 2.0
        low, high = (low, middle) if over_ground(middle, frequency, one_m, other_m) > loss else (middle, high)
    return low


def p833(wood_m: float, per_m: float = WOOD_DB_M, most: float = WOOD_MOST_DB) -> float:
    """Return the loss [dB] in so much wood by P.833, `per_m` dB/m at first and `most` dB in all; ≥ 0.

    Examples
    --------
    >>> round(p833(50.0), 2)
    7.27
    """
    return most * (1.0 - exp(-require("wood_m", wood_m, 0.0) * per_m / most))


def weissberger(wood_m: float, frequency: float) -> float:
    """Return the loss [dB] in so much wood, 0 to 400 m; `frequency` in hertz.

    Examples
    --------
    >>> round(weissberger(30.0, 2.4e9), 2)
    12.6
    """
    require("wood_m", wood_m, 0.0, DEEPEST_WOOD_M)
    in_ghz = (frequency / 1e9) ** 0.284
    deep = 1.33 * in_ghz * wood_m**0.588
    return float(0.45 * in_ghz * wood_m if wood_m < THIN_WOOD_M else deep)


def trees(wood_m: float, frequency: float) -> float:
    """Return the loss [dB] in trees, the larger of the two; 0 to 400 m of wood.

    Examples
    --------
    >>> round(trees(30.0, 2.4e9), 1), trees(0.0, 2.4e9)
    (12.6, 0.0)
    """
    return max(p833(wood_m), weissberger(wood_m, frequency))


def check_in_air(held_m: float, less: float) -> float:
    """Return what a range check with `less` dB less power means in free space [m], × 10^(less/20); held ≥ 0.

    Examples
    --------
    >>> round(check_in_air(30.0, 30.0))
    949
    """
    return float(require("held_m", held_m, 0.0) * 10.0 ** (less / 20.0))


def check_near_ground(held_m: float, less: float) -> float:
    """Return the same where the ground weakens both alike [m], × 10^(less/40); held ≥ 0.

    Examples
    --------
    >>> round(check_near_ground(30.0, 30.0))
    169
    """
    return float(require("held_m", held_m, 0.0) * 10.0 ** (less / 40.0))
