"""Where the model balances, the lead that would put it right, and the parts that could move instead."""

from collections.abc import Iterable
from dataclasses import dataclass

from calc import balance as sums
from calc.balance import Weight
from calc.blocks import value
from calc.blocks.mass import RowMass, airframe_lacks
from calc.budget import Budget
from calc.masses import Total
from calc.parts import Balance

ENOUGH_M = 0.0005  # our rule: off by less than half a millimetre, which no fingertip feels, counts as balanced


@dataclass(frozen=True, kw_only=True)
class Placed:
    """A weight of the side view: its path, what it is called, mass [kg], station [m]."""

    path: str
    name: str
    mass_kg: float
    station_m: float


@dataclass(frozen=True, kw_only=True)
class Move:
    """A row that could balance the model alone, without lead, by sitting at another station [m]."""

    path: str
    name: str
    from_m: float
    to_m: float


@dataclass(frozen=True, kw_only=True)
class Ballast:
    """Lead at the nose or the tail: mass [kg], station [m], which end."""

    end: str
    mass_kg: float
    station_m: float


@dataclass(frozen=True, kw_only=True)
class BalanceBlock:
    """Stations [m]. `cg_m` with rubber where its station is given; None where something is not given."""

    placed: tuple[Placed, ...]
    mass_kg: float
    cg_m: float
    cg_without_rubber_m: float
    target_m: float | None
    off_m: float | None  # positive: tail-heavy
    ballast: Ballast | None
    moves: tuple[Move, ...]
    nose_m: float | None
    tail_m: float | None

    @property
    def balanced(self) -> bool:
        """Whether it balances where it should, as near as can be felt."""
        return self.off_m is not None and abs(self.off_m) < ENOUGH_M


def balance(
    budget: Budget, airframe: Total | None, rows: tuple[RowMass, ...], uncounted: tuple[str, ...]
) -> tuple[BalanceBlock | None, tuple[str, ...]]:  # fmt: skip
    """Return the balance block, or None and the paths of the fields it waits for."""
    block = budget.balance
    if block is None:
        return None, ("balance.airframe_at",)
    lacks = tuple(_lacks(budget, block, airframe, rows, uncounted))
    if airframe is None or block.airframe_at is None or lacks:
        return None, lacks
    placed = tuple(_placed(budget, block, airframe, rows, block.airframe_at.value))
    found = sums.balance_point(_weights(placed))
    bare = sums.balance_point(_weights(part for part in placed if part.path != "model.rubber"))
    target_m, target_lacks = _target(budget, block)
    off_m = None if target_m is None else found.cg_m - target_m
    lead, lead_lacks = _ballast(block, found, target_m)
    return BalanceBlock(
        placed=placed,
        mass_kg=found.mass_kg,
        cg_m=found.cg_m,
        cg_without_rubber_m=bare.cg_m,
        target_m=target_m,
        off_m=off_m,
        ballast=lead,
        moves=() if target_m is None else tuple(_moves(block, found, target_m, placed)),
        nose_m=value(block.nose_at),
        tail_m=value(block.tail_at),
    ), target_lacks or lead_lacks


def _weights(placed: Iterable[Placed]) -> list[Weight]:
    return [Weight(mass_kg=part.mass_kg, station_m=part.station_m) for part in placed]


def _lacks(
    budget: Budget, block: Balance, airframe: Total | None, rows: tuple[RowMass, ...], uncounted: tuple[str, ...]
) -> Iterable[str]:  # fmt: skip
    if airframe is None:
        yield from airframe_lacks(budget)
    if block.airframe_at is None:
        yield "balance.airframe_at"
    yield from (path for path in ("balance.rubber_at", "model.rubber") if path in budget.unread)
    yield from (f"{path}.mass" for path in uncounted)
    yield from (f"{row.path}.station" for row in rows if _station(budget, row.path) is None)


def _station(budget: Budget, path: str) -> float | None:
    part = budget.cell if path == "cell" else budget.gear[int(path.removeprefix("gear."))]
    return None if part is None or part.station is None else part.station.value


def _placed(
    budget: Budget, block: Balance, airframe: Total, rows: tuple[RowMass, ...], airframe_at_m: float
) -> Iterable[Placed]:  # fmt: skip
    yield Placed(path="model.airframe", name="airframe", mass_kg=airframe.expected_kg, station_m=airframe_at_m)
    for row in rows:
        station_m = _station(budget, row.path) or 0.0
        yield Placed(path=row.path, name=row.name or row.kind, mass_kg=row.mass.expected_kg, station_m=station_m)
    if budget.model.rubber is not None and block.rubber_at is not None:
        rubber_kg, at_m = budget.model.rubber.value, block.rubber_at.value
        yield Placed(path="model.rubber", name="rubber", mass_kg=rubber_kg, station_m=at_m)


def _target(budget: Budget, block: Balance) -> tuple[float | None, tuple[str, ...]]:
    """Return the wanted station, given or as a share of the chord; else None and what is missing."""
    if block.target is not None or "balance.target" in budget.unread:
        return value(block.target), () if block.target is not None else ("balance.target",)
    chord = {name: getattr(block, name) for name in ("target_chord", "leading_edge", "chord")}
    if not any(chord.values()):
        return None, ("balance.target",)
    lacks = tuple(f"balance.{name}" for name, entry in chord.items() if entry is None)
    if lacks:
        return None, lacks
    share, edge, length = (chord[name].value for name in ("target_chord", "leading_edge", "chord"))
    return sums.chord_station(edge, length, share), ()


def _ballast(
    block: Balance, found: sums.Balance, target_m: float | None
) -> tuple[Ballast | None, tuple[str, ...]]:  # fmt: skip
    """Return the lead that is needed, None if none is; with it the field that keeps it from being worked out."""
    if target_m is None or abs(found.cg_m - target_m) < ENOUGH_M:
        return None, ()
    end = "nose" if found.cg_m > target_m else "tail"
    station_m: float | None = value(block.nose_at if end == "nose" else block.tail_at)
    if station_m is None:
        return None, (f"balance.{end}_at",)
    if abs(station_m - target_m) <= sums.SAME_PLACE_M:
        return None, (f"balance.{end}_at",)
    mass_kg = sums.ballast(found.mass_kg, found.cg_m, target_m, station_m)
    if mass_kg <= 0.0:
        return None, (f"balance.{end}_at",)
    return Ballast(end=end, mass_kg=mass_kg, station_m=station_m), ()


def _moves(block: Balance, found: sums.Balance, target_m: float, placed: tuple[Placed, ...]) -> Iterable[Move]:
    """Yield the rows whose station alone could balance the model, the new place between nose and tail."""
    nose_m, tail_m = value(block.nose_at), value(block.tail_at)
    if nose_m is None or tail_m is None or abs(found.cg_m - target_m) < ENOUGH_M:
        return
    for part in placed:
        if not part.path.startswith("model.") and part.mass_kg > 0.0:
            weight = Weight(mass_kg=part.mass_kg, station_m=part.station_m)
            to_m = sums.moved_station(found.mass_kg, found.cg_m, target_m, weight)
            if min(nose_m, tail_m) <= to_m <= max(nose_m, tail_m):
                yield Move(path=part.path, name=part.name, from_m=part.station_m, to_m=to_m)
