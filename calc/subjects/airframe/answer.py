"""The airframe part by part: what each weighs, all of them by group, the forecast, its area and balance point."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from math import hypot, sqrt

from calc.document.budget import Budget
from calc.document.entries import Model
from calc.subject import Answered, Answers, Needs, unread, value
from calc.subjects.airframe import moisture, shapes, weigh
from calc.subjects.airframe.entries import FIELDS, SHEET_SHAPES, AirframePart, Building
from calc.subjects.airframe.forecast import GROWTH, Planned, builder, forecast, growth_after
from calc.subjects.weights.masses import Total
from calc.vocabulary import AirframeFrom, AirframeGroup

ZERO_C = 273.15
LIST = "airframe"


@dataclass(frozen=True, kw_only=True)
class PartMass:
    """A part that counts, all of its count together [kg]; its station is where it balances [m]."""

    path: str
    name: str
    group: AirframeGroup
    plan: Planned
    glue_kg: float  # in the planned mass
    counts: Total  # in the forecast
    wood: bool
    sheet: str  # that it is cut from, "" for none
    station_m: float | None
    day: date | None


@dataclass(frozen=True, kw_only=True)
class Day:
    """The forecast at the end of a building day [kg]."""

    day: date
    forecast_kg: float
    spread_kg: float


@dataclass(frozen=True, kw_only=True)
class AirframeBlock:
    """The airframe. Where a part could not be counted (`uncounted`), every mass is "at least"."""

    parts: tuple[PartMass, ...]
    uncounted: tuple[str, ...]  # paths
    planned_kg: float  # as planned, without growth; a part weighed without a plan as weighed
    plan: Total  # the same with growth, as it was before anything was weighed
    expected: Total  # by what the parts are known from
    forecast: Total  # with the growth of the weighed ones; the damp in its spread
    learned: float | None  # growth of what is weighed, None while nothing is
    damp_kg: float | None  # that bare wood takes up on the field; None where it is not asked
    area_m2: float | None
    chord_m: float | None
    cg_m: float | None
    days: tuple[Day, ...]
    source: AirframeFrom  # what the other sums take for the airframe's mass

    @property
    def weighed(self) -> tuple[PartMass, ...]:
        """The parts that are weighed."""
        return tuple(part for part in self.parts if part.plan.weighed_kg is not None)

    @property
    def undated(self) -> int:
        """How many of them have no day that can be read: they count from the first day on."""
        return sum(part.day is None for part in self.weighed)

    @property
    def finished(self) -> bool:
        """Whether every part is weighed."""
        return not self.uncounted and len(self.weighed) == len(self.parts)

    @property
    def groups(self) -> Mapping[AirframeGroup, float]:
        """The forecast by group [kg], the heaviest first."""
        found: dict[AirframeGroup, float] = {}
        for part in self.parts:
            found[part.group] = found.get(part.group, 0.0) + part.counts.expected_kg
        return dict(sorted(found.items(), key=lambda pair: -pair[1]))


def source_of(model: Model) -> AirframeFrom:
    """Return what the airframe's mass is from: the scale before a typed one, that before the parts."""
    return "weighed" if model.airframe_weighed is not None else "typed" if model.airframe is not None else "parts"


def block_of(budget: Budget) -> tuple[AirframeBlock | None, tuple[str, ...]]:
    """Return the airframe, None where no part counts, and the paths of the fields that it waits for."""
    if not budget.airframe and not unread(budget, LIST):
        return None, ()
    needs, building = Needs(budget), budget.building or Building()
    needs.sound(LIST, "building.glue", "scale_division")
    rows = [_planned(needs, building, index) for index in range(len(budget.airframe))]
    plans = [plan for plan in rows if plan is not None]
    uncounted = tuple(f"{LIST}.{index}" for index, plan in enumerate(rows) if plan is None)
    damp = _damp(needs, building)
    if not plans:
        return None, needs.missing
    uncounted += (LIST,) if unread(budget, LIST) else ()
    found = _block(budget, rows, uncounted, damp)
    if any(part.area.value for part in budget.airframe):
        found = _with_wing(needs, found)
    return replace(found, cg_m=_balance_point(needs, found)), needs.missing


