"""The lines of the airframe's parts as texts, and which entries of a part are asked of which shapes."""

from collections.abc import Iterator, Mapping

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.document.fields import described
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.airframe.entries import FIELDS, GROUPS, KNOWN, SHAPES, AirframePart
from calc.unit_system import UnitSystem
from site_src.app.line import Line

WITH_PLANFORM = ("plate", "ribs", "frame", "cover", "finish")
EMPTY = "Add a part"


def _belongs() -> Iterator[tuple[str, tuple[str, str]]]:
    """Yield each entry that belongs to shapes with `shape` and these, as `table` of macros/rows.html takes them."""
    for name in described(AirframePart):
        shapes = WITH_PLANFORM if name == "area" else tuple(shape for shape, names in FIELDS.items() if name in names)
        if shapes:
            yield name, ("shape", ",".join(shapes))


BELONGS: Mapping[str, tuple[str, str]] = dict(_belongs())


def airframe_lines(budget: Budget, found: Assessment, system: UnitSystem) -> Mapping[str, Line]:
    """Return the lines by the part’s number, and the empty one."""
    block = found.of(AirframeBlock)
    counts = {
        part.path: f"{system.mass(part.counts.expected_kg, part.counts.spread_kg)} ± "
        f"{system.spread(part.counts.spread_kg)}"
        for part in (() if block is None else block.parts)
    }
    lines = {
        str(index): Line(name=part.called, counts=counts.get(f"airframe.{index}", ""), rest=", ".join(_rest(part)))
        for index, part in enumerate(budget.airframe)
    }
    return lines | {str(len(lines)): Line(name=EMPTY, counts="", rest="")}


def _rest(part: AirframePart) -> Iterator[str]:
    """Yield what else a line holds: what the part belongs to, its shape, how its mass is known."""
    yield GROUPS[part.group.value]
    yield SHAPES[part.shape.value]
    yield KNOWN[part.known_by.value] if part.weighed is None else f"on the scale {part.weighed.typed}"
