"""What a visitor asks of the finder's sets: parts to keep, parts to bar, servos or coils only."""

from dataclasses import dataclass

NO_CHARGES = "“{typed}” is no number of charged cells: a whole number from 1 to 999 is needed."
KINDS = {"servo": "servo", "coil": "coil actuator"}  # what may be asked for -> the kind of part


@dataclass(frozen=True, kw_only=True)
class Wishes:
    """Names of parts to keep and to bar, and which actuators may be taken: "servo", "coil", or "" for either."""

    keep: tuple[str, ...] = ()
    bar: tuple[str, ...] = ()
    actuator: str = ""

    def takes(self, kind: str) -> bool:
        """Return whether an actuator of this kind may be taken."""
        return self.actuator not in KINDS or KINDS[self.actuator] == kind


def named(name: str, wish: str) -> bool:
    """Return whether a part has the name in a wish, whatever its capitals and the blanks around it.

    Examples
    --------
    >>> named("Linear servo", " linear SERVO"), named("servo", "linear servo")
    (True, False)
    """
    return name.strip().casefold() == wish.strip().casefold()


def kept(wishes: Wishes, name: str) -> bool:
    """Return whether a part is to be kept."""
    return any(named(name, wish) for wish in wishes.keep)


def barred(wishes: Wishes, name: str) -> bool:
    """Return whether a part is barred."""
    return any(named(name, wish) for wish in wishes.bar)


def charges_of(typed: str) -> int | None:
    """Return a number of charged cells, 1 to 999; None for any other text.

    Examples
    --------
    >>> charges_of(" 3 "), charges_of("0"), charges_of("-1"), charges_of("two")
    (3, None, None, None)
    """
    text = typed.strip()
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 4 else 0
    return number or None
