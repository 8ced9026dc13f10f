"""Decides packings by the relation of each pair: one lies before the other along some axis. Exact for any lengths.

Boxes are added the largest first. What is chosen so far gives each box a window along each axis, by longest paths; the
pair with the fewest relations left is chosen next. Nothing is lost by holding the first box to the low half of each
axis (the rest can be mirrored), nor by never having the later of two equal boxes before the earlier one along x.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc.subjects.room.boxes import CANNOT, NOT_FOUND, Packed, Search, Size, Spot, Turns, volume

STEP = 200  # nodes between two signs of progress
Pair = tuple[int, int]


@dataclass
class _State:
    """Boxes so far: their extents, windows (by axis, then box), what is before what by axis, and pairs left open."""

    sizes: list[Size]
    low: list[list[int]]
    high: list[list[int]]
    before: list[list[Pair]]
    open: list[Pair]


def pairs(parts: Sequence[Turns], room: Size, nodes: int) -> Search:
    """Yield steps as they are taken, and return a packing, that there is none, or that it was not found.

    Parameters are those of `corners`; `nodes` bounds the choices made.
    """
    order = sorted(range(len(parts)), key=lambda index: (-volume(parts[index]), parts[index]))
    sorted_parts = [parts[index] for index in order]
    stack = [_State([], [[], [], []], [[], [], []], [[], [], []], [])]
    used = 0
    while stack:
        state = stack.pop()
        used += 1
        if used % STEP == 0:
            yield STEP
        if used > nodes:
            return NOT_FOUND
        if not state.open and len(state.sizes) == len(parts):
            return Packed("fits", _spots(state, order))
        more = _related(state, sorted_parts) if state.open else _added(state, sorted_parts, room)
        stack.extend(reversed(list(more)))
    return CANNOT


def _spots(state: _State, order: Sequence[int]) -> tuple[Spot, ...]:
    """Return every box at the low end of its window, in the order in which the parts came."""
    found = {
        index: Spot((state.low[0][box], state.low[1][box], state.low[2][box]), state.sizes[box])
        for box, index in enumerate(order)
    }
    return tuple(found[index] for index in range(len(order)))


def _added(state: _State, parts: Sequence[Turns], room: Size) -> Iterator[_State]:
    """Yield the states with one box more, in each way that it may lie."""
    box = len(state.sizes)
    for size in parts[box]:
        ends = [room[axis] - size[axis] for axis in range(3)]
        high = [end // 2 if box == 0 else end for end in ends]
        yield _State(
            [*state.sizes, size],
            [[*state.low[axis], 0] for axis in range(3)],
            [[*state.high[axis], high[axis]] for axis in range(3)],
            state.before,
            [(other, box) for other in range(box)],
        )


def _related(state: _State, parts: Sequence[Turns]) -> Iterator[_State]:
    """Yield the states in which the pair with the fewest choices is settled; none where a pair has no choice."""
    left: list[Pair] = []
    best: list[tuple[int, Pair]] | None = None
    chosen: Pair = (0, 0)
    for pair in state.open:
        found = _choices(state, parts, pair)
        if found is None:
            continue
        left.append(pair)
        if best is None or len(found) < len(best):
            best, chosen = found, pair
    if best is None:
        yield _State(state.sizes, state.low, state.high, state.before, [])
        return
    left.remove(chosen)
    for axis, (first, then) in best:
        changed = _with(state, axis, (first, then), left)
        if changed is not None:
            yield changed


def _choices(state: _State, parts: Sequence[Turns], pair: Pair) -> list[tuple[int, Pair]] | None:
    """Return the relations that a pair can still have, as (axis, (which is first, which then)); None: it is settled."""
    found = []
    one, other = pair
    equal = one > 0 and parts[one] == parts[other]
    for axis in range(3):
        low, high = state.low[axis], state.high[axis]
        for first, then in (pair, (other, one)):
            far = state.sizes[first][axis]
            if high[first] + far <= low[then]:
                return None
            if low[first] + far <= high[then] and not (equal and axis == 0 and first == other):
                found.append((axis, (first, then)))
    return found


def _with(state: _State, axis: int, pair: Pair, left: list[Pair]) -> _State | None:
    """Return a state with one relation more, its windows narrowed; None where they close."""
    before = [*state.before[axis], pair]
    low, high = [*state.low[axis]], [*state.high[axis]]
    moved = True
    while moved:
        moved = False
        for first, then in before:
            far = state.sizes[first][axis]
            if low[first] + far > low[then]:
                low[then], moved = low[first] + far, True
            if high[then] - far < high[first]:
                high[first], moved = high[then] - far, True
            if low[then] > high[then] or low[first] > high[first]:
                return None
    return _State(
        state.sizes,
        [low if each == axis else state.low[each] for each in range(3)],
        [high if each == axis else state.high[each] for each in range(3)],
        [before if each == axis else state.before[each] for each in range(3)],
        left,
    )
