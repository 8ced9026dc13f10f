"""What is said of the airframe."""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from calc import digits
from calc.english import WIDTH, counted, the, wrapped
from calc.subjects.airframe.answer import AirframeBlock, PartMass
from calc.subjects.airframe.entries import GROUPS
from calc.subjects.airframe.shapes import grade
from calc.subjects.airframe.sheet import Sheet
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment

FORGOTTEN = (
    "fillets of glue or epoxy",
    "hooks, hangers and their bindings",
    "tubes and bearings: motor peg, nose bush, timer mount",
    "the strip behind the spar, gussets, tissue joints",
    "dope or paint on every side, and colour trim",
    "ballast and what trims it: packing, clay",
    "dethermaliser: line, snuffer tube, rubber bands",
    "name and licence number, transfers",
    "repairs: a season's worth",
)
SEEN_KG = 5e-6  # our rule: five milligrams of a whole airframe are "as planned"


def airframe_sentence(block: AirframeBlock, system: UnitSystem) -> str:
    """Return what the airframe comes out at, where the grams sit, and what the other sums take."""
    said = [_comes_out(block, system), _where(block)]
    said += [_odd(part) for part in block.weighed if _is_odd(part)][:1]
    if block.damp_kg is not None:
        said.append(_damp(block.damp_kg, system))
    if block.source != "parts":
        told = "weighed" if block.source == "weighed" else "typed for the whole"
        said.append(f"The other sums take the airframe as it is {told}, not its parts.")
    return " ".join(said)


def _mass(kg: float, spread_kg: float, system: UnitSystem) -> str:
    return system.mass(kg, spread_kg)


def _comes_out(block: AirframeBlock, system: UnitSystem) -> str:
    total, least = block.forecast, "at least " if block.uncounted else ""
    mass = f"{least}{_mass(total.expected_kg, total.spread_kg, system)} ± {system.spread(total.spread_kg)}"
    if block.finished:
        said = f"All parts are weighed: together {mass}"
    elif block.weighed:
        said = f"At this rate it comes out at {mass}"
    else:
        said = f"The parts come to {mass}, with growth by how well each is known"
    over_kg = total.expected_kg - block.planned_kg
    if block.weighed and not block.uncounted:
        said += f", {_beside_plan(over_kg, total.spread_kg, system)}"
    if not block.uncounted:
        return f"{said}."
    return f"{said}: {counted(len(block.uncounted), 'part')} without a mass not counted."


def _beside_plan(over_kg: float, spread_kg: float, system: UnitSystem) -> str:
    if abs(over_kg) < SEEN_KG:
        return "as you planned"
    way = "over" if over_kg > 0.0 else "under"
    return f"{_mass(abs(over_kg), spread_kg, system)} {way} what you planned"


def _where(block: AirframeBlock) -> str:
    """Return the groups with the most grams."""
    most = list(block.groups.items())[:3]
    total_kg = sum(block.groups.values())
    told = [f"{GROUPS[group]} {digits.whole_percent(kg / total_kg)}" for group, kg in most]
    return f"Where the grams sit: {', '.join(told)}."


ODD = 2.0  # our rule: a part that weighs so many times its plan, or so little, was not built as planned


def _times(part: PartMass) -> float | None:
    planned_kg, weighed_kg = part.plan.planned_kg, part.plan.weighed_kg
    return None if not planned_kg or weighed_kg is None else weighed_kg / planned_kg


def _is_odd(part: PartMass) -> bool:
    times = _times(part)
    return times is not None and not 1.0 / ODD <= times <= ODD


def _odd(part: PartMass) -> str:
    times = digits.figures(_times(part) or 0.0)
    return f"Look again at {the(part.name)}: it weighs {times} times its plan, and the rest is reckoned alike."


def _damp(damp_kg: float, system: UnitSystem) -> str:
    if damp_kg >= 0.0:
        return (
            f"Bare wood takes up about {system.mass(damp_kg)} from the room to the field; finish slows it down. "
            "The spread has it, the forecast has not."
        )
    return f"Bare wood gives off about {system.mass(-damp_kg)} from the room to the field; the spread has it."


def brief(block: AirframeBlock, system: UnitSystem) -> str:
    """Return the airframe in one line."""
    total, least = block.forecast, "at least " if block.uncounted else ""
    said = f"{counted(len(block.parts), 'part')}, {least}{_mass(total.expected_kg, total.spread_kg, system)}"
    return f"{said}, {len(block.weighed)} weighed" if block.weighed else said


def text(found: "Assessment", system: UnitSystem) -> Iterable[Iterable[str]]:
    """Yield the airframe as paragraphs: in sentences, then part by part."""
    block = found.of(AirframeBlock)
    if block is not None:
        yield wrapped(airframe_sentence(block, system))
        yield _table(block, system)


def _table(block: AirframeBlock, system: UnitSystem) -> Iterator[str]:
    yield f"{'Airframe':36}{'planned':>12}{'weighed':>12}{'counts as':>14}"
    for part in block.parts:
        planned = "" if part.plan.planned_kg is None else system.mass(part.plan.planned_kg)
        weighed = "" if part.plan.weighed_kg is None else system.mass(part.plan.weighed_kg)
        counts = _mass(part.counts.expected_kg, part.counts.spread_kg, system)
        name = part.name if len(part.name) <= NAME else f"{part.name[: NAME - 1]}…"
        yield f"  {name:34}{planned:>12}{weighed:>12}{counts:>14}"[:WIDTH]


NAME = 33


def sheet_sentence(density_kg_m3: float, system: UnitSystem) -> str:
    """Return the density of a sheet on the scale in both systems, with the trade's word for balsa of it.

    Examples
    --------
    >>> sheet_sentence(104.0, UnitSystem.METRIC)
    '104 kg/m³ (6.5 lb/ft³): balsa of this density is called light.'
    """
    both = " (".join(each.rounded(density_kg_m3, "density", 3 if each is system else 2) for each in _both(system))
    return f"{both}): balsa of this density is called {grade(density_kg_m3)}."


def sheet_more(sheet: Sheet, system: UnitSystem) -> str:
    """Return what there is to say of an own sheet beside its density: how far off that may be, what an area weighs."""
    area, area_m2 = ("A square decimetre", 0.01) if system is UnitSystem.METRIC else ("A square foot", 0.3048**2)
    said = f"Either way {digits.whole_percent(sheet.either)}: wood differs within a sheet, and a gauge shows no more. "
    said += f"{area} of it weighs {system.mass(sheet.areal_kg_m2 * area_m2)}."
    return f"{ODD_SHEET} {said}" if sheet.odd else said


def sheet_density(sheet: Sheet, system: UnitSystem) -> str:
    """Return the density of an own sheet in both systems, with the trade's word for it."""
    both = " (".join(each.rounded(sheet.density_kg_m3, "density", 3 if each is system else 2) for each in _both(system))
    return f"{both}), {grade(sheet.density_kg_m3)}"


def sheet_brief(sheet: Sheet, system: UnitSystem) -> str:
    """Return an own sheet in a few words: density, the trade's word for it, thickness."""
    return f"{sheet_density(sheet, system)}; {system.length(sheet.thickness_m)} thick"


ODD_SHEET = "No balsa was measured below 60 or above 380 kg/m³: look at mass and sizes again."


def _both(system: UnitSystem) -> tuple[UnitSystem, UnitSystem]:
    metric = system is UnitSystem.METRIC
    return (UnitSystem.METRIC, UnitSystem.IMPERIAL) if metric else (UnitSystem.IMPERIAL, UnitSystem.METRIC)
