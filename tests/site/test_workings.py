"""The workings: each sum is worked out again from its own text, by a reader of formulas that knows nothing of ours."""

import math
import re
from typing import Any

import pytest

from calc.assess import assess
from calc.document.budget import read
from calc.subjects.airframe.templates import started
from calc.subjects.listed import SUBJECTS
from calc.unit_system import UnitSystem
from site_src.app.stockview import stock_view
from site_src.app.sums import Working
from site_src.app.why import PARTS, workings
from site_src.subjects.listed import ROOMS
from tests.calc.full import BY_PARTS
from tests.support import demo_documents

MORE: dict[str, dict[str, Any]] = {
    "many rows": {"gear": [{"kind": "other", "mass": f"{1 + row / 10} g"} for row in range(15)],
                  "model": {"airframe": "80 g", "airframe_known_by": "guess"}},
    "brown-out in the cold": {
        "gear": [{"kind": "receiver", "mass": "1 g", "draw": "28 mA", "min_volts": "3.1 V"},
                 {"kind": "servo", "mass": "1.7 g", "count": 2, "draw": "6 mA", "busy_draw": "160 mA", "busy": "8 %",
                  "known_by": "maker"}],
        "cell": {"capacity": "30 mAh", "mass": "1 g", "capacity_left": "80 %"},
        "wiring": {"gauge": 32, "length": "120 mm"},
        "session": {"flights": 8, "on_time": "2 min", "temperature": "-5 degC", "between": "on", "pause": "5 min"},
        "model": {"class": "p30", "use": "contest", "airframe": "30 g"}},
    "a rotary servo, a whole surface, lines": {
        "gear": [{"kind": "servo", "mass": "2 g", "station": "90 mm"}],
        "model": {"airframe": "50 g", "wing_area": "9 dm^2", "rubber": "12 g", "max_loading": "9 g/dm^2",
                  "target": "60 g", "maximum": "90 g"},
        "balance": {"airframe_at": "168 mm", "rubber_at": "190 mm", "target": "150 mm", "nose_at": "10 mm",
                    "tail_at": "520 mm"},
        "surface": {"kind": "whole", "span": "90 mm", "chord": "50 mm", "pivot": "15 %", "deflection": "10 deg",
                    "actuator": "rotary servo", "torque": "8 mN m", "horn": "9 mm", "arm": "6 mm", "travel": "40 deg"},
        "linkage": {"kind": "lines", "length": "400 mm", "yarn": "aramid", "tex": "22 tex"},
        "air": {"launch": "rubber", "rubber_energy": "5 kJ/kg", "timed_height": "30 m", "timed_glide": "70 s",
                "timed_motor": "25 s"}},
    "an airframe part by part": {
        "gear": [{"kind": "receiver", "mass": "1 g", "station": "90 mm"}], **BY_PARTS,
        "model": {"target": "60 g", "rubber": "10 g"}, "balance": {"target": "170 mm", "rubber_at": "200 mm"}},
    "many parts": {"gear": [{"kind": "receiver", "mass": "1 g"}], **started({}, "thirty-inch")},
    "a surface in the propeller's stream": {
        "model": {"airframe": "34 g", "wing_area": "9 dm^2", "rubber": "10 g"},
        "surface": {"kind": "hinged", "span": "90 mm", "chord": "62 mm", "flap_chord": "26 mm", "deflection": "20 deg",
                    "actuator": "linear servo", "horn": "6 mm", "stroke": "3 mm", "thrust": "25 gf"},
        "air": {"launch": "rubber", "rubber_energy": "4.5 kJ/kg", "efficiency": "50 %", "motor_run": "30 s",
                "propeller_diameter": "240 mm"}},
    "an electric motor's stream": {
        "model": {"airframe": "34 g", "wing_area": "6 dm^2"},
        "surface": {"kind": "whole", "span": "90 mm", "chord": "40 mm", "deflection": "20 deg",
                    "actuator": "coil actuator", "torque": "1 mN m"},
        "air": {"launch": "motor", "work": "40 J", "efficiency": "50 %", "motor_run": "20 s",
                "propeller_diameter": "125 mm"}},
    "a rubber motor and a propeller": {
        "gear": [{"kind": "receiver", "mass": "1 g", "draw": "20 mA"}],
        "model": {"airframe": "50 g", "wing_area": "9 dm^2", "rubber": "12 g"},
        "air": {"launch": "rubber", "rubber_energy": "5 kJ/kg", "efficiency": "50 %", "motor_run": "25 s",
                "propeller": "folded"},
        "motor": {"strands": 6, "width": "3 mm", "thickness": "1 mm", "mass": "10 g", "braid": 40},
        "field": {"wind": "2 m/s", "wind_at": "2.5 m", "length": "200 m", "circle": "9 s"},
        "flights": [{"height": "30 m", "glide": "80 s"}],
        "radio": {"power": "20 dBm", "sensitivity": "-95 dBm", "trees": "12 m", "check_distance": "30 m",
                  "check_less": "30 dB"}},
    "two bays, a tube and one that tapers": {
        "gear": [{"kind": "servo", "mass": "2 g", "length": "20 mm", "width": "12 mm", "height": "6 mm"},
                 {"kind": "receiver", "mass": "1 g", "length": "33 mm", "width": "21 mm", "height": "9 mm"}],
        "bays": [{"kind": "tube", "length": "40 mm", "width": "15 mm"},
                 {"kind": "tapered", "length": "50 mm", "width": "22 mm", "height": "10 mm", "back_width": "30 mm",
                  "back_height": "20 mm"}]},
}  # fmt: skip


