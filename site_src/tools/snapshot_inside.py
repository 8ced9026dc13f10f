"""Runs inside Pyodide under node, before the memory snapshot: warm what the first answer needs, leave out the rest.

What is left out raises `LookupError` when it is called after all. The bridge answers with a code, and the worker
then starts Python the plain way and asks again: a visitor may wait, but never gets a wrong or no answer.
"""

import codecs
import gc
import json
import random
import sys
import types
import zipimport
from collections.abc import Callable, Iterator
from typing import Any

from calc import units
from calc.dimensions import DIMENSIONS
from calc.document import classes
from calc.subjects.airframe.templates import started, templates
from calc.subjects.stock.entries import SHAPES
from site_src.app import boxbridge, bridge, logbridge, roombridge
from site_src.app.render import SITE_SRC, TEMPLATES, make_environment
from site_src.app.why import PARTS

CODINGS = ("utf-8-sig", "utf-16", "cp1252")  # of files with a list of parts; Python loads each when first asked for
DEMO = TEMPLATES.parent / "demo"
# Packages of which only what the warm-up ran is kept. Ours, and what sentences, numbers and templates lean on, stay.
LEFT_OUT = frozenset([
    "_colorize", "_compat_pickle", "annotationlib", "asyncio", "bz2", "calendar", "compression", "concurrent",
    "decimal", "difflib", "dis", "email", "flexcache", "flexparser", "hmac", "importlib.metadata", "ipaddress",
    "logging", "lzma", "pickle", "pint", "platform", "platformdirs", "quopri", "segno", "selectors", "shutil",
    "socket", "ssl", "subprocess", "tempfile", "tomllib", "typing_extensions", "zipfile", "jinja2.bccache",
    "jinja2.compiler", "jinja2.ext", "jinja2.idtracking", "jinja2.lexer", "jinja2.loaders", "jinja2.nodes",
    "jinja2.optimizer", "jinja2.parser", "jinja2.visitor",
])  # fmt: skip
# Of ours only what makes the command's text, which no page asks for; a name that is no longer there does no harm.
OF_THE_COMMAND = frozenset([
    "calc.compare.words._table", "calc.compare.words.sheet", "calc.document.budget.Budget.of",
    "calc.document.budget.from_json", "calc.document.budget.sound", "calc.savings.data._saving",
    "calc.savings.data.as_json", "calc.savings.words.lines", "calc.search.words._counted", "calc.search.words._table",
    "calc.search.words.as_json", "calc.search.words._set", "calc.search.words.sheet",
    "calc.subjects.airframe.words._table", "calc.subjects.airframe.words.text", "calc.subjects.limits.room._text",
    "calc.subjects.limits.words.lines", "calc.subjects.power.room._text", "calc.subjects.surface.room._text",
    "calc.subjects.weights.room._text", "calc.subjects.weights.words._weight",
    "calc.subjects.weights.words.gear_lines", "calc.subjects.weights.words.model_lines",
])  # fmt: skip
HAS_DOCSTRING = 0x4000000  # CPython 3.13 and later: inspect.CO_HAS_DOCSTRING
NO_PLACE = b"\xff"  # in a table of line numbers: eight units of bytecode that come from nowhere


def run(static_end: int) -> None:
    """Make this interpreter ready to be frozen; objects below `static_end` are part of the program and stay."""
    warm_up()
    ran = _traced(warm_up)
    functions = [each for each in gc.get_objects() if type(each) is types.FunctionType]
    for function in functions:
        if id(function.__code__) >= static_end:
            _lighten(function, ran)
    _drop_docstrings(static_end)
    for each in gc.get_objects():
        if isinstance(each, random.Random):
            each.seed(0)  # the same snapshot from the same files; the worker seeds anew
    sys.path_importer_cache.clear()
    zipimport._zip_directory_cache.clear()  # type: ignore[attr-defined]
    for _ in range(3):
        gc.collect()


def warm_up() -> None:
    """Do once whatever a visitor can ask for: each cache is then filled, each template compiled."""
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
        bridge.handle(json.dumps({"v": 1, "id": 0, "method": method, "params": params}))


def _requests() -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield requests as a visitor's page makes them: sound, in either system, with mistakes, and broken ones."""
    before: Any = {}
    for document in _documents():
        yield "compare", {"before": before, "after": document}
        yield "answer", {"document": document, "held": before, "why": list(PARTS)}
        before = document
        for method in ("answer", "form", "assess", "convert"):
            yield method, {"document": document}
        yield "form", {"document": document, "from_units": "imperial"}
        asked = json.dumps({"v": 1, "id": 0, "method": "answer", "params": {"document": document}})
        link = json.loads(bridge.handle(asked)).get("result", {}).get("link", "")
        yield from (("open_link", {"fragment": link}), ("gear_csv", {"document": document}))
        yield "usual_draw", {"document": document, "path": "gear.0"}
        yield from (("sheet", {"document": document}), ("open_any", {"text": json.dumps(document), "document": {}}))
    for shape in SHAPES:
        for system in ("metric", "imperial"):
            yield "stock", {"fields": {"shape": shape, "length": "300 mm", "diameter": "1 mm"}, "units": system}
    yield from (("qr", {"address": "https://a/#b=" + "x" * length}) for length in (10, 700, 3000))
    for text in ("kind;mass [g]\nservo;1,5\ncell;2", "", "{", '{"parts": []}', *_odd_files()):
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
    for charges in ("1", "3"):
        wishes = {"keep": ["pull-pull lines with ends"], "bar": ["bare-board receiver"], "actuator": "servo"}
        yield (
            "finder_start",
            {"document": document, "box": box, "charges": charges, **(wishes if charges == "3" else {})},
        )
        number = boxbridge.SEARCH.number
        yield from (("finder_step", {"search": number}) for _ in range(50))
    yield "finder_stop", {}
    yield from _airframe_requests(document)
    yield from (("changes", {"document": each, "box": box}) for each in _documents())
    yield from _room_requests(box)
    yield from _log_requests(document)
    yield from (("change_take", {"document": document, "edits": edits}) for edits in ([], [{"keys": ["name"]}]))


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
    yield "airframe_open", {"text": "Part;Shape;Length [mm];x\nspar;rod;300;1\n", "document": bare}


