"""What is entered for the subject flights: one row for each flight that was flown and measured."""

from dataclasses import dataclass

from calc.document.fields import Entry, flag, quantity, text, whole


@dataclass(frozen=True, kw_only=True)
class Flight:
    """One flight: what it was launched with, what was measured."""

    date: Entry[str] = text("Date", 20)
    turns: Entry[int] | None = whole("Turns wound", 1, 100_000)
    torque: Entry[float] | None = quantity("Torque before the launch", "torque", 0.0, 10.0)  # N m
    height: Entry[float] | None = quantity("Height reached", "height", 0.5, 2000.0)  # m
    motor_run: Entry[float] | None = quantity("Motor run", "time", 0.0, 3600.0, bare="s")  # s
    glide: Entry[float] | None = quantity("Glide", "time", 1.0, 36_000.0, bare="s")  # s, from there to the ground
    # m/s, as a log shows it; goes before height and glide
    sink: Entry[float] | None = quantity("Sink, from the log", "speed", 0.02, 10.0)
    # m/s, in 95 of 100 cases
    sink_spread: Entry[float] | None = quantity("Sink, give or take", "speed", 0.0, 10.0, smaller_than=("sink", 1.0))
    circle: Entry[float] | None = quantity("Seconds a circle", "time", 1.0, 300.0, bare="s")  # s
    wind: Entry[float] | None = quantity("Wind", "speed", 0.0, 30.0)  # m/s
    temperature: Entry[float] | None = quantity("Temperature", "temperature", 243.15, 323.15)  # K
    mass: Entry[float] | None = quantity("All-up weight", "mass", 0.0, 20.0, above=True)  # kg, with rubber
    remarks: Entry[str] = text("Remarks", 200)
    out: Entry[bool] = flag("Struck out", hint="It counts no more; say why under remarks.")
