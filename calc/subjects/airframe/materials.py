"""The table of materials, `materials.toml`: what each weighs, how far off that may be, and where it is from."""

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files


@dataclass(frozen=True, kw_only=True)
class Material:
    """One material: its density [kg/m³] or its mass per area [kg/m²]; `either` is its half-width as a share."""

    id: str
    name: str
    density_kg_m3: float | None
    areal_kg_m2: float | None
    either: float
    wood: bool  # takes up damp, and is glued
    family: str  # of those with which it can change places; "" for none
    mark: str
    source: str


@lru_cache(maxsize=1)
def table() -> dict[str, Material]:
    """Return the materials by id, in the order of the file.

    Examples
    --------
    >>> table()["tissue"].areal_kg_m2, table()["balsa-light"].wood
    (0.0133, True)
    """
    read = tomllib.loads(files("calc").joinpath("subjects/airframe/materials.toml").read_text(encoding="utf-8"))
    return {row["id"]: _material(**row) for row in read["material"]}


def _material(
    *, id: str, name: str, either: float, mark: str, source: str, kg_m3: float | None = None,
    g_m2: float | None = None, wood: bool = False, family: str = "",
) -> Material:  # fmt: skip
    return Material(
        id=id, name=name, density_kg_m3=kg_m3, areal_kg_m2=None if g_m2 is None else round(g_m2 / 1000.0, 9),
        either=either, wood=wood, family=family, mark=mark, source=source,
    )  # fmt: skip


def beside(key: str) -> tuple[str | None, str | None]:
    """Return the next lighter and the next heavier material of the same family, None where there is none.

    Examples
    --------
    >>> beside("balsa-light"), beside("tissue"), beside("steel")
    (('balsa-contest', 'balsa-medium'), ('condenser', 'kite-paper'), (None, None))
    """
    family = table()[key].family
    row = [each.id for each in table().values() if family and each.family == family]
    if key not in row:
        return None, None
    at = row.index(key)
    return row[at - 1] if at else None, row[at + 1] if at + 1 < len(row) else None
