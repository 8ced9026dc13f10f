"""What is entered for the subject balance: the stations."""

from dataclasses import dataclass

from calc.document.fields import Entry, quantity


@dataclass(frozen=True, kw_only=True)
class Balance:
    """Stations, from the datum at the nose, aft positive [m]; or the wanted point as a share of a chord."""

    airframe_at: Entry[float] | None = quantity("Airframe balances at", "length", -2.0, 5.0)
    rubber_at: Entry[float] | None = quantity("Rubber sits at", "length", -2.0, 5.0)
    target: Entry[float] | None = quantity("Wanted balance point", "length", -2.0, 5.0)
    leading_edge: Entry[float] | None = quantity("Leading edge at", "length", -2.0, 5.0)
    chord: Entry[float] | None = quantity("Wing chord", "length", 0.001, 2.0)
    target_chord: Entry[float] | None = quantity("Wanted, share of chord", "ratio", -0.5, 2.0)
    nose_at: Entry[float] | None = quantity("Nose lead at", "length", -2.0, 5.0)
    tail_at: Entry[float] | None = quantity("Tail lead at", "length", -2.0, 5.0)
