"""What is said of the radio's reach."""

from calc import digits
from calc.subjects.reach.answer import Link, RangeCheck, ReachBlock
from calc.unit_system import UnitSystem

CAUTION = (
    "Make a range check on the day: one holds the model off the ground and turns it all ways, motor and servos at "
    "work. In the air the pilot must see the model all the time; how far and how high is allowed, local rules say."
)
FAR_M = 5000.0  # farther than such a model is seen or the sums were ever held against: our rule
THIN_DB = 6.0  # a margin below it is told as thin: half the distance


def sentence(block: ReachBlock, system: UnitSystem) -> str:
    """Return how far the radio carries and what a range check means."""
    link = [] if block.link is None else _link(block.link, system)
    check = [] if block.check is None else [_check(block.check, system)]
    return " ".join([*link, *check, CAUTION])


def _far(meters: float, system: UnitSystem) -> str:
    return f"over {system.rounded(FAR_M, 'height')}" if meters > FAR_M else system.rounded(meters, "height")


def _about(meters: float, system: UnitSystem) -> str:
    return f"{'' if meters > FAR_M else 'about '}{_far(meters, system)}"


def _db(level: float) -> str:
    return f"{digits.signed(level, 0)} dB"


def _link(found: Link, system: UnitSystem) -> list[str]:
    said = [f"In the air, in sight, it reaches {_about(found.air_m, system)}; a model on the ground is reached to "
            f"{_about(found.ground_m, system)}."]  # fmt: skip
    if found.distance_m is None or found.margin_db is None or found.margin_ground_db is None:
        return said
    at = f"At {_far(found.distance_m, system)}{', where the longest flight drifts to,' if found.drifts else ''}"
    if found.margin_db < 0.0:
        said.append(f"{at} {_db(-found.margin_db)} are lacking: it does not reach so far.")
    else:
        thin = " That is thin." if found.margin_db < THIN_DB else ""
        said.append(f"{at} {_db(found.margin_db)} are in hand.{thin}")
    if found.margin_ground_db < 0.0:
        said.append("A model down in grass there is beyond this receiver; a tracker needs line of sight, too.")
    return said


def _check(found: RangeCheck, system: UnitSystem) -> str:
    held, air, ground = (_far(each, system) for each in (found.held_m, found.air_m, found.ground_m))
    return (
        f"The range check held to {held} with {_db(found.less_db)} less means {air} in the air if free space held "
        f"there, too; if the ground weakened it, {ground}. Count on the shorter one."
    )


def brief(block: ReachBlock, system: UnitSystem) -> str:
    """Return in one line how far it reaches."""
    if block.link is not None:
        air, ground = _about(block.link.air_m, system), _far(block.link.ground_m, system)
        return f"{air} in the air, {ground} to a model on the ground"
    assert block.check is not None  # one of the two there is
    least = "" if block.check.ground_m > FAR_M else " at least"
    return f"the range check means {_far(block.check.ground_m, system)}{least}"
