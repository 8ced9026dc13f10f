"""How the numbers of the subject air come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.air.answer import AirBlock
from calc.subjects.air.sums import GRAVITY
from calc.unit_system import UnitSystem
from site_src.app.sums import Working, in_unit, num, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the air."""
    block = found.air
    if block is None:
        return
    c, system = block.conditions, UnitSystem.of(budget)
    kg, rho, area = (
        f"{num(block.mass_kg)} kg",
        f"{num(c.density_kg_m3)} kg/m³",
        f"{num(c.area_m2)} m²",
    )
    yield working(
        "loading",
        "air-loading",
        "wing loading",
        "m / S",
        f"{kg} / {area}",
        f"{num(block.loading_kg_m2)} kg/m²",
        f"m: with rubber, and with what a contest adds up to the minimum; "
        f"= {in_unit(block.loading_kg_m2, 'loading', system)}",
    )
    yield working("speed", "air-speed", "flies", "√(2 m g / (ρ S CL))",
                   f"√(2 × {kg} × {num(GRAVITY)} m/s² / ({rho} × {area} × {num(c.lift_coefficient)}))",
                   f"{num(block.speed_m_s)} m/s")  # fmt: skip
    left = c.left[1] != 1.0
    factor = f"({num(c.glide_factor)} × {num(c.left[1])})" if left else num(c.glide_factor)
    yield working("sink", "air-glide" if left else "air-sink", "sinks",
                   "√(2 m g / (ρ S)) / (Φ k)" if left else "√(2 m g / (ρ S)) / Φ",
                   f"√(2 × {kg} × {num(GRAVITY)} m/s² / ({rho} × {area})) / {factor}",
                   f"{num(block.sink_m_s)} m/s")  # fmt: skip
    yield from _timed_glide(budget, block)
    yield from _times(block, kg)


def _timed_glide(budget: Budget, block: AirBlock) -> Iterator[Working]:
    """Yield how the glide factor follows from a timed glide."""
    c = block.conditions
    lift = 2.0 * block.mass_kg * GRAVITY / (c.density_kg_m3 * c.area_m2)
    if c.glide_factor_from == "timed" and budget.air and budget.air.timed_height and budget.air.timed_glide:
        timed_s, height_m = budget.air.timed_glide.value, budget.air.timed_height.value
        yield working("glide_factor", "air-factor", "glide factor Φ", "√(2 m g / (ρ S)) × glide / height",
                       f"√({num(lift)}) m/s × {num(timed_s)} s / {num(height_m)} m",
                       num(c.glide_factor))  # fmt: skip


def _times(block: AirBlock, kg: str) -> Iterator[Working]:
    """Yield the still-air times; `kg` is the mass as it stands in the formulas."""
    if block.time_s is None or block.time_without_gear_s is None or block.time_kept is None:
        return
    time, without = f"{num(block.time_s)} s", f"{num(block.time_without_gear_s)} s"
    top_m = None if block.height_m is None else block.height_m.middle
    apart = block.efficiency is not None and block.conditions.left[1] != 1.0
    if top_m is not None and top_m > 0.0 and apart:
        run_s = block.time_s - top_m / block.sink_m_s
        entry = "air-climb"
        yield working("time", entry, "still-air time", "t + h / w",
                       f"{num(run_s)} s + {num(top_m)} m / {num(block.sink_m_s)} m/s", time)  # fmt: skip
        how = "with the height that the same energy then gives"
    elif block.efficiency is None:
        height = block.time_s * block.sink_m_s
        entry = "air-time-height"
        yield working("time", entry, "still-air time", "h / w", f"{num(height)} m / {num(block.sink_m_s)} m/s", time)
        how = "goes with m to the power −½"
    else:
        energy = block.time_s * block.mass_kg * GRAVITY * block.sink_m_s / block.efficiency
        entry = "air-time-energy"
        yield working("time", entry, "still-air time", "η E / (m g w)",
                       f"{num(block.efficiency)} × {num(energy)} J / "
                       f"({kg} × {num(GRAVITY)} m/s² × {num(block.sink_m_s)} m/s)",
                       time)  # fmt: skip
        how = "goes with m to the power −1.5"
    yield Working(id="time_without", entry=entry, what="without the gear",
                  formula="the same with the mass it then has", numbers="", result=without, remark=how)  # fmt: skip
    yield working("time_kept", "air-kept", "time kept", "with / without", f"{time} / {without} × 100 %",
                   f"{num(100.0 * block.time_kept)} %")  # fmt: skip
