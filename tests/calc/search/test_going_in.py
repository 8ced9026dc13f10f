"""The finder’s ranking under a bay: the same as when every set is looked at, whatever hides what."""

import random
from itertools import product
from typing import Any

import pytest

from calc.document.box import Box, read_box
from calc.document.budget import read
from calc.search import counts, finder, going_in, sets
from calc.search.data import as_json
from calc.search.task import task_of
from calc.search.words import plain_text
from calc.subject import Needs
from calc.subjects.room.answer import short_look
from calc.subjects.room.parts import spaces

BAY = {"length": "60 mm", "width": "13 mm", "height": "9 mm"}


def box_of(seed: int, each: int = 4) -> Box:
    """Return a box whose light parts are as likely large as small; a coil needs no linkage."""
    chance = random.Random(seed)

    def size() -> dict[str, str]:
        return {key: f"{chance.randint(low, high)} mm" for key, low, high in
                (("length", 8, 40), ("width", 5, 14), ("height", 2, 9))}  # fmt: skip

    def part(kind: str, number: int) -> dict[str, Any]:
        mass, draw = f"{chance.randint(5, 60) / 10} g", f"{chance.randint(4, 60)} mA"
        return {"kind": kind, "name": f"{kind} {number}", "mass": mass, "draw": draw, "busy_draw": "90 mA",
                "busy": "8 %", **(size() if number else {})}  # fmt: skip

    parts = [part(kind, number) for kind in ("receiver", "servo", "coil actuator") for number in range(each)]
    parts += [{"kind": "linkage", "name": f"rod {number}", "mass": f"{number + 1} g"} for number in range(2)]
    parts += [{"kind": "cell", "name": f"cell {number}", "mass": f"{chance.randint(5, 40) / 10} g",
               "capacity": f"{chance.randint(20, 200)} mAh", **size()} for number in range(each)]  # fmt: skip
    return read_box({"parts": parts})


def plainly(document: dict[str, Any], box: Box) -> list[tuple[int, int]]:
    """Return mass and time of the best sets, found by looking at every one."""
    budget = read(document).budget
    task, bays = task_of(budget, box), spaces(budget, Needs(budget))
    assert bays is not None
    bodies = going_in._Bodies(task, budget)
    found: dict[int, int] = {}
    for number, family in enumerate(task.families):
        for picks in product(*(range(len(slot.choices)) for slot in family)):
            label = sets.NOTHING
            for slot, pick in zip(family, picks, strict=True):
                label = sets.added(label, slot.choices[pick].option.label)
            for cell, supplied in enumerate(task.batteries):
                if counts.verdict(label, supplied.battery, task.need) != "works":
                    continue
                parts = going_in._turns(bodies.of((number, picks, cell)))
                if short_look(bays, parts).answer != "cannot":
                    mass = label[0] + supplied.battery.mass
                    found[mass] = max(found.get(mass, 0), supplied.battery.time(label[1], label[2], label[3]))
    best: list[tuple[int, int]] = []
    for mass in sorted(found):
        if not best or found[mass] > best[-1][1]:
            best.append((mass, found[mass]))
    return best


@pytest.mark.parametrize("seed", [2, 3, 4, 6, 7, 8])
def test_as_if_every_set_were_looked_at(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    gear = [{"kind": "receiver", "mass": "1 g", "draw": "9 mA"}, {"kind": "servo", "mass": "2 g", "draw": "5 mA"}]
    own = {"kind": "other", "mass": "1 g", "length": "6 mm", "width": "5 mm", "height": "4 mm"}  # stays in every set
    gear += [own, {"kind": "other", "mass": "1 g"}]
    bays = [{**BAY, "length": "45 mm"}] if seed % 2 else [{**BAY, "length": "42 mm"}, {**BAY, "length": "12 mm"}]
    document = {"model": {"airframe": "60 g"}, "gear": gear, "bays": bays}
    shown: list[sets.Best] = []
    kept = going_in.ranked

    def spied(*given: Any) -> Any:
        left = yield from kept(*given)
        shown.extend(left.best)
        assert left.complete
        return left

    monkeypatch.setattr(finder, "ranked", spied)
    come = finder.answer(document, box_of(seed))
    assert [(best.mass, best.time_ns) for best in shown] == plainly(document, box_of(seed))
    assert come.too_large > 0
    assert len(come.sets) == len(shown)  # none of them is left out again by the whole answer
    assert all(each.assessment.whole.parts["room"] != "bad" for each in come.sets)


def test_work_that_runs_out_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    document = {"model": {"airframe": "60 g"}, "bays": [BAY]}
    monkeypatch.setattr(going_in, "MOST_LOOKS", 1)
    come = finder.answer(document, box_of(1))
    assert not come.all_looked_at
    assert as_json(come)["room_looks_ran_out"] is True
    assert "a better one that goes in may be missing" in " ".join(plain_text(come, come.system).split())
    assert all(each.assessment.whole.parts["room"] != "bad" for each in come.sets)


def test_what_is_not_shown_was_not_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(finder, "MOST_SHOWN", 1)
    come = finder.answer({"model": {"airframe": "60 g"}, "bays": [BAY]}, box_of(3))
    assert "more, heavier and longer-running, not looked at for the bays" in plain_text(come, come.system)


def test_without_a_bay_nothing_is_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(going_in, "short_look")
    come = finder.answer({"model": {"airframe": "60 g"}}, box_of(1))
    assert come.sets
    assert come.too_large == 0


def test_sets_that_tie_are_told_as_one() -> None:
    one = sets.Best(mass=5, time_ns=9, count=2, family=0, picks=(0,), battery=0, tied=((0, (0,), 0), (0, (1,), 0)))
    other = sets.Best(mass=5, time_ns=9, count=1, family=1, picks=(0,), battery=0, tied=((1, (0,), 0),))
    worse = sets.Best(mass=6, time_ns=9, count=1, family=1, picks=(1,), battery=0, tied=((1, (1,), 0),))
    (best,) = going_in.merged([worse, one, other])
    assert (best.count, len(best.tied)) == (3, 3)
