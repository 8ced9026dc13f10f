"""A rubber motor: turns at break and at a share of them, energy, mass, torque, turns for a height aimed for.

Scope: one motor of equal strands, made up as a loop and wound at about 20 °C; its length is that of the loop, hook to
hook, unstretched. Not here, since nothing solid was found: torque against turns, energy against temperature.

Symbols: n strands of width w and thickness t [m]; S section of them all [m²]; L length [m]; ρ density; N turns; K a
pure number, the same in inches and metres; x share of the turns at break; e energy at break [J/kg]; p exponent.

    section        S = n w t                      as measured; better S = m / (ρ L) from the scale
    mass           m = ρ S L                      ρ 920 kg/m³ (from memory)
    at break       N = K L / √S                   K 10.64; good strip 9 to 13
    braided        less 0.3536 × the turns of the braid
    energy         E = m e x^p                    p 1.3 to 2, 1.73 over Langley's whole range
    mean torque    E / (2 π N)
    for a height   x^p m e η = M g (h + w x t)    M the model, w its sink in the climb, t the motor run at break [s]

Sources: K, braid: G. Hinze (turns law; note on braided motors, 2006); that N goes with 1/√S also R. Morris, Free Flight
Quarterly, April 2011, equation (6). Energy: Langley, Memoir on Mechanical Flight, 1911, 0.9 to 1.5 kJ/kg and 37.5, 63.0
and 124.6 ft lb at 50, 75 and 100 turns of one motor, from which p is 1.28 at first and 2.37 at last: at 75 turns it
held less than the band's low end. McLean 1976: 7.47 kJ/kg.
Winding to 80 % of the turns at break: common practice, no source. A wound motor can break: never without eye
protection, never with anybody in line with it.
"""

from math import pi, sqrt

from calc.errors import require

GRAVITY = 9.80665
DENSITY_KG_M3 = 920.0
TURNS_K = (9.0, 10.64, 13.0)  # least, usual, most
BRAID = 0.3536
EXPONENTS = (2.0, 1.73, 1.3)  # least energy at a share of the turns, usual, most
USUAL_SHARE = 0.80
ENERGY_J_KG = (900.0, 7470.0)  # least and most that were published

Band = tuple[float, float, float]  # low, usual, high


def _positive(**values: float) -> None:
    for name, value in values.items():
        require(name, value, 0.0, above=True)


def section(strands: int, width_m: float, thickness_m: float) -> float:
    """Return the section of all strands [m²], each size > 0; a loop of one strip has two.

    Examples
    --------
    >>> round(section(6, 0.003175, 0.00107) * 1e6, 2)
    20.38
    """
    _positive(width_m=width_m, thickness_m=thickness_m)
    return require("strands", strands, 1) * width_m * thickness_m


def section_weighed(mass_kg: float, length_m: float, density_kg_m3: float = DENSITY_KG_M3) -> float:
    """Return the section [m²] of a motor that was weighed, each argument > 0: what is sold as a size seldom has it.

    Examples
    --------
    >>> round(section_weighed(0.010, 0.5333) * 1e6, 2)
    20.38
    """
    _positive(mass_kg=mass_kg, length_m=length_m, density_kg_m3=density_kg_m3)
    return mass_kg / (density_kg_m3 * length_m)


def mass(section_m2: float, length_m: float, density_kg_m3: float = DENSITY_KG_M3) -> float:
    """Return the mass of a made-up motor [kg], each argument > 0; knot, rings and lubricant are not in it.

    Examples
    --------
    >>> round(mass(20.38e-6, 0.5333) * 1e3, 2)
    10.0
    """
    _positive(section_m2=section_m2, length_m=length_m, density_kg_m3=density_kg_m3)
    return density_kg_m3 * section_m2 * length_m


