"""The class table: each figure has where it was read and the year that this speaks for."""

import json
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from calc.assess import assess
from calc.document import classes
from calc.document.budget import read
from calc.subjects.limits import words as limit_words
from calc.unit_system import UnitSystem
from calc.wording import notice
from tests.support import ROOT

PROPOSED = {"f1b": {"2025"}}  # the year of a proposal, not of the figures


def class_words(model: dict[str, Any], **document: Any) -> str:
    budget = read({"model": model, "gear": [{"mass": "2 g"}], **document}).budget
    return limit_words.class_sentence(assess(budget), UnitSystem.of(budget))


def year_in_table(year: object, folder: Path, monkeypatch: pytest.MonkeyPatch) -> int | None:
    """Return the year that the table gives to a class whose row says it so."""
    row = {
        "id": "x",
        "name": "X",
        "counts": "ready to fly",
        "sizes": "span",
        "radio": "ask",
        "source": "",
        "year": year,
    }
    lines = [f"{key} = {json.dumps(item)}" for key, item in row.items() if item is not None]
    (folder / "document").mkdir(exist_ok=True)
    (folder / "document" / "classes.toml").write_text("\n".join(["[[class]]", *lines]), encoding="utf-8")
    monkeypatch.setattr(classes, "files", lambda _: folder)
    return classes.table.__wrapped__()["x"].year


def test_a_year_stands_in_the_source_it_is_of() -> None:
    """No year is invented: it is the latest that the source itself names, and a source that names one has one."""
    for rule in classes.table().values():
        named = set(re.findall(r"\b(?:19|20)[0-9]{2}\b", rule.source)) - PROPOSED.get(rule.id, set())
        assert (str(rule.year) if rule.year else "") == max(named, default="")
    assert {rule.year for rule in classes.table().values()} >= {None, 2001, 2012, 2018}  # none got lost


@pytest.mark.parametrize("year", [None, 0, "2018", 2018.0, True, 1949, 2101])
def test_a_row_with_figures_must_say_its_year(
    year: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    with pytest.raises(ValueError, match=r'class x: year is .*, not 1950 to 2100 or "not known"'):
        year_in_table(year, tmp_path, monkeypatch)


def test_the_first_and_last_year(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    years = (1950, 2100, "not known")
    assert [year_in_table(year, tmp_path, monkeypatch) for year in years] == [1950, 2100, None]


def test_a_row_says_only_what_is_read_and_means_something() -> None:
    """A misspelt key is a figure lost, a misspelt word a rule lost, an id told twice a class lost: all silently."""
    rows = tomllib.loads((ROOT / "calc" / "document" / "classes.toml").read_text(encoding="utf-8"))["class"]
    known = {"id", "name", "counts", "radio", "year", "source", *classes.FIGURES}
    assert {row["id"]: sorted(set(row) - known) for row in rows if set(row) - known} == {}
    assert {row["counts"] for row in rows} == {"without rubber", "ready to fly"}
    assert {row["radio"] for row in rows} == {"dethermaliser", "free", "ask"}
    assert len(classes.table()) == len(rows)
    for rule in classes.table().values():
        assert rule.minimum_kg is None or rule.maximum_kg is None or rule.minimum_kg <= rule.maximum_kg


AREA = {"wing_area": "20 dm²", "rubber": "0 g"}


@pytest.mark.parametrize(
    ("model", "said"),
    [
        ({"class": "f1d", "airframe": "1 g"}, "Class minimum 1.4 g, as of 2018: the current rule book decides."),
        ({"class": "f1d"}, "Class minimum 1.4 g, as of 2018: the current rule book decides."),
        ({"class": "p30", "airframe": "30 g"}, "Class minimum 40 g, year not known: the current rule book decides."),
        ({"class": "cat", "airframe": "30 g"}, "Class maximum 42.5 g, as of 2001: the current rule book decides."),
        ({"class": "f5k", "airframe": "300 g"}, "Class minimum 225 g and maximum 600 g, year not known: the current"),
        ({"class": "f1e", "airframe": "900 g", **AREA}, "maximum 5000 g and loading 100 g/dm², year not known: the"),
    ],
)
def test_a_class_figure_that_decides_something_says_its_year(model: dict[str, str], said: str) -> None:
    assert said in class_words(model)


@pytest.mark.parametrize(
    "model",
    [
        {"class": "own", "airframe": "30 g"},
        {"class": "p30", "airframe": "30 g", "use": "sport"},  # nothing there rests on the minimum
        {"class": "p30", "airframe": "30 g", "minimum": "50 g"},  # the builder's own figure
        {"class": "p30", "target": "50 g"},  # the share goes by the wished mass
        {"class": "cat", "airframe": "30 g", "maximum": "40 g"},
        {"class": "cat"},
        {"class": "zz", "airframe": "30 g"},
    ],
)
def test_no_year_where_no_class_figure_decides(model: dict[str, str]) -> None:
    assert "rule book" not in class_words(model)


@pytest.mark.parametrize(
    "model",
    [
        {"class": "f1e", "airframe": "900 g"},
        {"class": "f1e", "airframe": "900 g", **AREA, "max_loading": "90 g/dm²"},
        {"class": "f1e", "airframe": "900 g", **AREA, "rubber": "x"},
    ],
)
def test_a_class_loading_that_decides_nothing_is_not_told(model: dict[str, str]) -> None:
    assert class_words(model) == "Class maximum 5000 g, year not known: the current rule book decides."


def test_without_a_readable_share_the_minimum_decides_nothing() -> None:
    assert class_words({"class": "p30"}, rule={"share": "x"}) == ""


def test_rubber_over_says_the_year_of_the_class_figure() -> None:
    budget = read({"model": {"class": "f1m", "airframe": "3 g", "rubber": "2 g"}}).budget
    said = [notice(each, UnitSystem.METRIC) for each in assess(budget).notices]
    assert "The rubber, 2 g, is more than the class allows (1.5 g, as of 2018)." in said
