"""What choices save: each worked out by `assess` on the changed document, so that they add up."""

import json
from collections import defaultdict
from pathlib import Path
from typing import Any

import pytest

from calc.__main__ import main
from calc.assess import assess
from calc.changes.edits import applied
from calc.data import as_json
from calc.document.budget import read
from calc.savings import find, words
from calc.savings.find import Savings
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.airframe.templates import started, templates
from tests.calc.budgets import ROD, SURFACE

GEAR: list[dict[str, Any]] = [{"kind": "receiver", "mass": "1.1 g"}]
COVER: dict[str, Any] = {
    "name": "covering", "group": "covering", "shape": "cover", "material": "tissue", "span": "800 mm",
    "root": "100 mm", "sides": 2, "area": True,
}  # fmt: skip

AIR: dict[str, Any] = {"launch": "rubber", "rubber_energy": "4 kJ/kg", "efficiency": "50 %"}
MODEL: dict[str, Any] = {"use": "sport", "target": "60 g", "rubber": "10 g"}


def grams(document: Any) -> float:
    block = assess(read(document).budget).of(AirframeBlock)
    assert block is not None
    return block.forecast.expected_kg * 1e3


def after(found: Savings) -> dict[str, float]:
    return {each.choice.after: each.saved_kg * 1e3 for each in found.list}


def test_a_thinner_covering_by_hand() -> None:
    """16 dm² of tissue at 13.3 g/m² is 2.128 g; film of 5 µm at 7.0 is 1.12 g; 1.18 × 1.008 = 1.189 g less."""
    document = {"model": MODEL, "gear": GEAR, "air": AIR, "airframe": [COVER]}
    found = find.find(document)
    assert after(found)["polyester film, 5 µm"] == pytest.approx(1.18 * 0.16 * (13.3 - 7.0), rel=1e-9)
    assert after(found)["kite paper"] == pytest.approx(-1.18 * 0.16 * (25.6 - 13.3), rel=1e-9)
    film = next(each for each in found.list if "film" in each.choice.after)
    assert film.still_air_s is not None
    assert film.still_air_s > 0.0


@pytest.mark.parametrize("key", templates())
def test_every_choice_is_what_the_changed_budget_comes_to(key: str) -> None:
    document = started({"gear": GEAR}, key)
    found = find.find(document)
    assert len(found.list) > 15
    assert [each.saved_kg for each in found.list] == sorted((each.saved_kg for each in found.list), reverse=True)
    for each in found.list:
        changed = applied(document, each.edits)
        assert grams(document) - grams(changed) == pytest.approx(each.saved_kg * 1e3, abs=1e-9)


def test_savings_on_different_parts_add_up() -> None:
    """With nothing weighed, growth is the same share of each part: two choices together save the sum of the two."""
    document = started({}, "thirty-inch")
    found = find.find(document)
    first = found.list[0]
    second = next(each for each in found.list if each.path != first.path)
    both = applied(applied(document, first.edits), second.edits)
    assert grams(document) - grams(both) == pytest.approx((first.saved_kg + second.saved_kg) * 1e3, abs=1e-9)


def test_what_is_built_is_not_changed_any_more() -> None:
    parts = [{**COVER, "weighed": "2.2 g"}, {**COVER, "name": "tail", "span": "300 mm"}]
    assert {each.path for each in find.find({"airframe": parts}).list} == {"airframe.1"}


def test_sizes_are_those_of_the_system_that_was_typed_in() -> None:
    strip = {"name": "spar", "shape": "strip", "width": "1/8 in", "thickness": "2 mm", "length": "36 in"}
    frame = {"name": "tail", "shape": "frame", "span": "300 mm", "root": "80 mm", "pitch": "40", "width": "2.2 mm",
             "thickness": "20 mm"}  # fmt: skip
    found: dict[tuple[str, str], set[tuple[str, str]]] = defaultdict(set)
    for each in find.find({"airframe": [strip, frame]}).list:
        found[each.part, each.choice.name].add((each.choice.before, each.choice.after))
    assert found["spar", "width"] == {("1/8 in", "6/64 in"), ("1/8 in", "10/64 in")}
    assert found["spar", "thickness"] == {("2 mm", "1.5 mm"), ("2 mm", "2.5 mm")}
    assert found["tail", "pitch"] == {("40 mm", "50 mm"), ("40 mm", "32 mm")}
    assert found["tail", "width"] == {("2.2 mm", "2 mm"), ("2.2 mm", "2.5 mm")}
    assert found["tail", "thickness"] == {("20 mm", "15 mm")}


def test_one_coat_less() -> None:
    """0.16 m² twice at 3 g/m²: a coat is 0.48 g × 1.18; of one coat there is none less."""
    dope = {**COVER, "name": "dope", "shape": "finish", "material": "dope", "coats": 2}
    assert after(find.find({"airframe": [dope]})) == {
        "1": pytest.approx(1.18 * 0.48, rel=1e-9), "3": pytest.approx(-1.18 * 0.48, rel=1e-9)
    }  # fmt: skip
    once = find.find({"airframe": [{**dope, "coats": 1}]})
    assert set(after(once)) == {"2"}


