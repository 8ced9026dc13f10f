"""The lighter and heavier choices of the trade beside each part of the airframe, as changed entries.

Which sizes sheet and strip come in, how far apart ribs may go, and what is used in place of what: common practice, no
source. What a choice does to strength and flutter is not known here.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calc import units
from calc.document.fields import Entry
from calc.subjects.airframe.entries import BY_AREA, OF_MATERIAL, AirframePart
from calc.subjects.airframe.materials import beside, table

MILLIMETRES = (0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0)
SIXTY_FOURTHS = (1, 2, 3, 4, 6, 8, 10, 12, 16, 20, 24, 32, 48)  # of an inch
OFF_THE_SHEET = {"either": "", "sheet": ""}  # what goes with another material
FARTHER, CLOSER = 1.25, 0.8  # of the pitch
INSTEAD = {"paper": "film-5", "poly-tissue": "tissue", "iron-on": "poly-tissue-light", "film": "tissue"}


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One entry of a part changed: its name, its text before and after, what is put into the document."""

    name: str
    before: str
    after: str
    entries: Mapping[str, Any]


def choices(part: AirframePart) -> Iterator[Choice]:
    """Yield the choices beside one part that is not weighed yet."""
    shape = part.shape.value
    if shape in (*OF_MATERIAL, *BY_AREA):
        yield from _materials(part)
    if shape in ("strip", "plate", "ribs", "rolled", "cone", "frame"):
        yield from _sizes(part, "thickness")
    if shape in ("strip", "frame"):
        yield from _sizes(part, "width")
    if shape in ("ribs", "frame") and part.pitch is not None:
        yield from (_length("pitch", part.pitch, times) for times in (FARTHER, CLOSER))
    if shape == "finish":
        yield from (_coats(part.coats.value, step) for step in (-1, 1) if part.coats.value + step >= 1)


def _materials(part: AirframePart) -> Iterator[Choice]:
    """Yield the next lighter and heavier material, and what is used in its place; a typed figure goes with it."""
    now = table()[part.material.value]
    others = dict.fromkeys((*beside(now.id), INSTEAD.get(now.family) if part.shape.value == "cover" else None))
    typed = "weight" if part.shape.value in BY_AREA else "density"
    for other in others:
        if other is not None:
            found = table()[other]
            entries = {"material": other, typed: "", **OFF_THE_SHEET}
            yield Choice(name="material", before=part.sheet.value or now.name, after=found.name, entries=entries)


def _sizes(part: AirframePart, name: str) -> Iterator[Choice]:
    """Yield the next smaller and larger size that strip and sheet come in."""
    entry: Entry[float] = getattr(part, name)  # what counts has it
    inches = entry.unit in ("in", "ft")
    sizes = [each / 64.0 * 0.0254 for each in SIXTY_FOURTHS] if inches else [each / 1000.0 for each in MILLIMETRES]
    smaller = [at for at, size in enumerate(sizes) if size < entry.value * 0.99]
    larger = [at for at, size in enumerate(sizes) if size > entry.value * 1.01]
    for at in (*smaller[-1:], *larger[:1]):
        after = f"{SIXTY_FOURTHS[at]}/64 in" if inches else f"{MILLIMETRES[at]:g} mm"
        yield Choice(name=name, before=_typed(entry), after=after, entries={name: after})


def _length(name: str, entry: Entry[float], times: float) -> Choice:
    unit = entry.unit or "mm"
    after = f"{units.from_si(entry.value * times, unit, 'length'):.4g} {unit}"
    return Choice(name=name, before=_typed(entry), after=after, entries={name: after})


def _typed(entry: Entry[float]) -> str:
    raw = str(entry.typed).strip()
    return f"{raw} {entry.unit}" if units.is_bare(raw) else raw


def _coats(now: int, step: int) -> Choice:
    return Choice(name="coats", before=str(now), after=str(now + step), entries={"coats": now + step})
