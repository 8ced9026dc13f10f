"""The linkage as given, and the usual choices beside it."""

from collections.abc import Iterable
from dataclasses import dataclass

from calc.document.budget import Budget
from calc.subject import Answered, Answers, Needs, unread, value
from calc.subjects.linkage import sums as rods
from calc.subjects.linkage.entries import Linkage
from calc.subjects.linkage.sums import MATERIALS, YARNS, Lines, LinkageStrength, Material, Rod
from calc.subjects.stock import sums as stock
from calc.subjects.surface.answer import SurfaceBlock
from calc.vocabulary import LinkageKind

HOLDS_FACTOR = 2.0  # our rule: a linkage holds with this factor of strength …


HOLDS_LOST_DEG = 2.0  # … and if stretch loses no more than this


ROD_ENDS_KG = 0.0004  # ends taken where none are given: common practice, no source


LINE_ENDS_KG = 0.0001  # the same of a pair of lines


def holds(strength: LinkageStrength) -> bool:
    """Return whether a linkage is strong and stiff enough by our rule."""
    return strength.factor >= HOLDS_FACTOR and strength.lost_deg <= HOLDS_LOST_DEG


@dataclass(frozen=True, kw_only=True)
class Choice:
    """A way to lead the force there: what it is, how it holds, whether it holds by our rule."""

    name: str
    made_of: Rod | Lines
    strength: LinkageStrength

    @property
    def holds(self) -> bool:
        """Whether it is strong and stiff enough by our rule."""
        return holds(self.strength)


@dataclass(frozen=True, kw_only=True)
class LinkageBlock:
    """The linkage as given, and the usual choices beside it for this surface; lightest first."""

    force_n: float
    kind: LinkageKind
    made_of: Rod | Lines | None
    strength: LinkageStrength | None
    choices: tuple[Choice, ...]

    @property
    def lightest(self) -> Choice | None:
        """The lightest of the choices that holds."""
        return next((choice for choice in self.choices if choice.holds), None)


def linkage(budget: Budget, found: SurfaceBlock | None) -> tuple[LinkageBlock | None, tuple[str, ...]]:
    """Return the linkage block, or None, and the paths of the fields that it or the given linkage waits for."""
    block = budget.linkage
    if block is None or found is None or budget.surface is None:
        return None, ("linkage.length",) if block is None else ("surface.span",)
    horn = budget.surface.horn
    if found.force_n is None or horn is None:
        return None, ("surface.horn",) if budget.surface.actuator.value != "coil actuator" else ()
    needs = Needs(budget)
    needs.must("linkage.length", block.length)
    needs.sound("linkage", "linkage.free_length", "linkage.kind", "surface.horn")
    if block.length is None or needs.missing:
        return None, needs.missing
    made_of, missing = _as_given(budget, block, block.length.value)
    choices = _choices(block, block.length.value, found.force_n, horn.value)
    return LinkageBlock(
        force_n=found.force_n,
        kind=block.kind.value,
        made_of=made_of,
        strength=None if made_of is None else _strength(made_of, found.force_n, horn.value),
        choices=tuple(sorted(choices, key=lambda choice: choice.strength.mass_kg)),
    ), missing


def _strength(made_of: Rod | Lines, force_n: float, horn_m: float) -> LinkageStrength:
    if isinstance(made_of, Rod):
        return rods.rod_strength(made_of, force_n, horn_m)
    return rods.lines_strength(made_of, force_n, horn_m)