def test_lines_instead_of_a_rod() -> None:
    """The mass of lines comes from the linkage's own sum."""
    rod = [*GEAR, {"kind": "linkage", "name": "push rod", "mass": "0.9 g"}]
    document: dict[str, Any] = {
        "model": MODEL,
        "gear": rod,
        "surface": SURFACE,
        "linkage": ROD,
        "airframe": [COVER],
    }
    found = find.find(document)
    lines = next(each for each in found.list if each.choice.name == "lines")
    changed = applied(document, lines.edits)
    assert changed["linkage"]["kind"] == "lines"
    linkage = assess(read(changed).budget).linkage
    assert linkage is not None
    assert linkage.strength is not None
    assert lines.saved_kg == pytest.approx(0.0009 - 1.2 * linkage.strength.mass_kg, abs=2e-6)
    assert "lines instead of the rod" in words.what(lines)
    two = {**document, "gear": [*rod, rod[-1]]}
    assert not [each for each in find.find(two).list if each.choice.name == "lines"]
    bare = {**document, "linkage": {**ROD, "length": ""}}
    assert not [each for each in find.find(bare).list if each.choice.name == "lines"]
    loose = {key: item for key, item in document.items() if key != "surface"}  # no force is known: nor what lines take
    assert not [each for each in find.find(loose).list if each.choice.name == "lines"]


def test_the_headline_tells_what_is_in_hand() -> None:
    found = find.find({"model": {**MODEL, "target": "6 g"}, "gear": GEAR, "airframe": [COVER]})
    said = words.headline(found)
    assert "in hand; with covering: condenser paper instead of model tissue" in said or "over; with covering" in said
    assert words.headline(find.find({})) == "No choice beside these parts saves anything."
    typed = find.find({"model": {**MODEL, "airframe": "40 g"}, "gear": GEAR, "airframe": [COVER]})
    assert words.headline(typed).endswith(words.NOT_COUNTED)
    assert "in hand" not in words.sentence(typed.list[0], typed)
    alone = find.find({"airframe": [COVER], "rule": {"share": "20 %"}})
    assert words.headline(alone)


def test_a_list_cut_short_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(find, "MOST", 5)
    found = find.find(started({}, "indoor"))
    assert found.cut
    assert len(found.list) == 4
    assert "left untried" in "\n".join(words.lines(found))


def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "indoor.json"
    assert main(["airframe", "indoor"]) == 0
    file.write_text(capsys.readouterr().out, encoding="utf-8")
    assert main(["savings", str(file)]) == 0
    said = capsys.readouterr().out
    assert "- wing frame: thickness 1.5 mm instead of 2 mm saves 0.13 g" in said
    assert words.CAUTION in said.replace("\n", " ")
    assert main(["savings", str(file), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["airframe"]
    assert found["savings"][0]["saved_g"] == pytest.approx(0.134, abs=0.001)
    assert main(["savings", str(tmp_path / "none.json"), "--json"]) == 2
    capsys.readouterr()
    assert main(["airframe", "--csv", str(file)]) == 0
    assert capsys.readouterr().out.startswith("Part,Belongs to,Shape")
    assert main(["airframe", "--csv", str(tmp_path / "none.json")]) == 2


def test_the_whole_answer_has_them_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By the command alone: an answer of the page waits for no tens of assessments."""
    file, bare = tmp_path / "indoor.json", tmp_path / "bare.json"
    document = started({"gear": GEAR}, "indoor")
    file.write_text(json.dumps(document), encoding="utf-8")
    bare.write_text(json.dumps({"gear": GEAR}), encoding="utf-8")
    assert main([str(file), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["airframe"]
    assert main(["savings", str(file), "--json"]) == 0
    assert found["savings"] == json.loads(capsys.readouterr().out)["airframe"]["savings"]
    assert found["savings_cut"] is False
    assert {each["saved_g"] > 0 for each in found["savings"]} == {True, False}  # lighter and heavier
    assert main([str(bare), "--json"]) == 0
    assert "airframe" not in json.loads(capsys.readouterr().out)
    assert "savings" not in as_json(assess(read(document).budget))["airframe"]


def test_a_sheet_on_the_scale(capsys: pytest.CaptureFixture[str]) -> None:
    """AB-1 the other way round."""
    assert main(["airframe", "--sheet", "5.3 g", "36 in", "3 in", "1/32 in"]) == 0
    assert capsys.readouterr().out.startswith("95.8 kg/m³ (6.0 lb/ft³)")
    for wrong in ("5.3 mm", "0 g", "much"):
        assert main(["airframe", "--sheet", wrong, "36 in", "3 in", "1/32 in"]) == 2


def test_models_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["airframe"]) == 0
    said = capsys.readouterr().out
    assert all(key in said for key in templates())
    assert "fillets" in said


def test_parts_that_lack_something_and_choices_that_cannot_be_read() -> None:
    """A strip without a thickness has no choice of one; a wing near the end of the range allows no larger one."""
    strip = {"name": "spar", "shape": "strip", "width": "3 mm", "length": "300 mm"}
    assert find.find({"airframe": [strip]}).list == ()
    wide = {"name": "sheet", "shape": "frame", "span": "4 m", "root": "100 mm", "pitch": "900 mm", "width": "3 mm",
            "thickness": "2 mm"}  # fmt: skip
    assert "1125 mm" not in after(find.find({"airframe": [wide]}))
    edge = {"name": "spar", "shape": "strip", "width": "3 mm", "thickness": "2 mm", "length": "900 mm"}
    pitch = {"name": "ribs", "shape": "ribs", "span": "4 m", "root": "100 mm", "pitch": "900 mm", "depth": "8 %",
             "thickness": "1 mm"}  # fmt: skip
    found = find.find({"airframe": [edge, pitch]})
    assert "1125 mm" not in after(found)
    assert {each.choice.name for each in found.list if each.part == "spar"} >= {"thickness", "width"}
    assert {each.choice.name for each in found.list if each.part == "ribs"} >= {"thickness", "pitch"}


def test_still_air_is_told_where_it_changes() -> None:
    heavy = {**COVER, "name": "heavy", "material": "iron-on-common", "known_by": "cut"}
    found = find.find({"model": MODEL, "gear": GEAR, "air": AIR, "airframe": [heavy]})
    assert "still air +" in words.sentence(found.list[0], found)
