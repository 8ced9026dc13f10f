"""A box of one part of each kind, and the finder asked with it; shared by the finder's tests."""

from typing import Any

from calc.document.box import read_box
from calc.search import finder
from calc.search.wishes import Wishes

NO_MORE = {"busy_draw": "5 mA", "busy": "10 %"}  # at work than quiet: told, and the figures stay round
RECEIVER = {"kind": "receiver", "name": "rx", "mass": "1 g", "draw": "20 mA"}
SERVO = {"kind": "servo", "name": "servo", "mass": "2 g", "draw": "5 mA", "thrust": "40 gf", **NO_MORE}
COIL = {"kind": "coil actuator", "name": "coil", "mass": "1 g", "draw": "5 mA", "torque": "5 mN m", **NO_MORE}
ROD = {"kind": "linkage", "name": "rod", "mass": "0.5 g"}
CELL = {"kind": "cell", "name": "cell", "mass": "1 g", "capacity": "30 mAh", "resistance": "0.5 ohm"}
BOX = [RECEIVER, SERVO, COIL, ROD, CELL]
MODEL = {"airframe": "40 g"}


def searched(document: dict[str, Any], parts: list[Any], charges: int = 1, **wishes: Any) -> finder.Answer:
    """Return the finder's answer."""
    return finder.answer(document, read_box({"parts": parts}), charges, Wishes(**wishes))


def names(found: finder.WorkingSet) -> list[str]:
    return [name for _, name in found.parts]
