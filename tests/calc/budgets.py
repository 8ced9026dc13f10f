"""Budgets that tests of several rooms start from, and what is asked of their answers."""

from typing import Any

from calc.assess import Assessment, assess
from calc.data import as_json
from calc.document.budget import read

GEAR = [
    {"kind": "receiver", "mass": "1.1 g", "draw": "28 mA", "min_volts": "3.1 V", "station": "120 mm"},
    {"kind": "servo", "mass": "1.7 g", "draw": "6 mA", "busy_draw": "160 mA", "busy": "8 %", "station": "150 mm"},
]
MODEL = {"class": "p30", "airframe": "44.5 g", "rubber": "10 g", "wing_area": "8.6 dm²"}
CELL = {"mass": "1.0 g", "capacity": "30 mAh", "resistance": "1.1 ohm", "station": "70 mm"}
SESSION = {"flights": 8, "on_time": "6 min"}
BALANCE = {"airframe_at": "168 mm", "rubber_at": "190 mm", "target": "160 mm", "nose_at": "10 mm", "tail_at": "520 mm"}
SURFACE = {
    "kind": "hinged", "span": "100 mm", "chord": "80 mm", "flap_chord": "24 mm", "deflection": "20°", "speed": "6 m/s",
    "actuator": "rotary servo", "horn": "10 mm", "arm": "5 mm", "torque": "2 mN m",
}  # fmt: skip
ROD = {
    "kind": "rod",
    "length": "300 mm",
    "free_length": "150 mm",
    "material": "carbon",
    "diameter": "1 mm",
    "ends": "0",
}
AIR = {"launch": "rubber", "rubber_energy": "4 kJ/kg", "efficiency": "50 %"}
WHOLE: dict[str, Any] = {
    "model": MODEL, "gear": GEAR, "cell": CELL, "session": SESSION, "balance": BALANCE, "surface": SURFACE,
    "linkage": ROD, "air": AIR,
}  # fmt: skip
SMALL_MODEL = {"class": "own", "airframe": "40 g", "wing_area": "8 dm²", "rubber": "10 g"}


def assessed(**document: Any) -> Assessment:
    """Return the assessment of a document."""
    return assess(read(document).budget)


def reported(**document: Any) -> dict[str, Any]:
    """Return the answer to a document as JSON."""
    budget = read(document).budget
    return as_json(assess(budget))


def small(**document: Any) -> Assessment:
    """Return the assessment of a small model, weighed on an exact scale, with some blocks added or changed."""
    return assessed(**{"model": SMALL_MODEL, "scale_division": "0 g", **document})


def whole(**changes: Any) -> Assessment:
    """Return the assessment of the whole budget with some blocks changed."""
    return assessed(**{**WHOLE, **changes})


def whole_json(**changes: Any) -> dict[str, Any]:
    """Return the answer to the whole budget with some blocks changed as JSON."""
    return reported(**{**WHOLE, **changes})


def missing(block: str, **changes: Any) -> tuple[str, ...]:
    """Return what a block of the whole budget waits for with some blocks changed."""
    return whole(**changes).missing.get(block, ())
