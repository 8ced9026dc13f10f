"""Flight: what cannot be read of a launch or a timed flight gives no figure."""

from tests.calc.budgets import reported
from tests.calc.full import full, with_entry


def test_an_unreadable_launch_gives_no_flight_time() -> None:
    found = reported(**with_entry(full(), "air", "launch", "towlinee"))
    assert "time_s" not in found["air"]
    assert "air.launch" in found["missing"]["air"]


def test_an_unreadable_timed_height_gives_no_usual_glide_factor() -> None:
    found = reported(**with_entry(full(), "air", "timed_height", "forty"))
    assert "air" not in found
    assert "air.timed_height" in found["missing"]["air"]
