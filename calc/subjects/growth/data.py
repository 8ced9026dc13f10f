"""What the JSON tells of the growth."""

from typing import Any

from calc.plain import rounded
from calc.subjects.growth.answer import Growth
from calc.subjects.weights.data import total_data


def data(block: Growth) -> dict[str, Any]:
    """Return the JSON of planned and weighed."""
    rows = [
        {
            "row": row.path,
            "name": row.name,
            "planned_g": rounded(row.planned_kg, 1e3),
            "weighed_g": rounded(row.weighed_kg, 1e3),
            "change_g": rounded(row.change_kg, 1e3),
        }
        for row in block.rows
    ]
    guesses = [{"row": guess.path, "name": guess.name, **total_data(guess.mass)} for guess in block.guesses]
    return {
        "rows": rows,
        "planned_g": rounded(block.planned_kg, 1e3),
        "now_g": rounded(block.now_kg, 1e3),
        "change_g": rounded(block.change_kg, 1e3),
        "guesses": guesses,
    }
