"""What the JSON tells of the weights."""

from typing import Any

from calc.plain import rounded
from calc.subjects.weights.masses import Total


def total_data(total: Total) -> dict[str, Any]:
    """Return the JSON of a sum of masses."""
    return {
        "nominal_g": rounded(total.nominal_kg, 1e3),
        "expected_g": rounded(total.expected_kg, 1e3),
        "spread_g": rounded(total.spread_kg, 1e3),
    }
