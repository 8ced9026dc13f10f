"""What the flights teach: the model's own glide factor and sink, height from turns, the share that becomes height."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, log, sqrt
from statistics import median

from calc.document.budget import Budget
from calc.document.fields import described, key_of
from calc.subject import Answered, Answers, Needs, value
from calc.subjects.air import sums
from calc.subjects.air.climb import EFFICIENCY, ENERGY_LAUNCHES, PROPELLER
from calc.subjects.air.entries import Air
from calc.subjects.field import sums as circles
from calc.subjects.flights.entries import Flight
from calc.subjects.learn import Known, learned_share, outliers
from calc.subjects.limits.answer import Limits
from calc.subjects.power.entries import Session
from calc.subjects.weights.answer import Weights

BY_WATCH = 0.10  # u of a sink from height and stopwatch, of a height, of a share: our assumption
BY_LOG = 0.05  # u of a sink from a log that tells no spread: our assumption
BETWEEN = 0.10  # scatter of the air between flights, unless four flights or more show it: our assumption
MANY = 4
GUESS = log(1.25)  # u of a glide factor that no flight was timed for
HIGHEST = 60.0  # glide factor, as the entry of the air takes; a flight that shows more was typed wrongly
NEAR = 0.10  # of the turns: flights within it are of the same motor for the share


@dataclass(frozen=True, kw_only=True)
class Counted:
    """One flight that counts: its row, its sink [m/s], its glide factor with u as a share of it."""

    row: int
    sink_m_s: float
    factor: Known


@dataclass(frozen=True, kw_only=True)
class Circled:
    """One flight whose circle was timed: its row, the radius [m], how many times a straight glide's its sink is."""

    row: int
    radius_m: float
    more: float


@dataclass(frozen=True, kw_only=True)
class FlightsBlock:
    """What was learned; u are shares. `prior` is what would count without flights."""

    rows: int
    struck: int
    counted: tuple[Counted, ...]
    outliers: tuple[int, ...]  # rows
    beyond: tuple[int, ...]  # rows that do not count: no such model glides so
    prior: Known
    factor: Known | None
    sink_m_s: float | None  # with it, today
    per_turn: Known | None  # m a turn
    turns: tuple[int, int] | None  # fewest and most that were flown
    heights: int  # flights that the height of a turn is from
    efficiency: Known | None  # share of the energy that becomes height
    efficiencies: int
    circled: tuple[Circled, ...]  # those that circled, which is part of the factor


@dataclass(frozen=True, kw_only=True)
class _Day:
    """The model as planned and the air of a day: mass [kg], area [m²], density [kg/m³]."""

    mass_kg: float
    area_m2: float
    density_kg_m3: float


def flights(budget: Budget, mass_kg: float | None) -> tuple[FlightsBlock | None, tuple[str, ...]]:
    """Return what the flights teach, or None, and the paths of the fields that it waits for."""
    needs = Needs(budget)
    needs.note(*unreadable(budget))
    if not budget.flights:
        return None, needs.missing
    needs.sound("air", "air.lift", "air.glide_factor", "air.timed_height", "air.timed_glide", "air.field_height",
                "air.propeller", "air.launch", "air.rubber_energy", "air.work", "model.rubber",
                "session", "session.temperature")  # fmt: skip
    area_m2 = needs.must("model.wing_area", budget.model.wing_area)
    if mass_kg is None:
        needs.note("model.airframe")
    if needs.missing or area_m2 is None or mass_kg is None:
        return None, needs.missing
    air, session = budget.air or Air(), budget.session or Session()
    density = sums.density(air.field_height.value, session.temperature.value)
    day = _Day(mass_kg=mass_kg, area_m2=area_m2, density_kg_m3=density)
    flown = [(row, each) for row, each in enumerate(budget.flights) if not each.out.value]
    shown = tuple(_counted(flown, day, air.field_height.value))
    beyond = {each.row for each in shown if each.factor.value > HIGHEST}
    flown = [(row, each) for row, each in flown if row not in beyond]
    counted = tuple(each for each in shown if each.row not in beyond)
    needs.note(*_half_told(budget))
    return replace(_learned(budget, air, day, flown, counted), beyond=tuple(sorted(beyond))), needs.missing


def unreadable(budget: Budget) -> tuple[str, ...]:
    """Return the paths of what cannot be read of the flights: then none of them counts, and no air is worked out."""
    needs = Needs(budget)
    names = [key_of(name) for name in described(Flight)]
    needs.sound("flights", *(f"flights.{row}.{name}" for row in range(len(budget.flights)) for name in names))
    return needs.missing


def _half_told(budget: Budget) -> Iterator[str]:
    """Yield what is missing of the flights that count: a glide without a height, and what each of them weighed."""
    for row, each in enumerate(budget.flights):
        if each.out.value or each == Flight():
            continue
        shows = each.sink is not None or (each.height is not None and each.glide is not None)
        if not shows and each.height is None:
            yield f"flights.{row}.height"
        elif not shows and each.turns is None:
            yield f"flights.{row}.glide"
        elif shows and each.mass is None:
            yield f"flights.{row}.mass"


