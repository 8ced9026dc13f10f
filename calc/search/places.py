"""Where a set of gear fits: in each class, and in each saved model.

A *place* is the budget that a set would make there. In a class it is a model of which only the class is known: the
share rule then goes by the target flying weight or the class minimum (see `calc.subjects.limits`). Stations belong to
the model they were measured in, so a set brings none along, and balance and lead are left out of these answers.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from calc.assess import Assessment, assess
from calc.document import classes
from calc.document.budget import Budget, read
from calc.document.entries import Cell, GearRow
from calc.document.systems import block_with_units, system_of
from calc.subjects.power.entries import Session, Supply, Wiring
from calc.subjects.surface.entries import Surface

OF_THE_ACTUATOR = ("actuator", "torque", "thrust", "arm", "travel", "stroke")  # entries of a surface
GEAR_BLOCKS = {"cell": Cell, "supply": Supply, "wiring": Wiring, "session": Session}  # what goes with the gear
STAYS_BEHIND = (*GEAR_BLOCKS, "gear", "balance", "linkage", "scale_division")


@dataclass(frozen=True, kw_only=True)
class Place:
    """A model or class with a set in it: its name, what it is of, and the answer."""

    name: str
    kind: str  # "class" or "budget"
    assessment: Assessment
    rule: classes.ModelClass | None = None  # of a class

    @property
    def in_hand_kg(self) -> float | None:
        """What is left under the limit that bites first [kg]; None where no limit is known."""
        governs = self.assessment.governs
        return None if governs is None else governs.in_hand_kg


def with_set(model: Mapping[str, Any], gear: Mapping[str, Any]) -> dict[str, Any]:
    """Return the budget of one model with the gear, cell, converter, leads and session of another budget.

    Bare numbers of the gear keep the unit of the budget they come from. The scale belongs to whoever weighed the gear,
    so its division comes along. The surface keeps its shape, and is moved by the actuator that comes; the linkage, the
    stations and the balance stay behind.

    Examples
    --------
    >>> gear = {"units": "imperial", "gear": [{"mass": "0.1", "station": 3}]}
    >>> placed = with_set({"model": {"airframe": "20 g"}}, gear)
    >>> placed["gear"], placed["model"]
    ([{'mass': '0.1 oz'}], {'airframe': '20 g'})
    """
    system = system_of(gear)
    left = {key: item for key, item in model.items() if key not in STAYS_BEHIND}
    rows = gear.get("gear")
    placed = (
        [_without_station(block_with_units(GearRow, row, system)) for row in rows] if isinstance(rows, list) else []
    )
    blocks = {
        key: _without_station(block_with_units(kind, gear[key], system))
        for key, kind in GEAR_BLOCKS.items()
        if gear.get(key) is not None
    }
    scale = block_with_units(Budget, {key: gear[key] for key in ("scale_division",) if key in gear}, system)
    return {**left, **_moved_by(left, gear, system), **scale, "gear": placed, **blocks}


def _moved_by(model: Mapping[str, Any], gear: Mapping[str, Any], system: str) -> dict[str, Any]:
    """Return the surface of a model with what moves it in the budget that the gear is from."""
    surface = model.get("surface")
    if not isinstance(surface, Mapping):
        return {}
    theirs = block_with_units(Surface, gear.get("surface"), system)
    own = {key: item for key, item in surface.items() if key not in OF_THE_ACTUATOR}
    brought = {key: theirs[key] for key in OF_THE_ACTUATOR if key in theirs} if isinstance(theirs, Mapping) else {}
    return {"surface": {**own, **brought}}


def _without_station(block: Any) -> Any:
    return {key: item for key, item in block.items() if key != "station"} if isinstance(block, Mapping) else block


def in_classes(gear: Mapping[str, Any]) -> Iterable[Place]:
    """Yield the set in each class of the table, the freest airframe taken: only the class is known."""
    share = gear.get("rule")
    for rule in classes.table().values():
        if rule.id != "own" and rule.minimum_kg is not None:
            model = {"model": {"class": rule.id}, **({"rule": share} if share else {})}
            yield Place(name=rule.name, kind="class", assessment=_assessed(with_set(model, gear)), rule=rule)


def without_minimum() -> tuple[str, ...]:
    """Return the names of the classes that set no minimum, so that the share rule has nothing to go by there."""
    return tuple(rule.name for rule in classes.table().values() if rule.id != "own" and rule.minimum_kg is None)


def in_models(gear: Mapping[str, Any], models: Iterable[tuple[str, Mapping[str, Any]]]) -> Iterable[Place]:
    """Yield the set in each saved model, given as (name, document)."""
    for name, model in models:
        yield Place(name=name, kind="budget", assessment=_assessed(with_set(model, gear)))


def sets_for(model: Mapping[str, Any], sets: Iterable[tuple[str, Mapping[str, Any]]]) -> Iterable[Place]:
    """Yield each saved set, given as (name, document of the budget it is in), in one model."""
    for name, gear in sets:
        yield Place(name=name, kind="budget", assessment=_assessed(with_set(model, gear)))


def _assessed(document: Mapping[str, Any]) -> Assessment:
    return assess(read(document).budget)


def by_what_is_left(places: Iterable[Place]) -> tuple[Place, ...]:
    """Return places, the one with most in hand first, those without a limit last."""
    return tuple(
        sorted(places, key=lambda place: (place.in_hand_kg is None, -(place.in_hand_kg or 0.0), place.name))
    )  # fmt: skip
