"""Runs inside Pyodide under node, before the memory snapshot: keep what the first answer needs, leave out the rest.

What is left out raises `LookupError` when it is called after all. The bridge answers with a code, and the worker
then starts Python the plain way and asks again: a visitor may wait, but never gets a wrong or no answer.
"""

import functools
import gc
import marshal
import random
import sys
import types
import typing
import zipimport
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from calc import units
from site_src.tools.warm_up import warm_up

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
    "calc.savings.data.as_json", "calc.savings.data.of_airframe", "calc.savings.words.lines",
    "calc.search.words._counted", "calc.search.words._table", "calc.search.words.as_json", "calc.search.words._set",
    "calc.search.words.sheet", "calc.subjects.airframe.words._table", "calc.subjects.airframe.words.text",
    "calc.subjects.limits.room._text", "calc.subjects.limits.words.lines", "calc.subjects.power.room._text",
    "calc.subjects.surface.room._text", "calc.subjects.weights.room._text", "calc.subjects.weights.words._weight",
    "calc.subjects.weights.words.gear_lines", "calc.subjects.weights.words.model_lines",
])  # fmt: skip
OF_DATACLASSES = frozenset(["__repr__", "__setattr__", "__delattr__"])
HAS_DOCSTRING = 0x4000000  # CPython 3.13 and later: inspect.CO_HAS_DOCSTRING
OF_PINT = frozenset(["flexcache", "flexparser", "pint", "platformdirs", "typing_extensions"])  # and what it alone uses
TABLES = frozenset(["calc.units._line", "calc.units._spellings"])  # caches that hold the same for everybody
RAN: set[types.CodeType] = set()  # the code of the functions that ran
NO_PLACE = b"\xff"  # in a table of line numbers: eight units of bytecode that come from nowhere


def trace(static_end: int, asked: str) -> None:
    """Warm up twice, and note what runs the second time, when all caches are filled; write the requests to a file.

    The heap never shrinks, and what it once reached each visitor's worker has: so what is of no use goes first, and
    garbage is collected after each request.
    """
    for function in _functions(static_end):
        function.__code__ = _lean(function.__code__)
        _drop_texts(function)
    _drop_docstrings(static_end)
    gc.collect()
    gc.freeze()  # what stands by now is not looked through each time
    warm_up(lambda _: gc.collect())
    gc.freeze()
    RAN.update(_traced(lambda: warm_up(partial(_note, Path(asked)))))
    gc.unfreeze()


def _note(file: Path, request: str) -> None:
    with file.open("a", encoding="utf-8") as lines:
        lines.write(request + "\n")
    gc.collect()


def lighten(static_end: int) -> None:
    """Make this interpreter ready to be frozen; objects below `static_end` are part of the program and stay."""
    _put_pint_away()
    _empty_caches()
    found: dict[bytes, Any] = {}
    for function in _functions(static_end):
        _drop_texts(function)
        if may_be_left_out(function) and function.__code__ not in RAN:
            function.__code__ = _absent_with(function.__code__.co_freevars)
            function.__defaults__ = function.__kwdefaults__ = None
        else:
            function.__code__ = _lean(function.__code__, found)
    found.clear()
    _drop_docstrings(static_end)
    for each in gc.get_objects():
        if isinstance(each, random.Random):
            each.seed(0)  # the same snapshot from the same files; the worker seeds anew
    sys.path_importer_cache.clear()
    zipimport._zip_directory_cache.clear()  # type: ignore[attr-defined]
    for _ in range(3):
        gc.collect()


def _put_pint_away() -> None:
    """Let go of the package: all of its factors stand in the table of `calc.units` then."""
    for name, dimension in units.DIMENSIONS.items():
        for label in dimension.units:
            units.to_si(1.0, label, name)
    units._registry.cache_clear()
    units._registry.__wrapped__.__code__ = _absent_with(())
    del units.pint  # type: ignore[attr-defined]  # its own import
    typing.clear_overloads()  # which type checkers alone ask for
    for name in [name for name in sys.modules if name.split(".")[0] in OF_PINT]:
        del sys.modules[name]


def _empty_caches() -> None:
    """Empty what fills with the texts that visitors type; tables that are made once, and units, stay."""
    for each in gc.get_objects():
        if isinstance(each, functools._lru_cache_wrapper):
            name = f"{each.__module__}.{each.__qualname__}"
            if (each.cache_parameters()["maxsize"] or 0) > 1 and name not in TABLES:
                each.cache_clear()
    for clean in typing._cleanups:  # type: ignore[attr-defined]  # of its own caches, which only classes in the making use
        clean()


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


@functools.cache
def _absent_with(names: tuple[str, ...]) -> types.CodeType:
    """Return code that a function with these names around it takes."""
    return _absent.__code__.replace(co_freevars=names)


def may_be_left_out(function: types.FunctionType) -> bool:
    """Return whether a function stays only if the warm-up ran it."""
    package = str(function.__module__)
    of_a_package = package in LEFT_OUT or package.split(".")[0] in LEFT_OUT
    named = f"{package}.{function.__qualname__}" in OF_THE_COMMAND
    return ((of_a_package or named) and not function.__closure__) or _is_of_a_dataclass(function)


def _is_of_a_dataclass(function: types.FunctionType) -> bool:
    """Return whether a dataclass got it for those who program with it, which no answer needs."""
    made = function.__code__.co_filename == "<string>" or function.__code__.co_filename.endswith("reprlib.py")
    return made and function.__name__ in OF_DATACLASSES


def _functions(static_end: int) -> list[types.FunctionType]:
    found = [each for each in gc.get_objects() if type(each) is types.FunctionType]
    return [each for each in found if id(each.__code__) >= static_end]


def _drop_texts(function: types.FunctionType) -> None:
    function.__doc__ = None
    function.__annotate__ = None  # type: ignore[attr-defined]  # CPython 3.14: what would make its annotations


def _same(value: Any, found: dict[bytes, Any] | None) -> Any:
    """Return the first of what is equal to the last bit: one stands for all."""
    if found is None or (type(value) is tuple and any(isinstance(each, (types.CodeType, slice)) for each in value)):
        return value
    return found.setdefault(marshal.dumps(value, 2), value)  # edition 2: without references, the same for the same


def _lean(code: types.CodeType, found: dict[bytes, Any] | None = None) -> types.CodeType:
    constants = tuple(_lean(each, found) if isinstance(each, types.CodeType) else each for each in code.co_consts)
    if code.co_flags & HAS_DOCSTRING:
        constants = (None, *constants[1:])
    return code.replace(
        co_consts=_same(constants, found),
        co_names=_same(code.co_names, found),
        co_exceptiontable=_same(code.co_exceptiontable, found),
        co_flags=code.co_flags & ~HAS_DOCSTRING,
        co_linetable=_same(NO_PLACE * -(-len(code.co_code) // 16), found),
    )


def _drop_docstrings(static_end: int) -> None:
    for each in gc.get_objects():
        if isinstance(each, (types.ModuleType, property)) or (isinstance(each, type) and id(each) >= static_end):
            for name in ("__doc__", "__annotate__"):
                try:
                    setattr(each, name, None)
                except (AttributeError, TypeError):
                    continue  # a class in C keeps its own
