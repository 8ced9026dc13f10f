"""Boxes in a box: published puzzles, proofs, a constraint solver, and what must hold of any."""

from collections.abc import Iterator
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.subjects.room.boxes import WHOLE, Packed, Search, Size, Turns, _share, apart, refuted
from calc.subjects.room.corners import Chance, corners
from calc.subjects.room.filling import filling, fills
from calc.subjects.room.pack import pack
from calc.subjects.room.pairs import pairs
from calc.subjects.room.parts import part_turns
from calc.subjects.room.patterns import grid_of, on_grid, patterns
from tests.support import reference

MM = 1_000_000
LONG = 400_000
DATA = reference("room")
ORACLE = reference("room_oracle")["case"]


def done(search: Search) -> Packed:
    """Return what a search comes to."""
    while True:
        try:
            assert next(search) > 0
        except StopIteration as ended:
            found: Packed = ended.value
            return found


def scaled(size: Any, unit: int = MM) -> Size:
    return (size[0] * unit, size[1] * unit, size[2] * unit)


def any_way(size: Any, unit: int = MM) -> Turns:
    return part_turns(scaled(size, unit), "any")


def sound(found: Packed, parts: list[Turns], room: Size) -> bool:
    """Return whether the parts lie inside, in a way that they may, and clear of each other."""
    spots = found.spots
    inside = all(0 <= spot.at[axis] <= room[axis] - spot.size[axis] for spot in spots for axis in range(3))
    turned = all(spot.size in turns for spot, turns in zip(spots, parts, strict=True))
    return inside and turned and all(apart(one, other) for at, one in enumerate(spots) for other in spots[:at])


