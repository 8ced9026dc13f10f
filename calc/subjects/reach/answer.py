"""How far the radio carries: in the air, to a model on the ground; what a range check means."""

from dataclasses import dataclass

from calc.document.budget import Budget
from calc.document.fields import described, key_of
from calc.subject import Answered, Answers, Needs, value
from calc.subjects.field.answer import FieldBlock
from calc.subjects.reach import sums
from calc.subjects.reach.entries import Radio


@dataclass(frozen=True, kw_only=True)
class Link:
    """What is left for the way [dB], the distances [m] it reaches, and what is over at the distance asked for [dB]."""

    allowed_db: float
    trees_db: float
    air_m: float
    ground_m: float
    distance_m: float | None
    drifts: bool  # the distance is the drift of the longest flight
    margin_db: float | None  # in the air at that distance
    margin_ground_db: float | None  # the model lying there


@dataclass(frozen=True, kw_only=True)
class RangeCheck:
    """What a range check on the ground means in the air and near the ground [m]."""

    held_m: float
    less_db: float
    air_m: float
    ground_m: float


@dataclass(frozen=True, kw_only=True)
class ReachBlock:
    """The link, where power and sensitivity are told; the range check, where one was made."""

    link: Link | None
    check: RangeCheck | None


def reach(budget: Budget, field: FieldBlock | None) -> tuple[ReachBlock | None, tuple[str, ...]]:
    """Return the reach block, or None, and the paths of the fields that it or a part of it waits for."""
    block = budget.radio
    needs = Needs(budget)
    needs.sound("radio", *(f"radio.{key_of(name)}" for name in described(Radio)))
    if block is None or needs.missing:
        return None, needs.missing
    check = _check(needs, block)
    if check is None or block.power is not None or block.sensitivity is not None:
        link = _link(needs, block, field)
    else:
        link = None  # a range check alone says enough
    return (None if link is None and check is None else ReachBlock(link=link, check=check)), needs.missing


def _check(needs: Needs, block: Radio) -> RangeCheck | None:
    if block.check_distance is None and block.check_less is None:
        return None
    held_m = needs.must("radio.check_distance", block.check_distance)
    less = needs.must("radio.check_less", block.check_less)
    if held_m is None or less is None:
        return None
    return RangeCheck(
        held_m=held_m,
        less_db=less,
        air_m=sums.check_in_air(held_m, less),
        ground_m=sums.check_near_ground(held_m, less),
    )


def _link(needs: Needs, block: Radio, field: FieldBlock | None) -> Link | None:
    power = needs.must("radio.power", block.power)
    sensitivity = needs.must("radio.sensitivity", block.sensitivity)
    if power is None or sensitivity is None:
        return None
    frequency = block.frequency.value
    wood = sums.trees(value(block.trees) or 0.0, frequency)
    received = power + block.antenna.value - block.orientation.value - block.fade.value
    allowed = received - wood - sensitivity
    heights = (block.hand.value, block.lying.value)
    drifts = block.distance is None and field is not None and field.carried is not None
    distance_m = value(block.distance)
    if drifts and field is not None and field.carried is not None and field.carried.longest_m > 0.0:
        distance_m = field.carried.longest_m
    return Link(
        allowed_db=allowed,
        trees_db=wood,
        air_m=sums.free_space_reach(allowed, frequency),
        ground_m=sums.over_ground_reach(allowed, frequency, *heights),
        distance_m=distance_m,
        drifts=drifts,
        margin_db=None if distance_m is None else allowed - sums.free_space(distance_m, frequency),
        margin_ground_db=None if distance_m is None else allowed - sums.over_ground(distance_m, frequency, *heights),
    )


def answer(budget: Budget, answers: Answers) -> Answered:
    """Return how far the radio carries; where nobody says how far the model flies off, the field's drift counts."""
    found, missing = reach(budget, answers.of(FieldBlock))
    return Answered(answer=found, missing={"reach": missing})
