"""What is entered for the subject field: the wind, the ground, the field and the circle."""

from dataclasses import dataclass

from calc.document.fields import Entry, choice, quantity
from calc.vocabulary import Ground

GROUNDS = {
    "smooth": "bare: snow, sand, tarmac", "grass": "grass", "low crops": "low crops, a bush here and there",
    "high crops": "high crops, hedges, single trees",
}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class FlyingField:
    """The wind as it was measured, the ground that it comes over, the field, and the circle that the model flies."""

    wind: Entry[float] | None = quantity("Wind", "speed", 0.0, 30.0)  # m/s, mean of some minutes
    # m above the ground
    wind_at: Entry[float] = quantity(
        "Wind measured at", "height", 1.0, 100.0, default=2.0, hint="Held up by hand it is 2 m; a forecast is for 10 m."
    )
    ground: Entry[Ground] = choice("Ground upwind", GROUNDS, default="grass")
    # m along the wind, from where it is launched
    length: Entry[float] | None = quantity("Field, downwind of the launch", "height", 5.0, 20_000.0)
    # s, of one full turn
    circle: Entry[float] | None = quantity("Seconds a circle", "time", 1.0, 300.0, bare="s")
