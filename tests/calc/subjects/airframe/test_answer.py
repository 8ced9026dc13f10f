"""The airframe part by part: its sums, what it lends the other subjects, and what it never makes better."""

import copy
from math import cos, radians
from typing import Any

import pytest

from calc.assess import assess
from calc.compare.sides import compare
from calc.document.budget import from_json, read, to_document, to_json
from calc.document.jsontext import dumps
from calc.errors import BudgetError
from calc.subjects.airframe import words
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.balance.words import balance_sentence
from calc.text import plain_text
from calc.unit_system import UnitSystem
from tests.calc.budgets import assessed, reported
from tests.calc.full import BY_PARTS, full
from tests.support import reference

TABLE = reference("airframe")
GEAR = [{"kind": "receiver", "mass": "1.1 g", "station": "120 mm"}]
TUBE = {
    "name": "tube", "group": "fuselage", "shape": "rolled", "material": "balsa-light", "density": "110 kg/m3",
    "diameter": "25 mm", "thickness": "0.8 mm", "length": "400 mm",
}  # fmt: skip
FILM = {"name": "film", "group": "covering", "shape": "cover", "material": "film-5", "span": "800 mm",
        "root": "120 mm", "tip": "80 mm", "area": True}  # fmt: skip
PROPELLER = {"name": "propeller", "group": "propeller", "mass": "4 g", "known_by": "maker"}


def frame(*parts: dict[str, Any], **document: Any) -> AirframeBlock:
    """Return the airframe of some parts without glue, on an exact scale."""
    once = document.pop("once", {})
    found = assessed(scale_division="0 g", gear=GEAR, airframe=list(parts), building={"glue": 0, **once}, **document)
    block = found.of(AirframeBlock)
    assert block is not None
    return block


def one(**part: Any) -> float:
    """Return the planned mass of one part in grams."""
    return frame(part).planned_kg * 1e3


STRAIGHT = {"span": "760 mm", "root": "120 mm", "density": "110 kg/m3"}
SHAPES: list[tuple[dict[str, Any], float]] = [
    (TUBE, 2.765),  # AB-2
    ({**TUBE, "shape": "cone", "diameter": "12 mm", "end_diameter": "5 mm", "length": "450 mm"}, 1.057),  # AB-3
    ({"shape": "strip", "density": "6 lb/ft3", "width": "3 in", "thickness": "1/32 in", "length": "36 in"}, 5.3155),
    ({**STRAIGHT, "shape": "ribs", "pitch": "50 mm", "depth": "8 %", "thickness": "0.8 mm"}, 17 * 0.0694327),
    # AB-6 ribs of AB-5: 789.2 mm² × 0.8 mm × 110 kg/m³ = 69.4 mg
    ({**STRAIGHT, "shape": "plate", "thickness": "1 mm"}, 760 * 120 * 1e-6 * 0.110 * 1e3),
    ({**STRAIGHT, "shape": "frame", "pitch": "50 mm", "width": "2 mm", "thickness": "2 mm"}, 1.5664),
    # (2 × 760 + 17 × 120) mm of 4 mm² at 110 kg/m³
    ({**FILM, "sides": 2}, 0.0800 * 2 * 7.0),  # AB-4
    ({**FILM, "material": "polyester", "thickness": "5 µm"}, 0.0800 * 6.95),
    ({**FILM, "planform": "ellipse"}, 0.07540 * 7.0),  # AB-7
    ({**FILM, "dihedral": "10°"}, 0.0800 * 7.0 / cos(radians(10))),
    ({**FILM, "shape": "finish", "material": "dope", "coats": 2, "sides": 2}, 0.0800 * 2 * 2 * 3.0),
    ({**FILM, "weight": "25 g/m2"}, 0.0800 * 25),
    ({"shape": "rod", "material": "steel", "diameter": "1 mm", "length": "100 mm"}, 0.61654),
    ({"shape": "tube", "material": "carbon", "diameter": "3 mm", "bore": "2 mm", "length": "500 mm"}, 3.0434),
    ({"shape": "thread", "tex": "25 tex", "length": "1.2 m"}, 0.030),
    ({"shape": "filler", "volume": "0.5 ml", "density": "1100 kg/m3"}, 0.55),
    ({**PROPELLER, "count": 3}, 12.0),
]


