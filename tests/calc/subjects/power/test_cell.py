"""The cell against published tables."""

import math
from collections.abc import Callable

import pytest

from calc.errors import OutOfRangeError
from calc.subjects.power import cell
from tests.support import reference

TABLE = reference("cell")
KELVIN = 273.15


def test_open_circuit_voltage_is_the_published_table() -> None:
    """Ai et al. 2020 as computed with PyBaMM 26.10.1.1."""
    for state, volts in zip(TABLE["open_circuit"]["state"], TABLE["open_circuit"]["volts"], strict=True):
        assert cell.open_circuit_voltage(state) == pytest.approx(volts, abs=5e-4)


def test_state_of_charge_is_the_inverse() -> None:
    for step in range(101):
        assert cell.state_of_charge(cell.open_circuit_voltage(step / 100)) == pytest.approx(step / 100, abs=1e-12)
    assert cell.state_of_charge(2.9) == 0.0
    assert cell.state_of_charge(4.21) == math.inf


def test_resistance_over_temperature() -> None:
    """PyBaMM 26.10.1.1, ECM_Example."""
    table = TABLE["resistance_ratio"]
    for celsius, ratio in zip(table["celsius"], table["ratio"], strict=True):
        found = cell.resistance_ratio(celsius + KELVIN)
        assert found == pytest.approx(ratio, rel=table["relative_tolerance"])
    assert cell.resistance_ratio(298.15) == pytest.approx(1.0)


@pytest.mark.parametrize("kelvin", [253.0, 333.2, math.nan])
def test_temperatures_outside_the_published_range_are_refused(kelvin: float) -> None:
    with pytest.raises(OutOfRangeError):
        cell.resistance_ratio(kelvin)


def test_impossible_cells_are_refused() -> None:
    with pytest.raises(OutOfRangeError):
        cell.open_circuit_voltage(1.1)
    with pytest.raises(OutOfRangeError):
        cell.state_of_charge(math.nan)


@pytest.mark.parametrize(
    ("sum_", "arguments"),
    [
        (cell.resistance_ratio, (253.15,)),
        (cell.resistance_ratio, (333.15,)),
    ],
)
def test_what_lies_just_inside_is_taken(sum_: Callable[..., float], arguments: tuple[object, ...]) -> None:
    """Found by mutation testing: nothing noticed when such an end was moved."""
    assert sum_(*arguments) > 0.0
