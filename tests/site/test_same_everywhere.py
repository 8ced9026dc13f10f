"""The same budgets give the same JSON and the same HTML under CPython and in Pyodide, to the last letter."""

import json
from typing import Any

import pytest

from site_src.app import bridge
from tests.support import PyodideBridge, demo_documents

BAD: dict[str, Any] = {
    "name": "<b>Möwe</b> & co",
    "units": "imperial",
    "model": {"class": "zz", "airframe": "-1 oz", "rubber": "1/0"},
    "gear": [{"mass": "12 mm"}, {"mass": ".04oz", "count": "3"}, {"mass": 0.1, "draw": "20", "known_by": "guess"}, {}],
    "cell": {"mass": "2 g", "capacity": "35,5 mAh"},
    "session": {"temperature": "−4 °F", "on_time": "1:47", "flights": "12"},
    "surprise": [1],
}
COLD: dict[str, Any] = {
    "model": {"class": "f1d", "airframe": "4.5", "airframe_known_by": "guess"},
    "gear": [{"mass": "1/3 g", "draw": "60 mA", "busy_draw": "300 mA", "busy": "33 %", "min_volts": "3.3"}],
    "cell": {"mass": "0,5 g", "capacity": "20 mAh", "resistance": "900 mΩ", "cutoff": "3.4"},
    "session": {"temperature": "-20 °C", "on_time": "90 s", "flights": 30, "reserve": "0"},
}
DOCUMENTS = {**demo_documents(), "bad": BAD, "cold": COLD, "empty": {}}


@pytest.mark.node
@pytest.mark.parametrize("method", ["assess", "form", "sheet", "gear_csv"])
@pytest.mark.parametrize("name", DOCUMENTS)
def test_cpython_and_pyodide_answer_alike(name: str, method: str, pyodide_bridge: PyodideBridge) -> None:
    request = json.dumps({"v": 1, "id": 1, "method": method, "params": {"document": DOCUMENTS[name]}})
    assert json.loads(pyodide_bridge.ask(request)) == json.loads(bridge.handle(request))
    if method == "assess":
        assert json.loads(bridge.handle(request))["ok"] is True


@pytest.mark.node
@pytest.mark.parametrize("name", DOCUMENTS)
def test_cpython_and_pyodide_compare_alike(name: str, pyodide_bridge: PyodideBridge) -> None:
    params = {"before": DOCUMENTS["sedge-wren.json"], "after": DOCUMENTS[name]}
    request = json.dumps({"v": 1, "id": 1, "method": "compare", "params": params})
    assert json.loads(pyodide_bridge.ask(request)) == json.loads(bridge.handle(request))


@pytest.mark.node
def test_cpython_and_pyodide_draw_the_same_code(pyodide_bridge: PyodideBridge) -> None:
    params = {"address": f"https://example.org/#b={'aB3_' * 60}"}
    request = json.dumps({"v": 1, "id": 1, "method": "qr", "params": params})
    assert json.loads(pyodide_bridge.ask(request)) == json.loads(bridge.handle(request))
