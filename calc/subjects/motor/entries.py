"""What is entered for the subject motor: the rubber motor, and how far it is wound."""

from dataclasses import dataclass

from calc.document.fields import Entry, quantity, whole


@dataclass(frozen=True, kw_only=True)
class Motor:
    """One rubber motor of equal strands, made up as a loop; its section is measured, or follows from the scale."""

    strands: Entry[int] | None = whole("Strands", 2, 200, hint="A loop of one strip has two.")
    width: Entry[float] | None = quantity("Width of the strip", "length", 0.0002, 0.03)  # m
    thickness: Entry[float] | None = quantity("Thickness of the strip", "length", 0.0001, 0.01)  # m
    # m, hook to hook, unstretched
    length: Entry[float] | None = quantity("Made-up length", "length", 0.02, 5.0)
    # kg, without knot and lubricant
    mass: Entry[float] | None = quantity("Mass of the motor", "mass", 0.0, 1.0, above=True)
    braid: Entry[int] = whole("Braiding turns", 0, 2000, default=0)
    # of the turns at break
    share: Entry[float] = quantity("Share of the turns at break", "ratio", 0.05, 1.0, default=0.80)
    # J/kg, wound to the break
    energy: Entry[float] | None = quantity("Energy of the rubber at break", "specific energy", 10.0, 12_000.0)
    height: Entry[float] | None = quantity("Height aimed for", "height", 0.5, 500.0)  # m
