"""What a visitor can ask for, run inside Pyodide before the memory snapshot: each cache is then filled."""

import base64
import codecs
import json
import random
from collections.abc import Callable, Iterable, Iterator
from itertools import product
from typing import Any

from calc import units
from calc.dimensions import DIMENSIONS
from calc.document import classes
from calc.document.blocks import LISTS, places
from calc.document.fields import ChoiceField, Field, FlagField, QuantityField, WholeField, described, key_of
from calc.subjects.airframe.templates import started, templates
from calc.subjects.listed import SUBJECTS
from calc.subjects.stock.entries import SHAPES
from calc.unit_system import UnitSystem
from site_src.app import boxbridge, bridge, logbridge, roombridge
from site_src.app.render import SITE_SRC, TEMPLATES, make_environment
from site_src.app.why import PARTS

CODINGS = ("utf-8-sig", "utf-16", "cp1252")  # of files with a list of parts; Python loads each when first asked for
SHARES = (0.01, 0.1, 0.5, 0.9)  # of a field's range
KINDS = ("receiver", "servo", "linkage", "altimeter", "tracker")
DEMO = TEMPLATES.parent / "demo"


def warm_up(answered: Callable[[str], object] = bool) -> None:
    """Do once whatever a visitor can ask for: each cache is then filled, each template compiled.

    `answered` is told each request, as the worker gets it, after its answer.
    """
    classes.table()
    for coding in CODINGS:
        codecs.lookup(coding)
    for dimension in DIMENSIONS.values():
        units._spellings(dimension.name)
        for label in dimension.units:
            units._line(dimension.name, label)
    for path in TEMPLATES.rglob("*.html"):
        if "pages" not in path.parts and path.name != "base.html":
            make_environment().get_template(path.relative_to(TEMPLATES).as_posix())
    for path in (SITE_SRC / "subjects").rglob("*.html"):
        if path.name != "method.html":  # that is for the build alone
            make_environment().get_template(path.relative_to(SITE_SRC).as_posix())
    for method, params in _requests():
        request = json.dumps({"v": 1, "id": 0, "method": method, "params": params})
        bridge.handle(request)
        answered(request)


def _requests() -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield requests as a visitor's page makes them: sound, in either system, with mistakes, and broken ones."""
    before: Any = {}
    for index, document in enumerate(_documents()):
        yield "compare", {"before": before, "after": document}
        yield "answer", {"document": document, "held": before, "why": list(PARTS)}
        yield "rest", {"document": document, "shut": [each.name for each in SUBJECTS]}
        before = document
        for method in ("answer", "form", "assess", "convert"):
            yield method, {"document": document}
        if index < 6:  # a form takes longest
            yield "form", {"document": document, "from_units": "imperial"}
        asked = json.dumps({"v": 1, "id": 0, "method": "answer", "params": {"document": document}})
        link = json.loads(bridge.handle(asked)).get("result", {}).get("link", "")
        yield from (("open_link", {"fragment": link}), ("gear_csv", {"document": document}))
        yield "usual_draw", {"document": document, "path": "gear.0"}
        yield from (("sheet", {"document": document}), ("open_any", {"text": json.dumps(document), "document": {}}))
    yield from (
        ("answer", {"document": document, "why": list(PARTS)}) for document in filled(next(_documents()), SHARES)
    )
    for shape in SHAPES:
        for system in ("metric", "imperial"):
            yield "stock", {"fields": {"shape": shape, "length": "300 mm", "diameter": "1 mm"}, "units": system}
    yield from (("qr", {"address": "https://a/#b=" + "x" * length}) for length in (10, 700, 3000))
    for text in ("kind;mass [g]\nservo;1,5\ncell;2\nbalsa sheet;9", "", "{", '{"parts": []}', *_odd_files()):
        yield "open_any", {"text": text, "document": next(_documents())}
    yield from _box_requests(next(_documents()))
    yield from (("open_link", {"fragment": f"#b={body}"}) for body in ("x", "AAAAAA.x", "q1YqSi0uzSlRslIyVKoFAA", ""))
    yield from (("open_link", {"fragment": "x"}), ("nothing", {}))


