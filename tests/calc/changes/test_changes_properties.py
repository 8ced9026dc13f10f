"""What must hold of the changes for any budget and any box."""

import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from calc.changes.change import order
from calc.changes.data import as_json
from calc.changes.edits import applied, as_data, backwards, from_data
from calc.changes.find import find
from calc.changes.words import lines, sentence
from calc.document.box import read_box
from calc.document.entries import KNOWN_BY
from calc.document.jsontext import dumps
from calc.unit_system import UnitSystem
from site_src.tools.corpus import CORPUS
from tests.calc.changes.budgets import BOX as BASE_BOX
from tests.calc.changes.budgets import NOSE_LEAD, OVER, SHORT_RUN, SOUND, WEAK, answered, with_

CAP = 25
KINDS = ("receiver", "servo", "altimeter", "tracker", "mount", "linkage", "other", "supply")


def mm(low: int, high: int) -> st.SearchStrategy[str]:
    return st.integers(low, high).map(lambda n: f"{n} mm")


MASS = st.one_of(
    st.integers(1, 60).map(lambda n: f"{n / 10:.1f} g"), st.integers(1, 15).map(lambda n: f"{n}/100 oz"),
    st.sampled_from(["1,5", "heavy"]),
)  # fmt: skip
PART = {
    "draw": st.integers(0, 60).map(lambda n: f"{n} mA"), "busy_draw": st.integers(0, 300).map(lambda n: f"{n} mA"),
    "busy": st.integers(0, 100).map(lambda n: f"{n} %"), "min_volts": st.sampled_from(["2.8 V", "3.1", "4.5 V"]),
    "known_by": st.sampled_from(KNOWN_BY), "draw_known_by": st.sampled_from(["measured", "guess"]),
}  # fmt: skip
ROW = st.fixed_dictionaries(
    {"kind": st.sampled_from(KINDS), "mass": MASS},
    optional={**PART, "station": mm(0, 600), "count": st.integers(1, 3), "weighed": MASS, "off": st.booleans()},
)
CELL_ENTRIES = {"capacity": st.integers(5, 200).map(lambda n: f"{n} mAh"), "resistance": st.just("0.6 ohm")}
CELL = st.fixed_dictionaries({"mass": MASS}, optional={**CELL_ENTRIES, "station": mm(0, 600)})
SURFACE = st.fixed_dictionaries(
    {
        "span": mm(40, 120), "chord": st.just("60 mm"), "flap_chord": st.just("20 mm"), "deflection": st.just("20°"),
        "speed": st.sampled_from(["6 m/s", "20 m/s"]), "horn": mm(3, 12), "arm": mm(3, 12),
    },
    optional={"torque": st.integers(1, 30).map(lambda n: f"{n} mN m")},
)  # fmt: skip
ANY = st.fixed_dictionaries(
    {
        "model": st.fixed_dictionaries(
            {"airframe": st.integers(20, 80).map(lambda n: f"{n} g")},
            optional={
                "target": st.integers(25, 90).map(lambda n: f"{n} g"), "airframe_known_by": st.sampled_from(KNOWN_BY),
                "airframe_weighed": st.integers(20, 80).map(lambda n: f"{n} g"),
            },
        ),
        "gear": st.lists(ROW, min_size=1, max_size=5),
    },
    optional={
        "units": st.sampled_from(["metric", "imperial", "metricc"]), "cell": CELL, "surface": SURFACE,
        "session": st.fixed_dictionaries(
            {"flights": st.integers(1, 9), "on_time": st.sampled_from(["4 min", "12", "1:47", "40 min", "5 s"])},
            optional={"reserve": st.sampled_from(["0 %", "20%", "35", "90 %"])},
        ),
        "balance": st.fixed_dictionaries(
            {"airframe_at": mm(150, 250), "target": mm(150, 250), "nose_at": mm(0, 180), "tail_at": mm(400, 700)}
        ),
        "linkage": st.fixed_dictionaries({"length": mm(200, 400)}, optional={"diameter": st.just("1 mm")}),
    },
)  # fmt: skip
LIGHT = st.integers(2, 40).map(lambda n: f"{n / 10:.1f} g")
NEAR = st.builds(  # budgets that are near to fitting: the sound one and what it was bent to, bent further
    lambda base, rows, **blocks: with_(base, **{f"row{n}": row for n, row in enumerate(rows)}, **blocks),
    st.sampled_from([SOUND, OVER, SHORT_RUN, NOSE_LEAD, WEAK]),
    st.lists(st.fixed_dictionaries({}, optional={"mass": LIGHT, **PART, "count": st.integers(1, 2)}), max_size=1),
    model=st.fixed_dictionaries({}, optional={"target": st.integers(470, 510).map(lambda n: f"{n / 10} g")}),
    cell=st.fixed_dictionaries({}, optional={"mass": LIGHT, **CELL_ENTRIES}),
    session=st.fixed_dictionaries({}, optional={"on_time": st.integers(5, 90).map(lambda n: f"{n} min")}),
)
BOXED = st.fixed_dictionaries(
    {"kind": st.sampled_from((*KINDS, "cell")), "mass": MASS},
    optional={**PART, **CELL_ENTRIES, "torque": st.integers(1, 30).map(lambda n: f"{n} mN m"), "volts": st.just("5 V")},
)
HELPFUL = st.builds(lambda part, mass: {**part, "mass": mass}, st.sampled_from(BASE_BOX["parts"]), LIGHT)
BOX = st.fixed_dictionaries(
    {"parts": st.builds(list.__add__, st.lists(HELPFUL, min_size=2, max_size=5), st.lists(BOXED, max_size=2))},
    optional={"units": st.sampled_from(["metric", "imperial"])},
)
DOCUMENT = st.one_of(NEAR, NEAR, ANY)
FEWER = settings(max_examples=40)


