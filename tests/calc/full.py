"""A budget in which everything is asked, and its entries taken out or spoilt."""

import json
from typing import Any

RECEIVER = {"kind": "receiver", "mass": "1.2 g", "draw": "25 mA", "min_volts": "3.1 V"}
SERVO = {"kind": "servo", "mass": "1.7 g", "min_volts": "2.8 V"}
DRAWN = {**SERVO, "draw": "6 mA", "busy_draw": "150 mA", "busy": "8 %"}
CELL = {"mass": "1.6 g", "capacity": "45 mAh", "resistance": "0.7 ohm"}
SESSION = {"flights": 10, "on_time": "5 min", "temperature": "5 °C"}

PLACED = {"station": "150 mm", "along": "100 mm"}
WING = {"material": "balsa-light", "span": "380 mm", "root": "110 mm", "tip": "90 mm", "count": 2, **PLACED}
AIRFRAME: dict[str, Any] = {
    "glue": "6 %", "room_humidity": "40 %", "room_temperature": "21 °C", "field_humidity": "80 %",
    "field_temperature": "12 °C",
    "parts": [
        {**WING, "name": "ribs", "group": "wing", "shape": "ribs", "pitch": "40 mm", "depth": "7 %",
         "thickness": "1 mm", "known_by": "cut", "weighed": "1.6 g", "weighed_on": "2026-03-14"},
        {**WING, "name": "covering", "group": "covering", "shape": "cover", "material": "tissue", "sides": 2,
         "dihedral": "8°", "area": True, "weight": "14 g/m2", "planform": "trapezoid"},
        {**WING, "name": "dope", "group": "finish", "shape": "finish", "material": "dope", "coats": 2, "sides": 2},
        {"name": "boom", "group": "fuselage", "shape": "cone", "material": "balsa", "diameter": "14 mm",
         "end_diameter": "6 mm", "thickness": "0.8 mm", "length": "450 mm", "density": "120 kg/m3", **PLACED},
        {"name": "propeller", "group": "propeller", "shape": "given", "mass": "4 g", "known_by": "maker", **PLACED},
    ],
}  # fmt: skip


def full() -> dict[str, Any]:
    """Return a budget in which everything is asked: nearly every entry decides something."""
    return {
        "format": 1, "name": "Whimbrel", "units": "metric", "scale_division": "0.1 g",
        "model": {"class": "f1g", "use": "contest", "radio": "dethermaliser", "airframe": "58 g",
                  "airframe_known_by": "maker", "airframe_weighed": "60 g", "target": "75 g", "rubber": "9 g",
                  "wing_area": "9 dm^2", "max_loading": "10 g/dm^2", "minimum": "71 g", "maximum": "90 g"},
        "rule": {"share": "21 %"},
        "gear": [
            {**RECEIVER, "name": "board", "count": 1, "known_by": "maker", "station": "80 mm", "busy_draw": "40 mA",
             "busy": "20 %", "draw_known_by": "guess", "off": False},
            {**DRAWN, "weighed": "1.8 g", "station": "150 mm"},
        ],
        "cell": {**CELL, "name": "cell", "known_by": "maker", "weighed": "1.7 g", "station": "60 mm", "cutoff": "3.2 V",
                 "series": 1, "capacity_left": "90 %", "charge_current": "30 mA"},
        "session": {**SESSION, "reserve": "15 %", "between": "on", "pause": "2 min"},
        "wiring": {"gauge": 32, "length": "200 mm"},
        "balance": {"airframe_at": "200 mm", "rubber_at": "210 mm", "target": "190 mm", "nose_at": "10 mm",
                    "tail_at": "600 mm"},
        "surface": {"kind": "hinged", "span": "90 mm", "chord": "60 mm", "flap_chord": "18 mm", "deflection": "20°",
                    "speed": "6 m/s", "actuator": "rotary servo", "horn": "8 mm", "arm": "5 mm", "travel": "45°",
                    "torque": "3 mN m"},
        "linkage": {"kind": "rod", "length": "300 mm", "free_length": "150 mm", "material": "carbon",
                    "section": "round", "diameter": "1 mm", "bore": "0.5 mm", "density": "1500 kg/m3",
                    "modulus": "120 GPa", "ends": "0.3 g"},
        "air": {"field_height": "300 m", "lift": "0.8", "launch": "rubber", "rubber_energy": "5 kJ/kg",
                "timed_height": "40 m", "timed_glide": "90 s", "timed_motor": "30 s"},
        "motor": {"strands": 6, "width": "1/8 in", "thickness": "1.07 mm", "mass": "9 g", "braid": 30, "share": "85 %",
                  "energy": "5 kJ/kg", "height": "35 m"},
    }  # fmt: skip


def with_entry(document: dict[str, Any], block: str, key: str, typed: object) -> dict[str, Any]:
    """Return a document with one entry changed; None takes it away, ... leaves it."""
    changed: dict[str, Any] = json.loads(json.dumps(document))
    place = changed
    for part in block.split(".") if block else ():
        place = place[int(part)] if isinstance(place, list) else place[part]
    if typed is None:
        place.pop(key, None)
    elif typed is not ...:
        place[key] = typed
    return changed
