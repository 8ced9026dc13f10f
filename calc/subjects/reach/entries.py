"""What is entered for the subject reach: transmitter, receiver, what weakens the signal, the range check."""

from dataclasses import dataclass

from calc.document.fields import Entry, quantity


@dataclass(frozen=True, kw_only=True)
class Radio:
    """The radio link; levels are plain numbers of dBm and dB."""

    frequency: Entry[float] = quantity("Frequency", "frequency", 26e6, 6e9, default=2.4e9)  # Hz
    # dBm, radiated, with the antenna
    power: Entry[float] | None = quantity(
        "Radiated power", "level", -30.0, 40.0, hint="100 mW are 20 dBm, 25 mW are 14 dBm, 10 mW are 10 dBm."
    )
    # dBm that the receiver still understands
    sensitivity: Entry[float] | None = quantity("Receiver understands down to", "level", -150.0, -30.0)
    antenna: Entry[float] = quantity("Gain of the receiver’s antenna", "decibels", -30.0, 10.0, default=0.0)
    orientation: Entry[float] = quantity("Lost by orientation", "decibels", 0.0, 40.0, default=10.0)
    fade: Entry[float] = quantity("Kept for fades", "decibels", 0.0, 40.0, default=20.0)
    distance: Entry[float] | None = quantity("How far it flies off", "height", 1.0, 20_000.0)  # m
    trees: Entry[float] | None = quantity("Trees in between", "height", 0.0, 400.0)  # m of wood along the way
    hand: Entry[float] = quantity("Transmitter above the ground", "height", 0.3, 10.0, default=1.5)  # m
    lying: Entry[float] = quantity("Model on the ground: antenna at", "height", 0.02, 5.0, default=0.1)  # m
    # m, at the power of the range check
    check_distance: Entry[float] | None = quantity("Range check held to", "height", 0.5, 5000.0)
    check_less: Entry[float] | None = quantity("Power in it less by", "decibels", 1.0, 60.0)
