"""Masses from dimensions, as the form asks for them."""

from typing import Any

import pytest

from calc import wording
from calc.subjects.stock import answer as stock
from tests.support import read_stock

METRE = {"length": "1 m"}
STOCK: list[tuple[dict[str, Any], float, str]] = [
    ({"shape": "rod", "material": "carbon", "diameter": "1 mm", **METRE}, 1.178, "arithmetic on a read density"),
    ({"shape": "tube", "material": "steel", "diameter": "0.8 mm", "bore": "0.4 mm", **METRE}, 2.959, "by hand"),
    ({"shape": "strip", "material": "balsa", "width": "3 mm", "thickness": "3 mm", **METRE}, 1.44, "by hand"),
    ({"shape": "wire", "gauge": 28, "over_all": "1.2 mm", **METRE}, 2.04, "0.82 published + 1.22 sleeve"),
    ({"shape": "wire", "gauge": 30, "strands": "solid", **METRE}, 0.45, "published 0.45 kg/km"),
    ({"shape": "wire", "gauge": 30, "strands": "solid", "over_all": "0.1 mm", **METRE}, 0.45, "no sleeve so thin"),
    ({"shape": "thread", "tex": "25 tex", "length": "0.6 m", "pieces": 2}, 0.030, "ISO 1144: two lines of 0.6 m"),
    ({"shape": "film", "area": "1 m²", "thickness": "0.00025 in"}, 8.83, "density from memory"),
    ({"shape": "film", "area": "1 m²", "thickness": "0.0005 in"}, 17.65, "density from memory"),
    ({"shape": "cloth", "area": "1 m²", "weight": "0.5 oz/yd²"}, 16.95, "exact units"),
    ({"shape": "filler", "volume": "2 ml", "density": "1.1 g/ml"}, 2.2, "by hand"),
]


@pytest.mark.parametrize(("fields", "grams", "source"), STOCK)
def test_stock_from_dimensions(fields: dict[str, Any], grams: float, source: str) -> None:
    assert source
    piece, problems = read_stock(fields, "metric")
    assert problems == ()
    found = stock.weigh(piece)
    assert found is not None
    assert found * 1e3 == pytest.approx(grams, rel=0.007)


def test_stock_waits_and_refuses() -> None:
    assert stock.missing(read_stock({"shape": "tube"}, "metric")[0]) == ("stock.diameter", "stock.bore", "stock.length")
    assert stock.weigh(read_stock({}, "metric")[0]) is None
    piece, problems = read_stock({"shape": "tube", "diameter": "1 mm", "bore": "2 mm", "length": "1 m"}, "metric")
    assert [problem.code for problem in problems] == ["too_large_beside"]
    assert wording.problem(problems[0]) == "Stock, bore: “2 mm” is too large beside “Diameter”."
    assert stock.missing(piece) == ("stock.bore",)
    own = read_stock({"shape": "rod", "diameter": "1 mm", "length": "1 m", "density": "1 g/cm³"}, "imperial")[0]
    assert stock.weigh(own) == pytest.approx(0.000785, rel=1e-3)


def test_stock_worked_by_hand() -> None:
    """25 tex are 25 mg/m; a solid 28 AWG wire of 0.3211 mm in a sleeve of 1.2 mm and 1200 kg/m³ (from memory)."""
    thread = read_stock({"shape": "thread", "tex": "25 tex", "length": "1.2 m"}, "metric")[0]
    assert stock.weigh(thread) == pytest.approx(3e-5, rel=1e-9)
    assert stock.asked("cloth") == ("area", "weight", "pieces")
    wire: dict[str, Any] = {"shape": "wire", "gauge": 28, "length": "1 m", "strands": "solid"}
    bare, sleeved = (stock.weigh(read_stock({**wire, "over_all": size}, "metric")[0]) or 0.0 for size in ("", "1.2 mm"))
    area_mm2 = 3.14159265 / 4 * (1.2**2 - 0.32110**2)
    assert sleeved - bare == pytest.approx(area_mm2 * 1200e-6, rel=1e-4)
