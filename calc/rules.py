"""The class table: what each model class asks of mass, rubber and radio, with where that was read.

The data is `rules.toml`. No current rule book was at hand: each row says where its figures were read, and a builder
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
    source: str


@lru_cache(maxsize=1)
def classes() -> dict[str, ModelClass]:
    """Return the class table by id, in the order of the file.

    Examples
    --------
    >>> round(classes()["p30"].minimum_kg, 6)
    0.04
    """
    table = tomllib.loads(files("calc").joinpath("rules.toml").read_text(encoding="utf-8"))
    return {row["id"]: _model_class(row) for row in table["class"]}


def _model_class(row: dict[str, Any]) -> ModelClass:
    def read(key: str, dimension: str) -> float | None:
        return units.parse(row[key], dimension).si if row.get(key) else None

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
        source=row["source"],
    )
