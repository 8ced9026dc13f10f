"""Balance against printed answers of FAA questions."""

import math
from collections.abc import Iterable

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.errors import OutOfRangeError
from calc.subjects.balance import sums as balance
from calc.subjects.balance.sums import Weight
from tests.support import reference

TABLE = reference("balance")
STATION = st.floats(-2.0, 2.0)
MASS = st.floats(1e-4, 1.0)
WEIGHTS = st.lists(st.builds(lambda m, x: Weight(mass_kg=m, station_m=x), MASS, STATION), min_size=1, max_size=6)


def weights(rows: Iterable[tuple[float, float]]) -> list[Weight]:
    return [Weight(mass_kg=mass, station_m=station) for mass, station in rows]


@pytest.mark.parametrize("case", ["cg", "cg_five_stations", "rod"])
def test_balance_point_matches_printed_answers(case: str) -> None:
    table = TABLE[case]
    found = balance.balance_point(weights(table["weights"]))
    assert found.cg_m == pytest.approx(table["cg"], abs=table.get("tolerance", 1e-12))
    assert found.mass_kg == pytest.approx(table.get("mass", found.mass_kg), abs=1e-9)
    assert found.mass_kg * found.cg_m == pytest.approx(table.get("moment", found.mass_kg * found.cg_m), abs=5e-4)


def test_removal_matches_the_printed_answer() -> None:
    """What came out, put back at its arm, gives the printed balance point before; as ballast it is negative."""
    (mass, arm), (minus, removed_arm) = TABLE["removal"]["weights"]
    after = TABLE["removal"]["cg"]
    whole = balance.balance_point(weights([(mass + minus, after), (-minus, removed_arm)]))
    assert whole.mass_kg == pytest.approx(mass)
    assert whole.cg_m == pytest.approx(arm, abs=TABLE["removal"]["tolerance"])
    exact = (mass * arm + minus * removed_arm) / (mass + minus)
    assert exact == pytest.approx(after, abs=TABLE["removal"]["tolerance"])
    assert balance.ballast(mass, arm, exact, removed_arm) == pytest.approx(minus)


def test_addition_matches_the_printed_answer() -> None:
    table = TABLE["addition"]
    before = table["moment_before"] / table["mass_before"]
    found = balance.balance_point(weights([(table["mass_before"], before), table["added"]]))
    assert found.mass_kg == pytest.approx(table["mass"])
    assert found.cg_m == pytest.approx(table["cg"], abs=table["tolerance"])
    assert before - found.cg_m == pytest.approx(table["forward"], abs=table["tolerance"])


def test_several_changes_match_the_printed_answer() -> None:
    """The mass that came out stood at the station of two that went in, so the three go in as their sum."""
    table = TABLE["several_changes"]
    before = table["moment_before"] / table["mass_before"]
    at = sorted({station for _, station in table["changes"]})
    net = [(sum(mass for mass, station in table["changes"] if station == place), place) for place in at]
    found = balance.balance_point(weights([(table["mass_before"], before), *net]))
    assert found.mass_kg == pytest.approx(table["mass"])
    assert found.mass_kg * found.cg_m == pytest.approx(table["moment"], abs=table["tolerance"])
    assert found.cg_m == pytest.approx(table["cg"], abs=table["tolerance"])
    assert found.cg_m - before == pytest.approx(table["aft"], abs=table["tolerance"])


@pytest.mark.parametrize(
    ("case", "target", "expected"), [("ballast", "target", "ballast"), ("most_added", "limit", "most")]
)
def test_ballast_matches_printed_answers(case: str, target: str, expected: str) -> None:
    """The most that may be added behind a limit is the ballast that brings the balance point to the limit."""
    table = TABLE[case]
    found = balance.ballast(table["mass"], table["cg"], table[target], table["station"])
    assert found == pytest.approx(table[expected], abs=table["tolerance"])


def test_shift_matches_the_printed_answer() -> None:
    table = TABLE["shift"]
    part = Weight(mass_kg=table["part"], station_m=table["part_from"])
    assert balance.moved_station(table["mass"], table["cg"], table["target"], part) == pytest.approx(table["part_to"])


def test_a_moved_part_matches_the_printed_rod() -> None:
    table = TABLE["rod"]
    light, middle, (mass, station) = table["weights"]
    moved = balance.balance_point(weights([light, middle, (mass, station + table["moved_by"])]))
    assert moved.cg_m == pytest.approx(table["cg_after"])
    part = Weight(mass_kg=mass, station_m=station)
    found = balance.moved_station(moved.mass_kg, table["cg"], table["cg_after"], part)
    assert found == pytest.approx(station + table["moved_by"])


