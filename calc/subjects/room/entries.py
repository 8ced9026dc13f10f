"""What is entered for the subject room: the bays that the gear is to go into."""

from dataclasses import dataclass

from calc.document.fields import Entry, choice, quantity, text
from calc.vocabulary import BayKind, HatchSide

MOST_BAYS = 6
BAY_KINDS = {"box": "a box", "tube": "a round tube", "tapered": "a box that tapers"}
HATCH_SIDES = {
    "top": "from the top", "bottom": "from below", "front": "from the front", "back": "from behind",
    "left": "from the left", "right": "from the right",
}  # fmt: skip
LONGEST_M = 2.0


@dataclass(frozen=True, kw_only=True)
class Bay:
    """One bay; its length lies fore and aft, its width across, its height up; all inside."""

    name: Entry[str] = text("Name")
    kind: Entry[BayKind] = choice("The bay is", BAY_KINDS, default="box")
    length: Entry[float] | None = quantity("Length inside", "length", 0.0, LONGEST_M, above=True)  # m
    # m; of a tube its bore
    width: Entry[float] | None = quantity("Width inside, or bore", "length", 0.0, 0.5, above=True)
    height: Entry[float] | None = quantity("Height inside", "length", 0.0, 0.5, above=True)  # m
    # m; of a tapered bay, whose width and height are those in front
    back_width: Entry[float] | None = quantity("Width at the back", "length", 0.0, 0.5, above=True)
    back_height: Entry[float] | None = quantity("Height at the back", "length", 0.0, 0.5, above=True)
    # m, of its front end
    station: Entry[float] | None = quantity("Its front, from the nose", "length", -2.0, 5.0)
    gap: Entry[float] = quantity("Clear between parts", "length", 0.0, 0.02, default=0.0)
    wall: Entry[float] = quantity(
        "Clear to the walls", "length", 0.0, 0.02, default=0.0, smaller_than=("width", 0.49),
        hint="A foam bed takes 1 to 2 mm; a cell swells by a tenth of its thickness.",
    )  # fmt: skip
    hatch: Entry[HatchSide] = choice(
        "Parts go in", HATCH_SIDES, default="top", hint="Through the whole side, unless the hatch has a size."
    )
    # m behind the front of the bay, of a hatch in its top, bottom or side
    hatch_from: Entry[float] | None = quantity(
        "Hatch begins behind its front", "length", 0.0, LONGEST_M, smaller_than=("hatch_to", 0.99)
    )
    hatch_to: Entry[float] | None = quantity("Hatch ends behind its front", "length", 0.0, LONGEST_M, above=True)
    hatch_width: Entry[float] | None = quantity(
        "Hatch width, in the middle", "length", 0.0, 0.5, above=True, hint="Of a hatch in a side: how high it is."
    )
