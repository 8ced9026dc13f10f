"""What the gear and the model weigh, and what the limits are made of."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import hypot
from typing import Literal, TypeVar

from calc.document import classes
from calc.document.budget import Budget
from calc.document.entries import Cell, GearRow
from calc.document.fields import Entry
from calc.english import row_name
from calc.subject import Answered, Answers, Needs, unread, value
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.limits import allowance
from calc.subjects.limits.entries import Rule
from calc.subjects.weights import masses
from calc.vocabulary import KnownBy, PartKind, Use

Weighable = TypeVar("Weighable", GearRow, Cell)


@dataclass(frozen=True, kw_only=True)
class RowMass:
    """A counted row: where it stands in the document and what it weighs. `path` is `gear.N` or `cell`."""

    path: str
    kind: PartKind | Literal["airframe"]
    name: str
    known_by: KnownBy  # "weighed" where a weighed mass stands beside the planned one
    mass: masses.Total

    @property
    def called(self) -> str:
        """What the row is called: its name, or its kind where it has none."""
        return row_name(self.kind, self.name)


@dataclass(frozen=True, kw_only=True)
class ModelMass:
    """Flying weight [kg] with the lead for balance and without rubber, with rubber, and the share of gear and lead.

    None where it is not known. The all-up weight has everything in it: airframe, gear, lead, the ballast that a contest
    model still needs, rubber; where a rubber class is given and no rubber, the most that the class allows.
    """

    airframe_kg: float | None
    flying_kg: float | None
    with_rubber_kg: float | None
    share: float | None
    spread_kg: float = 0.0  # of the flying weight
    lead_kg: float = 0.0  # counted in all of them
    ballast_kg: float = 0.0  # that a contest asks for on top
    all_up_kg: float | None = None


@dataclass(frozen=True, kw_only=True)
class ClassMass:
    """The class's masses [kg], the builder's own figures put over the table's; with what is missing to the minimum."""

    id: str
    use: Use
    minimum_kg: float | None
    maximum_kg: float | None
    short_kg: float | None  # the flying weight is this far below the minimum
    free_kg: float | None  # gear that costs nothing: ballast would take its place; 0 for a sport model
    read: Mapping[str, float]  # figures of the class table that this answer rests on [kg, kg/m²]
    as_of: str  # their year, in words


def counted_rows(budget: Budget, division_kg: float) -> Iterable[RowMass]:
    """Yield every switched-on row whose mass, count and known-by can be read, the cell last."""
    for index, row in enumerate(budget.gear):
        part = None if row.off.value else _part(budget, f"gear.{index}", row, row.count.value)
        if part is not None:
            yield _row_mass(f"gear.{index}", row.kind.value, row.name.value, part, division_kg)
    part = None if budget.cell is None else _part(budget, "cell", budget.cell, 1)
    if budget.cell is not None and part is not None:
        yield _row_mass("cell", "cell", budget.cell.name.value, part, division_kg)


def _part(budget: Budget, path: str, row: GearRow | Cell, count: int) -> masses.Part | None:
    """Return what a row weighs: as weighed where that is given, else as planned; None where it cannot be counted."""
    if unread(budget, f"{path}.count", f"{path}.off", f"{path}.weighed"):
        return None
    if row.weighed is not None:
        return masses.Part(mass_kg=row.weighed.value, count=count)
    if row.mass is None or unread(budget, f"{path}.known_by"):
        return None
    return masses.Part(mass_kg=row.mass.value, count=count, known_by=row.known_by.value)


def _row_mass(path: str, kind: PartKind, name: str, part: masses.Part, division_kg: float) -> RowMass:
    total = masses.total([part], division_kg)
    return RowMass(path=path, kind=kind, name=name, known_by=part.known_by, mass=total)


def as_counted(budget: Budget) -> Budget:
    """Return the budget with each weighed mass in the place of the planned one, for sums that know no plan."""
    cell = None if budget.cell is None else _as_counted(budget, "cell", budget.cell)
    gear = tuple(_as_counted(budget, f"gear.{index}", row) for index, row in enumerate(budget.gear))
    return replace(budget, gear=gear, cell=cell)


def _as_counted(budget: Budget, path: str, row: Weighable) -> Weighable:
    if row.weighed is not None:
        return replace(row, mass=row.weighed, known_by=Entry(value="weighed"))
    return replace(row, mass=None) if unread(budget, f"{path}.weighed") else row


