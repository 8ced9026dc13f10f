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
from calc.wording import problem
from site_src.app.boxview import box_view, part_view
from site_src.app.render import render
from site_src.app.view import view

KEY, LABEL = sys.argv[1:3]
PART = {"kind": "servo", "name": "a servo", "mass": "1.7 g", KEY: "9 in"}
BUDGET: dict[str, Any] = {"gear": [PART]}
LOWERED = LABEL[:1].lower() + LABEL[1:]


def layers() -> dict[str, bool]:
    """Return which layers have the entry."""
    bad = read({"gear": [{KEY: "3 g"}]}).problems
    form = render("form.html", {"view": view(BUDGET)})
    part_form = render("boxpart.html", {"part": part_view(PART, "metric")})
    table = render("boxtable.html", {"box": box_view({"parts": [PART]})})
    taken = box.take({"gear": [{"station": "1 in", "count": 2, KEY: "1 in"}]}, PART, "gear.0", "metric")
    gear = gearcsv.gear_from_csv(gearcsv.gear_to_csv(BUDGET), {}).document["gear"][0]
    longer = read({"gear": [{**PART, KEY: "10 in"}]}).budget
    bare = with_units_written({"units": "imperial", "gear": [{KEY: "9"}]}, "imperial")["gear"][0]
    return {
        "reading": read(BUDGET).problems == () and getattr(read(BUDGET).budget.gear[0], KEY).unit == "in",
        "refusing": [found.code for found in bad] == ["other_dimension"],
        "label in a sentence": problem(bad[0]).startswith(f"Gear row 1, {LOWERED}: "),
        "form": f'name="gear.0.{KEY}" type="text" inputmode="text" value="9 in" placeholder="" data-unit="mm"' in form,
        "label in the form": f'<label for="gear-0-{KEY}">{LABEL}</label>' in form,
        "note in the form": view(BUDGET).notes.get(f"gear.0.{KEY}") == "= 228.6 mm",
        "line of a folded row": f"{LOWERED} 9 in" in form,
        "form of a part": f'name="box.{KEY}" type="text" inputmode="text" value="9 in"' in part_form,
        "table of the box": f"{LOWERED} 22" in table.replace("\u00a0", " "),
        "into the box": box.put_back(BUDGET, "gear.0").get(KEY) == "9 in",
        "out of the box": taken["gear"][0] == {**PART, "station": "1 in", "count": 2},
        "box as CSV": f"{LABEL} [mm]" in boxfile.to_csv({"parts": [PART]}),
        "box from CSV": boxfile.from_csv(boxfile.to_csv({"parts": [PART]}))["parts"][0].get(KEY) == "228.6 mm",
        "gear as CSV and back": gear.get(KEY) == "228.6 mm",
        "comparison": f"({LOWERED})" in compare_words.sheet(compare(read(BUDGET).budget, longer)),
        "link": link.decode(link.encode(BUDGET))["gear"] == [PART],
        "file": to_document(from_json(to_json(read(BUDGET).budget))) == BUDGET,
        "change of units": bare == {KEY: "9 in"},
        "answer": assess(read(BUDGET).budget).gear.nominal_kg == assess(longer).gear.nominal_kg,
    }


print(json.dumps(layers()))
