"""What the templates are given: the form's entries as typed, notes beside them, and the answer.

Built from any document, sound or not: whatever was typed is shown again, as text.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from calc import headline, wording
from calc.assess import Assessment, assess
from calc.document.budget import Budget, read
from calc.document.entries import GearRow
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
from site_src.app.beside import notes, problems, quantities
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
    """The assessment with its sentences and figures; a picture is drawn when it is shown, since most are not."""

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
    surface_sentence: str
    throw_sentence: str
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
    lines: Mapping[str, Line]  # of each list, by list and row number (`gear-0`), and `gear-cell`

    @property
    def _numbers(self) -> dict[str, int]:
        """The number that each part has in a picture, by its path."""
        return {row.path: index + 1 for index, row in enumerate(self.assessment.rows)}

    @cached_property
    def side_view(self) -> balance_drawing.SideView | None:
        """The model from the side, with what stands where."""
        found = self.assessment.balance
        return None if found is None else balance_drawing.side_view(found, self._numbers, self.system)

    @cached_property
    def time_graph(self) -> air_drawing.TimeGraph | None:
        """The time in the air over the mass."""
        found = self.assessment.air
        return None if found is None else air_drawing.time_graph(found, self.system)

    @cached_property
    def build_graph(self) -> airframe_drawing.BuildGraph | None:
        """The airframe's forecast over the days of building."""
        found = self.assessment.of(AirframeBlock)
        return None if found is None else airframe_drawing.build_graph(found, self.system)

    @cached_property
    def field_sketch(self) -> field_drawing.FieldSketch | None:
        """The field from above."""
        return field_drawing.field_sketch(self.assessment.of(FieldBlock), self.system)

    @cached_property
    def bays(self) -> tuple[room_drawing.Picture, ...]:
        """Where the parts lie."""
        found = self.assessment.of(RoomBlock)
        return () if found is None else tuple(room_drawing.pictures(found, self._numbers, self.system))


def view(document: object, why: Iterable[str] = ()) -> View:
    """Return the view of a document of any shape; `why` names the parts of the answer that show their workings."""
    source = document if isinstance(document, Mapping) else {}
    reading = read(document)
    typed = tuple(quantities(reading.budget))
    return View(
        source=source,
        system=UnitSystem.of(reading.budget),
        name=plain(shown_text(source.get("name"))),
        lists=all_lines(source),
        answer=answer(reading.budget, why),
        problems=problems(reading),
        notes=notes(reading.budget, typed),
        bare=tuple(path for path, _, entry in typed if is_bare_number(entry.typed)),
    )


def answer(budget: Budget, why: Iterable[str] = ()) -> Answer:
    """Return the answer for a budget, with the workings of some of its parts."""
    found, system = assess(budget), UnitSystem.of(budget)
    said = headline.headline_parts(found, system)
    return Answer(
        assessment=found, system=system, name=budget.name.value, headline=" ".join(said).strip(),
        headline_first=said[0], headline_rest=said[1], short_headline=headline.short_headline(found, system),
        settled=_settled(found), class_sentence=limit_words.class_sentence(found, system), **_of_power(found, system),
        surface_sentence="" if found.surface is None else surface_words.surface_sentence(found.surface, system),
        throw_sentence="" if found.surface is None else surface_words.throw_sentence(found.surface, system),
        forecasts=forecasts(found, system), missing=_missing(found),
        uncounted=tuple(_uncounted_name(path, budget) for path in found.uncounted),
        draws=tuple(_usual_draws(found.missing.get("power", ()), budget)), chance_words=_chance(found),
        strip=limit_drawing.strip(found, system),
        notices=tuple(wording.notice(notice, system) for notice in found.notices),
        workings={part: workings(part, found.budget, found) for part in why},
        blocks={each.name: found.of(each.kind) for each in SUBJECTS},
        sentences={each.name: each.sentence(found, system) for each in SUBJECTS},
        briefs={each.name: each.brief(found, system) for each in SUBJECTS}, tiles=tuple(tiles(found, system)),
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
