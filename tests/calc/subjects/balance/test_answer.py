"""The balance of a budget: worked by hand, what it waits for, its sentence."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import headline
from calc.assess import Assessment
from calc.subjects.balance import words as balance_words
from calc.unit_system import UnitSystem
from tests.calc.budgets import (
    BALANCE,
    CELL,
    GEAR,
    MODEL,
    missing,
    small,
    whole,
    whole_json,
)


def test_balance_worked_by_hand() -> None:
    """44.5@168 + 1.1@120 + 1.7@150 + 1.0@70 + 10@190: 9833 g mm over 58.3 g = 168.66 mm; lead 58.3 × 8.66 / 150."""
    found = whole_json()["balance"]
    assert found["cg_mm"] == pytest.approx(9833.0 / 58.3, abs=1e-4)
    assert found["off_mm"] == pytest.approx(9833.0 / 58.3 - 160.0, abs=1e-4)
    assert found["nose_ballast_g"] == pytest.approx((9833.0 - 160.0 * 58.3) / 150.0, abs=1e-4)
    assert found["cg_without_rubber_mm"] == pytest.approx(7933.0 / 48.3, abs=1e-4)


def test_lead_balances_and_counts_in_every_limit() -> None:
    """Put back as a part of the gear at its station, the lead gives the wanted point and the same margins."""
    found = whole()
    assert found.balance is not None
    assert found.balance.ballast is not None
    lead = {"mass": f"{found.lead_kg * 1e3!r} g", "station": "10 mm"}
    after = whole(gear=[*GEAR, lead], scale_division="0 g")
    assert after.balance is not None
    assert after.balance.cg_m == pytest.approx(0.160, abs=1e-9)
    assert after.balance.ballast is None
    for led, put_back in zip(found.limits_with_lead, after.limits, strict=True):
        assert led.in_hand_kg == pytest.approx(put_back.in_hand_kg, abs=1e-12)


def test_a_set_that_fits_can_stop_fitting_once_it_needs_lead() -> None:
    model = {**MODEL, "target": "49.5 g"}
    found = whole(model=model)
    assert (found.verdict_before_lead, found.verdict) == ("fits", "over")
    said = headline.headline(found, UnitSystem.METRIC)
    assert said.startswith("Over by 2.17 g, 3.37 g of lead at the nose counted (without the lead 1.20 g in hand)")
    assert headline.short_headline(found, UnitSystem.METRIC) == "Over by 2.17 g with lead"
    report = whole_json(model=model)
    assert (report["verdict_before_lead"], report["verdict"]) == ("fits", "over")
    assert report["limits_with_lead"][1]["in_hand_g"] == pytest.approx(1.2 - found.lead_kg * 1e3, abs=1e-5)


def test_headlines_with_lead_that_leaves_the_verdict() -> None:
    assert headline.headline(whole(), UnitSystem.METRIC).startswith(
        "Fits, with 3.96 g in hand, 3.37 g of lead at the nose counted (without the lead 7.33 g in hand), in every case"
    )
    over = whole(model={**MODEL, "target": "47 g"})
    said = "Over by 4.67 g, 3.37 g of lead at the nose counted (without the lead 1.30 g over)"
    assert headline.headline(over, UnitSystem.METRIC).startswith(said)


def test_a_part_moved_where_it_says_balances_the_model() -> None:
    found = whole(balance={**BALANCE, "target": "168 mm"})
    assert found.balance is not None
    moves = {move.path: move.to_m for move in found.balance.moves}
    assert set(moves) == {"gear.0", "gear.1", "cell"}
    moved = [GEAR[0], {**GEAR[1], "station": f"{moves['gear.1'] * 1e3!r} mm"}]
    after = whole(balance={**BALANCE, "target": "168 mm"}, gear=moved)
    assert after.balance is not None
    assert after.balance.cg_m == pytest.approx(0.168, abs=1e-9)
    assert after.balance.balanced


def test_tail_lead() -> None:
    found = whole_json(balance={**BALANCE, "target": "180 mm"})["balance"]
    assert found["tail_ballast_g"] == pytest.approx((180.0 * 58.3 - 9833.0) / 340.0, abs=1e-4)


def test_wanted_point_as_a_share_of_the_chord() -> None:
    chord = {"target_chord": "50 %", "leading_edge": "110 mm", "chord": "100 mm"}
    without = {key: entry for key, entry in BALANCE.items() if key != "target"}
    assert whole_json(balance={**without, **chord})["balance"]["off_mm"] == pytest.approx(8.662, abs=1e-3)
    assert missing("balance", balance={**without, "chord": "100 mm"}) == (
        "balance.target_chord", "balance.leading_edge"
    )  # fmt: skip


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"balance": None}, "balance.airframe_at"),
        ({"balance": {}}, "balance.airframe_at"),
        ({"balance": {"airframe_at": "168 mm", "rubber_at": "190 mm"}}, "balance.target"),
        ({"balance": {"airframe_at": "168 mm", "rubber_at": "190 mm", "target": "x"}}, "balance.target"),
        ({"balance": {"airframe_at": "168 mm", "rubber_at": "190 mm", "target": "160 mm"}}, "balance.nose_at"),
        ({"balance": {"airframe_at": "168 mm", "rubber_at": "190 mm", "target": "170 mm"}}, "balance.tail_at"),
        ({"balance": {**BALANCE, "nose_at": "160 mm"}}, "balance.nose_at"),
        ({"balance": {**BALANCE, "nose_at": "200 mm"}}, "balance.nose_at"),
        ({"balance": {**BALANCE, "rubber_at": "x"}}, "balance.rubber_at"),
        ({"model": {"class": "p30", "rubber": "10 g"}}, "model.airframe"),
        ({"gear": [{"mass": "1 g"}]}, "gear.0.station"),
        ({"gear": [{"station": "1 mm"}]}, "gear.0.mass"),
        ({"cell": {"mass": "1 g"}}, "cell.station"),
    ],
)
def test_balance_waits(changes: dict[str, Any], path: str) -> None:
    assert missing("balance", **changes) == (path,)


@pytest.mark.parametrize(
    ("balance", "words"),
    [
        (BALANCE, "It balances at 168.7 mm, 8.7 mm behind the wanted 160 mm: tail-heavy. 3.37 g of lead at the nose"),
        (
            {**BALANCE, "target": "180 mm"},
            "11.3 mm ahead of the wanted 180 mm: nose-heavy. 1.94 g of lead at the tail",
        ),
        ({"airframe_at": "168 mm", "rubber_at": "190 mm"}, "It balances at 168.7 mm."),
        ({**BALANCE, "target": "168.7 mm"}, "as near to the wanted 168.7 mm as a fingertip feels"),
        ({**BALANCE, "nose_at": "200 mm"}, "give a station for it at the nose, beyond the wanted point"),
        ({"airframe_at": "168 mm", "target": "190 mm"}, "give a station for it at the tail, beyond the wanted point"),
    ],
)
def test_balance_sentence(balance: dict[str, Any], words: str) -> None:
    found = whole(balance=balance).balance
    assert found is not None
    assert words in balance_words.balance_sentence(found, UnitSystem.METRIC)


@given(st.integers(-400, 400))
def test_moving_the_datum_moves_no_mass(shift_mm: int) -> None:
    def shifted(text: str) -> str:
        return f"{float(text.removesuffix(' mm')) + shift_mm!r} mm"

    gear = [{**row, "station": shifted(row["station"])} for row in GEAR]
    moved = whole(
        gear=gear, cell={**CELL, "station": shifted(CELL["station"])},
        balance={key: shifted(entry) for key, entry in BALANCE.items()},
    )  # fmt: skip
    here = whole()
    assert moved.balance is not None
    assert here.balance is not None
    assert moved.lead_kg == pytest.approx(here.lead_kg, abs=1e-12)
    assert moved.balance.cg_m - here.balance.cg_m == pytest.approx(shift_mm / 1e3, abs=1e-12)


def balanced(target: str, *gear: dict[str, str], **ends: str) -> Assessment:
    balance = {"airframe_at": "200 mm", "target": target, "nose_at": "10 mm", "tail_at": "500 mm", **ends}
    return small(gear=list(gear), balance=balance)


def test_a_part_at_the_very_nose_counts_there() -> None:
    """40 g at 200 mm and 10 g at 0 mm balance at 160 mm."""
    found = balanced("160 mm", {"mass": "10 g", "station": "0 mm", "kind": "servo"}).balance
    assert found is not None
    assert found.cg_m == pytest.approx(0.160)
    assert [part.name for part in found.placed] == ["airframe", "servo"]


@pytest.mark.parametrize("target", ["180.3 mm", "179.7 mm"])
def test_half_a_millimetre_needs_no_lead_and_no_move(target: str) -> None:
    found = balanced(target, {"mass": "10 g", "station": "100 mm", "name": "a cell"}).balance
    assert found is not None
    assert found.placed[1].name == "a cell"
    assert (found.balanced, found.ballast, found.moves) == (True, None, ())


@pytest.mark.parametrize(("mass", "to_mm"), [("1 g", None), ("10 g", 50.0), ("100 g", 95.0)])
def test_a_part_is_moved_only_between_nose_and_tail(mass: str, to_mm: float | None) -> None:
    """By M (t − cg)/m: 41 g off by 97.6 mm need 4 m of a part of 1 g; worked by hand for the others."""
    target = {"1 g": "100 mm", "10 g": "170 mm", "100 g": "125 mm"}[mass]
    found = balanced(target, {"mass": mass, "station": "100 mm"}).balance
    assert found is not None
    assert [move.to_m * 1e3 for move in found.moves] == ([] if to_mm is None else [pytest.approx(to_mm)])
    behind = balanced("300 mm", {"mass": "1 g", "station": "100 mm"}).balance
    assert behind is not None
    assert behind.moves == ()


@pytest.mark.parametrize("end", ["nose_at", "tail_at"])
def test_without_both_ends_no_part_is_moved(end: str) -> None:
    found = balanced("170 mm", {"mass": "10 g", "station": "100 mm"}, **{end: ""}).balance
    assert found is not None
    assert found.moves == ()
