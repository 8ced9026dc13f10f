"""What is said of the long search for room."""

from collections.abc import Iterator
from typing import Any

from calc.changes.edits import Edit, edits
from calc.document.paths import rows
from calc.english import listed, the, wrapped
from calc.fitting.find import Moved, RoomFound
from calc.subjects.room.spaces import EDGES, Space
from calc.subjects.room.widen import Widening
from calc.subjects.room.words import LONG_SEARCH, at_least, sentence
from calc.unit_system import UnitSystem

NOTHING = "No room is asked for yet: a bay is needed, and the length, width and height of a part."
WIDER = {"length": "longer", "width": "wider", "height": "higher"}
SMALLEST = (
    "the smallest found for these parts: no edge longer than it is, one after the other as short as it goes, in the "
    "order that leaves the least volume"
)
MOST_MOVED_M = 0.0005  # less is no move


def lines(found: RoomFound | None) -> list[str]:
    """Return everything that was found, as lines of plain text."""
    if found is None:
        return wrapped(NOTHING)
    return [line for told in sentences(found) for line in wrapped(told)]


def sentences(found: RoomFound) -> Iterator[str]:
    """Yield what was found, a sentence or a few each."""
    yield from (said for said, _ in told(found))


def told(found: RoomFound) -> Iterator[tuple[str, tuple[Edit, ...]]]:
    """Yield what was found, and what in the document would take it; nothing where there is nothing to take."""
    system = found.system
    yield sentence(found.block, system, LONG_SEARCH), ()
    for each in found.least:
        yield widening(found, each), tuple(edits(found.document, widened(found, each)))
    if found.in_the_way:
        names = listed(list(dict.fromkeys(the(each.name) for each in found.in_the_way)))
        yield f"Without one of these the others go in: {names}.", ()
    for swap in found.instead:
        yield f"In the place of {the(swap.item.name)} “{swap.name}” of my parts goes in.", swap.edits
    for bay, space in found.smallest:
        yield f"Inside {size(space, system)} {found.block.bays[bay]} is {SMALLEST}.", ()
    yield from ((said, found.edits) for said in moves(found))


def widening(found: RoomFound, each: Widening) -> str:
    """Return one least widening: by how much, and the bay then."""
    bay, by = found.block.bays[each.bay], at_least([each.by], found.system)
    less = "" if each.proved else "; a little less may do"
    return f"{by} {WIDER[each.edge]} {bay} takes it: {size(each.space, found.system)} inside{less}."


def widened(found: RoomFound, each: Widening) -> dict[str, Any]:
    """Return the document with a bay so much wider, rounded up to what its text can say."""
    bays, axis = rows(found.document, "bays"), EDGES.index(each.edge)
    texts: dict[str, str] = {each.edge: at_least([each.space.size[axis]], found.system)}
    if each.space.kind == "tapered" and axis:
        texts[f"back_{each.edge}"] = at_least([each.space.back[axis - 1]], found.system)
    bays[each.bay] = {**bays[each.bay], **texts}
    return {**found.document, "bays": bays}


def size(space: Space, system: UnitSystem) -> str:
    """Return the size of a bay inside: of a tube bore and length, of a tapered one both sections."""
    if space.kind == "tube":
        return f"bore {at_least([space.size[1]], system)}, length {at_least([space.size[0]], system)}"
    if space.kind == "tapered":
        front, back = at_least(space.size[1:], system), at_least(space.back, system)
        return f"{front} in front, {back} at the back, {at_least([space.size[0]], system)} long"
    return f"{at_least(space.size, system)} (length × width × height)"


def moves(found: RoomFound) -> Iterator[str]:
    """Yield where the parts come to lie from the nose, and what that does to the lead."""
    told = [_move(each, found.system) for each in found.moved if _is_move(each)]
    if not told:
        return
    lead = ""
    if found.lead_kg is not None:
        less = found.lead_kg[0] - found.lead_kg[1]
        lead = f": {found.system.mass(abs(less))} {'less' if less > 0 else 'more'} lead" if abs(less) > 5e-6 else ""
    yield f"So placed {listed(told)}{lead}."


def _is_move(each: Moved) -> bool:
    return each.before is None or abs(each.after - each.before) > MOST_MOVED_M


def _move(each: Moved, system: UnitSystem) -> str:
    if each.before is None:
        return f"{the(each.item.name)} lies {system.length(each.after, fine=False)} from the nose"
    by = each.after - each.before
    return f"{the(each.item.name)} moves {'back' if by > 0 else 'forward'} by {system.length(abs(by), fine=False)}"
