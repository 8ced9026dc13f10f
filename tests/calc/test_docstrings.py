"""What docstrings say of arguments against what the code takes: units, names and ranges.

A docstring here is short: the unit of the answer in its first line, that of an argument in the argument's name, the
range in words or under "Raises". Compared with the source, so that a range moved in the code alone is found.
"""

import ast
import inspect
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import import_module
from types import ModuleType

import pytest

from tests.support import ROOT

HAS_UNIT = re.compile(".*_(m|m2|m3|kg|kg_m2|kg_m3|s|k|a|c|v|w|ohm|n|nm|pa|rad|j|j_kg|m_s)$")
# Plain numbers, and three whose name is a unit of its own.
NO_UNIT = {
    "share", "pivot_share", "flap_share", "efficiency", "reserve", "start", "end", "x", "count", "charges", "gauge",
    "aspect_ratio", "section_slope", "lift_coefficient", "glide_factor", "volts", "tex",
    "humidity", "growth", "celsius", "sides", "thickness_share",
    "factor", "force_at", "rate", "strands", "turns", "turns_share", "braid_turns", "turns_power",
}  # fmt: skip
RANGE_WORDS = re.compile(r"OutOfRangeError|[>≥<≤] ?[0-9]|[0-9] (?:to|and) [0-9−]|must lie within")


@dataclass(frozen=True)
class Check:
    """A `require` (or `_positive`) in a public function: what of, from where to where; None for no plain number."""

    module: ModuleType
    function: ast.FunctionDef
    expression: ast.expr
    bounds: tuple[float | None, ...]

    @property
    def argument(self) -> str:
        """The argument itself that is checked; "" for a part of one or what was worked out."""
        own = {each.arg for each in (*self.function.args.args, *self.function.args.kwonlyargs)}
        name = self.expression.id if isinstance(self.expression, ast.Name) else ""
        return name if name in own else ""

    @property
    def name(self) -> str:
        return f"{self.module.__name__}.{self.function.name}"

    @property
    def text(self) -> str:
        return (ast.get_docstring(self.function) or "").replace("−", "-").replace("\u202f", " ")


def modules() -> Iterator[ModuleType]:
    for path in sorted((ROOT / "calc").rglob("*.py")):
        name = path.relative_to(ROOT).with_suffix("").as_posix().replace("/", ".").removesuffix(".__init__")
        if not name.endswith("__main__"):
            yield import_module(name)


def public(module: ModuleType) -> Iterator[ast.FunctionDef]:
    """Yield the public functions and methods of a module."""
    for node in ast.parse(inspect.getsource(module)).body:
        for each in node.body if isinstance(node, ast.ClassDef) else [node]:
            if isinstance(each, ast.FunctionDef) and not each.name.startswith("_"):
                yield each


def number(module: ModuleType, node: ast.expr) -> float | None:
    """Return a bound that is a number, or a constant of its module."""
    if isinstance(node, ast.Name):
        found = getattr(module, node.id, None)
        return float(found) if isinstance(found, int | float) else None
    try:
        return float(ast.literal_eval(node))
    except ValueError:
        return None


def checks_of(module: ModuleType, function: ast.FunctionDef) -> Iterator[Check]:
    for call in ast.walk(function):
        if not isinstance(call, ast.Call) or not isinstance(call.func, ast.Name):
            continue
        if call.func.id == "require":
            yield Check(module, function, call.args[1], tuple(number(module, each) for each in call.args[2:4]))
        elif call.func.id == "_positive":
            for each in [*call.args[1:], *(keyword.value for keyword in call.keywords)]:
                yield Check(module, function, each, (0.0,))


CHECKS = [check for module in modules() for function in public(module) for check in checks_of(module, function)]


def written(bound: float, argument: str) -> set[str]:
    """Return the ways in which a bound may be written: as it is, as a share in percent, in degrees, in °C."""
    ways = {bound, bound * 100.0} if abs(bound) <= 1.0 else {bound}
    if argument.endswith("_rad"):
        ways = {bound, math.degrees(bound)}
    if argument.endswith("_k"):
        ways |= {bound - 273.15}
    return {f"{each:.6g}" for each in ways} | {f"{each:,.0f}".replace(",", " ") for each in ways if each == round(each)}


def untold(check: Check) -> list[str]:
    """Return what a docstring does not say of a check."""
    gaps = [] if RANGE_WORDS.search(check.text) else ["that it refuses what lies out of range"]
    if check.argument and not (HAS_UNIT.fullmatch(check.argument) or check.argument in NO_UNIT):
        gaps.append(f"the unit of {check.argument}")
    for bound in check.bounds:
        if bound is not None and bound not in (0.0, 1.0, math.inf, -math.inf):
            said = any(re.search(rf"(?<![0-9.]){re.escape(way)}(?![0-9])", check.text)
                       for way in written(bound, check.argument))  # fmt: skip
            gaps += [] if said else [f"{bound:g}, an end of the range of {ast.unparse(check.expression)}"]
    return gaps


def test_there_are_checks_to_compare() -> None:
    assert len(CHECKS) > 80
    assert sum(bool(check.argument) for check in CHECKS) > 60


def test_each_argument_that_is_checked_has_its_unit_and_range_in_the_docstring() -> None:
    gaps = {f"{check.name}: {gap}" for check in CHECKS for gap in untold(check)}
    assert not gaps, "\n".join(sorted(gaps))


@pytest.mark.parametrize("module", list(modules()), ids=lambda each: each.__name__)
def test_an_argument_that_a_docstring_names_is_there(module: ModuleType) -> None:
    """A name in backticks that ends in a unit is an argument, or something of the module."""
    source = inspect.getsource(module)
    known = {node.id for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Name)}
    known |= {node.attr for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Attribute)}
    for function in public(module):
        own = {each.arg for each in ast.walk(function) if isinstance(each, ast.arg)}
        own |= {node.name for node in ast.walk(ast.parse(source)) if isinstance(node, ast.FunctionDef)}
        named = [name for name in re.findall(r"`(\w+)`", ast.get_docstring(function) or "") if HAS_UNIT.fullmatch(name)]
        assert set(named) <= own | known, function.name
