"""Ask every layer for one entry of a row of gear, and print which of them have it; run in a tree that has the entry.

`test_entries` adds one line to `calc/document/entries.py` in a copy of the program, and runs this there.
"""

import json
import sys
from typing import Any

from calc.assess import assess
from calc.compare import words as compare_words
from calc.compare.sides import compare
from calc.document import box, boxfile, gearcsv, link
from calc.document.budget import from_json, read, to_document, to_json
from calc.document.systems import with_units_written
from calc.unit_system import UnitSystem
from calc.wording import problem
from site_src.app.boxview import box_view, part_view
from site_src.app.render import render
from site_src.app.view import view


def layers(key: str, label: str) -> dict[str, bool]:
    """Return which layers have the entry of a key, whose label is told."""
    part = {"kind": "servo", "name": "a servo", "mass": "1.7 g", key: "9 in"}
    budget: dict[str, Any] = {"gear": [part]}
    lowered = label[:1].lower() + label[1:]
    bad = read({"gear": [{key: "3 g"}]}).problems
    form = " ".join(render("form.html", {"view": view(budget)}).split())
    part_form = " ".join(render("boxpart.html", {"part": part_view(part, "metric")}).split())
    table = render("boxtable.html", {"box": box_view({"parts": [part]})})
    taken = box.take({"gear": [{"station": "1 in", "count": 2, key: "1 in"}]}, part, "gear.0", "metric")
    gear = gearcsv.gear_from_csv(gearcsv.gear_to_csv(budget), {}).document["gear"][0]
    longer = read({"gear": [{**part, key: "10 in"}]}).budget
    bare = with_units_written({"units": "imperial", "gear": [{key: "9"}]}, "imperial")["gear"][0]
    return {
        "reading": read(budget).problems == () and getattr(read(budget).budget.gear[0], key).unit == "in",
        "refusing": [found.code for found in bad] == ["other_dimension"],
        "label in a sentence": problem(bad[0]).startswith(f"Gear row 1, {lowered}: "),
        "form": f'name="gear.0.{key}" type="text" inputmode="decimal" value="9 in" placeholder="" data-unit="mm"'
        in form,
        "label in the form": f'<label for="gear-0-{key}">{label}</label>' in form,
        "note in the form": view(budget).notes.get(f"gear.0.{key}") == "= 228.6 mm",
        "form of a part": f'name="box.{key}" type="text" inputmode="decimal" value="9 in"' in part_form,
        "table of the box": f"{lowered} 22" in table.replace("\u00a0", " "),
        "into the box": box.put_back(budget, "gear.0").get(key) == "9 in",
        "out of the box": taken["gear"][0] == {**part, "station": "1 in", "count": 2},
        "box as CSV": f"{label} [mm]" in boxfile.to_csv({"parts": [part]}),
        "box from CSV": boxfile.from_csv(boxfile.to_csv({"parts": [part]}))["parts"][0].get(key) == "228.6 mm",
        "gear as CSV and back": gear.get(key) == "228.6 mm",
        "comparison": f"({lowered})"
        in compare_words.plain_text(compare(read(budget).budget, longer), UnitSystem.METRIC),
        "link": link.decode(link.encode(budget))["gear"] == [part],
        "file": to_document(from_json(to_json(read(budget).budget))) == budget,
        "change of units": bare == {key: "9 in"},
        "answer": assess(read(budget).budget).gear.nominal_kg == assess(longer).gear.nominal_kg,
    }


if __name__ == "__main__":
    print(json.dumps(layers(*sys.argv[1:3])))
