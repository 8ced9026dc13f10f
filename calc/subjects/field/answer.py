"""What the wind does with a flight: drift, the field that it takes, coming back; and the circle."""

from dataclasses import dataclass
from math import cos, sqrt

from calc.document.budget import Budget
from calc.document.fields import described, key_of
from calc.subject import Answered, Answers, Needs, value
from calc.subjects.air.answer import AirBlock
from calc.subjects.field import sums
from calc.subjects.field.entries import FlyingField
from calc.subjects.field.sums import ROUGHNESS_M


@dataclass(frozen=True, kw_only=True)
class Circle:
    """Bank [rad], radius [m], sink [m/s], and load factor of the circle that it flies."""

    seconds: float
    bank_rad: float
    speed_m_s: float
    radius_m: float
    sink_m_s: float
    load: float


@dataclass(frozen=True, kw_only=True)
class Carried:
    """Wind [m/s], times [s], distances [m] of a flight that goes with the wind, and of coming back against it."""

    wind_m_s: float  # as measured
    top_m: float
    mean_m_s: float  # from the ground to the top
    aloft_m_s: float  # at the top
    time_s: float
    longest_s: float
    longest_m: float  # drift of the longest flight
    length_m: float  # of the field that it takes: the longest drift and a circle
    field_m: float | None
    away_m: float  # from how far that is
    speed_m_s: float
    sink_m_s: float

    @property
    def drift_m(self) -> float:
        """How far the usual flight drifts."""
        return sums.drift(self.mean_m_s, self.time_s)

    @property
    def stays_s(self) -> float | None:
        """How long it is over the field; None without its length, or without wind."""
        return None if self.field_m is None or self.mean_m_s == 0.0 else self.field_m / self.mean_m_s

    @property
    def turn_back_m(self) -> float | None:
        """The height that coming back takes from the field's end, or from the end of the drift; None: it cannot."""
        return sums.turn_back_height(*self._flown, self.away_m)

    @property
    def upwind_m(self) -> float:
        """How far upwind it comes from its top."""
        return sums.upwind(*self._flown, self.top_m)

    @property
    def across_m(self) -> float:
        """How far across the wind it comes from its top."""
        return sums.across(*self._flown, self.top_m)

    @property
    def downwind_m(self) -> float:
        """How far downwind it may come from its top."""
        return sums.downwind(*self._flown, self.top_m)

    @property
    def reach_m(self) -> tuple[float, float]:
        """What a straight glide from the top reaches: its middle so far downwind, W h/w, and its radius, V h/w."""
        down_s = self.top_m / self.sink_m_s
        return self.aloft_m_s * down_s, self.speed_m_s * down_s

    @property
    def _flown(self) -> tuple[float, float, float]:
        return self.speed_m_s, self.aloft_m_s, self.sink_m_s

    @property
    def back(self) -> bool:
        """Whether it comes back against the wind at its top."""
        return self.speed_m_s > self.aloft_m_s

    @property
    def back_in_gusts(self) -> bool:
        """Whether it would against gusts half as strong again."""
        return self.speed_m_s > sums.GUSTS * self.aloft_m_s


@dataclass(frozen=True, kw_only=True)
class FieldBlock:
    """What the wind does, where there is one; the circle, where its seconds are told."""

    carried: Carried | None
    circle: Circle | None


def field(
    budget: Budget, air: AirBlock | None, air_missing: tuple[str, ...]
) -> tuple[FieldBlock | None, tuple[str, ...]]:  # fmt: skip
    """Return the field block, or None, and the paths of the fields that it or a part of it waits for."""
    block = budget.field
    needs = Needs(budget)
    needs.sound("field", *(f"field.{key_of(name)}" for name in described(FlyingField)))
    if block is None or needs.missing:
        return None, needs.missing
    if air is None:
        needs.note(*air_missing)
        return None, needs.missing
    circle = None if block.circle is None else _circle(air, block.circle.value)
    carried = _carried(needs, block, air, air_missing, 0.0 if circle is None else 2.0 * circle.radius_m)
    found = None if carried is None and circle is None else FieldBlock(carried=carried, circle=circle)
    return found, needs.missing


def _circle(air: AirBlock, seconds: float) -> Circle:
    bank = sums.bank_of_circle(air.speed_m_s, seconds)
    speed = air.speed_m_s / sqrt(cos(bank))
    return Circle(
        seconds=seconds,
        bank_rad=bank,
        speed_m_s=speed,
        radius_m=sums.turn_radius(speed, bank),
        sink_m_s=sums.sink_in_circle(air.sink_m_s, bank),
        load=1.0 / cos(bank),
    )


def _carried(
    needs: Needs, block: FlyingField, air: AirBlock, air_missing: tuple[str, ...], circle_m: float
) -> Carried | None:  # fmt: skip
    """Return what the wind does; the highest and longest flight decides, since the wind grows with height."""
    wind_m_s = needs.must("field.wind", block.wind)
    if air.time_s is None or air.times is None:
        needs.note(*air_missing)
    if wind_m_s is None or air.time_s is None or air.times is None:
        return None
    longest_s = air.times.high
    # Where nobody told the motor run, all of the time is glide.
    top_m = longest_s * air.sink_m_s if air.height_m is None else air.height_m.high
    given = (wind_m_s, block.wind_at.value)
    mean, aloft = (law(*given, top_m, ROUGHNESS_M[block.ground.value]) for law in (sums.wind_mean, sums.wind_aloft))
    field_m = value(block.length)
    longest_m = sums.drift(mean, longest_s)
    away_m = longest_m if field_m is None else field_m
    return Carried(
        wind_m_s=wind_m_s,
        top_m=top_m,
        mean_m_s=mean,
        aloft_m_s=aloft,
        time_s=air.time_s,
        longest_s=longest_s,
        longest_m=longest_m,
        length_m=longest_m + circle_m,
        field_m=field_m,
        away_m=away_m,
        speed_m_s=air.speed_m_s,
        sink_m_s=air.sink_m_s,
    )


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return what the wind does, with the air's speed, sink, height and time."""
    lacks = tuple(path for paths in answers.answered(AirBlock).missing.values() for path in paths)
    found, missing = field(budget, answers.of(AirBlock), lacks)
    return Answered(answer=found, missing={"field": missing})