NAMES_ONLY = ("|", "sheet")  # what no mass hangs on
DECIDES = ("shape", "count", "weighed", "known_by", "mass")


def _planned(needs: Needs, building: Building, index: int) -> Planned | None:
    """Return the plan of a part with what it weighs, all of its count; None where it cannot be counted: noted."""
    part, path = needs.budget.airframe[index], f"{LIST}.{index}"
    needs.sound(f"{path}.name", f"{path}.group", f"{path}.weighed_on", f"{path}.area", f"{path}.sheet")
    needs.sound(f"{path}.station", f"{path}.along")
    asked = [name for name in dict.fromkeys((*DECIDES, *FIELDS[part.shape.value])) if name not in NAMES_ONLY]
    if not needs.sound(*(f"{path}.{name}" for name in asked)):
        return None
    weighed_kg, one_kg = value(part.weighed), weigh.one(part) or None
    if one_kg is None and weighed_kg is None:  # an ellipse with a rib at each tip alone has none
        needs.note(*(f"{path}.{name}" for name in part.lacks or ("pitch",)))
        return None
    glue = building.glue.value if weigh.is_wood(part) else 0.0
    return Planned(
        planned_kg=None if one_kg is None else part.count.value * one_kg * (1.0 + glue),
        growth=GROWTH[part.known_by.value],
        own=weigh.own(part, building.glue.value),
        weighed_kg=weighed_kg,
    )


def _block(
    budget: Budget, rows: list[Planned | None], uncounted: tuple[str, ...], gain: float | None
) -> AirframeBlock:  # fmt: skip
    """Return the sums of what counts."""
    plans, division_kg = [plan for plan in rows if plan is not None], budget.scale_division.value
    learned = builder(plans, division_kg)
    parts = tuple(_parts(budget, rows, learned))
    damp_kg = None if gain is None else sum(part.counts.expected_kg for part in parts if part.wood) * (gain - 1.0)
    total = forecast(plans, division_kg)
    damp_u = abs(damp_kg or 0.0) / sqrt(3.0)
    return AirframeBlock(
        parts=parts,
        uncounted=uncounted,
        planned_kg=sum(plan.nominal_kg if plan.planned_kg is None else plan.planned_kg for plan in plans),
        plan=forecast(list(map(_before, plans)), division_kg),
        expected=forecast(plans, division_kg, learn=False),
        forecast=replace(total, uncertainty_kg=hypot(total.uncertainty_kg, damp_u)),
        learned=learned[0] / learned[1] if learned[1] else None,
        damp_kg=damp_kg,
        area_m2=None,
        chord_m=None,
        cg_m=None,
        days=tuple(_days(parts, division_kg)),
        source=source_of(budget.model),
    )


def _parts(budget: Budget, rows: list[Planned | None], learned: tuple[float, float]) -> Iterator[PartMass]:
    building = budget.building or Building()
    for index, (part, plan) in enumerate(zip(budget.airframe, rows, strict=True)):
        if plan is None:
            continue
        path, wood = f"{LIST}.{index}", weigh.is_wood(part)
        glue = building.glue.value if wood and plan.weighed_kg is None else 0.0
        yield PartMass(
            path=path,
            name=part.called,
            group=part.group.value,
            plan=plan,
            glue_kg=(plan.planned_kg or 0.0) * glue / (1.0 + glue),
            counts=_counts(plan, learned, budget.scale_division.value),
            wood=wood,
            sheet=part.sheet.value if part.shape.value in SHEET_SHAPES else "",
            station_m=None if unread(budget, f"{path}.station", f"{path}.along") else weigh.centre(part),
            day=_day(part),
        )


