"""Tubes, tapered bays, several bays, clearance, order of putting in."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.subjects.room.boxes import Packed, Spot, Turns, apart
from calc.subjects.room.order import order_in
from calc.subjects.room.parts import part_turns
from calc.subjects.room.spaces import Shared, Sharing, Space, alone, into
from calc.subjects.room.tapered import Taper
from calc.subjects.room.tube import feet, tube
from tests.support import reference

MM = 1_000_000
DATA = reference("room")


def done(search: Any) -> Any:
    """Return what a search comes to."""
    while True:
        try:
            next(search)
        except StopIteration as ended:
            return ended.value


def mm(*size: float) -> Any:
    return tuple(round(each * MM) for each in size)


def any_way(*size: float) -> Turns:
    return part_turns(mm(*size), "any")


@pytest.mark.parametrize(("rows", "radius"), DATA["squares"]["rows"])
def test_the_least_circles_around_squares(rows: list[int], radius: float) -> None:
    """The list has three figures: it lies within half of the last one."""
    stack = [(each * MM, MM) for each in rows]
    low, high = (round(2.0 * (radius + off) * MM) for off in (-0.0006, 0.0006))
    assert feet(stack, 0, low) is None
    assert feet(stack, 0, high) is not None


@pytest.mark.parametrize(("stack", "gap", "bore"), DATA["tubes"]["rows"])
def test_the_least_bore(stack: Any, gap: float, bore: float) -> None:
    sizes = [(width * MM, height * MM) for width, height in stack]
    assert feet(sizes, round(gap * MM), round((bore - 0.0006) * MM)) is None
    found = feet(sizes, round(gap * MM), round((bore + 0.0006) * MM))
    assert found is not None
    radius = (bore + 0.0006) / 2.0
    for (width, height), foot in zip(stack, found, strict=True):
        for corner in (foot / MM, foot / MM + height):
            assert (width / 2.0) ** 2 + (corner - radius) ** 2 <= radius**2 + 1e-6


def test_the_widest_lies_between_the_others() -> None:
    worse = [(9 * MM, 3 * MM), (11 * MM, 4 * MM), (12 * MM, 6 * MM)]
    assert feet(worse, 0, mm(16.451)[0]) is None
    parts = [part_turns(mm(20, *each), "as given") for each in ((9, 3), (11, 4), (12, 6))]
    assert done(tube(parts, mm(16.451)[0], 20 * MM, 0, 10_000)).answer == "fits"
    assert done(tube(parts, mm(16.449)[0], 20 * MM, 0, 10_000)).answer == "not_found"


def in_tube(found: Packed, parts: list[Turns], bore: int, length: int, gap: int) -> bool:
    for spot in found.spots:
        half = bore / 2.0
        for y in (spot.at[1], spot.at[1] + spot.size[1]):
            for z in (spot.at[2], spot.at[2] + spot.size[2]):
                if (y - half) ** 2 + (z - half) ** 2 > half**2 * (1 + 1e-9) + 1:
                    return False
        if not 0 <= spot.at[0] <= length - spot.size[0]:
            return False
    wide = [Spot(each.at, tuple(edge + gap for edge in each.size)) for each in found.spots]  # type: ignore[arg-type]
    turned = all(spot.size in turns for spot, turns in zip(found.spots, parts, strict=True))
    return turned and all(apart(one, other) for at, one in enumerate(wide) for other in wide[:at])


@settings(deadline=None, max_examples=20)
@given(
    sizes=st.lists(st.tuples(*[st.integers(2, 14)] * 3), min_size=1, max_size=4),
    bore=st.integers(6, 24),
    length=st.integers(10, 50),
    gap=st.integers(0, 2),
)
def test_in_a_tube(sizes: Any, bore: int, length: int, gap: int) -> None:
    parts = [any_way(*size) for size in sizes]
    found = done(tube(parts, bore * MM, length * MM, gap * MM, 5000))
    assert found.answer != "fits" or in_tube(found, parts, bore * MM, length * MM, gap * MM)
    larger = done(tube(parts, (bore + 1) * MM, (length + 1) * MM, gap * MM, 5000))
    assert found.answer != "fits" or larger.answer != "cannot"


def test_two_parts_in_a_tube_are_decided() -> None:
    part = part_turns(mm(20, 12, 6), "as given")
    other = part_turns(mm(20, 11, 4), "as given")
    assert done(tube([part, other], mm(15.258)[0], 39 * MM, 0, 1000)).answer == "cannot"
    assert done(tube([part, other], mm(15.258)[0], 40 * MM, 0, 1000)).answer == "fits"  # one behind the other
    exact = part_turns((3, 4, 5), "any")
    assert done(tube([exact], 5, 5, 0, 1000)).answer == "fits"
    assert done(tube([part_turns((5, 1, 1), "as given")] * 2, 2, 5, 0, 100)).answer == "not_found"  # within rounding


def test_more_in_a_tube_than_its_box_holds_is_proved() -> None:
    parts = [part_turns(mm(30, 8, 8), "along")] * 3
    assert done(tube(parts, 16 * MM, 50 * MM, 0, 5000)).answer == "not_found"
    assert done(tube([part_turns(mm(30, 9, 9), "along")] * 3, 17 * MM, 45 * MM, 0, 5000)).answer == "cannot"
    many = [part_turns(mm(2, 2, 2), "any")] * 11
    assert done(tube(many, 10 * MM, 50 * MM, 0, 5000)).answer == "not_found"


TAPER = Space(kind="tapered", size=mm(60, 12, 10), back=(30 * MM, 24 * MM), gap=MM, wall=MM)


def in_taper(found: Packed, space: Space) -> bool:
    bay = space.taper
    for spot in found.spots:
        width, height = bay.section(spot.at[0], spot.at[0] + spot.size[0])
        wide, high = bay.widest
        inside = [
            (wide - width) // 2 <= spot.at[1] and spot.at[1] + spot.size[1] <= (wide + width + 1) // 2,
            (high - height) // 2 <= spot.at[2] and spot.at[2] + spot.size[2] <= (high + height + 1) // 2,
            spot.at[0] >= space.wall and spot.at[0] + spot.size[0] <= bay.length - space.wall,
        ]
        if not all(inside):
            return False
    wide_spots = [Spot(each.at, tuple(edge + space.gap for edge in each.size)) for each in found.spots]  # type: ignore[arg-type]
    return all(apart(one, other) for at, one in enumerate(wide_spots) for other in wide_spots[:at])


@settings(deadline=None, max_examples=15)
@given(sizes=st.lists(st.tuples(*[st.integers(2, 22)] * 3), min_size=1, max_size=4), turned=st.booleans())
def test_in_a_tapered_bay(sizes: Any, turned: bool) -> None:
    parts = [any_way(*size) for size in sizes]
    space = TAPER
    if turned:
        space = Space(kind="tapered", size=(space.size[0], *space.back), back=space.size[1:], gap=MM, wall=MM)
    found = done(into(space, parts, 4000))
    assert found.answer != "fits" or in_taper(found, space)
    around = done(into(Space(size=mm(60, 30, 24), gap=MM, wall=MM), parts, 4000))
    assert found.answer != "cannot" or around.answer != "fits"


def test_a_tapered_bay_is_cut_into_slices() -> None:
    parts = [part_turns(mm(20, 16, 14), "as given"), part_turns(mm(20, 8, 6), "as given")]
    found = done(into(TAPER, parts, 4000))
    assert found.answer == "fits"
    assert found.spots[0].at[0] > found.spots[1].at[0]  # the larger one where it is wide
    assert done(into(TAPER, [part_turns(mm(58, 8, 8), "as given")], 4000)).answer == "fits"
    assert done(into(TAPER, [part_turns(mm(58, 20, 8), "as given")], 4000)).answer == "not_found"
    assert done(into(TAPER, [part_turns(mm(59, 20, 8), "as given")], 4000)).answer == "cannot"


def test_clearance_square_to_a_slanting_wall() -> None:
    bay = Taper(length=100 * MM, front=(20 * MM, 20 * MM), back=(220 * MM, 20 * MM), wall=MM)
    width, height = bay.section(50 * MM, 100 * MM)
    assert 120 * MM - width == pytest.approx(2.0 * 2**0.5 * MM, rel=1e-6)
    assert height == 18 * MM


@pytest.mark.parametrize("kind", ["box", "tube", "tapered"])
def test_a_bay_smaller_than_its_clearance_holds_nothing(kind: Any) -> None:
    space = Space(kind=kind, size=mm(30, 2, 2), back=mm(2, 2), wall=MM)
    assert done(into(space, [any_way(1, 1, 1)], 1000)).answer == "cannot"
    assert done(into(space, [], 1000)).answer == "fits"


def test_clearance_of_a_box() -> None:
    space = Space(size=mm(23, 14, 9), gap=MM, wall=MM)
    part = part_turns(mm(10, 12, 7), "as given")
    found = done(into(space, [part, part], 1000))
    assert [spot.at for spot in found.spots] in ([mm(1, 1, 1), mm(12, 1, 1)], [mm(12, 1, 1), mm(1, 1, 1)])
    assert done(into(space.wider("length", -1), [part, part], 1000)).answer == "cannot"


def shared(spaces: list[Space], parts: list[Turns], nodes: int = 100_000) -> Shared:
    found = done(Sharing(spaces, parts, nodes).search())
    assert isinstance(found, Shared)
    return found


def test_each_part_into_the_bay_that_takes_it() -> None:
    nose, pylon = Space(size=mm(20, 20, 20)), Space(size=mm(40, 5, 10))
    long, cube = any_way(38, 4, 9), any_way(18, 18, 18)
    assert shared([nose, pylon], [cube, long]).bays == (0, 1)
    assert shared([pylon, nose], [cube, long]).bays == (1, 0)
    assert shared([nose, pylon], [cube, cube]).answer == "cannot"
    assert shared([nose, pylon], [any_way(41, 1, 1), cube]).answer == "cannot"
    assert shared([nose, pylon], [any_way(9, 9, 9)] * 14).answer == "cannot"
    assert shared([nose, pylon], [any_way(9, 9, 9)] * 8, 1).answer in ("fits", "not_found")
    assert alone(nose, cube)
    assert not alone(pylon, cube)


TEN = [
    (12, 9, 4), (11, 8, 4), (10, 8, 5), (13, 7, 4), (9, 9, 4), (12, 6, 5), (10, 7, 4), (8, 8, 5), (11, 6, 4), (9, 7, 5),
]  # fmt: skip


def test_a_search_over_bays_that_ends_says_so() -> None:
    bays = [Space(size=mm(24, 17, 9)), Space(size=mm(2, 2, 2))]
    assert shared(bays, [any_way(*size) for size in TEN], 2000).answer == "not_found"


def test_the_order_of_putting_in() -> None:
    space = Space(size=mm(20, 20, 20))
    low, high = Spot((0, 0, 0), mm(20, 20, 10)), Spot(mm(0, 0, 10), mm(20, 20, 10))
    assert order_in(space, [high, low], "top") == (1, 0)
    assert order_in(space, [high, low], "bottom") == (0, 1)
    assert order_in(space, [high, low], "left") == (0, 1)


def test_no_straight_way_through_a_narrow_end() -> None:
    wide = Spot(mm(35, 7, 5), mm(20, 16, 14))
    assert order_in(TAPER, [wide], "back") == (0,)
    assert order_in(TAPER, [wide], "front") is None
    assert order_in(TAPER, [wide], "top") == (0,)


@settings(deadline=None, max_examples=15)
@given(
    sizes=st.lists(st.tuples(*[st.integers(2, 12)] * 3), min_size=1, max_size=5),
    hatch=st.sampled_from(["front", "back", "left", "right", "top", "bottom"]),
)
def test_every_way_out_is_free(sizes: Any, hatch: Any) -> None:
    """Taken out the last first, no part has another one in its way to the hatch."""
    space = Space(size=mm(20, 20, 20))
    found = done(into(space, [any_way(*size) for size in sizes], 3000))
    if found.answer != "fits":
        return
    order = order_in(space, found.spots, hatch)
    assert order is not None
    axis, out = {"front": (0, -1), "back": (0, 1), "left": (1, -1), "right": (1, 1), "bottom": (2, -1), "top": (2, 1)}[
        hatch
    ]
    for at, index in enumerate(order):
        spot = found.spots[index]
        size: list[int] = list(spot.size)
        start: list[int] = list(spot.at)
        start[axis] = -40 * MM if out < 0 else spot.at[axis]
        size[axis] = spot.at[axis] + spot.size[axis] - start[axis] if out < 0 else 60 * MM
        path = Spot((start[0], start[1], start[2]), (size[0], size[1], size[2]))
        assert all(apart(path, found.spots[other]) for other in order[:at])
