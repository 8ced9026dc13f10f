"""The front of the package, as somebody who writes Python meets it."""

import doctest
import json
import re
import subprocess
import sys
import traceback
from typing import Any

import pytest

import calc
from calc.__main__ import command, main
from calc.document.entries import GearRow, Model
from calc.document.fields import Entry
from tests.support import ROOT, demo_documents

ALONE = """
import sys, calc
assert calc.__version__ and dir(calc)
print(sorted(name for name in sys.modules if name.startswith(("calc.", "pint"))))
import calc.assess, calc.text
print(callable(calc.assess), calc.assess is sys.modules["calc.assess"].assess)
"""


def test_importing_it_imports_nothing_else_until_it_is_asked_for() -> None:
    """And `calc.assess` stays the function, whoever imports the module of that name."""
    done = subprocess.run([sys.executable, "-c", ALONE], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == ["[]", "True True"]


def test_all_that_it_names_is_there_and_nothing_else() -> None:
    assert all(callable(getattr(calc, name)) for name in calc.__all__)
    assert set(calc.__all__) <= set(dir(calc))
    with pytest.raises(AttributeError, match="no attribute 'asses'"):
        _ = calc.asses


@pytest.mark.parametrize("name", demo_documents())
def test_plain_values_make_the_budget_that_the_file_makes(name: str) -> None:
    document = demo_documents()[name]
    budget = calc.Budget.of(**document)
    assert budget == calc.read(document).budget
    assert calc.as_json(calc.assess(budget)) == calc.as_json(calc.Assessment(budget))
    assert calc.decode(calc.encode(budget)) == calc.decode(calc.encode(document)) == {"format": 1, **document}


@pytest.mark.parametrize(
    ("parts", "field", "says"),
    [
        ({"model": "34 g"}, "model", "This should be a group of fields."),
        ({"model": {"airframe": ["34 g"]}}, "model.airframe", "This should be one text or number"),
        ({"model": {"airframe": True}}, "model.airframe", "cannot be read as a mass"),
        ({"model": {"airframe": "34 mm"}}, "model.airframe", "this field needs a mass"),
        ({"gear": "servo"}, "gear", "This should be a list of rows."),
        ({"gear": [{"kind": "servo", "mass": object()}]}, "gear.0.mass", "This should be one text or number"),
        ({"gear": [{"kind": 5, "mass": "1 g"}]}, "gear.0.kind", "is none of the choices"),
        ({"gear": [{"kind": "servo"}]}, "gear.0.mass", "This is needed"),
        ({"session": {"flights": 2.5}}, "session.flights", "should be a whole number"),
        ({"modle": {}}, "modle", "Was “model” meant?"),
    ],
)
def test_a_wrong_value_is_refused_with_its_field(parts: dict[str, Any], field: str, says: str) -> None:
    with pytest.raises(calc.BudgetError, match=f"^{field}: ") as caught:
        calc.Budget.of(**parts)
    (note,) = caught.value.__notes__
    assert says in note


@pytest.mark.parametrize(
    ("block", "parts", "said"),
    [
        (calc.Budget, {"model": {"airframe": "34 g"}}, "model: Model expected, not dict"),
        (calc.Budget, {"model": None}, "model: Model expected, not NoneType"),
        (calc.Budget, {"cell": Model()}, "cell: Cell expected, not Model"),
        (calc.Budget, {"gear": [GearRow()]}, "gear: a tuple of GearRow expected, not list"),
        (calc.Budget, {"gear": ({"mass": "2 g"},)}, "gear.0: GearRow expected, not dict"),
        (calc.Budget, {"gear": (GearRow(), GearRow(**{"mass": "2 g"}))}, "gear.1.mass: Entry expected, not str"),  # type: ignore[arg-type]
        (calc.Budget, {"name": "Moth"}, "name: Entry expected, not str"),
        (calc.Budget, {"model": Model(class_="p30")}, "model.class: Entry expected, not str"),  # type: ignore[arg-type]
    ],
)
def test_a_wrong_type_is_refused_where_it_is_given(block: Any, parts: dict[str, Any], said: str) -> None:
    with pytest.raises(TypeError, match=f"^{said}; "):
        block(**parts)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ({"mass": Entry(value="2 g")}, "gear.0.mass cannot be '2 g'"),
        ({"mass": Entry(value=-0.002)}, "gear.0.mass cannot be -0.002"),
        ({"mass": Entry(value=float("nan"))}, "gear.0.mass cannot be nan"),
        ({"mass": Entry(value=True)}, "gear.0.mass cannot be True"),
        ({"busy": Entry(value=1.5)}, "gear.0.busy cannot be 1.5"),
        ({"count": Entry(value=0)}, "gear.0.count cannot be 0"),
        ({"count": Entry(value=True)}, "gear.0.count cannot be True"),
        ({"known_by": Entry(value="gues")}, "gear.0.known_by cannot be 'gues'"),
        ({"name": Entry(value="\ud800")}, r"gear.0.name cannot be '\\ud800'"),
        ({"off": Entry(value="no")}, "gear.0.off cannot be 'no'"),
    ],
)
def test_a_value_that_reading_could_not_give_is_refused_where_it_is_given(row: dict[str, Any], said: str) -> None:
    """Else less than nothing, or more than all the time, could make an answer better."""
    with pytest.raises(ValueError, match=f"^{said}; "):
        calc.Budget(gear=(GearRow(**row),))


