"""What the templates are given: the form's entries as typed, notes beside them, and the answer.

Built from any document, sound or not: whatever was typed is shown again, as text.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from calc import digits, headline, units, wording
from calc.assess import Assessment, assess
from calc.document import classes
from calc.document.blocks import LISTS
from calc.document.budget import BLOCKS, Budget, Reading, read
from calc.document.entries import GearRow
from calc.document.fields import Entry, QuantityField, described
from calc.document.letters import plain
from calc.document.paths import place
from calc.document.systems import is_bare_number
from calc.forecasts import Forecast, forecasts
from calc.subjects.airframe.answer import AirframeBlock
from calc.subjects.field.answer import FieldBlock
from calc.subjects.limits import words as limit_words
from calc.subjects.listed import SUBJECTS
from calc.subjects.power import words as power_words
from calc.subjects.power.draws import USUAL
from calc.subjects.room.answer import RoomBlock
from calc.subjects.surface import words as surface_words
from calc.subjects.weights import words as weight_words
from calc.unit_system import UnitSystem
from calc.vocabulary import WholeVerdict
from site_src.app.controls import Control, Lines, all_controls, all_lines, shown_text
from site_src.app.line import Line
from site_src.app.lines import all_texts
from site_src.app.sums import Working
from site_src.app.tiles import Tile, tiles
from site_src.app.why import workings
from site_src.subjects.air import drawing as air_drawing
from site_src.subjects.airframe import drawing as airframe_drawing
from site_src.subjects.balance import drawing as balance_drawing
from site_src.subjects.field import drawing as field_drawing
from site_src.subjects.limits import drawing as limit_drawing
from site_src.subjects.power import drawing as power_drawing
from site_src.subjects.room import drawing as room_drawing


@dataclass(frozen=True, kw_only=True)
class View:
    """Everything a page needs to show one document."""

    source: Mapping[str, Any]  # the document as it came
    system: UnitSystem
    name: str
    lists: Mapping[str, Lines]
    answer: "Answer"
    problems: Mapping[str, str]
    notes: Mapping[str, str]
    bare: tuple[str, ...]  # paths of the numbers typed without their unit

    @cached_property
    def controls(self) -> Mapping[str, Control]:
        """Return every field of the form; made when a form is shown, since an answer to an edit needs none."""
        return all_controls(self.source, self.system, self.problems, self.notes)


@dataclass(frozen=True, kw_only=True)
class Answer:
    """The assessment with its sentences and figures."""

    assessment: Assessment
    system: UnitSystem
    name: str
    headline: str
    headline_first: str  # the verdict in it, and the rest
    headline_rest: str
    short_headline: str
    settled: (
        WholeVerdict | Literal["part"] | None
    )  # the verdict, None while something is not counted that could change it
    class_sentence: str
    power_sentence: str
    runs: str
    runs_least: str
    cell_today: str
    plan_sentence: str
    sensitivities: tuple[str, ...]
    side_view: balance_drawing.SideView | None
    surface_sentence: str
    throw_sentence: str
    time_graph: air_drawing.TimeGraph | None
    build_graph: airframe_drawing.BuildGraph | None
    field_sketch: field_drawing.FieldSketch | None
    forecasts: tuple[Forecast, ...]  # before and after what was measured
    missing: Mapping[str, tuple[tuple[str, str], ...]]  # block -> (name, id) of each field it waits for
    uncounted: tuple[str, ...]
    draws: tuple[tuple[str, str, str], ...]  # (path, name, usual draw) of each row whose draw nobody has told
    chance_words: str
    strip: limit_drawing.Strip
    curve: power_drawing.Curve | None
    notices: tuple[str, ...]
    workings: Mapping[str, tuple[Working, ...]]  # of the parts that show theirs
    blocks: Mapping[str, object]  # each subject's answer, None where there is none
    sentences: Mapping[str, str]  # the same in sentences, by the subjects that are told so
    briefs: Mapping[str, str]  # and in one line
    tiles: tuple[Tile, ...]
    bays: tuple[room_drawing.Picture, ...]  # where the parts lie
    lines: Mapping[str, Line]  # of each list, by list and row number (`gear-0`), and `gear-cell`


def view(document: object, why: Iterable[str] = ()) -> View:
    """Return the view of a document of any shape; `why` names the parts of the answer that show their workings."""
    source = document if isinstance(document, Mapping) else {}
    reading = read(document)
    quantities = tuple(_quantities(reading.budget))
    return View(
        source=source,
        system=UnitSystem.of(reading.budget),
        name=plain(shown_text(source.get("name"))),
        lists=all_lines(source),
        answer=answer(reading.budget, why),
        problems=_problems(reading),
        notes=_notes(reading.budget, quantities),
        bare=tuple(path for path, _, entry in quantities if is_bare_number(entry.typed)),
    )


def answer(budget: Budget, why: Iterable[str] = ()) -> Answer:
    """Return the answer for a budget, with the workings of some of its parts."""
    found, system = assess(budget), UnitSystem.of(budget)
    balance, air, room, parts = found.balance, found.air, found.of(RoomBlock), found.of(AirframeBlock)
    said = headline.headline_parts(found, system)
    numbers = {row.path: index + 1 for index, row in enumerate(found.rows)}
    return Answer(
        assessment=found, system=system, name=budget.name.value, headline=" ".join(said).strip(),
        headline_first=said[0], headline_rest=said[1], short_headline=headline.short_headline(found, system),
        settled=_settled(found), class_sentence=limit_words.class_sentence(found, system), **_of_power(found, system),
        side_view=None if balance is None else balance_drawing.side_view(balance, numbers, system),
        surface_sentence="" if found.surface is None else surface_words.surface_sentence(found.surface, system),
        throw_sentence="" if found.surface is None else surface_words.throw_sentence(found.surface, system),
        time_graph=None if air is None else air_drawing.time_graph(air, system),
        build_graph=None if parts is None else airframe_drawing.build_graph(parts, system),
        field_sketch=field_drawing.field_sketch(found.of(FieldBlock), system),
        forecasts=forecasts(found, system), missing=_missing(found),
        uncounted=tuple(_uncounted_name(path, budget) for path in found.uncounted),
        draws=tuple(_usual_draws(found.missing.get("power", ()), budget)), chance_words=_chance(found),
        strip=limit_drawing.strip(found, system),
        notices=tuple(wording.notice(notice, system) for notice in found.notices),
        workings={part: workings(part, found.budget, found) for part in why},
        blocks={each.name: found.of(each.kind) for each in SUBJECTS},
        sentences={each.name: each.sentence(found, system) for each in SUBJECTS},
        briefs={each.name: each.brief(found, system) for each in SUBJECTS}, tiles=tuple(tiles(found, system)),
        bays=() if room is None else tuple(room_drawing.pictures(room, numbers, system)),
        lines=all_texts(budget, found, system),
    )  # fmt: skip


def _of_power(found: Assessment, system: UnitSystem) -> dict[str, Any]:
    """Return what is said and drawn of the run."""
    power = found.power
    if power is None:
        texts = dict.fromkeys(("power_sentence", "runs", "runs_least", "cell_today", "plan_sentence"), "")
        return {**texts, "sensitivities": (), "curve": None}
    effects = () if power.run.time_s <= 0.0 or power.at_most else power.sensitivities
    return {
        "power_sentence": power_words.power_sentence(power, weight_words.names_of(found)),
        "runs": power_words.runs_short(power),
        "runs_least": power_words.runs_least(power),
        "cell_today": power_words.cell_today(power),
        "plan_sentence": power_words.plan_sentence(power),
        "sensitivities": tuple(power_words.sensitivity_sentence(effect, system) for effect in effects),
        "curve": power_drawing.curve(power),
    }


def _missing(found: Assessment) -> dict[str, tuple[tuple[str, str], ...]]:
    """Return name and id of each field that something waits for."""
    return {
        block: tuple((wording.field_name(path), path.replace(".", "-")) for path in paths)
        for block, paths in found.missing.items()
    }


def _settled(found: Assessment) -> WholeVerdict | Literal["part"] | None:
    """Return the verdict of the whole installation; `part` where it fits as far as was asked, None while it is open."""
    whole = found.whole
    if whole.open and whole.verdict not in ("over", "fails"):
        return None
    return "part" if whole.verdict == "fits" and whole.that_are("not asked") else whole.verdict


def _usual_draws(untold: Iterable[str], budget: Budget) -> Iterator[tuple[str, str, str]]:
    """Yield what may stand in for a draw that nobody has told: the usual one of the kind, as a guess."""
    asked = [each for each in untold if each.endswith("draw") and each != "gear.draw" and each not in budget.unread]
    for path in dict.fromkeys(place(each).part for each in asked):
        row = budget.part(path)
        usual = USUAL.get(row.kind.value) if isinstance(row, GearRow) else None
        if row is not None and usual is not None:
            told = f"{usual.draw}, at work {usual.busy_draw} for {usual.busy}" if usual.busy_draw else usual.draw
            yield path, row.called, told


def _chance(found: Assessment) -> str:
    """Return what the dots of the strip tell, in words."""
    if found.chance is None:
        return ""
    lead = ", the lead for balance not counted" if found.lead_open else ""
    if found.chance.all in (0.0, 1.0):
        return f"{'within' if found.chance.all else 'beyond'} the limits in every case you gave{lead}"
    return f"{headline.chance_words(found.chance.all)} that it is within all limits{lead}"


def _uncounted_name(path: str, budget: Budget) -> str:
    part = budget.part(path)
    if path.startswith("airframe"):
        return wording.field_name(path)
    return wording.LABELS["gear"] if part is None else part.called


def _problems(reading: Reading) -> dict[str, str]:
    """Return a sentence for each field; the first problem of a field is the one told."""
    found: dict[str, str] = {}
    for problem in reading.problems:
        found.setdefault(problem.field, wording.sentence(problem.code, problem.facts))
    return found


def _quantities(budget: Budget) -> Iterator[tuple[str, QuantityField, Entry[float]]]:
    """Yield path, field and entry of every quantity that was typed and read."""
    blocks: list[tuple[str, object]] = [("", budget)] + [(key, getattr(budget, key)) for key in BLOCKS]
    blocks += [(f"{key}.{index}", row) for key in LISTS for index, row in enumerate(getattr(budget, key))]
    for path, block in blocks:
        for name, field in described(type(block)).items() if block is not None else ():
            entry = getattr(block, name)
            if isinstance(field, QuantityField) and entry is not None and entry.typed is not None:
                yield f"{path}.{name}" if path else name, field, entry


def _notes(budget: Budget, quantities: Iterable[tuple[str, QuantityField, Entry[float]]]) -> dict[str, str]:
    """Return what is said beside sound fields: what a text in another unit was read as; the class's figures."""
    system = UnitSystem.of(budget)
    found = {
        path: _read_as(entry, field, system)
        for path, field, entry in quantities
        if isinstance(entry.typed, str) or field.bare
    }
    found["model.class"] = _class_note(budget)
    found["field.wind"] = found.get("field.wind") or _wind_note(budget)
    return {path: note for path, note in found.items() if note}


