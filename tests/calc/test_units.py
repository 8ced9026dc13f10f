"""Quantities as people type them."""

import subprocess
import sys
from contextlib import nullcontext
from importlib.util import find_spec, module_from_spec
from pathlib import Path
from typing import Any

import pint
import pytest

from calc import units
from calc.dimensions import DIMENSIONS
from calc.errors import QuantityError
from tests.support import ROOT, reference


@pytest.mark.parametrize(("text", "dimension", "si", "tolerance"), reference("units")["exact"])
def test_exact_definitions(text: str, dimension: str, si: float, tolerance: float) -> None:
    """NIST Special Publication 811."""
    assert units.parse(text, dimension, "metric").si == pytest.approx(si, rel=tolerance)


@pytest.mark.parametrize(
    ("text", "dimension", "system", "si"),
    [
        ("1.2", "mass", "metric", 0.0012),
        ("1.2 g", "mass", "metric", 0.0012),
        ("1,2 g", "mass", "metric", 0.0012),
        (".04oz", "mass", "metric", 0.04 * 0.028349523125),
        ("0.04 oz", "mass", "metric", 0.04 * 0.028349523125),
        ("1 lb 2 oz", "mass", "metric", 18 * 0.028349523125),
        ("30 in", "length", "metric", 0.762),
        ("21 1/2 in", "length", "metric", 0.5461),
        ("21½ in", "length", "metric", 0.5461),
        ('7/8"', "length", "metric", 0.022225),
        ("2 ft 6 in", "length", "metric", 0.762),
        ("2′ 6″", "length", "metric", 0.762),
        ("120", "length", "metric", 0.120),
        ("4 3/4", "length", "imperial", 0.12065),
        ("8 °C", "temperature", "metric", 281.15),
        ("8 degC", "temperature", "imperial", 281.15),
        ("−10", "temperature", "metric", 263.15),
        ("50", "temperature", "imperial", 283.15),
        ("20%", "ratio", "metric", 0.2),
        ("20", "ratio", "metric", 0.2),
        ("6 min", "time", "metric", 360.0),
        ("1:47", "time", "metric", 107.0),
        ("1:02:03", "time", "metric", 3723.0),
        ("5 min 30 s", "time", "metric", 330.0),
        ("8.6 dm^2", "area", "metric", 0.086),
        ("8.6 dm²", "area", "metric", 0.086),
        ("133 sq. in.", "area", "metric", 133 * 0.0254**2),
        ("9 g / dm²", "loading", "metric", 0.9),
        ("3 oz per sq ft", "loading", "metric", 3 * 0.028349523125 / 0.3048**2),
        ("30 mAh", "charge", "metric", 108.0),
        ("480 mohm", "resistance", "metric", 0.48),
        ("1.1 ohm", "resistance", "metric", 1.1),
        ("28 MA", "current", "metric", 0.028),
        ("2e-1 A", "current", "metric", 0.2),
        ("1.2 gm", "mass", "imperial", 0.0012),
        ("1.2 gms.", "mass", "metric", 0.0012),
        ("1,2 gr", "mass", "imperial", 0.0012),
        ("1.2 grams", "mass", "metric", 0.0012),
        ("1.2 Gramm", "mass", "metric", 0.0012),
        (".04 oz.", "mass", "metric", 0.04 * 0.028349523125),
        (".04 ozs", "mass", "metric", 0.04 * 0.028349523125),
        ("30 gf", "force", "imperial", 0.03 * 9.80665),
        ("30 gr", "force", "metric", 0.03 * 9.80665),
        ("0.03 kg", "force", "metric", 0.03 * 9.80665),
        ("1 oz", "force", "metric", 0.028349523125 * 9.80665),
        ("50 g·cm", "torque", "metric", 0.05 * 9.80665 * 0.01),
        ("50 gf·cm", "torque", "metric", 0.05 * 9.80665 * 0.01),
        ("50 gr cm", "torque", "metric", 0.05 * 9.80665 * 0.01),
        ("0.05 kg cm", "torque", "metric", 0.05 * 9.80665 * 0.01),
        ("0.05 kg-cm", "torque", "metric", 0.05 * 9.80665 * 0.01),
        ("1 oz-in", "torque", "metric", 0.028349523125 * 9.80665 * 0.0254),
        ("0.5 Ncm", "torque", "metric", 0.005),
        ("9 gr/dm2", "loading", "metric", 0.9),
        ("12 gr/m²", "loading", "metric", 0.012),
        ("30 mA-h", "charge", "metric", 108.0),
    ],
)
def test_what_people_type(text: str, dimension: str, system: str, si: float) -> None:
    """Expected values by the definitions of the units, worked by hand."""
    assert units.parse(text, dimension, system).si == pytest.approx(si, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "dimension", "code"),
    [
        ("", "mass", "empty"),
        ("   ", "mass", "empty"),
        ("abc", "mass", "not_a_number"),
        ("nan", "mass", "not_a_number"),
        ("inf g", "mass", "not_a_number"),
        ("1e999 g", "mass", "not_a_number"),
        ("1/0 in", "length", "not_a_number"),
        ("1,234 g", "mass", "two_ways"),
        ("1 g 3", "mass", "unknown_unit"),
        ("1.2 grn", "mass", "unknown_unit"),
        ("10² g", "mass", "unknown_unit"),
        ("480 MΩ", "resistance", "unknown_unit"),
        ("1 oz 2 lb", "mass", "unknown_unit"),
        ("2 ft 6 mess", "length", "unknown_unit"),
        ("12 mm", "mass", "other_dimension"),
        ("1.2.3 g", "mass", "unknown_unit"),
        ("1" * 61, "mass", "too_long"),
        ("__import__('os').system('ls')", "mass", "not_a_number"),
        ("1 gram.__class__", "mass", "unknown_unit"),
    ],
)
def test_what_cannot_be_read(text: str, dimension: str, code: str) -> None:
    with pytest.raises(QuantityError) as caught:
        units.parse(text, dimension, "metric")
    assert caught.value.code == code


