"""Still-air time over the mass of the gear. Numbers to geometry, no markup."""

from dataclasses import dataclass

from calc import digits
from calc.subjects.air.answer import AirBlock
from calc.unit_system import UnitSystem
from site_src.app.scale import Tick, percent, ticks_to


@dataclass(frozen=True, kw_only=True)
class TimeGraph:
    """Still-air time over gear mass: `line` is an SVG polyline in a box of 100 × 100."""

    line: str
    here: tuple[float, float]  # the present set
    here_text: str
    here_anchor: str
    kink: float | None
    masses: tuple[Tick, ...]
    times: tuple[Tick, ...]
    unit: str


def time_graph(block: AirBlock, system: UnitSystem) -> TimeGraph | None:
    """Return the graph, None where no time was worked out."""
    if block.time_s is None or not block.points:
        return None
    most_kg = block.points[-1][0]
    top_s = 1.1 * max(time_s for _, time_s in block.points)
    spots = [(percent(mass, most_kg), 100.0 - percent(time_s, top_s)) for mass, time_s in block.points]
    here = (percent(block.gear_kg, most_kg), round(100.0 - percent(block.time_s, top_s), 2))
    most = system.number(most_kg, "mass")
    return TimeGraph(
        line=" ".join(f"{x:.2f},{y:.2f}" for x, y in spots),
        here=here,
        here_text=f"{system.mass(block.gear_kg)}: {digits.figures(block.time_s)} s",
        here_anchor="end" if here[0] > 55.0 else "start",
        kink=None if block.kink_kg is None or block.kink_kg > most_kg else percent(block.kink_kg, most_kg),
        masses=tuple(Tick(at=percent(value, most), text=f"{value:g}") for value in ticks_to(most)),
        times=tuple(Tick(at=round(100.0 - percent(v, top_s), 2), text=f"{v:g}") for v in ticks_to(top_s, 4)),
        unit=system.label("mass"),
    )