def _room_requests(box: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what is asked about bays."""
    for document in _with_bays():
        yield "answer", {"document": document}
        yield "sheet", {"document": document}
        yield "room_start", {"document": document, "box": box}
        number = roombridge.SEARCH.number
        yield from (("room_step", {"search": number}) for _ in range(40))
        yield "room_stop", {}


def _log_requests(document: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield what is asked about log files of altimeters: an IGC file, tables to be put right, hostile ones."""
    heights = [*([0.0] * 20), *(2.0 * t for t in range(25)), *(50.0 - 0.5 * t for t in range(100)), *([0.0] * 20)]
    table = "Time [s];Height [m];Baro [Pa]\n" + "\n".join(f"{t};{h};{101325 - 12 * h}" for t, h in enumerate(heights))
    fixes = (f"B10{15 + t // 60:02d}{t % 60:02d}5206343N00006198WA{round(h):05d}00558" for t, h in enumerate(heights))
    wishes = {"temperature": "8 °C", "rate": "x", "time_at": "-1", "at": "2", "unit": "ft"}.items()
    for text in ("HFDTE030526\n" + "\n".join(fixes), "a;b\n1;2\n", "no log", "time;x\n1;2\n", table):
        yield "log_open", {"text": text, "units": "imperial"}
        asked: dict[str, Any] = {"log": logbridge.LOG.number, "flight": 0}
        yield from (("log_read", {**asked, "wish": wish, "typed": typed}) for wish, typed in wishes)
        yield from (("log_move", {**asked, "border": each, "to": 60.0}) for each in ("launch_s", "top_s", "down_s"))
        yield from (("log_flight", {**asked, "found": True}), ("log_take", {**asked, "document": document}))


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


def _traced(work: Callable[[], None]) -> set[types.CodeType]:
    """Return the code that a piece of work runs."""
    ran: set[types.CodeType] = set()
    watch = sys.monitoring  # type: ignore[attr-defined]  # CPython 3.12 and later, as Pyodide's is

    def note(code: types.CodeType, _offset: int) -> object:
        ran.add(code)
        return watch.DISABLE  # told once, it need not be told again

    watch.use_tool_id(watch.PROFILER_ID, "warm-up")
    watch.register_callback(watch.PROFILER_ID, watch.events.PY_START, note)
    watch.set_events(watch.PROFILER_ID, watch.events.PY_START)
    try:
        work()
    finally:
        watch.set_events(watch.PROFILER_ID, 0)
        watch.register_callback(watch.PROFILER_ID, watch.events.PY_START, None)
        watch.free_tool_id(watch.PROFILER_ID)
    return ran


def _absent(*_: object, **__: object) -> None:
    raise LookupError("left_out")  # `bridge.LEFT_OUT`: this code runs in other modules, which do not know that name


def may_be_left_out(function: types.FunctionType) -> bool:
    """Return whether a function stays only if the warm-up ran it."""
    package = str(function.__module__)
    of_a_package = package in LEFT_OUT or package.split(".")[0] in LEFT_OUT
    named = f"{package}.{function.__qualname__}" in OF_THE_COMMAND
    return (of_a_package or named) and not function.__closure__


def _lighten(function: types.FunctionType, ran: set[types.CodeType]) -> None:
    """Leave a function out if it is of no use, else drop its documentation and line numbers."""
    if may_be_left_out(function) and function.__code__ not in ran:
        function.__code__ = _absent.__code__
        function.__defaults__ = function.__kwdefaults__ = None
    else:
        function.__code__ = _lean(function.__code__)
    function.__doc__ = None
    function.__annotate__ = None  # type: ignore[attr-defined]  # CPython 3.14: what would make its annotations


def _lean(code: types.CodeType) -> types.CodeType:
    constants = tuple(_lean(each) if isinstance(each, types.CodeType) else each for each in code.co_consts)
    if code.co_flags & HAS_DOCSTRING:
        constants = (None, *constants[1:])
    return code.replace(
        co_consts=constants,
        co_flags=code.co_flags & ~HAS_DOCSTRING,
        co_linetable=NO_PLACE * -(-len(code.co_code) // 16),
    )


def _drop_docstrings(static_end: int) -> None:
    for each in gc.get_objects():
        if isinstance(each, (types.ModuleType, property)) or (isinstance(each, type) and id(each) >= static_end):
            for name in ("__doc__", "__annotate__"):
                try:
                    setattr(each, name, None)
                except (AttributeError, TypeError):
                    continue  # a class in C keeps its own