def everything() -> list[tuple[str, Working]]:
    """Return all workings of the examples and of the budgets above, in both systems."""
    found = []
    for name, document in {**demo_documents(), **MORE}.items():
        for system in ("metric", "imperial"):
            budget = read({**document, "units": system}).budget
            answer = assess(budget)
            for part in PARTS:
                found += [(f"{name}, {system}, {part}", each) for each in workings(part, budget, answer)]
    return found


LONG = "mN·m kg/m³ kg/m² g/cm³ m/s² m/s N/tex g/m² g/m µm ml mAh mA mm⁴ mm² GPa Pa oz in mm kg tex min m²"
SHORT = "Ω g m s V A W N J % °"
UNIT = rf"(?<=[0-9)])\s?(?:{'|'.join([*LONG.split(), *SHORT.split()])})"
WORDS = {
    "√": "sqrt",
    "×": "*",
    "−": "-",
    "²": "**2",
    "⌊": "floor(",
    "⌉": ")",
    "⌋": ")",
    "⌈": "ceil(",
    "π": "pi",
    "^": "**",
}


def worked_out(text: str) -> float:
    """Return the value of a sum as it stands on the page, its units left out."""
    bare = re.sub(UNIT + r"(?![A-Za-z])", "", text)
    for sign, python in WORDS.items():
        bare = bare.replace(sign, python)
    bare = re.sub(r"sqrt([0-9]+)", r"sqrt(\1)", bare)
    bare = bare.replace("asin(", "57.29578*asin(")
    return float(eval(bare, {"__builtins__": {}}, {**vars(math)}))  # our own text


def test_each_working_gives_its_result_when_it_is_worked_out_again() -> None:
    wrong, counted = [], 0
    for where, each in everything():
        if not each.numbers or re.search(r"[a-z] [a-z]+ |[a-z], ", each.numbers):
            continue
        counted += 1
        found, told = worked_out(each.numbers), worked_out(each.result)
        terms = [abs(worked_out(number)) for number in re.findall(r"[0-9.]+", each.numbers)]
        if not math.isclose(found, told, rel_tol=2e-3, abs_tol=2e-3 * max(terms)):
            wrong.append(f"{where}: {each.id}: {each.numbers} = {found}, told {each.result}")
    assert wrong == []
    assert counted > 500


def test_a_working_that_is_wrong_is_found_out() -> None:
    """The reader of formulas above reads what it should."""
    assert worked_out("0.2 × 33.8 g / (1 − 0.2)") == pytest.approx(8.45)
    assert worked_out("√((0.34 g)² + (0.25 × 0.1 g)²)") == pytest.approx(math.hypot(0.34, 0.025))
    assert worked_out("⌊52.3 min / 6 min⌋") == 8
    assert worked_out("(1 − 0.2) × 50 mAh / 42.6 mA × 60 min") == pytest.approx(56.338, abs=1e-3)
    assert worked_out("asin(5 mm / 10 mm)") == pytest.approx(30.0)
    assert worked_out("2 × 0.5 × 0.1 g / √3") == pytest.approx(0.0577, abs=1e-4)


def test_every_part_that_is_worked_out_has_its_workings() -> None:
    ids = {(part, each.id) for part in PARTS for where, each in everything() if where.endswith(part)}
    for part in PARTS:
        assert [pair for pair in ids if pair[0] == part], part
    assert {"run", "ends", "pause", "cells"} <= {each for part, each in ids if part == "power"}


STOCK = (
    {"shape": "rod", "material": "carbon", "diameter": "1.2 mm", "length": "400 mm", "pieces": 3},
    {"shape": "tube", "material": "brass", "diameter": "1/16 in", "bore": "1.1 mm", "length": "6 in"},
    {"shape": "strip", "width": "3 mm", "thickness": "2 mm", "length": "1 m", "density": "110 kg/m^3"},
    {"shape": "wire", "gauge": "30", "length": "200 mm", "strands": "stranded"},
    {"shape": "wire", "gauge": "32", "length": "200 mm", "over_all": "0.6 mm"},
    {"shape": "thread", "tex": "22 tex", "length": "600 mm"},
    {"shape": "film", "area": "9 dm^2", "thickness": "6 µm"},
    {"shape": "cloth", "area": "9 dm^2", "weight": "12 g/m^2", "pieces": 2},
    {"shape": "filler", "volume": "0.5 ml", "density": "1100 kg/m^3"},
)  # fmt: skip


@pytest.mark.parametrize("fields", STOCK, ids=lambda fields: fields["shape"])
@pytest.mark.parametrize("system", list(UnitSystem))
def test_the_mass_of_stock_is_worked_out_again(fields: dict[str, Any], system: UnitSystem) -> None:
    found = stock_view(fields, system)
    assert found.working is not None, found.missing
    again = worked_out(found.working.numbers)
    assert again == pytest.approx(worked_out(found.working.result), rel=2e-3)
    number, unit = found.mass.split(" ")
    assert again / (28.349523125 if unit == "oz" else 1.0) == pytest.approx(float(number), rel=6e-3, abs=5e-5)


def test_each_subject_has_a_room_on_the_page() -> None:
    assert sorted(ROOMS) == sorted(each.name for each in SUBJECTS)