def uncounted(budget: Budget, rows: Iterable[RowMass]) -> tuple[str, ...]:
    """Return the paths of the switched-on rows that could not be counted; `gear` where the list itself is not whole."""
    counted = {row.path for row in rows}
    wanted = [f"gear.{index}" for index, row in enumerate(budget.gear) if not row.off.value]
    wanted += ["cell"] if budget.cell is not None else []
    wanted += ["gear"] if "gear" in budget.unread else []
    return tuple(path for path in wanted if path not in counted)


def together(totals: Iterable[masses.Total]) -> masses.Total:
    """Return the sums over rows that err independently; see `calc.subjects.weights.masses.total`."""
    found = tuple(totals)
    return masses.Total(
        nominal_kg=sum(total.nominal_kg for total in found),
        expected_kg=sum(total.expected_kg for total in found),
        uncertainty_kg=sum(total.uncertainty_kg**2 for total in found) ** 0.5,
    )


def airframe_mass(
    budget: Budget, division_kg: float, parts: AirframeBlock | None = None
) -> masses.Total | None:  # fmt: skip
    """Return the airframe's mass, as weighed where that is given, else as planned, else as its parts forecast it.

    None if it is not known.
    """
    model = budget.model
    if model.airframe_weighed is not None:
        return masses.total([masses.Part(mass_kg=model.airframe_weighed.value)], division_kg)
    if unread(budget, "model.airframe_known_by", "model.airframe_weighed"):
        return None
    if model.airframe is None:
        return None if parts is None or unread(budget, "model.airframe") else parts.forecast
    part = masses.Part(mass_kg=model.airframe.value, known_by=model.airframe_known_by.value)
    return masses.total([part], division_kg)


def airframe_row(budget: Budget, mass: masses.Total, parts: AirframeBlock | None = None) -> RowMass:
    """Return the airframe as a row of its own, for what looks at each mass alike."""
    weighed = budget.model.airframe_weighed is not None
    known_by = "weighed" if weighed else budget.model.airframe_known_by.value
    if budget.model.airframe is None and not weighed:
        known_by = "weighed" if parts is not None and parts.finished else "guess"
    return RowMass(path="model.airframe", kind="airframe", name="airframe", known_by=known_by, mass=mass)


def airframe_missing(budget: Budget) -> tuple[str, ...]:
    """Return what keeps the airframe's mass from being known."""
    broken = [name for name in ("airframe_weighed", "airframe_known_by") if unread(budget, f"model.{name}")]
    return (f"model.{broken[0]}",) if broken else ("model.airframe",)


def bounds_of(budget: Budget) -> allowance.Bounds:
    """Return what the limits are made of; what cannot be read sets no limit."""
    model, rule = budget.model, classes.table()[budget.model.class_.value]

    def own_or_class(name: str, own: Entry[float] | None, in_class: float | None) -> float | None:
        if own is not None:
            return own.value
        return None if unread(budget, "model.class", f"model.{name}") else in_class

    return allowance.Bounds(
        share=None if unread(budget, "rule", "rule.share") else (budget.rule or Rule()).share.value,
        target_kg=value(model.target),
        minimum_kg=own_or_class("minimum", model.minimum, rule.minimum_kg),
        maximum_kg=own_or_class("maximum", model.maximum, rule.maximum_kg),
        loading_most_kg_m2=own_or_class("max_loading", model.max_loading, rule.loading_most_kg_m2),
        wing_area_m2=value(model.wing_area),
        rubber_kg=None if unread(budget, "model.rubber") else (value(model.rubber) or 0.0),
        maximum_with_rubber=rule.counts == "ready to fly",
    )


BOUNDS = ("rule.share", "model.target", "model.class", "model.maximum", "model.max_loading", "scale_division")


def limit_missing(budget: Budget, bounds: allowance.Bounds, airframe: masses.Total | None) -> tuple[str, ...]:
    """Return what keeps a limit from being worked out: what is absent, half given or not to be read."""
    needs = Needs(budget)
    needs.sound(*BOUNDS)
    if airframe is None:
        if bounds.share is not None and bounds.target_kg is None and bounds.minimum_kg is None:
            needs.note(*airframe_missing(budget))
        needs.sound("model.minimum", "model.airframe", "model.airframe_weighed", "model.airframe_known_by")
        if bounds.maximum_kg is not None or bounds.loading_most_kg_m2 is not None:
            needs.note(*airframe_missing(budget))
    elif bounds.loading_most_kg_m2 is not None:
        needs.must("model.wing_area", budget.model.wing_area)
        needs.sound("model.rubber")
        if classes.table()[budget.model.class_.value].rubber_most_kg is not None:
            needs.must("model.rubber", budget.model.rubber)
    return needs.missing