@given(WEIGHTS, STATION)
def test_moving_the_datum_moves_no_mass(parts: list[Weight], shift_m: float) -> None:
    here = balance.balance_point(parts)
    there = balance.balance_point(Weight(mass_kg=p.mass_kg, station_m=p.station_m + shift_m) for p in parts)
    assert there.mass_kg == here.mass_kg
    assert there.cg_m == pytest.approx(here.cg_m + shift_m, abs=1e-9)


@given(WEIGHTS, STATION, STATION)
def test_ballast_put_back_gives_the_wanted_balance_point(parts: list[Weight], target_m: float, at_m: float) -> None:
    """Negative ballast is mass taken off: then it is the whole less the ballast that must balance at the target."""
    before = balance.balance_point(parts)
    assume(abs(at_m - target_m) > 0.01)
    needed = balance.ballast(before.mass_kg, before.cg_m, target_m, at_m)
    with_ballast = before.mass_kg + needed
    assume(with_ballast > 1e-3 * before.mass_kg)
    if needed >= 0:
        found = balance.balance_point([*parts, Weight(mass_kg=needed, station_m=at_m)])
        assert found.cg_m == pytest.approx(target_m, abs=1e-6)
    else:
        rebuilt = balance.balance_point(weights([(with_ballast, target_m), (-needed, at_m)]))
        assert rebuilt.cg_m == pytest.approx(before.cg_m, abs=1e-6)


@given(WEIGHTS, STATION, st.integers(0, 5))
def test_a_part_moved_gives_the_wanted_balance_point(parts: list[Weight], target_m: float, which: int) -> None:
    part = parts[which % len(parts)]
    before = balance.balance_point(parts)
    assume(part.mass_kg > 0.01 * before.mass_kg)
    station_m = balance.moved_station(before.mass_kg, before.cg_m, target_m, part)
    others = [p for index, p in enumerate(parts) if index != which % len(parts)]
    after = balance.balance_point([*others, Weight(mass_kg=part.mass_kg, station_m=station_m)])
    assert after.cg_m == pytest.approx(target_m, abs=1e-6)


@given(WEIGHTS)
def test_balance_point_lies_between_its_parts(parts: list[Weight]) -> None:
    cg_m = balance.balance_point(parts).cg_m
    assert min(p.station_m for p in parts) - 1e-9 <= cg_m <= max(p.station_m for p in parts) + 1e-9


def test_ballast_on_the_wrong_side_is_negative() -> None:
    assert balance.ballast(0.1, 0.10, 0.12, 0.05) < 0.0 < balance.ballast(0.1, 0.10, 0.12, 0.30)


def test_ballast_at_the_wanted_point_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"distance of the ballast from the wanted point is 0\.0"):
        balance.ballast(0.1, 0.10, 0.12, 0.12)


def test_a_share_of_the_chord() -> None:
    """Worked by hand; a share beyond the chord is a place too."""
    assert balance.chord_station(0.120, 0.100, 0.0) == 0.120
    assert balance.chord_station(0.120, 0.100, 1.10) == pytest.approx(0.230)


@pytest.mark.parametrize(
    "rows", [[], [(0.0, 0.1)], [(-0.1, 0.1), (0.3, 0.1)], [(0.1, math.nan)], [(math.inf, 0.1)], [(0.1, math.inf)]]
)
def test_impossible_weights_are_refused(rows: list[tuple[float, float]]) -> None:
    with pytest.raises(OutOfRangeError):
        balance.balance_point(weights(rows))


def test_impossible_arguments_are_refused() -> None:
    part = Weight(mass_kg=0.01, station_m=0.2)
    for arguments in [
        (0.0, 0.1, 0.1, 0.2),
        (0.1, math.nan, 0.1, 0.2),
        (0.1, 0.1, math.inf, 0.2),
        (0.1, 0.1, 0.1, math.nan),
    ]:
        with pytest.raises(OutOfRangeError):
            balance.ballast(*arguments)
    for mass_kg, cg_m, target_m in [(0.0, 0.1, 0.1), (0.1, math.nan, 0.1), (0.1, 0.1, math.nan)]:
        with pytest.raises(OutOfRangeError):
            balance.moved_station(mass_kg, cg_m, target_m, part)
    for bad in [Weight(mass_kg=0.0, station_m=0.2), Weight(mass_kg=0.01, station_m=math.nan)]:
        with pytest.raises(OutOfRangeError):
            balance.moved_station(0.1, 0.1, 0.1, bad)
    for place in [(0.1, 0.0, 0.5), (math.nan, 0.1, 0.5), (0.1, 0.1, math.inf)]:
        with pytest.raises(OutOfRangeError):
            balance.chord_station(*place)
