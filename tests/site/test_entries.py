"""An entry is told once: each layer takes it from there."""

import ast
import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from calc.document import blocks
from calc.document.blocks import BLOCKS, BoxPart, GearPart, places
from calc.document.boxfile import from_csv, to_csv
from calc.document.entries import Cell, GearRow
from calc.document.fields import (
    ChoiceField,
    Entry,
    Field,
    FlagField,
    QuantityField,
    described,
    key_of,
    keys_of,
)
from calc.document.schema import box_schema, budget_schema
from calc.subjects.stock.entries import Stock
from calc.unit_system import UnitSystem
from site_src.app.boxview import part_view
from site_src.app.controls import control
from site_src.app.render import make_environment, render
from site_src.app.view import view
from tests.support import ROOT, SITE_SRC

LINE = '    antenna_length: Entry[float] | None = quantity("Antenna length", "length", 0.0, 5.0, belongs="part")\n'
BEFORE = '    off: Entry[bool] = flag("Left out"'
LAYERS = (
    "reading", "refusing", "label in a sentence", "form", "label in the form", "note in the form",
    "form of a part", "table of the box", "into the box", "out of the box", "box as CSV",
    "box from CSV", "gear as CSV and back", "comparison", "link", "file", "change of units", "answer",
)  # fmt: skip
NOT_ASKED = ("format", "draw_known_by")  # by nobody; not on the form of a part, where the figure's source is the maker
# What entries may know beside fields: the class table, how a name is made, tables of materials.
MAY_KNOW = (
    "calc.document", "calc.document.fields", "calc.english", "calc.subjects.airframe.materials",
    "calc.subjects.linkage.sums", "calc.vocabulary",
)  # fmt: skip