FEW = 10.0  # a bare number of seconds below it could be meant as minutes, as it was read before there was `bare`


def _read_as(entry: Entry[float], field: QuantityField, system: UnitSystem) -> str:
    """Return what a text was read as where that is not plain from it."""
    typed, unit, dimension = str(entry.typed), field.bare or system.label(field.dimension), field.dimension
    grams = units.speaks_of_gr(typed)
    if field.bare and is_bare_number(entry.typed) and entry.value < FEW and 60.0 * entry.value <= field.high:
        return f"= {digits.given(entry.value, 4)} s; for minutes write {typed.strip()} min"
    if entry.unit == unit and ":" not in typed and not grams:
        return ""
    told = f"= {digits.given(units.from_si(entry.value, unit, dimension), 4)} {unit}"
    return f"{told}; gr read as grams, not grains" if grams else told


def _wind_note(budget: Budget) -> str:
    """Return the winds of the log of flights, where nobody typed one for the field."""
    winds = [each.wind.value for each in budget.flights if each.wind is not None and not each.out.value]
    if not winds or (budget.field is not None and budget.field.wind is not None):
        return ""
    system = UnitSystem.of(budget)
    told = dict.fromkeys(system.fixed(each, "speed", 1) for each in (min(winds), max(winds)))
    return f"Your log of flights has {' to '.join(told)}; the last one {system.fixed(winds[-1], 'speed', 1)}."


def _class_note(budget: Budget) -> str:
    """Return a class's figures in a few words."""
    if "model.class" in budget.unread:
        return ""
    rule, system = classes.table()[budget.model.class_.value], UnitSystem.of(budget)
    parts = [f"at least {system.round_mass(rule.minimum_kg)} {rule.counts}"] if rule.minimum_kg else []
    parts += [f"at most {system.round_mass(rule.maximum_kg)}"] if rule.maximum_kg else []
    parts += [f"rubber up to {system.round_mass(rule.rubber_most_kg)}"] if rule.rubber_most_kg else []
    parts += [rule.sizes] if rule.sizes else []
    parts += [rule.as_of] if parts else []
    return f"{'; '.join(parts)}. Check your current rule book." if parts else ""