def model_mass(
    budget: Budget, airframe: masses.Total | None, gear: masses.Total, bounds: allowance.Bounds, lead_kg: float
) -> ModelMass:  # fmt: skip
    """Return the model's masses, the lead for balance aboard."""
    if airframe is None:
        return ModelMass(airframe_kg=None, flying_kg=None, with_rubber_kg=None, share=None, lead_kg=lead_kg)
    flying_kg = airframe.expected_kg + gear.expected_kg + lead_kg
    rubber_kg = None if unread(budget, "model.rubber") else value(budget.model.rubber) or 0.0
    contest = budget.model.use.value == "contest"
    ballast_kg = allowance.short_of_minimum(bounds.minimum_kg or 0.0, flying_kg) if contest else 0.0
    return ModelMass(
        airframe_kg=airframe.expected_kg,
        flying_kg=flying_kg,
        with_rubber_kg=None if rubber_kg is None else flying_kg + rubber_kg,
        share=(gear.expected_kg + lead_kg) / flying_kg,
        spread_kg=2.0 * hypot(airframe.uncertainty_kg, gear.uncertainty_kg),
        lead_kg=lead_kg,
        ballast_kg=ballast_kg,
        all_up_kg=None if rubber_kg is None else flying_kg + ballast_kg + (rubber_kg or _rubber_most(budget)),
    )


def _rubber_most(budget: Budget) -> float:
    """Return the rubber [kg] that the all-up weight counts where none is given: the most that the class allows."""
    if budget.model.rubber is not None:
        return 0.0
    return classes.table()[budget.model.class_.value].rubber_most_kg or 0.0


def class_mass(budget: Budget, bounds: allowance.Bounds, model: ModelMass) -> ClassMass:
    """Return what the class minimum means for this model."""
    short_kg = free_kg = None
    known = not unread(budget, "model.class", "model.minimum", "model.use")
    if model.flying_kg is not None and model.airframe_kg is not None and known:
        short_kg = allowance.short_of_minimum(bounds.minimum_kg or 0.0, model.flying_kg)
        free_kg = allowance.short_of_minimum(bounds.minimum_kg or 0.0, model.airframe_kg)
        free_kg = free_kg if budget.model.use.value == "contest" else 0.0
    return ClassMass(
        id=budget.model.class_.value,
        use=budget.model.use.value,
        minimum_kg=bounds.minimum_kg,
        maximum_kg=bounds.maximum_kg,
        short_kg=short_kg,
        free_kg=free_kg,
        read=dict(_read(budget, bounds, model)),
        as_of=classes.table()[budget.model.class_.value].as_of,
    )


def class_missing(budget: Budget) -> tuple[str, ...]:
    """Return what of the class could not be read: what contests ask, and what the radio may do, then stays open."""
    needs = Needs(budget)
    needs.sound("model.class", "model.use", "model.radio", "model.minimum", "model.maximum", "model.rubber")
    return needs.missing


def _read(budget: Budget, bounds: allowance.Bounds, model: ModelMass) -> Iterable[tuple[str, float]]:
    """Yield the figures of the class table that decide something here; the builder's own ones go over them."""
    known, own = model.airframe_kg is not None, budget.model
    minimum = own.use.value == "contest" if known else bounds.share is not None and bounds.target_kg is None
    loading = known and bounds.wing_area_m2 is not None and bounds.rubber_kg is not None
    if minimum and own.minimum is None and bounds.minimum_kg is not None:
        yield "minimum", bounds.minimum_kg
    if known and own.maximum is None and bounds.maximum_kg is not None:
        yield "maximum", bounds.maximum_kg
    if loading and own.max_loading is None and bounds.loading_most_kg_m2 is not None:
        yield "loading", bounds.loading_most_kg_m2


@dataclass(frozen=True, kw_only=True)
class Weights:
    """The gear's rows and their sum, the airframe, and what the limits are made of."""

    rows: tuple[RowMass, ...]
    uncounted: tuple[str, ...]  # paths of switched-on rows, and parts of the airframe, whose mass is not known
    gear: masses.Total
    airframe: masses.Total | None
    bounds: allowance.Bounds


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return the weights."""
    division_kg = budget.scale_division.value
    rows, parts = tuple(counted_rows(budget, division_kg)), answers.of(AirframeBlock)
    airframe = airframe_mass(budget, division_kg, parts)
    lacking = parts.uncounted if parts is not None and airframe is parts.forecast else ()
    found = Weights(
        rows=rows,
        uncounted=(*uncounted(budget, rows), *lacking),
        gear=together(row.mass for row in rows),
        airframe=airframe,
        bounds=bounds_of(budget),
    )
    return Answered(answer=found, missing={"model": airframe_missing(budget) if airframe is None else ()})
