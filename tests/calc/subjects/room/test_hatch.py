"""A hatch that is not the whole side: who goes through, in which order; and walking every way out step by step."""

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.assess import assess
from calc.document.budget import read
from calc.fitting.find import RoomFound, find, in_one_go
from calc.subjects.room.answer import RoomBlock
from calc.subjects.room.boxes import Spot, apart
from calc.subjects.room.hatch import OUT, Opening
from calc.subjects.room.order import order_in
from calc.subjects.room.spaces import Space, into
from calc.subjects.room.words import sentence
from calc.unit_system import UnitSystem
from calc.wording import problem
from tests.calc.subjects.room.test_bays import any_way, done, mm

SERVO = {"kind": "servo", "name": "servo", "mass": "2 g", "length": "20 mm", "width": "12 mm", "height": "6 mm"}
BOARD = {"kind": "receiver", "name": "board", "mass": "1 g", "length": "24 mm", "width": "11 mm", "height": "5 mm"}
BAY = {"length": "120 mm", "width": "14 mm", "height": "14 mm"}


def room(gear: Any, **bay: Any) -> RoomBlock:
    found = assess(read({"gear": gear, "bays": [{**BAY, **bay}]}).budget).of(RoomBlock)
    assert found is not None
    return found


def said(gear: Any, **bay: Any) -> str:
    return sentence(room(gear, **bay), UnitSystem.METRIC)


def test_parts_are_slid_from_under_the_hatch() -> None:
    gear = [SERVO, SERVO, BOARD]
    found = room(gear, hatch_from="40 mm", hatch_to="70 mm")
    assert found.answer == "fits"
    (order,) = found.order
    assert order is not None
    assert [part.item.name for part in order][-1] == "board"  # it lies under the hatch
    assert "goes in from the top, through its hatch, in this order: servo" in said(
        gear, hatch_from="40 mm", hatch_to="70 mm"
    )
    assert "its whole side open" in said(gear)


@pytest.mark.parametrize(
    ("hatch", "barred"),
    [
        ({"hatch_from": "40 mm", "hatch_to": "62 mm"}, ["board"]),  # 24 mm do not go through 22, nor upright into 14
        ({"hatch_from": "40 mm", "hatch_to": "50 mm"}, ["servo", "board"]),
        ({"hatch_width": "5 mm"}, ["servo"]),
        ({"hatch_from": "119 mm"}, ["servo", "board"]),
        ({"hatch": "left", "hatch_width": "4 mm"}, ["servo", "board"]),
        ({"hatch": "back", "hatch_width": "5.5 mm"}, ["servo"]),
    ],
)
def test_a_part_that_does_not_go_through_is_named_and_never_proved(hatch: dict[str, str], barred: list[str]) -> None:
    """Tilted it may go in, so the answer is not that it cannot."""
    found = room([SERVO, BOARD], **hatch)
    assert found.answer == "not_found"
    assert [each.name for each in found.barred] == barred
    told = said([SERVO, BOARD], **hatch)
    assert "Straight through the hatch in none of the ways in which it may lie: " in told
    assert "tilted or turned on the way, more may go in" in told


def test_what_cannot_lie_inside_is_still_proved() -> None:
    found = room([{**SERVO, "length": "121 mm"}], hatch_width="5 mm")
    assert (found.answer, found.barred) == ("cannot", ())
    assert [each.name for each in found.homeless] == ["servo"]
    assert room([{**SERVO, "count": 20}], hatch_from="40 mm", hatch_to="70 mm").answer == "cannot"  # by volume


def test_where_along_the_bay_says_nothing_of_an_end() -> None:
    assert room([SERVO], hatch="front", hatch_from="1 mm", hatch_to="2 mm").answer == "fits"
    assert not room([SERVO], hatch="front", hatch_from="1 mm").hatched


def test_another_packing_is_taken_where_the_first_has_no_way_in() -> None:
    """Through a hatch at the back end of the bay the long part has to be in first, and in front."""
    block = [{**SERVO, "width": "14 mm", "height": "14 mm", "lies": "as given"}]
    long = [{**BOARD, "length": "60 mm", "width": "14 mm", "height": "14 mm", "lies": "as given"}]
    found = room([*block, *long], length="80 mm", hatch_from="0 mm", hatch_to="60 mm")
    assert found.answer == "fits"
    (order,) = found.order
    assert order is not None
    assert [part.item.name for part in order] == ["servo", "board"]
    assert order[0].spot.at[0] == mm(60)[0]
    both = room([*block, *block], length="40 mm", hatch_from="0 mm", hatch_to="20 mm")
    assert both.answer == "fits"


