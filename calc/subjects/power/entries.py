"""What is entered for the subject power: the session, the converter, the leads."""

from dataclasses import dataclass

from calc.document.fields import Entry, choice, flag, quantity, text, whole
from calc.vocabulary import Between, ConverterKind


@dataclass(frozen=True, kw_only=True)
class Session:
    """One outing."""

    flights: Entry[int] | None = whole("Flights wanted", 1, 500)
    # s with the radio on, each flight
    on_time: Entry[float] | None = quantity("Radio on, each flight", "time", 1.0, 86_400.0)
    temperature: Entry[float] = quantity("Temperature", "temperature", 253.15, 333.15, default=293.15)  # K
    # share of the charge kept
    reserve: Entry[float] = quantity("Charge kept in reserve", "ratio", 0.0, 0.9, default=0.20)
    # the radio between flights
    between: Entry[Between] = choice("Radio between flights", {"off": "off", "on": "left on"}, default="off")
    pause: Entry[float] | None = quantity("Pause between flights", "time", 0.0, 86_400.0)  # s between flights


@dataclass(frozen=True, kw_only=True)
class Supply:
    """A converter between the cells and the gear."""

    kind: Entry[ConverterKind] = choice(
        "Converter steps", {"up": "the voltage up", "down": "the voltage down"}, default="up", belongs="budget"
    )
    volts: Entry[float] | None = quantity("Gives the gear", "voltage", 0.5, 30.0, belongs="part")  # V at the gear
    efficiency: Entry[float] = quantity("Efficiency", "ratio", 0.3, 1.0, default=0.85, belongs="part")
    # V it works down to
    min_input: Entry[float] | None = quantity("Converter works down to", "voltage", 0.0, 30.0, belongs="part")


@dataclass(frozen=True, kw_only=True)
class Wiring:
    """The leads from the cells to the gear, there and back."""

    gauge: Entry[int] | None = whole("Wire gauge (AWG)", 10, 44)  # American wire gauge
    length: Entry[float] | None = quantity("Length, one way", "length", 0.001, 5.0)  # m, one way


@dataclass(frozen=True, kw_only=True)
class Charge:
    """What one cell, full before, took back after a session."""

    date: Entry[str] = text("Date", 20)
    put_back: Entry[float] | None = quantity("Charge put back", "charge", 0.36, 180_000.0)  # C
    flights: Entry[int] | None = whole("Flights on this charge", 1, 500)
    # s, each flight; that of the session where it is absent
    on_time: Entry[float] | None = quantity("Radio on, each flight", "time", 1.0, 86_400.0)
    # V of one cell, half an hour after the last flight
    rest: Entry[float] | None = quantity(
        "Volts at rest before charging",
        "voltage",
        3.0,
        4.2,
        hint="Of one cell, warm, half an hour after the last flight.",
    )
    temperature: Entry[float] | None = quantity("Temperature", "temperature", 243.15, 333.15)  # K
    remarks: Entry[str] = text("Remarks", 200)
    out: Entry[bool] = flag("Struck out", hint="It counts no more; say why under remarks.")
