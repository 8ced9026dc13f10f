"""The still-air time with other masses of gear: what the next gram takes, and the curve."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.subjects.air import climb
from calc.subjects.air.climb import Flight

STEPS = 60  # points of the curve over gear mass


@dataclass(frozen=True, kw_only=True)
class Filled:
    """The model in the glide: in a contest ballast fills it up to the minimum; masses [kg] ≥ 0."""

    airframe_kg: float
    rubber_kg: float
    minimum_kg: float

    def mass(self, aboard_kg: float) -> float:
        """Return the mass [kg] in the glide with so much gear and ballast."""
        return max(self.minimum_kg, self.airframe_kg + aboard_kg) + self.rubber_kg

    @property
    def room_kg(self) -> float:
        """What a class minimum leaves for the gear [kg], ≥ 0."""
        return max(0.0, self.minimum_kg - self.airframe_kg)


@dataclass(frozen=True, kw_only=True)
class Launched:
    """One launch with any mass: as it is now, and the energy for each kilogram where that is what does not change."""

    now: Flight
    energy_j_kg: float | None = None

    def of(self, mass_kg: float) -> Flight:
        """Return the flight of a model of that mass [kg] > 0."""
        energy_j = self.now.energy_j if self.energy_j_kg is None else self.energy_j_kg * mass_kg
        return replace(self.now, mass_kg=mass_kg, energy_j=energy_j)


@dataclass(frozen=True, kw_only=True)
class OverGear:
    """What other masses of gear do to the still-air time; `aboard_kg` is the gear and ballast of now, ≥ 0."""

    launched: Launched
    filled: Filled
    aboard_kg: float

    def time_s(self, aboard_kg: float) -> float:
        """Return the time [s] with so much gear and ballast [kg] ≥ 0."""
        return climb.time(self.launched.of(self.filled.mass(aboard_kg)))

    @property
    def per_gram_s(self) -> float:
        """The time [s] that the next gram of gear takes, ≤ 0."""
        return self.time_s(self.aboard_kg + 0.001) - self.time_s(self.aboard_kg)

    def points(self) -> Iterator[tuple[float, float]]:
        """Yield the curve, mass [kg] and time [s]; its kink and the present set are among the points."""
        room_kg = self.filled.room_kg
        most_kg = 1.6 * max(self.aboard_kg, room_kg, 0.05 * self.filled.airframe_kg)
        at = {most_kg * step / STEPS for step in range(STEPS + 1)} | {self.aboard_kg, min(room_kg, most_kg)}
        for gear_kg in sorted(at):
            yield gear_kg, self.time_s(gear_kg)
