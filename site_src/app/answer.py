"""The answer for a budget in sentences, figures and pictures, as the templates show it.

Each is worked out when it is first asked for: the verdict is on the page before the rest is.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from calc import headline, wording
from calc.assess import Assessment, assess
from calc.document.budget import Budget
from calc.document.entries import GearRow
from calc.document.paths import place
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
class Answer:
    """The assessment with its sentences, figures and pictures."""

    budget: Budget
    assessment: Assessment
    why: tuple[str, ...]  # the parts that show their workings

    @cached_property
    def system(self) -> UnitSystem:
        """The system of units that it is told in."""
        return UnitSystem.of(self.budget)

    @property
    def name(self) -> str:
        """The budget's name."""
        return self.budget.name.value

    @cached_property
    def headline_parts(self) -> tuple[str, str]:
        """The verdict of the headline, and the rest of it."""
        return headline.headline_parts(self.assessment, self.system)

    @property
    def headline_first(self) -> str:
        """The verdict."""
        return self.headline_parts[0]

    @property
    def headline_rest(self) -> str:
        """What else the headline says, "" for nothing."""
        return self.headline_parts[1]

    @property
    def headline(self) -> str:
        """The answer in a sentence or two."""
        return " ".join(self.headline_parts).strip()

    @property
    def short_headline(self) -> str:
        """The verdict in a few words, for the bar."""
        return headline.short_headline(self.assessment, self.system)

    @cached_property
    def settled(self) -> WholeVerdict | Literal["part"] | None:
        """The verdict of all; `part` where it fits as far as was asked, None while it is open."""
        whole = self.assessment.whole
        if whole.open and whole.verdict not in ("over", "fails"):
            return None
        return "part" if whole.verdict == "fits" and whole.that_are("not asked") else whole.verdict

    @cached_property
    def tiles(self) -> tuple[Tile, ...]:
        """What stands beside the verdict: run time, balance, strength."""
        return tuple(tiles(self.assessment, self.system))

    @cached_property
    def power_sentence(self) -> str:
        """How long it runs, "" where that is not known."""
        power = self.assessment.power
        return "" if power is None else power_words.power_sentence(power, weight_words.names_of(self.assessment))

    @property
    def runs(self) -> str:
        """The run time with its range, "" where it is not known."""
        return "" if self.assessment.power is None else power_words.runs_short(self.assessment.power)

    @property
    def runs_least(self) -> str:
        """The run time that is as good as sure, "" where it is not known."""
        return "" if self.assessment.power is None else power_words.runs_least(self.assessment.power)

    @property
    def cell_today(self) -> str:
        """What the cell gives in this cold, "" where that is not known."""
        return "" if self.assessment.power is None else power_words.cell_today(self.assessment.power)

    @cached_property
    def plan_sentence(self) -> str:
        """How many flights and cells that makes, "" where that is not known."""
        return "" if self.assessment.power is None else power_words.plan_sentence(self.assessment.power)

    @cached_property
    def sensitivities(self) -> tuple[str, ...]:
        """What the run time hangs on most, none where it is not known."""
        power = self.assessment.power
        if power is None or power.run.time_s <= 0.0 or power.at_most:
            return ()
        return tuple(power_words.sensitivity_sentence(effect, self.system) for effect in power.sensitivities)

    @property
    def curve(self) -> power_drawing.Curve | None:
        """The cell's voltage over the time."""
        return None if self.assessment.power is None else power_drawing.curve(self.assessment.power)

    @cached_property
    def class_sentence(self) -> str:
        """What the class asks for."""
        return limit_words.class_sentence(self.assessment, self.system)

    @property
    def surface_sentence(self) -> str:
        """Whether the actuator is strong enough, "" where that is not known."""
        surface = self.assessment.surface
        return "" if surface is None else surface_words.surface_sentence(surface, self.system)

    @cached_property
    def throw_sentence(self) -> str:
        """How far the surface goes, "" where that is not known."""
        surface = self.assessment.surface
        return "" if surface is None else surface_words.throw_sentence(surface, self.system)

    @cached_property
    def forecasts(self) -> tuple[Forecast, ...]:
        """Before and after what was measured."""
        return forecasts(self.assessment, self.system)

    @cached_property
    def missing(self) -> Mapping[str, tuple[tuple[str, str], ...]]:
        """Name and id of each field that something waits for, by block."""
        return {
            block: tuple((wording.field_name(path), path.replace(".", "-")) for path in paths)
            for block, paths in self.assessment.missing.items()
        }

    @cached_property
    def uncounted(self) -> tuple[str, ...]:
        """What has no mass yet."""
        return tuple(_uncounted_name(path, self.budget) for path in self.assessment.uncounted)

    @cached_property
    def draws(self) -> tuple[tuple[str, str, str], ...]:
        """Path, name and usual draw of each row whose draw nobody has told."""
        return tuple(_usual_draws(self.assessment.missing.get("power", ()), self.budget))

    @property
    def chance_words(self) -> str:
        """What the dots of the strip tell, in words."""
        found = self.assessment
        if found.chance is None:
            return ""
        lead = ", the lead for balance not counted" if found.lead_open else ""
        if found.chance.all in (0.0, 1.0):
            return f"{'within' if found.chance.all else 'beyond'} the limits in every case you gave{lead}"
        return f"{headline.chance_words(found.chance.all)} that it is within all limits{lead}"

    @cached_property
    def strip(self) -> limit_drawing.Strip:
        """The masses on a scale, with the limits."""
        return limit_drawing.strip(self.assessment, self.system)

    @cached_property
    def notices(self) -> tuple[str, ...]:
        """What is worth knowing."""
        return tuple(wording.notice(notice, self.system) for notice in self.assessment.notices)

    @cached_property
    def workings(self) -> Mapping[str, tuple[Working, ...]]:
        """The workings of the parts that show theirs."""
        return {part: workings(part, self.assessment.budget, self.assessment) for part in self.why}

    @cached_property
    def blocks(self) -> Mapping[str, object]:
        """Each subject's answer, None where there is none."""
        return {each.name: self.assessment.of(each.kind) for each in SUBJECTS}

    @cached_property
    def sentences(self) -> Mapping[str, str]:
        """Each subject's answer in sentences, by the subjects that are told so."""
        return {each.name: each.sentence(self.assessment, self.system) for each in SUBJECTS}

    @cached_property
    def briefs(self) -> Mapping[str, str]:
        """Each subject's answer in one line."""
        return {each.name: each.brief(self.assessment, self.system) for each in SUBJECTS}

    @cached_property
    def lines(self) -> Mapping[str, Line]:
        """What is said of each line of a list, by list and row number (`gear-0`), and `gear-cell`."""
        return all_texts(self.budget, self.assessment, self.system)

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


def answer(budget: Budget, why: Iterable[str] = ()) -> Answer:
    """Return the answer for a budget, with the workings of some of its parts."""
    return Answer(budget=budget, assessment=assess(budget), why=tuple(why))


def _usual_draws(untold: Iterable[str], budget: Budget) -> Iterator[tuple[str, str, str]]:
    """Yield what may stand in for a draw that nobody has told: the usual one of the kind, as a guess."""
    asked = [each for each in untold if each.endswith("draw") and each != "gear.draw" and each not in budget.unread]
    for path in dict.fromkeys(place(each).part for each in asked):
        row = budget.part(path)
        usual = USUAL.get(row.kind.value) if isinstance(row, GearRow) else None
        if row is not None and usual is not None:
            told = f"{usual.draw}, at work {usual.busy_draw} for {usual.busy}" if usual.busy_draw else usual.draw
            yield path, row.called, told


def _uncounted_name(path: str, budget: Budget) -> str:
    part = budget.part(path)
    if path.startswith("airframe"):
        return wording.field_name(path)
    return wording.LABELS["gear"] if part is None else part.called
