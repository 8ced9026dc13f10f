"""A budget in which everything is asked, and its entries taken out or spoilt."""

import json
from typing import Any

RECEIVER = {"kind": "receiver", "mass": "1.2 g", "draw": "25 mA", "min_volts": "3.1 V"}
SERVO = {"kind": "servo", "mass": "1.7 g", "min_volts": "2.8 V"}
DRAWN = {**SERVO, "draw": "6 mA", "busy_draw": "150 mA", "busy": "8 %"}
CELL = {"mass": "1.6 g", "capacity": "45 mAh", "resistance": "0.7 ohm"}
SIZE = {"length": "20 mm", "width": "12 mm", "height": "6 mm"}
SESSION = {"flights": 10, "on_time": "5 min", "temperature": "5 °C"}

PLACED = {"station": "150 mm", "along": "100 mm"}
WING = {"material": "balsa-light", "span": "380 mm", "root": "110 mm", "tip": "90 mm", "count": 2, **PLACED}
BUILDING: dict[str, Any] = {
    "glue": "6 %", "room_humidity": "40 %", "room_temperature": "21 °C", "field_humidity": "80 %",
    "field_temperature": "12 °C",
}  # fmt: skip
AIRFRAME: list[dict[str, Any]] = [
    {**WING, "name": "ribs", "group": "wing", "shape": "ribs", "pitch": "40 mm", "depth": "7 %",
     "thickness": "1 mm", "known_by": "cut", "weighed": "1.6 g", "weighed_on": "2026-03-14"},
    {**WING, "name": "covering", "group": "covering", "shape": "cover", "material": "tissue", "sides": 2,
     "dihedral": "8°", "area": True, "weight": "14 g/m2", "planform": "trapezoid"},
    {**WING, "name": "dope", "group": "finish", "shape": "finish", "material": "dope", "coats": 2, "sides": 2},
    {"name": "boom", "group": "fuselage", "shape": "cone", "material": "balsa", "diameter": "14 mm",
     "end_diameter": "6 mm", "thickness": "0.8 mm", "length": "450 mm", "density": "120 kg/m3",
     "either": "11 %", "sheet": "plank A", **PLACED},
    {"name": "propeller", "group": "propeller", "shape": "given", "mass": "4 g", "known_by": "maker", **PLACED},
]  # fmt: skip
BY_PARTS: dict[str, Any] = {"airframe": AIRFRAME, "building": BUILDING}


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
             "busy": "20 %", "draw_known_by": "guess", "off": False, **SIZE, "plug_side": "end", "plug_length": "4 mm",
             "lies": "any"},
            {**DRAWN, "weighed": "1.8 g", "station": "150 mm", **SIZE},
        ],
        "cell": {**CELL, "name": "cell", "known_by": "maker", "weighed": "1.7 g", "station": "60 mm", "cutoff": "3.2 V",
                 "series": 1, "capacity_left": "90 %", "charge_current": "30 mA", **SIZE},
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
                "timed_height": "40 m", "timed_glide": "90 s", "timed_motor": "30 s", "propeller_diameter": "300 mm"},
        "motor": {"strands": 6, "width": "1/8 in", "thickness": "1.07 mm", "mass": "9 g", "braid": 30, "share": "85 %",
                  "energy": "5 kJ/kg", "height": "35 m"},
        "bays": [{"name": "nose", "kind": "box", "length": "30 mm", "width": "16 mm", "height": "24 mm",
                  "station": "30 mm", "gap": "1 mm", "wall": "1 mm", "hatch": "top",
                  "hatch_from": "0 mm", "hatch_to": "30 mm", "hatch_width": "16 mm"}],
        "field": {"wind": "2 m/s", "wind_at": "3 m", "ground": "low crops", "length": "300 m", "circle": "8 s"},
        "charges": [
            {"date": "2026-05-03", "put_back": "18.4 mAh", "flights": 8, "on_time": "6 min", "rest": "3.78 V",
             "temperature": "18 °C", "remarks": "calm", "out": False}],
        "flights": [
            {"date": "2026-05-03", "turns": 700, "torque": "20 mN m", "height": "40 m", "motor_run": "30 s",
             "glide": "95 s", "circle": "9 s", "wind": "2 m/s", "temperature": "12 °C", "mass": "75 g",
             "remarks": "calm"},
            {"sink": "0.45 m/s", "sink_spread": "0.04 m/s", "out": False}],
        "radio": {"frequency": "868 MHz", "power": "14 dBm", "sensitivity": "-100 dBm", "antenna": "1 dB",
                  "orientation": "12 dB", "fade": "15 dB", "distance": "400 m", "trees": "20 m", "hand": "1.6 m",
                  "lying": "0.2 m", "check_distance": "40 m", "check_less": "20 dB"},
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
