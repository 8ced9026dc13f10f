"""How the numbers of the subject linkage come about."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.linkage import sums as rods
from calc.subjects.linkage.sums import Lines, LinkageStrength, Rod
from site_src.app.sums import Working, num, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:
    """Yield the workings of the linkage."""
    block, surface = found.linkage, budget.surface
    if block is None or surface is None or surface.horn is None:
        return
    horn_m = surface.horn.value
    yield working("force", "linkage-force", "force along it", "moment / horn",
                   f"{num(block.force_n * horn_m * 1e3)} mN·m / {num(horn_m * 1e3)} mm",
                   f"{num(block.force_n)} N")  # fmt: skip
    if block.made_of is not None and block.strength is not None:
        yield from _holds("linkage", "your own", block.made_of, block.strength, block.force_n, horn_m)
    for index, choice in enumerate(block.choices):
        yield from _holds(f"choice.{index}", choice.name, choice.made_of, choice.strength, block.force_n, horn_m)


def _holds(
    id_: str, name: str, made_of: Rod | Lines, strength: LinkageStrength, force_n: float, horn_m: float
) -> Iterator[Working]:  # fmt: skip
    """Yield mass, times the load and lost angle of a linkage."""
    kind, formulas = ("rod", _rod_sums(made_of)) if isinstance(made_of, Rod) else ("lines", _line_sums(made_of))
    (mass, grams), (most, newtons), (stretch, per_newton) = formulas
    yield working(
        f"{id_}.mass", f"linkage-{kind}-mass", f"{name}, mass", mass, grams, f"{num(strength.mass_kg * 1e3)} g"
    )
    if force_n > 0.0:
        yield working(
            f"{id_}.factor",
            f"linkage-{kind}-strength",
            f"{name}, times the load",
            f"{most} / F",
            f"{newtons} / {num(force_n)} N",
            num(strength.factor),
        )
    yield working(f"{id_}.lost", f"linkage-{kind}-lost", f"{name}, angle lost", f"{stretch} / horn",
                   f"{num(force_n)} N × {per_newton} / {num(horn_m * 1e3)} mm × 57.3°",
                   f"{num(strength.lost_deg)}°")  # fmt: skip


def _rod_sums(rod: Rod) -> tuple[tuple[str, str], tuple[str, str], tuple[str, str]]:
    """Return formula and numbers of a rod's mass, its strength, and its stretch per newton."""
    area, length, modulus = (
        f"{num(rods.section(rod) * 1e6)} mm²",
        f"{num(rod.length_m)} m",
        num(rod.material.modulus_pa / 1e9),
    )
    inertia, free = num(rods.second_moment(rod) * 1e12), num(rod.free_m * 1e3)
    return (
        ("section × length × density + ends",
         f"{area} × {length} × {num(rod.material.density_kg_m3 / 1e3)} g/cm³ + {num(rod.ends_kg * 1e3)} g"),
        ("π² E I / L²", f"π² × {modulus} GPa × {inertia} mm⁴ / ({free} mm)² × 1000"),
        ("F L / (E × section)", f"{length} / ({modulus} GPa × {area})"),
    )  # fmt: skip


def _line_sums(lines: Lines) -> tuple[tuple[str, str], tuple[str, str], tuple[str, str]]:
    """Return formula and numbers of the lines' mass, of the strength of one, and its stretch per newton."""
    yarn, tex, length = lines.yarn, f"{num(lines.tex)} tex", f"{num(lines.length_m)} m"
    return (
        ("2 L × tex + ends", f"2 × {length} × {num(lines.tex / 1e3)} g/m + {num(lines.ends_kg * 1e3)} g"),
        (
            "tenacity × tex × knot",
            f"{num(yarn.tenacity_n_tex)} N/tex × {tex} × {num(rods.KNOTS[lines.knot])}",
        ),
        ("F L / (modulus × tex)", f"{length} / ({num(yarn.modulus_n_tex)} N/tex × {tex}) × 1000"),
    )
