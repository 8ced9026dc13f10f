"""The forecast of the finished airframe over the building days. Numbers to geometry, no markup."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor

from calc.subjects.airframe.answer import AirframeBlock
from calc.unit_system import UnitSystem
from site_src.app.scale import Tick, nice_step

PLAN, FIRST = 0.0, 12.0  # where the plan and the first day stand on the axis [%]
LOW = 84.0  # below it a text would run into the days [%]
LABELS = 15.0  # apart, so that days do not run into each other [%]


@dataclass(frozen=True, kw_only=True)
class Step:
    """The plan or a building day: where it stands [%], its name, forecast, spread and difference from the plan."""

    x: float
    y: float
    name: str
    mass: str
    spread: str
    beside: str


@dataclass(frozen=True, kw_only=True)
class BuildGraph:
    """The forecast over the days; `line` and `band` (its spread) are SVG points in a box of 100 × 100."""

    line: str
    band: str
    planned: float  # the mass as it was planned, without growth, from the top [%]
    planned_text: str
    below: bool  # whether that text stands below its line
    above: bool  # whether the last forecast's text stands above its point, away from the plan
    steps: tuple[Step, ...]
    masses: tuple[Tick, ...]
    days: tuple[Tick, ...]
    unit: str
    undated: int


def build_graph(block: AirframeBlock, system: UnitSystem) -> BuildGraph | None:
    """Return the line over the building days, None until a part with its day is weighed."""
    if not block.days:
        return None
    first, last = block.days[0].day, block.days[-1].day
    each_day = (100.0 - FIRST) / max(1, (last - first).days)
    spots = [(PLAN, "plan", block.plan.expected_kg, block.plan.spread_kg)]
    spots += [
        (FIRST + each_day * (day.day - first).days if last > first else 100.0, day.day.isoformat(), day.forecast_kg,
         day.spread_kg) for day in block.days
    ]  # fmt: skip
    scale = _Scale(block, spots)
    upper = [f"{x:.2f},{scale.down(kg + spread_kg):.2f}" for x, _, kg, spread_kg in spots]
    lower = [f"{x:.2f},{scale.down(kg - spread_kg):.2f}" for x, _, kg, spread_kg in reversed(spots)]
    return BuildGraph(
        line=" ".join(f"{x:.2f},{scale.down(kg):.2f}" for x, _, kg, _ in spots),
        band=" ".join([*upper, *lower]),
        planned=scale.down(block.planned_kg),
        planned_text=f"planned {system.mass(block.planned_kg)}",
        below=scale.down(block.planned_kg) < LOW and block.planned_kg < spots[-1][2],
        above=block.planned_kg < spots[-1][2],
        steps=tuple(_step(block, spot, scale, system) for spot in spots),
        masses=tuple(scale.ticks(system)),
        days=tuple(_days(spots)),
        unit=system.label("mass"),
        undated=block.undated,
    )


class _Scale:
    """The masses from the top of the picture down; it does not begin at nothing."""

    def __init__(self, block: AirframeBlock, spots: list[tuple[float, str, float, float]]) -> None:
        low = min(block.planned_kg, *(kg - spread_kg for _, _, kg, spread_kg in spots))
        high = max(block.planned_kg, *(kg + spread_kg for _, _, kg, spread_kg in spots))
        room_kg = 0.06 * (high - low) or 0.05 * high
        self.low_kg, self.high_kg = max(0.0, low - room_kg), high + room_kg

    def down(self, kg: float) -> float:
        """Return how far below the top a mass lies [%]."""
        return round(100.0 * (self.high_kg - max(kg, self.low_kg)) / (self.high_kg - self.low_kg), 2)

    def ticks(self, system: UnitSystem) -> Iterator[Tick]:
        """Yield the nice numbers within the picture."""
        low, high = (system.number(kg, "mass") for kg in (self.low_kg, self.high_kg))
        step = nice_step(high - low, 4)
        for index in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1):
            at = 100.0 * (high - index * step) / (high - low)
            yield Tick(at=round(at, 2), text=f"{round(index * step, 9):g}")


def _step(
    block: AirframeBlock, spot: tuple[float, str, float, float], scale: _Scale, system: UnitSystem
) -> Step:  # fmt: skip
    x, name, kg, spread_kg = spot
    over_kg = kg - block.planned_kg
    return Step(
        x=round(x, 2), y=scale.down(kg), name=name, mass=system.mass(kg, spread_kg), spread=system.spread(spread_kg),
        beside=f"{'+' if over_kg >= 0.0 else '−'}{system.mass(abs(over_kg), spread_kg)}",
    )  # fmt: skip


def _days(spots: list[tuple[float, str, float, float]]) -> Iterator[Tick]:
    """Yield what stands under the axis: the plan, and days that have room, the last one first of all."""
    last = spots[-1][0]
    yield Tick(at=PLAN, text=spots[0][1])
    before = PLAN
    for x, name, _, _ in spots[1:-1]:
        if min(x - before, last - x) >= LABELS:
            before = x
            yield Tick(at=round(x, 2), text=name[5:])
    yield Tick(at=round(last, 2), text=spots[-1][1])
