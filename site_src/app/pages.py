"""The pages as files: the same templates that the browser uses, rendered with the example budgets."""

import json
import re
import shutil
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from calc.document import classes
from calc.document.box import Boxed, read_box
from calc.search import finder
from calc.subjects.limits.allowance import share_allows
from calc.subjects.linkage.sums import MATERIALS
from calc.subjects.listed import SUBJECTS
from calc.unit_system import UnitSystem
from site_src.app.boxview import box_view
from site_src.app.compareview import compared
from site_src.app.finderview import finder_view
from site_src.app.placesview import places_view
from site_src.app.render import SITE_SRC, TEMPLATES, render
from site_src.app.sheetbridge import weighed
from site_src.app.sheetview import sheet_view
from site_src.app.stockview import stock_view
from site_src.app.view import view

DEMO = Path(__file__).resolve().parent.parent / "demo"
STOCK = {"shape": "rod", "material": "carbon", "diameter": "1 mm", "length": "300 mm"}  # what the stock form opens with
BALSA = {"kind": "balsa sheet", "mass": "9.4 g", "length": "915 mm", "width": "100 mm", "height": "1 mm"}
FIRST = "sedge-wren.json"  # the example that the page opens with
COMPARED = {"before": "reed-bunting.json", "after": FIRST}  # the examples that the page of two opens with
SHARE = 0.20
NOT_DONE = (
    "Thermals and gusts, flutter, friction and play in the linkage, the swirl behind a propeller, slow relaxation of "
    "the cell, and how age raises its resistance."
)


@dataclass(frozen=True, kw_only=True)
class Demo:
    """An example budget: its file, its name, what it shows."""

    file: str
    name: str
    about: str
    document: dict[str, Any]


@dataclass(frozen=True, kw_only=True)
class ClassRow:
    """A class with what the share rule leaves at its minimum [kg]."""

    rule: classes.ModelClass
    gear_kg: float | None
    airframe_kg: float | None


def no_steering() -> frozenset[str]:
    """Return the ids of the classes in whose contests the radio may only trip the dethermaliser."""
    return frozenset(rule.id for rule in classes.table().values() if rule.radio == "dethermaliser")


def demos() -> tuple[Demo, ...]:
    """Return the example budgets in the order of `demo/index.json`."""
    listed = json.loads((DEMO / "index.json").read_text(encoding="utf-8"))
    return tuple(_demo(entry["file"], entry["about"]) for entry in listed["examples"])


def _demo(file: str, about: str) -> Demo:
    document = json.loads((DEMO / file).read_text(encoding="utf-8"))
    return Demo(file=file, name=document["name"], about=about, document=document)


def class_rows() -> Iterator[ClassRow]:
    """Yield the class table with the gear that the share rule leaves in a model at the class minimum."""
    for rule in classes.table().values():
        if rule.id != "own":
            airframe_kg = None if rule.minimum_kg is None else rule.minimum_kg * (1.0 - SHARE)
            gear_kg = None if airframe_kg is None else share_allows(airframe_kg, SHARE)
            yield ClassRow(rule=rule, gear_kg=gear_kg, airframe_kg=airframe_kg)


@dataclass(frozen=True, kw_only=True)
class Starters:
    """Parts of the usual kind to begin with: a label for the choice, (label, row of gear as JSON), the usual one."""

    id: str
    label: str
    parts: tuple[dict[str, str], ...]
    usual: int


STARTERS = {"receiver": ("Receiver", ("receiver",), 1), "actuator": ("Servo or coil", ("servo", "coil actuator"), 1),
            "cell": ("Cell", ("cell",), 3)}  # fmt: skip
ROW = (
    "kind",
    "name",
    "mass",
    "draw",
    "draw_known_by",
    "busy_draw",
    "busy",
    "min_volts",
    "capacity",
    "resistance",
    "cutoff",
)
ADDED = {  # to a first budget: guesses, as every part in it
    "leads": {"kind": "wiring", "name": "plug and leads", "mass": "0.4 g", "known_by": "guess"},
    "rod": {"kind": "linkage", "name": "push rod with ends", "mass": "1 g", "known_by": "guess"},
    "session": {"flights": 6, "on_time": "5 min"},
}
MOST_VOLTS = 4.0  # a receiver that needs more does not run on one cell


