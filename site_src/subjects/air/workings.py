"""How the numbers of the subject air come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.air.sums import GRAVITY
from site_src.app.sums import Working, in_unit, num, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the air."""
    block = found.air
    if block is None:
        return
    c, system = block.conditions, budget.units.value
    kg, rho, area = (
        f"{num(block.mass_kg)} kg",
        f"{num(c.density_kg_m3)} kg/m³",
        f"{num(c.area_m2)} m²",
    )
    lift = 2.0 * block.mass_kg * GRAVITY / (c.density_kg_m3 * c.area_m2)
    yield working("loading", "wing loading", "m / S", f"{kg} / {area}", f"{num(block.loading_kg_m2)} kg/m²",
                   f"m: with rubber, and with what a contest adds up to the minimum; "
                   f"= {in_unit(block.loading_kg_m2, 'loading', system)}")  # fmt: skip
    yield working("speed", "flies", "√(2 m g / (ρ S CL))",
                   f"√(2 × {kg} × {num(GRAVITY)} m/s² / ({rho} × {area} × {num(c.lift_coefficient)}))",
                   f"{num(block.speed_m_s)} m/s")  # fmt: skip
    left = "" if c.left[1] == 1.0 else f" / {num(c.left[1])}"
    yield working("sink", "sinks", f"√(2 m g / (ρ S)) / Φ{' / what the propeller leaves' if left else ''}",
                   f"√(2 × {kg} × {num(GRAVITY)} m/s² / ({rho} × {area})) / {num(c.glide_factor)}{left}",
                   f"{num(block.sink_m_s)} m/s")  # fmt: skip
    if c.glide_factor_from == "timed" and budget.air and budget.air.timed_height and budget.air.timed_glide:
        timed_s, height_m = budget.air.timed_glide.value, budget.air.timed_height.value
        yield working("glide_factor", "glide factor Φ", "√(2 m g / (ρ S)) × glide / height",
                       f"√({num(lift)}) m/s × {num(timed_s)} s / {num(height_m)} m",
                       num(c.glide_factor))  # fmt: skip
    if block.time_s is None or block.time_without_gear_s is None or block.time_kept is None:
        return
    time, without = f"{num(block.time_s)} s", f"{num(block.time_without_gear_s)} s"
    if block.height_m is not None and block.efficiency is not None and c.left[1] != 1.0 and block.height_m.middle > 0.0:
        top_m = block.height_m.middle
        run_s = block.time_s - top_m / block.sink_m_s
        yield working("time", "still-air time", "motor run + h / w",
                       f"{num(run_s)} s + {num(top_m)} m / {num(block.sink_m_s)} m/s", time)  # fmt: skip
        how = "with the height that the same energy then gives"
    elif block.efficiency is None:
        height = block.time_s * block.sink_m_s
        yield working("time", "still-air time", "h / w", f"{num(height)} m / {num(block.sink_m_s)} m/s", time)
        how = "goes with m to the power −½"
    else:
        energy = block.time_s * block.mass_kg * GRAVITY * block.sink_m_s / block.efficiency
        yield working("time", "still-air time", "η E / (m g w)",
                       f"{num(block.efficiency)} × {num(energy)} J / "
                       f"({kg} × {num(GRAVITY)} m/s² × {num(block.sink_m_s)} m/s)",
                       time)  # fmt: skip
        how = "goes with m to the power −1.5"
    yield Working(id="time_without", what="without the gear", formula="the same with the mass it then has", numbers="",
                  result=without, remark=how)  # fmt: skip
    yield working("time_kept", "time kept", "with / without", f"{time} / {without} × 100 %",
                   f"{num(100.0 * block.time_kept)} %")  # fmt: skip
