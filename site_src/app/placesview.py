"""What the page of the places is given: where a budget's gear fits, and which saved set fits its model."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc import digits
from calc.document.budget import read
from calc.search import places
from calc.subjects.limits import words as limit_words
from calc.unit_system import UnitSystem


@dataclass(frozen=True, kw_only=True)
class PlaceRow:
    """A class or model in the table of places."""

    name: str
    as_of: str  # of which year a class's figures are
    in_hand: str
    verdict: str
    fails: str  # what does not do, beside the weight
    so_far: bool  # something is not counted that could change the verdict
    limit: str
    share: str
    flying: str
    time_kept: str
    radio: str


FAILS = {"run": "does not run long enough", "strength": "not strong enough", "room": "does not go in"}
RADIO = {"free": "free", "dethermaliser": "dethermaliser only", "ask": "not found: ask"}


def places_view(document: Mapping[str, Any], others: Sequence[tuple[str, Mapping[str, Any]]]) -> dict[str, Any]:
    """Return the three tables of a budget beside others (name, document), and the classes without a minimum."""
    system = UnitSystem.of(read(document).budget)
    return {
        "classes": _place_rows(places.in_classes(document), system),
        "silent_classes": places.without_minimum(),
        "models": _place_rows(places.in_models(document, others), system),
        "sets": _place_rows(places.sets_for(document, others), system),
    }


def _place_rows(found: Iterable[places.Place], system: UnitSystem) -> tuple[PlaceRow, ...]:
    """Return the rows of a table of places, the one with most in hand first."""
    return tuple(_place_row(place, system) for place in places.by_what_is_left(found))


def _place_row(place: places.Place, system: UnitSystem) -> PlaceRow:
    found = place.assessment
    model, air, governs = found.model, found.air, found.governs
    fails = ", ".join(FAILS[part] for part in found.whole.that_are("bad") if part in FAILS)
    return PlaceRow(
        name=place.name.strip() or "without a name",
        as_of="" if place.rule is None else place.rule.as_of,
        in_hand="" if governs is None else system.mass(governs.in_hand_kg, governs.spread_kg),
        verdict="fails" if fails and found.verdict not in ("over", None) else found.verdict or "none",
        fails=fails,
        so_far=found.weight_open,
        limit="" if governs is None else limit_words.LIMITS[governs.id],
        share="" if model.share is None else digits.percent(model.share),
        flying="" if model.flying_kg is None else system.mass(model.flying_kg, model.spread_kg),
        time_kept="" if air is None or air.time_kept is None else digits.percent(air.time_kept),
        radio="" if place.rule is None else RADIO[place.rule.radio],
    )
