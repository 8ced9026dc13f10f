"""What the pages of the box, the finder and the places are given."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc import digits, units, wording
from calc.document.box import ACTUATORS, Box, Boxed, called, read_box
from calc.document.budget import read, read_part
from calc.document.fields import described
from calc.document.parts import BOX_KINDS, BoxPart
from calc.search import places
from calc.search import words as finder_words
from calc.search.finder import Answer, WorkingSet
from calc.search.task import SLOT_KINDS
from calc.search.wishes import Wishes, barred, kept
from calc.subjects.limits import words as limit_words
from calc.subjects.limits.allowance import Limit, governing
from calc.unit_system import UnitSystem
from site_src.app.scale import Tick, percent, ticks_to
from site_src.app.view import Control, control

MOST_LISTED = 300  # rows of the table; the rest is told as a number
EATS = ("draw", "busy_draw", "busy", "min_volts")
ASKED = {
    "servo": (*EATS, "torque", "thrust"), "coil actuator": (*EATS, "torque"),
    "cell": ("capacity", "resistance", "cutoff", "series"), "supply": ("volts", "efficiency", "min_input", *EATS),
    "linkage": (), "mount": (), "wiring": (),
}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class PartRow:
    """A line of the box: its number in the document, its figures as text, what is wrong with it."""

    index: int
    name: str
    kind: str
    mass: str
    known_by: str
    figures: str
    problem: str


@dataclass(frozen=True, kw_only=True)
class BoxView:
    """The box as a table, one group for each kind."""

    about: str
    count: int
    groups: tuple[tuple[str, tuple[PartRow, ...]], ...]
    unlisted: int
    problems: tuple[str, ...]
    kinds: tuple[str, ...]


def box_view(document: object, kind: str = "") -> BoxView:
    """Return the view of a box of any shape; `kind` keeps only the parts of one kind (an actuator's row takes both)."""
    box = read_box(document)
    source = document if isinstance(document, Mapping) else {}
    wanted = ACTUATORS if kind in ACTUATORS else (kind,)
    rows = [
        _row(index, boxed, UnitSystem(box.units))
        for index, boxed in enumerate(box.parts)
        if not kind or boxed.part.kind.value in wanted
    ]
    listed = rows[:MOST_LISTED]
    groups = [(each, tuple(row for row in listed if row.kind == each)) for each in BOX_KINDS]
    return BoxView(
        about=_text(source.get("about")),
        count=len(box.parts),
        groups=tuple((each, found) for each, found in groups if found),
        unlisted=len(rows) - len(listed),
        problems=tuple(wording.problem(problem) for problem in box.problems),
        kinds=BOX_KINDS,
    )


def _text(raw: object) -> str:
    return raw if isinstance(raw, str) else ""


def _row(index: int, boxed: Boxed, system: UnitSystem) -> PartRow:
    part = boxed.part
    return PartRow(
        index=index,
        name=called(part),
        kind=part.kind.value,
        mass="" if part.mass is None else system.mass(part.mass.value),
        known_by=part.known_by.value,
        figures=", ".join(_figures(part, system)),
        problem="; ".join(wording.problem(problem).partition(", ")[2] for problem in boxed.problems),
    )


def _figures(part: BoxPart, system: UnitSystem) -> list[str]:
    """Return a part's figures as short texts."""
    found = []
    for name in ("capacity", "resistance", "volts", "draw", "busy_draw", "busy", "min_volts", "torque", "thrust"):
        entry = getattr(part, name)
        if entry is not None:
            field: Any = described(BoxPart)[name]
            label = units.default_unit(field.dimension, system)
            number = f"{digits.given(units.from_si(entry.value, label, field.dimension))} {label}"
            word = {"busy_draw": "at work ", "busy": "for ", "min_volts": "from ", "volts": "gives "}.get(name, "")
            found.append(f"{word}{number}")
    return found


@dataclass(frozen=True, kw_only=True)
class PartView:
    """The form of one part: the fields that its kind has."""

    controls: Mapping[str, Control]
    fields: tuple[str, ...]
    kind: str


def part_view(typed: object, system: UnitSystem) -> PartView:
    """Return the form of a part from its fields as typed, of any shape."""
    fields = typed if isinstance(typed, Mapping) else {}
    part, problems = read_part(fields, "box", system)
    told = {problem.field: wording.sentence(problem.code, problem.facts) for problem in problems}
    kind = part.kind.value
    asked = ("name", "kind", "mass", "known_by", *ASKED.get(kind, EATS))
    controls = {
        f"box.{name}": control(f"box.{name}", each, fields.get(name), system, told.get(f"box.{name}", ""), "")
        for name, each in described(BoxPart).items()
    }
    return PartView(controls=controls, fields=asked, kind=kind)


@dataclass(frozen=True, kw_only=True)
class Dot:
    """A set on the plot: where [%], its number."""

    x: float
    y: float
    label: str


@dataclass(frozen=True, kw_only=True)
class Wall:
    """A limit on the plot: where it stands [%], its name, on which level, and to which side its name is written."""

    at: float
    text: str
    level: int
    anchor: str


@dataclass(frozen=True, kw_only=True)
class Plot:
    """Run time over mass: the best sets, the present one, the limits of the budget."""

    dots: tuple[Dot, ...]
    steps: str  # an SVG polyline in a box of 100 × 100
    present: Dot | None
    walls: tuple[Wall, ...]
    masses: tuple[Tick, ...]
    times: tuple[Tick, ...]
    unit: str


@dataclass(frozen=True, kw_only=True)
class SetRow:
    """A best set in the table."""

    number: int
    parts: tuple[str, ...]
    mass: str
    run: str
    in_hand: str
    verdict: str
    why: str


@dataclass(frozen=True, kw_only=True)
class FinderView:
    """The finder's answer as the page shows it."""

    headline: str
    need: str
    not_counted: tuple[str, ...]  # what no set holds although it should
    works: str
    reasons: tuple[tuple[str, str], ...]
    drawn: int
    left_out: tuple[str, ...]
    sets: tuple[SetRow, ...]
    more: int
    present: str
    plot: Plot | None


@dataclass(frozen=True, kw_only=True)
class WishRow:
    """A part that can be kept or barred: its name, what it is, and what is asked of it ("keep", "bar" or "")."""

    name: str
    about: str
    wish: str


def wish_rows(document: Mapping[str, Any], box: Box, wishes: Wishes) -> tuple[WishRow, ...]:
    """Return the parts of a budget and a box that sets are made of, each name once, the budget's first."""
    budget = read(document).budget
    own = [(called(row), f"{row.kind.value} of the budget") for row in budget.gear if not row.off.value]
    own += [] if budget.cell is None else [(called(budget.cell), "cell of the budget")]
    parts = [boxed.part for boxed in box.parts if boxed.part.kind.value in (*SLOT_KINDS, "cell")]
    found = {
        name.casefold(): (name, about) for name, about in reversed([*own, *((called(p), p.kind.value) for p in parts)])
    }
    listed = list(reversed(found.values()))[:MOST_LISTED]
    return tuple(WishRow(name=name, about=about, wish=_wish(name, wishes)) for name, about in listed)


def _wish(name: str, wishes: Wishes) -> str:
    return "keep" if kept(wishes, name) else "bar" if barred(wishes, name) else ""


def finder_view(answer: Answer) -> FinderView:
    """Return the view of the finder's answer for a budget."""
    system, present = answer.system, answer.present
    return FinderView(
        headline=finder_words.headline(answer, system),
        need="" if answer.task.waits else finder_words.need_sentence(answer.task),
        not_counted=finder_words.not_counted(answer.task),
        works="" if answer.task.waits else finder_words.works(answer),
        reasons=finder_words.reasons(answer),
        drawn=answer.counts.drawn,
        left_out=finder_words.left_out(answer.task),
        sets=tuple(_set_row(number, each, system) for number, each in enumerate(answer.sets, 1)),
        more=answer.more,
        present=""
        if present is None
        else f"{system.mass(present[0], answer.now.gear.spread_kg)}, {digits.duration(present[1])}",
        plot=_plot(answer) if answer.sets else None,
    )


def _set_row(number: int, found: WorkingSet, system: UnitSystem) -> SetRow:
    governs = governing(found.assessment.limits_with_lead)
    return SetRow(
        number=number,
        parts=tuple(name for _, name in found.parts),
        mass=finder_words.mass(found, system),
        run=digits.duration(found.time_s),
        in_hand="" if governs is None else finder_words.in_hand(governs, system),
        verdict=found.verdict or "none",
        why=finder_words.why(found, system),
    )


def _plot(answer: Answer) -> Plot:
    system = answer.system
    label = units.default_unit("mass", system)
    spots = [(found.mass_kg, found.time_s) for found in answer.sets]
    limits = sorted(
        (each for each in answer.now.limits if each.allows_kg > 0.0), key=lambda each: (each.allows_kg, each.id)
    )
    known = [*spots, *([answer.present] if answer.present is not None else [])]
    most_kg = 1.08 * max(
        [mass for mass, _ in known] + [each.allows_kg for each in limits if each.allows_kg < 2.0 * spots[-1][0]]
    )
    most_s = 1.12 * max(time_s for _, time_s in known)

    def dot(mass_kg: float, time_s: float, text: str) -> Dot:
        return Dot(x=percent(mass_kg, most_kg), y=round(100.0 - percent(time_s, most_s), 2), label=text)

    dots = tuple(dot(mass, time_s, str(number)) for number, (mass, time_s) in enumerate(spots, 1))
    most, minutes = units.from_si(most_kg, label, "mass"), most_s / 60.0
    return Plot(
        dots=dots,
        steps=_steps(dots),
        present=None if answer.present is None else dot(*answer.present, "now"),
        walls=tuple(_walls(limits, most_kg, system)),
        masses=tuple(Tick(at=percent(value, most), text=f"{value:g}") for value in ticks_to(most)),
        times=tuple(Tick(at=round(100.0 - percent(v, minutes), 2), text=f"{v:g}") for v in ticks_to(minutes, 4)),
        unit=label,
    )


def _steps(dots: Sequence[Dot]) -> str:
    """Return the front as steps: between two sets the lighter one's time is what can be had."""
    corners = [f"{dots[0].x:.2f},100.00"]
    for before, after in zip(dots, [*dots[1:], None], strict=True):
        corners.append(f"{before.x:.2f},{before.y:.2f}")
        corners.append(f"{100.0 if after is None else after.x:.2f},{before.y:.2f}")
    return " ".join(corners)


def _walls(limits: Sequence[Limit], most_kg: float, system: UnitSystem) -> list[Wall]:
    return [
        Wall(
            at=percent(each.allows_kg, most_kg),
            text=f"{limit_words.LIMITS[each.id]} {system.mass(each.allows_kg, each.spread_kg)}",
            level=level,
            anchor="end" if each.allows_kg > most_kg / 2.0 else "start",
        )
        for level, each in enumerate(each for each in limits if each.allows_kg <= most_kg)
    ]


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


FAILS = {"run": "does not run long enough", "strength": "not strong enough"}
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
