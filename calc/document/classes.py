"""The class table: what each model class asks of mass, rubber and radio, with where that was read.

The data is `classes.toml`. No current rule book was at hand: each row says where its figures were read, and a builder
can put the figure of the current rule book over it in the budget (`model.minimum`, `model.maximum`).
"""

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

from calc import units


@dataclass(frozen=True, kw_only=True)
class ModelClass:
    """One class. Masses in kg, loading in kg/m²; None where the class sets no such limit."""

    id: str
    name: str
    minimum_kg: float | None
    maximum_kg: float | None
    rubber_most_kg: float | None
    loading_most_kg_m2: float | None
    counts: str  # "without rubber" or "ready to fly"
    sizes: str  # the other limits in words, may be empty
    max_flight_s: float | None
    radio: str  # "dethermaliser", "free" or "ask"
    year: int | None  # that what was read speaks for; None where it is not known
    source: str

    @property
    def as_of(self) -> str:
        """The year of the figures, in words."""
        return "year not known" if self.year is None else f"as of {self.year}"


@lru_cache(maxsize=1)
def table() -> dict[str, ModelClass]:
    """Return the class table by id, in the order of the file.

    Examples
    --------
    >>> round(table()["p30"].minimum_kg, 6)
    0.04
    """
    read = tomllib.loads(files("calc").joinpath("document/classes.toml").read_text(encoding="utf-8"))
    return {row["id"]: _model_class(row) for row in read["class"]}


def _model_class(row: dict[str, Any]) -> ModelClass:
    def read(key: str, dimension: str) -> float | None:
        return units.parse(row[key], dimension, "metric").si if row.get(key) else None

    return ModelClass(
        id=row["id"],
        name=row["name"],
        minimum_kg=read("minimum", "mass"),
        maximum_kg=read("maximum", "mass"),
        rubber_most_kg=read("rubber_most", "mass"),
        loading_most_kg_m2=read("loading_most", "loading"),
        counts=row["counts"],
        sizes=row["sizes"],
        max_flight_s=read("max_flight", "time"),
        radio=row["radio"],
        year=_year(row),
        source=row["source"],
    )


FIGURES = ("minimum", "maximum", "rubber_most", "loading_most", "max_flight", "sizes")


def _year(row: dict[str, Any]) -> int | None:
    """Return the year of a row's figures, None where it is not known; a row with figures must say which.

    Examples
    --------
    >>> _year({"id": "x", "minimum": "40 g", "year": 2018}), _year({"id": "own"})
    (2018, None)
    """
    year = row.get("year")
    if year == "not known" or not (year or any(row.get(name) for name in FIGURES)):
        return None
    if type(year) is not int or not 1950 <= year <= 2100:
        raise ValueError(f'class {row["id"]}: year is {year!r}, not 1950 to 2100 or "not known"')
    return year
