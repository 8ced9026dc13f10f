"""The geometry of the figures: to scale, inside the picture."""

import itertools

import pytest

from calc.assess import assess
from calc.document.budget import read
from site_src.app import scale
from site_src.app.answer import answer
from site_src.subjects.limits import drawing as limit_drawing
from site_src.subjects.power import drawing as power_drawing
from tests.support import demo_documents

BUDGETS = {name: read(document).budget for name, document in demo_documents().items()}


@pytest.mark.parametrize("name", BUDGETS)
def test_blocks_are_as_wide_as_their_mass_and_stand_side_by_side(name: str) -> None:
    shown = answer(BUDGETS[name])
    blocks, rows = shown.strip.blocks, shown.assessment.rows
    scale = blocks[0].width / rows[0].mass.expected_kg
    for block, row in zip(blocks, rows, strict=True):
        assert block.width == pytest.approx(scale * row.mass.expected_kg, abs=0.02)
    for left, right in itertools.pairwise(blocks):
        assert right.at == pytest.approx(left.at + left.width, abs=0.02)
    end = blocks[-1].at + blocks[-1].width
    spots = sorted(dot.at for dot in shown.strip.dots)
    assert spots[0] - limit_drawing.DOT <= end <= spots[-1] + limit_drawing.DOT
    assert end < 100


@pytest.mark.parametrize("name", BUDGETS)
def test_a_limit_stands_where_the_gear_would_reach_it(name: str) -> None:
    shown = answer(BUDGETS[name])
    by_name = {limit.id: limit for limit in shown.assessment.limits}
    last = shown.strip.blocks[-1]
    scale = (last.at + last.width) / shown.assessment.gear.expected_kg
    assert len(shown.strip.marks) == len(by_name)
    governing = next(mark for mark in shown.strip.marks if mark.governs)
    assert shown.assessment.governs is not None
    assert governing.at == pytest.approx(scale * shown.assessment.governs.allows_kg, rel=2e-3)
    assert not governing.beyond
    assert sorted(mark.level for mark in shown.strip.marks) == list(range(len(by_name)))


def test_a_limit_that_leaves_nothing_stands_at_the_left_end() -> None:
    shown = answer(read({"model": {"airframe": "50 g", "target": "45 g"}, "gear": [{"mass": "2 g"}]}).budget)
    governing = next(mark for mark in shown.strip.marks if mark.governs)
    assert governing.at == 0.0
    assert governing.text == "target flying weight nothing"


@pytest.mark.parametrize("name", BUDGETS)
def test_the_share_of_dots_past_the_limit_is_the_chance(name: str) -> None:
    """Twenty dots: each stands for one case in twenty."""
    shown = answer(BUDGETS[name])
    chance = shown.assessment.chance
    assert chance is not None
    within = sum(not dot.beyond for dot in shown.strip.dots)
    assert within == pytest.approx(20 * chance.with_lead[chance.against], abs=1)
    assert shown.strip.heap == 1 + max(dot.level for dot in shown.strip.dots)


@pytest.mark.parametrize("name", BUDGETS)
def test_the_curve_falls_and_ends_where_the_run_ends(name: str) -> None:
    power = assess(BUDGETS[name]).power
    assert power is not None
    curve = power_drawing.curve(power)
    spots = [tuple(float(number) for number in spot.split(",")) for spot in curve.mean.split()]
    assert all(0 <= x <= 100.01 and 0 <= y <= 100.01 for x, y in spots)
    assert all(a[0] <= b[0] and a[1] <= b[1] for a, b in itertools.pairwise(spots))
    empty = power_drawing._Clock(power)
    assert curve.end == pytest.approx(100 * empty.at(power.worst.end_state) / empty.life_s, abs=0.01)
    if power.load.supply is None and power.plan is not None and power.plan.pause_s == 0.0:
        assert curve.end == pytest.approx(100 * (1 - power.worst.end_state), abs=0.01)
    assert all(band.at + band.width <= curve.end + 0.02 for band in curve.bands)


@pytest.mark.parametrize(
    ("top", "most"), [(0.013, 6), (0.99, 6), (1.0, 6), (7.3, 6), (10.0, 5), (123.0, 6), (5000.0, 7)]
)
def test_scales_have_few_and_round_numbers(top: float, most: int) -> None:
    ticks = scale.ticks_to(top, most)
    assert 2 <= len(ticks) <= most + 1
    assert ticks[0] == 0.0
    assert ticks[-1] <= top * (1 + 1e-9)
