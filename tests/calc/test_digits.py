"""Figures as shown, where they turn from one form to the next: found by mutation testing."""

import pytest

from calc import digits
from calc.unit_system import UnitSystem


@pytest.mark.parametrize(
    ("said", "text"),
    [
        (UnitSystem.METRIC.mass(0.0095), "9.50 g"), (digits.given(1.234), "1.23"), (digits.measured(9.95), "10"),
        (digits.current(0.99), "990 mA"), (digits.lost(10.0), "10°"), (digits.lost(9.91), "10°"),
        (digits.lost(9.9), "9.9°"), (UnitSystem.METRIC.mass_entry(0.0105), "10.5 g"),
        (UnitSystem.METRIC.mass_entry(0.0015), "1.50 g"),
        (digits.duration(7199.0), "1 h 59 min"), (digits.duration(1799.0), "29 min"), (digits.duration(59.0), "59 s"),
        (digits.duration(61.0), "1 min 1 s"), (UnitSystem.METRIC.fixed(0.1234, "ratio", 1), "12.3 %"),
        (digits.times(99.99), "99"),
        (digits.times(100.0), "over 100"),
    ],
)  # fmt: skip
def test_figures_as_shown(said: str, text: str) -> None:
    assert said == text