def test_what_has_a_default_cannot_be_nothing() -> None:
    with pytest.raises(TypeError, match=r"^gear\.0\.known_by: Entry expected, not NoneType; "):
        calc.Budget(gear=(GearRow(known_by=None),))  # type: ignore[arg-type]


def test_what_is_of_its_type_is_taken() -> None:
    rows = (GearRow(mass=Entry(value=0.002)),)
    assert calc.assess(calc.Budget(name=Entry(value="Moth"), gear=rows)).gear.nominal_kg == 0.002


def test_plain_values_are_the_same_as_json() -> None:
    """What a document holds as numbers, texts and lists may be given as Python's own."""
    given: dict[str, Any] = {"model": {"airframe": 34, "rubber": "1,2 g"}, "gear": ({"mass": 2.5, "count": 2},)}
    budget = calc.Budget.of(**given)
    assert budget == calc.read(json.loads(json.dumps(given))).budget
    assert calc.assess(budget).gear.nominal_kg == pytest.approx(0.005)


def test_the_example_of_the_readme() -> None:
    """Each line of it, down to the sentence below the error: doctest compares only one of these two."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    (block,) = re.findall(r"```python\n(.*?)```", text, re.DOTALL)
    ((good, refused, told),) = re.findall(r"\A(.*)>>> (calc\.Budget\.of.*?\n)Traceback.*?:\n(.*)", block, re.DOTALL)
    found = doctest.DocTestParser().get_doctest(good, {}, "README.md", "README.md", 0)
    assert doctest.DocTestRunner().run(found) == (0, len(found.examples))
    with pytest.raises(calc.BudgetError) as caught:
        eval(refused, {"calc": calc})
    assert told.splitlines() == "".join(traceback.format_exception_only(caught.value)).splitlines()


def readme_sheets() -> list[tuple[list[str], str]]:
    """Return the commands of the README that are shown with what they print: arguments, text."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```\n\$ \.venv/bin/python -m calc (.*)\n((?:.*\n)*?)```", text)
    return [(arguments.split(), shown) for arguments, shown in blocks]


def test_the_readme_shows_two_commands() -> None:
    assert [arguments[0] for arguments, _ in readme_sheets()] == ["site_src/demo/sedge-wren.json", "finder"]


@pytest.mark.parametrize(("arguments", "shown"), readme_sheets())
def test_what_the_readme_shows_is_what_the_command_prints(
    arguments: list[str], shown: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """To the letter; a line with an ellipsis stands for lines left out."""
    monkeypatch.chdir(ROOT)
    assert main(arguments) == 0
    printed = capsys.readouterr().out
    for part in shown.split("  …\n"):
        assert part.strip("\n") in printed
    assert printed.startswith(shown.split("  …\n", maxsplit=1)[0].rstrip("\n"))
    assert printed.rstrip("\n").endswith(shown.split("  …\n")[-1].strip("\n"))


def test_what_the_installed_program_calls(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "argv", ["thistledown", "keys"])
    assert command() == 0
    assert "in_hand_g" in capsys.readouterr().out
