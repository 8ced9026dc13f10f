"""What must hold of any gear and any bay: places clear of each other and of the walls, and a larger bay is no worse."""

from math import hypot
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from calc.assess import assess
from calc.document.budget import read
from calc.subjects.room.answer import RoomBlock, short_look
from calc.subjects.room.boxes import Spot, apart
from calc.subjects.room.hatch import OUT, Opening
from calc.subjects.room.spaces import Space
from tests.calc.subjects.room.test_bays import MM, any_way, mm

PER = {"mm": 1.0, "cm": 10.0, "in": 25.4}
SIZES = st.lists(st.tuples(*[st.integers(3, 16)] * 3), min_size=1, max_size=5)
OPENINGS = st.one_of(
    st.none(),
    st.builds(
        Opening,
        side=st.sampled_from(list(OUT)),
        begin=st.integers(0, 8).map(lambda each: each * MM),
        end=st.one_of(st.none(), st.integers(10, 40).map(lambda each: each * MM)),
        wide=st.one_of(st.none(), st.integers(4, 16).map(lambda each: each * MM)),
    ),
)


def inside(space: Space, spot: Spot) -> bool:
    """Return whether a part keeps its clearance to the walls, to two nanometres."""
    lengthwise = space.wall <= spot.at[0] <= space.size[0] - space.wall - spot.size[0]
    ends = [(each, each + wide) for each, wide in zip(spot.at[1:], spot.size[1:], strict=True)]
    if space.kind == "tube":
        half = space.size[1] / 2.0
        far = max(hypot(y - half, z - half) for y in ends[0] for z in ends[1])
        return lengthwise and far <= half - space.wall + 2.0
    wide = space.taper.widest
    section = space.taper.section(spot.at[0], spot.at[0] + spot.size[0]) if space.kind == "tapered" else (
        wide[0] - 2 * space.wall, wide[1] - 2 * space.wall
    )  # fmt: skip
    return lengthwise and all(
        (whole - clear) / 2.0 - 2.0 <= low and high <= (whole + clear) / 2.0 + 2.0
        for (low, high), whole, clear in zip(ends, wide, section, strict=True)
    )


@settings(deadline=None, max_examples=40)
@given(
    sizes=SIZES,
    kind=st.sampled_from(["box", "tube", "tapered"]),
    bay=st.tuples(st.integers(20, 70), *[st.integers(10, 30)] * 4),
    clear=st.tuples(st.integers(0, 2), st.integers(0, 2)),
    unit=st.sampled_from(sorted(PER)),
)
def test_places_keep_clear_in_any_unit(sizes: Any, kind: str, bay: Any, clear: Any, unit: str) -> None:
    def text(millimetres: float) -> str:
        return f"{millimetres / PER[unit]:.12f} {unit}"

    keys = ("length", "width", "height", "back_width", "back_height")
    edges = dict(zip(keys, map(text, bay), strict=True))
    given_bay = {"kind": kind, **edges, "gap": text(clear[0]), "wall": text(clear[1])}
    gear = [dict(zip(keys, map(text, size), strict=False)) for size in sizes]
    block = assess(read({"gear": gear, "bays": [given_bay]}).budget).of(RoomBlock)
    assert block is not None
    (space,) = block.spaces
    spots = [each.spot for each in block.parts]
    assert (len(spots) == len(sizes)) == (block.answer == "fits")
    assert all(inside(space, spot) for spot in spots)
    wide = [Spot(each.at, tuple(edge + space.gap for edge in each.size)) for each in spots]  # type: ignore[arg-type]
    assert all(apart(one, other) for at, one in enumerate(wide) for other in wide[:at])
    assert all(sorted(each.spot.size) == sorted(mm(*size)) for each, size in zip(block.parts, sizes, strict=False))


@settings(deadline=None, max_examples=40)
@given(
    sizes=SIZES,
    kind=st.sampled_from(["box", "tube", "tapered"]),
    bay=st.tuples(st.integers(20, 60), *[st.integers(8, 24)] * 4),
    opening=OPENINGS,
    edge=st.sampled_from(["length", "width", "height"]),
    by=st.integers(1, 5),
    second=st.booleans(),
)
def test_a_bay_grown_never_turns_fits_into_cannot(
    sizes: Any, kind: Any, bay: Any, opening: Opening | None, edge: Any, by: int, second: bool
) -> None:
    space = Space(kind=kind, size=mm(*bay[:3]), back=mm(*bay[3:]), gap=MM // 2, wall=MM // 4, opening=opening)
    more = (Space(size=mm(20, 10, 8)),) if second else ()
    parts = tuple(any_way(*size) for size in sizes)
    found = short_look((space, *more), parts, 1500)
    grown = short_look((space.wider(edge, by * MM), *more), parts, 1500)
    assert (found.answer, grown.answer) != ("fits", "cannot")
