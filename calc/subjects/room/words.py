"""What is said of the room for the gear."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from calc.english import listed
from calc.subject import not_yet
from calc.subjects.room.answer import Placed, RoomBlock
from calc.unit_system import UnitSystem

if TYPE_CHECKING:
    from calc.assess import Assessment

SQUARE = "with every side along a side of the bay"
SHORT_LOOK = "A short look found no way; the longer search may, or try it by hand."
LONG_SEARCH = "The search came to its end without a way in, and without a proof: try it by hand."
NOT_FOUND = "Whether the gear goes in was not found."
HATCH = (
    "Parts go straight through a hatch that has a size, as they lie, and are slid to their places: tilted or turned on "
    "the way, more may go in."
)
SAFE = "A bay that tapers is taken in slices, each as wide as its narrow end: there may be more room than that."


def lengths(nm: Iterable[int], system: UnitSystem) -> str:
    """Return extents as one text, to the tenth of a millimetre or finer.

    Examples
    --------
    >>> lengths((12_000_000, 30_500_000), UnitSystem.METRIC)
    '12.0 × 30.5 mm'
    """
    unit = system.label("length")
    texts = [system.length(each / 1e9, fine=True).removesuffix(unit).strip() for each in nm]
    return f"{' × '.join(texts)} {unit}"


def at_least(nm: Iterable[int], system: UnitSystem) -> str:
    """Return lengths that a bay has to have as one text, rounded up to what the text can say.

    Examples
    --------
    >>> at_least((12_010_000,), UnitSystem.METRIC), at_least((12_010_000,), UnitSystem.IMPERIAL)
    ('12.1 mm', '0.48 in')
    """
    step = 254_000 if system is UnitSystem.IMPERIAL else 100_000
    return lengths((-(-each // step) * step for each in nm), system)


def sentence(block: RoomBlock, system: UnitSystem, ended: str = SHORT_LOOK) -> str:
    """Return whether it goes in, and where what lies; `ended` is said where it was not found."""
    said = f"{NOT_FOUND} {ended}" if block.answer == "not_found" else _known(block)
    some = "" if block.complete else " Parts without their sizes are not counted."
    said = f"{said}{_barred(block)}{_places(block, system)}{some}"
    if block.answer == "fits":
        return said
    return f"{said}{f' {SAFE}' if block.tapered else ''}{f' {HATCH}' if block.hatched else ''}"


def _known(block: RoomBlock) -> str:
    if block.answer == "cannot":
        return _cannot(block)
    return f"The gear goes in{'' if block.complete else ', as far as its sizes are known'}, {SQUARE}."


def _cannot(block: RoomBlock) -> str:
    names = list(dict.fromkeys(each.name for each in block.homeless))
    one = f" Not even alone: {listed(names)}." if names else ""
    return f"The gear cannot go in, {SQUARE}: that is proved.{one}"


def _barred(block: RoomBlock) -> str:
    names = list(dict.fromkeys(each.name for each in block.barred))
    return f" Straight through the hatch in none of the ways in which it may lie: {listed(names)}." if names else ""


def _places(block: RoomBlock, system: UnitSystem) -> str:
    """Return what goes into which bay, in order; empty where no place was found."""
    told = []
    for bay, (name, order) in enumerate(zip(block.bays, block.order, strict=False)):
        inside = order if order is not None else [each for each in block.parts if each.bay == bay]
        if not inside:
            continue
        names = ", ".join(_place(each, system) for each in inside)
        way = "lies, but not in any straight order from its hatch"
        if order is not None:
            hatch = "through its hatch" if block.spaces[bay].opening else "its whole side open"
            way = f"goes in {block.sides[bay]}, {hatch}, in this order"
        told.append(f" Into {name} {way}: {names}.")
    return "".join(told)


def _place(part: Placed, system: UnitSystem) -> str:
    return f"{part.item.name} ({lengths([part.spot.at[0]], system)} behind its front)"


def brief(block: RoomBlock) -> str:
    """Return the answer in one line."""
    if block.answer == "fits":
        return "the gear goes in" if block.complete else "goes in so far"
    return "cannot go in" if block.answer == "cannot" else "not found: try by hand"


def fails(_found: "Assessment", _system: UnitSystem) -> str:
    """Return that it cannot go in."""
    return "the gear does not go into its bays"


def told(found: "Assessment", _system: UnitSystem) -> str:
    """Return the line of the subject."""
    block = found.of(RoomBlock)
    return not_yet(found, "room", found.budget.bays) if block is None else brief(block)
