"""Where the model balances, the lead that would put it right, and the parts that could move instead."""

from collections.abc import Iterable
from dataclasses import dataclass

from calc.document import classes
from calc.document.budget import Budget
from calc.subject import Answered, Answers, Needs, unread, value
from calc.subjects.balance import sums
from calc.subjects.balance.entries import Balance
from calc.subjects.balance.sums import Weight
from calc.subjects.weights.answer import RowMass, Weights, airframe_missing
from calc.subjects.weights.masses import Total
from calc.vocabulary import ModelEnd

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

    end: ModelEnd
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
    by_parts: bool  # the airframe's own balance point is that of its parts, as planned: nobody measured it

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
    needs = Needs(budget)
    _missing(needs, block, airframe, rows, uncounted)
    if airframe is None or block.airframe_at is None or needs.missing:
        return None, needs.missing
    placed = tuple(_placed(budget, block, airframe, rows, block.airframe_at.value))
    found = sums.balance_point(_weights(placed))
    bare = sums.balance_point(_weights(part for part in placed if part.path != "model.rubber"))
    target_m = _target(needs, block)
    off_m = None if target_m is None else found.cg_m - target_m
    lead = _ballast(needs, block, found, target_m)
    _rubber_place(needs, block)
    needs.sound("balance.nose_at", "balance.tail_at")
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
        by_parts=bool(budget.airframe) and block.airframe_at.typed is None,
    ), needs.missing


def _weights(placed: Iterable[Placed]) -> list[Weight]:
    return [Weight(mass_kg=part.mass_kg, station_m=part.station_m) for part in placed]


def _missing(
    needs: Needs, block: Balance, airframe: Total | None, rows: tuple[RowMass, ...], uncounted: tuple[str, ...]
) -> None:  # fmt: skip
    """Note what keeps the balance point from being worked out."""
    if airframe is None:
        needs.note(*airframe_missing(needs.budget))
    needs.sound("balance")
    needs.must("balance.airframe_at", block.airframe_at)
    needs.sound("balance.rubber_at", "model.rubber")
    needs.note(*(path if path == "gear" or path.startswith("airframe") else f"{path}.mass" for path in uncounted))
    needs.note(*(f"{row.path}.station" for row in rows if _station(needs.budget, row.path) is None))


def _rubber_place(needs: Needs, block: Balance) -> None:
    """Note that the rubber's place is missing: the balance point is then one without it."""
    rubber, class_ = needs.budget.model.rubber, needs.budget.model.class_.value
    if rubber is None and (block.rubber_at is not None or classes.table()[class_].rubber_most_kg is not None):
        needs.note("model.rubber")
    if rubber is not None and rubber.value > 0.0:
        needs.must("balance.rubber_at", block.rubber_at)


def _station(budget: Budget, path: str) -> float | None:
    part = budget.part(path)
    return None if part is None or part.station is None else part.station.value


def _placed(
    budget: Budget, block: Balance, airframe: Total, rows: tuple[RowMass, ...], airframe_at_m: float
) -> Iterable[Placed]:  # fmt: skip
    yield Placed(path="model.airframe", name="airframe", mass_kg=airframe.expected_kg, station_m=airframe_at_m)
    for row in rows:
        station_m = _station(budget, row.path) or 0.0
        yield Placed(path=row.path, name=row.called, mass_kg=row.mass.expected_kg, station_m=station_m)
    if budget.model.rubber is not None and block.rubber_at is not None:
        rubber_kg, at_m = budget.model.rubber.value, block.rubber_at.value
        yield Placed(path="model.rubber", name="rubber", mass_kg=rubber_kg, station_m=at_m)


def _target(needs: Needs, block: Balance) -> float | None:
    """Return the wanted station, given or as a share of the chord; else None, and what is missing is noted."""
    if block.target is not None or unread(needs.budget, "balance.target"):
        return needs.must("balance.target", block.target)
    chord = {f"balance.{name}": getattr(block, name) for name in ("target_chord", "leading_edge", "chord")}
    if not any(chord.values()) and needs.sound(*chord):
        needs.note("balance.target")
        return None
    share, edge_m, chord_m = (needs.must(path, entry) for path, entry in chord.items())
    if share is None or edge_m is None or chord_m is None:
        return None
    return sums.chord_station(edge_m, chord_m, share)


def _ballast(needs: Needs, block: Balance, found: sums.Balance, target_m: float | None) -> Ballast | None:
    """Return the lead that is needed, None if none is, or if its station does not let it be worked out: then noted."""
    if target_m is None or abs(found.cg_m - target_m) < ENOUGH_M:
        return None
    end: ModelEnd = "nose" if found.cg_m > target_m else "tail"
    path = f"balance.{end}_at"
    station_m = needs.must(path, block.nose_at if end == "nose" else block.tail_at)
    if station_m is None:
        return None
    if abs(station_m - target_m) > sums.SAME_PLACE_M:
        mass_kg = sums.ballast(found.mass_kg, found.cg_m, target_m, station_m)
        if mass_kg > 0.0:
            return Ballast(end=end, mass_kg=mass_kg, station_m=station_m)
    needs.note(path)
    return None


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


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return where the model balances."""
    weights = answers.must(Weights)
    found, missing = balance(budget, weights.airframe, weights.rows, weights.uncounted)
    return Answered(answer=found, missing={"balance": missing})