def _as_given(budget: Budget, block: Linkage, length_m: float) -> tuple[Rod | Lines | None, tuple[str, ...]]:
    """Return the linkage of the budget, or None and what is missing of it."""
    names = (
        "material",
        "section",
        "bore",
        "density",
        "modulus",
        "ends",
        "yarn",
        "knot",
        "tex",
        "line_diameter",
        "diameter",
    )
    broken = tuple(f"linkage.{name}" for name in names if unread(budget, f"linkage.{name}"))
    if block.kind.value == "rod":
        if broken or block.diameter is None:
            return None, broken or ("linkage.diameter",)
        return _rod(block, length_m, block.diameter.value), ()
    tex = _tex(block)
    if broken or tex is None:
        return None, broken or ("linkage.tex",)
    ends_kg = LINE_ENDS_KG if block.ends is None else block.ends.value
    return Lines(yarn=YARNS[block.yarn.value], length_m=length_m, tex=tex, knot=block.knot.value, ends_kg=ends_kg), ()


def _rod(block: Linkage, length_m: float, diameter_m: float) -> Rod:
    usual = MATERIALS[block.material.value]
    material = Material(
        density_kg_m3=usual.density_kg_m3 if block.density is None else block.density.value,
        modulus_pa=usual.modulus_pa if block.modulus is None else block.modulus.value,
        source=usual.source,
    )
    return Rod(
        material=material,
        length_m=length_m,
        free_m=min(length_m, value(block.free_length) or length_m),
        diameter_m=diameter_m,
        bore_m=0.0 if block.section.value == "square" else (value(block.bore) or 0.0),
        square=block.section.value == "square",
        ends_kg=ROD_ENDS_KG if block.ends is None else block.ends.value,
    )


def _tex(block: Linkage) -> float | None:
    """Return the tex of one line, given or from its diameter."""
    if block.tex is not None:
        return float(block.tex.value) * 1e6
    if block.line_diameter is None:
        return None
    return stock.tex_of(block.line_diameter.value, YARNS[block.yarn.value].density_kg_m3)


USUAL_RODS = (
    ("carbon 0.5 mm", "carbon", 0.0005, 0.0, False), ("carbon 0.8 mm", "carbon", 0.0008, 0.0, False),
    ("carbon 1.0 mm", "carbon", 0.0010, 0.0, False), ("carbon tube 1.5 / 0.7 mm", "carbon", 0.0015, 0.0007, False),
    ("steel wire 0.5 mm", "steel", 0.0005, 0.0, False), ("steel wire 0.8 mm", "steel", 0.0008, 0.0, False),
    ("aluminium tube 1.6 / 0.9 mm", "aluminium", 0.0016, 0.0009, False),
    ("brass tube 1.6 / 1.1 mm", "brass", 0.0016, 0.0011, False),
    ("balsa strip 3 mm square", "balsa", 0.003, 0.0, True), ("bamboo 1.5 mm", "bamboo", 0.0015, 0.0, False),
)  # fmt: skip


USUAL_LINES = (
    ("aramid lines 22 tex", "aramid", 22.0), ("polyethylene lines 22 tex", "polyethylene", 22.0),
    ("polyester lines 25 tex", "polyester", 25.0),
)  # fmt: skip


def _choices(block: Linkage, length_m: float, force_n: float, horn_m: float) -> Iterable[Choice]:
    free_m = min(length_m, value(block.free_length) or length_m)
    for name, material, diameter_m, bore_m, square in USUAL_RODS:
        rod = Rod(
            material=MATERIALS[material], length_m=length_m, free_m=free_m, diameter_m=diameter_m, bore_m=bore_m,
            square=square, ends_kg=ROD_ENDS_KG,
        )  # fmt: skip
        yield Choice(name=name, made_of=rod, strength=_strength(rod, force_n, horn_m))
    for name, yarn, tex in USUAL_LINES:
        lines = Lines(yarn=YARNS[yarn], length_m=length_m, tex=tex, knot="knotted", ends_kg=LINE_ENDS_KG)
        yield Choice(name=name, made_of=lines, strength=_strength(lines, force_n, horn_m))


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return how the linkage holds what the surface asks."""
    found, missing = linkage(budget, answers.of(SurfaceBlock))
    return Answered(answer=found, missing={"linkage": missing})