@FEWER
@given(DOCUMENT, BOX)
def test_each_change_does_what_is_said_of_it(document: dict[str, Any], box: dict[str, Any]) -> None:
    before, listed = answered(document), find(document, read_box(box), CAP)
    assert listed.count <= CAP
    dumps(as_json(listed))
    assert all(len(line) <= 78 for line in lines(listed))
    assert listed.cut <= (listed.count == CAP)
    for change in listed.changes:
        edits = from_data(json.loads(json.dumps(as_data(change.edits))))
        assert edits == change.edits
        if not edits:
            assert change.what.code in ("weigh", "airframe")
            continue
        after = applied(document, edits)
        told = answered(after)
        assert told.whole == change.assessment.whole
        assert applied(after, backwards(edits)) == document
        if change.fits:
            assert told.whole.verdict == "fits"
            assert before.whole.open or not told.whole.open
        assert set(told.uncounted) <= set(before.uncounted)
        assert change.what.measure > 0.0
        assert sentence(change, UnitSystem.IMPERIAL).endswith(".")


@FEWER
@given(DOCUMENT, BOX)
def test_the_order_is_the_same_each_time_and_less_reserve_comes_last(
    document: dict[str, Any], box: dict[str, Any]
) -> None:  # fmt: skip
    turned = {**box, "parts": list(reversed(box["parts"]))}
    first, second = (find(document, read_box(each)) for each in (box, turned))
    assert [each.what.code for each in first.changes] == [each.what.code for each in second.changes]
    assert list(first.changes) == sorted(first.changes, key=order)
    codes = [each.what.code for each in first.changes]
    assert "reserve" not in codes[:-1]
    fitting = [each.fits for each in first.changes if each.what.code not in ("weigh", "reserve")]
    assert fitting == sorted(fitting, reverse=True)
    if not first.needed:
        assert set(codes) <= {"weigh"}


def test_hostile_documents_raise_nothing() -> None:
    parsed = 0
    for text in list(CORPUS.values())[::2]:
        try:
            document = json.loads(text)
        except (ValueError, RecursionError):
            continue
        parsed += 1
        listed = find(document, read_box(document), 4)
        assert listed.count <= 4
        dumps(as_json(listed))
    assert parsed > 100