def _box_requests(document: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what the pages of the box, the finder and the places ask for."""
    box = json.loads((DEMO / "box.json").read_text("utf-8"))
    csv = "kind;name;mass [g];colour\nservo;a;1,5;red\ncell;b;x;\n"
    for found in (box, {"parts": [{"kind": "servo", "mass": "x"}]}, {"parts": 5}, {"units": "imperial", **box}):
        yield from (
            ("box", {"box": found}),
            ("box_csv", {"box": found}),
            ("box", {"box": found, "kind": "servo", "pick": 1}),
        )
    for part in box["parts"]:
        yield from (("box_part", {"part": part}), ("box_take", {"document": document, "part": part, "path": "gear.1"}))
    yield from (("box_put", {"document": document, "path": path}) for path in ("gear.0", "gear.1", "cell"))
    yield from (("box_open", {"text": text}) for text in (json.dumps(box), csv, "colour", "{"))
    yield "places", {"document": document, "others": [["a", document], ["b", {}]]}
    yield from _finder_requests(document, box)
    yield from _table_requests(document, box)
    yield from _airframe_requests(document)
    yield from (("changes", {"document": each, "box": box}) for each in _documents())
    yield from _room_requests(box)
    yield from _log_requests(document)
    yield from (("change_take", {"document": document, "edits": edits}) for edits in ([], [{"keys": ["name"]}]))


def _finder_requests(document: dict[str, Any], box: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what the finder asks for: with wishes, from a large box, with bays; the last one goes on to its end."""
    wishes = {"keep": ["pull-pull lines with ends"], "bar": ["bare-board receiver"], "actuator": "servo"}
    tight = {**document, "bays": [{"length": "45 mm", "width": "14 mm", "height": "10 mm"}]}
    for asked in (
        {"document": document, "box": box, "charges": "1"},
        {"document": document, "box": box, "charges": "3", **wishes},
        {"document": {"gear": [{"kind": kind} for kind in KINDS]}, "box": _large_box()},
        {"document": tight, "box": box, "charges": "1"},
    ):
        yield "finder_start", asked
        yield from (("finder_step", {"search": boxbridge.SEARCH.number}) for _ in range(50))
    yield "finder_stop", {}


def _large_box() -> dict[str, Any]:
    """Return a box from which more sets can be made than a machine's whole number counts."""
    parts = [
        {"kind": kind, "name": f"{kind} {n}", "mass": f"{1 + n * 37 % 60 / 19:.4f} g", "draw": f"{1 + n * 17 % 60} mA"}
        for kind in KINDS
        for n in range(60)
    ]
    cells = [{"kind": "cell", "mass": f"{2 + n / 9:.3f} g", "capacity": f"{20 + n * 7 % 90} mAh"} for n in range(60)]
    return {"parts": parts + cells}


def _table_requests(document: dict[str, Any], box: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what is asked of a table that was pasted or opened; a workbook may start the plain way."""
    texts = ("Name;Mass (g)\nServo;1,7\n", "name\tmass\tkind\nservo\t1.7 g\tservo\n", "a,b\n1,2\n", "x", "")
    tables = [{"text": text} for text in texts]
    tables += [{"data": base64.b64encode("Name;Mass (g)\nMöwe;1,7\n".encode(coding)).decode()} for coding in CODINGS]
    for table in tables:
        for method in ("table_preview", "table_take"):
            yield method, {"table": table, "document": document}
            yield f"box_{method}", {"table": table, "document": box}


def _airframe_requests(document: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what is asked about the parts of an airframe: each invented model, its choices, its parts as CSV."""
    bare = {key: item for key, item in document.items() if key != "airframe"}
    for key in templates():
        begun = started(bare, key)
        parts = begun["airframe"]
        parts[0] = {**parts[0], "weighed": "2 g", "weighed_on": "2026-03-14"}
        damp = {"room_humidity": "40 %", "field_humidity": "80 %"}
        found = {**begun, "airframe": parts, "building": damp, "model": {"class": templates()[key].class_}}
        yield "airframe_start", {"document": bare, "model": key}
        yield "answer", {"document": found, "why": list(PARTS)}
        yield from ((method, {"document": found}) for method in ("form", "sheet", "airframe_csv"))
    yield "savings", {"document": started(bare, "thirty-inch")}
    rows = ("Part;Shape;Length [mm];x\nspar;rod;300;1\nTotal;;;\n", "My model\nPart,Shape\na,rod\n", "x")
    data = (base64.b64encode(text.encode()).decode() for text in rows)
    yield from (("airframe_open", {"document": bare, "data": each}) for each in data)
    yield from _sheet_requests(started(bare, "thirty-inch"))


def _sheet_requests(document: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what is asked about own sheets of balsa: whole ones, one that waits, one that is odd."""
    size = {"kind": "balsa sheet", "name": "A", "length": "915 mm", "width": "100 mm", "height": "1 mm"}
    sheets = [{"mass": mass, **size} for mass in ("9.4 g", "1", "99 g", "x", "")]
    for part in sheets:
        yield "sheet_weigh", {"fields": part, "document": document}
        yield from (("box_part", {"part": part, "units": system}) for system in ("metric", "imperial"))
        yield from (("sheet_cut", {"document": document, "part": part, "path": f"airframe.{at}"}) for at in (0, 9, 99))
    yield from (("box", {"box": {"parts": sheets}, **more}) for more in ({}, {"kind": "balsa sheet", "pick": True}))


def _room_requests(box: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what is asked about bays."""
    for index, document in enumerate(_with_bays()):
        yield "answer", {"document": document}
        yield "sheet", {"document": document}
        yield "room_start", {"document": document, "box": box}
        number = roombridge.SEARCH.number
        yield from (("room_step", {"search": number}) for _ in range(40 if index in (0, 2, 6) else 5))
        yield "room_stop", {}


def _log_requests(document: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what is asked about log files of altimeters: an IGC file, tables to be put right, hostile ones."""
    heights = [0.0] * 20 + [2.0 * t for t in range(25)] + [50.0 - 0.5 * t for t in range(100)] + [0.0] * 20
    table = "Time [s];Height [m];Baro [Pa]\n" + "\n".join(f"{t};{h};{101325 - 12 * h}" for t, h in enumerate(heights))
    fixes = (f"B10{15 + t // 60:02d}{t % 60:02d}5206343N00006198WA{round(h):05d}00558" for t, h in enumerate(heights))
    wishes = (("temperature", "8 °C"), ("temperature", "x"), ("temperature", ""), ("time_at", "-1"), ("rate", "1"),
              ("at", "2"), ("at", "1"), ("unit", "ft"), ("time_at", "0"))  # fmt: skip
    for text in ("HFDTE030526\n" + "\n".join(fixes), "a;b\n1;2\n", "no log", "time;x\n1;2\n", table):
        yield "log_open", {"text": text, "name": "a.csv", "units": "imperial"}
        asked: dict[str, Any] = {"log": logbridge.LOG.number, "flight": 0}
        yield from (("log_read", {**asked, "wish": wish, "typed": typed}) for wish, typed in wishes)
        yield from (("log_move", {**asked, "border": border, "to": 60.0}) for border in ("launch_s", "top_s", "down_s"))
        yield from (("log_flight", {**asked, "found": True}), ("log_take", {**asked, "document": document}))
    for text in (rough_log(seed, strong) for seed, strong in enumerate((0.0, 0.1, 0.3, 0.8))):
        yield "log_open", {"text": text, "name": "a.csv"}
        asked = {"log": logbridge.LOG.number, "flight": 0}
        yield from (("log_flight", asked), ("log_move", {**asked, "border": "to_s", "to": 150.0}))
    yield "log_open", {"text": ""}
    yield "log_close", {"log": 0}
    yield "log_close", {"log": logbridge.LOG.number}


def rough_log(seed: int, strong: float) -> str:
    """Return a log as air and sensor make it: noise, air of so many m/s that keeps its direction for some seconds."""
    rng, rows, height, moved = random.Random(seed), ["Time [s];Height [m]"], 0.0, 0.0
    for second in range(260):
        moved = 0.8 * moved + 0.6 * strong * rng.gauss(0.0, 1.0)
        height += 2.5 if 15 <= second < 40 else moved - 0.4 if height > 0.0 else 0.0
        rows.append(f"{second};{max(0.0, height) + 0.2 * rng.gauss(0.0, 1.0):.2f}")
    return "\n".join(rows)


def _with_bays() -> Iterator[dict[str, Any]]:
    """Yield budgets with bays of each kind: where the gear goes in, cannot, and is not found to."""
    size = {"length": "20 mm", "width": "12 mm", "height": "6 mm", "plug_length": "3 mm"}
    gear = [{"kind": kind, "mass": "1 g", "station": "60 mm", **size} for kind in ("servo", "receiver")]
    bay = {"length": "60 mm", "width": "14 mm", "height": "14 mm", "station": "20 mm", "gap": "1 mm", "wall": "1 mm"}
    taper = {**bay, "kind": "tapered", "back_width": "30 mm", "back_height": "30 mm"}
    balance = {"airframe_at": "150 mm", "target": "140 mm", "nose_at": "0 mm", "tail_at": "500 mm"}
    rest = {"model": {"airframe": "40 g"}, "balance": balance, "cell": {"mass": "1 g", "station": "9 mm", **size}}
    for bays in ([bay], [{**bay, "kind": "tube", "width": "20 mm"}], [taper, bay], [{**bay, "length": "30 mm"}]):
        yield {"gear": gear, "bays": bays, **rest}
        yield {"gear": [{**gear[0], "count": 9}, *gear], "bays": bays}
    hatches = ({"hatch_to": "40 mm"}, {"hatch": "front", "hatch_width": "4 mm"})
    yield from ({"gear": gear, "bays": [{**bay, **hatch}], **rest} for hatch in hatches)
    yield {"units": "imperial", "gear": gear, "bays": [{"length": "1 g"}, {}]}


def _documents() -> Iterator[Any]:
    found = [
        json.loads(path.read_text("utf-8"))
        for path in sorted(DEMO.glob("*.json"))
        if path.name not in ("index.json", "box.json")
    ]
    for document in found:
        yield document
        yield {**document, "units": "imperial"}
        yield _mistyped(document)
    yield from ({"format": 1, "gear": [{"kind": "receiver"}]}, {}, [])
    yield from _odd_documents(found[0])


def filled(sound: dict[str, Any], shares: Iterable[float]) -> Iterator[dict[str, Any]]:
    """Yield a document with each field of one block told: what its sums need must not be left out, examples or no.

    `shares` are from 0 to below 1: how far along its range or its choices each field is.
    """
    for (path, kind), share in product(places(), shares):
        told = {key_of(name): _within(field, share) for name, field in described(kind).items()}
        yield {**sound, **({path: [*sound.get(path, ())[:3], told] if path in LISTS else told} if path else told)}


def _within(field: Field, share: float) -> str | int | bool:
    """Return what may be typed into a field, so far along its range or its choices."""
    if isinstance(field, QuantityField):
        unit = UnitSystem.METRIC.label(field.dimension)
        return f"{units.from_si(field.low + share * (field.high - field.low), unit, field.dimension):.4g} {unit}"
    if isinstance(field, WholeField):
        return field.low + int(share * (field.high - field.low))
    if isinstance(field, ChoiceField):
        return field.choices[int(share * len(field.choices))]
    return share > 0.8 if isinstance(field, FlagField) else "x"


def _odd_documents(sound: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Yield documents of another edition, damaged ones, hostile ones: what they need must not be left out."""
    yield {**sound, "nonsense": 1, "untis": "metric", "gear": [{"mas": "1 g", "kind": "srevo", "mass": "1 kg"}] * 3}
    yield {f"nonsense{number}": number for number in range(40)}
    yield {**sound, "units": "metricc", "model": {"airframe": "40"}, "gear": [[], {"mass": "1.2", "name": "\ud800"}]}
    yield {**sound, "name": "\u202e\x1b", "gear": [{"name": "\u05e9\u05dc", "mass": "1 g"}], "cell": [], "format": 9}
    yield {**sound, "gear": {}, "model": [], "scale_division": "1e999", "cell": {"series": "²", "mass": True}}


def _odd_files() -> Iterator[str]:
    yield from ('{"a": 1e999, "b": ' + "9" * 4400 + "}", '{"a": 1, "a": 2}', '{"name": "\ufffd"}')
    yield from ("[" * 99, "[1]", "x" * 300_000)
    yield from ("kind,name\n" + "servo,x\n" * count for count in (99, 300))
    yield from ('kind,name\n"', "kind,mass\nservo,'=1;=2\n")


def _mistyped(value: Any) -> Any:
    """Return a document with a text that makes no sense in each field."""
    if isinstance(value, dict):
        return {key: _mistyped(inner) for key, inner in value.items()}
    return [_mistyped(inner) for inner in value] if isinstance(value, list) else "1 furlong?"
