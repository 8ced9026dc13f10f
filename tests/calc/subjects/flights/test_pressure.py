"""Height from pressure against printed figures."""

import pytest

from calc.errors import OutOfRangeError
from calc.subjects.flights import pressure
from tests.support import reference

TABLE = reference("flights")
FOOT = 0.3048


def pressure_at(height_m: float) -> float:
    """Return the pressure of the standard atmosphere, another way round."""
    return float(101325.0 * (1.0 - 0.0065 * height_m / 288.15) ** (9.80665 / (287.053 * 0.0065)))


def test_metres_a_hectopascal() -> None:
    """PH-1 and PH-2: the formula gives some 1 % more than the specification prints."""
    row = TABLE["pressure"]
    one = pressure.standard_height(101275.0) - pressure.standard_height(101375.0)
    assert one == pytest.approx(8.324, abs=0.001)
    assert one == pytest.approx(row["per_hpa_m"], rel=row["tolerance"])
    for feet, three in row["three_hpa_ft"]:
        middle = pressure_at(feet * FOOT)
        found = pressure.standard_height(middle - 150.0) - pressure.standard_height(middle + 150.0)
        assert found / FOOT == pytest.approx(three, rel=row["tolerance"])


@pytest.mark.parametrize("row", TABLE["warm"]["rows"], ids=lambda row: f"{row[0]:.0f} degC")
def test_a_log_put_right_for_the_temperature(row: list[float]) -> None:
    """PH-3."""
    assert pressure.put_right(100.0, 273.15 + row[0]) == pytest.approx(row[1], abs=0.06)


@pytest.mark.parametrize("row", TABLE["cold"]["rows"], ids=lambda row: f"{row[1]:.0f} degC")
def test_cold_air_reads_too_high(row: list[float]) -> None:
    """PH-4 and PH-5: what reads too high by the published error is put right to the true height."""
    feet, celsius, more = row
    assert pressure.put_right((feet + more) * FOOT, 273.15 + celsius) / FOOT == pytest.approx(feet, abs=4.0)


def test_another_reference() -> None:
    """PH-6."""
    shift = pressure.standard_height(95000.0) - pressure.standard_height(95000.0, 100325.0)
    assert shift == pytest.approx(TABLE["pressure_shift"]["metres"], rel=0.02)
    assert pressure.standard_height(100325.0) == pytest.approx(TABLE["pressure_shift"]["metres"], abs=0.05)


def test_height_from_two_pressures() -> None:
    """PH-7: the standard one from the lower pressure; and by the mean temperature of the layer."""
    row = TABLE["two_pressures"]
    found = pressure.standard_height(row["upper_pa"], row["lower_pa"])
    assert found == pytest.approx(row["metres"], abs=row["rounding_m"])
    mean_k = pressure.standard_mean(found)
    assert pressure.height_above(row["upper_pa"], row["lower_pa"], mean_k) == pytest.approx(found, rel=2e-4)


def test_air_blown_on_the_port() -> None:
    assert [round(pressure.false_height(each), 1) for each in (4.0, 10.0, 15.0)] == [0.8, 5.1, 11.5]


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        pressure.standard_height(0.0)
    with pytest.raises(OutOfRangeError):
        pressure.height_above(101325.0, 101325.0, 0.0)