def starters(box: dict[str, Any]) -> Iterator[Starters]:
    """Yield the example box's parts for each place of a first budget, as guesses: they are nobody's own."""
    for name, (label, kinds, usual) in STARTERS.items():
        parts = [
            part.document for part in read_box(box).parts if part.part.kind.value in kinds and _runs_on_one_cell(part)
        ]
        rows = [
            {**{key: part[key] for key in ROW if key in part}, "known_by": "guess", **_guessed(part)} for part in parts
        ]
        listed = tuple(
            {"label": _with_mass(row), "row": json.dumps(row, ensure_ascii=False)} for row in rows
        )  # fmt: skip
        yield Starters(id=name, label=label, parts=listed, usual=usual)


def _guessed(part: Mapping[str, Any]) -> dict[str, str]:
    return {"draw_known_by": "guess"} if "draw" in part else {}


def _runs_on_one_cell(boxed: Boxed) -> bool:
    return boxed.part.min_volts is None or boxed.part.min_volts.value <= MOST_VOLTS


def _with_mass(row: dict[str, str]) -> str:
    return row["name"] if row["mass"] in row["name"] else f"{row['name']}, {row['mass']}"


def _budget_page(page: "partial[str]", examples: Sequence[Demo], first: Demo, box: dict[str, Any]) -> str:
    """Return the page of the budget, which shows an example until the visitor's own is there."""
    shown = view(first.document)
    return page(
        "budget", "Radio payload budget for a small free-flight model", view=shown, answer=shown.answer,
        example=True, stock=stock_view(STOCK, UnitSystem.METRIC), demos=examples, first=FIRST,
        document=json.dumps(first.document, ensure_ascii=False),
        sheet=sheet_view(first.document), no_steering=no_steering(), starters=tuple(starters(box)),
        added=json.dumps(ADDED), script="budget.mjs",
    )  # fmt: skip


def pages(address: str = "") -> dict[str, str]:
    """Return every page's HTML by file name; `address` is where the site will be found, if that is known."""
    page = partial(_page, address)
    examples = demos()
    first = next(demo for demo in examples if demo.file == FIRST)
    pair = (next(demo.document for demo in examples if demo.file == file) for file in COMPARED.values())
    others = [(demo.name, demo.document) for demo in examples if demo is not first]
    box = json.loads((DEMO / "box.json").read_text(encoding="utf-8"))
    return {
        "index.html": _budget_page(page, examples, first, box),
        "box.html": page("box", "Box of parts", box=box_view(box), script="box.mjs"),
        "finder.html": page(
            "finder", "The lightest set", demos=examples, script="finder.mjs",
            finder=finder_view(finder.answer(first.document, read_box(box))),
        ),
        "fits.html": page(
            "fits", "Where it fits", demos=examples, script="fits.mjs",
            **places_view(first.document, others),
        ),
        "compare.html": page(
            "compare", "Two budgets side by side", compared=compared(*pair, whole=True), demos=examples,
            chosen=COMPARED, script="compare.mjs",
        ),
        "stock.html": page(
            "stock", "Mass from dimensions", stock=stock_view(STOCK, UnitSystem.METRIC), script="stock.mjs",
            **weighed(BALSA),
        ),
        "classes.html": page("classes", "Model classes", rows=tuple(class_rows()), share=SHARE),
        "method.html": page("method", "Method", not_done=NOT_DONE, materials=MATERIALS, contents=contents()),
        "help.html": page("help", "How to"),
        "cautions.html": page("cautions", "Cautions"),
    }  # fmt: skip


def contents() -> tuple[tuple[str, str], ...]:
    """Return id and title of each section of the page of methods, as the rooms and the page itself have them."""
    rooms = [SITE_SRC / f"subjects/{each.name}/method.html" for each in SUBJECTS]
    written = "".join(path.read_text() for path in (*rooms, TEMPLATES / "pages/method.html") if path.is_file())
    return tuple(SECTION.findall(written))


SECTION = re.compile(r'<section[^>]*id="([^"]+)"><h2>([^<]+)</h2>')


def _page(address: str, name: str, title: str, **context: Any) -> str:
    shared = {
        "address": address,
        "page": name,
        "title": f"Thistledown: {title}",
        "description": "Does this radio installation fit this small free-flight model, how long does its cell run, "
        "and which limit comes first?",
    }
    return render(f"pages/{name}.html", {**shared, **context})


def write_pages(target: Path, address: str = "") -> None:
    """Write every page, and the example budgets that the page can open, under `target`."""
    for file, text in pages(address).items():
        (target / file).write_text(text, encoding="utf-8")
    (target / "demo").mkdir(exist_ok=True)
    shutil.copy2(DEMO / "box.json", target / "demo" / "box.json")
    for demo in demos():
        text = json.dumps(demo.document, ensure_ascii=False, indent=1)
        (target / "demo" / demo.file).write_text(text + "\n", encoding="utf-8")