@pytest.mark.parametrize(("part", "grams"), SHAPES, ids=[part.get("shape", "given") for part, _ in SHAPES])
def test_each_shape_as_a_part_of_a_budget(part: dict[str, Any], grams: float) -> None:
    assert one(**part) == pytest.approx(grams, rel=5e-4)
    assert one(**{**part, "count": 4}) == pytest.approx(grams / part.get("count", 1) * 4, rel=5e-4)


def test_groups_expected_and_forecast() -> None:
    """2.765 g sketched and 4 g of a maker: 2.765 × 1.18 + 4 × 1.05 = 7.463 g."""
    block = frame(TUBE, PROPELLER)
    assert block.expected.expected_kg * 1e3 == pytest.approx(7.463, abs=1e-3)
    assert block.forecast.expected_kg == block.expected.expected_kg
    assert {group: round(kg * 1e3, 3) for group, kg in block.groups.items()} == {"propeller": 4.2, "fuselage": 3.262}
    assert sum(block.groups.values()) == pytest.approx(block.forecast.expected_kg, rel=1e-12)


def test_glue_goes_on_wood_that_is_not_weighed() -> None:
    block = frame(TUBE, PROPELLER, once={"glue": "5 %"})
    assert block.planned_kg * 1e3 == pytest.approx(2.765 * 1.05 + 4.0, abs=1e-3)
    built = frame({**TUBE, "weighed": "3 g"}, PROPELLER, once={"glue": "5 %"})
    assert built.parts[0].counts.expected_kg == pytest.approx(0.003, rel=1e-12)
    assert built.parts[0].glue_kg == 0.0


def test_damp_widens_the_spread_by_what_bare_wood_takes_up_and_moves_nothing() -> None:
    """HU-5: 20 g of wood weighed in the room is 21.97 g on the field."""
    wood = {**TUBE, "weighed": "20 g"}
    air = {"room_humidity": "40 %", "room_temperature": "20 °C", "field_humidity": "85 %", "field_temperature": "12 °C"}
    dry, damp = frame(wood, PROPELLER), frame(wood, PROPELLER, once=air)
    assert damp.damp_kg is not None
    assert (0.020 + damp.damp_kg) * 1e3 == pytest.approx(TABLE["damp"]["mass_g"], abs=0.006)
    assert damp.forecast.expected_kg == dry.forecast.expected_kg
    wider = (damp.forecast.uncertainty_kg**2 - dry.forecast.uncertainty_kg**2) ** 0.5
    assert wider == pytest.approx(damp.damp_kg / 3**0.5, rel=1e-9)
    half = assessed(gear=GEAR, airframe=[TUBE], building={"room_humidity": "40 %"})
    assert half.missing["airframe"] == ("building.field_humidity",)


def test_the_airframe_balances_at_its_parts() -> None:
    """A cylinder from 0 to 400 mm at its middle, 4.2 g at 10 mm: (3.263 × 200 + 4.2 × 10)/7.463 = 93.07 mm."""
    block = frame({**TUBE, "station": 0, "along": "400 mm"}, {**PROPELLER, "station": "10 mm"})
    assert block.cg_m is not None
    assert block.cg_m * 1e3 == pytest.approx(93.07, abs=0.02)
    assert frame(TUBE, {**PROPELLER, "station": "10 mm"}).cg_m is None
    boom = {**TUBE, "shape": "cone", "diameter": "20 mm", "end_diameter": 0, "length": "300 mm", "station": 0}
    cone = frame(boom)
    assert cone.cg_m == pytest.approx(0.1, rel=1e-9)  # a third behind the thick end


def test_the_days_of_building() -> None:
    parts: list[dict[str, Any]] = [
        {**TUBE, "weighed": "3.2 g", "weighed_on": "2026-03-14"},
        {**PROPELLER, "weighed": "4.1 g", "weighed_on": "2026-03-20"}, FILM,
    ]  # fmt: skip
    block = frame(*parts)
    assert [each.day.isoformat() for each in block.days] == ["2026-03-14", "2026-03-20"]
    assert block.days[-1].forecast_kg == block.forecast.expected_kg
    first = frame(parts[0], PROPELLER, FILM)
    assert block.days[0].forecast_kg == first.forecast.expected_kg
    assert block.days[0].spread_kg >= block.days[1].spread_kg
    assert block.undated == 0
    spoilt = frame({**parts[0], "weighed_on": "14 March"}, parts[1], FILM)  # counts from the first day on
    assert spoilt.undated == 1
    assert [each.forecast_kg for each in spoilt.days] == [block.forecast.expected_kg]
    assert (block.plan.expected_kg, block.plan.uncertainty_kg) == (
        frame(TUBE, PROPELLER, FILM).forecast.expected_kg,
        frame(TUBE, PROPELLER, FILM).forecast.uncertainty_kg,
    )