def test_in_a_tube_parts_slide_along_alone_and_in_a_taper_not_at_all() -> None:
    tube = {"kind": "tube", "width": "16 mm", "hatch_from": "0 mm", "hatch_to": "21 mm"}
    assert room([SERVO, SERVO], **tube).answer == "fits"
    assert room([SERVO, SERVO], **tube, hatch_width="11 mm").answer in ("fits", "not_found")
    taper = {"kind": "tapered", "back_width": "14 mm", "back_height": "14 mm"}
    assert room([SERVO], **taper, hatch_from="0 mm", hatch_to="21 mm").answer == "fits"
    assert room([SERVO], **taper, hatch_from="50 mm", hatch_to="71 mm").answer == "not_found"


def test_what_is_wider_than_the_hatch_has_no_order() -> None:
    space = Space(size=mm(40, 20, 20), opening=Opening(side="top", wide=mm(9)[0]))
    assert order_in(space, [Spot((0, 0, 0), mm(10, 10, 5))], "top") is None
    assert order_in(space, [Spot((0, 0, 0), mm(10, 9, 5))], "top") == (0,)


def test_bad_sizes_are_refused() -> None:
    bad = read({"bays": [{**BAY, "hatch_from": "50 mm", "hatch_to": "40 mm"}, {**BAY, "hatch_width": "0 mm"}]})
    assert [problem(each) for each in bad.problems] == [
        "Bay 1, hatch begins behind its front: “50 mm” is too large beside “Hatch ends behind its front”.",
        "Bay 2, hatch width, in the middle: “0 mm” is outside what makes sense here: above 0 mm, up to 500 mm.",
    ]
    unread = assess(read({"gear": [SERVO], "bays": [{**BAY, "hatch_width": "wide"}]}).budget)
    assert unread.of(RoomBlock) is None
    assert unread.missing["room"] == ("bays.0.hatch_width",)


def test_balanced_places_still_go_in() -> None:
    balance = {"airframe_at": "150 mm", "target": "140 mm", "nose_at": "10 mm", "tail_at": "520 mm"}
    gear = [{**SERVO, "station": "60 mm"}, {**BOARD, "station": "65 mm"}]
    bay = {**BAY, "station": "40 mm", "hatch_from": "90 mm"}
    document = {"model": {"airframe": "30 g"}, "gear": gear, "bays": [bay], "balance": balance}
    found = in_one_go(find(document))
    assert isinstance(found, RoomFound)
    assert found.block.answer == "fits"
    assert found.block.order[0] is not None


def walk(space: Space, side: Any, part: Spot, others: Sequence[Spot]) -> bool:
    """Return whether a part gets out of a box by steps of a millimetre, never turned; lengths in mm."""
    assert space.opening is not None
    axis, out = OUT[side]
    low, high = space.opening.limits(space.size)
    seen, waiting = {part.at}, [part.at]
    while waiting:
        at = waiting.pop()
        if at[axis] >= space.size[axis] or at[axis] + part.size[axis] <= 0:
            return True
        for step in range(6):
            moved = [*at]
            moved[step // 2] += 1 if step % 2 else -1
            there = Spot((moved[0], moved[1], moved[2]), part.size)
            inside = [0 <= there.at[k] <= space.size[k] - part.size[k] for k in range(3)]
            square = [low[k] <= there.at[k] <= high[k] - part.size[k] for k in range(3) if k != axis]
            pushed = all(square) and (there.at[axis] >= 0 if out > 0 else inside[axis] or there.at[axis] < 0)
            free = (all(inside) or pushed) and all(apart(there, other) for other in others)
            if free and there.at not in seen:
                seen.add(there.at)
                waiting.append(there.at)
    return False


@settings(deadline=None, max_examples=25)
@given(
    sizes=st.lists(st.tuples(*[st.integers(3, 8)] * 3), min_size=1, max_size=4),
    side=st.sampled_from(list(OUT)),
    ends=st.tuples(st.integers(0, 6), st.integers(4, 14)),
    wide=st.one_of(st.none(), st.sampled_from([4, 6, 8])),
)
def test_every_part_walks_out(sizes: Any, side: Any, ends: tuple[int, int], wide: int | None) -> None:
    space = Space(size=(14, 10, 10), opening=Opening(side=side, begin=ends[0], end=ends[1], wide=wide))
    parts = [tuple(tuple(round(edge / 1e6) for edge in turn) for turn in any_way(*size)) for size in sizes]
    found = done(into(space, parts, 2000))  # type: ignore[arg-type]
    whole = done(into(Space(size=space.size), parts, 2000))  # type: ignore[arg-type]
    assert found.answer != "cannot" or whole.answer == "cannot"
    assert whole.answer != "cannot" or found.answer == "cannot"
    if found.answer != "fits":
        return
    order = order_in(space, found.spots, side)
    assert order is not None
    for at, index in enumerate(order):
        assert walk(space, side, found.spots[index], [found.spots[other] for other in order[:at]])
