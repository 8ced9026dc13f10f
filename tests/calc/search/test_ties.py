"""Sets of the same mass: ties are exact, and which of them is shown."""

from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.assess import assess
from calc.document.budget import read
from calc.document.fields import Entry
from calc.search import words as finder_words
from calc.search.exact import exact_mass
from calc.subjects.limits import allowance
from calc.unit_system import UnitSystem
from tests.calc.search.parts import BOX, CELL, COIL, MODEL, RECEIVER, ROD, SERVO, names, searched
from tests.support import demo_documents

WREN = demo_documents()["sedge-wren.json"]


def ounces(known_by: str = "weighed") -> list[dict[str, Any]]:
    """Return receivers and servos whose pairs tie at 0.006 oz and 30 mA."""
    figures = [("receiver", "0.005", 10), ("receiver", "0.003", 20), ("servo", "0.001", 20), ("servo", "0.003", 10)]
    return [
        {"kind": kind, "name": f"{kind} {oz}", "mass": f"{oz} oz", "draw": f"{ma} mA", "known_by": known_by}
        for kind, oz, ma in figures
    ]


@pytest.mark.parametrize("known_by", ["weighed", "maker", "guess"])
def test_ties_in_ounces_are_ties(known_by: str) -> None:
    """0.005 + 0.001 = 0.003 + 0.003 oz, 10 + 20 = 20 + 10 mA. And the command says so."""
    found = searched({"model": {**MODEL, "radio": "steering"}, "gear": [ROD]}, [*ounces(known_by), CELL])
    (_, tied, _) = [(each.ties, each.mass_kg) for each in found.sets]
    assert tied[0] == 2
    assert "1 other set is as light and runs as long" in finder_words.plain_text(found, UnitSystem.METRIC)


@settings(max_examples=80, deadline=None)
@given(
    parts=st.lists(
        st.tuples(
            st.sampled_from(["receiver", "servo", "linkage"]), st.integers(1, 6), st.integers(1, 3),
            st.sampled_from(["weighed", "maker", "guess"]), st.sampled_from(["oz", "g", "lb"]),
        ), min_size=3, max_size=7,
    ).filter(lambda parts: any(part[0] == "receiver" for part in parts))
)  # fmt: skip
def test_ties_are_those_of_the_plain_product(parts: list[tuple[str, int, int, str, str]]) -> None:
    """Masses added up as typed, with no float in between: the same best sets, and as many of each."""
    box = [
        {"kind": kind, "name": f"{n}", "mass": f"0.00{mass} {unit}", "draw": f"{draw} mA", "known_by": known_by}
        for n, (kind, mass, draw, known_by, unit) in enumerate(parts)
    ]
    found = searched({"model": MODEL}, [*box, CELL])
    per = {"oz": 28_349_523_125, "g": 1_000_000_000, "lb": 453_592_370_000}  # pg in a thousandth
    growth = {"weighed": 100, "maker": 105, "guess": 120}
    kinds = {part[0] for part in parts}
    wanted = ("receiver", "servo", "linkage") if "servo" in kinds else ("receiver",)
    slots = [[part for part in parts if part[0] == kind] for kind in wanted]
    sums: dict[tuple[int, int], int] = {}
    for there in product(*(slot for slot in slots if slot)):
        key = (sum(p[1] * per[p[4]] * growth[p[3]] for p in there), sum(p[2] for p in there))
        sums[key] = sums.get(key, 0) + 1
    best = {key: n for key, n in sums.items() if not any(o != key and o[0] <= key[0] and o[1] <= key[1] for o in sums)}
    assert sorted(each.ties for each in found.sets) == sorted(best.values())
    assert [each.ties for each in found.sets] == [best[key] for key in sorted(best)]


def test_a_mass_without_a_text_is_exact_too() -> None:
    assert exact_mass(Entry(value=0.0012), UnitSystem.METRIC) * 10_000 == 12


STATION = st.sampled_from([50, 100, 150, 300])