def test_the_forecast_is_the_airframe_in_the_other_sums() -> None:
    found = assessed(gear=GEAR, model={"target": "40 g"}, airframe=[TUBE, PROPELLER, FILM])
    block = found.of(AirframeBlock)
    assert block is not None
    assert found.model.airframe_kg == block.forecast.expected_kg
    assert found.limits[0].allows_kg == pytest.approx(0.2 / 0.8 * block.forecast.nominal_kg)  # the share, no growth
    assert found.limits[1].allows_kg == pytest.approx(0.040 - block.forecast.expected_kg)
    assert found.air is not None
    assert found.air.conditions.area_m2 == pytest.approx(TABLE["trapezoid"]["area_m2"], rel=1e-9)
    assert block.chord_m == pytest.approx(TABLE["trapezoid"]["chord_m"], abs=5e-6)


def test_what_is_typed_goes_before_the_parts_and_is_told() -> None:
    parts = [TUBE, FILM]
    for model, source in (
        ({"airframe": "30 g"}, "typed"),
        ({"airframe": "30 g", "airframe_weighed": "31 g"}, "weighed"),
    ):
        found = assessed(gear=GEAR, model={**model, "wing_area": "9 dm2"}, airframe=parts)
        assert found.model.airframe_kg == (0.031 if source == "weighed" else 0.030)
        assert found.budget.model.wing_area is not None
        assert found.budget.model.wing_area.value == pytest.approx(0.09)
        block = found.of(AirframeBlock)
        assert block is not None
        assert block.source == source
        assert "The other sums take the airframe" in plain_text(found.budget, found).replace("\n", " ")


@pytest.mark.parametrize("entry", ["airframe", "airframe_weighed", "wing_area"])
def test_no_part_stands_in_for_what_cannot_be_read(entry: str) -> None:
    found = assessed(gear=GEAR, model={entry: "nonsense"}, airframe=[TUBE, FILM])
    lost = found.budget.model.wing_area if entry == "wing_area" else found.model.airframe_kg
    assert lost is None


def test_a_part_without_a_mass_makes_it_at_least() -> None:
    lacking = {"name": "fin", "shape": "plate", "span": "90 mm"}
    answer = reported(gear=GEAR, model={"target": "40 g"}, airframe=[TUBE, lacking])
    assert answer["airframe"]["at_least"] is True
    assert answer["uncounted"] == ["airframe.1"]
    assert answer["whole"]["open"] is True
    assert answer["missing"]["airframe"] == ["airframe.1.root", "airframe.1.thickness"]
    found = assessed(gear=GEAR, airframe=[TUBE, lacking])
    said = plain_text(found.budget, found).replace("\n", " ")
    assert "at least 3.4" in said
    assert "1 part without a mass not counted" in said


def test_the_command_wants_every_dimension() -> None:
    document = {"airframe": [TUBE, {"shape": "cover", "material": "polyester", "span": "1 m", "root": "1 m"}]}
    with pytest.raises(BudgetError) as refused:
        from_json(dumps(document))
    assert [(each.field, each.code) for each in refused.value.problems] == [("airframe.1.thickness", "missing")]


def test_a_document_with_parts_comes_back_as_it_was_typed() -> None:
    document = {**full(), **copy.deepcopy(BY_PARTS)}
    budget = from_json(to_json(read(document).budget))
    assert to_document(budget) == document
    assert to_document(assess(budget).budget) == document  # what parts lend has no text


def test_without_parts_nothing_is_said() -> None:
    assert "airframe" not in reported(**full())
    assert "airframe" not in reported(**full(), building={"glue": "5 %"})
    assert assessed(**full(), airframe=[]).of(AirframeBlock) is None


def test_a_heavier_part_never_leaves_more_in_hand() -> None:
    """Under each limit but the share, which goes by the airframe without growth."""
    for limits in ({"target": "40 g"}, {"maximum": "40 g"}, {"max_loading": "6 g/dm2"}):
        hands = []
        for mass in ("4 g", "5 g", "9 g"):
            found = assessed(gear=GEAR, model=limits, airframe=[TUBE, FILM, {**PROPELLER, "mass": mass}])
            hands.append(found.limits[1].in_hand_kg)
        assert hands == sorted(hands, reverse=True)