def _learned(
    budget: Budget, air: Air, day: _Day, flown: Sequence[tuple[int, Flight]], counted: tuple[Counted, ...]
) -> FlightsBlock:  # fmt: skip
    factors = [each.factor for each in counted]
    least = BETWEEN if len(factors) < MANY else 0.0
    prior = _prior(air, day)
    factor = learned_share(prior, factors, least) if factors else None
    heights = [(each.turns.value, each.height.value) for _, each in flown if each.turns and each.height]
    per_turn = [Known(value=height / turns, u=BY_WATCH) for turns, height in heights]
    rows = tuple(each.row for each in counted)
    shares = list(_shares(budget, air, day, [each for _, each in flown]))
    return FlightsBlock(
        rows=len(budget.flights),
        struck=sum(each.out.value for each in budget.flights),
        counted=counted,
        outliers=tuple(rows[at] for at in outliers(factors, BETWEEN)),
        beyond=(),
        prior=prior,
        factor=factor,
        sink_m_s=None if factor is None else sums.sink_speed(day.mass_kg, day.area_m2, day.density_kg_m3, factor.value),
        per_turn=learned_share(None, per_turn) if per_turn else None,
        turns=(min(heights)[0], max(heights)[0]) if heights else None,
        heights=len(heights),
        efficiency=_share(shares, air),
        efficiencies=len(shares),
        circled=tuple(_circled(flown, day, air)),
    )


def _circled(flown: Sequence[tuple[int, Flight]], day: _Day, air: Air) -> Iterator[Circled]:
    """Yield what each flight's circle was like, at the lift coefficient told for the air."""
    for row, each in flown:
        if each.circle is not None:
            mass_kg = value(each.mass) or day.mass_kg
            speed = sums.glide_speed(mass_kg, day.area_m2, day.density_kg_m3, air.lift.value)
            bank = circles.bank_of_circle(speed, each.circle.value)
            radius = circles.turn_radius(speed / sqrt(cos(bank)), bank)
            yield Circled(row=row, radius_m=radius, more=circles.sink_in_circle(1.0, bank))


def _prior(air: Air, day: _Day) -> Known:
    """Return the glide factor that counts without flights, and how well it is known."""
    if air.timed_height is not None and air.timed_glide is not None:
        timed = (air.timed_height.value, air.timed_glide.value, day.mass_kg, day.area_m2, day.density_kg_m3)
        return Known(value=sums.glide_factor_of(*timed), u=sqrt(BY_WATCH**2 + BETWEEN**2))
    left = PROPELLER[air.propeller.value][1]  # in what was flown the propeller has its share
    return Known(value=(value(air.glide_factor) or sums.GLIDE_FACTOR) * left, u=GUESS)


def _shares(budget: Budget, air: Air, day: _Day, flown: Sequence[Flight]) -> Iterator[Known]:
    """Yield the share of the energy that each flight of about the usual turns used; none that needs more than all."""
    rubber_kg, each_kg = value(budget.model.rubber), value(air.rubber_energy)
    by_rubber = rubber_kg * each_kg if rubber_kg and each_kg is not None else None
    energy_j = by_rubber if air.launch.value == "rubber" else value(air.work)
    if energy_j is None or air.launch.value not in ENERGY_LAUNCHES:
        return
    wound = [each.turns.value for each in flown if each.turns is not None]
    usual = median(wound) if wound else 0.0
    for each in flown:
        if each.height is None or each.glide is None or each.motor_run is None:
            continue
        if each.turns is not None and abs(each.turns.value - usual) > NEAR * usual:
            continue
        timed = (each.height.value, each.glide.value, each.motor_run.value)
        share = sums.efficiency_of(energy_j, value(each.mass) or day.mass_kg, *timed)
        if share <= 1.0:
            yield Known(value=share, u=BY_WATCH)


def _share(shares: Sequence[Known], air: Air) -> Known | None:
    """Return the share that becomes height, at most all of it; before them that of small propellers was believed."""
    if not shares:
        return None
    low, usual, high = EFFICIENCY
    prior = None if air.launch.value == "catapult" else Known(value=usual, u=log(high / low) / 4.0)
    found = learned_share(prior, shares, BETWEEN if len(shares) < MANY else 0.0)
    return Known(value=min(1.0, found.value), u=found.u)


def _counted(flown: Sequence[tuple[int, Flight]], day: _Day, field_m: float) -> Iterator[Counted]:
    """Yield the flights that show a sink, each reduced to the model's own glide factor on its day."""
    for row, each in flown:
        if each.sink is not None:
            sink = each.sink.value
            u = BY_LOG if each.sink_spread is None else max(0.005, each.sink_spread.value / 2.0 / sink)
        elif each.height is not None and each.glide is not None:
            sink, u = each.height.value / each.glide.value, BY_WATCH
        else:
            continue
        density = day.density_kg_m3 if each.temperature is None else sums.density(field_m, each.temperature.value)
        factor = sums.sink_speed(value(each.mass) or day.mass_kg, day.area_m2, density, 1.0) / sink
        yield Counted(row=row, sink_m_s=sink, factor=Known(value=factor, u=u))


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return what the flights teach; the model's mass is that of the weights, its lead aboard, and its rubber."""
    if not budget.flights and "flights" not in budget.unread:
        return Answered(answer=None, missing={})
    weights, limits = answers.must(Weights), answers.must(Limits)
    model, airframe_kg = limits.model, limits.model.airframe_kg
    least_kg = (limits.class_.minimum_kg or 0.0) if budget.model.use.value == "contest" else 0.0
    mass_kg = None if airframe_kg is None else (
        max(least_kg, airframe_kg + weights.gear.expected_kg + model.lead_kg) + (value(budget.model.rubber) or 0.0)
    )  # fmt: skip
    found, missing = flights(budget, mass_kg)
    return Answered(answer=found, missing={"flights": missing})