@settings(max_examples=60, deadline=None)
@given(
    at=st.tuples(STATION, STATION, STATION), grams=st.lists(st.integers(1, 3), min_size=6, max_size=6),
    ends=st.sampled_from([("10 mm", "500 mm"), ("10 mm", ""), ("", "500 mm")]),
)  # fmt: skip
def test_of_tied_sets_the_one_with_the_least_lead_is_shown(
    at: tuple[int, int, int], grams: list[int], ends: tuple[str, str]
) -> None:  # fmt: skip
    """Each tied set is worked out as a budget of its own, and none needs less lead than the one shown."""
    kinds = ("receiver", "receiver", "coil actuator", "coil actuator", "cell", "cell")
    box = [
        {"kind": kind, "name": f"{n}", "mass": f"{g} g", "draw": "10 mA", **({"capacity": "30 mAh"} if n > 3 else {})}
        for n, (kind, g) in enumerate(zip(kinds, grams, strict=True))
    ]
    stations = {"airframe_at": "160 mm", "target": "160 mm", "nose_at": ends[0], "tail_at": ends[1]}
    rows = [{"kind": "receiver", "station": f"{at[0]} mm"}, {"kind": "coil actuator", "station": f"{at[1]} mm"}]
    document = {"model": MODEL, "gear": rows, "cell": {"station": f"{at[2]} mm"}, "balance": stations}
    found = searched(document, box)
    made = []
    for picks in product((0, 1), (2, 3), (4, 5)):
        gear = [{**row, **box[pick]} for row, pick in zip(rows, picks[:2], strict=True)]
        cell = {key: box[picks[2]][key] for key in ("mass", "capacity")}
        budget = {**document, "gear": gear, "cell": {**cell, "station": f"{at[2]} mm"}}
        made.append(assess(read(budget).budget))
    (shown,) = found.sets
    tied = [each for each in made if abs(each.gear.expected_kg - shown.mass_kg) < 1e-9]
    assert shown.ties == len(tied)
    balance = shown.assessment.balance
    assert balance is not None
    if balance.ballast is not None or balance.balanced:
        assert shown.assessment.lead_kg <= min(e.lead_kg for e in tied if _known(e)) + 1e-9
    else:
        assert not any(_known(each) for each in tied)


def _known(found: Any) -> bool:
    return found.balance.ballast is not None or found.balance.balanced


def test_tied_sets_of_which_one_has_no_stations() -> None:
    """The servo's rod has no station, so its lead is not known; the coil's set is the one that is shown."""
    stations = {"airframe_at": "160 mm", "target": "160 mm", "nose_at": "10 mm", "tail_at": "500 mm"}
    rows = [{**RECEIVER, "station": "100 mm"}, {"kind": "coil actuator", "station": "150 mm"}]
    document = {"model": MODEL, "gear": rows, "cell": {"station": "70 mm"}, "balance": stations}
    box = [RECEIVER, {**COIL, "mass": "2.5 g"}, SERVO, ROD, CELL]
    (only,) = searched(document, box).sets
    assert only.ties == 2
    assert "coil" in names(only)
    assert only.assessment.balance is not None


def test_the_mass_of_a_set_is_that_of_its_budget_to_the_digit() -> None:
    found = searched(WREN, [*BOX, {**RECEIVER, "name": "odd", "mass": "0.335 g", "known_by": "maker"}], charges=8)
    for each in found.sets:
        assert each.mass_kg == assess(read(each.document).budget).gear.expected_kg
        assert each.by_weight == allowance.worst(each.assessment.limits_with_lead)


def test_a_tied_set_that_balances_is_the_one_shown() -> None:
    """1 + 2 g or 2 + 1 g, 10 mm ahead of and 20 mm aft of the wanted point: only the second is balanced."""
    stations = {"airframe_at": "160 mm", "target": "160 mm", "nose_at": "10 mm", "tail_at": "500 mm"}
    rows = [{"kind": "receiver", "station": "150 mm"}, {"kind": "coil actuator", "station": "180 mm"}]
    document = {"model": MODEL, "gear": rows, "cell": {"station": "160 mm"}, "balance": stations}
    box = [
        {"kind": kind, "name": f"{kind} {mass}", "mass": mass, "draw": "10 mA"}
        for kind, mass in product(("receiver", "coil actuator"), ("0.9 g", "1.8 g"))
    ]
    box[0]["draw"], box[3]["draw"] = "20 mA", "10 mA"
    box[1]["draw"], box[2]["draw"] = "10 mA", "20 mA"
    shown = next(each for each in searched(document, [*box, CELL]).sets if each.ties == 2)
    assert shown.assessment.lead_kg == 0.0
    assert names(shown)[:2] == ["receiver 1.8 g", "coil actuator 0.9 g"]
