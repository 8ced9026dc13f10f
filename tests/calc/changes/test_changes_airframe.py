"""What would make it fit where the airframe's mass comes from its parts."""

import pytest

from calc.changes.find import find
from calc.changes.words import lines
from calc.document.box import read_box
from calc.search import finder
from calc.subjects.airframe.templates import started, templates

GEAR = [{"kind": "receiver", "mass": "1.1 g", "station": "100 mm"}, {"kind": "servo", "mass": "4 g"}]


@pytest.mark.parametrize("grams", ["38 g", "40 g", "42 g", "50 g"])
@pytest.mark.parametrize("key", templates())
def test_the_list_can_be_worked_out_for_any_model(key: str, grams: str) -> None:
    model = {"target": grams, "use": "sport"}
    found = find(started({"model": model, "rule": {"share": "50 %"}, "gear": GEAR}, key))
    assert all(lines(found))


def test_weighing_the_airframe_is_told_where_it_could_settle_it() -> None:
    """36.4 g ± 5.9 g of airframe and 5.1 g of gear under 42 g: only the scale can tell."""
    document = started({"model": {"target": "42 g", "use": "sport"}, "rule": {"share": "50 %"}, "gear": GEAR},
                       "thirty-inch")  # fmt: skip
    change = next(each for each in find(document).changes if each.what.code == "weigh")
    assert change.what.path == "model.airframe"
    assert change.what.before == "31.442 g"  # the sum of the planned column of its table, 31.44 g
    assert not change.edits


def test_the_finder_takes_the_parts_as_the_airframe() -> None:
    box = read_box({"parts": [{"kind": "servo", "mass": "1.7 g", "draw": "6 mA"}]})
    document = started({"model": {"target": "60 g", "use": "sport"}, "gear": [{"kind": "servo"}]}, "thirty-inch")
    assert finder.answer(document, box).task is not None