def test_a_part_that_weighs_twice_its_plan_is_told() -> None:
    """2.765 g planned and 8 g on the scale: 2.9 times."""
    found = assessed(gear=GEAR, building={"glue": 0}, airframe=[{**TUBE, "weighed": "8 g"}, FILM])
    said = plain_text(found.budget, found).replace("\n", " ")
    assert "Look again at the tube: it weighs 2.9 times its plan" in said
    fair = assessed(gear=GEAR, building={"glue": 0}, airframe=[{**TUBE, "weighed": "3 g"}, FILM])
    assert "Look again" not in plain_text(fair.budget, fair)


def test_what_the_forecast_says_beside_the_plan() -> None:
    """All as planned; a drier field; a damper one."""
    exact = frame({**PROPELLER, "weighed": "4 g"})
    assert exact.finished
    said = words.airframe_sentence(exact, UnitSystem.METRIC)
    assert said.startswith("All parts are weighed: together 4.00 g ± 0.00 g, as you planned.")
    light = words.airframe_sentence(frame({**PROPELLER, "weighed": "3 g"}, TUBE), UnitSystem.METRIC)
    assert "under what you planned" in light
    dry = frame(TUBE, once={"room_humidity": "80 %", "field_humidity": "40 %"})
    assert "gives off" in words.airframe_sentence(dry, UnitSystem.METRIC)
    damp = frame(TUBE, once={"room_humidity": "40 %", "field_humidity": "80 %"})
    assert "takes up" in words.airframe_sentence(damp, UnitSystem.METRIC)


def test_two_airframes_side_by_side() -> None:
    parts = [TUBE, PROPELLER]
    before, after = (
        read({"airframe": each}).budget for each in (parts, [{**TUBE, "thickness": "1 mm"}, PROPELLER, FILM])
    )
    found = {each.path: (each.before, each.after) for each in compare(before, after).differences}
    assert found["airframe.0.thickness"] == ("0.8 mm", "1 mm")
    assert found["airframe.2.name"] == ("", "film")
    assert "airframe.1.mass" not in found


def test_ribs_that_are_all_at_the_tips_of_an_ellipse_are_not_counted_as_nothing() -> None:
    ribs = {**STRAIGHT, "shape": "ribs", "planform": "ellipse", "pitch": "800 mm", "depth": "8 %", "thickness": "1 mm"}
    found = assessed(gear=GEAR, airframe=[ribs])
    assert found.of(AirframeBlock) is None
    assert found.missing["airframe"] == ("airframe.0.pitch",)
    assert reported(gear=GEAR, airframe=[{**PROPELLER, "weighed": "0 g"}])["missing"]["airframe"]


def test_the_airframe_in_one_line() -> None:
    assert words.brief(frame(PROPELLER), UnitSystem.METRIC) == "1 part, 4.20 g"
    built = frame({**PROPELLER, "weighed": "4 g"}, {"shape": "rod"})
    assert words.brief(built, UnitSystem.METRIC) == "1 part, at least 4.00 g, 1 weighed"


def test_a_strip_of_what_is_sold_by_its_area_waits_for_a_density() -> None:
    strip = {"shape": "strip", "material": "tissue", "width": "5 mm", "thickness": "1 mm", "length": "100 mm"}
    assert assessed(gear=GEAR, airframe=[strip]).missing["airframe"] == ("airframe.0.density",)


def test_a_balance_from_planned_parts_stays_open_and_says_so() -> None:
    """The airframe's own point is nobody's measurement: typed, the same figure is good."""
    rod = {"shape": "given", "mass": "20 g", "station": "150 mm"}
    gear = [{"kind": "servo", "mass": "2 g", "station": "150 mm"}]
    by_parts = assessed(airframe=[rod], gear=gear, balance={"target": "150 mm"})
    typed = assessed(airframe=[rod], gear=gear, balance={"target": "150 mm", "airframe_at": "150 mm"})
    assert by_parts.balance is not None
    assert by_parts.balance.by_parts
    assert (by_parts.whole.parts["balance"], typed.whole.parts["balance"]) == ("open", "good")
    assert "measure it once it is built" in balance_sentence(by_parts.balance, UnitSystem.METRIC)
    assert typed.balance is not None
    assert "once it is built" not in balance_sentence(typed.balance, UnitSystem.METRIC)