@pytest.mark.parametrize("name", DIMENSIONS)
def test_every_spelling_names_a_unit_and_comes_back(name: str) -> None:
    """A number in each unit, to SI and back."""
    kind = DIMENSIONS[name]
    assert set(kind.spellings.values()) <= set(kind.units)
    for label in kind.units:
        assert units.from_si(units.to_si(3.25, label, name), label, name) == pytest.approx(3.25, rel=1e-9)
        assert units.parse(f"3.25 {label}", name, "metric").unit == label


def test_pint_is_imported_in_one_module_alone() -> None:
    """The rest of the sums works on SI floats."""
    importing = [
        path.relative_to(ROOT).as_posix()
        for folder in ("calc", "site_src/app")
        for path in sorted((ROOT / folder).rglob("*.py"))
        if "import pint" in path.read_text(encoding="utf-8")
    ]
    assert importing == ["calc/units.py"]


def test_visitors_text_never_reaches_pints_parser(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only names out of our own tables may be parsed by pint: in a copy of the module that has seen none yet."""
    spec = find_spec("calc.units")
    assert spec is not None
    assert spec.loader is not None
    fresh = module_from_spec(spec)
    monkeypatch.setitem(sys.modules, "calc.units", fresh)
    spec.loader.exec_module(fresh)
    own = {unit for kind in DIMENSIONS.values() for unit in [kind.si, *kind.units.values()]}
    seen: list[str] = []
    original = pint.UnitRegistry.parse_units

    def watched(registry: Any, text: str, *args: Any, **options: Any) -> Any:
        seen.append(str(text))
        return original(registry, text, *args, **options)

    monkeypatch.setattr(pint.UnitRegistry, "parse_units", watched)
    fresh.parse("1.2 lb", "mass", "metric")
    with pytest.raises(QuantityError):
        fresh.parse("1.2 lb**99", "mass", "metric")
    assert seen
    assert set(seen) <= own


def test_sums_run_without_the_site() -> None:
    """`calc` imports neither the site nor anything of the browser."""
    code = "import sys, calc.__main__; assert not [m for m in sys.modules if m.split('.')[0] in ('site_src', 'jinja2')]"
    assert subprocess.run([sys.executable, "-c", code], cwd=Path(ROOT), check=False).returncode == 0


@pytest.mark.parametrize(("typed", "taken"), [(f"1.{57 * '0'}5", True), (f"1.{58 * '0'}5", False)])
def test_a_quantity_of_sixty_characters_is_the_longest(typed: str, taken: bool) -> None:
    assert len(typed) == (60 if taken else 61)
    assert units.is_bare(typed) is taken
    with nullcontext() if taken else pytest.raises(QuantityError, match="too_long"):
        assert units.parse(typed, "mass", "metric").si == pytest.approx(0.001)


@pytest.mark.parametrize("dimension", ["mass", "ratio", "torque", "voltage"])
def test_a_clock_is_a_time_and_nothing_else(dimension: str) -> None:
    assert units.parse("1:47", "time", "metric").si == 107.0
    with pytest.raises(QuantityError):
        units.parse("1:47", dimension, "metric")


@pytest.mark.parametrize("typed", ["5 min 5 min", "30 s 5 min", "2 ft 3 ft"])
def test_a_run_of_units_goes_from_large_to_small(typed: str) -> None:
    with pytest.raises(QuantityError, match="unknown_unit"):
        units.parse(typed, "length" if "ft" in typed else "time", "metric")


def test_an_unknown_unit_is_told_with_its_first_twenty_letters() -> None:
    with pytest.raises(QuantityError) as refused:
        units.parse("1 abcdefghijklmnopqrstuvwxyz", "mass", "metric")
    assert refused.value.facts["unit"] == "abcdefghijklmnopqrst"


def test_the_last_place_of_a_text_without_a_number_is_refused() -> None:
    with pytest.raises(QuantityError, match="not_a_number"):
        units.last_place("g", "mass")
