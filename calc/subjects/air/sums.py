"""What the grams cost in the air: density, loading, sinking speed, still-air time.

Symbols: m mass in the glide, rubber included [kg]; S wing area [m²]; ρ density [kg/m³]; CL lift coefficient;
Φ = CL^1.5/CD glide factor; e energy of the rubber [J/kg]; m_r rubber [kg]; η share of it that lifts the model.

    speed   V = √(2 m g / (ρ S CL))
    sink    w = √(2 m g / (ρ S)) / Φ
    energy-limited (rubber, catapult, motor run)     time = η E / (m g w), E = e m_r or the work done
    height-limited (towline, thrown to a height)     time = h / w

Sources: US Standard Atmosphere 1976 / ISO 2533 up to 11 km. The sinking speed is that of steady flight (from memory;
any flight-mechanics text). Energy-limited time goes with m^−1.5, height-limited with m^−0.5.
Leaves out: thermals, wind, the transition from climb to glide, thin air on the way up.
"""

from math import sqrt

from calc.errors import require

GRAVITY = 9.80665  # m/s², standard acceleration of free fall
SEA_K, SEA_PA = 288.15, 101_325.0
LAPSE_K_M = 0.0065
GAS_J_KG_K = 8.31432e3 / 28.9644  # the 1976 atmosphere's own constant for air
EARTH_M = 6_356_766.0  # nominal radius of the 1976 atmosphere
EXPONENT = GRAVITY / (GAS_J_KG_K * LAPSE_K_M)
GLIDE_FACTOR = 8.0


def geopotential(height_m: float) -> float:
    """Return the geopotential height [m] of a geometric height [m], −500 to 11 000.

    Examples
    --------
    >>> round(geopotential(2000.0), 1)
    1999.4
    """
    return EARTH_M * require("height_m", height_m, -500.0, 11_000.0) / (EARTH_M + height_m)


def standard_temperature(geopotential_m: float) -> float:
    """Return the standard temperature [K] at a geopotential height [m].

    Raises
    ------
    OutOfRangeError
        Outside −500.1 m (just below −500 m geometric) to 11 000 m.
    """
    return SEA_K - LAPSE_K_M * require("geopotential_m", geopotential_m, -500.1, 11_000.0)


def pressure(geopotential_m: float) -> float:
    """Return the standard pressure [Pa] at a geopotential height [m].

    Examples
    --------
    >>> round(pressure(0.0))
    101325
    """
    return float(SEA_PA * (standard_temperature(geopotential_m) / SEA_K) ** EXPONENT)


def density(height_m: float, temperature_k: float | None = None) -> float:
    """Return the density of the air [kg/m³] at a field height [m] with standard pressure and a temperature [K].

    Raises
    ------
    OutOfRangeError
        If the height lies outside −500 to 11 000 m or the temperature outside 200 to 340 K.

    Examples
    --------
    >>> round(density(0.0), 5), round(density(0.0, 298.15), 5)
    (1.225, 1.18391)
    """
    level_m = geopotential(height_m)
    kelvin = (
        standard_temperature(level_m) if temperature_k is None else require("temperature_k", temperature_k, 200, 340)
    )
    return pressure(level_m) / (GAS_J_KG_K * kelvin)


def _positive(**values: float) -> None:
    for name, value in values.items():
        require(name, value, 0.0, above=True)


def glide_speed(mass_kg: float, area_m2: float, density_kg_m3: float, lift_coefficient: float) -> float:
    """Return the speed in the glide [m/s].

    Raises
    ------
    OutOfRangeError
        If one of them is not above zero.

    Examples
    --------
    >>> round(glide_speed(0.100, 0.12, 1.225, 0.7), 3)
    4.366
    """
    _positive(mass_kg=mass_kg, area_m2=area_m2, density_kg_m3=density_kg_m3, lift_coefficient=lift_coefficient)
    return sqrt(2.0 * mass_kg * GRAVITY / (density_kg_m3 * area_m2 * lift_coefficient))


def sink_speed(mass_kg: float, area_m2: float, density_kg_m3: float, glide_factor: float) -> float:
    """Return the sinking speed √(2 m g / (ρ S)) / Φ [m/s].

    Raises
    ------
    OutOfRangeError
        If an argument is not finite or not above zero.

    Examples
    --------
    >>> round(sink_speed(0.100, 0.12, 1.225, 0.7**1.5 / 0.07), 4)
    0.4366
    """
    _positive(mass_kg=mass_kg, area_m2=area_m2, density_kg_m3=density_kg_m3, glide_factor=glide_factor)
    return sqrt(2.0 * mass_kg * GRAVITY / (density_kg_m3 * area_m2)) / glide_factor


def energy_time(energy_j: float, efficiency: float, mass_kg: float, sink_m_s: float) -> float:
    """Return the still-air time [s] of a flight that spends an energy: η E / (m g w).

    Raises
    ------
    OutOfRangeError
        If energy, mass or sink is not above zero, or the efficiency does not lie above 0 to 1.

    Examples
    --------
    >>> round(energy_time(50.0, 0.5, 0.065, 0.4), 1)
    98.0
    """
    _positive(energy_j=energy_j, mass_kg=mass_kg, sink_m_s=sink_m_s)
    return require("efficiency", efficiency, 0.0, 1.0, above=True) * energy_j / (mass_kg * GRAVITY * sink_m_s)


def height_time(height_m: float, sink_m_s: float) -> float:
    """Return the still-air time [s] from a height [m].

    Raises
    ------
    OutOfRangeError
        If height or sink is not above zero.

    Examples
    --------
    >>> height_time(50.0, 0.4)
    125.0
    """
    _positive(height_m=height_m, sink_m_s=sink_m_s)
    return height_m / sink_m_s


def glide_factor_of(
    height_m: float, glide_s: float, mass_kg: float, area_m2: float, density_kg_m3: float
) -> float:  # fmt: skip
    """Return the glide factor Φ that a timed glide from a height shows.

    Raises
    ------
    OutOfRangeError
        If height, time, mass, area or density is not above zero.

    Examples
    --------
    >>> round(glide_factor_of(43.66, 100.0, 0.100, 0.12, 1.225), 2)
    8.37
    """
    _positive(height_m=height_m, glide_s=glide_s)
    return sink_speed(mass_kg, area_m2, density_kg_m3, 1.0) / (height_m / glide_s)


def efficiency_of(energy_j: float, mass_kg: float, height_m: float, glide_s: float, motor_s: float) -> float:
    """Return the share of an energy that a timed flight used: m g w (motor run + glide) ÷ E, with w = height ÷ glide.

    Raises
    ------
    OutOfRangeError
        If energy, mass, height or glide is not above zero, or the motor run below it.

    Examples
    --------
    >>> round(efficiency_of(50.0, 0.065, 37.0, 85.0, 22.0), 2)
    0.59
    """
    _positive(energy_j=energy_j, mass_kg=mass_kg, height_m=height_m, glide_s=glide_s)
    return mass_kg * GRAVITY * height_m / glide_s * (require("motor_s", motor_s, 0.0) + glide_s) / energy_j
