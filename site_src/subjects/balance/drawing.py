"""The side view with its stations. Numbers to geometry, no markup."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import ceil, sqrt
from typing import Literal, TypeAlias

from calc.subjects.balance.answer import BalanceBlock
from calc.unit_system import UnitSystem
from site_src.app.scale import Tick, nice_step, percent

LARGEST_PX = 22.0  # radius of the heaviest part's disc; areas go with mass


MARGIN = 0.06
DiscKind: TypeAlias = Literal["gear", "airframe", "rubber", "lead"]
OF_THE_MODEL: Mapping[str, DiscKind] = {"model.airframe": "airframe", "model.rubber": "rubber"}  # by path


@dataclass(frozen=True, kw_only=True)
class Disc:
    """A part of the side view: where [%], radius [px], the level its number stands on, its number and title."""

    at: float
    radius: float
    level: int
    label: str
    title: str
    kind: DiscKind


@dataclass(frozen=True, kw_only=True)
class SideView:
    """Stations to scale from nose to tail."""

    discs: tuple[Disc, ...]
    cg: float
    target: float | None
    balanced: bool  # whether cg with lead stands at the target
    ticks: tuple[Tick, ...]
    unit: str
    levels: int


def side_view(block: BalanceBlock, numbers: dict[str, int], system: UnitSystem) -> SideView:
    """Return the side view; `numbers` gives each gear row's number in the list."""
    stations = [part.station_m for part in block.placed]
    known = [*stations, block.cg_m, *(at for at in (block.target_m, block.nose_m, block.tail_m) if at is not None)]
    low_m, high_m = min(0.0, *known), max(known)
    span_m = max(high_m - low_m, 0.01)
    low_m, span_m = low_m - MARGIN * span_m, span_m * (1.0 + 2.0 * MARGIN)

    def at(station_m: float) -> float:
        return percent(station_m - low_m, span_m)

    discs = tuple(_levelled(_discs(block, numbers, at, system)))
    return SideView(
        discs=discs,
        cg=at(block.cg_m),
        target=None if block.target_m is None else at(block.target_m),
        balanced=block.ballast is not None,
        ticks=tuple(_station_ticks(low_m, span_m, system)),
        unit=system.label("length"),
        levels=1 + max((disc.level for disc in discs), default=0),
    )


def _discs(block: BalanceBlock, numbers: dict[str, int], at: object, system: UnitSystem) -> Iterable[Disc]:
    place = at if callable(at) else float
    heaviest = max(part.mass_kg for part in block.placed)
    for part in block.placed:
        yield Disc(
            at=place(part.station_m),
            radius=round(max(2.0, LARGEST_PX * sqrt(part.mass_kg / heaviest)), 2),
            level=0,
            label=str(numbers[part.path]) if part.path in numbers else part.name,
            title=f"{part.name}, {system.mass(part.mass_kg)} at {system.station(part.station_m)}",
            kind=OF_THE_MODEL.get(part.path, "gear"),
        )
    if block.ballast is not None:
        yield Disc(
            at=place(block.ballast.station_m),
            radius=round(max(2.0, LARGEST_PX * sqrt(block.ballast.mass_kg / heaviest)), 2),
            level=0,
            label="lead",
            title=f"lead, {system.mass(block.ballast.mass_kg)}",
            kind="lead",
        )


def _levelled(discs: Iterable[Disc]) -> Iterable[Disc]:
    """Yield the discs with the level on which each label has room."""
    ends: list[float] = []
    for disc in sorted(discs, key=lambda each: each.at):
        width = 4.0 if len(disc.label) < 3 else 2.4 * len(disc.label)
        left = disc.at - width / 2.0
        level = next((index for index, end in enumerate(ends) if end <= left), len(ends))
        ends[level : level + 1] = [disc.at + width / 2.0]
        yield Disc(
            at=disc.at, radius=disc.radius, level=level, label=disc.label, title=disc.title, kind=disc.kind
        )  # fmt: skip


def _station_ticks(low_m: float, span_m: float, system: UnitSystem) -> Iterable[Tick]:
    low, span = system.number(low_m, "length"), system.number(span_m, "length")
    step = nice_step(span, 7)
    index = ceil(low / step - 1e-9)
    while index * step <= low + span:
        if index * step >= low:
            yield Tick(at=percent(index * step - low, span), text=f"{round(index * step, 6):g}")
        index += 1
