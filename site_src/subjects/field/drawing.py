"""The field from above, to scale, the wind from the left. Numbers to geometry, no markup."""

from dataclasses import dataclass

from calc import digits
from calc.subjects.field.answer import Carried, FieldBlock
from calc.unit_system import UnitSystem
from site_src.app.scale import nice_step

PAGE, SHEET = 1.5, 3.2  # width over height of the picture; its style says the same
MARGIN = 0.07  # of the width, around all that is drawn


@dataclass(frozen=True, kw_only=True)
class Ring:
    """A circle to scale: middle and half axes [%]; those differ, as one is a share of the width, one of the height."""

    x: float
    y: float
    rx: float
    ry: float


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A place along the wind from the launch: where [%], its text, which side of it the text stands."""

    x: float
    text: str
    anchor: str


@dataclass(frozen=True, kw_only=True)
class FieldSketch:
    """Places in percent of width and height; the launch at `x0`, the line of the wind at `y0`."""

    x0: float
    y0: float
    reach: Ring
    circle: Ring | None
    end: Mark | None  # of the field
    usual: Mark
    longest: Mark | None
    turn_back: Mark | None
    wind: str
    bar: tuple[float, str]  # length of the scale [%], its text
    alternative: str


def field_sketch(block: FieldBlock | None, system: UnitSystem, shape: float = PAGE) -> FieldSketch | None:
    """Return the sketch, None without a wind."""
    if block is None or block.carried is None or block.carried.drift_m <= 0.0:
        return None
    found, radius_m = block.carried, 0.0 if block.circle is None else block.circle.radius_m
    middle_m, reach_m = found.reach_m
    low = min(0.0, middle_m - reach_m, -2.0 * radius_m)
    high = max(middle_m + reach_m, found.longest_m, found.field_m or 0.0)
    frame = _Frame.around(low, high, max(reach_m, 2.0 * radius_m), shape)
    return FieldSketch(
        x0=frame.x(0.0), y0=50.0,
        reach=frame.ring(middle_m, 0.0, reach_m),
        circle=None if block.circle is None else frame.ring(0.0, -radius_m, radius_m),
        end=None if found.field_m is None else frame.mark(
            found.field_m, f"end of the field, {_far(found.field_m, system)}"),
        usual=frame.mark(found.drift_m, f"usual flight {_far(found.drift_m, system)}"),
        longest=None if found.longest_m <= found.drift_m else frame.mark(
            found.longest_m, f"longest {_far(found.longest_m, system)}"),
        turn_back=frame.mark(found.away_m, _turn_back(found, system)),
        wind=f"wind {system.speed(found.aloft_m_s)} at {_far(found.top_m, system)}",
        bar=frame.bar(system),
        alternative=_alternative(found, system),
    )  # fmt: skip


def _far(meters: float, system: UnitSystem) -> str:
    return system.rounded(meters, "height")


def _turn_back(found: Carried, system: UnitSystem) -> str:
    if found.turn_back_m is None:
        return "no way back"
    if found.turn_back_m > found.top_m:
        return "too far to come back"
    return f"turn back by {_far(found.turn_back_m, system)} of height"


def _alternative(found: Carried, system: UnitSystem) -> str:
    """Return what the picture shows, in words."""
    ends = "" if found.field_m is None else f", the end of the field {_far(found.field_m, system)}"
    back = f"{_far(found.upwind_m, system)} upwind of the launch" if found.back else "nowhere upwind of the launch"
    return (
        f"The field from above, the wind from the left. Downwind of the launch the usual flight comes down after "
        f"{_far(found.drift_m, system)}, the longest after {_far(found.longest_m, system)}{ends}. In a straight glide "
        f"from its top it reaches {back} and {_far(found.downwind_m, system)} downwind. From "
        f"{_far(found.away_m, system)} downwind: {_turn_back(found, system)}."
    )


@dataclass(frozen=True, kw_only=True)
class _Frame:
    """What of the ground is in the picture [m]: from `left`, so wide and so high, the wind's line in the middle."""

    left_m: float
    width_m: float
    height_m: float

    @classmethod
    def around(cls, low: float, high: float, aside: float, shape: float) -> "_Frame":
        """Return the frame that holds all from `low` to `high` along the wind and `aside` to both sides of it."""
        width = max((high - low), 2.0 * aside * shape) * (1.0 + 2.0 * MARGIN)
        return cls(left_m=(low + high - width) / 2.0, width_m=width, height_m=width / shape)

    def x(self, along_m: float) -> float:
        return round((along_m - self.left_m) / self.width_m * 100.0, 2)

    def ring(self, along_m: float, aside_m: float, radius_m: float) -> Ring:
        across = radius_m / self.height_m * 100.0
        y = 50.0 + aside_m / self.height_m * 100.0
        return Ring(x=self.x(along_m), y=round(y, 2), rx=round(radius_m / self.width_m * 100.0, 2), ry=round(across, 2))

    def mark(self, along_m: float, text: str) -> Mark:
        x = self.x(along_m)
        return Mark(x=x, text=text, anchor="end" if x > 50.0 else "start")

    def bar(self, system: UnitSystem) -> tuple[float, str]:
        """Return a scale of about a fifth of the width, a nice number long."""
        unit_m = self.width_m / system.number(self.width_m, "height")
        step = nice_step(self.width_m / unit_m, 6)
        return round(step * unit_m / self.width_m * 100.0, 2), f"{digits.given(step)} {system.label('height')}"