def _counts(plan: Planned, learned: tuple[float, float], division_kg: float) -> Total:
    """Return what one part counts as in the forecast."""
    if plan.weighed_kg is not None:
        unsure_kg = division_kg / 2.0 / sqrt(3.0)
        return Total(nominal_kg=plan.weighed_kg, expected_kg=plan.weighed_kg, uncertainty_kg=unsure_kg)
    planned_kg = plan.planned_kg or 0.0
    growth, unsure = growth_after(plan.growth, learned)
    return Total(
        nominal_kg=planned_kg,
        expected_kg=planned_kg * (1.0 + growth),
        uncertainty_kg=planned_kg * hypot(unsure, plan.own / sqrt(3.0)),
    )


def _day(part: AirframePart) -> date | None:
    """Return the day on which a part was weighed, None where none can be read."""
    try:
        return date.fromisoformat(part.weighed_on.value.strip())
    except ValueError:
        return None


def _before(plan: Planned) -> Planned:
    """Return the plan of a part as it was before the scale; what has no plan counts as weighed from the start."""
    return plan if plan.planned_kg is None else replace(plan, weighed_kg=None)


def _days(parts: tuple[PartMass, ...], division_kg: float) -> Iterator[Day]:
    """Yield the forecast by building days: on each of them what was weighed later still counts as planned."""
    for day in sorted({part.day for part in parts if part.day is not None and part.plan.weighed_kg is not None}):
        late = [part.day is not None and part.day > day for part in parts]
        then = [_before(part.plan) if later else part.plan for part, later in zip(parts, late, strict=True)]
        total = forecast(then, division_kg)
        yield Day(day=day, forecast_kg=total.expected_kg, spread_kg=total.spread_kg)


def _damp(needs: Needs, building: Building) -> float | None:
    """Return what bare wood weighs on the field over what it weighs in the room; None where nobody asks."""
    asked = {name: getattr(building, name) for name in ("room_humidity", "field_humidity")}
    needs.sound("building.room_temperature", "building.field_temperature", *(f"building.{name}" for name in asked))
    if not any(asked.values()):
        return None
    room, field = (needs.must(f"building.{name}", entry) for name, entry in asked.items())
    if room is None or field is None or unread(needs.budget, "building.room_temperature", "building.field_temperature"):
        return None
    at = building.room_temperature.value - ZERO_C, building.field_temperature.value - ZERO_C
    return moisture.gain((at[0], room), (at[1], field))


AREA = ("area", "span", "root", "tip", "planform", "count")


def _with_wing(needs: Needs, found: AirframeBlock) -> AirframeBlock:
    """Return the block with the wing area and mean chord of the parts marked so; none if one of them is not whole."""
    planforms = []
    for index, part in enumerate(needs.budget.airframe):
        path = f"{LIST}.{index}"
        if not part.area.value and not unread(needs.budget, f"{path}.area"):
            continue
        plan = weigh.planform(part) if needs.sound(*(f"{path}.{name}" for name in AREA)) else None
        if plan is None:
            for name in ("span", "root"):
                needs.must(f"{path}.{name}", getattr(part, name))
            return found
        planforms += [(part.count.value * shapes.area(plan), shapes.mean_chord(plan))]
    area_m2 = sum(each for each, _ in planforms)
    chord_m = sum(each * chord for each, chord in planforms) / area_m2
    return replace(found, area_m2=area_m2, chord_m=chord_m)


def _balance_point(needs: Needs, found: AirframeBlock) -> float | None:
    """Return the airframe's own balance point [m], None until every part has mass and station."""
    placed = [part for part in found.parts if part.station_m is not None]
    if not placed or found.uncounted:
        return None
    for part in found.parts:
        if part.station_m is None:
            needs.note(f"{part.path}.station")
    if len(placed) < len(found.parts):
        return None
    mass_kg = sum(part.counts.expected_kg for part in placed)
    return sum(_moments(placed)) / mass_kg if mass_kg > 0.0 else None


def _moments(parts: Iterable[PartMass]) -> Iterator[float]:
    for part in parts:
        assert part.station_m is not None
        yield part.counts.expected_kg * part.station_m


def answer(budget: Budget, answers: Answers) -> Answered:  # noqa: ARG001 - it needs no other subject
    """Return the airframe part by part."""
    found, missing = block_of(budget)
    return Answered(answer=found, missing={"airframe": missing})