@pytest.fixture(scope="module")
def with_one_line_more(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bool]:
    """Which layers have a new entry, of which one line tells."""
    tree = tmp_path_factory.mktemp("tree")
    shutil.copytree(ROOT / "calc", tree / "calc", ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("app", "subjects", "templates", "demo"):
        shutil.copytree(SITE_SRC / name, tree / "site_src" / name, ignore=shutil.ignore_patterns("__pycache__"))
    entries = tree / "calc" / "document" / "entries.py"
    source = entries.read_text(encoding="utf-8")
    assert source.count(BEFORE) == 1
    entries.write_text(source.replace(BEFORE, LINE + BEFORE), encoding="utf-8")
    script = Path(__file__).with_name("every_layer.py").read_text(encoding="utf-8")
    command = [sys.executable, "-c", script, "antenna_length", "Antenna length"]
    done = subprocess.run(command, cwd=tree, capture_output=True, text=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr[-1500:]
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize("layer", LAYERS)
def test_one_line_is_enough(with_one_line_more: dict[str, bool], layer: str) -> None:
    assert set(with_one_line_more) == set(LAYERS)
    assert with_one_line_more[layer]


ENTRIES = [
    (path, name, field) for path, kind in [*places(), ("stock", Stock)] for name, field in described(kind).items()
]


@pytest.mark.parametrize(
    ("path", "name", "field"), [pytest.param(*each, id=f"{each[0]}.{each[1]}") for each in ENTRIES]
)
def test_what_an_entry_tells(path: str, name: str, field: Field) -> None:
    assert field.label, name
    if isinstance(field, ChoiceField):
        assert set(field.words) <= set(field.choices)
        assert all(isinstance(word, str) for word in field.words.values())
        assert field.default in field.choices
    if isinstance(field, QuantityField):
        assert field.low < field.high
        assert field.default is None or field.low <= field.default <= field.high
        assert field.smaller_than is None or field.smaller_than[0] in described(dict(places()).get(path, Stock))


def test_every_entry_is_asked_on_the_page() -> None:
    html = render("form.html", {"view": view({"gear": [{}]})})
    paths = [f"{f'{path}.0' if path in blocks.LISTS else path}.{key_of(name)}".lstrip(".") for path, name, _ in ENTRIES]
    asked = [path for path in paths if not path.startswith("stock.") and path not in NOT_ASKED]
    assert len(asked) > 80
    assert [path for path in asked if html.count(f'name="{path}"') != 1] == []


def test_every_entry_of_a_part_says_whose_it_is() -> None:
    for kind in (GearRow, Cell, BLOCKS["supply"]):
        assert [name for name, field in described(kind).items() if field.belongs is None] == []


def test_the_box_holds_what_belongs_to_a_part() -> None:
    """A part may be a row, a cell, a converter, and bring its strength into the surface."""
    own = {key for kind in (GearRow, Cell, BLOCKS["supply"], BLOCKS["surface"]) for key in keys_of(kind, "part")}
    assert set(described(BoxPart)) == own
    assert set(described(GearPart)) - own == set(keys_of(GearRow, "place"))


def test_every_entry_of_a_part_is_asked_of_some_kind() -> None:
    asked = {name for kind in blocks.BOX_KINDS for name in part_view({"kind": kind}, "metric").fields}
    assert set(described(BoxPart)) - asked - set(NOT_ASKED) == set()


def test_columns_have_labels_of_their_own() -> None:
    """A column is found by its label or its name: two alike would take each other's figures."""
    fields = described(GearPart)
    names = [
        spelling for name, field in fields.items() for spelling in {name.replace("_", " "), field.box_label.casefold()}
    ]
    assert len(names) == len(set(names))


def test_yes_and_no_in_csv(monkeypatch: pytest.MonkeyPatch) -> None:
    for kind in (BoxPart, GearPart):
        monkeypatch.setitem(described(kind), "off", FlagField(label="Spare", belongs="part"))
    parts = [{"name": "one", "off": True}, {"name": "two", "off": False}, {"name": "three", "off": "perhaps"}]
    text = to_csv({"parts": parts})
    assert [line.rpartition(",")[2] for line in text.splitlines()] == ["Spare", "yes", "no", "perhaps"]
    assert from_csv(text)["parts"] == parts


def test_the_site_has_the_schemas(built_site: Path) -> None:
    for name, schema in {"budget": budget_schema(), "box": box_schema()}.items():
        assert json.loads((built_site / f"{name}.schema.json").read_text(encoding="utf-8")) == schema
        assert f"{name}.schema.json" not in (built_site / "precache.js").read_text(encoding="utf-8")


FIELDS = {
    "quantity": QuantityField(label="Antenna", hint="Straight.", dimension="length", low=0.0, high=1.0),
    "check": FlagField(label="Antenna", hint="Straight."),
}


@pytest.mark.parametrize("kind", FIELDS)
def test_a_hint_stands_under_its_entry(kind: str) -> None:
    template = make_environment().from_string('{% from "macros/fields.html" import field %}{{ field(c, "model.x") }}')
    html = template.render(c={"model.x": control("model.x", FIELDS[kind], True, UnitSystem.METRIC, "", "")})
    assert '<p class="hint" id="model-x-hint">Straight.</p>' in html
    assert 'aria-describedby="model-x-hint model-x-problem model-x-note"' in html
    assert ('type="checkbox" checked' in html) == (kind == "check")


def _imports(file: Path) -> set[str]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    return {str(node.module) for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}


def test_the_document_knows_the_rooms_by_their_entries_alone() -> None:
    for file in (ROOT / "calc" / "document").glob("*.py"):
        rooms = {name for name in _imports(file) if name.startswith("calc.subjects")}
        assert all(name.endswith(".entries") for name in rooms)
        assert not rooms or file.name == "blocks.py"
    listed = sorted((ROOT / "calc").glob("**/entries.py"))
    assert len(listed) > 5
    for file in listed:
        assert {name for name in _imports(file) if name.startswith("calc")} <= set(MAY_KNOW)


def test_an_entry_keeps_the_unit_it_was_typed_in() -> None:
    field = described(GearRow)["mass"]
    typed: list[Entry[float]] = [field.read(raw, "imperial") for raw in ("1,2 g", "0.04", 0.04)]
    assert [(entry.typed, entry.unit) for entry in typed] == [("1,2 g", "g"), ("0.04", "oz"), (0.04, "oz")]
