"""What a visitor keeps, bars and asks for in the finder."""

import json
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.__main__ import main
from calc.errors import OutOfRangeError
from calc.search import words as finder_words
from calc.unit_system import UnitSystem
from tests.calc.search.parts import BOX, CELL, COIL, MODEL, RECEIVER, ROD, SERVO, names, searched


def test_parts_are_kept_and_barred() -> None:
    box = [
        *BOX,
        {**RECEIVER, "name": "heavy rx", "mass": "3 g"},
        {"kind": "tracker", "name": "tag", "mass": "1 g", "draw": "9 mA"},
    ]
    kept = searched({"model": MODEL}, box, keep=("HEAVY rx ", "tag"))
    assert kept.sets
    assert all({"heavy rx", "tag"} <= set(names(each)) for each in kept.sets)
    assert not any("coil" in names(each) for each in searched({"model": MODEL}, box, bar=("coil",)).sets)
    assert ("coil", "barred") in searched({"model": MODEL}, box, bar=("coil",)).task.left_out
    own = {"model": MODEL, "gear": [{**RECEIVER, "name": "mine", "mass": "2 g"}], "cell": {**CELL, "name": "own cell"}}
    for each in searched(own, box, keep=("mine", "own cell")).sets:
        assert {"mine", "own cell"} <= set(names(each))
    small = {**CELL, "name": "small", "mass": "0.5 g", "capacity": "10 mAh"}
    assert all("cell" in names(each) for each in searched({"model": MODEL}, [*box, small], keep=("cell",)).sets)


@pytest.mark.parametrize(("word", "other"), [("servo", "coil"), ("coil", "servo")])
def test_servos_only_or_coils_only(word: str, other: str) -> None:
    found = searched({"model": MODEL}, BOX, actuator=word)
    assert all(word in names(each) and other not in names(each) for each in found.sets)
    own = {"model": MODEL, "gear": [{**(SERVO if other == "servo" else COIL), "name": "own"}]}
    nothing = searched(own, [RECEIVER, CELL, ROD], actuator=word)
    assert nothing.task.waits == ("nothing_left",)
    lacking = searched({"model": MODEL}, [part for part in BOX if part["name"] != word], actuator=word)
    assert lacking.task.waits == ("nothing_left",)


@pytest.mark.parametrize(
    ("wishes", "waits"),
    [
        ({"keep": ("anvil",)}, "no_such_part"),
        ({"bar": ("anvil",)}, "no_such_part"),
        ({"keep": ("coil",), "bar": ("coil",)}, "kept_left_out"),
        ({"keep": ("coil",), "actuator": "servo"}, "nothing_left"),
        ({"keep": ("cell", "small")}, "no_cell"),
        ({"keep": ("rx", "coil", "servo")}, "nothing_left"),  # two actuators for one place
    ],
)
def test_wishes_that_cannot_be_met_are_told(wishes: dict[str, Any], waits: str) -> None:
    small = {**CELL, "name": "small"}
    found = searched({"model": MODEL}, [*BOX, small], **wishes)
    assert found.task.waits == (waits,)
    assert "Nothing can be searched yet: " in finder_words.headline(found, UnitSystem.METRIC)


def test_a_barred_row_of_the_budget_does_not_stay() -> None:
    own = {"model": MODEL, "gear": [{"kind": "altimeter", "name": "logger", "mass": "1 g", "draw": "1 mA"}]}
    assert searched(own, BOX, bar=("logger",)).task.waits == ("nothing_left",)


@settings(max_examples=60, deadline=None)
@given(
    grams=st.lists(st.integers(1, 4), min_size=3, max_size=4), keep=st.integers(0, 2), second=st.integers(0, 2),
    draws=st.lists(st.integers(1, 3), min_size=4, max_size=4),
)  # fmt: skip
def test_kept_parts_leave_the_sets_of_the_plain_product(
    grams: list[int], keep: int, second: int, draws: list[int]
) -> None:  # fmt: skip
    """Two places for servos: all pairs that hold what is kept; the front of them by brute force."""
    servos = [{"kind": "servo", "name": f"s{n}", "mass": f"{g} g", "draw": f"{d} mA"}
              for n, (g, d) in enumerate(zip(grams, draws, strict=False))]  # fmt: skip
    rows = [{"kind": "servo", "mass": "1 g"}] * 2 + [{"kind": "linkage", "mass": "1 g"}]
    wanted = {f"s{keep}", f"s{second}"}
    found = searched({"model": MODEL, "gear": rows}, [*servos, RECEIVER, CELL], keep=tuple(sorted(wanted)))
    sums: dict[tuple[int, int], int] = {}
    for pair in product(range(len(servos)), repeat=2):
        if wanted <= {f"s{n}" for n in pair}:
            key = (sum(grams[n] for n in pair), sum(draws[n] for n in pair))
            sums[key] = sums.get(key, 0) + 1
    best = {key: n for key, n in sums.items() if not any(o != key and o[0] <= key[0] and o[1] <= key[1] for o in sums)}
    assert {(round(each.mass_kg * 1e3) - 3, each.ties) for each in found.sets} == {(k[0], n) for k, n in best.items()}


@pytest.mark.parametrize("charges", ["0", "-2", "two", "1000", "1.5"])
def test_the_command_refuses_a_wrong_number_of_charges(
    charges: str, tmp_path: Any, capsys: pytest.CaptureFixture[str]
) -> None:  # fmt: skip
    assert main(["finder", str(tmp_path / "none"), str(tmp_path / "none"), f"--charges={charges}"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith(f"--charges: “{charges}” is no number of charged cells")
    with pytest.raises(OutOfRangeError):
        searched({"model": MODEL}, BOX, charges=0)


def test_the_command_takes_wishes(tmp_path: Any, capsys: pytest.CaptureFixture[str]) -> None:
    box, budget = tmp_path / "box.json", tmp_path / "budget.json"
    box.write_text(json.dumps({"parts": BOX}), encoding="utf-8")
    budget.write_text(json.dumps({"model": MODEL}), encoding="utf-8")
    assert main(["finder", str(box), str(budget), "--keep", "servo", "--bar", "coil", "--actuator", "servo"]) == 0
    assert "rx · servo · rod · cell" in capsys.readouterr().out
    assert main(["finder", str(box), str(budget), "--keep", "anvil", "--bar", "tongs"]) == 2
    assert capsys.readouterr().err.splitlines() == [
        "“anvil” is neither in the box nor in the budget.", "“tongs” is neither in the box nor in the budget."
    ]  # fmt: skip
