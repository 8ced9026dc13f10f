"""Whatever stands in the parts, there is an answer, and what was typed comes back."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from calc.assess import assess
from calc.data import as_json
from calc.document.budget import read, to_document
from calc.document.fields import ChoiceField, FlagField, QuantityField, described
from calc.savings.find import find
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.airframe.entries import AirframePart
from calc.subjects.airframe.templates import started, templates
from calc.text import plain_text
from calc.units import default_unit, from_si

GEAR = [{"kind": "receiver", "mass": "1.1 g", "station": "100 mm"}]


def entries() -> dict[str, st.SearchStrategy[Any]]:
    """Return what may stand in each entry of a part: ends and middles of its range, words, and nonsense."""
    found: dict[str, st.SearchStrategy[Any]] = {}
    for name, field in described(AirframePart).items():
        if isinstance(field, ChoiceField):
            found[name] = st.sampled_from(field.choices)
        elif isinstance(field, FlagField):
            found[name] = st.booleans()
        elif isinstance(field, QuantityField):
            unit = default_unit(field.dimension, "metric")
            at = [field.low + (field.high - field.low) * share for share in (0.0, 1e-6, 0.01, 0.3, 1.0)]
            texts = [f"{from_si(each, unit, field.dimension):.9g} {unit}".strip() for each in at]
            found[name] = st.sampled_from([*texts, "§"])
        else:
            found[name] = st.sampled_from(["1", "2", "2026-03-14", "x"])
    return found


PART = st.fixed_dictionaries({}, optional=entries())
HUMIDITY = st.sampled_from(["5 %", "98 %"])
DOCUMENT = st.fixed_dictionaries(
    {"gear": st.just(GEAR), "airframe": st.lists(PART, max_size=4)},
    optional={
        "building": st.fixed_dictionaries({}, optional={
            "glue": st.sampled_from(["0 %", "5 %", "50 %", "§"]),
            "room_humidity": HUMIDITY, "field_humidity": HUMIDITY,
        }),
        "balance": st.just({"target": "200 mm", "nose_at": "0 mm", "tail_at": "600 mm"}),
        "model": st.sampled_from([{"target": "50 g"}, {"airframe": "30 g"}, {"airframe": "§"}, {"class": "p30"}]),
    },
)  # fmt: skip


@given(DOCUMENT)
@settings(max_examples=150)
def test_there_is_always_an_answer(document: dict[str, Any]) -> None:
    reading = read(document)
    found = assess(reading.budget)
    assert as_json(found)
    assert plain_text(found.budget, found)
    block = found.of(AirframeBlock)
    if block is not None:
        assert block.forecast.expected_kg > 0.0
        assert block.forecast.nominal_kg <= block.forecast.expected_kg * (1 + 1e-12)
        counted = {part.path for part in block.parts} | set(block.uncounted)
        assert counted >= {f"airframe.{index}" for index in range(len(document["airframe"]))}
    if not reading.problems:
        assert to_document(found.budget) == to_document(reading.budget)


@given(DOCUMENT)
@settings(max_examples=25)
def test_choices_can_always_be_worked_out(document: dict[str, Any]) -> None:
    for saving in find(document).list:
        assert abs(saving.saved_kg) > 0.0


def block(document: dict[str, Any]) -> AirframeBlock:
    """Return the airframe of a document."""
    found = assess(read(document).budget).of(AirframeBlock)
    assert found is not None
    return found


@given(st.sampled_from(list(templates())), st.data())
@settings(max_examples=40)
def test_weighing_a_part_of_a_budget_never_widens_the_spread(key: str, data: st.DataObject) -> None:
    """Whatever came before and whatever the scale says, on a scale of 10 mg."""
    document = {"scale_division": "0.01 g", **started({}, key)}
    order = data.draw(st.permutations(range(len(document["airframe"]))))[:5]
    spread_kg = block(document).forecast.spread_kg
    for at in order:
        planned_kg = block(document).parts[at].plan.planned_kg
        assert planned_kg is not None
        if planned_kg < 0.0002:
            continue  # no finer known by the scale than by the plan
        share = data.draw(st.floats(0.5, 2.0))
        document["airframe"][at]["weighed"] = f"{1e3 * planned_kg * share} g"
        now_kg = block(document).forecast.spread_kg
        assert now_kg <= spread_kg * (1.0 + 1e-12)
        spread_kg = now_kg


@given(st.integers(0, 60), st.integers(0, 60))
def test_a_density_that_is_less_sure_never_narrows_the_spread(one: int, other: int) -> None:
    plate = {"shape": "plate", "span": "0.3 m", "root": "80 mm", "thickness": "1 mm", "density": "100 kg/m³"}
    spreads = [
        block({"airframe": [{**plate, "either": f"{either} %"}]}).forecast.spread_kg for either in sorted([one, other])
    ]
    assert spreads[0] <= spreads[1]
    assert block({"airframe": [plate]}).forecast.spread_kg == block(
        {"airframe": [{**plate, "either": "0 %"}]}
    ).forecast.spread_kg  # fmt: skip