def length_of(mass_kg: float, section_m2: float, density_kg_m3: float = DENSITY_KG_M3) -> float:
    """Return the length [m] that a mass of rubber makes, each argument > 0; the inverse of `mass`.

    Examples
    --------
    >>> round(length_of(0.010, 20.38e-6), 3)
    0.533
    """
    _positive(mass_kg=mass_kg, section_m2=section_m2, density_kg_m3=density_kg_m3)
    return mass_kg / (density_kg_m3 * section_m2)


def turns_at_break(length_m: float, section_m2: float, braid_turns: float = 0.0) -> Band:
    """Return the turns at which a motor breaks: with poor, usual and good strip; a braid takes some of them, ≥ 0.

    Examples
    --------
    >>> [round(each) for each in turns_at_break(0.5333, 20.38e-6)]
    [1063, 1257, 1536]
    """
    _positive(length_m=length_m, section_m2=section_m2)
    taken = BRAID * require("braid_turns", braid_turns, 0.0)
    low, usual, high = (max(0.0, k * length_m / sqrt(section_m2) - taken) for k in TURNS_K)
    return low, usual, high


def energy_share(turns_share: float) -> Band:
    """Return which share of the energy at break a share of the turns holds, 0 to 1: a band, not a number.

    Examples
    --------
    >>> [round(each, 2) for each in energy_share(0.8)]
    [0.64, 0.68, 0.75]
    """
    require("turns_share", turns_share, 0.0, 1.0)
    low, usual, high = (float(turns_share**power) for power in EXPONENTS)
    return low, usual, high


def energy(mass_kg: float, energy_j_kg: float, turns_share: float) -> Band:
    """Return the energy [J] of a motor wound to a share of its turns; at break it would hold `energy_j_kg`.

    Both > 0; the share from 0 to 1.

    Examples
    --------
    >>> [round(each, 1) for each in energy(0.010, 5000.0, 0.8)]
    [32.0, 34.0, 37.4]
    """
    _positive(mass_kg=mass_kg, energy_j_kg=energy_j_kg)
    low, usual, high = (mass_kg * energy_j_kg * share for share in energy_share(turns_share))
    return low, usual, high


def mean_torque(energy_j: float, turns: float) -> float:
    """Return the mean torque of a motor over its run [N m], turns > 0; winding it takes more, and the end is steep.

    Examples
    --------
    >>> round(mean_torque(37.7, 1068.0) * 1e3, 1)
    5.6
    """
    require("energy_j", energy_j, 0.0)
    return energy_j / (2.0 * pi * require("turns", turns, 0.0, above=True))


def share_for_height(
    height_m: float, full_j: float, mass_kg: float, efficiency: float, sink_m_s: float = 0.0, run_s: float = 0.0
) -> tuple[float | None, float | None, float | None]:  # fmt: skip
    """Return which share of the turns at break takes a model [kg] to a height [m]: fewest, usual, most turns.

    `full_j` is the motor's energy at break, `efficiency` the share of it that lifts, above 0 to 1; `sink_m_s` the
    model's sink in the climb and `run_s` the motor run from all the turns, in step with them. None: not even all
    turns would.

    Examples
    --------
    >>> [round(each or 0, 2) for each in share_for_height(30.0, 60.0, 0.065, 0.6)]
    [0.61, 0.69, 0.73]
    """
    _positive(height_m=height_m, full_j=full_j, mass_kg=mass_kg)
    require("efficiency", efficiency, 0.0, 1.0, above=True)
    falls_m = require("sink_m_s", sink_m_s, 0.0) * require("run_s", run_s, 0.0)
    rises_m = efficiency * full_j / (mass_kg * GRAVITY)
    fewest, usual, most = (_share(height_m, rises_m, falls_m, power) for power in reversed(EXPONENTS))
    return fewest, usual, most


def _share(height_m: float, rises_m: float, falls_m: float, power: float) -> float | None:
    """Return the share x at which x^p rises − x falls is the height, by halving; it rises with x wherever above 0."""
    if rises_m - falls_m < height_m:
        return None
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (middle, high) if middle**power * rises_m - middle * falls_m < height_m else (low, middle)
    return high
