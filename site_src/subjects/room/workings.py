"""How the numbers of the subject room come about: places are found by a search; how full a bay is can be worked out."""

from collections.abc import Iterator

from calc.assess import Assessment
from calc.document.budget import Budget
from calc.subjects.room.answer import RoomBlock, size_mm
from site_src.app.sums import Working, num, working


def workings(budget: Budget, found: Assessment) -> Iterator[Working]:  # noqa: ARG001 - as every room has it
    """Yield how much of the box around each bay its parts fill."""
    block = found.of(RoomBlock)
    for bay, space in enumerate(() if block is None else block.spaces):
        parts = [size_mm(each.spot.size) for each in (block.parts if block else ()) if each.bay == bay]
        if parts:
            around = size_mm((space.size[0], *space.taper.widest))
            whole = around[0] * around[1] * around[2]
            filled = sum(x * y * z for x, y, z in parts) / whole
            told = " + ".join(_volume(part) for part in parts)
            yield working(f"filled.{bay}", "room-filled", f"how full {block.bays[bay] if block else ''} is",
                          "Σ volumes of the parts / volume around the bay",
                          f"100 × ({told}) / ({_volume(around)})", f"{num(100.0 * filled)} %")  # fmt: skip


def _volume(size: tuple[float, float, float]) -> str:
    return " × ".join(num(each) for each in size)
