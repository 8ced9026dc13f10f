"""IGC records against the specification and other readers."""

from typing import Any

import pytest

from calc.subjects.flights import igc, logfile
from calc.subjects.flights.logs import LogError
from tests.calc.subjects.flights.made import flight
from tests.support import reference

TABLE = reference("flights")["igc"]


def record(second: float, height: float) -> str:
    """Return a B record."""
    whole = round(second) % 86400
    pressure = f"{height:05.0f}" if height >= 0 else f"-{-height:04.0f}"
    return f"B{whole // 3600:02d}{whole // 60 % 60:02d}{whole % 60:02d}5206343N00006198WA{pressure}00558"


@pytest.mark.parametrize("row", TABLE["rows"], ids=lambda row: row[0][:7])
def test_records(row: list[Any]) -> None:
    """IG-1 to IG-4."""
    found = igc.fix(row[0])
    assert found is not None
    assert found.second == 3600 * row[1] + 60 * row[2] + row[3]
    assert [found.latitude_deg, found.longitude_deg] == pytest.approx(row[4:6], abs=6e-8)
    assert [found.valid, found.pressure_m, found.gnss_m] == row[6:]


def test_extensions() -> None:
    """IG-5."""
    assert igc.extensions(TABLE["extension"]) == {"FXA": (36, 38), "SIU": (39, 40)}
    assert igc.extensions("HFDTE010203") == {}


@pytest.mark.parametrize("line", ["", "B", "HFDTE160701", "B2501355206343N00006198WA0058700558", "B11013X" + "0" * 28])
def test_what_is_no_fix(line: str) -> None:
    assert igc.fix(line) is None


def test_a_flight_over_midnight_and_below_sea_level() -> None:
    """Heights below the datum have a sign; a damaged line is left out and told."""
    lines = [record(86350 + second, height - 30.0) for second, height in flight(step_m=1.0)]
    found = logfile.read("AXXX001\r\n" + "\r\n".join([*lines[:60], "B12", *lines[60:]]) + "\r\n")
    (flown,) = found.flights
    assert flown.height_m == pytest.approx(50.0, abs=1.0)
    assert flown.sink is not None
    assert flown.sink.slope == pytest.approx(0.5, abs=0.01)
    assert "Left out: 1 B record that cannot be read." in found.told


def test_a_recorder_without_pressure() -> None:
    with pytest.raises(LogError, match="without a pressure sensor"):
        logfile.read("\n".join(record(second, 0.0) for second in range(100)))


def test_the_jump_of_the_specifications_own_sample() -> None:
    """There the pressure height jumps from 293 m to 494 m in 5 s: read, and nothing falls over."""
    lines = [record(5.0 * at, 293.0 if at < 40 else 494.0) for at in range(80)]
    with pytest.raises(LogError):
        logfile.read("\n".join(lines[:15]))
    assert logfile.read("\n".join(lines)).flights