def cases() -> Iterator[Any]:
    for name in ("slothouber", "conway", "proofs", "moron", "unlike"):
        yield from (pytest.param(*row[1:], MM, id=row[0]) for row in DATA[name]["rows"])
    listed = [[part, 1] for part in DATA["tenths"]["parts"]]
    yield from (pytest.param(listed, bay, said, MM // 10, id=f"tenths {bay}") for bay, said in DATA["tenths"]["bays"])


@pytest.mark.parametrize(("boxes", "bay", "answer", "unit"), list(cases()))
def test_known_packings(boxes: Any, bay: Any, answer: str, unit: int) -> None:
    parts = [any_way(size, unit) for size, count in boxes for _ in range(count)]
    found = done(pack(parts, scaled(bay, unit), LONG))
    assert found.answer in answer.split(" or ")
    assert found.answer != "fits" or sound(found, parts, scaled(bay, unit))


@pytest.mark.parametrize("number", range(len(ORACLE)))
def test_as_the_constraint_solver_says(number: int) -> None:
    case = ORACLE[number]
    parts = [part_turns(scaled(size), lies) for size, lies in zip(case["parts"], case["lies"], strict=True)]
    found = done(pack(parts, scaled(case["bay"]), LONG))
    assert found.answer == case["answer"]
    assert found.answer != "fits" or sound(found, parts, scaled(case["bay"]))
    short = done(pack(parts, scaled(case["bay"]), 4000))
    assert short.answer in (case["answer"], "not_found")


def test_the_oracle_has_both_answers() -> None:
    assert len(ORACLE) == 200
    assert min(sum(case["answer"] == said for case in ORACLE) for said in ("fits", "cannot")) > 50


@pytest.mark.parametrize("number", range(0, len(ORACLE), 8))
@pytest.mark.parametrize("way", [pairs, patterns])
def test_each_exact_search_alone(number: int, way: Any) -> None:
    """Each of the two proves alone what the solver says, or does not find it."""
    case = ORACLE[number]
    parts = [part_turns(tuple(size), lies) for size, lies in zip(case["parts"], case["lies"], strict=True)]
    bay = tuple(case["bay"])
    inside = [tuple(size for size in turns if all(a <= b for a, b in zip(size, bay, strict=True))) for turns in parts]
    found = done(way(inside, bay, 20_000))
    assert found.answer in (case["answer"], "not_found")


def cut(chance: Chance, room: Size, pieces: int) -> list[Size]:
    """Return boxes that a room was cut into."""
    whole = [room]
    while len(whole) < pieces:
        box = whole.pop(chance.below(len(whole)))
        axis = chance.below(3)
        if box[axis] < 2:
            whole.append(box)
            continue
        at = 1 + chance.below(box[axis] - 1)
        for edge in (at, box[axis] - at):
            piece = [*box]
            piece[axis] = edge
            whole.append((piece[0], piece[1], piece[2]))
    return whole


@pytest.mark.parametrize("seed", range(8))
def test_what_a_room_was_cut_into_fills_it_again(seed: int) -> None:
    chance, room = Chance(seed), (6, 5, 4)
    sizes = cut(chance, room, 3 + seed)
    parts = [any_way(size) for size in chance.shuffled(sizes)]
    assert fills(parts, scaled(room))
    found = done(filling(parts, scaled(room), 20_000))
    assert found.answer == "fits"
    assert sound(found, parts, scaled(room))
    assert done(filling(parts, scaled(room), 1)).answer == "not_found"


def test_what_fills_no_room_is_proved() -> None:
    """Parts of just the volume of the room that do not go in; the search by patterns says so, too."""
    parts = [any_way((3, 1, 1), 1)] * 4 + [any_way((2, 2, 3), 1)]
    assert fills(parts, (4, 3, 2))
    assert done(filling(parts, (4, 3, 2), 20_000)).answer == done(patterns(parts, (4, 3, 2), 20_000)).answer
    thick = [any_way((3, 2, 2), 1), any_way((3, 2, 2), 1), any_way((1, 1, 3), 1)]
    assert fills(thick, (3, 3, 3))
    assert done(filling(thick, (3, 3, 3), 20_000)).answer == "cannot"
    assert done(patterns(thick, (3, 3, 3), 20_000)).answer == "cannot"
    fine = [any_way((30, 30, 15), 1), any_way((30, 30, 15), 1), any_way((1, 1, 27_000), 1)]
    assert done(filling(fine, (30, 60, 30), 20_000)).answer == "not_found"  # too many cells


@pytest.mark.parametrize("k", [1, 2, 3])
def test_a_dual_feasible_function_keeps_sums_within_one(k: int) -> None:
    """By exhaustion: lengths that go beside each other in the whole still do by their shares."""
    for whole in range(1, 13):
        for lengths in product(range(whole + 1), repeat=3):
            if sum(lengths) <= whole:
                assert sum(_share(length, whole, k) for length in lengths) <= whole * WHOLE


BOX = st.tuples(*[st.integers(1, 9)] * 3)


@settings(deadline=None, max_examples=30)
@given(
    sizes=st.lists(BOX, min_size=1, max_size=5),
    room=st.tuples(*[st.integers(3, 15)] * 3),
    unit=st.sampled_from([1, 396_875, MM, 25_400_000]),
    grown=st.integers(0, 2),
)
def test_a_larger_room_holds_what_a_smaller_one_does(sizes: Any, room: Any, unit: int, grown: int) -> None:
    parts = [any_way(size, unit) for size in sizes]
    small, large = scaled(room, unit), scaled([each + grown for each in room], unit)
    found, more = done(pack(parts, small, 8000)), done(pack(parts, large, 8000))
    assert found.answer != "fits" or more.answer != "cannot"
    assert more.answer != "cannot" or found.answer != "fits"
    for each, space in ((found, small), (more, large)):
        assert each.answer != "fits" or sound(each, parts, space)


def test_the_answer_is_always_the_same() -> None:
    parts = [any_way(size) for size in DATA["tenths"]["parts"]]
    one, other = (done(pack(parts, (340 * MM, 170 * MM, 125 * MM), LONG)) for _ in range(2))
    assert one == other
    assert [Chance().below(10) for _ in range(3)] == [Chance().below(10)] * 3


def test_nothing_and_no_room() -> None:
    assert done(pack([], (1, 1, 1), 100)).answer == "fits"
    assert done(pack([any_way((1, 1, 1))], (0, 1, 1), 100)).answer == "cannot"
    assert not refuted([], (1, 1, 1))


def test_a_search_ends_with_its_steps() -> None:
    hard = [any_way(size, 1) for size, count in DATA["conway"]["rows"][0][1] for _ in range(count)]
    assert done(pack(hard, (5, 5, 5), 500)).answer == "not_found"
    taken = list(corners(hard, (5, 5, 5), 50))
    assert sum(taken) >= 50
    assert sum(taken[:-1]) < 50


def test_rounding_is_to_the_side_that_proves() -> None:
    turns = part_turns((1_250_000, 2_000_000, 3_010_000), "any")
    room = (70 * MM, 10 * MM + 1, 5 * MM)
    assert grid_of(room) == MM
    easier, harder = (on_grid([turns], room, MM, easier=each) for each in (True, False))
    assert sorted(easier[0][0][0]) == [1, 2, 3]
    assert sorted(harder[0][0][0]) == [2, 2, 4]
    assert (easier[1], harder[1]) == ((70, 11, 5), (70, 10, 5))


def test_a_circle_of_boxes_before_each_other_is_seen() -> None:
    """Three blocks fill the room's section with room to spare along it, so a rod as long as it has no place."""
    blocks: list[Turns] = [((length, 10, 10),) for length in (10, 11, 12)]
    assert done(pairs([*blocks, ((200, 1, 1),)], (200, 10, 10), 20_000)).answer == "cannot"
