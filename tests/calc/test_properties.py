"""What must hold for any budget."""

import json
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from calc.assess import Assessment, assess
from calc.document import link
from calc.document.budget import from_json, read, to_document, to_json
from calc.document.entries import KINDS, KNOWN_BY

GRAMS = st.integers(1, 3000).map(lambda n: n / 100)
MASS = st.one_of(
    GRAMS.map(lambda g: f"{g} g"), GRAMS.map(lambda g: f"{g}".replace(".", ",") + " g" if g % 1 else f"{g:g}"),
    st.integers(1, 200).map(lambda n: f"{n / 100} oz"), st.integers(1, 31).map(lambda n: f"{n}/32 oz"), GRAMS,
)  # fmt: skip
TEXT = st.text(max_size=30).filter(bool)
ROW = st.fixed_dictionaries(
    {"mass": MASS},
    optional={
        "kind": st.sampled_from(KINDS), "name": TEXT, "count": st.one_of(st.integers(1, 9), st.just("2")),
        "known_by": st.sampled_from(KNOWN_BY), "station": st.integers(-50, 900).map(lambda n: f"{n} mm"),
        "draw": st.integers(0, 60).map(lambda n: f"{n} mA"), "busy_draw": st.integers(0, 300).map(lambda n: f"{n} mA"),
        "busy": st.integers(0, 100).map(lambda n: f"{n} %"), "min_volts": st.sampled_from(["2.8 V", "3.1", "3,3 V"]),
        "off": st.booleans(),
    },
)  # fmt: skip
CELL = st.fixed_dictionaries(
    {"mass": MASS, "capacity": st.integers(5, 300).map(lambda n: f"{n} mAh")},
    optional={
        "name": TEXT,
        "known_by": st.sampled_from(KNOWN_BY),
        "resistance": st.sampled_from(["0.4 ohm", "900 mΩ"]),
    },
)
SESSION = st.fixed_dictionaries(
    {},
    optional={
        "flights": st.integers(1, 20), "on_time": st.sampled_from(["4 min", "1:30", "5 min 30 s", "90 s"]),
        "temperature": st.integers(-20, 40).map(lambda n: f"{n} °C"), "reserve": st.sampled_from(["0 %", "20%", "35"]),
    },
)  # fmt: skip
MODEL = st.fixed_dictionaries(
    {"airframe": st.integers(2, 300).map(lambda n: f"{n} g")},
    optional={
        "class": st.sampled_from(["p30", "f1g", "own", "f3k"]), "airframe_known_by": st.sampled_from(KNOWN_BY),
        "target": st.integers(5, 400).map(lambda n: f"{n} g"), "rubber": st.integers(0, 20).map(lambda n: f"{n} g"),
        "wing_area": st.integers(2, 20).map(lambda n: f"{n} dm²"), "max_loading": st.just("9 g/dm²"),
    },
)  # fmt: skip
DOCUMENT = st.fixed_dictionaries(
    {"model": MODEL, "gear": st.lists(ROW, min_size=1, max_size=6)},
    optional={
        "format": st.just(1), "name": TEXT, "units": st.sampled_from(["metric", "imperial"]), "cell": CELL,
        "session": SESSION, "rule": st.just({"share": "22 %"}), "scale_division": st.just("0.05 g"),
    },
)  # fmt: skip


def assessed(document: dict[str, Any]) -> Assessment:
    """Return the assessment of a sound document."""
    reading = read(document)
    assert reading.problems == ()
    return assess(reading.budget)


@given(DOCUMENT)
def test_what_was_typed_comes_back(document: dict[str, Any]) -> None:
    source = json.dumps(document)
    assert to_document(from_json(source)) == document
    assert from_json(to_json(from_json(source))) == from_json(source)


@given(DOCUMENT)
def test_a_link_opens_as_the_budget_it_was_made_of(document: dict[str, Any]) -> None:
    assert link.decode(link.encode(document)) == {"format": 1, **document}


JSON_VALUES = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=50)),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(st.text(max_size=8), inner, max_size=4)),
    max_leaves=20,
)


@given(JSON_VALUES, st.sampled_from(["model", "rule", "cell", "session", "balance", "gear", "units", "format", "name"]))
def test_any_value_anywhere_is_read_or_told_and_never_raises(value: Any, key: str) -> None:
    assess(read(value).budget)
    assess(read({"model": {"airframe": "40 g"}, "gear": [{"mass": "1 g"}], key: value}).budget)


@given(DOCUMENT, ROW)
def test_adding_mass_never_improves_a_limit(document: dict[str, Any], row: dict[str, Any]) -> None:
    before = assessed(document)
    after = assessed({**document, "gear": [*document["gear"], row]})
    for old, new in zip(before.limits, after.limits, strict=True):
        assert new.in_hand_kg <= old.in_hand_kg + 1e-12
        order = ["fits", "close", "over"]
        if row.get("known_by", "weighed") == "weighed":
            assert new.in_hand_kg - new.spread_kg <= old.in_hand_kg - old.spread_kg + 1e-12
            assert order.index(new.verdict) >= order.index(old.verdict) or new.verdict == "close"


WITH_CELL = DOCUMENT.filter(lambda d: "cell" in d)


@given(WITH_CELL, st.integers(1, 200))
def test_more_draw_never_lengthens_a_run(document: dict[str, Any], more_ma: int) -> None:
    before = assessed(document)
    thirsty = {"mass": "0 g", "draw": f"{more_ma} mA"}
    after = assessed({**document, "gear": [*document["gear"], thirsty]})
    if before.power is not None:
        assert after.power is not None
        assert after.power.run.time_s <= before.power.run.time_s + 1e-9


@given(WITH_CELL, st.integers(-20, 40), st.integers(0, 60))
def test_colder_never_lengthens_a_run(document: dict[str, Any], celsius: int, colder: int) -> None:
    def at(temperature: int) -> Assessment:
        session = {**document.get("session", {}), "temperature": f"{temperature} °C"}
        return assessed({**document, "session": session})

    warm, cold = at(celsius), at(max(-20, celsius - colder))
    if warm.power is not None and cold.power is not None:
        assert cold.power.run.time_s <= warm.power.run.time_s + 1e-9


@given(
    st.integers(100, 20_000),
    st.lists(st.tuples(st.integers(1, 400), st.sampled_from(KNOWN_BY)), min_size=1, max_size=6),
)
def test_grams_and_ounces_give_the_same_verdict(airframe_cg: int, rows: list[tuple[int, str]]) -> None:
    """Masses in hundredths of a gram, typed in grams and typed in ounces to the last digit of a float."""

    def document(unit: str, size_g: float) -> dict[str, Any]:
        def typed(hundredths: int) -> str:
            return f"{hundredths / 100 / size_g!r} {unit}"

        gear = [{"mass": typed(mass), "known_by": known} for mass, known in rows]
        return {"model": {"airframe": typed(airframe_cg)}, "gear": gear}

    grams, ounces = assessed(document("g", 1.0)), assessed(document("oz", 28.349523125))
    assert grams.verdict == ounces.verdict
    assert grams.governs is not None
    assert ounces.governs is not None
    assert abs(grams.governs.in_hand_kg - ounces.governs.in_hand_kg) < 1e-12
